//! Who resists, who is frail, and what could be known of it before looking.

use crate::draw::Draw;
use crate::planting::{Origin, Planted};
use crate::truth::Prior;
use crate::{Disease, Frailty, Genetics};

/// What a genotype is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Genes {
    pub(crate) resistant: bool,
    pub(crate) frailty: f64,
    pub(crate) susceptibility: f64,
}

/// Draws each genotype; copies share what they are. Places with nothing in them get a typical
/// susceptible tree's genes, which never matter.
pub(crate) fn by_tree(disease: &Disease, planted: &Planted, draw: &mut Draw) -> Vec<Genes> {
    let of_genotype: Vec<Genes> =
        planted.genotypes.iter().map(|&origin| genes(disease, origin, draw)).collect();
    let nothing = Genes { resistant: false, frailty: 1.0, susceptibility: 1.0 };
    let of_tree = |genotype: Option<usize>| genotype.map_or(nothing, |g| of_genotype[g]);
    planted.stands.iter().map(|stand| of_tree(stand.genotype)).collect()
}

fn genes(disease: &Disease, origin: Origin, draw: &mut Draw) -> Genes {
    // The same number of draws whatever the origin, so that recipes stay comparable.
    let (chance, frailty) = (draw.unit(), frailty(disease.frailty, draw));
    let normal = draw.normal();
    let sort = |resistant: bool, frailty: f64| Genes {
        resistant,
        frailty,
        susceptibility: if resistant { disease.leak * frailty } else { frailty },
    };
    match (origin, &disease.genetics) {
        (Origin::SusceptibleCheck, _) => sort(false, disease.check_frailty),
        (Origin::ResistantCheck, _) => sort(true, 1.0),
        (Origin::Carrier, _) => sort(false, 1.0),
        (Origin::Seedling { family, .. }, Genetics::Gene(shares)) => {
            sort(chance < shares[family], frailty)
        }
        (Origin::Seedling { family, .. }, Genetics::Many { mean_ln, sd_ln, resistant_at_most }) => {
            let susceptibility = libm::exp(mean_ln[family] + sd_ln * normal);
            let resistant = susceptibility <= *resistant_at_most;
            Genes { resistant, frailty: susceptibility, susceptibility }
        }
    }
}

fn frailty(of: Frailty, draw: &mut Draw) -> f64 {
    match of {
        Frailty::None => 1.0,
        Frailty::LogNormal { sd } => libm::exp(sd * draw.normal()),
        Frailty::Gamma { shape } => draw.gamma(shape),
    }
}

/// Priors by recorded cross, one for seedlings whose parents nobody wrote down, one for each sort;
/// and the prior of each tree.
pub(crate) fn priors(disease: &Disease, planted: &Planted) -> (Vec<Prior>, Vec<usize>) {
    let families = match &disease.genetics {
        Genetics::Gene(shares) => shares.len(),
        Genetics::Many { mean_ln, .. } => mean_ln.len(),
    };
    let (unknown, susceptible, resistant) = (families, families + 1, families + 2);
    let mut unknown_in = vec![0.0; families];
    for genotype in &planted.genotypes {
        if let Origin::Seedling { family, recorded: false } = *genotype {
            unknown_in[family] += 1.0;
        }
    }
    let mut priors: Vec<Prior> = (0..families).map(|family| of_family(disease, family)).collect();
    priors.push(mixture(&priors, &unknown_in));
    priors.push(Prior { nodes: vec![(1.0, disease.check_frailty, false)] });
    priors.push(Prior { nodes: vec![(1.0, disease.leak, true)] });
    let of_origin = |origin: Origin| match origin {
        Origin::Seedling { family, recorded: true } => family,
        Origin::Seedling { recorded: false, .. } => unknown,
        Origin::SusceptibleCheck | Origin::Carrier => susceptible,
        Origin::ResistantCheck => resistant,
    };
    let of_tree = |genotype: Option<usize>| {
        genotype.map_or(susceptible, |genotype| of_origin(planted.genotypes[genotype]))
    };
    (priors, planted.stands.iter().map(|stand| of_tree(stand.genotype)).collect())
}

