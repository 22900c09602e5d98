//! Sheets of measured numbers, and vigour.

use plot::Kind as Measure;

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

/// Vigour: the trunk's cross-sectional area where a diameter or girth in millimetres is measured,
/// else the visual score.
pub(super) fn vigour(sources: Sources<'_>, moment: &Moment) -> Draft {
    let Some(ix) = sources.plot.vigour_trait() else {
        let nobody = vec![State::NotScored; sources.ground.len()];
        return finished(Vec::new(), &nobody, |_| Found::NotScored);
    };
    let one = sources.plot.trait_of(ix);
    let made;
    let record = match sources.record {
        Some(record) if record.trait_ix() == ix => record,
        _ => {
            made = Record::of(sources.plot, ix);
            &made
        }
    };
    let area = match &one.kind {
        Measure::Number { unit: Some(unit), .. } if unit == "mm" => match one.id.as_str() {
            "trunk_girth" => area_from_girth_cm2,
            _ => area_from_diameter_cm2,
        },
        _ => return scored::draft(sources, ix, moment),
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
        Moment::All => "Vigour as trunk area, cm²: latest score".to_owned(),
        _ => format!("Vigour as trunk area, cm²: {}", moment.label(sources.plot, record.rounds())),
    };
    draft
}

/// Trunk cross-sectional area πd²/4 in cm², of a diameter in mm.
fn area_from_diameter_cm2(diameter_mm: f64) -> f64 {
    let diameter_cm = diameter_mm / 10.0;
    std::f64::consts::FRAC_PI_4 * diameter_cm * diameter_cm
}

/// Trunk cross-sectional area C²/4π in cm², of a girth in mm.
fn area_from_girth_cm2(girth_mm: f64) -> f64 {
    let girth_cm = girth_mm / 10.0;
    girth_cm * girth_cm / (4.0 * std::f64::consts::PI)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trunk_area_from_diameter_and_girth() {
        // Plain arithmetic: d = 5.00 cm → 19.635 cm², C = 15.7 cm → 19.615 cm².
        assert!((area_from_diameter_cm2(50.0) - 19.635).abs() < 5e-4);
        assert!((area_from_girth_cm2(157.0) - 19.615).abs() < 5e-4);
    }
}
