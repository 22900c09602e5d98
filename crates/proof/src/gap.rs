//! Who carries less disease than its dose explains: severity gaps shrunk towards the genotype's
//! cross and the plot.
//!
//! Gaps of tree and season, y, follow a nested model y = μ + cross + genotype + rest with random
//! cross and genotype. Variances are estimated by restricted maximum likelihood (Patterson &
//! Thompson 1971, Biometrika 58:545–554), effects by best linear unbiased prediction (Henderson
//! 1975, Biometrics 31:423–447). For nested intercepts both have closed forms in group means, so
//! the cost is linear in the number of scores. Place is no effect of the model: the dose, from
//! which the expected severity comes, holds it already.

use spatial::HALF_INTERVAL_90;

use crate::report::Estimate;

/// One season of one tree.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Gap {
    /// Family, from 0.
    pub(crate) cross: usize,
    /// Group, from 0.
    pub(crate) genotype: usize,
    /// Severity expected at its dose less severity seen.
    pub(crate) value: f64,
}

/// A fitted model of gaps.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Shrunk {
    /// Mean gap μ.
    pub(crate) mean: f64,
    /// Variances of cross, genotype and rest.
    pub(crate) variances: [f64; 3],
    /// −2 × restricted log-likelihood, with all constants.
    pub(crate) deviance: f64,
    /// By genotype (those without a gap: none): predicted gap with 90 % interval.
    pub(crate) genotypes: Vec<Option<Estimate>>,
}

/// Shrinks gaps; none where no genotype has two, or gaps do not differ: then nothing tells the
/// genotype from chance.
pub(crate) fn shrink(gaps: &[Gap]) -> Option<Shrunk> {
    let data = Data::of(gaps);
    let repeated = data.genotypes.iter().any(|one| one.count >= 2.0);
    if !repeated || data.within <= 0.0 || gaps.len() < 3 {
        return None;
    }
    let (mut cross, mut deviance) = (0.1, f64::INFINITY);
    loop {
        let genotype = best_ratio(|ratio| data.solve(cross, ratio).deviance);
        cross = best_ratio(|ratio| data.solve(ratio, genotype).deviance);
        let solved = data.solve(cross, genotype);
        if deviance - solved.deviance < 1e-9 {
            return Some(data.predict(cross, genotype, &solved));
        }
        deviance = solved.deviance;
    }
}

/// Sums of gaps by genotype and cross.
struct Data {
    genotypes: Vec<Group>,
    crosses: usize,
    /// Sum of squares within genotypes.
    within: f64,
    count: f64,
}

#[derive(Clone, Copy, Debug, Default)]
struct Group {
    cross: usize,
    count: f64,
    mean: f64,
}

/// The model at given variance ratios.
struct Solved {
    mean: f64,
    rest: f64,
    deviance: f64,
    /// By cross: weight of its genotypes and their weighted mean.
    crosses: Vec<(f64, f64)>,
}

impl Data {
    fn of(gaps: &[Gap]) -> Self {
        let highest = |of: fn(&Gap) -> usize| gaps.iter().map(of).max().map_or(0, |max| max + 1);
        let mut genotypes = vec![Group::default(); highest(|gap| gap.genotype)];
        for gap in gaps {
            let group = &mut genotypes[gap.genotype];
            group.cross = gap.cross;
            group.count += 1.0;
            group.mean += (gap.value - group.mean) / group.count;
        }
        let within = gaps
            .iter()
            .map(|gap| gap.value - genotypes[gap.genotype].mean)
            .map(|apart| apart * apart)
            .sum();
        Self { genotypes, crosses: highest(|gap| gap.cross), within, count: gaps.len() as f64 }
    }

    /// Weight of a genotype's mean, in units of the rest's precision.
    fn weight(group: &Group, genotype: f64) -> f64 {
        group.count / (1.0 + genotype * group.count)
    }

    fn solve(&self, cross: f64, genotype: f64) -> Solved {
        let mut crosses = vec![(0.0, 0.0); self.crosses];
        let mut log_determinant = 0.0;
        for group in self.genotypes.iter().filter(|group| group.count > 0.0) {
            let weight = Self::weight(group, genotype);
            crosses[group.cross].0 += weight;
            crosses[group.cross].1 += weight * group.mean;
            log_determinant += libm::log1p(genotype * group.count);
        }
        let (mut precision, mut mean) = (0.0, 0.0);
        for (weight, sum) in crosses.iter_mut().filter(|one| one.0 > 0.0) {
            *sum /= *weight;
            let own = *weight / (1.0 + cross * *weight);
            precision += own;
            mean += own * *sum;
            log_determinant += libm::log1p(cross * *weight);
        }
        mean /= precision;
        let mut squares = self.within;
        for group in self.genotypes.iter().filter(|group| group.count > 0.0) {
            let apart = group.mean - crosses[group.cross].1;
            squares += Self::weight(group, genotype) * apart * apart;
        }
        for (weight, own) in crosses.iter().filter(|one| one.0 > 0.0) {
            squares += weight / (1.0 + cross * weight) * (own - mean) * (own - mean);
        }
        let free = self.count - 1.0;
        let rest = squares / free;
        let deviance = free * (libm::log(2.0 * std::f64::consts::PI * rest) + 1.0)
            + log_determinant
            + libm::log(precision);
        Solved { mean, rest, deviance, crosses }
    }

