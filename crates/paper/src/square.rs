//! The square code of a tree: what it holds, and how it is drawn.

use std::collections::{HashMap, HashSet};
use std::fmt::Write as _;

use fast_qr::{ECL, QRBuilder, QRCode};
use plot::{Code, GenotypeId, Plot, Tree, TreeIx};

/// What the square codes of a plot's tags hold: what Find understands, as short as it may be, for
/// small codes have large modules and are read when they are dirty.
#[derive(Clone, Debug)]
pub struct SquareTexts<'a> {
    plot: &'a Plot,
    address: Option<&'a str>,
    /// Codes that are no sure sign of one tree.
    doubtful: HashSet<Code>,
}

impl<'a> SquareTexts<'a> {
    /// Of a plot; with `address`, where Leeward is to be found (`https://…/`), any reader leads to
    /// the tree's card there.
    pub fn of(plot: &'a Plot, address: Option<&'a str>) -> Self {
        let mut owners: HashMap<Code, TreeIx> = HashMap::new();
        let mut doubtful = HashSet::new();
        let codes = plot.trees_ix().filter_map(|(ix, tree)| Some((Code::of(tree.id())?, ix)));
        for (code, ix) in codes.chain(names(plot)) {
            if owners.get(&code).is_some_and(|owner| *owner != ix) {
                doubtful.insert(code);
            } else {
                owners.insert(code, ix);
            }
        }
        Self { plot, address, doubtful }
    }

    /// What the square code of a tree holds: its address, or else its short code; where another
    /// tree could be meant by that, or its id has none, `#/tree/` and its id.
    pub fn text(&self, tree: TreeIx) -> String {
        let id = self.plot.tree(tree).id();
        match self.address {
            Some(address) => {
                format!("{}#/tree/{}", address.trim_end_matches('#'), encoded(id.as_str()))
            }
            None => Code::of(id).filter(|code| !self.doubtful.contains(code)).map_or_else(
                || format!("#/tree/{}", encoded(id.as_str())),
                |code| code.to_string(),
            ),
        }
    }
}

/// What else a tree is asked for by, read as codes: a name that is just so goes before a code.
fn names(plot: &Plot) -> impl Iterator<Item = (Code, TreeIx)> + '_ {
    let of_tree = |tree: &Tree| {
        let draft = tree.draft();
        let parents =
            [&draft.cross.seed_parent, &draft.cross.pollen_parent].map(|it| it.as_deref());
        let genotype = draft.genotype.as_ref().map(GenotypeId::as_str);
        let own = [tree.tag(), genotype, draft.seedling_no.as_deref(), Some(tree.id().as_str())];
        own.into_iter().chain(parents).flatten().filter_map(Code::read).collect::<Vec<_>>()
    };
    plot.trees_ix()
        .flat_map(move |(ix, tree)| of_tree(tree).into_iter().map(move |code| (code, ix)))
}

