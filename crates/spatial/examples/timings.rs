//! Times the heavy statistics on a table of points given as bytes, so that `tests/bench` can set
//! them beside other libraries in one run.
//!
//! Arguments: a file of little-endian 64-bit floats (x, y, value of each point in turn), k, the
//! number of permutations, how often to repeat, and the tasks. Answer: JSON, the least seconds of
//! processor time of each task and a number that came of it, so that nothing is left out unseen.

use cpu_time::ProcessTime;
use spatial::{Neighbours, Weights, gi_star, local_moran_permutation, moran_permutation};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let [file, k, permutations, repeats, tasks @ ..] = arguments.as_slice() else {
        return Err("expected FILE K PERMUTATIONS REPEATS TASK…".into());
    };
    let (k, permutations, repeats): (usize, usize, usize) =
        (k.parse()?, permutations.parse()?, repeats.parse()?);
    let bytes = std::fs::read(file)?;
    let numbers: Vec<f64> = bytes
        .chunks_exact(8)
        .filter_map(|chunk| Some(f64::from_le_bytes(chunk.try_into().ok()?)))
        .collect();
    let points: Vec<(f64, f64)> =
        numbers.chunks_exact(3).map(|point| (point[0], point[1])).collect();
    let values: Vec<f64> = numbers.chunks_exact(3).map(|point| point[2]).collect();
    let weights = Weights::nearest(&points, k).row_standardised();
    let mut out = serde_json::Map::new();
    for task in tasks {
        let mut least = f64::INFINITY;
        let mut result = 0.0;
        for _ in 0..repeats {
            let start = ProcessTime::now();
            result = match task.as_str() {
                "neighbours" => {
                    Neighbours::nearest(&points, k).of(0).map(|near| near.distance_m).sum()
                }
                "moran" => moran_permutation(&weights, &values, permutations, 1)?.p_greater,
                "local_moran" => local_moran_permutation(&weights, &values, permutations, 1)?
                    .iter()
                    .flatten()
                    .map(|test| test.p_greater)
                    .sum(),
                "gi_star" => gi_star(&weights, &values)?
                    .iter()
                    .filter_map(|site| site.test)
                    .map(|test| test.z)
                    .sum(),
                other => return Err(format!("no task {other}").into()),
            };
            least = least.min(start.elapsed().as_secs_f64());
        }
        out.insert(task.clone(), serde_json::json!({ "seconds": least, "result": result }));
    }
    serde_json::to_writer(std::io::stdout(), &out)?;
    Ok(())
}
