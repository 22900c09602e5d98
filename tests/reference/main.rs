//! Our statistics against values that general-purpose libraries computed from the same data.
//!
//! `README.md` beside this file says which values are compared, how closely, and which cases are
//! left out and why; `data/README.md` says where the data come from.

mod data;
mod global;
mod joins;
mod local;
mod mixed;
mod positions;
mod progress;
mod regression;
mod trend;

/// Analytic values: 1e-9 relative.
const ANALYTIC: f64 = 1e-9;

/// Fails with a name where two numbers differ by more than `relative`, or 1e-12 near 0.
fn close(found: f64, expected: f64, relative: f64, what: &str) {
    let allowed = relative * expected.abs() + 1e-12;
    assert!((found - expected).abs() <= allowed, "{what}: {found}, reference {expected}");
}

/// Fails where two estimates of one p-value, from `m_found` and `m_expected` permutations, differ
/// by more than four standard errors.
fn close_permutation(found: f64, m_found: f64, expected: f64, m_expected: f64, what: &str) {
    let spread = (expected * (1.0 - expected)).max(1.0 / m_expected);
    let allowed = 4.0 * (spread * (1.0 / m_found + 1.0 / m_expected)).sqrt();
    assert!((found - expected).abs() <= allowed, "{what}: p {found}, reference {expected}");
}
