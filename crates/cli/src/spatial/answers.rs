//! From a call and its points to the answers: which statistic needs what, and how it may fail.

mod keys;

use anyhow::{Context, bail};
use clap::ValueEnum as _;
use plot::{Problem, Weight};
use serde::Serialize;
use spatial::{
    Test, Undefined, Weights, Window, benjamini_hochberg, benjamini_yekutieli, clark_evans,
    equal_classes, fit_variogram, geary, geary_permutation, gi, gi_permutation, gi_star,
    join_count_permutation, join_counts, local_moran, local_moran_permutation, moran,
    moran_permutation, runs_together, stretches, usual_cutoff_m, variogram,
};

use super::points::Points;
use super::{Call, Stat, weigh};
use crate::Answer;
use crate::progress::timed;
use keys::{
    AboutWeights, ClarkEvansKeys, GiKeys, GlobalKeys, JoinCountKeys, LocalMoranKeys, RunsKeys,
    Site, VariogramKeys,
};

/// Everything that a call asks for; keys are documented in docs/spatial-statistics.md.
#[derive(Serialize)]
pub(crate) struct Report<'a> {
    points: usize,
    left_out: usize,
    #[serde(skip_serializing_if = "Option::is_none")]
    weights: Option<AboutWeights>,
    #[serde(skip_serializing_if = "Option::is_none")]
    permutations: Option<usize>,
    #[serde(skip_serializing_if = "Option::is_none")]
    seed: Option<u64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    moran: Option<Outcome<GlobalKeys>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    geary: Option<Outcome<GlobalKeys>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    local_moran: Option<Outcome<Vec<Site<'a, LocalMoranKeys>>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gi: Option<Outcome<Vec<Site<'a, GiKeys>>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    gi_star: Option<Outcome<Vec<Site<'a, GiKeys>>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    join_count: Option<Outcome<JoinCountKeys>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    clark_evans: Option<Outcome<ClarkEvansKeys>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    variogram: Option<Outcome<VariogramKeys>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    runs: Option<Outcome<RunsKeys>>,
}

/// A result, or why there is none.
#[derive(Serialize)]
#[serde(untagged)]
enum Outcome<T> {
    Defined(T),
    Undefined { undefined: String },
}

/// Computes what a call asks for; [`Answer::No`] where a statistic is not defined.
///
/// # Errors
/// An option that a statistic needs is missing, or values are not of the kind it needs.
pub(crate) fn all<'a>(call: &Call, points: &'a Points) -> anyhow::Result<(Report<'a>, Answer)> {
    let weights = call
        .stat
        .iter()
        .any(|stat| stat.needs_weights())
        .then(|| weigh::build(call, points))
        .transpose()?;
    let mut asked = Asked { call, points, weights: weights.as_ref(), answer: Answer::Done };
    let permuted = call.permutations > 0 && weights.is_some();
    let report = Report {
        points: points.names.len(),
        left_out: points.left_out.len(),
        weights: weights.as_ref().map(|weights| AboutWeights::of(call, weights)),
        permutations: permuted.then_some(call.permutations),
        seed: permuted.then_some(call.seed),
        moran: asked.when(Stat::Moran, Asked::moran)?,
        geary: asked.when(Stat::Geary, Asked::geary)?,
        local_moran: asked.when(Stat::LocalMoran, Asked::local_moran)?,
        gi: asked.when(Stat::Gi, |asked| asked.gi(gi))?,
        gi_star: asked.when(Stat::GiStar, |asked| asked.gi(gi_star))?,
        join_count: asked.when(Stat::JoinCount, Asked::join_count)?,
        clark_evans: asked.when(Stat::ClarkEvans, Asked::clark_evans)?,
        variogram: asked.when(Stat::Variogram, Asked::variogram)?,
        runs: asked.when(Stat::Runs, Asked::runs)?,
    };
    Ok((report, asked.answer))
}

/// A call with what it has to work on.
struct Asked<'a, 'b> {
    call: &'b Call,
    points: &'a Points,
    weights: Option<&'b Weights>,
    answer: Answer,
}

