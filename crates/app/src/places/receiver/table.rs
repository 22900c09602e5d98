//! Every position in words, what is far off first.

use files::list::{Point, Stands};
use language::say;
use leptos::prelude::*;

use super::of_survey;
use super::state::Receiver;
use super::words;
use crate::parts::lean::{changing, element};
use crate::places::intake::more;

/// Positions shown at first, and how many more each time.
const SHOWN: usize = 10;
const MORE: usize = 100;

/// The table.
pub(super) fn table(receiver: Receiver) -> AnyView {
    let shown = RwSignal::new(SHOWN);
    changing(move || {
        let lines = of_survey(receiver, |survey| {
            let all = survey.worst_first().into_iter().take(shown.get());
            all.map(|nth| line(receiver, &survey.points[nth])).collect::<Vec<_>>()
        });
        let of = of_survey(receiver, |survey| survey.points.len()).unwrap_or(0);
        view! {
            <div class="scroll" tabindex="0" role="region" aria-label=say!("Positions, what is far off first")>
                <table class="receiver-table">
                    <thead>
                        <tr>
                            <th scope="col">{say!("Place")}</th>
                            <th scope="col">{say!("Along the row")}</th>
                            <th scope="col">{say!("Across")}</th>
                            <th scope="col">{say!("Tree")}</th>
                            <th scope="col" class="number">{say!("Line")}</th>
                        </tr>
                    </thead>
                    {element("tbody", "", lines.unwrap_or_default())}
                </table>
            </div>
            {more(shown, MORE, of)}
        }
        .into_any()
    })
}

fn line(receiver: Receiver, point: &Point) -> AnyView {
    let stands = match &point.stands {
        Stands::Tree(id) => receiver
            .app
            .plot_now(|plot| Some(plot.tree(plot.tree_ix(id.as_str())?).name()))
            .flatten()
            .unwrap_or_default(),
        Stands::Nothing => say!("no such place in the plot").to_owned(),
        Stands::Several => say!("several trees: nobody can say which").to_owned(),
    };
    let [along, across] = words::off(point.off);
    let far = point.is_suspicious.then(|| view! { <span class="notice">{say!("far off")}</span> });
    view! {
        <tr>
            <th scope="row">{say!("Row {row}, place {place}", row = point.row, place = point.place)} " " {far}</th>
            <td>{along}</td>
            <td>{across}</td>
            <td>{stands}</td>
            <td class="number">{point.line}</td>
        </tr>
    }
    .into_any()
}
