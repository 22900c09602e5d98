//! Sheets of how much a tree came through and how far that explains it: dose, and what is left
//! over.

use language::say;
use plot::TreeIx;
use proof::typical_stays_clean;

use super::judged::{cannot_tell, draft};
use super::{Draft, Sources};
use crate::breaks::Breaks;
use crate::words::{self, number, percent};
use crate::{Class, Kind};

/// Doses that leave a typical susceptible tree a chance of a half, a quarter, 5 % and 1 %.
const DOSES: [f64; 4] = [0.7, 1.4, 3.0, 4.6];
/// Infections more or fewer than predicted, from which a tree is called unexplained, and badly so.
const APART: [f64; 2] = [0.25, 0.75];

/// Infections expected of each judged tree.
pub(super) fn doses(sources: Sources<'_>, disease: &str) -> Draft {
    let breaks = Breaks::at(&DOSES, 0.0, f64::INFINITY);
    let chance = |dose: f64| percent(typical_stays_clean(dose));
    let detail = |nth: usize| match (nth.checked_sub(1).map(|below| DOSES[below]), DOSES.get(nth)) {
        (None, Some(high)) => {
            say!("over {share} of susceptible trees stay clean", share = chance(*high))
        }
        (Some(low), Some(high)) => {
            say!("{share} stay clean", share = words::from_to(&chance(*high), &chance(low)))
        }
        (Some(low), None) => say!("under {share} stay clean", share = chance(low)),
        (None, None) => String::new(),
    };
    let class = |nth| Class::new(Kind::Amount(nth as u8), breaks.label(nth)).saying(detail(nth));
    let mut classes: Vec<Class> = (0..breaks.classes()).map(class).collect();
    classes.push(cannot_tell(sources));
    let unknown = (classes.len() - 1) as u8;
    let mut draft = draft(sources, disease, say!("dose, infections expected"), classes, |line| {
        line.judgement.dose.map_or(unknown, |dose| breaks.class(dose) as u8)
    });
    draft.notes.push(words::dose_meaning());
    draft
}

/// Infections seen less those predicted.
pub(super) fn leftovers(sources: Sources<'_>, disease: &str) -> Draft {
    let [some, much] = APART.map(number);
    let class = |kind: u8, label: &str, detail: String| {
        Class::new(Kind::Departure(kind), label).saying(detail)
    };
    let by_some = || say!("by {some} to {much} infections");
    let by_much = || say!("by {much} infections and more");
    let mut classes = vec![
        class(0, say!("far fewer than explained"), by_much()),
        class(1, say!("fewer than explained"), by_some()),
        class(2, say!("as explained"), say!("within {some} infections")),
        class(3, say!("more than explained"), by_some()),
        class(4, say!("far more than explained"), by_much()),
    ];
    classes.push(cannot_tell(sources));
    let unknown = (classes.len() - 1) as u8;
    let left = sources.report.filter(|report| report.disease == disease);
    let left = left.and_then(|report| report.leftover.as_ref());
    let mut by_tree: Vec<Option<f64>> = vec![None; sources.ground.len()];
    for &(tree, apart) in left.map_or(&[][..], |left| &left.by_tree) {
        by_tree[TreeIx::get(tree)] = Some(apart);
    }
    let mut draft =
        draft(sources, disease, say!("left over, seen less predicted"), classes, |line| {
            by_tree[line.tree.get()].map_or(unknown, departure)
        });
    draft.notes.extend(left.map(words::leftover));
    draft.notes.push(
        say!(
            "Each tree counts as far as it may be susceptible, over all its seasons: +1 is an \
             infection that nothing foretold."
        )
        .to_owned(),
    );
    draft
}

/// The class of a departure; the limits belong to the outer classes.
fn departure(apart: f64) -> u8 {
    let [some, much] = APART;
    match apart {
        fewer if fewer <= -much => 0,
        fewer if fewer <= -some => 1,
        same if same < some => 2,
        more if more < much => 3,
        _ => 4,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn departures_are_classed_alike_on_both_sides() {
        for apart in [0.0, 0.1, 0.2499, 0.25, 0.5, 0.75, 3.0] {
            assert_eq!(departure(apart) + departure(-apart), 4, "{apart}");
        }
        assert_eq!([0.0, 0.25, 0.75].map(departure), [2, 3, 4]);
    }
}
