//! Pieces of work done by several threads, told in the order in which they were asked for.

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::channel;

/// Does `work` on each piece in `jobs` threads, each holding one piece at a time. `tell` hears how
/// many are done whenever one is, and each result once all before it were told.
pub(super) fn run<T: Sync, R: Send>(
    jobs: usize,
    pieces: &[T],
    work: impl Fn(&T) -> R + Sync,
    mut tell: impl FnMut(usize, Option<R>),
) {
    let next = AtomicUsize::new(0);
    let (sender, receiver) = channel();
    std::thread::scope(|scope| {
        for _ in 0..jobs.min(pieces.len()) {
            let (sender, next, work) = (sender.clone(), &next, &work);
            scope.spawn(move || {
                while let nth = next.fetch_add(1, Ordering::Relaxed)
                    && let Some(piece) = pieces.get(nth)
                    && sender.send((nth, work(piece))).is_ok()
                {}
            });
        }
        drop(sender);
        let (mut waiting, mut told) = (BTreeMap::new(), 0);
        for (done, (nth, result)) in (1..).zip(receiver) {
            waiting.insert(nth, result);
            tell(done, None);
            while let Some(result) = waiting.remove(&told) {
                told += 1;
                tell(done, Some(result));
            }
        }
    });
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_are_told_in_order_whoever_is_first() {
        for jobs in [1, 3, 50] {
            let pieces: Vec<u64> = (0..20).collect();
            // The first ones take longest.
            let work = |&piece: &u64| {
                std::thread::sleep(std::time::Duration::from_millis(20 - piece));
                piece * 2
            };
            let (mut told, mut most) = (Vec::new(), 0);
            run(jobs, &pieces, work, |done, result| {
                most = done;
                told.extend(result);
            });
            assert_eq!(told, (0..20).map(|piece| piece * 2).collect::<Vec<u64>>());
            assert_eq!(most, 20);
        }
        run(2, &[] as &[u64], |_| 0, |_, _: Option<u64>| panic!("nothing to tell"));
    }
}