/// As a part of an address: all but the letters and marks that are free there (RFC 3986, 2.3).
fn encoded(text: &str) -> String {
    let mut out = String::new();
    for byte in text.bytes() {
        if byte.is_ascii_alphanumeric() || b"-._~".contains(&byte) {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}

/// A QR code: dark and light modules.
pub(crate) struct Square(QRCode);

/// Light modules that a reader needs around a code.
const QUIET: usize = 4;

impl Square {
    /// Of a text: as few modules as will hold it with at least a sixth of them damaged, and then as
    /// much more damage as they allow. None: longer than any code holds.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let with = |level| QRBuilder::new(text).ecl(level).build().ok();
        let least = with(ECL::M)?;
        let better = [ECL::H, ECL::Q].into_iter().filter_map(with);
        let same = better.into_iter().find(|code| code.size == least.size);
        Some(Self(same.unwrap_or(least)))
    }

    /// Modules along a side, with the light ones around.
    pub(crate) fn modules(&self) -> usize {
        self.0.size + 2 * QUIET
    }

    /// One path, `side_mm` large with the light modules around, from its left upper corner.
    pub(crate) fn svg(&self, [x, y]: [f64; 2], side_mm: f64) -> String {
        let module = side_mm / self.modules() as f64;
        let from = module * QUIET as f64;
        let mut out = format!(
            "<path shape-rendering=\"crispEdges\" fill=\"#000\" transform=\"translate({:.3} {:.3}) \
             scale({module:.5})\" d=\"",
            x + from,
            y + from
        );
        for row in 0..self.0.size {
            let mut column = 0;
            for run in self.0[row].chunk_by(|a, b| a.value() == b.value()) {
                if run[0].value() {
                    let _ = write!(out, "M{column} {row}h{0}v1h-{0}z", run.len());
                }
                column += run.len();
            }
        }
        out + "\"/>\n"
    }
}

#[cfg(test)]
mod tests {
    use walk::{Finder, Rows};

    use super::*;
    use crate::testing::{book, lantern};

    /// The tree that Find shows for what was read: an address of a card, or the only best hit.
    fn found(plot: &Plot, finder: &Finder, rows: &Rows, read: &str) -> Option<TreeIx> {
        let Some((_, place)) = read.split_once('#') else {
            let hits = finder.find(plot, rows, read, 2).hits;
            return hits.first().map(|hit| hit.tree);
        };
        let id = place.strip_prefix("/tree/")?.as_bytes();
        let mut bytes = Vec::new();
        let mut at = 0;
        while at < id.len() {
            let code = (id[at] == b'%').then(|| std::str::from_utf8(&id[at + 1..at + 3]));
            bytes.push(code.map_or(id[at], |it| {
                u8::from_str_radix(it.expect("two digits"), 16).expect("hexadecimal")
            }));
            at += if id[at] == b'%' { 3 } else { 1 };
        }
        plot.tree_ix(&String::from_utf8(bytes).expect("UTF-8"))
    }

    fn check(plot: &Plot, address: Option<&str>, step: usize) {
        let (finder, rows) = (Finder::new(plot), Rows::of(plot));
        let texts = SquareTexts::of(plot, address);
        for (ix, tree) in plot.trees_ix().step_by(step) {
            let text = texts.text(ix);
            assert_eq!(found(plot, &finder, &rows, &text), Some(ix), "{text} of {}", tree.id());
            assert!(Square::of(&text).is_some());
        }
    }

    #[test]
    fn find_shows_the_tree_of_each_square_code() {
        let lantern = lantern();
        check(lantern.plot(), None, 13);
        check(lantern.plot(), Some("https://leeward.example/"), 97);
    }

    #[test]
    fn what_could_mean_two_trees_is_an_address() {
        // The tag of the second is the code of the first; two ids have one code; one has none.
        let odd = book(
            "tree_id,row,place,tag\nT00143-2,1,1,A\nB,1,2,T00143-2\nW-54,1,3,\nW/54,1,4,\nÜ 7#%,1,5,\n",
            "",
        );
        let texts = SquareTexts::of(odd.plot(), None);
        let texts: Vec<String> = odd.plot().trees_ix().map(|(ix, _)| texts.text(ix)).collect();
        let expected =
            ["#/tree/T00143-2", "B-S", "#/tree/W-54", "#/tree/W%2F54", "#/tree/%C3%9C%207%23%25"];
        assert_eq!(texts[0], expected[0]);
        assert_eq!(texts[2..], expected[2..]);
        assert!(texts[1].starts_with("B-"), "{}", texts[1]);
        check(odd.plot(), None, 1);
    }

    #[test]
    fn a_short_code_has_the_fewest_modules_and_the_most_room_for_dirt() {
        let square = Square::of("T00143-2").expect("a code");
        assert_eq!(square.modules(), 29, "version 1");
        assert!(matches!(square.0.ecl, Some(ECL::H)));
        assert!(Square::of(&"x".repeat(4000)).is_none());
    }
}
