//! Inoculum that comes from no tree of the plot: where it lands and when.

use plot::Spot;

use crate::Span;
use crate::draw::Draw;

/// Primary inoculum.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Primary {
    /// Infections that a typical susceptible tree takes from it in a season of strength 1, mean
    /// over the plot.
    pub amount: f64,
    /// Days in which it flies, most in the middle.
    pub flies: Span,
    /// Where it lands.
    pub pattern: Pattern,
    /// Share of the pattern that is the same in every season, 0 to 1.
    pub lasting: f64,
}

/// Where primary inoculum lands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pattern {
    /// Everywhere the same.
    Even,
    /// A smooth random field: `exp(sd × Gaussian field)`.
    Patchy {
        /// Standard deviation of the logarithm.
        sd: f64,
        /// Metres over which places resemble each other.
        length_m: f64,
    },
    /// A few places (litter heaps, an old tree), thinning out around each.
    Foci {
        /// How many.
        count: u32,
        /// Metres in which a focus thins out to a third.
        length_m: f64,
    },
    /// A source beyond one edge, thinning out into the plot.
    Edge {
        /// Whither it drifts: degrees from the row's direction towards its left.
        to_deg: f64,
        /// Metres in which it thins out to a third.
        length_m: f64,
    },
}

/// Waves that make up a smooth random field.
const WAVES: usize = 48;

impl Primary {
    /// Relative amount at each spot for each season, mean 1 over the spots of a season.
    pub(crate) fn landing(&self, spots: &[Spot], seasons: usize, draw: &mut Draw) -> Vec<Vec<f64>> {
        let lasting = self.pattern.once(spots, draw);
        (0..seasons)
            .map(|_| {
                let own = self.pattern.once(spots, draw);
                let mix = |(a, b): (&f64, &f64)| self.lasting * a + (1.0 - self.lasting) * b;
                to_mean_one(lasting.iter().zip(&own).map(mix).collect())
            })
            .collect()
    }

    /// Share of the season's amount that flies on each day of `active`: a triangle over `flies`.
    pub(crate) fn on_day(&self, day: i32) -> f64 {
        let (first, end) = (f64::from(self.flies.first), f64::from(self.flies.end));
        let half = (end - first) / 2.0;
        let from_middle = ((f64::from(day) + 0.5) - (first + half)).abs();
        ((half - from_middle) / (half * half)).max(0.0)
    }
}

impl Pattern {
    fn once(&self, spots: &[Spot], draw: &mut Draw) -> Vec<f64> {
        let amounts = match *self {
            Self::Even => vec![1.0; spots.len()],
            Self::Patchy { sd, length_m } => {
                // A Gaussian field by random waves; its covariance is exp(-d²/(2 length²))
                // (Rahimi & Recht 2007).
                let waves: Vec<[f64; 3]> = (0..WAVES)
                    .map(|_| {
                        let phase = std::f64::consts::TAU * draw.unit();
                        [draw.normal() / length_m, draw.normal() / length_m, phase]
                    })
                    .collect();
                let scale = sd * libm::sqrt(2.0 / WAVES as f64);
                let height = |spot: &Spot| {
                    let wave = |w: &[f64; 3]| libm::cos(w[0] * spot.x_m + w[1] * spot.y_m + w[2]);
                    waves.iter().map(wave).sum::<f64>()
                };
                spots.iter().map(|spot| libm::exp(scale * height(spot))).collect()
            }
            Self::Foci { count, length_m } => {
                let foci: Vec<(Spot, f64)> = (0..count)
                    .filter(|_| !spots.is_empty())
                    .map(|_| (spots[draw.below(spots.len())], draw.exponential()))
                    .collect();
                let from = |spot: &Spot| {
                    let thin = |d: f64| libm::exp(-d / length_m);
                    foci.iter().map(|&(at, size)| size * thin(at.distance_m(*spot))).sum::<f64>()
                };
                spots.iter().map(|spot| 0.02 + from(spot)).collect()
            }
            Self::Edge { to_deg, length_m } => {
                let to = to_deg.to_radians();
                let along = |spot: &Spot| spot.x_m * libm::cos(to) + spot.y_m * libm::sin(to);
                let edge = spots.iter().map(along).fold(f64::INFINITY, f64::min);
                spots.iter().map(|spot| libm::exp(-(along(spot) - edge) / length_m)).collect()
            }
        };
        to_mean_one(amounts)
    }
}

fn to_mean_one(mut amounts: Vec<f64>) -> Vec<f64> {
    let mean = amounts.iter().sum::<f64>() / amounts.len().max(1) as f64;
    if mean > 0.0 {
        amounts.iter_mut().for_each(|amount| *amount /= mean);
    }
    amounts
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::For;

    #[test]
    fn what_flies_sums_to_the_season_s_amount() {
        let flies = Span { first: 5, end: 75 };
        let primary = Primary { amount: 1.0, flies, pattern: Pattern::Even, lasting: 1.0 };
        let sum: f64 = (-100..200).map(|day| primary.on_day(day)).sum();
        assert!((sum - 1.0).abs() < 1e-9, "{sum}");
        assert!(primary.on_day(40) > 5.0 * primary.on_day(7));
        assert_eq!(primary.on_day(75), 0.0);
    }

    #[test]
    fn near_places_resemble_each_other() {
        let spots: Vec<Spot> =
            (0..400).map(|n| Spot { x_m: f64::from(n) * 0.5, y_m: 0.0 }).collect();
        let pattern = Pattern::Patchy { sd: 1.0, length_m: 6.0 };
        let field = pattern.once(&spots, &mut Draw::new(3, For::Inoculum, 0));
        let step = |by: usize| -> f64 {
            let apart = |n: usize| libm::fabs(libm::log(field[n] / field[n + by]));
            (0..300).map(apart).sum::<f64>() / 300.0
        };
        assert!(step(1) < 0.2 * step(60), "{} {}", step(1), step(60));
    }

    #[test]
    fn an_edge_thins_out_inwards() {
        let spots = [Spot { x_m: 0.0, y_m: 0.0 }, Spot { x_m: 10.0, y_m: 0.0 }];
        let pattern = Pattern::Edge { to_deg: 0.0, length_m: 10.0 };
        let amounts = pattern.once(&spots, &mut Draw::new(3, For::Inoculum, 0));
        assert!((amounts[1] / amounts[0] - libm::exp(-1.0)).abs() < 1e-12);
    }
}