    fn predict(&self, cross: f64, genotype: f64, solved: &Solved) -> Shrunk {
        let genotypes = self
            .genotypes
            .iter()
            .map(|group| {
                if group.count == 0.0 {
                    return None;
                }
                let (weight, own) = solved.crosses[group.cross];
                let of_cross = cross * weight / (1.0 + cross * weight) * (own - solved.mean);
                let held = genotype * group.count / (1.0 + genotype * group.count);
                let of_genotype = held * (group.mean - solved.mean - of_cross);
                // Error of the genotype's effect, and of the cross's as far as it is not held.
                let error = genotype / (1.0 + genotype * group.count)
                    + (1.0 - held) * (1.0 - held) * cross / (1.0 + cross * weight);
                let value = solved.mean + of_cross + of_genotype;
                let half = HALF_INTERVAL_90 * (error * solved.rest).sqrt();
                Some(Estimate { value, low: value - half, high: value + half })
            })
            .collect();
        Shrunk {
            mean: solved.mean,
            variances: [cross * solved.rest, genotype * solved.rest, solved.rest],
            deviance: solved.deviance,
            genotypes,
        }
    }
}

/// The variance ratio (0 to e⁷) with the least deviance: golden section on its logarithm, zero
/// looked at too.
fn best_ratio(deviance: impl Fn(f64) -> f64) -> f64 {
    const GOLDEN: f64 = 0.618_033_988_749_894_8;
    let at = |log: f64| deviance(libm::exp(log));
    let (mut low, mut high) = (-14.0, 7.0);
    let mut inner = (high - GOLDEN * (high - low), low + GOLDEN * (high - low));
    let mut values = (at(inner.0), at(inner.1));
    while high - low > 1e-7 {
        if values.0 < values.1 {
            (high, inner.1, values.1) = (inner.1, inner.0, values.0);
            inner.0 = high - GOLDEN * (high - low);
            values.0 = at(inner.0);
        } else {
            (low, inner.0, values.0) = (inner.0, inner.1, values.1);
            inner.1 = low + GOLDEN * (high - low);
            values.1 = at(inner.1);
        }
    }
    let best = libm::exp(f64::midpoint(low, high));
    if deviance(0.0) <= deviance(best) { 0.0 } else { best }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Balanced data by hand: 3 crosses of 2 genotypes with 2 gaps each.
    fn balanced() -> Vec<Gap> {
        let values = [
            [[0.30, 0.34], [0.20, 0.16]],
            [[0.05, 0.01], [-0.02, 0.02]],
            [[-0.30, -0.24], [-0.16, -0.20]],
        ];
        let mut gaps = Vec::new();
        for (cross, genotypes) in values.iter().enumerate() {
            for (nth, values) in genotypes.iter().enumerate() {
                let genotype = cross * 2 + nth;
                gaps.extend(values.iter().map(|&value| Gap { cross, genotype, value }));
            }
        }
        gaps
    }

    #[test]
    fn balanced_data_give_the_variances_of_the_analysis_of_variance() {
        // In a balanced nested design without negative estimates, restricted maximum likelihood
        // equals the estimates from mean squares (Searle, Casella & McCulloch 1992, *Variance
        // components*, ch. 4, from memory): rest = MSe, genotype = (MSb − MSe) / 2, cross =
        // (MSa − MSb) / 4.
        let gaps = balanced();
        let mean = |of: &dyn Fn(&Gap) -> bool| {
            let chosen: Vec<f64> = gaps.iter().filter(|gap| of(gap)).map(|gap| gap.value).collect();
            chosen.iter().sum::<f64>() / chosen.len() as f64
        };
        let grand = mean(&|_| true);
        let (mut within, mut between, mut among) = (0.0, 0.0, 0.0);
        for gap in &gaps {
            let genotype = mean(&|one| one.genotype == gap.genotype);
            let cross = mean(&|one| one.cross == gap.cross);
            within += (gap.value - genotype) * (gap.value - genotype);
            between += (genotype - cross) * (genotype - cross);
            among += (cross - grand) * (cross - grand);
        }
        let (mse, msb, msa) = (within / 6.0, between / 3.0, among / 2.0);
        let expected = [(msa - msb) / 4.0, (msb - mse) / 2.0, mse];
        let shrunk = shrink(&gaps).expect("a model");
        for (found, expected) in shrunk.variances.iter().zip(expected) {
            assert!((found / expected - 1.0).abs() < 1e-4, "{found} {expected}");
        }
        assert!((shrunk.mean - grand).abs() < 1e-12);
    }

    #[test]
    fn predictions_lie_between_the_genotypes_mean_and_its_crosss() {
        let shrunk = shrink(&balanced()).expect("a model");
        let first = shrunk.genotypes[0].expect("a prediction");
        assert!(0.25 < first.value && first.value < 0.32, "{first:?}");
        // What two genotypes of a cross with two gaps each leave unknown of the first: prior less
        // Cov (prior + rest/2)⁻¹ Cov, their prior having the cross in common (by hand).
        let [cross, genotype, rest] = shrunk.variances;
        let (prior, seen) = (cross + genotype, cross + genotype + rest / 2.0);
        let told = seen * prior * prior - 2.0 * cross * prior * cross + seen * cross * cross;
        let left = prior - told / (seen * seen - cross * cross);
        let half = HALF_INTERVAL_90 * left.sqrt();
        assert!((first.high - first.value - half).abs() < 1e-9, "{first:?}, half {half}");
        assert!((first.value - first.low - half).abs() < 1e-9, "{first:?}, half {half}");
    }

    #[test]
    fn single_scores_tell_no_genotype_from_chance() {
        let gaps: Vec<Gap> =
            (0..9).map(|nth| Gap { cross: nth / 3, genotype: nth, value: nth as f64 }).collect();
        assert_eq!(shrink(&gaps), None);
        assert_eq!(shrink(&[]), None);
    }
}
