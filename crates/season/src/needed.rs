//! Hours of wetness that an infection needs at a temperature: a disease's table, and the revised
//! minimum of scab, both interpolated.

use plot::disease::WetnessLine;

/// A range of a table, or one number twice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The lower number.
    pub least: f64,
    /// The higher number.
    pub most: f64,
}

/// What a table of wetness asks for at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needed {
    /// Hours of wetness for an infection; by ascospores, where the table tells conidia apart.
    pub hours: f64,
    /// For a moderate one; this and the next: none where the table has none.
    pub moderate_hours: Option<f64>,
    /// For a severe one.
    pub severe_hours: Option<f64>,
    /// For one by conidia.
    pub conidia_hours: Option<Span>,
    /// Days from infection to lesions; none where the table has none.
    pub lesion_days: Option<Span>,
}

/// The revised minimum for leaves and ascospores: °F from and to, hours (MacHardy & Gadoury 1989,
/// *Phytopathology* 79:304; Gadoury et al. 1998; as told by West Virginia University,
/// Kearneysville).
const REVISED_MINIMUM: &[(f64, f64, f64)] = &[
    (34.0, 34.0, 41.0),
    (36.0, 36.0, 35.0),
    (37.0, 37.0, 30.0),
    (39.0, 39.0, 28.0),
    (41.0, 41.0, 21.0),
    (43.0, 43.0, 18.0),
    (45.0, 45.0, 15.0),
    (46.0, 46.0, 13.0),
    (48.0, 48.0, 12.0),
    (50.0, 50.0, 11.0),
    (52.0, 52.0, 9.0),
    (54.0, 55.0, 8.0),
    (57.0, 59.0, 7.0),
    (61.0, 75.0, 6.0),
    (77.0, 77.0, 8.0),
    (79.0, 79.0, 11.0),
];

/// What a table asks for at a temperature in °C; none below its first and above its last line, of
/// which it says nothing. Between its lines every number is interpolated along a straight line.
pub fn needed(table: &[WetnessLine], temp_c: f64) -> Option<Needed> {
    let between = Between::lines(table.iter().map(|line| (line.from_c, line.to_c)), temp_c)?;
    let (below, above) = (&table[between.below], &table[between.above]);
    let both = |of: fn(&WetnessLine) -> Option<f64>| Some(between.mix(of(below)?, of(above)?));
    let span = |of: fn(&WetnessLine) -> Option<[f64; 2]>| {
        let (below, above) = (of(below)?, of(above)?);
        let (least, most) = (between.mix(below[0], above[0]), between.mix(below[1], above[1]));
        Some(Span { least, most })
    };
    Some(Needed {
        hours: between.mix(below.hours, above.hours),
        moderate_hours: both(|line| line.moderate_hours),
        severe_hours: both(|line| line.severe_hours),
        conidia_hours: span(|line| line.conidia_hours),
        lesion_days: span(|line| line.lesion_days),
    })
}

/// Hours of wetness for an infection of leaves by ascospores, by the revised minimum, at a
/// temperature in °C; none below 34 and above 79 °F (1.1 and 26.1 °C). Interpolated in the same
/// way.
pub fn revised_minimum_hours(temp_c: f64) -> Option<f64> {
    let temp_f = temp_c * 9.0 / 5.0 + 32.0;
    let between = Between::lines(REVISED_MINIMUM.iter().map(|row| (row.0, row.1)), temp_f)?;
    Some(between.mix(REVISED_MINIMUM[between.below].2, REVISED_MINIMUM[between.above].2))
}

/// Two lines of a table, and how far one is from the lower to the upper, 0 to 1.
struct Between {
    below: usize,
    above: usize,
    share: f64,
}

impl Between {
    /// The lines around a temperature; the same twice within one. None off the table, but for
    /// rounding.
    fn lines(spans: impl Iterator<Item = (f64, f64)>, temp: f64) -> Option<Self> {
        const ROUNDING: f64 = 1e-9;
        let mut before: Option<(usize, f64)> = None;
        for (nth, (from, to)) in spans.enumerate() {
            if temp <= to + ROUNDING && temp >= from - ROUNDING {
                return Some(Self { below: nth, above: nth, share: 0.0 });
            }
            if temp < from {
                let (below, end) = before?;
                return Some(Self { below, above: nth, share: (temp - end) / (from - end) });
            }
            before = Some((nth, to));
        }
        None
    }

