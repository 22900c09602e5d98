//! Fields of trees with a known trend, drawn by seed.

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;
use vigour::Stand;

/// What a field is made of; the tree's own part has variance 1.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Field {
    pub(crate) rows: usize,
    pub(crate) places: usize,
    pub(crate) row_sd: f64,
    pub(crate) patch_sd: f64,
    pub(crate) rho_across: f64,
    pub(crate) rho_along: f64,
    pub(crate) crosses: usize,
    pub(crate) cross_sd: f64,
    /// Repeated genotypes; 0: each tree is its own.
    pub(crate) genotypes: usize,
    pub(crate) genotype_sd: f64,
    /// Share of places without a measured tree.
    pub(crate) missing: f64,
}

impl Field {
    pub(crate) const EMPTY: Self = Self {
        rows: 1,
        places: 1,
        row_sd: 0.0,
        patch_sd: 0.0,
        rho_across: 0.0,
        rho_along: 0.0,
        crosses: 4,
        cross_sd: 0.7,
        genotypes: 0,
        genotype_sd: 0.0,
        missing: 0.0,
    };
}

/// A field and its truth.
#[derive(Debug)]
pub(crate) struct Made {
    pub(crate) stands: Vec<Stand>,
    #[allow(dead_code, reason = "timings do not ask")]
    /// By tree: what its place adds, against the average of the measured trees.
    pub(crate) trend: Vec<f64>,
    #[allow(dead_code, reason = "timings do not ask")]
    /// By tree: its number without that.
    pub(crate) own: Vec<f64>,
    /// By genotype: its value in the middle of the field.
    #[allow(dead_code, reason = "not every test asks")]
    pub(crate) genotypes: Vec<f64>,
}

impl Made {
    pub(crate) fn new(field: &Field, seed: u64) -> Self {
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        let rows: Vec<f64> = (0..field.rows).map(|_| field.row_sd * normal(&mut random)).collect();
        let patches = autoregression(field, &mut random);
        let crosses: Vec<f64> =
            (0..field.crosses).map(|_| field.cross_sd * normal(&mut random)).collect();
        let of_genotype: Vec<f64> =
            (0..field.genotypes).map(|_| field.genotype_sd * normal(&mut random)).collect();
        let (mut stands, mut trend, mut own) = (Vec::new(), Vec::new(), Vec::new());
        let mut places = Vec::new();
        for row in 0..field.rows {
            for place in 0..field.places {
                if random.random::<f64>() >= field.missing {
                    places.push((row, place));
                }
            }
        }
        let mut genotypes: Vec<usize> =
            (0..places.len()).map(|nth| nth % field.genotypes.max(1)).collect();
        for nth in (1..genotypes.len()).rev() {
            genotypes.swap(nth, random.random_range(0..=nth));
        }
        for (nth, &(row, place)) in places.iter().enumerate() {
            let genotype = if field.genotypes > 0 { genotypes[nth] } else { nth };
            let cross = match field.genotypes {
                0 => random.random_range(0..field.crosses),
                _ => genotype % field.crosses,
            };
            let here = rows[row] + patches[row][place];
            let is = 20.0
                + crosses[cross]
                + of_genotype.get(genotype).unwrap_or(&0.0)
                + normal(&mut random);
            trend.push(here);
            own.push(is);
            stands.push(Stand {
                number: is + here,
                x_m: place as f64 * 0.75,
                y_m: row as f64 * 3.0,
                cell: Some((row as i32 + 1, place as i32 + 1)),
                genotype,
                cross: Some(cross),
            });
        }
        let mean = trend.iter().sum::<f64>() / trend.len() as f64;
        trend.iter_mut().for_each(|here| *here -= mean);
        own.iter_mut().for_each(|is| *is += mean);
        let in_the_middle = |(genotype, value): (usize, &f64)| {
            20.0 + mean + crosses[genotype % field.crosses] + value
        };
        let genotypes = of_genotype.iter().enumerate().map(in_the_middle).collect();
        Self { stands, trend, own, genotypes }
    }
}

/// A separable first-order autoregression.
fn autoregression(field: &Field, random: &mut ChaCha8Rng) -> Vec<Vec<f64>> {
    let step = |rho: f64| (1.0 - rho * rho).sqrt();
    let mut lines: Vec<Vec<f64>> = Vec::new();
    for row in 0..field.rows {
        let mut line: Vec<f64> = Vec::new();
        for place in 0..field.places {
            let own = normal(random);
            line.push(match place {
                0 => own,
                _ => field.rho_along * line[place - 1] + step(field.rho_along) * own,
            });
        }
        if row > 0 {
            let before = &lines[row - 1];
            line.iter_mut().zip(before).for_each(|(here, before)| {
                *here = field.rho_across * before + step(field.rho_across) * *here;
            });
        }
        lines.push(line);
    }
    lines.iter_mut().flatten().for_each(|here| *here *= field.patch_sd);
    lines
}

/// A standard normal draw (Box & Muller 1958).
fn normal(random: &mut ChaCha8Rng) -> f64 {
    let (u, v): (f64, f64) = (random.random(), random.random());
    (-2.0 * (1.0 - u).ln()).sqrt() * (std::f64::consts::TAU * v).cos()
}
