//! The card of each tree, shown when its address is the page's.

use std::fmt::Write as _;

use language::say;
use plot::{Code, Plot, Role, Status, TreeIx};
use proof::Report;
use scene::{escaped, words};

use super::ReadingCopy;
use super::rounds::Rounds;
use crate::report::place;

/// Where a card is.
pub(super) fn address(tree: TreeIx) -> String {
    format!("#t{}", tree.get())
}

/// All cards. Large plots have many, so each says no more than it must.
pub(super) fn cards(out: &mut String, asked: &ReadingCopy<'_>, rounds: &Rounds) {
    let plot = asked.plot;
    let of: Vec<(&Report, String)> = asked
        .reports
        .iter()
        .map(|it| (it, plot::capital(&words::disease(plot, &it.disease))))
        .collect();
    for (ix, tree) in plot.trees_ix() {
        // Writing to a string cannot fail.
        let _ = write!(
            out,
            "<section id=\"t{}\"><a href=\"#shut\">{}</a><h3>{}</h3>\n<p>{}</p>\n",
            ix.get(),
            say!("Close"),
            escaped(&tree.name()),
            escaped(&facts(plot, ix)),
        );
        let verdicts: Vec<String> =
            of.iter().filter_map(|(report, name)| verdict(report, name, ix)).collect();
        if !verdicts.is_empty() {
            let _ = writeln!(out, "<p>{}</p>", escaped(&verdicts.join(" ")));
        }
        rounds.history(out, plot, ix);
        let decision = plot.decisions().standing(tree.id()).map(words::decision);
        for words in decision.iter().map(String::as_str).chain(tree.draft().note.as_deref()) {
            let _ = writeln!(out, "<p>{}</p>", escaped(words));
        }
        out.push_str("</section>\n");
    }
}

/// Place, code, descent, what it is there for and whether it stands.
fn facts(plot: &Plot, ix: TreeIx) -> String {
    let tree = plot.tree(ix);
    let place = Some(place(tree)).filter(|place| !place.is_empty());
    let on =
        tree.carrier().map(|carrier| say!("grafted on {tree}", tree = plot.tree(carrier).name()));
    let code = Code::of(tree.id()).map(|code| code.to_string());
    let role = (tree.role() != Role::Seedling).then(|| words::role(tree.role()).to_owned());
    let gone = (tree.status() != Status::Alive).then(|| words::standing(tree.status()).to_owned());
    let parts = [place, on, code, tree.parentage(), role, gone];
    plot::capital(&parts.into_iter().flatten().collect::<Vec<_>>().join(" · "))
}

/// `Scab: untested, luck 62 % (35 % to 88 %).`; none where it was not scored.
fn verdict(report: &Report, name: &str, ix: TreeIx) -> Option<String> {
    let judgement = &report.tree(ix)?.judgement;
    let verdict = words::verdict(judgement.verdict);
    Some(match words::luck(judgement) {
        Some(luck) => say!("{name}: {verdict}, luck {luck}."),
        None => format!("{name}: {verdict}."),
    })
}
