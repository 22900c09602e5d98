//! Sheets of measured numbers, and vigour.

use language::say;

use super::scored::finished;
use super::{Draft, Found, Sources, scored};
use crate::breaks::Breaks;
use crate::record::State;
use crate::{Class, Kind, Moment, Record};

/// Five classes of about equal number.
pub(super) fn by_amount(values: &[f64], states: &[State]) -> Draft {
    let breaks = Breaks::of(values);
    let classes = if values.is_empty() {
        Vec::new()
    } else {
        let class = |nth| Class::new(Kind::Amount(breaks.step(nth)), breaks.label(nth));
        (0..breaks.classes()).map(class).collect()
    };
    finished(classes, states, |value| Found::Class(breaks.class(value) as u8))
}

/// Vigour: the trunk's cross-sectional area where a diameter or girth is measured in a known
/// unit, else the visual score.
pub(super) fn vigour(sources: Sources<'_>, moment: &Moment) -> Draft {
    let Some(ix) = sources.plot.vigour_trait() else {
        let nobody = vec![State::NotScored; sources.ground.len()];
        return finished(Vec::new(), &nobody, |_| Found::NotScored);
    };
    let Some(area) = sources.plot.trait_of(ix).trunk_area_cm2() else {
        return scored::draft(sources, ix, moment);
    };
    let made;
    let record = match sources.record {
        Some(record) if record.trait_ix() == ix => record,
        _ => {
            made = Record::of(sources.plot, ix);
            &made
        }
    };
    let mut values = record.values();
    values.iter_mut().for_each(|value| *value = area(*value));
    let states: Vec<State> = record
        .states(moment)
        .into_iter()
        .map(|state| match state {
            State::Scored(value) => State::Scored(area(value)),
            other => other,
        })
        .collect();
    let mut draft = by_amount(&values, &states);
    draft.title = match moment {
        Moment::All => say!("Vigour as trunk area, cm²: latest score").to_owned(),
        _ => say!(
            "Vigour as trunk area, cm²: {when}",
            when = moment.label(sources.plot, record.rounds())
        ),
    };
    draft
}
