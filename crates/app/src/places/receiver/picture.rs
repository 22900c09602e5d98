//! The picture of the fit: a line from each place to where it was measured.

use files::list::Survey;
use language::say;
use leptos::prelude::*;
use scene::{MeasuredPlace, Theme, svg_measured};

use super::of_survey;
use super::state::Receiver;
use crate::parts::lean::{changing, said};
use crate::places::map::dark::theme;

/// What is off, as a picture in the colours that are worn.
pub(super) fn picture(receiver: Receiver) -> AnyView {
    let theme = theme(receiver.app);
    changing(move || {
        let theme = theme.get();
        of_survey(receiver, |survey| drawn(receiver, survey, theme)).flatten().into_any()
    })
}

fn drawn(receiver: Receiver, survey: &Survey, theme: Theme) -> Option<AnyView> {
    let fit = survey.fit.as_ref().ok()?;
    let places: Vec<MeasuredPlace> = { survey.points.iter() }
        .filter_map(|point| {
            let (row, plan, is_suspicious) = (point.row, point.plan, point.is_suspicious);
            Some(MeasuredPlace { row, plan, off: point.off?, is_suspicious })
        })
        .collect();
    let layout = receiver.app.plot_now(|plot| plot.head().layout)?;
    let width = window().inner_width().ok().and_then(|width| width.as_f64()).unwrap_or(390.0);
    let width = (width - 34.0).clamp(280.0, 640.0);
    let picture = svg_measured(&places, &layout, survey.left_over_m()?, theme, width);
    let text: String = js_sys::encode_uri_component(&picture.svg).into();
    let words = match picture.times {
        1 => say!(
            "From each place of the plan a line leads to where it was measured, as long as they \
             are; long ones are cut off. A box is around what is far off."
        )
        .to_owned(),
        times => say!(
            "From each place of the plan a line leads to where it was measured, {times} times \
             longer than they are; long ones are cut off. A box is around what is far off."
        ),
    };
    let stand = match fit.converged {
        true => "",
        false => say!("The fit did not come to a stand."),
    };
    Some(
        view! {
            <figure class="receiver-picture">
                <div class="scroll" tabindex="0" role="region" aria-label=say!("Picture of the fit")>
                    <img src=format!("data:image/svg+xml,{text}")
                        alt=say!("Each place with a line to where it was measured; the table below says the same in words") />
                </div>
                <figcaption class="hint">{words}</figcaption>
            </figure>
            {said("p", "hint", stand)}
        }
        .into_any(),
    )
}
