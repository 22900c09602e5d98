//! The models that have no command, asked and answered as JSON on standard input and output, so
//! that `tests/second-opinion` can compare them with other libraries.

use std::io::Read;

use serde::Deserialize;
use spatial::{
    Kriging, Neighbouring, Shape, VariogramModel, Weights, autologistic, beta_binomial, logistic,
    papadakis,
};

#[derive(Deserialize)]
#[serde(tag = "model", rename_all = "snake_case")]
enum Question {
    Logistic {
        rows: Vec<Vec<f64>>,
        yes: Vec<f64>,
        trials: Vec<f64>,
    },
    Autologistic {
        rows: Vec<Vec<f64>>,
        yes: Vec<u8>,
        links: Vec<(usize, usize, f64)>,
        neighbouring: Form,
    },
    BetaBinomial {
        rows: Vec<Vec<f64>>,
        yes: Vec<f64>,
        trials: Vec<f64>,
    },
    Kriging {
        points: Vec<(f64, f64)>,
        values: Vec<f64>,
        spots: Vec<(f64, f64)>,
        variogram: Model,
    },
    Papadakis {
        values: Vec<f64>,
        treatment: Vec<usize>,
        links: Vec<(usize, usize, f64)>,
        passes: usize,
    },
}

#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum Form {
    Sum,
    Mean,
}

#[derive(Deserialize)]
struct Model {
    nugget: f64,
    partial_sill: f64,
    range_m: f64,
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let mut text = String::new();
    std::io::stdin().read_to_string(&mut text)?;
    let weights = |n: usize, links: &[(usize, usize, f64)]| {
        Weights::from_pairs(n, links).map_err(|(at, fault)| format!("link {at}: {fault}"))
    };
    let answer = match serde_json::from_str(&text)? {
        Question::Logistic { rows, yes, trials } => {
            serde_json::to_value(logistic(&rows, &yes, &trials)?)?
        }
        Question::Autologistic { rows, yes, links, neighbouring } => {
            let form = match neighbouring {
                Form::Sum => Neighbouring::Sum,
                Form::Mean => Neighbouring::Mean,
            };
            let yes: Vec<bool> = yes.into_iter().map(|yes| yes > 0).collect();
            let used: Vec<usize> = (0..yes.len()).collect();
            let around = weights(yes.len(), &links)?;
            serde_json::to_value(autologistic(&rows, &yes, &[&around], form, &used)?)?
        }
        Question::BetaBinomial { rows, yes, trials } => {
            serde_json::to_value(beta_binomial(&rows, &yes, &trials)?)?
        }
        Question::Kriging { points, values, spots, variogram } => {
            let Model { nugget, partial_sill, range_m } = variogram;
            let model = VariogramModel { shape: Shape::Exponential, nugget, partial_sill, range_m };
            serde_json::to_value(Kriging::new(&points, &values, model)?.at(&spots)?)?
        }
        Question::Papadakis { values, treatment, links, passes } => {
            let weights = weights(values.len(), &links)?;
            serde_json::to_value(papadakis(&weights, &values, &treatment, passes)?)?
        }
    };
    serde_json::to_writer(std::io::stdout(), &answer)?;
    Ok(())
}
