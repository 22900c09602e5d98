//! A sheet: one layer laid over the ground — the class of every mark, and the legend.

mod amounts;
mod crosses;
mod explained;
mod judged;
mod scored;

use language::say;
use plot::{Plot, Status, TreeIx};
use proof::Report;

use crate::{Class, Ground, Kind, Layer, Moment, Record};

/// The code of a mark that is not shown: it stood elsewhere in time, or under another.
pub const HIDDEN: u8 = u8::MAX;

/// A layer over the ground.
#[derive(Clone, Debug)]
pub struct Sheet {
    title: String,
    notes: Vec<String>,
    classes: Vec<Class>,
    codes: Vec<u8>,
    order: Vec<TreeIx>,
}

/// What a layer is made from.
#[derive(Clone, Copy, Debug)]
pub struct Sources<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// Its ground.
    pub ground: &'a Ground,
    /// The record of the layer's trait, where it has one.
    pub record: Option<&'a Record>,
    /// The report on the layer's disease, where there is one.
    pub report: Option<&'a Report>,
}

/// What a layer says before anyone looks at who stands: its title, its classes, and the class of
/// each tree (none: not scored).
struct Draft {
    title: String,
    notes: Vec<String>,
    classes: Vec<Class>,
    class_of: Vec<Found>,
}

/// What a layer found for one tree.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Found {
    /// The nth of its classes.
    Class(u8),
    NotScored,
    CouldNotScore,
    NotAtRisk,
}

impl Sheet {
    /// Lays a layer over the ground.
    pub fn of(sources: Sources<'_>, layer: &Layer, moment: &Moment) -> Self {
        let draft = match layer {
            Layer::Trait(ix) => scored::draft(sources, *ix, moment),
            Layer::Vigour => amounts::vigour(sources, moment),
            Layer::Verdict(disease) => judged::verdicts(sources, disease),
            Layer::Luck(disease) => judged::lucks(sources, disease),
            Layer::Dose(disease) => explained::doses(sources, disease),
            Layer::Pressure(disease) => judged::pressures(sources, disease),
            Layer::Leftover(disease) => explained::leftovers(sources, disease),
            Layer::Cross => crosses::draft(sources),
        };
        let days = sources.record.and_then(|record| moment.days(record.rounds()));
        Self::lay(sources, draft, days)
    }

    fn lay(sources: Sources<'_>, draft: Draft, days: Option<(time::Date, time::Date)>) -> Self {
        let mut classes = draft.classes;
        let mut add = |kind, label: &str| {
            classes.push(Class::new(kind, label));
            (classes.len() - 1) as u8
        };
        let not_at_risk = add(Kind::NotAtRisk, say!("not at risk"));
        let could_not = add(Kind::CouldNotScore, say!("could not be scored"));
        let not_scored = add(Kind::NotScored, say!("not scored"));
        let gone = add(Kind::Gone, say!("dead or taken out"));
        let empty = add(Kind::EmptyPlace, say!("empty place"));
        let code = |(nth, found): (usize, &Found)| match (
            presence(sources.plot, TreeIx::new(nth), days),
            found,
        ) {
            (Presence::NotYet, _) => HIDDEN,
            (Presence::Empty, _) => empty,
            (Presence::Gone | Presence::Unsure, Found::NotScored) => gone,
            (Presence::Gone, _) => gone,
            (_, Found::Class(class)) => *class,
            (_, Found::NotScored) => not_scored,
            (_, Found::CouldNotScore) => could_not,
            (_, Found::NotAtRisk) => not_at_risk,
        };
        let mut codes: Vec<u8> = draft.class_of.iter().enumerate().map(code).collect();
        hide_the_lower(sources.ground, &mut codes, &[gone, empty]);
        Self { title: draft.title, notes: draft.notes, classes, codes, order: Vec::new() }.counted()
    }

    /// The same with fewer marks: those that `shows` keeps.
    #[must_use]
    pub fn only(mut self, shows: impl Fn(TreeIx) -> bool) -> Self {
        for (nth, code) in self.codes.iter_mut().enumerate() {
            if !shows(TreeIx::new(nth)) {
                *code = HIDDEN;
            }
        }
        self.counted()
    }

