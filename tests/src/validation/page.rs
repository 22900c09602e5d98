//! The validation page as Markdown, with its figures.

mod planned;
mod weak;

use std::collections::BTreeMap;
use std::fmt::Write as _;

use epidemic::Kind;

use super::figure;
use super::planning::Planned;
use super::summary::{Areas, Share, Summary};
use super::targets::{self, percent};
use super::trial::{Clean, NAIVE_NEIGHBOURS, Trial};

/// A run of all plots with a part of the model left out.
pub struct Ablation {
    /// What was left out, in words.
    pub without: &'static str,
    /// What came out.
    pub trials: Vec<Trial>,
}

pub use planned::replaced as with_plans;

/// The page and its figures by path within `docs/`.
pub fn write(
    trials: &[Trial],
    ablations: &[Ablation],
    plans: &[Planned],
) -> BTreeMap<String, String> {
    let kinds: Vec<(Kind, Summary)> = Kind::ALL
        .iter()
        .map(|&kind| (kind, Summary::of(trials.iter().filter(|trial| trial.kind == kind))))
        .filter(|(_, summary)| summary.plots > 0)
        .collect();
    let everything = Summary::of(trials.iter());
    let null = Summary::of(trials.iter().filter(|trial| trial.kind.is_null()));
    let mut page = String::new();
    intro(&mut page, trials);
    target_table(&mut page, &everything, &null);
    kind_table(&mut page, &kinds, &everything);
    figures(&mut page);
    weak::write(&mut page, &kinds, &everything);
    ablation_table(&mut page, &everything, &null, ablations);
    planned::write(&mut page, plans);
    kind_list(&mut page, &kinds);
    let wrong: Vec<(&str, Share)> = kinds.iter().map(|(k, s)| (k.as_str(), s.wrong)).collect();
    let found: Vec<(&str, Share)> = kinds.iter().map(|(k, s)| (k.as_str(), s.found)).collect();
    let svg = |name: &str, text: String| (format!("validation/{name}.svg"), text);
    BTreeMap::from([
        ("validation.md".to_owned(), page),
        ("validation/plots.csv".to_owned(), plots(trials)),
        svg("roc", figure::roc(trials.iter())),
        svg("calibration", figure::calibration(&everything.calibration)),
        svg("wrong", figure::bars("Wrong among proven, by kind", &wrong, 0.05, 0.4)),
        svg("found", figure::bars("Found of the oracle's proven trees", &found, 0.6, 1.0)),
    ])
}

/// One line for each plot.
fn plots(trials: &[Trial]) -> String {
    let mut lines = String::from(
        "kind,seed,clean,susceptible,mean_luck,mean_oracle,area_luck,area_oracle,area_naive,\
         proven,wrong,oracle_proven,found,covered,stepped_back\n",
    );
    for trial in trials {
        let summary = Summary::of(std::iter::once(trial));
        let count = |of: fn(&Clean) -> f64| trial.clean.iter().map(of).sum::<f64>();
        let mean = |of: fn(&Clean) -> f64| number(Some(count(of) / summary.clean.max(1) as f64));
        let area = |of: fn(Areas) -> f64| number(summary.area.map(of));
        let _ = writeln!(
            lines,
            "{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}",
            trial.kind.as_str(),
            trial.seed,
            summary.clean,
            trial.clean.iter().filter(|tree| !tree.resistant).count(),
            mean(|tree| tree.luck),
            mean(|tree| tree.oracle),
            area(|area| area.luck),
            area(|area| area.oracle),
            area(|area| area.naive),
            summary.proven.count,
            summary.wrong.count,
            summary.found.of,
            summary.found.count,
            number(summary.covered.share()),
            summary.stepped_back,
        );
    }
    lines
}

fn number(value: Option<f64>) -> String {
    value.map_or_else(String::new, |value| format!("{value:.4}"))
}

