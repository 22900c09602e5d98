//! An order of elimination that keeps a sparse factor sparse: least degree first.

use std::collections::BTreeSet;

/// The order in which to eliminate `n` unknowns that `links` join (pairs, either way round; a link
/// to itself is passed over): always the one with the fewest neighbours left, ties by number. None
/// where a factor in that order would take more than so many products.
pub(crate) fn least_degree(n: usize, links: &[(u32, u32)], most: f64) -> Option<Vec<usize>> {
    let mut around: Vec<Vec<u32>> = vec![Vec::new(); n];
    for &(i, j) in links.iter().filter(|(i, j)| i != j) {
        around[i as usize].push(j);
        around[j as usize].push(i);
    }
    for list in &mut around {
        list.sort_unstable();
        list.dedup();
    }
    let mut queue: BTreeSet<(usize, u32)> =
        around.iter().enumerate().map(|(at, list)| (list.len(), at as u32)).collect();
    let mut order = Vec::with_capacity(n);
    let mut products = 0.0;
    while let Some((degree, at)) = queue.pop_first() {
        order.push(at as usize);
        let left = degree as f64;
        products += left * left / 2.0;
        if degree == queue.len() {
            products += left * left * left / 6.0;
        }
        if products > most {
            return None;
        }
        if degree == queue.len() {
            // All that are left are joined to each other.
            order.extend(queue.iter().map(|&(_, at)| at as usize));
            break;
        }
        let clique = std::mem::take(&mut around[at as usize]);
        for &of in &clique {
            let own = std::mem::take(&mut around[of as usize]);
            queue.remove(&(own.len(), of));
            let joined = united(&own, &clique, at, of);
            queue.insert((joined.len(), of));
            around[of as usize] = joined;
        }
    }
    Some(order)
}

/// Two sorted lists as one, without two of their numbers.
fn united(a: &[u32], b: &[u32], without: u32, nor: u32) -> Vec<u32> {
    let mut out = Vec::with_capacity(a.len() + b.len());
    let (mut at, mut of) = (0, 0);
    while at < a.len() || of < b.len() {
        let next = match (a.get(at), b.get(of)) {
            (Some(one), Some(other)) if one == other => {
                (at, of) = (at + 1, of + 1);
                *one
            }
            (Some(one), other) if other.is_none_or(|other| one < other) => {
                at += 1;
                *one
            }
            (_, Some(other)) => {
                of += 1;
                *other
            }
            _ => unreachable!("one of the two has a next number"),
        };
        if next != without && next != nor {
            out.push(next);
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_of_a_star_goes_among_the_last_two() {
        let star: Vec<(u32, u32)> = (1..9).map(|leaf| (0, leaf)).collect();
        let order = least_degree(9, &star, 1e9).expect("an order");
        assert_eq!(order.len(), 9);
        assert!(order.iter().position(|&at| at == 0) >= Some(7), "{order:?}");
    }

    #[test]
    fn what_would_take_too_long_is_given_up() {
        let all: Vec<(u32, u32)> = (0..40).flat_map(|i| (0..i).map(move |j| (i, j))).collect();
        // 40³/6 products, all in all.
        assert!(least_degree(40, &all, 12_000.0).is_some());
        assert_eq!(least_degree(40, &all, 9_000.0), None);
    }

    #[test]
    fn each_unknown_is_eliminated_once() {
        let ring: Vec<(u32, u32)> = (0..50).map(|at| (at, (at * 7 + 1) % 50)).collect();
        let mut order = least_degree(50, &ring, 1e9).expect("an order");
        order.sort_unstable();
        assert_eq!(order, (0..50).collect::<Vec<_>>());
    }
}
