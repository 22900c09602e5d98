//! Neighbours on a lattice of rows and places.

use std::collections::BTreeMap;

use crate::{Undefined, Weights};

/// Which places of a lattice touch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Contiguity {
    /// The four that share a side: before and after in the row, and opposite in the next rows.
    Rook,
    /// The eight that share a side or a corner.
    Queen,
}

/// Weight 1 between points whose places `(row, place)` touch. Places without a point are gaps:
/// nobody's neighbour, and no bridge.
///
/// # Errors
/// [`Undefined::SharedPlace`] where two points have the same row and place.
pub fn lattice(places: &[(i64, i64)], contiguity: Contiguity) -> Result<Weights, Undefined> {
    let mut at = BTreeMap::new();
    for (second, &place) in places.iter().enumerate() {
        if let Some(first) = at.insert(place, second) {
            return Err(Undefined::SharedPlace { first, second });
        }
    }
    let mut pairs = Vec::new();
    for (from, &(row, place)) in places.iter().enumerate() {
        for (down, along) in steps(contiguity) {
            let (Some(row), Some(place)) = (row.checked_add(down), place.checked_add(along)) else {
                continue;
            };
            if let Some(&to) = at.get(&(row, place)) {
                pairs.push((from, to, 1.0));
            }
        }
    }
    Ok(Weights::from_pairs(places.len(), &pairs).expect("each pair of places is met once"))
}

fn steps(contiguity: Contiguity) -> impl Iterator<Item = (i64, i64)> {
    (-1..=1).flat_map(|down| (-1..=1).map(move |along| (down, along))).filter(
        move |&(down, along): &(i64, i64)| match contiguity {
            Contiguity::Rook => down.abs() + along.abs() == 1,
            Contiguity::Queen => (down, along) != (0, 0),
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rook_and_queen_around_a_gap() {
        // Rows of three with the middle of the second row missing.
        let places = [(1, 1), (1, 2), (1, 3), (2, 1), (2, 3), (3, 1), (3, 2), (3, 3)];
        let check = |contiguity, point: usize, expected: &[usize]| {
            let weights = lattice(&places, contiguity).expect("no shared place");
            assert_eq!(weights.of(point).map(|(to, _)| to).collect::<Vec<_>>(), expected);
        };
        check(Contiguity::Rook, 0, &[1, 3]);
        check(Contiguity::Rook, 1, &[0, 2]);
        check(Contiguity::Queen, 1, &[0, 2, 3, 4]);
        check(Contiguity::Queen, 3, &[0, 1, 5, 6]);
    }

    #[test]
    fn a_shared_place_is_refused() {
        assert_eq!(
            lattice(&[(1, 1), (2, 1), (1, 1)], Contiguity::Rook),
            Err(Undefined::SharedPlace { first: 0, second: 2 })
        );
        let far = lattice(&[(i64::MAX, i64::MIN)], Contiguity::Queen).expect("one point");
        assert_eq!(far.links(), 0);
    }
}
