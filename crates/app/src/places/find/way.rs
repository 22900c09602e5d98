//! The way from where the person stands to a tree: metres, a point of the compass, and an arrow
//! where the device has one.

use language::{say, text};
use leptos::prelude::*;
use plot::TreeIx;
use walk::compass_point;

use super::standpoint::{Position, Standpoint, standpoint};
use crate::parts::lean::{button, changing, element, said};
use crate::state::app;
use crate::work::position::has_compass;

/// Metres as one says them of a position: whole ones from ten on.
pub fn metres(of_m: f64) -> String {
    if of_m < 10.0 { say!("{of_m:.1} m") } else { say!("{of_m:.0} m") }
}

/// The way to a tree; nothing where the plot lies nowhere.
#[component]
pub fn Way(tree: TreeIx) -> impl IntoView {
    let stand = standpoint();
    changing(move || {
        if !stand.is_on_earth() {
            return ().into_any();
        }
        match stand.position.get() {
            Position::Off => {
                button("button button-small", say!("Way from where I stand"), move || {
                    stand.follow();
                })
            }
            Position::Waiting => said("p", "hint", say!("Looking where you stand …")),
            Position::None(_) => said("p", "hint", say!("No position: see Nearest to me.")),
            Position::Read(_) => way(stand, tree),
        }
    })
}

fn way(stand: Standpoint, tree: TreeIx) -> AnyView {
    let Some(fix) = stand.fix() else { return ().into_any() };
    let Some((distance_m, bearing)) = app().plot(|plot| fix.way_to(plot, tree)) else {
        return ().into_any();
    };
    let error = metres(fix.accuracy_m);
    if distance_m <= fix.accuracy_m {
        let words =
            say!("From where you stand: within {error}, which is as near as this device can tell.");
        return said("p", "answer-way", words);
    }
    let to = compass_point(bearing);
    let words = say!(
        "From where you stand: {distance_m} to the {to}, give or take {error}.",
        distance_m = metres(distance_m)
    );
    let arrow = changing(move || match stand.heading.get() {
        Some(heading) => arrow(bearing - heading),
        None if has_compass() => {
            button("button button-small", say!("Use the compass"), move || stand.follow_compass())
        }
        None => ().into_any(),
    });
    element("div", "answer-way", vec![said("p", "", words), arrow])
}

/// An arrow that points there, and the same in a word.
fn arrow(turn_deg: f64) -> AnyView {
    const TURNS: [&str; 8] = [
        text!("straight ahead"),
        text!("ahead to the right"),
        text!("to the right"),
        text!("behind you to the right"),
        text!("behind you"),
        text!("behind you to the left"),
        text!("to the left"),
        text!("ahead to the left"),
    ];
    let turn = turn_deg.rem_euclid(360.0).round();
    let words = language::said(TURNS[(turn / 45.0).round() as usize % 8]);
    let transform = format!("rotate({turn} 12 12)");
    view! {
        <p class="answer-arrow">
            <svg viewBox="0 0 24 24" aria-hidden="true"><path d="M12 2 L19 21 L12 16 L5 21 Z" transform=transform /></svg>
            <span>{words}</span>
        </p>
    }
    .into_any()
}
