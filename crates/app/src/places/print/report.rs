//! The report as it is read on the screen and on paper.

use leptos::prelude::*;
use paper::{Block, Document, Table};

use super::desk::Desk;
use super::pages::Sheet;

/// A report, block by block.
#[component]
pub(super) fn ReportOnPaper(document: Document, desk: Desk) -> impl IntoView {
    let class = desk.wish.with_untracked(super::choice::paper_class);
    view! {
        <article class=format!("paper-report {class}")>
            <h2 class="paper-title">{document.title}</h2>
            {document.blocks.into_iter().map(block).collect_view()}
        </article>
    }
}

fn block(block: Block) -> AnyView {
    match block {
        Block::Heading(3.., words) => view! { <h4>{words}</h4> }.into_any(),
        Block::Heading(_, words) => view! { <h3>{words}</h3> }.into_any(),
        Block::Paragraph(words) => view! { <p>{words}</p> }.into_any(),
        Block::Note(words) => view! { <p class="paper-note">{words}</p> }.into_any(),
        Block::List(lines) => {
            let lines = lines.into_iter().map(|line| view! { <li>{line}</li> }).collect_view();
            view! { <ul>{lines}</ul> }.into_any()
        }
        Block::Table(table) => self::table(table),
        Block::Figure { svg, caption } => {
            let sheet = Sheet::of(&svg);
            let address = sheet.as_ref().map(Sheet::address);
            StoredValue::new(sheet);
            let alt = caption.clone();
            view! { <figure><img src=address alt=alt /><figcaption>{caption}</figcaption></figure> }
                .into_any()
        }
    }
}

fn table(table: Table) -> AnyView {
    let Table { caption, columns, rows } = table;
    let is_number: Vec<bool> = columns.iter().map(|column| column.is_number).collect();
    let class = move |nth: usize| is_number.get(nth).is_some_and(|it| *it).then_some("number");
    let heads = columns.into_iter().map(|column| {
        let class = column.is_number.then_some("number");
        view! { <th scope="col" class=class>{column.head}</th> }
    });
    let row = |cells: Vec<String>| {
        let cell = |(nth, cell): (usize, String)| view! { <td class=class(nth)>{cell}</td> };
        view! { <tr>{cells.into_iter().enumerate().map(cell).collect_view()}</tr> }
    };
    let label = caption.clone();
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=label>
            <table>
                <caption>{caption}</caption>
                <thead><tr>{heads.collect_view()}</tr></thead>
                <tbody>{rows.into_iter().map(row).collect_view()}</tbody>
            </table>
        </div>
    }
    .into_any()
}
