//! The sheet of a trait: its classes by severity, or by amount where no disease is concerned.

use language::say;
use plot::{Kind as Measure, Plot, Scale, Step, Trait, TraitIx};

use super::{Draft, Found, Sources, amounts};
use crate::breaks::{Breaks, spread};
use crate::record::State;
use crate::words::{self, number};
use crate::{Class, Kind, Moment, Record};

pub(super) fn draft(sources: Sources<'_>, ix: TraitIx, moment: &Moment) -> Draft {
    let one = sources.plot.trait_of(ix);
    let made;
    let record = match sources.record {
        Some(record) if record.trait_ix() == ix => record,
        _ => {
            made = Record::of(sources.plot, ix);
            &made
        }
    };
    let states = record.states(moment);
    let mut draft = match (&one.kind, &one.disease) {
        (Measure::Ordinal(scale), Some(_)) => by_severity(scale, &states),
        (Measure::Ordinal(scale), None) => by_grade(scale, &states),
        (Measure::Number { .. }, Some(_)) => diseased_number(one, record, &states),
        (Measure::Number { .. }, None) => amounts::by_amount(&record.values(), &states),
    };
    draft.title = title(sources.plot, one, moment, record);
    if one.needs.is_some() {
        draft.notes.push(needs(sources.plot, one));
    }
    draft
}

/// `Scab on leaves: worst of all rounds`.
fn title(plot: &Plot, one: &Trait, moment: &Moment, record: &Record) -> String {
    let when = match moment {
        Moment::All if one.disease.is_some() => say!("worst of all rounds").to_owned(),
        Moment::All => say!("latest score").to_owned(),
        _ => moment.label(plot, record.rounds()),
    };
    match &one.kind {
        Measure::Number { unit: Some(unit), .. } if !one.label.to_lowercase().contains(unit) => {
            format!("{}, {unit}: {when}", one.label)
        }
        _ => format!("{}: {when}", one.label),
    }
}

fn needs(plot: &Plot, one: &Trait) -> String {
    let needed = one.needs.as_ref().and_then(|needs| plot.trait_ix(needs.trait_id.as_str()));
    let label = needed.map_or_else(String::new, |ix| plot.trait_of(ix).label.to_lowercase());
    say!(
        "Not at risk: without {needed} it cannot show this. That is neither clean nor infected.",
        needed = label
    )
}

/// Ordinal classes of a disease: clean, and the infected ones in at most five steps.
fn by_severity(scale: &Scale, states: &[State]) -> Draft {
    let severity = |step: &Step| step.severity.unwrap_or(0.0);
    let clean: Vec<&Step> =
        scale.steps().iter().filter(|step| step.severity == Some(0.0)).collect();
    let mut infected: Vec<&Step> =
        scale.steps().iter().filter(|step| severity(step) > 0.0).collect();
    infected.sort_by(|a, b| severity(a).total_cmp(&severity(b)));
    let mut classes = vec![clean_class(&clean)];
    classes.extend(grouped(&infected).into_iter().map(|(step, steps)| {
        Class::new(Kind::Severity(step), values(&steps)).saying(meaning(&steps))
    }));
    let class = |value: f64| {
        if clean.iter().any(|step| step.value == value) {
            return Found::Class(0);
        }
        match infected.iter().position(|step| step.value == value) {
            Some(nth) => Found::Class(1 + group_of(nth, infected.len()) as u8),
            None => Found::CouldNotScore,
        }
    };
    finished(classes, states, class)
}

/// Ordinal classes without a disease, in the order of the file.
fn by_grade(scale: &Scale, states: &[State]) -> Draft {
    let steps: Vec<&Step> = scale.steps().iter().collect();
    let classes = grouped(&steps)
        .into_iter()
        .map(|(step, steps)| Class::new(Kind::Amount(step), values(&steps)).saying(meaning(&steps)))
        .collect();
    let class = |value: f64| match steps.iter().position(|step| step.value == value) {
        Some(nth) => Found::Class(group_of(nth, steps.len()) as u8),
        None => Found::CouldNotScore,
    };
    finished(classes, states, class)
}

/// A number that counts for a disease: clean at severity 0, above it by amount.
fn diseased_number(one: &Trait, record: &Record, states: &[State]) -> Draft {
    let is_clean = |value: f64| one.severity(value) == Some(0.0);
    let infected: Vec<f64> =
        record.values().into_iter().filter(|value| !is_clean(*value)).collect();
    let breaks = Breaks::of(&infected);
    let mut classes = vec![Class::new(Kind::Clean, say!("clean"))];
    if !infected.is_empty() {
        classes.extend(
            (0..breaks.classes())
                .map(|class| Class::new(Kind::Severity(breaks.step(class)), breaks.label(class))),
        );
    }
    finished(classes, states, |value| {
        Found::Class(if is_clean(value) { 0 } else { 1 + breaks.class(value) as u8 })
    })
}

pub(super) fn finished(
    classes: Vec<Class>,
    states: &[State],
    class: impl Fn(f64) -> Found,
) -> Draft {
    let found = |state: &State| match state {
        State::NotScored => Found::NotScored,
        State::CouldNotScore => Found::CouldNotScore,
        State::NotAtRisk => Found::NotAtRisk,
        State::Scored(value) => class(*value),
    };
    let class_of = states.iter().map(found).collect();
    Draft { title: String::new(), notes: Vec::new(), classes, class_of }
}

fn clean_class(steps: &[&Step]) -> Class {
    let class = Class::new(Kind::Clean, say!("clean"));
    match steps {
        [] => class,
        steps => class.saying(format!("{}: {}", values(steps), meaning(steps))),
    }
}

/// In how many groups so many steps are drawn.
fn groups(steps: usize) -> usize {
    steps.min(5)
}

/// The group of the nth of `of` steps: contiguous, the smaller groups first.
fn group_of(nth: usize, of: usize) -> usize {
    let groups = groups(of);
    (0..groups).rfind(|group| nth >= of * group / groups).unwrap_or(0)
}

/// Steps by group, with the step from 0 to 4 that each group is drawn as.
fn grouped<'a>(steps: &[&'a Step]) -> Vec<(u8, Vec<&'a Step>)> {
    let groups = groups(steps.len());
    (0..groups)
        .map(|group| {
            let members = steps.iter().enumerate();
            let members = members.filter(|(nth, _)| group_of(*nth, steps.len()) == group);
            (spread(group, groups), members.map(|(_, step)| *step).collect())
        })
        .collect()
}

/// `4`, or `4 to 5`.
fn values(steps: &[&Step]) -> String {
    match steps {
        [] => String::new(),
        [one] => number(one.value),
        [first, .., last] => words::from_to(&number(first.value), &number(last.value)),
    }
}

fn meaning(steps: &[&Step]) -> String {
    match steps {
        [] => String::new(),
        [one] => one.label.clone(),
        [first, .., last] => {
            let share = |step: &Step| step.severity.map(words::percent);
            match (share(first), share(last)) {
                (Some(low), Some(high)) => say!("{low} to {high}"),
                _ => words::from_to(&first.label, &last.label),
            }
        }
    }
}
