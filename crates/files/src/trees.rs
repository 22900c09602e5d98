//! `trees.csv`: a line becomes a tree, grafts wait for their carrier, a tree becomes a line.

use std::collections::HashMap;

use language::say;
use plot::{
    CrossKey, GenotypeId, Globe, Plot, Refusal, Role, Spot, Status, Tree, TreeDraft, TreeField,
    TreeId, TreeIx, Weight, WhereGiven,
};

use crate::findings::{Findings, quoted};
use crate::table::{Column, Line, Table, columns};

pub(crate) const FILE: &str = "trees.csv";

columns!(TreeColumn:
    TreeId = "tree_id", Row = "row", Place = "place", X = "x_m", Y = "y_m", Lon = "lon",
    Lat = "lat", Tag = "tag", Genotype = "genotype", SeedParent = "seed_parent",
    PollenParent = "pollen_parent", CrossYear = "cross_year", SeedlingNo = "seedling_no",
    Role = "role", GraftedOn = "grafted_on", Status = "status", PlantedOn = "planted_on",
    RemovedOn = "removed_on", Note = "note",
);
use TreeColumn as C;

/// `trees.csv` while it is read.
#[derive(Debug)]
pub(crate) struct TreeReading {
    table: Table,
    /// Grafts whose carrier was not met yet, by the carrier's id.
    waiting: HashMap<TreeId, Vec<(u64, TreeDraft)>>,
    /// Lines of the trees taken, by tree index.
    lines: Vec<u64>,
    /// Lines that were not taken, by the id that stands there.
    faulty: HashMap<String, u64>,
}

impl TreeReading {
    /// Reads the header; none, with the fault told, when the file cannot be read at all.
    pub(crate) fn new(bytes: &[u8], findings: &mut Findings) -> Option<Self> {
        let table = Table::new(bytes, &[C::TreeId], findings)?;
        let header = table.header();
        let pairs = [(C::Row, C::Place), (C::X, C::Y), (C::Lon, C::Lat)];
        if !pairs.into_iter().any(|(one, other)| header.has(one) && header.has(other)) {
            findings.line(
                1,
                say!("no columns that say where"),
                say!("columns row and place, or x_m and y_m"),
            );
            return None;
        }
        let (waiting, faulty) = (HashMap::new(), HashMap::new());
        Some(Self { table, waiting, lines: Vec::new(), faulty })
    }

    pub(crate) fn line(&self) -> u64 {
        self.table.line()
    }

    /// Takes up to `lines` further lines into the plot; gives whether more are left.
    pub(crate) fn step(
        &mut self,
        bytes: &[u8],
        lines: u64,
        plot: &mut Plot,
        findings: &mut Findings,
    ) -> bool {
        let Self { table, waiting, lines: taken, faulty } = self;
        let mut late = Vec::new();
        let more = table.step(bytes, lines, findings, &mut |line| {
            let number = line.number();
            match draft(line) {
                Some(draft) if awaits(&draft, plot) => {
                    let carrier = draft.grafted_on.clone().expect("it waits for its carrier");
                    waiting.entry(carrier).or_default().push((number, draft));
                }
                Some(draft) => {
                    let id = draft.id.clone();
                    match plot.add_tree(draft) {
                        Ok(_) => {
                            taken.push(number);
                            release(&id, plot, waiting, taken, &mut late);
                        }
                        Err(refusal) => line.refuse(refusal),
                    }
                }
                None => {}
            }
            if !line.is_good()
                && let Some(id) = line.text(C::TreeId)
            {
                faulty.insert(id.to_owned(), number);
            }
        });
        for (line, id, refusal) in late {
            findings.refusal(Weight::Fault, Some(line), refusal);
            faulty.insert(id, line);
        }
        more
    }

    /// Tells the grafts whose carrier never came, and places where two trees stand. Gives the ids
    /// of the lines that were not taken, with their lines.
    pub(crate) fn finish(mut self, plot: &Plot, findings: &mut Findings) -> HashMap<String, u64> {
        let ids: Vec<&TreeId> =
            self.waiting.values().flatten().map(|(_, draft)| &draft.id).collect();
        let mut late: Vec<(u64, String, Refusal)> = Vec::new();
        for (carrier, grafts) in &self.waiting {
            let expected = match self.faulty.get(carrier.as_str()) {
                Some(line) => say!("the tree_id of a tree without fault (line {line} has one)"),
                None if ids.contains(&carrier) => {
                    say!("the tree_id of a tree that stands in the ground, or of a graft that does")
                        .to_owned()
                }
                None => say!("the tree_id of another tree").to_owned(),
            };
            for (line, draft) in grafts {
                let found = quoted(carrier.as_str());
                let refusal = Refusal::new("grafted_on", found, expected.clone());
                late.push((*line, draft.id.to_string(), refusal));
            }
        }
        late.sort_by_key(|&(line, ..)| line);
        for (line, id, refusal) in late {
            findings.refusal(Weight::Fault, Some(line), refusal);
            self.faulty.insert(id, line);
        }
        self.notice_shared_places(plot, findings);
        self.faulty
    }

    fn notice_shared_places(&self, plot: &Plot, findings: &mut Findings) {
        let mut standing: HashMap<(i32, i32), TreeIx> = HashMap::new();
        for (ix, tree) in plot.trees_ix() {
            let (Some(row), Some(place)) = (tree.row(), tree.place()) else { continue };
            let location = &tree.draft().location;
            if tree.status() != Status::Alive
                || tree.carrier().is_some()
                || location.spot.is_some()
                || location.globe.is_some()
            {
                continue;
            }
            if let Some(&other) = standing.get(&(row, place)) {
                let other = plot.tree(other).id();
                let found = say!("row {row} place {place}, where \"{other}\" stands too");
                let expected =
                    say!("a place of its own, grafted_on, or a status for the one that went");
                let notice = Refusal::new("place", found, expected);
                findings.refusal(Weight::Notice, Some(self.lines[ix.get()]), notice);
            } else {
                standing.insert((row, place), ix);
            }
        }
    }
}

