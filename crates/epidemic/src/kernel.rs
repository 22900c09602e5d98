//! How inoculum thins out with distance, and who reaches whom by how much.

use plot::Spot;

/// Weight of a source at a distance, before scaling.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kernel {
    /// `2^(-d/h)` (Kiyosawa & Shiyomi 1972).
    Exponential {
        /// Half-distance h, metres.
        half_distance_m: f64,
    },
    /// `(1 + d/c)^-b`, the modified power law (after Gregory 1968).
    PowerLaw {
        /// Scale c, metres.
        scale_m: f64,
        /// Exponent b; in the plane the tail is heavy below about 3.
        exponent: f64,
    },
    /// Exponential with one half-distance along the row and one across it.
    Elliptical {
        /// Half-distance along the row, metres.
        along_m: f64,
        /// Half-distance across the rows, metres.
        across_m: f64,
    },
    /// Exponential whose half-distance is longer with the wind than against it.
    Downwind {
        /// Half-distance with the wind, metres.
        half_distance_m: f64,
        /// Whither the wind blows: degrees from the row's direction towards its left.
        to_deg: f64,
        /// Half-distance against the wind as a share of that with it, 0 to 1.
        against: f64,
    },
}

/// A tree's own tissue and grafts on one trunk are this far apart.
const CLOSEST_M: f64 = 0.3;
/// Weights below this share of the nearest possible are left out.
const NEGLIGIBLE: f64 = 1e-4;

impl Kernel {
    /// Weight at `(dx, dy)` metres from source to target, 1 at no distance.
    pub fn weight(&self, dx_m: f64, dy_m: f64) -> f64 {
        let distance_m = (dx_m * dx_m + dy_m * dy_m).sqrt().max(CLOSEST_M);
        match *self {
            Self::Exponential { half_distance_m } => libm::exp2(-distance_m / half_distance_m),
            Self::PowerLaw { scale_m, exponent } => {
                libm::pow(1.0 + distance_m / scale_m, -exponent)
            }
            Self::Elliptical { along_m, across_m } => {
                let (u, v) = (dx_m / along_m, dy_m / across_m);
                let closest = CLOSEST_M / along_m.max(across_m);
                libm::exp2(-(u * u + v * v).sqrt().max(closest))
            }
            Self::Downwind { half_distance_m, to_deg, against } => {
                let to = to_deg.to_radians();
                let with_wind = (dx_m * libm::cos(to) + dy_m * libm::sin(to)) / distance_m;
                // An ellipse seen from its focus: half_distance_m downwind, against × it upwind.
                let eccentricity = (1.0 - against) / (1.0 + against);
                let reach = (1.0 - eccentricity) / (1.0 - eccentricity * with_wind);
                libm::exp2(-distance_m / (half_distance_m * reach))
            }
        }
    }

    /// Its lengths and other numbers that must lie above 0.
    pub(crate) fn lengths_m(&self) -> [f64; 2] {
        match *self {
            Self::Exponential { half_distance_m } => [half_distance_m; 2],
            Self::PowerLaw { scale_m, exponent } => [scale_m, exponent],
            Self::Elliptical { along_m, across_m } => [along_m, across_m],
            Self::Downwind { half_distance_m, against, .. } => [half_distance_m, against],
        }
    }

    /// Metres beyond which a weight is negligible.
    fn reach_m(&self) -> f64 {
        let halvings = -libm::log2(NEGLIGIBLE);
        match *self {
            Self::Exponential { half_distance_m } | Self::Downwind { half_distance_m, .. } => {
                half_distance_m * halvings
            }
            Self::PowerLaw { scale_m, exponent } => {
                scale_m * (libm::pow(NEGLIGIBLE, -1.0 / exponent) - 1.0)
            }
            Self::Elliptical { along_m, across_m } => along_m.max(across_m) * halvings,
        }
    }
}

/// Weights from each tree to every other within reach, scaled so that the mean over all trees of
/// the weight they receive is 1.
pub(crate) struct Reaches {
    starts: Vec<usize>,
    targets: Vec<(u32, f64)>,
}