/// The inner result says whether the statistic is defined, the outer one whether the call is.
type Found<T> = anyhow::Result<Result<T, Undefined>>;

impl<'a> Asked<'a, '_> {
    fn when<T>(
        &mut self,
        stat: Stat,
        compute: impl FnOnce(&Self) -> Found<T>,
    ) -> anyhow::Result<Option<Outcome<T>>> {
        if !self.call.stat.contains(&stat) {
            return Ok(None);
        }
        let what = stat.to_possible_value().map_or_else(String::new, |it| it.get_name().to_owned());
        Ok(Some(match timed(&what, || compute(self))? {
            Ok(defined) => Outcome::Defined(defined),
            Err(why) => {
                self.answer = Answer::No;
                Outcome::Undefined { undefined: why.to_string() }
            }
        }))
    }

    fn moran(&self) -> Found<GlobalKeys> {
        let (weights, values) = (self.weights()?, self.values()?);
        Ok(moran(weights, values).and_then(|global| {
            let test = self.permuted(|m, seed| moran_permutation(weights, values, m, seed))?;
            Ok(GlobalKeys::new(&global, test.as_ref()))
        }))
    }

    fn geary(&self) -> Found<GlobalKeys> {
        let (weights, values) = (self.weights()?, self.values()?);
        Ok(geary(weights, values).and_then(|global| {
            let test = self.permuted(|m, seed| geary_permutation(weights, values, m, seed))?;
            Ok(GlobalKeys::new(&global, test.as_ref()))
        }))
    }

    fn local_moran(&self) -> Found<Vec<Site<'a, LocalMoranKeys>>> {
        let (weights, values) = (self.weights()?, self.values()?);
        Ok(local_moran(weights, values).and_then(|found| {
            let tests =
                self.permuted(|m, seed| local_moran_permutation(weights, values, m, seed))?;
            let p = found.iter().map(|site| site.conditional.test.map(Test::p_two_sided));
            let adjusted = adjusted(p.collect());
            Ok(self.sites(|i| {
                let test = tests.as_ref().and_then(|tests| tests[i].as_ref());
                LocalMoranKeys::new(&found[i], adjusted[i], test)
            }))
        }))
    }

    fn gi(
        &self,
        statistic: impl Fn(&Weights, &[f64]) -> Result<Vec<spatial::Local>, Undefined>,
    ) -> Found<Vec<Site<'a, GiKeys>>> {
        let (weights, values) = (self.weights()?, self.values()?);
        Ok(statistic(weights, values).and_then(|found| {
            let tests = self.permuted(|m, seed| gi_permutation(weights, values, m, seed))?;
            let p = found.iter().map(|site| site.test.map(Test::p_two_sided));
            let adjusted = adjusted(p.collect());
            Ok(self.sites(|i| {
                let test = tests.as_ref().and_then(|tests| tests[i].as_ref());
                GiKeys::new(&found[i], adjusted[i], test)
            }))
        }))
    }

    fn join_count(&self) -> Found<JoinCountKeys> {
        let (weights, yes) = (self.weights()?, self.yes()?);
        Ok(join_counts(weights, &yes).and_then(|found| {
            let test = self.permuted(|m, seed| join_count_permutation(weights, &yes, m, seed))?;
            Ok(JoinCountKeys::new(&found, test.as_ref()))
        }))
    }

    fn clark_evans(&self) -> Found<ClarkEvansKeys> {
        let spots = self.spots()?;
        Ok((|| {
            let window = match &self.call.window {
                Some(window) => window.0,
                None => Window::around(spots)?,
            };
            Ok(ClarkEvansKeys::new(window, &clark_evans(spots, &window)?))
        })())
    }

    fn variogram(&self) -> Found<VariogramKeys> {
        let (spots, values) = (self.spots()?, self.values()?);
        let cutoff_m = self.call.cutoff.unwrap_or_else(|| usual_cutoff_m(spots));
        let limits_m = equal_classes(cutoff_m, self.call.classes);
        Ok((|| {
            let classes = variogram(spots, values, 0.0, &limits_m, None)?;
            let weights = self.call.fit.weights();
            let fit = match self.call.model {
                Some(model) => Some(fit_variogram(&classes, model.shape(), weights)?),
                None => None,
            };
            Ok(VariogramKeys::new(cutoff_m, &classes, fit.as_ref().map(|fit| (fit, weights))))
        })())
    }

    /// Rows are cut where a place has no point or the point has no value.
    fn runs(&self) -> Found<RunsKeys> {
        let yes = self.yes()?;
        let places =
            self.points.places.as_deref().context(
                "--stat runs needs --row and --place: expected the names of two columns",
            )?;
        let mut rows = std::collections::BTreeMap::<i64, Vec<(i64, bool)>>::new();
        for (&(row, place), &yes) in places.iter().zip(&yes) {
            rows.entry(row).or_default().push((place, yes));
        }
        let mut cut = Vec::new();
        for places in rows.values_mut() {
            places.sort_unstable();
            let mut row: Vec<Option<bool>> = Vec::new();
            for (at, &(place, yes)) in places.iter().enumerate() {
                if at > 0 && places[at - 1].0 != place - 1 {
                    row.push(None);
                }
                row.push(Some(yes));
            }
            cut.extend(stretches(&row));
        }
        Ok(runs_together(cut.iter().map(Vec::as_slice)).map(|runs| RunsKeys::new(cut.len(), &runs)))
    }

    fn weights(&self) -> anyhow::Result<&Weights> {
        self.weights.context("no weights")
    }

    fn values(&self) -> anyhow::Result<&'a [f64]> {
        self.points
            .values
            .as_deref()
            .context("--value is missing: expected the name of the column of the value")
    }

    fn spots(&self) -> anyhow::Result<&'a [(f64, f64)]> {
        self.points
            .spots
            .as_deref()
            .context("--x and --y are missing: expected the names of the coordinates' columns")
    }

    /// Values as yes and no.
    fn yes(&self) -> anyhow::Result<Vec<bool>> {
        let faults: Vec<String> = self
            .values()?
            .iter()
            .zip(&self.points.lines)
            .filter(|(value, _)| **value != 0.0 && **value != 1.0)
            .map(|(value, &line)| {
                let problem = Problem {
                    weight: Weight::Fault,
                    file: self.call.points.display().to_string(),
                    line: Some(line),
                    column: self.call.value.clone(),
                    found: value.to_string(),
                    expected: "0 or 1".to_owned(),
                };
                problem.to_string()
            })
            .collect();
        if !faults.is_empty() {
            bail!(faults.join("\n"));
        }
        Ok(self.values()?.iter().map(|&value| value > 0.5).collect())
    }

    fn permuted<T>(
        &self,
        test: impl FnOnce(usize, u64) -> Result<T, Undefined>,
    ) -> Result<Option<T>, Undefined> {
        match self.call.permutations {
            0 => Ok(None),
            m => test(m, self.call.seed).map(Some),
        }
    }

    /// An entry for each point, in the order of the file.
    fn sites<T>(&self, keys: impl Fn(usize) -> T) -> Vec<Site<'a, T>> {
        let points = self.points;
        points
            .file_order
            .iter()
            .map(|&i| Site {
                line: points.lines[i],
                id: self.call.id.is_some().then(|| points.names[i].as_str()),
                keys: keys(i),
            })
            .collect()
    }
}

/// Adjusted p-values (Benjamini–Hochberg, Benjamini–Yekutieli) of the points that have one.
fn adjusted(p: Vec<Option<f64>>) -> Vec<Option<(f64, f64)>> {
    let known: Vec<f64> = p.iter().copied().flatten().collect();
    let mut both = benjamini_hochberg(&known)
        .into_iter()
        .zip(benjamini_yekutieli(&known))
        .collect::<Vec<_>>()
        .into_iter();
    p.into_iter().map(|p| p.and_then(|_| both.next())).collect()
}