fn awaits(draft: &TreeDraft, plot: &Plot) -> bool {
    draft.grafted_on.as_ref().is_some_and(|carrier| plot.tree_ix(carrier.as_str()).is_none())
}

/// Takes in the grafts that waited for a tree, and those that waited for them.
fn release(
    id: &TreeId,
    plot: &mut Plot,
    waiting: &mut HashMap<TreeId, Vec<(u64, TreeDraft)>>,
    taken: &mut Vec<u64>,
    late: &mut Vec<(u64, String, Refusal)>,
) {
    let mut carriers = vec![id.clone()];
    while let Some(carrier) = carriers.pop() {
        for (line, draft) in waiting.remove(&carrier).into_iter().flatten() {
            let id = draft.id.clone();
            match plot.add_tree(draft) {
                Ok(_) => {
                    taken.push(line);
                    carriers.push(id);
                }
                Err(refusal) => late.push((line, id.to_string(), refusal)),
            }
        }
    }
}

/// What a line says; none when anything in it was refused.
fn draft(line: &mut Line<'_>) -> Option<TreeDraft> {
    let id = line.needed(C::TreeId, || say!("an id of its own"));
    let row = line.whole(C::Row);
    let place = line.whole(C::Place);
    let spot = pair(line, C::X, C::Y).map(|(x_m, y_m)| Spot { x_m, y_m });
    let globe = pair(line, C::Lon, C::Lat).map(|(lon, lat)| Globe { lon, lat });
    let cross_year = line.whole(C::CrossYear);
    let role = line.read(C::Role, || one_of(Role::ALL, Role::as_str), Role::parse);
    let status = line.read(C::Status, || one_of(Status::ALL, Status::as_str), Status::parse);
    let planted_on = line.date(C::PlantedOn);
    let removed_on = line.date(C::RemovedOn);
    if !line.is_good() {
        return None;
    }
    let text = |column| line.text(column).map(Into::into);
    Some(TreeDraft {
        id: TreeId::new(id?),
        location: WhereGiven { row, place, spot, globe },
        tag: text(C::Tag),
        genotype: line.text(C::Genotype).map(GenotypeId::new),
        cross: CrossKey { seed_parent: text(C::SeedParent), pollen_parent: text(C::PollenParent) },
        cross_year,
        seedling_no: text(C::SeedlingNo),
        role: role.unwrap_or_default(),
        grafted_on: line.text(C::GraftedOn).map(TreeId::new),
        status: status.unwrap_or_default(),
        planted_on,
        removed_on,
        note: text(C::Note),
    })
}

/// Whether a tree of the plot was read from this line.
pub(crate) fn is_line_of(line: &mut Line<'_>, plot: &Plot, ix: TreeIx) -> bool {
    let tree = plot.tree(ix);
    let Some(mut said) = draft(line) else { return false };
    if tree.carrier().is_some() {
        // A graft's own cells may be empty: it stands where its carrier stands.
        (said.location.row, said.location.place) = (tree.row(), tree.place());
    }
    said == *tree.draft()
}

/// Two numbers that only count together.
fn pair(line: &mut Line<'_>, one: C, other: C) -> Option<(f64, f64)> {
    let mut number = |own: C, partner: C| match (line.text(own), line.text(partner)) {
        (None, Some(_)) => {
            let expected = say!("a number, since {column} has one", column = partner.name());
            line.refuse(Refusal::new(own.name(), say!("nothing"), expected));
            None
        }
        _ => line.number_in(own),
    };
    let (first, second) = (number(one, other), number(other, one));
    Some((first?, second?))
}

fn one_of<T: Copy>(all: &[T], word: impl Fn(T) -> &'static str) -> String {
    let words: Vec<&str> = all.iter().map(|&one| word(one)).collect();
    say!("one of {words}, or nothing for {usual}", words = words.join(", "), usual = words[0])
}

/// The cells of a tree's line, in the order of the known columns.
pub(crate) fn cells(tree: &Tree) -> Vec<String> {
    let draft = tree.draft();
    let others = TreeField::ALL.iter().map(|&field| cell(draft, field));
    std::iter::once(draft.id.to_string()).chain(others).collect()
}

/// A cell of a tree's line; a role or status that an empty cell says, too, is left out.
pub(crate) fn cell(draft: &TreeDraft, field: TreeField) -> String {
    match field {
        TreeField::Role if draft.role == Role::default() => String::new(),
        TreeField::Status if draft.status == Status::default() => String::new(),
        _ => field.in_draft(draft),
    }
}

/// The known columns that a new file has: all, but those of positions only where used.
pub(crate) fn columns_of(plot: &Plot) -> Vec<usize> {
    let used = |column: C| {
        let location = |tree: &Tree| tree.draft().location;
        plot.trees().iter().any(|tree| match column {
            C::X | C::Y => location(tree).spot.is_some(),
            C::Lon | C::Lat => location(tree).globe.is_some(),
            _ => true,
        })
    };
    let optional = [C::X, C::Y, C::Lon, C::Lat];
    let left_out: Vec<usize> =
        optional.into_iter().filter(|&column| !used(column)).map(Column::nth).collect();
    (0..C::NAMES.len()).filter(|nth| !left_out.contains(nth)).collect()
}
