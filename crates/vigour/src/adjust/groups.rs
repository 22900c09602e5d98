//! One trend fitted to trees that share genotypes and crosses.

use std::collections::BTreeMap;

use super::{Adjusted, FEWEST, Likelihood, Ranked, TreeValue, Variances};
use crate::trend::{LeftOut, Stand, Trend, by_neighbours, enough, terms};
use crate::{Effect, Fit, Mixed, Term};

/// Which trees share a genotype or a cross.
pub(super) struct Groups {
    /// Genotype and cross numbers of the levels, in order.
    genotypes: Vec<usize>,
    crosses: Vec<usize>,
    /// By tree: its levels.
    genotype_of: Vec<Option<usize>>,
    cross_of: Vec<Option<usize>>,
}

impl Groups {
    pub(super) fn of(stands: &[Stand]) -> Self {
        let (genotypes, genotype_of) = repeated(stands, |stand| Some(stand.genotype));
        let (crosses, cross_of) = repeated(stands, |stand| stand.cross);
        Self { genotypes, crosses, genotype_of, cross_of }
    }

    pub(super) fn model(
        &self,
        stands: &[Stand],
        trend: Trend,
    ) -> Result<(Likelihood, Adjusted), LeftOut> {
        enough(stands, FEWEST)?;
        let numbers: Vec<f64> = stands.iter().map(|stand| stand.number).collect();
        let mut parts = Vec::new();
        let mut add = |levels: &[Option<usize>], count: usize| {
            // One group that is everything is the mean.
            let tells = count >= 2 || (count == 1 && levels.contains(&None));
            tells.then(|| {
                parts.push(Term::levels(levels));
                parts.len() - 1
            })
        };
        let cross = add(&self.cross_of, self.crosses.len());
        let genotype = add(&self.genotype_of, self.genotypes.len());
        let first = parts.len();
        let (terms, names): (Vec<Term>, Vec<_>) = terms(trend, stands)?.into_iter().unzip();
        parts.extend(terms);
        let field: Vec<usize> = (first..parts.len()).collect();
        let model = Mixed::new(&numbers, &[], parts).map_err(LeftOut::Undefined)?;
        let fit = model.estimate().ok_or(LeftOut::NoMaximum)?;
        let likelihood = Likelihood { deviance: Some(fit.deviance), parameters: fit.parameters };
        let places = fit.trend(&field);
        let trees = places.iter().zip(&numbers).zip(fit.residuals());
        let trees = trees.map(|((place, number), residual)| TreeValue {
            // Without a trend a plain 0, never −0.
            trend: place.value + 0.0,
            adjusted: number - place.value,
            standard_error: place.standard_error,
            residual,
        });
        let field_estimates = fit.estimates[first..].iter().flatten().copied();
        let variances = Variances {
            cross: cross.map(|term| fit.estimates[term][0]),
            genotype: genotype.map(|term| fit.estimates[term][0]),
            trend: names.into_iter().flatten().zip(field_estimates).collect(),
            rest: fit.rest,
        };
        let adjusted = Adjusted {
            trend: Some(trend),
            tried: Vec::new(),
            trees: trees.collect(),
            genotypes: self.ranked_genotypes(stands, &fit, genotype, cross, &field),
            crosses: self.ranked_crosses(stands, &fit, cross, &field),
            variances: Some(variances),
        };
        Ok((likelihood, adjusted))
    }

    fn ranked_genotypes(
        &self,
        stands: &[Stand],
        fit: &Fit<'_>,
        genotype: Option<usize>,
        cross: Option<usize>,
        field: &[usize],
    ) -> BTreeMap<usize, Ranked> {
        let Some(term) = genotype else { return BTreeMap::new() };
        let members = members(self.genotype_of.iter().copied(), self.genotypes.len());
        let levels = members.iter().enumerate().map(|(level, trees)| {
            // Copies of one genotype come from one cross, if the plot says from which.
            let parents = trees.iter().find_map(|&tree| self.cross_of[tree]);
            [(term, level)].into_iter().chain(cross.zip(parents)).collect()
        });
        let predicted = fit.predict(&levels.collect::<Vec<_>>(), field);
        ranked(stands, &self.genotypes, &members, &predicted)
    }