    fn mix(&self, below: f64, above: f64) -> f64 {
        below + self.share * (above - below)
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::testing::scab;

    fn of_scab(temp_c: f64) -> Option<Needed> {
        needed(&scab().table, temp_c)
    }

    /// Every line as trade facts print it: °C, hours light, moderate, severe, conidia, days to
    /// lesions (Stensvand et al. 1997 and Carisse 2006, Ontario ministry of agriculture).
    const PRINTED: &str = "\
        1|40|69|93|37|–
        2|34|69|93|33|–
        3|30|52|65|30|–
        4|27|42|57|26|–
        5|21|34|50|23|–
        6|18|27|44|20|17
        7|15|23|37|17|17
        8|13|21|34|15|17
        9|12|17|27|13|17
        10|11|16|26|10|16
        11|9|14|22|9.5|15
        12–13|8|12|20|9|14
        14–15|7|11|19|9|12–13
        15.5|6.5|10|17|9|10–11
        16–24|6|9|16|7–9|9–10
        24.5|6.5|9|16|9–11|–
        25|8|11|18|11|–
        25.5|10|14|23|13|–";

    /// °F → h (MacHardy & Gadoury 1989; Gadoury et al. 1998; West Virginia University).
    const REVISED: &str = "34→41, 36→35, 37→30, 39→28, 41→21, 43→18, 45→15, 46→13, 48→12, 50→11, \
        52→9, 54–55→8, 57–59→7, 61–75→6, 77→8, 79→11";

    fn span(text: &str) -> Option<Span> {
        let (least, most) = text.split_once('–').unwrap_or((text, text));
        Some(Span { least: least.parse().ok()?, most: most.parse().ok()? })
    }

    fn number(text: &str) -> f64 {
        text.parse().expect(text)
    }

    #[test]
    fn every_value_of_the_table() {
        assert_eq!(PRINTED.lines().count(), scab().table.len());
        for line in PRINTED.lines() {
            let cells: Vec<&str> = line.trim().split('|').collect();
            let expected = Needed {
                hours: number(cells[1]),
                moderate_hours: Some(number(cells[2])),
                severe_hours: Some(number(cells[3])),
                conidia_hours: span(cells[4]),
                lesion_days: span(cells[5]),
            };
            let at = span(cells[0]).expect("°C");
            assert_eq!(of_scab(at.least), Some(expected), "{line}");
            assert_eq!(of_scab(at.most), Some(expected), "{line}");
            assert_eq!(of_scab((at.least + at.most) / 2.0), Some(expected), "{line}");
        }
    }

    #[test]
    fn every_value_of_the_revised_minimum() {
        for entry in REVISED.split(", ") {
            let (at, hours) = entry.split_once('→').expect("an entry");
            let at = span(at).expect("°F");
            for temp_f in [at.least, at.most] {
                let found = revised_minimum_hours((temp_f - 32.0) * 5.0 / 9.0);
                assert_eq!(found, Some(number(hours)), "{entry}");
            }
        }
    }

    /// Plain arithmetic on the table.
    #[test]
    fn between_lines_numbers_lie_between() {
        let light = |temp_c: f64| of_scab(temp_c).map(|needed| needed.hours);
        assert_eq!(light(4.5), Some(24.0));
        assert_eq!(light(13.5), Some(7.5));
        assert_eq!(light(24.25), Some(6.25));
        assert_eq!(of_scab(15.25).and_then(|it| it.lesion_days), span("11–12"));
        assert_eq!(of_scab(5.5).and_then(|it| it.lesion_days), None);
        // 35 °F lies half way from 41 to 35 h.
        let found = revised_minimum_hours(5.0 / 3.0).expect("on the table");
        assert!((found - 38.0).abs() < 1e-9, "{found}");
    }

    #[test]
    fn off_the_table_nothing_is_told() {
        for temp_c in [0.9, 25.6, -60.0, 60.0, f64::NAN, f64::INFINITY] {
            assert_eq!(of_scab(temp_c), None, "{temp_c}");
        }
        assert_eq!(revised_minimum_hours(1.0), None);
        assert_eq!(revised_minimum_hours(26.2), None);
    }

    proptest! {
        #[test]
        fn a_heavier_grade_never_needs_fewer_hours(temp_c in 1.0..25.5_f64) {
            let needed = of_scab(temp_c).expect("on the table");
            prop_assert!(Some(needed.hours) <= needed.moderate_hours);
            prop_assert!(needed.moderate_hours <= needed.severe_hours);
            prop_assert!(needed.conidia_hours.is_some_and(|it| it.least <= it.most));
        }

        #[test]
        fn warmer_never_needs_more_hours_up_to_24_degrees(a in 1.0..24.0_f64, b in 1.0..24.0_f64) {
            let (colder, warmer) = (a.min(b), a.max(b));
            let light = |temp_c| of_scab(temp_c).expect("on the table").hours;
            prop_assert!(light(warmer) <= light(colder) + 1e-9);
        }
    }
}
