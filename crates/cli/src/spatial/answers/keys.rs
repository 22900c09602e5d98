//! The keys of the answers, spelled out: what docs/spatial-statistics.md documents.

use serde::Serialize;
use spatial::{
    ClarkEvans, Fit, FitWeights, Global, JoinCount, JoinCounts, Local, LocalMoran, NearestRatio,
    PermutationTest, Quadrant, Runs, Shape, Test, VariogramClass, Weights, Window,
};

use crate::spatial::{Call, weigh};

/// What the weights amount to.
#[derive(Serialize)]
pub(super) struct AboutWeights {
    scheme: Option<String>,
    style: &'static str,
    links: usize,
    islands: usize,
    sum: f64,
}

impl AboutWeights {
    pub(super) fn of(call: &Call, weights: &Weights) -> Self {
        Self {
            scheme: call.weights.as_ref().map(weigh::Scheme::text),
            style: call.style.name(),
            links: weights.links(),
            islands: weights.islands().len(),
            sum: weights.sums().s0,
        }
    }
}

/// One point's answer.
#[derive(Serialize)]
pub(super) struct Site<'a, T> {
    pub(super) line: u64,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(super) id: Option<&'a str>,
    #[serde(flatten)]
    pub(super) keys: T,
}

/// The p-values of a permutation test; left out where none was asked for.
#[derive(Serialize)]
pub(super) struct PermutationKeys {
    mean_permutation: f64,
    standard_deviation_permutation: f64,
    z_permutation: f64,
    p_permutation: f64,
    p_permutation_greater: f64,
    p_permutation_less: f64,
    p_permutation_doubled: f64,
    p_permutation_folded: f64,
}

impl PermutationKeys {
    fn new(test: &PermutationTest) -> Self {
        Self {
            mean_permutation: test.mean,
            standard_deviation_permutation: test.standard_deviation,
            z_permutation: test.z,
            p_permutation: test.p_two_sided,
            p_permutation_greater: test.p_greater,
            p_permutation_less: test.p_less,
            p_permutation_doubled: test.p_doubled,
            p_permutation_folded: test.p_folded,
        }
    }
}

/// z and the p-values of a test against the normal distribution; null where nothing can vary.
struct TestKeys {
    z: Option<f64>,
    p: Option<f64>,
    greater: Option<f64>,
    less: Option<f64>,
}

impl TestKeys {
    fn new(test: Option<Test>) -> Self {
        Self {
            z: test.map(|test| test.z),
            p: test.map(Test::p_two_sided),
            greater: test.map(Test::p_greater),
            less: test.map(Test::p_less),
        }
    }
}

/// Moran's I or Geary's c.
#[derive(Serialize)]
pub(super) struct GlobalKeys {
    value: f64,
    expected: f64,
    variance_normality: f64,
    z_normality: Option<f64>,
    p_normality: Option<f64>,
    p_normality_greater: Option<f64>,
    p_normality_less: Option<f64>,
    variance_randomisation: f64,
    z_randomisation: Option<f64>,
    p_randomisation: Option<f64>,
    p_randomisation_greater: Option<f64>,
    p_randomisation_less: Option<f64>,
    #[serde(flatten)]
    permutation: Option<PermutationKeys>,
}

impl GlobalKeys {
    pub(super) fn new(global: &Global, permutation: Option<&PermutationTest>) -> Self {
        let normality = TestKeys::new(global.normality);
        let randomisation = TestKeys::new(global.randomisation);
        Self {
            value: global.value,
            expected: global.expected,
            variance_normality: global.variance_normality,
            z_normality: normality.z,
            p_normality: normality.p,
            p_normality_greater: normality.greater,
            p_normality_less: normality.less,
            variance_randomisation: global.variance_randomisation,
            z_randomisation: randomisation.z,
            p_randomisation: randomisation.p,
            p_randomisation_greater: randomisation.greater,
            p_randomisation_less: randomisation.less,
            permutation: permutation.map(PermutationKeys::new),
        }
    }
}

