//! What tests of this crate share: dense algebra by plain elimination.

/// Logarithm of the determinant of a positive definite matrix.
pub(crate) fn log_determinant(mut full: Vec<Vec<f64>>) -> f64 {
    let mut log = 0.0;
    for k in 0..full.len() {
        let pivot = full[k].clone();
        log += pivot[k].ln();
        for row in full.iter_mut().skip(k + 1) {
            let share = row[k] / pivot[k];
            row.iter_mut().zip(&pivot).for_each(|(entry, above)| *entry -= share * above);
        }
    }
    log
}
