//! Vigour in the judge's worker: one model after another, then how each disease goes with it.

use vigour::Run;

use judge::{FromJudge, Growing, Grown, breathe, link};

use crate::{is_asked, open, with_plot};

/// None: something newer was asked.
pub(super) async fn answer(nth: u64, growing: Growing, version: u64) -> Option<FromJudge> {
    open(nth).await?;
    let Some(mut run) = with_plot(|plot| Run::new(plot, growing.trait_ix, growing.trend)) else {
        return Some(FromJudge::Grown { growing, version, found: None });
    };
    loop {
        let progress = run.step();
        if progress.is_done() {
            break;
        }
        let (done, of) = (progress.done as u64, progress.of as u64);
        link::tell_page(&FromJudge::Grows { growing, done, of });
        breathe().await;
        if !is_asked(nth) {
            return None;
        }
    }
    let vigour = run.finish();
    let links = with_plot(|plot| {
        let link =
            |disease: &str| (disease.to_owned(), vigour::link(plot, growing.trait_ix, disease));
        plot.diseases().into_iter().map(link).collect()
    });
    let found = links.map(|links| Box::new(Grown { vigour, links }));
    Some(FromJudge::Grown { growing, version, found })
}