fn intro(page: &mut String, trials: &[Trial]) {
    let seeds = || trials.iter().map(|trial| trial.seed);
    let (first, last) = (seeds().min().unwrap_or(0), seeds().max().unwrap_or(0));
    let mut kinds: Vec<Kind> = trials.iter().map(|trial| trial.kind).collect();
    kinds.sort_unstable();
    kinds.dedup();
    let _ = write!(
        page,
        "# How well clean scores are judged

Written by `cargo xtask validate`; not edited by hand. {} made-up plots of {} kinds, seeds {first}
to {last}. Seeds below 1000 were used while the model was tuned, these never.

Each plot comes from the simulator of `crates/epidemic`, which knows which tree is resistant and
what dose it took. Its truth advances day by day with weather in bursts, a latent time, tissue that
sickens further and inoculum from outside; the model sees nothing but the scores of a few rounds.
Three judges rank the clean trees (those never seen infected):

- **luck**, as `leeward proof` gives it;
- the **oracle**, who knows every tree's true dose, each family's true share of resistant
  seedlings, the spread of frailty and how often looks err, but not who is resistant. Nobody can do
  better on these scores;
- the **naive rule**: the share of infected trees among the {NAIVE_NEIGHBOURS} nearest scored
  neighbours. The more, the more one trusts a clean tree.

A tree is *proven* at luck ≤ 0.05; it is *wrongly* proven when it is susceptible in truth.
",
        trials.len(),
        kinds.len(),
    );
}

fn target_table(page: &mut String, everything: &Summary, null: &Summary) {
    page.push_str("\n## Targets\n\n| asked, over all kinds together | found | |\n|---|---|---|\n");
    for target in targets::all(everything, null) {
        let met = if target.met { "met" } else { "**not met**" };
        let _ = writeln!(page, "| {} | {} | {met} |", target.asked, target.found);
    }
    if let Some(area) = everything.area {
        let _ = writeln!(
            page,
            "\n± is one standard error, plots being what is drawn at random. Areas are means over \
             the {} plots that have clean trees of both sorts; the distance to the oracle has a \
             standard error of {:.3}. Even the oracle is wrong in {} of the \
             trees that it calls proven.",
            area.plots,
            area.gap_error,
            percent(everything.oracle_wrong.share()),
        );
    }
}

fn kind_table(page: &mut String, kinds: &[(Kind, Summary)], everything: &Summary) {
    page.push_str(
        "\n## Kind by kind

*Calibration error*: mean distance between luck as stated and share found, in tenths of luck.
*Covered*: the oracle's luck lies within the 90 % interval. *Dose*: geometric mean of dose over
true dose, and correlation of their logarithms within a plot. *Stepped back*: plots in which the
fit fell back from the full model.

| kind | clean trees | area: luck | oracle | naive | calibration error | proven | wrong | \
         found | covered | dose | stepped back |
|---|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|--:|
",
    );
    for (kind, summary) in kinds {
        kind_line(page, kind.as_str(), summary);
    }
    kind_line(page, "**all**", everything);
}

fn kind_line(page: &mut String, name: &str, summary: &Summary) {
    let area = |of: fn(super::summary::Areas) -> f64| {
        summary.area.map_or_else(|| "–".to_owned(), |area| format!("{:.3}", of(area)))
    };
    let dose = if summary.dose_correlation.is_nan() {
        "–".to_owned()
    } else {
        format!("×{:.2}, {:.2}", summary.dose_bias.exp(), summary.dose_correlation)
    };
    let _ = writeln!(
        page,
        "| {name} | {} | {} | {} | {} | {:.3} | {} | {} | {} | {} | {dose} | {} of {} |",
        summary.clean,
        area(|area| area.luck),
        area(|area| area.oracle),
        area(|area| area.naive),
        summary.calibration_error,
        summary.proven.count,
        percent(summary.wrong.share()),
        percent(summary.found.share()),
        percent(summary.covered.share()),
        summary.stepped_back,
        summary.plots,
    );
}

