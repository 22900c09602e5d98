//! How long a season takes to adjust, by trend and by size of the field.

#[path = "../tests/made/mod.rs"]
mod made;

use std::time::Instant;

use made::{Field, Made};
use vigour::{Trend, adjust};

#[allow(clippy::print_stdout, reason = "times are the answer")]
fn main() {
    let patchy = Field { patch_sd: 2.0, rho_across: 0.6, rho_along: 0.9, ..Field::EMPTY };
    for (rows, places, genotypes) in
        [(10, 120, 0), (10, 120, 300), (20, 400, 0), (50, 400, 0), (50, 400, 5000)]
    {
        let field = Field { rows, places, genotypes, genotype_sd: 1.0, crosses: 12, ..patchy };
        let made = Made::new(&field, 1);
        for &trend in Trend::ALL {
            let start = Instant::now();
            let found = adjust(&made.stands, Some(trend));
            let taken = found.trend.map_or("nothing", Trend::as_str);
            let trees = made.stands.len();
            let seconds = start.elapsed().as_secs_f64();
            println!(
                "{trees} trees, {genotypes} genotypes, {}: {taken}, {seconds:.2} s",
                trend.as_str()
            );
        }
    }
}
