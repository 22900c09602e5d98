//! Where the model is at its weakest, in plain words.

use std::fmt::Write as _;

use epidemic::Kind;
use epidemic::measure::Bin;

use crate::validation::summary::{Share, Summary};
use crate::validation::targets::percent;

/// Shares of fewer trees than this say nothing of a kind on its own.
const ENOUGH: usize = 20;

/// Stated luck and share found may differ by this much before a bin is named.
const OFF: f64 = 0.05;

/// Writes the section: where stated luck is off, and for each target the kinds that miss it on
/// their own.
pub(super) fn write(page: &mut String, kinds: &[(Kind, Summary)], everything: &Summary) {
    page.push_str(
        "\n## Where it is weakest\n\nKinds that would miss a target on their own, worst first. \
         Kinds with fewer than 20 trees to count are left out. After each number: what sets the kind \
         apart, which need not be the whole cause.\n",
    );
    let mut any = false;
    for weakness in &WEAKNESSES {
        let mut missed: Vec<(f64, Kind, String)> = kinds
            .iter()
            .filter_map(|(kind, summary)| {
                let (badness, words) = (weakness.of)(summary)?;
                Some((badness, *kind, words))
            })
            .collect();
        missed.sort_by(|a, b| b.0.total_cmp(&a.0));
        if missed.is_empty() {
            continue;
        }
        any = true;
        let _ = writeln!(page, "\n**{}**\n", weakness.title);
        for (_, kind, words) in missed {
            let _ = writeln!(page, "- `{}`: {words}. {}", kind.as_str(), apart(kind));
        }
    }
    if !any {
        page.push_str("\nNone.\n");
    }
    miscalibrated(page, everything);
}

fn miscalibrated(page: &mut String, everything: &Summary) {
    let off: Vec<&Bin> =
        everything.calibration.iter().filter(|bin| (bin.stated - bin.found).abs() > OFF).collect();
    if off.is_empty() {
        return;
    }
    page.push_str("\n**Stated luck that is off by more than 5 points, all kinds together**\n\n");
    for bin in off {
        let _ = writeln!(
            page,
            "- Of {} trees with a luck of about {}, {} were susceptible: {}.",
            bin.count,
            percent(Some(bin.stated)),
            percent(Some(bin.found)),
            if bin.stated > bin.found { "too timid" } else { "too sure" },
        );
    }
}

struct Weakness {
    title: &'static str,
    /// How bad and in what words; none where the kind is not weak.
    of: fn(&Summary) -> Option<(f64, String)>,
}

const WEAKNESSES: [Weakness; 4] = [
    Weakness {
        title: "Too sure: more than 5 % of the proven are wrong",
        of: |summary| {
            let wrong = enough(summary.wrong)?;
            let (low, high) = summary.wrong.interval()?;
            let of = summary.wrong.of;
            (wrong > 0.05).then(|| {
                let words = format!(
                    "{} of {of} (95 % interval {} to {}; the oracle {})",
                    percent(Some(wrong)),
                    percent(Some(low)),
                    percent(Some(high)),
                    percent(summary.oracle_wrong.share()),
                );
                (wrong, words)
            })
        },
    },
    Weakness {
        title: "Too timid: fewer than 60 % of the oracle's proven trees are found",
        of: |summary| {
            let found = enough(summary.found)?;
            let words = || format!("{} of {}", percent(Some(found)), summary.found.of);
            (found < 0.6).then(|| (1.0 - found, words()))
        },
    },
    Weakness {
        title: "Ranks worse: area more than 0.03 below the oracle's",
        of: |summary| {
            let area = summary.area?;
            let gap = area.oracle - area.luck;
            (gap > 0.03).then(|| (gap, format!("{:.3} against {:.3}", area.luck, area.oracle)))
        },
    },
    Weakness {
        title: "Intervals: the oracle's luck within them for fewer than 85 or more than 95 %",
        of: |summary| {
            let covered = enough(summary.covered)?;
            let inside = (0.85..=0.95).contains(&covered);
            (!inside).then(|| ((covered - 0.9).abs(), percent(Some(covered))))
        },
    },
];

fn enough(share: Share) -> Option<f64> {
    share.share().filter(|_| share.of >= ENOUGH)
}

/// What sets a kind apart.
fn apart(kind: Kind) -> &'static str {
    match kind {
        Kind::Blocks => "Families in blocks: place and family tell nearly the same story.",
        Kind::Scattered => "Every neighbour may be a resistant one, and so no witness.",
        Kind::NoChecks => {
            "No tree is known beforehand to be susceptible: how many resist and how hard the \
             disease came can only be told from each other."
        }
        Kind::ParentsUnknown => {
            "All seedlings are one family: a clean tree has no kin to speak for it."
        }
        Kind::Gaps => "A quarter of the scores is missing: infections fall between rounds unseen.",
        Kind::Missed => {
            "A quarter of the looks miss what is there: infected trees pass for clean, and for \
             neighbours that gave nothing."
        }
        Kind::FalseAlarms => {
            "Clean trees are now and then written down as infected: resistant trees look leaky."
        }
        Kind::Downwind => "Inoculum comes from beyond the plot: no neighbour tells of it.",
        Kind::FarReach => "A heavy tail: what reaches a tree comes from far beyond its neighbours.",
        Kind::Foci => "Disease sits in a few places: outside them nearly all trees are untested.",
        Kind::Quiet => "Hardly any infection: there is little to learn from.",
        Kind::Violent => {
            "Nearly every susceptible tree is infected: the few clean ones are the least frail, \
             about whom the scores say nothing."
        }
        Kind::OneSeason => "One season: a tree's chance has been taken once.",
        Kind::FourSeasons => "Frail trees drop out of the clean ones in the first seasons.",
        Kind::TwoRows => "Neighbours on one side only: few witnesses for each tree.",
        Kind::Clones => "Copies share one state: an error about one is an error about three.",
        Kind::Replanted => "Grafts share a trunk, trees change: short histories.",
        Kind::GammaFrailty => {
            "Some susceptible genotypes are hardly ever hit. The model's log-normal frailty has \
             no such near-immune trees, so it takes them for resistant."
        }
        Kind::LogNormalFrailty => "Susceptible genotypes differ more than the model expects.",
        Kind::ManyGenes => {
            "There are no two classes to tell apart: trees just above the line of *resistant* \
             stay clean nearly as often as those below it."
        }
        Kind::Null => "Nothing is resistant, yet the hardiest stay clean.",
        Kind::NullPatchy => "Nothing is resistant, and half of the trees are hardly reached.",
        Kind::Blossom => "Only trees in bloom are at risk on blossom: doses differ tree by tree.",
    }
}
