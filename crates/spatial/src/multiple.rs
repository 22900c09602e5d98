//! Many tests at once: control of the false discovery rate.

/// p-values adjusted after Benjamini & Hochberg 1995 (*Journal of the Royal Statistical Society* B
/// 57:289): in the order given, calling those at most q discoveries keeps the expected share of
/// false ones at most q, for independent or positively dependent tests.
///
/// `p*_(i) = min over j ≥ i of (m / j) p_(j)`, at most 1, (i) counting from the smallest. Every p is
/// within 0 to 1; none in, none out.
pub fn benjamini_hochberg(p: &[f64]) -> Vec<f64> {
    adjusted(p, 1.0)
}

/// p-values adjusted after Benjamini & Yekutieli 2001 (*Annals of Statistics* 29:1165): as
/// [`benjamini_hochberg`] times Σ_{k ≤ m} 1/k, valid for any dependence between the tests.
pub fn benjamini_yekutieli(p: &[f64]) -> Vec<f64> {
    adjusted(p, (1..=p.len()).map(|k| 1.0 / k as f64).sum())
}

fn adjusted(p: &[f64], factor: f64) -> Vec<f64> {
    let mut order: Vec<usize> = (0..p.len()).collect();
    order.sort_by(|&a, &b| p[b].total_cmp(&p[a]));
    let m = p.len() as f64;
    let mut least = 1.0f64;
    let mut out = vec![0.0; p.len()];
    for (from_largest, &at) in order.iter().enumerate() {
        let rank = m - from_largest as f64;
        least = least.min(factor * m / rank * p[at]);
        out[at] = least;
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn in_the_order_given() {
        // By hand: 0.04 × 3/3, 0.01 × 3/1, 0.03 × 3/2 capped by 0.04.
        let adjusted = benjamini_hochberg(&[0.04, 0.01, 0.03]);
        assert_eq!(adjusted, [0.04, 0.03, 0.04]);
        let cautious = benjamini_yekutieli(&[0.04, 0.01, 0.03]);
        assert!((cautious[1] - 0.03 * 11.0 / 6.0).abs() < 1e-15);
        assert!(benjamini_hochberg(&[]).is_empty());
        assert_eq!(benjamini_yekutieli(&[1.0, 1.0]), [1.0, 1.0]);
    }
}
