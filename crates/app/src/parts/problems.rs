//! What is wrong with files: file, line, column, what was found, what was expected.

use language::say;
use leptos::prelude::*;
use plot::{Problem, Weight};

use crate::state::app;

/// Problems listed one by one on a screen; the rest are counted.
const SHOWN: usize = 200;

/// A table of problems.
#[component]
pub fn ProblemList(
    /// What to list.
    problems: Vec<Problem>,
) -> impl IntoView {
    let more = problems.len().saturating_sub(SHOWN);
    let line = |problem: Problem| {
        let (class, word) = match problem.weight {
            Weight::Fault => ("fault", say!("fault")),
            Weight::Notice => ("notice", say!("notice")),
        };
        view! {
            <tr>
                <td><span class=class>{word}</span></td>
                <td>{problem.file}</td>
                <td class="number">{problem.line.map(|line| line.to_string())}</td>
                <td>{problem.column}</td>
                <td>{problem.found}</td>
                <td>{problem.expected}</td>
            </tr>
        }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=say!("What was found in the files")>
            <table class="problems">
                <thead>
                    <tr>
                        <th scope="col">{say!("Weight")}</th>
                        <th scope="col">{say!("File")}</th>
                        <th scope="col" class="number">{say!("Line")}</th>
                        <th scope="col">{say!("Column")}</th>
                        <th scope="col">{say!("Found")}</th>
                        <th scope="col">{say!("Expected")}</th>
                    </tr>
                </thead>
                <tbody>{problems.into_iter().take(SHOWN).map(line).collect_view()}</tbody>
            </table>
        </div>
        {(more > 0).then(|| view! { <p>{say!("and {more} more")}</p> })}
    }
}

/// What was chosen last and could not be opened.
#[component]
pub fn RefusedPlot() -> impl IntoView {
    let app = app();
    move || {
        app.refused.get().map(|refused| {
            let kept = match app.is_open() {
                true => say!("Nothing was changed: the plot that was open is still open."),
                false => say!("Nothing was changed."),
            };
            view! {
                <section class="refused" role="alert">
                    <h2>{say!("{name} could not be opened", name = refused.name)}</h2>
                    <p>{kept} {say!(" Mend the file in a text editor or a sheet, and open it again.")}</p>
                    <ProblemList problems=refused.problems />
                    <button class="button" on:click=move |_| app.refused.set(None)>{say!("Put away")}</button>
                </section>
            }
        })
    }
}
