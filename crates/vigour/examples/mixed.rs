//! Models asked and answered as JSON on standard input and output, so that `tests/second-opinion`
//! can compare them with other libraries.

use std::io::Read;

use serde::{Deserialize, Serialize};
use vigour::{Effect, Fixed, Mixed, Stand, Structure, Term, Trend, adjust, within_groups};

#[derive(Deserialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
enum Question {
    /// A mixed model.
    Mixed { values: Vec<f64>, fixed: Vec<Part>, terms: Vec<Random> },
    /// The trend of a field: number, x, y, row, place, genotype, cross of each tree.
    Adjust { trend: String, trees: Vec<(f64, f64, f64, i32, i32, usize, usize)> },
    /// Vigour and severity of trees, by group.
    Link { groups: Vec<Vec<(f64, f64)>> },
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum Part {
    Factor(Vec<usize>),
    Covariate(Vec<f64>),
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum Random {
    Levels(Vec<usize>),
    Lattice { cells: Vec<usize>, across: Vec<i32>, along: Vec<i32> },
}

#[derive(Serialize)]
struct Answer {
    deviance: f64,
    rest: f64,
    estimates: Vec<Vec<f64>>,
    fixed: Vec<Effect>,
    effects: Vec<Vec<Effect>>,
    trend_of_last: Vec<Effect>,
}

#[derive(Serialize)]
struct Adjustment {
    taken: Option<Trend>,
    deviance: Option<f64>,
    variances: Option<vigour::Variances>,
    trees: Vec<vigour::TreeValue>,
    genotypes: Vec<(usize, vigour::Ranked)>,
    crosses: Vec<(usize, vigour::Ranked)>,
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    let answer = match serde_json::from_str(&text)? {
        Question::Mixed { values, fixed, terms } => {
            serde_json::to_value(mixed(&values, fixed, terms)?)?
        }
        Question::Adjust { trend, trees } => serde_json::to_value(adjusted(&trend, &trees))?,
        Question::Link { groups } => serde_json::to_value(within_groups(&groups))?,
    };
    serde_json::to_writer(std::io::stdout(), &answer)?;
    Ok(())
}

fn mixed(values: &[f64], fixed: Vec<Part>, terms: Vec<Random>) -> Result<Answer, String> {
    let fixed: Vec<Fixed> = fixed
        .into_iter()
        .map(|part| match part {
            Part::Factor(levels) => Fixed::Factor(levels),
            Part::Covariate(numbers) => Fixed::Covariate(numbers),
        })
        .collect();
    let terms: Vec<Term> = terms
        .into_iter()
        .map(|term| match term {
            Random::Levels(of) => Term::levels(&of.into_iter().map(Some).collect::<Vec<_>>()),
            Random::Lattice { cells, across, along } => Term {
                of: cells.into_iter().map(|cell| vec![(cell, 1.0)]).collect(),
                structure: Structure::Lattice { across, along },
                ratio: None,
            },
        })
        .collect();
    let last = terms.len() - 1;
    let model = Mixed::new(values, &fixed, terms).map_err(|why| why.to_string())?;
    let fit = model.estimate().ok_or("no maximum")?;
    Ok(Answer {
        deviance: fit.deviance,
        rest: fit.rest,
        estimates: fit.estimates.clone(),
        fixed: fit.fixed(),
        effects: (0..=last).map(|term| fit.effects(term)).collect(),
        trend_of_last: fit.trend(&[last]),
    })
}

fn adjusted(trend: &str, trees: &[(f64, f64, f64, i32, i32, usize, usize)]) -> Adjustment {
    let stands: Vec<Stand> = trees
        .iter()
        .map(|&(number, x_m, y_m, row, place, genotype, cross)| Stand {
            number,
            x_m,
            y_m,
            cell: Some((row, place)),
            genotype,
            cross: Some(cross),
        })
        .collect();
    let wanted = Trend::ALL.iter().copied().find(|one| one.as_str() == trend);
    let found = adjust(&stands, wanted);
    let first = found.tried.first().and_then(|tried| tried.outcome.ok());
    Adjustment {
        taken: found.trend,
        deviance: first.and_then(|likelihood| likelihood.deviance),
        variances: found.variances,
        trees: found.trees,
        genotypes: found.genotypes.into_iter().collect(),
        crosses: found.crosses.into_iter().collect(),
    }
}
