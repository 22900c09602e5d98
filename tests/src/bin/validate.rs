//! Validates proof on made-up plots.
#![allow(clippy::print_stdout, reason = "speaks to the console")]
use crossing::validation::trial;
use epidemic::{Kind, measure};
use std::sync::atomic::{AtomicUsize, Ordering};
fn main() {
    let n: u64 = std::env::args().nth(1).and_then(|n| n.parse().ok()).unwrap_or(4);
    let jobs: Vec<(Kind, u64)> =
        Kind::ALL.iter().flat_map(|&k| (1..=n).map(move |s| (k, s))).collect();
    let next = AtomicUsize::new(0);
    let out = std::sync::Mutex::new(Vec::new());
    std::thread::scope(|s| {
        for _ in 0..2 {
            s.spawn(|| {
                loop {
                    let at = next.fetch_add(1, Ordering::Relaxed);
                    let Some(&(k, seed)) = jobs.get(at) else { break };
                    let t0 = std::time::Instant::now();
                    let trial = trial::run(k, seed, &proof::Options::default()).expect("trial");
                    out.lock().unwrap().push((at, t0.elapsed().as_secs_f64(), trial));
                }
            });
        }
    });
    let mut out = out.into_inner().unwrap();
    out.sort_by_key(|o| o.0);
    println!(
        "kind n clean auc oracle naive calib proven wrong oracleproven found cover sec limits"
    );
    for k in Kind::ALL {
        let of: Vec<_> = out.iter().filter(|o| o.2.kind == *k).collect();
        let auc = |f: &dyn Fn(&trial::Clean) -> f64| {
            let a: Vec<f64> = of
                .iter()
                .filter_map(|o| {
                    measure::auc(&o.2.clean.iter().map(|c| (f(c), c.resistant)).collect::<Vec<_>>())
                })
                .collect();
            if a.is_empty() { f64::NAN } else { a.iter().sum::<f64>() / a.len() as f64 }
        };
        let all: Vec<_> = of.iter().flat_map(|o| &o.2.clean).collect();
        let proven: Vec<_> = all.iter().filter(|c| c.luck <= 0.05).collect();
        let op: Vec<_> = all.iter().filter(|c| c.oracle <= 0.05).collect();
        let cal = measure::calibration_error(&measure::calibration(
            &all.iter().map(|c| (c.luck, !c.resistant)).collect::<Vec<_>>(),
            10,
        ));
        let cover = all
            .iter()
            .filter(|c| c.interval.is_some_and(|i| i.0 <= c.oracle && c.oracle <= i.1))
            .count() as f64
            / all.iter().filter(|c| c.interval.is_some()).count() as f64;
        let mut lim: Vec<&str> =
            of.iter().flat_map(|o| &o.2.limits).map(|s| s.split(' ').next().unwrap()).collect();
        lim.sort();
        lim.dedup();
        println!(
            "{} {} {} {:.3} {:.3} {:.3} {:.3} {} {} {} {} {:.2} {:.2} {}",
            k.as_str(),
            of.len(),
            all.len(),
            auc(&|c| 1.0 - c.luck),
            auc(&|c| 1.0 - c.oracle),
            auc(&|c| c.naive),
            cal,
            proven.len(),
            proven.iter().filter(|c| !c.resistant).count(),
            op.len(),
            op.iter().filter(|c| c.luck <= 0.05).count(),
            cover,
            of.iter().map(|o| o.1).sum::<f64>() / of.len() as f64,
            lim.join(",")
        );
    }
}