impl Reaches {
    /// All pairs of spots where something is `there`; a tree never reaches itself. Scaled by the
    /// `first` spots alone, so that what is grafted later leaves their weights as they are.
    pub(crate) fn new(kernel: &Kernel, spots: &[Spot], there: &[bool], first: usize) -> Self {
        let reach_m = kernel.reach_m();
        let mut by_x: Vec<usize> = (0..spots.len()).filter(|&tree| there[tree]).collect();
        by_x.sort_by(|&a, &b| spots[a].x_m.total_cmp(&spots[b].x_m).then(a.cmp(&b)));
        let xs: Vec<f64> = by_x.iter().map(|&tree| spots[tree].x_m).collect();
        let mut starts = vec![0];
        let mut targets: Vec<(u32, f64)> = Vec::new();
        for (source, from) in spots.iter().enumerate() {
            let first = xs.partition_point(|&x| x < from.x_m - reach_m);
            let end = xs.partition_point(|&x| x <= from.x_m + reach_m);
            for &target in by_x[first..end].iter().filter(|_| there[source]) {
                let (dx_m, dy_m) = (spots[target].x_m - from.x_m, spots[target].y_m - from.y_m);
                if target == source || dx_m * dx_m + dy_m * dy_m > reach_m * reach_m {
                    continue;
                }
                targets.push((target as u32, kernel.weight(dx_m, dy_m)));
            }
            starts.push(targets.len());
        }
        let is_first = |&&(target, _): &&(u32, f64)| (target as usize) < first;
        let of_first = &targets[..starts[first]];
        let total: f64 = of_first.iter().filter(is_first).map(|&(_, weight)| weight).sum();
        if total > 0.0 {
            let trees = there[..first].iter().filter(|there| **there).count();
            let scale = trees as f64 / total;
            targets.iter_mut().for_each(|(_, weight)| *weight *= scale);
        }
        Self { starts, targets }
    }

    /// Whom a tree reaches.
    pub(crate) fn from(&self, source: usize) -> &[(u32, f64)] {
        &self.targets[self.starts[source]..self.starts[source + 1]]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_half_distance_halves() {
        let check = |kernel: Kernel, far: (f64, f64), expect: f64| {
            let weight = kernel.weight(far.0, far.1);
            assert!((weight - expect).abs() < 1e-12, "{kernel:?} at {far:?}: {weight}");
        };
        check(Kernel::Exponential { half_distance_m: 2.0 }, (0.0, 2.0), 0.5);
        check(Kernel::PowerLaw { scale_m: 1.0, exponent: 2.0 }, (1.0, 0.0), 0.25);
        let ellipse = Kernel::Elliptical { along_m: 3.0, across_m: 1.0 };
        check(ellipse, (3.0, 0.0), 0.5);
        check(ellipse, (0.0, 1.0), 0.5);
        let wind = Kernel::Downwind { half_distance_m: 4.0, to_deg: 90.0, against: 0.25 };
        check(wind, (0.0, 4.0), 0.5);
        check(wind, (0.0, -1.0), 0.5);
    }

    #[test]
    fn the_mean_tree_receives_one() {
        let spots: Vec<Spot> = (0..200)
            .map(|n| Spot { x_m: f64::from(n % 20), y_m: f64::from(n / 20) * 3.0 })
            .collect();
        let reaches =
            Reaches::new(&Kernel::Exponential { half_distance_m: 1.5 }, &spots, &[true; 200], 200);
        let mut received = vec![0.0; spots.len()];
        for source in 0..spots.len() {
            for &(target, weight) in reaches.from(source) {
                assert_ne!(target as usize, source);
                received[target as usize] += weight;
            }
        }
        let mean = received.iter().sum::<f64>() / received.len() as f64;
        assert!((mean - 1.0).abs() < 1e-9);
        assert!(received[0] < 0.7 * received[105], "a corner receives less than the middle");
    }
}
