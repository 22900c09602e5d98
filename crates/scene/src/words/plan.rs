//! What to do next about a disease.

use language::{count, say};
use proof::{CheckPlace, Promising, WantedScore, Way};

use super::{number, percent};

/// What settles a clean tree soonest.
pub fn way(way: Way) -> String {
    match way {
        Way::Stay(seasons) => count!(
            seasons,
            "1 more clean season where it stands would prove it.",
            "{seasons} more clean seasons where it stands would prove it."
        ),
        Way::Graft(seasons) => count!(
            seasons,
            "Graft it: 1 clean season of a copy in the busiest place would prove it, sooner than \
             where it stands.",
            "Graft it: {seasons} clean seasons of a copy in the busiest place would prove it, \
             sooner than where it stands."
        ),
        Way::Elsewhere => say!(
            "Nothing in this plot would prove it within twenty seasons: a busier site or an \
             inoculation test would tell."
        )
        .to_owned(),
    }
}

/// A clean tree that is not proven yet: luck now and after a season, and what settles it.
pub fn promising(promising: &Promising) -> String {
    say!(
        "Luck {now}, {then} after one more ordinary season if it stays clean. {way}",
        now = percent(promising.luck),
        then = percent(promising.luck_after_season),
        way = way(promising.way)
    )
}

/// What a score of a tree without one would tell.
pub fn wanted_score(wanted: &WantedScore) -> String {
    count!(
        wanted.near,
        "Infected or clean makes a difference of {points} points in the luck of a promising tree \
         near it.",
        "Infected or clean makes a difference of {points} points in the luck of each of {near} \
         promising trees near it, on average.",
        points = points(wanted.tells / wanted.near as f64),
        near = wanted.near
    )
}

/// What a susceptible check at a free place would tell.
pub fn check_place(check: &CheckPlace) -> String {
    count!(
        check.near,
        "A witness for 1 promising tree.",
        "A witness for {near} promising trees.",
        near = check.near
    )
}

/// A difference of two shares, in points of percent.
fn points(difference: f64) -> String {
    number((difference * 1000.0).round() / 10.0)
}

#[cfg(test)]
mod tests {
    use plot::TreeIx;

    use super::*;

    #[test]
    fn each_way_says_what_to_do() {
        assert_eq!(way(Way::Stay(1)), "1 more clean season where it stands would prove it.");
        assert_eq!(
            way(Way::Graft(2)),
            "Graft it: 2 clean seasons of a copy in the busiest place would prove it, sooner than \
             where it stands."
        );
        let wanted = WantedScore { tree: TreeIx::new(0), tells: 0.09, near: 2 };
        assert_eq!(
            wanted_score(&wanted),
            "Infected or clean makes a difference of 4.5 points in the luck of each of 2 promising \
             trees near it, on average."
        );
    }
}
