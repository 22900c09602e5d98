//! Pressure at each place, as far as its neighbours tell: how much higher or lower than the
//! plot's own level the hazard runs there.
//!
//! Each neighbour j that could have been infected was watched for a time (its *exposure*, in
//! infections expected at the plot's level) and took the disease or not (its *events*, 0 to 1).
//! With kernel weights K and a gamma prior of mean 1 and shape k, the relative risk at tree i is
//! gamma distributed with shape `k + ΣK·events` and mean
//! `(k + ΣK·events) / (k + ΣK·exposure)`: empirical Bayes smoothing of rates (Clayton & Kaldor
//! 1987, Biometrics 43:671–681), with neighbours in place of areas. A resistant neighbour is no
//! witness: its exposure counts only as far as it may be susceptible. A tree is never its own
//! neighbour, so each tree's risk is predicted from the others alone.

use serde::{Deserialize, Serialize};
use spatial::{Ellipse, Kernel};

use crate::case::Case;

/// Neighbours looked at for each tree, at the most. What lies beyond adds nothing to its relative
/// risk, which then leans on the plot's level instead.
pub(crate) const MOST_NEIGHBOURS: usize = 128;

/// Kernel weight below which a neighbour is left out: together the trees beyond weigh little, and
/// what they would say is the plot's level, which the prior says already.
pub(crate) const NEGLIGIBLE: f64 = 0.01;

/// Weight of a neighbour, almost surely resistant or far, that is not worth a look.
const TELLS_NOTHING: f32 = 1e-4;

/// How disease spreads: a kernel over a distance that may count differently along an axis.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// How weight falls with distance.
    pub kernel: Kernel,
    /// How a way counts as a distance.
    pub ellipse: Ellipse,
}

impl Spread {
    /// Distance along the row at which the weight is one half, metres.
    pub(crate) fn half_distance_m(&self) -> f64 {
        self.kernel.reach_m(0.5) / self.ellipse.distance_m(1.0, 0.0)
    }

    /// The weight of a neighbour so far along the row and across it.
    pub(crate) fn weight(&self, along_m: f64, across_m: f64) -> f64 {
        self.kernel.weight(self.ellipse.distance_m(along_m, across_m))
    }
}

impl std::fmt::Display for Spread {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let family = match self.kernel {
            Kernel::Exponential { .. } => "exponential",
            Kernel::PowerLaw { .. } => "power law",
        };
        let along = self.half_distance_m();
        let across = self.kernel.reach_m(0.5) / self.ellipse.distance_m(0.0, 1.0);
        write!(f, "{family}, half at {along:.1} m along and {across:.1} m across the row")
    }
}

/// The neighbours of every site, nearest first, as one flat list.
#[derive(Clone, Debug)]
pub(crate) struct Neighbours {
    starts: Vec<usize>,
    links: Vec<Link>,
}

#[derive(Clone, Copy, Debug)]
struct Link {
    site: u32,
    along_m: f32,
    across_m: f32,
}

impl Neighbours {
    /// The nearest [`MOST_NEIGHBOURS`] of each site within `reach_m` metres.
    pub(crate) fn find(case: &Case, reach_m: f64) -> Self {
        let points: Vec<(f64, f64)> = case.sites.iter().map(|site| (site.x_m, site.y_m)).collect();
        let all = spatial::Neighbours::nearest(&points, MOST_NEIGHBOURS);
        let (mut starts, mut links) = (vec![0], Vec::new());
        for (site, from) in points.iter().enumerate() {
            for near in all.of(site) {
                if near.distance_m > reach_m {
                    break;
                }
                let to = points[near.index];
                links.push(Link {
                    site: near.index as u32,
                    along_m: (to.0 - from.0) as f32,
                    across_m: (to.1 - from.1) as f32,
                });
            }
            starts.push(links.len());
        }
        Self { starts, links }
    }

    /// Median distance to the nearest neighbour, metres; none without neighbours.
    pub(crate) fn median_spacing_m(&self) -> Option<f64> {
        let mut nearest: Vec<f64> = self
            .starts
            .windows(2)
            .filter(|span| span[0] < span[1])
            .map(|span| self.links[span[0]].distance_m())
            .filter(|distance_m| *distance_m > 0.0)
            .collect();
        nearest.sort_by(f64::total_cmp);
        nearest.get(nearest.len() / 2).copied()
    }

