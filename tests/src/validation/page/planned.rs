//! What following the plan is worth, on the page.

use std::fmt::Write as _;

use epidemic::Kind;

use super::super::planning::{BEFORE, Kept, Planned, Proven, SEASONS};
use super::super::targets::percent;

/// The section's heading, and the one that follows it.
const HEADING: &str = "\n## Following the plan\n";
const NEXT: &str = "\n## The kinds\n";

/// Writes the section; nothing without plots.
pub(super) fn write(page: &mut String, plots: &[Planned]) {
    if plots.is_empty() {
        return;
    }
    let seeds = || plots.iter().map(|one| one.seed);
    let (first, last) = (seeds().min().unwrap_or(0), seeds().max().unwrap_or(0));
    let _ = write!(
        page,
        "{HEADING}
{} made-up plots, seeds {first} to {last}, each scored for {SEASONS} seasons in two ways: as it
stands, and following the plan. After each season from the {BEFORE}nd on, one copy is grafted of each
tree of which `leeward plan` says that a graft settles it sooner, on the busiest places in turn; it is
scored from the season after the next. Both ways share every score up to the first graft. *Seasons*: until as
many seedlings are truly proven as scoring on without a plan proves in {SEASONS} seasons; a plot that does
not come to as many counts with {}.

| kind | plots | seasons, as it stands | following the plan | truly proven in the end, as it stands | following the plan | wrong among proven, as it stands | following the plan | grafts a plot |
|---|--:|--:|--:|--:|--:|--:|--:|--:|
",
        plots.len(),
        SEASONS + 1,
    );
    let mut kinds: Vec<Kind> = plots.iter().map(|one| one.kind).collect();
    kinds.dedup();
    for kind in kinds {
        let of_kind: Vec<&Planned> = plots.iter().filter(|one| one.kind == kind).collect();
        line(page, kind.as_str(), &of_kind);
    }
    let all: Vec<&Planned> = plots.iter().collect();
    let sum = line(page, "**all**", &all);
    let _ = writeln!(
        page,
        "\nFollowing the plan takes {:.2} times the seasons for as many truly proven trees, and ends \
         with {:.2} times as many after {SEASONS} seasons. In {} of {} plots it takes fewer seasons, \
         in {} more.",
        sum.seasons.1 / sum.seasons.0,
        sum.end.1.truly as f64 / sum.end.0.truly as f64,
        sum.fewer,
        sum.compared,
        sum.more,
    );
    steadiness(page, plots);
}

/// How often a verdict is taken back.
fn steadiness(page: &mut String, plots: &[Planned]) {
    let total = |of: fn(&Kept) -> usize| plots.iter().map(|one| of(&one.kept)).sum::<usize>();
    let (proven, taken_back) = (total(|kept| kept.proven), total(|kept| kept.taken_back));
    let _ = writeln!(
        page,
        "\nA verdict may be taken back. Scored on as it stands, a seedling was proven after one season \
         and still clean after the next {proven} times; {taken_back} times ({}) it was *leaning* or \
         *untested* then, {} times *untested*. The limit of 0.05 is sharp, luck is not: what a season \
         tells of kernel, evenness and shares may move many trees of a plot across it together.",
        percent((proven > 0).then(|| taken_back as f64 / proven as f64)),
        total(|kept| kept.untested),
    );
}

/// A page that is there, with the section written anew.
///
/// # Errors
/// The page has no section of the kinds.
pub fn replaced(page: &str, plots: &[Planned]) -> Result<String, String> {
    let next = page.find(NEXT).ok_or("validation.md: no list of the kinds")?;
    let from = page.find(HEADING).unwrap_or(next);
    let mut section = String::new();
    write(&mut section, plots);
    Ok([&page[..from], &section, &page[next..]].concat())
}

#[derive(Default)]
struct Sum {
    /// Mean seasons, as it stands and following the plan.
    seasons: (f64, f64),
    end: (Proven, Proven),
    compared: usize,
    fewer: usize,
    more: usize,
}

fn line(page: &mut String, name: &str, plots: &[&Planned]) -> Sum {
    let mut sum = Sum::default();
    for one in plots {
        for (total, by) in [(&mut sum.end.0, &one.as_it_stands), (&mut sum.end.1, &one.planned)] {
            if let Some(last) = by.last() {
                total.truly += last.truly;
                total.wrongly += last.wrongly;
            }
        }
        let Some((without, with)) = one.seasons_to_the_same() else { continue };
        let with = with.unwrap_or(SEASONS + 1);
        sum.compared += 1;
        sum.fewer += usize::from(with < without);
        sum.more += usize::from(with > without);
        sum.seasons.0 += without as f64;
        sum.seasons.1 += with as f64;
    }
    let compared = sum.compared as f64;
    sum.seasons = (sum.seasons.0 / compared, sum.seasons.1 / compared);
    let mean = |seasons: f64| match sum.compared {
        0 => "–".to_owned(),
        _ => format!("{seasons:.1}"),
    };
    let wrong = |of: Proven| {
        let all = of.truly + of.wrongly;
        percent((all > 0).then(|| of.wrongly as f64 / all as f64))
    };
    let grafts: usize = plots.iter().map(|one| one.grafts).sum();
    let _ = writeln!(
        page,
        "| {name} | {} | {} | {} | {} | {} | {} | {} | {} |",
        plots.len(),
        mean(sum.seasons.0),
        mean(sum.seasons.1),
        sum.end.0.truly,
        sum.end.1.truly,
        wrong(sum.end.0),
        wrong(sum.end.1),
        grafts / plots.len().max(1),
    );
    sum
}

#[cfg(test)]
mod tests {
    use super::*;

    fn planned(seed: u64, truly: [usize; 3], followed: [usize; 3]) -> Planned {
        let proven = |truly: usize| Proven { truly, wrongly: 1 };
        Planned {
            kind: Kind::Blocks,
            seed,
            as_it_stands: truly.map(proven).to_vec(),
            kept: Kept { proven: 3, taken_back: 1, untested: 0 },
            planned: followed.map(proven).to_vec(),
            grafts: 4,
        }
    }

    #[test]
    fn the_section_is_put_in_and_replaced() {
        let page = "# Page\n\n## The kinds\n\n- `blocks`\n";
        let plots = [planned(1, [0, 2, 4], [0, 4, 8]), planned(2, [0, 0, 0], [0, 0, 0])];
        let once = replaced(page, &plots).expect("a page");
        assert!(
            once.contains("| blocks | 2 | 4.0 | 3.0 | 4 | 8 | 33.3 % | 20.0 % | 4 |"),
            "{once}"
        );
        assert!(once.contains("takes 0.75 times the seasons"), "{once}");
        assert!(once.contains("In 1 of 1 plots it takes fewer seasons"), "{once}");
        assert!(once.contains("the next 6 times; 2 times (33.3 %) it was"), "{once}");
        assert_eq!(replaced(&once, &plots).expect("a page"), once);
        assert_eq!(replaced(&once, &[]).expect("a page"), page);
        replaced("# Page\n", &plots).expect_err("no such page");
    }
}