/// Local Moran of one point.
#[derive(Serialize)]
pub(super) struct LocalMoranKeys {
    value: f64,
    value_n_minus_1: f64,
    quadrant: Quadrant,
    expected_conditional: f64,
    variance_conditional: f64,
    z_conditional: Option<f64>,
    p_conditional: Option<f64>,
    expected_total: f64,
    variance_total: f64,
    z_total: Option<f64>,
    p_total: Option<f64>,
    p_adjusted_benjamini_hochberg: Option<f64>,
    p_adjusted_benjamini_yekutieli: Option<f64>,
    #[serde(flatten)]
    permutation: Option<PermutationKeys>,
}

impl LocalMoranKeys {
    pub(super) fn new(
        site: &LocalMoran,
        adjusted: Option<(f64, f64)>,
        permutation: Option<&PermutationTest>,
    ) -> Self {
        let conditional = TestKeys::new(site.conditional.test);
        let total = TestKeys::new(site.total.test);
        Self {
            value: site.conditional.value,
            value_n_minus_1: site.value_n_minus_1,
            quadrant: site.quadrant,
            expected_conditional: site.conditional.expected,
            variance_conditional: site.conditional.variance,
            z_conditional: conditional.z,
            p_conditional: conditional.p,
            expected_total: site.total.expected,
            variance_total: site.total.variance,
            z_total: total.z,
            p_total: total.p,
            p_adjusted_benjamini_hochberg: adjusted.map(|adjusted| adjusted.0),
            p_adjusted_benjamini_yekutieli: adjusted.map(|adjusted| adjusted.1),
            permutation: permutation.map(PermutationKeys::new),
        }
    }
}

/// Gi or Gi* of one point.
#[derive(Serialize)]
pub(super) struct GiKeys {
    value: f64,
    expected: f64,
    variance: f64,
    z: Option<f64>,
    p: Option<f64>,
    p_greater: Option<f64>,
    p_less: Option<f64>,
    p_adjusted_benjamini_hochberg: Option<f64>,
    p_adjusted_benjamini_yekutieli: Option<f64>,
    #[serde(flatten)]
    permutation: Option<PermutationKeys>,
}

impl GiKeys {
    pub(super) fn new(
        site: &Local,
        adjusted: Option<(f64, f64)>,
        permutation: Option<&PermutationTest>,
    ) -> Self {
        let test = TestKeys::new(site.test);
        Self {
            value: site.value,
            expected: site.expected,
            variance: site.variance,
            z: test.z,
            p: test.p,
            p_greater: test.greater,
            p_less: test.less,
            p_adjusted_benjamini_hochberg: adjusted.map(|adjusted| adjusted.0),
            p_adjusted_benjamini_yekutieli: adjusted.map(|adjusted| adjusted.1),
            permutation: permutation.map(PermutationKeys::new),
        }
    }
}

/// Join counts: of pairs in which both, one or neither say yes.
#[derive(Serialize)]
pub(super) struct JoinCountKeys {
    yes: usize,
    both: JoinKeys,
    one: JoinKeys,
    neither: JoinKeys,
}

#[derive(Serialize)]
struct JoinKeys {
    value: f64,
    expected_non_free: f64,
    variance_non_free: f64,
    z_non_free: Option<f64>,
    p_non_free: Option<f64>,
    p_non_free_greater: Option<f64>,
    p_non_free_less: Option<f64>,
    expected_free: f64,
    variance_free: f64,
    z_free: Option<f64>,
    p_free: Option<f64>,
    p_free_greater: Option<f64>,
    p_free_less: Option<f64>,
    #[serde(flatten)]
    permutation: Option<PermutationKeys>,
}

impl JoinCountKeys {
    pub(super) fn new(counts: &JoinCounts, permutation: Option<&PermutationTest>) -> Self {
        Self {
            yes: counts.yes,
            both: JoinKeys::new(&counts.both, permutation),
            one: JoinKeys::new(&counts.one, None),
            neither: JoinKeys::new(&counts.neither, None),
        }
    }
}