    /// The kernel's weight of each link worth counting.
    pub(crate) fn weigh(&self, spread: &Spread) -> Weights {
        let mut weights = Weights::with_room(self.starts.len() - 1, self.links.len());
        let weigh = |link: &Link| {
            let weight = spread.weight(f64::from(link.along_m), f64::from(link.across_m));
            (link.site as usize, weight)
        };
        for span in self.starts.windows(2) {
            weights.push(self.links[span[0]..span[1]].iter().map(weigh));
        }
        weights
    }
}

impl Link {
    fn distance_m(&self) -> f64 {
        let (x, y) = (f64::from(self.along_m), f64::from(self.across_m));
        (x * x + y * y).sqrt()
    }
}

/// Kernel weights of the sites around each site, or around any other spots.
#[derive(Clone, Debug)]
pub(crate) struct Weights {
    starts: Vec<usize>,
    links: Vec<(u32, f32)>,
}

impl Weights {
    /// Of nothing yet, with room for so many sites or spots and so many weights.
    pub(crate) fn with_room(count: usize, weights: usize) -> Self {
        let mut starts = Vec::with_capacity(count + 1);
        starts.push(0);
        Self { starts, links: Vec::with_capacity(weights) }
    }

    /// Takes in the next site or spot with the weights around it; those that are not worth
    /// counting are left out.
    pub(crate) fn push(&mut self, around: impl Iterator<Item = (usize, f64)>) {
        let worth = around.filter(|(_, weight)| *weight >= NEGLIGIBLE);
        self.links.extend(worth.map(|(site, weight)| (site as u32, weight as f32)));
        self.starts.push(self.links.len());
    }

    /// How many sites or spots there are.
    pub(crate) fn len(&self) -> usize {
        self.starts.len() - 1
    }

    /// The neighbours of a site or spot with their weight.
    pub(crate) fn of(&self, site: usize) -> impl Iterator<Item = (usize, f64)> {
        self.links[self.starts[site]..self.starts[site + 1]]
            .iter()
            .map(|&(site, weight)| (site as usize, f64::from(weight)))
    }

    /// Sums over neighbours of a table with `width` numbers for each site, weighted by the kernel
    /// and by how far each neighbour tells.
    ///
    /// In single precision: no kernel is known to seven digits.
    pub(crate) fn sums(&self, table: &[f32], width: usize, tells: &[f64]) -> Vec<f32> {
        let mut sums = vec![0.0; table.len()];
        for (site, sum) in sums.chunks_exact_mut(width).enumerate() {
            for (neighbour, weight) in self.of(site) {
                let weight = (weight * tells[neighbour]) as f32;
                if weight < TELLS_NOTHING {
                    continue;
                }
                let values = &table[neighbour * width..(neighbour + 1) * width];
                for (total, value) in sum.iter_mut().zip(values) {
                    *total += weight * value;
                }
            }
        }
        sums
    }
}

/// The relative risk at one place in one round: gamma distributed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct RelativeRisk {
    /// Mean, 1 at the plot's level.
    pub(crate) mean: f64,
    /// Gamma shape: how much the neighbours told.
    pub(crate) shape: f64,
}

impl RelativeRisk {
    /// From weighted events and exposures, with a prior of mean 1 and shape `prior_shape` (> 0).
    pub(crate) fn seen(events: f64, exposure: f64, prior_shape: f64) -> Self {
        let shape = prior_shape + events;
        Self { mean: shape / (prior_shape + exposure), shape }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn without_witnesses_the_risk_is_the_plots_own() {
        let risk = RelativeRisk::seen(0.0, 0.0, 2.0);
        assert_eq!(risk, RelativeRisk { mean: 1.0, shape: 2.0 });
    }

    #[test]
    fn clean_witnesses_lower_the_risk_and_sick_ones_raise_it() {
        assert!(RelativeRisk::seen(0.0, 3.0, 1.0).mean < 0.3);
        assert!(RelativeRisk::seen(3.0, 1.0, 1.0).mean > 1.9);
    }
}