fn figures(page: &mut String) {
    page.push_str(
        "\n## Figures

![ROC curves of luck, oracle and naive rule](validation/roc.svg)
![Calibration of luck](validation/calibration.svg)

Wrong among proven, by kind, with 95 % intervals (trees taken as independent, which is too narrow);
the line is at 5 %, bars beyond 40 % are cut.

![Wrong among proven, by kind](validation/wrong.svg)

Found of the oracle's proven trees, by kind, with 95 % intervals; the line is at 60 %.

![Found of the oracle's proven trees, by kind](validation/found.svg)

The numbers of every single plot are in [validation/plots.csv](validation/plots.csv).
",
    );
}

fn ablation_table(page: &mut String, everything: &Summary, null: &Summary, ablations: &[Ablation]) {
    if ablations.is_empty() {
        return;
    }
    page.push_str(
        "\n## What each part of the model is worth

The same plots, with one part left out.

| model | area: luck | calibration error | proven | wrong | proven on null plots | found | \
         covered |
|---|--:|--:|--:|--:|--:|--:|--:|
",
    );
    ablation_line(page, "whole", everything, null);
    for ablation in ablations {
        let null = ablation.trials.iter().filter(|trial| trial.kind.is_null());
        let name = format!("without {}", ablation.without);
        ablation_line(page, &name, &Summary::of(ablation.trials.iter()), &Summary::of(null));
    }
}

fn ablation_line(page: &mut String, name: &str, everything: &Summary, null: &Summary) {
    let _ = writeln!(
        page,
        "| {name} | {} | {:.3} | {} | {} | {} | {} | {} |",
        everything.area.map_or_else(|| "–".to_owned(), |area| format!("{:.3}", area.luck)),
        everything.calibration_error,
        everything.proven.count,
        percent(everything.wrong.share()),
        percent(null.proven.share()),
        percent(everything.found.share()),
        percent(everything.covered.share()),
    );
}

fn kind_list(page: &mut String, kinds: &[(Kind, Summary)]) {
    page.push_str("\n## The kinds\n\n");
    for (kind, _) in kinds {
        let _ = writeln!(page, "- `{}`: {}", kind.as_str(), kind.about().trim());
    }
    page.push_str(
        "\nReach, patchiness, strength of the seasons, frailty and spacing are drawn anew for each \
         seed\n(`crates/epidemic/src/kinds.rs`).\n",
    );
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_figure_that_the_page_shows_is_written_and_no_number_is_missing() {
        let tree = |luck: f64, resistant| Clean {
            resistant,
            luck,
            interval: Some((luck / 2.0, luck)),
            oracle: luck * 0.9,
            naive: luck,
            dose: Some(1.0),
            true_dose: 1.1,
        };
        let clean = vec![tree(0.01, true), tree(0.04, false), tree(0.7, false), tree(0.4, true)];
        let trials = [Kind::Blocks, Kind::Null, Kind::Quiet].map(|kind| Trial {
            kind,
            seed: 100_000,
            clean: if kind == Kind::Quiet { Vec::new() } else { clean.clone() },
            stepped_back: false,
        });
        let files = write(&trials, &[Ablation { without: "x", trials: trials.to_vec() }], &[]);
        let page = &files["validation.md"];
        assert!(!page.contains("NaN"), "{page}");
        let shown: Vec<&str> =
            page.split("](").skip(1).filter_map(|s| s.split(')').next()).collect();
        assert_eq!(shown.len(), 5);
        assert_eq!(files["validation/plots.csv"].lines().count(), 4);
        for name in shown.into_iter().filter(|name| name.ends_with("svg")) {
            let svg = &files[name];
            assert!(svg.starts_with("<svg") && svg.ends_with("</svg>\n") && !svg.contains("NaN"));
        }
    }
}