impl JoinKeys {
    fn new(count: &JoinCount, permutation: Option<&PermutationTest>) -> Self {
        let (non_free, free) = (TestKeys::new(count.non_free), TestKeys::new(count.free));
        Self {
            value: count.value,
            expected_non_free: count.expected_non_free,
            variance_non_free: count.variance_non_free,
            z_non_free: non_free.z,
            p_non_free: non_free.p,
            p_non_free_greater: non_free.greater,
            p_non_free_less: non_free.less,
            expected_free: count.expected_free,
            variance_free: count.variance_free,
            z_free: free.z,
            p_free: free.p,
            p_free_greater: free.greater,
            p_free_less: free.less,
            permutation: permutation.map(PermutationKeys::new),
        }
    }
}

/// Clark–Evans, without and with Donnelly's correction.
#[derive(Serialize)]
pub(super) struct ClarkEvansKeys {
    window: Window,
    mean_nearest_m: f64,
    density_per_m2: f64,
    #[serde(flatten)]
    plain: RatioKeys,
    donnelly: RatioKeys,
}

#[derive(Serialize)]
struct RatioKeys {
    value: f64,
    expected_m: f64,
    variance_m2: f64,
    z: f64,
    p: f64,
    p_greater: f64,
    p_less: f64,
}

impl ClarkEvansKeys {
    pub(super) fn new(window: Window, found: &ClarkEvans) -> Self {
        Self {
            window,
            mean_nearest_m: found.mean_nearest_m,
            density_per_m2: found.density_per_m2,
            plain: RatioKeys::new(&found.plain),
            donnelly: RatioKeys::new(&found.donnelly),
        }
    }
}

impl RatioKeys {
    fn new(ratio: &NearestRatio) -> Self {
        Self {
            value: ratio.ratio,
            expected_m: ratio.expected_m,
            variance_m2: ratio.variance_m2,
            z: ratio.test.z,
            p: ratio.test.p_two_sided(),
            p_greater: ratio.test.p_greater(),
            p_less: ratio.test.p_less(),
        }
    }
}

/// An empirical variogram, and a model of it where one was asked for.
#[derive(Serialize)]
pub(super) struct VariogramKeys {
    cutoff_m: f64,
    classes: Vec<VariogramClass>,
    #[serde(skip_serializing_if = "Option::is_none")]
    model: Option<ModelKeys>,
}

#[derive(Serialize)]
struct ModelKeys {
    shape: Shape,
    nugget: f64,
    partial_sill: f64,
    range_m: f64,
    weights: FitWeights,
    sum_of_squares: f64,
    converged: bool,
    identifiable: bool,
}

impl VariogramKeys {
    pub(super) fn new(
        cutoff_m: f64,
        classes: &[VariogramClass],
        fit: Option<(&Fit, FitWeights)>,
    ) -> Self {
        let model = fit.map(|(fit, weights)| ModelKeys {
            shape: fit.model.shape,
            nugget: fit.model.nugget,
            partial_sill: fit.model.partial_sill,
            range_m: fit.model.range_m,
            weights,
            sum_of_squares: fit.sum_of_squares,
            converged: fit.converged,
            identifiable: fit.identifiable,
        });
        Self { cutoff_m, classes: classes.to_vec(), model }
    }
}

/// Runs along the rows, all stretches together.
#[derive(Serialize)]
pub(super) struct RunsKeys {
    stretches: usize,
    compared: usize,
    yes: usize,
    value: usize,
    expected: f64,
    variance: f64,
    z: f64,
    p: f64,
    p_greater: f64,
    p_less: f64,
}

impl RunsKeys {
    pub(super) fn new(stretches: usize, runs: &Runs) -> Self {
        Self {
            stretches,
            compared: runs.n,
            yes: runs.yes,
            value: runs.runs,
            expected: runs.expected,
            variance: runs.variance,
            z: runs.test.z,
            p: runs.test.p_two_sided(),
            p_greater: runs.test.p_greater(),
            p_less: runs.test.p_less(),
        }
    }
}
