//! The examples at the end of each command's help; docs/command-line.md has their answers, and a
//! test runs them there.

use clap::Command;

/// Calls by the name of their command, without `leeward` in front.
const EXAMPLES: &[(&str, &[&str])] = &[
    ("inspect", &["inspect demo-plot"]),
    (
        "proof",
        &[
            "proof demo-plot --disease scab",
            "proof demo-plot --disease scab --by genotype --season 2031 --format json",
            "proof --many plots --disease scab --format parquet --out judged",
        ],
    ),
    ("season", &["season demo-plot --disease scab"]),
    ("plan", &["plan demo-plot --disease scab", "plan demo-plot --disease scab --most 5 --walk"]),
    ("progress", &["progress demo-plot --disease scab"]),
    ("near", &["near demo-plot --tree T0200 --disease scab --count 3"]),
    (
        "vigour",
        &["vigour demo-plot", "vigour demo-plot --by cross --trend rows --disease fire_blight"],
    ),
    ("merge", &["merge demo-plot from-phone --out united"]),
    (
        "export",
        &[
            "export demo-plot --to csv --out trees-and-scores.csv",
            "export demo-plot --to geopackage --out lantern-bank.gpkg",
        ],
    ),
    ("simulate", &["simulate made-up --seed 7 --rows 4 --places 30 --seasons 2"]),
    (
        "spatial",
        &["spatial points.csv --x x --y y --value diseased --weights knn:8 \
             --stat moran,join-count --seed 7"],
    ),
    ("completions", &["completions bash"]),
    ("man", &["man --out pages"]),
];

/// How the program ends.
const ENDS: &str = "\
It ends with 0 when done, 1 when done but the answer is no or there are findings, and 2 when the
input or the call is unusable.";

/// The program with how it ends, and with each of its commands' examples.
pub(crate) fn with_examples(program: Command) -> Command {
    program.after_help(ENDS).mut_subcommands(|sub| {
        let own = EXAMPLES.iter().find(|(name, _)| *name == sub.get_name());
        match own {
            Some((_, calls)) => {
                let lines: String =
                    calls.iter().map(|call| format!("\n  leeward {call}")).collect();
                let word = if calls.len() == 1 { "Example" } else { "Examples" };
                sub.after_help(format!("{word}:{lines}"))
            }
            None => sub,
        }
    })
}