    /// With its marks counted and put in order.
    fn counted(mut self) -> Self {
        self.classes.iter_mut().for_each(|class| class.count = 0);
        for &code in &self.codes {
            if let Some(class) = self.classes.get_mut(usize::from(code)) {
                class.count += 1;
            }
        }
        self.order = drawing_order(&self.classes, &self.codes);
        self
    }

    /// What the sheet shows, in a few words.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What one must know to read it: caveats, what a word means.
    pub fn notes(&self) -> &[String] {
        &self.notes
    }

    /// All classes by code.
    pub fn classes(&self) -> &[Class] {
        &self.classes
    }

    /// The classes that the legend lists: the layer's own, and of the others those that occur.
    pub fn legend(&self) -> impl Iterator<Item = &Class> {
        self.legend_beside(None).map(|(class, _)| class)
    }

    /// The same for this sheet and one of the same layer beside it, with the count of marks there.
    pub fn legend_beside<'a>(
        &'a self,
        beside: Option<&'a Self>,
    ) -> impl Iterator<Item = (&'a Class, Option<usize>)> {
        let there = move |nth: usize| Some(beside?.classes.get(nth)?.count);
        let classes = self.classes.iter().enumerate().map(move |(nth, class)| (class, there(nth)));
        classes.filter(|(class, there)| {
            class.kind.is_result() || class.count > 0 || there.is_some_and(|count| count > 0)
        })
    }

    /// The class of a tree; none where its mark is not shown.
    pub fn class(&self, tree: TreeIx) -> Option<&Class> {
        self.classes.get(usize::from(self.codes[tree.get()]))
    }

    /// The code of every mark, by tree index; [`HIDDEN`] for one that is not shown.
    pub fn codes(&self) -> &[u8] {
        &self.codes
    }

    /// The marks that are shown, in the order in which they are drawn: no results first, then
    /// results from the least to the weightiest, so that nothing hides what matters more.
    pub fn order(&self) -> &[TreeIx] {
        &self.order
    }

    /// Whether a mark is shown.
    pub fn shows(&self, tree: TreeIx) -> bool {
        self.codes[tree.get()] != HIDDEN
    }
}

/// Whether a tree stands in a span of days.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Presence {
    Stands,
    NotYet,
    Gone,
    /// Gone by now, nobody knows since when.
    Unsure,
    Empty,
}

fn presence(plot: &Plot, ix: TreeIx, days: Option<(time::Date, time::Date)>) -> Presence {
    let tree = plot.tree(ix);
    let is_gone = matches!(tree.status(), Status::Dead | Status::Removed);
    if tree.status() == Status::Empty {
        return Presence::Empty;
    }
    let Some((first, last)) = days else {
        return if is_gone { Presence::Gone } else { Presence::Stands };
    };
    if tree.draft().planted_on.is_some_and(|planted| planted > last) {
        return Presence::NotYet;
    }
    match tree.draft().removed_on {
        Some(removed) if removed < first => Presence::Gone,
        None if is_gone => Presence::Unsure,
        _ => Presence::Stands,
    }
}

/// Where several trees share a place, those gone and empty places are hidden under whoever stands
/// there; of several that are gone the last stays.
fn hide_the_lower(ground: &Ground, codes: &mut [u8], lower: &[u8]) {
    for group in ground.shared_places() {
        let is_lower = |code: u8| lower.contains(&code);
        let mut shown = group.iter().filter(|tree| codes[tree.get()] != HIDDEN);
        let someone = shown.clone().any(|tree| !is_lower(codes[tree.get()]));
        let last = shown.rfind(|tree| is_lower(codes[tree.get()])).copied();
        for tree in group {
            let code = &mut codes[tree.get()];
            if is_lower(*code) && (someone || Some(*tree) != last) {
                *code = HIDDEN;
            }
        }
    }
}

fn drawing_order(classes: &[Class], codes: &[u8]) -> Vec<TreeIx> {
    let mut by_kind: Vec<usize> = (0..classes.len()).collect();
    by_kind.sort_by_key(|code| classes[*code].kind);
    let mut buckets: Vec<Vec<TreeIx>> =
        classes.iter().map(|class| Vec::with_capacity(class.count)).collect();
    for (nth, &code) in codes.iter().enumerate() {
        if let Some(bucket) = buckets.get_mut(usize::from(code)) {
            bucket.push(TreeIx::new(nth));
        }
    }
    by_kind.into_iter().flat_map(|code| std::mem::take(&mut buckets[code])).collect()
}
