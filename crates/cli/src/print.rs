//! `leeward print`: a plot on paper, and a copy of it to read.

mod asked;
mod pages;
mod words;

use crate::Answer;
use crate::folder::{Folder, counted};
use crate::judge::judge;
use crate::out::{must_be_free, write_file, write_folder};
pub(crate) use asked::Call;
use asked::{As, What};

/// What was made, and how it is told.
enum Made {
    /// Pages, all of one size.
    Pages(Vec<paper::Page>),
    /// A file, with its pages or trees.
    Html(String),
}

/// Prints.
///
/// # Errors
/// A folder with faults, a call that does not fit the plot or the paper, an OUT that is there
/// already or cannot be written.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    must_be_free(&call.out)?;
    call.check()?;
    let book = match call.what {
        What::Copy => Folder::whole(&call.plot)?,
        _ => Folder::sound(&call.plot)?,
    };
    let reports = match call.what {
        What::Report | What::Copy => call.diseases(book.plot())?,
        What::Map => call.disease.clone(),
        What::FieldSheets | What::Tags => Vec::new(),
    };
    let reports = reports
        .iter()
        .map(|disease| judge(book.plot(), disease, &[]))
        .collect::<anyhow::Result<Vec<_>>>()?;
    let made = match call.what {
        What::FieldSheets => Made::Pages(pages::field_sheets(call, &book)?),
        What::Tags => Made::Pages(pages::tags(call, book.plot())?),
        What::Map => Made::Pages(pages::map(call, &book, reports.first())?),
        What::Report => Made::Html(words::report(call, &book, &reports)),
        What::Copy => Made::Html(words::copy(call, &book, &reports)),
    };
    let told = match (&made, call.what) {
        (Made::Pages(pages), _) => counted(pages.len(), "page"),
        (Made::Html(_), What::Copy) => counted(book.plot().trees().len(), "tree"),
        (Made::Html(_), _) => counted(reports.len(), "disease"),
    };
    match (made, call.format) {
        (Made::Html(html), _) => write_file(&call.out, html.as_bytes())?,
        (Made::Pages(pages), As::Html) => {
            let html = paper::pages_html(&book.plot().head().name, &pages);
            write_file(&call.out, html.as_bytes())?;
        }
        (Made::Pages(pages), As::Svg) => {
            let digits = pages.len().to_string().len();
            let named = pages.into_iter().enumerate().map(|(nth, page)| {
                (format!("page-{:0digits$}.svg", nth + 1), page.svg.into_bytes())
            });
            write_folder(&call.out, &named.collect())?;
        }
    }
    eprintln!("{}: {told}", call.out.display());
    Ok(Answer::Done)
}