    fn ranked_crosses(
        &self,
        stands: &[Stand],
        fit: &Fit<'_>,
        cross: Option<usize>,
        field: &[usize],
    ) -> BTreeMap<usize, Ranked> {
        let Some(term) = cross else { return BTreeMap::new() };
        let members = members(self.cross_of.iter().copied(), self.crosses.len());
        let levels: Vec<_> = (0..members.len()).map(|level| vec![(term, level)]).collect();
        ranked(stands, &self.crosses, &members, &fit.predict(&levels, field))
    }

    /// Trees of a repeated genotype are a treatment, else those of a cross, else all others.
    pub(super) fn papadakis(&self, stands: &[Stand]) -> Result<(Likelihood, Adjusted), LeftOut> {
        let of = self.genotype_of.iter().zip(&self.cross_of);
        let key: Vec<(u8, usize)> = of
            .map(|(genotype, cross)| match (genotype, cross) {
                (Some(genotype), _) => (0, *genotype),
                (None, Some(cross)) => (1, *cross),
                (None, None) => (2, 0),
            })
            .collect();
        let mut groups = key.clone();
        groups.sort_unstable();
        groups.dedup();
        let group: Vec<usize> =
            key.iter().map(|one| groups.binary_search(one).expect("a group")).collect();
        let pass = by_neighbours(stands, &group)?;
        let trees = stands.iter().zip(&pass.covariate).zip(&group);
        let trees = trees.map(|((stand, covariate), &group)| {
            let trend = pass.slope * (covariate - pass.mean_covariate);
            let adjusted = stand.number - trend;
            TreeValue {
                trend,
                adjusted,
                standard_error: pass.slope_standard_error * (covariate - pass.mean_covariate).abs(),
                residual: adjusted - pass.adjusted_means[group],
            }
        });
        let members = members(group.iter().copied().map(Some), groups.len());
        let means = |kind: u8, numbers: &[usize]| {
            let all = groups.iter().zip(&members).zip(&pass.adjusted_means);
            // Of a cross whose other trees are repeated genotypes one tree may be left.
            let own = all.filter(|(((own, _), trees), _)| *own == kind && trees.len() >= 2);
            own.map(|((&(_, level), trees), &mean)| {
                (numbers[level], rank(stands, trees, None, Some(mean)))
            })
            .collect()
        };
        let adjusted = Adjusted {
            trend: Some(Trend::Papadakis),
            tried: Vec::new(),
            trees: trees.collect(),
            genotypes: means(0, &self.genotypes),
            crosses: means(1, &self.crosses),
            variances: None,
        };
        Ok((Likelihood { deviance: None, parameters: 1 }, adjusted))
    }
}

/// Numbers that two trees or more have, in order, and for each tree its place among them.
fn repeated(
    stands: &[Stand],
    of: impl Fn(&Stand) -> Option<usize>,
) -> (Vec<usize>, Vec<Option<usize>>) {
    let mut count: BTreeMap<usize, usize> = BTreeMap::new();
    stands.iter().filter_map(&of).for_each(|number| *count.entry(number).or_default() += 1);
    let numbers: Vec<usize> =
        count.into_iter().filter(|(_, trees)| *trees >= 2).map(|(number, _)| number).collect();
    let levels = stands.iter().map(|stand| numbers.binary_search(&of(stand)?).ok()).collect();
    (numbers, levels)
}

/// By level: its trees.
fn members(of: impl Iterator<Item = Option<usize>>, levels: usize) -> Vec<Vec<usize>> {
    let mut members = vec![Vec::new(); levels];
    for (tree, level) in of.enumerate() {
        if let Some(level) = level {
            members[level].push(tree);
        }
    }
    members
}

fn ranked(
    stands: &[Stand],
    numbers: &[usize],
    members: &[Vec<usize>],
    predicted: &[Effect],
) -> BTreeMap<usize, Ranked> {
    let each = numbers.iter().zip(members).zip(predicted);
    each.map(|((&number, trees), &effect)| (number, rank(stands, trees, Some(effect), None)))
        .collect()
}

fn rank(
    stands: &[Stand],
    members: &[usize],
    predicted: Option<Effect>,
    adjusted_mean: Option<f64>,
) -> Ranked {
    let sum: f64 = members.iter().map(|&tree| stands[tree].number).sum();
    Ranked { trees: members.len(), raw_mean: sum / members.len() as f64, predicted, adjusted_mean }
}
