//! Hours of wetness that scab needs at a temperature: two published tables, interpolated.

/// A range of a table, or one number twice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// The lower number.
    pub least: f64,
    /// The higher number.
    pub most: f64,
}

/// What scab needs at one temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Needed {
    /// Hours of wetness for an infection by ascospores that the table calls light.
    pub light_hours: f64,
    /// The same, moderate.
    pub moderate_hours: f64,
    /// The same, severe.
    pub severe_hours: f64,
    /// Hours of wetness for an infection by conidia.
    pub conidia_hours: Span,
    /// Days from infection to lesions; none where the table has none.
    pub lesion_days: Option<Span>,
}

/// One line of the table: temperatures from and to, hours light, moderate, severe, by conidia
/// (least, most), days to lesions (least, most).
type Row = (f64, f64, [f64; 5], Option<[f64; 2]>);

/// Hours of wetness needed, after Stensvand et al. 1997 and Carisse 2006 (Ontario ministry of
/// agriculture, apple notes). Its line *24–25 °C* stands between lines for 24 and for 25 °C, and
/// is taken as 24.5 °C.
const TABLE: &[Row] = &[
    (1.0, 1.0, [40.0, 69.0, 93.0, 37.0, 37.0], None),
    (2.0, 2.0, [34.0, 69.0, 93.0, 33.0, 33.0], None),
    (3.0, 3.0, [30.0, 52.0, 65.0, 30.0, 30.0], None),
    (4.0, 4.0, [27.0, 42.0, 57.0, 26.0, 26.0], None),
    (5.0, 5.0, [21.0, 34.0, 50.0, 23.0, 23.0], None),
    (6.0, 6.0, [18.0, 27.0, 44.0, 20.0, 20.0], Some([17.0, 17.0])),
    (7.0, 7.0, [15.0, 23.0, 37.0, 17.0, 17.0], Some([17.0, 17.0])),
    (8.0, 8.0, [13.0, 21.0, 34.0, 15.0, 15.0], Some([17.0, 17.0])),
    (9.0, 9.0, [12.0, 17.0, 27.0, 13.0, 13.0], Some([17.0, 17.0])),
    (10.0, 10.0, [11.0, 16.0, 26.0, 10.0, 10.0], Some([16.0, 16.0])),
    (11.0, 11.0, [9.0, 14.0, 22.0, 9.5, 9.5], Some([15.0, 15.0])),
    (12.0, 13.0, [8.0, 12.0, 20.0, 9.0, 9.0], Some([14.0, 14.0])),
    (14.0, 15.0, [7.0, 11.0, 19.0, 9.0, 9.0], Some([12.0, 13.0])),
    (15.5, 15.5, [6.5, 10.0, 17.0, 9.0, 9.0], Some([10.0, 11.0])),
    (16.0, 24.0, [6.0, 9.0, 16.0, 7.0, 9.0], Some([9.0, 10.0])),
    (24.5, 24.5, [6.5, 9.0, 16.0, 9.0, 11.0], None),
    (25.0, 25.0, [8.0, 11.0, 18.0, 11.0, 11.0], None),
    (25.5, 25.5, [10.0, 14.0, 23.0, 13.0, 13.0], None),
];

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

/// What scab needs at a temperature in °C; none below 1 and above 25.5 °C, of which the table
/// says nothing. Between its lines every number is interpolated along a straight line.
pub fn needed(temp_c: f64) -> Option<Needed> {
    let between = Between::lines(TABLE.iter().map(|row| (row.0, row.1)), temp_c)?;
    let (below, above) = (&TABLE[between.below], &TABLE[between.above]);
    let hours = |nth: usize| between.mix(below.2[nth], above.2[nth]);
    let lesion_days = match (below.3, above.3) {
        (Some(below), Some(above)) => Some(Span {
            least: between.mix(below[0], above[0]),
            most: between.mix(below[1], above[1]),
        }),
        _ => None,
    };
    Some(Needed {
        light_hours: hours(0),
        moderate_hours: hours(1),
        severe_hours: hours(2),
        conidia_hours: Span { least: hours(3), most: hours(4) },
        lesion_days,
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
        assert_eq!(PRINTED.lines().count(), TABLE.len());
        for line in PRINTED.lines() {
            let cells: Vec<&str> = line.trim().split('|').collect();
            let expected = Needed {
                light_hours: number(cells[1]),
                moderate_hours: number(cells[2]),
                severe_hours: number(cells[3]),
                conidia_hours: span(cells[4]).expect("hours"),
                lesion_days: span(cells[5]),
            };
            let at = span(cells[0]).expect("°C");
            assert_eq!(needed(at.least), Some(expected), "{line}");
            assert_eq!(needed(at.most), Some(expected), "{line}");
            assert_eq!(needed((at.least + at.most) / 2.0), Some(expected), "{line}");
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
        let light = |temp_c: f64| needed(temp_c).map(|needed| needed.light_hours);
        assert_eq!(light(4.5), Some(24.0));
        assert_eq!(light(13.5), Some(7.5));
        assert_eq!(light(24.25), Some(6.25));
        assert_eq!(needed(15.25).and_then(|it| it.lesion_days), span("11–12"));
        assert_eq!(needed(5.5).and_then(|it| it.lesion_days), None);
        // 35 °F lies half way from 41 to 35 h.
        let found = revised_minimum_hours(5.0 / 3.0).expect("on the table");
        assert!((found - 38.0).abs() < 1e-9, "{found}");
    }

    #[test]
    fn off_the_table_nothing_is_told() {
        for temp_c in [0.9, 25.6, -60.0, 60.0, f64::NAN, f64::INFINITY] {
            assert_eq!(needed(temp_c), None, "{temp_c}");
        }
        assert_eq!(revised_minimum_hours(1.0), None);
        assert_eq!(revised_minimum_hours(26.2), None);
    }

    proptest! {
        #[test]
        fn a_heavier_grade_never_needs_fewer_hours(temp_c in 1.0..25.5_f64) {
            let needed = needed(temp_c).expect("on the table");
            prop_assert!(needed.light_hours <= needed.moderate_hours);
            prop_assert!(needed.moderate_hours <= needed.severe_hours);
            prop_assert!(needed.conidia_hours.least <= needed.conidia_hours.most);
        }

        #[test]
        fn warmer_never_needs_more_hours_up_to_24_degrees(a in 1.0..24.0_f64, b in 1.0..24.0_f64) {
            let (colder, warmer) = (a.min(b), a.max(b));
            let light = |temp_c| needed(temp_c).expect("on the table").light_hours;
            prop_assert!(light(warmer) <= light(colder) + 1e-9);
        }
    }
}
