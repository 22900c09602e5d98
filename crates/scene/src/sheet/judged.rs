//! Sheets of what a report found: verdict, luck, pressure.

use language::say;
use plot::{TreeIx, capital};
use proof::{Reason, TreeReport, Verdict};

use super::{Draft, Found, Sources};
use crate::breaks::Breaks;
use crate::words::{self, percent};
use crate::{Class, Kind};

/// The four verdicts; a tree of a report without a fit is neither.
pub(super) fn verdicts(sources: Sources<'_>, disease: &str) -> Draft {
    let kind = |verdict| match verdict {
        Verdict::Proven => Kind::Proven,
        Verdict::Leaning => Kind::Leaning,
        Verdict::Untested => Kind::Untested,
        Verdict::Infected => Kind::Infected,
    };
    let class = |verdict: Verdict| {
        Class::new(kind(verdict), words::verdict(verdict)).saying(words::verdict_meaning(verdict))
    };
    let mut classes: Vec<Class> = Verdict::ALL.into_iter().map(class).collect();
    classes.push(cannot_tell(sources));
    let cannot_tell = (classes.len() - 1) as u8;
    let mut draft = draft(sources, disease, say!("verdict"), classes, |line| {
        let judgement = &line.judgement;
        if judgement.verdict == Verdict::Untested && judgement.reasons.contains(&Reason::NoFit) {
            return cannot_tell;
        }
        let nth = Verdict::ALL.iter().position(|verdict| *verdict == judgement.verdict);
        nth.unwrap_or(usize::from(cannot_tell)) as u8
    });
    draft.notes.push(words::proof_is_local().to_owned());
    draft
}

/// Luck of the clean trees, the verdicts' limits among the breaks.
pub(super) fn lucks(sources: Sources<'_>, disease: &str) -> Draft {
    let limits = [Verdict::PROVEN_AT_MOST, Verdict::LEANING_AT_MOST, 0.5, 0.75];
    let mut classes = shares(&limits);
    classes.push(Class::new(Kind::Infected, say!("infected")));
    let infected = (classes.len() - 1) as u8;
    classes.push(cannot_tell(sources));
    let cannot_tell = (classes.len() - 1) as u8;
    let mut draft = draft(sources, disease, say!("luck of clean trees"), classes, |line| {
        let judgement = &line.judgement;
        match judgement.luck {
            None => infected,
            Some(_) if judgement.reasons.contains(&Reason::NoFit) => cannot_tell,
            // A luck on a limit is of the class below it: a verdict holds up to its limit.
            Some(luck) => limits.partition_point(|limit| *limit < luck.value) as u8,
        }
    });
    draft.notes.push(words::luck_meaning().to_owned());
    draft
}

/// The witness share of each scored tree, in the season when it was highest.
pub(super) fn pressures(sources: Sources<'_>, disease: &str) -> Draft {
    let breaks = Breaks::at(&[0.1, 0.25, 0.5, 0.75], 0.0, 1.0);
    let mut classes = shares(&[0.1, 0.25, 0.5, 0.75]);
    classes.push(cannot_tell(sources));
    let cannot_tell = (classes.len() - 1) as u8;
    let has_fit = sources.report.is_some_and(|report| report.fit.is_some());
    let mut draft = draft(sources, disease, say!("pressure"), classes, |line| {
        let share = line.judgement.neighbours.witness_share;
        if has_fit { breaks.class(share) as u8 } else { cannot_tell }
    });
    draft.notes.push(
        say!(
            "Pressure is the share of nearby trees infected, among those that could have been, in \
             the season when it was highest."
        )
        .to_owned(),
    );
    draft
}

/// The class of trees that a report says nothing about, or that no report was made for yet.
pub(super) fn cannot_tell(sources: Sources<'_>) -> Class {
    let label = match sources.report {
        Some(_) => say!("cannot tell"),
        None => say!("not judged yet"),
    };
    Class::new(Kind::CannotTell, label)
}

/// Classes between shares: `under 5 %`, `5 to 25 %` …
fn shares(limits: &[f64]) -> Vec<Class> {
    let label = |class: usize| match (class.checked_sub(1), limits.get(class)) {
        (None, Some(high)) => say!("up to {high}", high = percent(*high)),
        (Some(below), Some(high)) => words::from_to(&percent(limits[below]), &percent(*high)),
        (Some(below), None) => say!("over {low}", low = percent(limits[below])),
        (None, None) => percent(1.0),
    };
    (0..=limits.len()).map(|class| Class::new(Kind::Amount(class as u8), label(class))).collect()
}

/// Classes of the trees of a report; without one all are of the last class.
pub(super) fn draft(
    sources: Sources<'_>,
    disease: &str,
    what: &str,
    classes: Vec<Class>,
    class: impl Fn(&TreeReport) -> u8,
) -> Draft {
    let report = sources.report.filter(|report| report.disease == disease);
    let cannot_tell = (classes.len() - 1) as u8;
    let found = |nth: usize| match report {
        None => Found::Class(cannot_tell),
        Some(report) => match report.tree(TreeIx::new(nth)) {
            Some(line) => Found::Class(class(line)),
            None => Found::NotScored,
        },
    };
    let limits = report.map_or(&[][..], |report| &report.limits);
    let name = words::disease(sources.plot, disease);
    Draft {
        title: format!("{}: {what}", capital(&name)),
        notes: limits.iter().map(|limit| words::limit(&name, limit)).collect(),
        classes,
        class_of: (0..sources.ground.len()).map(found).collect(),
    }
}
