//! What to do next about a disease.

use proof::{CheckPlace, Promising, WantedScore, Way};

use super::{count, number, percent};

/// What settles a clean tree soonest.
pub fn way(way: Way) -> String {
    let clean = |seasons: u32| count(seasons as usize, "more clean season");
    match way {
        Way::Stay(seasons) => format!("{} where it stands would prove it.", clean(seasons)),
        Way::Graft(seasons) => format!(
            "Graft it: {} of a copy in the busiest place would prove it, sooner than where it stands.",
            count(seasons as usize, "clean season")
        ),
        Way::Elsewhere => {
            "Nothing in this plot would prove it within twenty seasons: a busier site \
                           or an inoculation test would tell."
                .to_owned()
        }
    }
}

/// A clean tree that is not proven yet: luck now and after a season, and what settles it.
pub fn promising(promising: &Promising) -> String {
    format!(
        "Luck {}, {} after one more ordinary season if it stays clean. {}",
        percent(promising.luck),
        percent(promising.luck_after_season),
        way(promising.way)
    )
}

/// What a score of a tree without one would tell.
pub fn wanted_score(wanted: &WantedScore) -> String {
    let each = wanted.tells / wanted.near as f64;
    let whose = match wanted.near {
        1 => "of a promising tree near it".to_owned(),
        near => format!("of each of {near} promising trees near it, on average"),
    };
    format!("Infected or clean makes a difference of {} in the luck {whose}.", points(each))
}

/// What a susceptible check at a free place would tell.
pub fn check_place(check: &CheckPlace) -> String {
    format!("A witness for {}.", count(check.near, "promising tree"))
}

/// A difference of two shares.
fn points(difference: f64) -> String {
    let points = (difference * 1000.0).round() / 10.0;
    format!("{} points", number(points))
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