fn of_family(disease: &Disease, family: usize) -> Prior {
    let nodes = match &disease.genetics {
        Genetics::Gene(shares) => {
            let share = shares[family];
            let frail = frailty_nodes(disease.frailty);
            let susceptible = frail.iter().map(|&(w, x)| ((1.0 - share) * w, x, false));
            let resistant = frail.iter().map(|&(w, x)| (share * w, disease.leak * x, true));
            susceptible.chain(resistant).collect()
        }
        Genetics::Many { mean_ln, sd_ln, resistant_at_most } => {
            let node = |(w, z): (f64, f64)| {
                let susceptibility = libm::exp(mean_ln[family] + sd_ln * z);
                (w, susceptibility, susceptibility <= *resistant_at_most)
            };
            normal_nodes().into_iter().map(node).collect()
        }
    };
    Prior { nodes }
}

fn mixture(priors: &[Prior], weights: &[f64]) -> Prior {
    let total: f64 = weights.iter().sum();
    let parts = priors.iter().zip(weights).filter(|(_, weight)| **weight > 0.0);
    let nodes = parts.flat_map(|(prior, weight)| {
        prior.nodes.iter().map(move |&(w, x, resistant)| (w * weight / total, x, resistant))
    });
    Prior { nodes: nodes.collect() }
}

/// Weight and frailty of a fine grid.
fn frailty_nodes(of: Frailty) -> Vec<(f64, f64)> {
    match of {
        Frailty::None => vec![(1.0, 1.0)],
        Frailty::LogNormal { sd } => {
            normal_nodes().into_iter().map(|(w, z)| (w, libm::exp(sd * z))).collect()
        }
        // The density of ln x is x^shape e^(-shape x) up to a factor.
        Frailty::Gamma { shape } => {
            let low = -9.0 / shape.min(1.0);
            grid(low, 2.5, |ln_x| shape * (ln_x - libm::exp(ln_x)))
                .into_iter()
                .map(|(w, ln_x)| (w, libm::exp(ln_x)))
                .collect()
        }
    }
}

fn normal_nodes() -> Vec<(f64, f64)> {
    grid(-5.0, 5.0, |z| -z * z / 2.0)
}

/// Even points from `low` to `high`, weighted by a density known up to a factor.
fn grid(low: f64, high: f64, ln_density: impl Fn(f64) -> f64) -> Vec<(f64, f64)> {
    const POINTS: usize = 121;
    let at = |nth: usize| low + (high - low) * nth as f64 / (POINTS - 1) as f64;
    let mut nodes: Vec<(f64, f64)> =
        (0..POINTS).map(|nth| (libm::exp(ln_density(at(nth))), at(nth))).collect();
    let total: f64 = nodes.iter().map(|&(w, _)| w).sum();
    nodes.iter_mut().for_each(|(w, _)| *w /= total);
    nodes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nodes_have_the_moments_of_the_distribution() {
        let check = |of: Frailty, mean: f64, variance: f64| {
            let nodes = frailty_nodes(of);
            let found = nodes.iter().map(|(w, x)| w * x).sum::<f64>();
            let spread = nodes.iter().map(|(w, x)| w * (x - found) * (x - found)).sum::<f64>();
            assert!((found - mean).abs() < 2e-3, "{of:?}: mean {found}");
            assert!((spread - variance).abs() < 1e-2 * variance.max(0.1), "{of:?}: {spread}");
        };
        check(Frailty::None, 1.0, 0.0);
        check(Frailty::Gamma { shape: 2.0 }, 1.0, 0.5);
        check(Frailty::Gamma { shape: 0.7 }, 1.0, 1.0 / 0.7);
        // Log-normal: mean exp(s²/2), variance (exp(s²) - 1) exp(s²).
        let s2 = 0.49;
        let (mean, e) = (libm::exp(s2 / 2.0), libm::exp(s2));
        check(Frailty::LogNormal { sd: 0.7 }, mean, (e - 1.0) * e);
    }
}
