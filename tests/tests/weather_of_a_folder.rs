//! From the bytes of a plot folder to the infection periods of its weather.

use files::{FileSet, open};
use plot::disease::WeatherRule;
use season::{Grade, Outcome, Sureness, favourable_months, wetness_spells};

const PLOT: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Test bank",
    "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75}, "traits": []}"#;

/// Two days of May at 10 °C in summer time: a day's rain of 11 hours, and a night's of 15, of which
/// six come after 07:00 of standard time.
fn weather() -> String {
    let is_wet = |nth: i32| (10..21).contains(&nth) || (47..62).contains(&nth);
    let hour = |nth: i32| {
        let (day, hour) = (1 + nth / 24, nth % 24);
        let humidity = if is_wet(nth) { 96 } else { 70 };
        format!("2031-05-{day:02}T{hour:02}:00+02:00,10,0,{humidity}\n")
    };
    // One hour of winter says which clock is the standard one.
    let winter = "2031-03-01T00:00+01:00,1,0,80\n";
    let hours: String = (0..72).map(hour).collect();
    format!("time,temp_c,rain_mm,relative_humidity\n{winter}{hours}")
}

#[test]
fn infection_periods_of_a_folder() {
    let files: FileSet = [
        ("plot.json", PLOT.to_owned()),
        ("trees.csv", "tree_id,row,place\nA,1,1\n".to_owned()),
        ("scores.csv", "score_id,tree_id,trait,value,scored_on\n".to_owned()),
        ("weather.csv", weather()),
    ]
    .into_iter()
    .map(|(name, text)| (name.to_owned(), text.into_bytes()))
    .collect();
    let (book, problems) = open(files);
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        ["weather.csv, line 3, column time: found no lines for the 1462 hours before: \
          2031-03-01T01:00 to 2031-04-30T22:00, expected one line for each hour"]
    );
    let book = book.expect("a book");
    let rule = |name| book.plot().disease(name).and_then(|it| it.weather.as_ref());
    let Some(WeatherRule::Wetness(scab)) = rule("scab") else { panic!("scab goes by wetness") };
    let found: Vec<_> = wetness_spells(book.weather(), scab)
        .iter()
        .map(|one| {
            let first = one.spell.first.to_string();
            (first, one.for_ascospores.hours, one.ascospores, one.conidia)
        })
        .collect();
    assert_eq!(
        found,
        [
            (
                "2031-05-01T09:00".to_owned(),
                11,
                Outcome::Reached(Grade::Light),
                Outcome::Reached(Sureness::Certain)
            ),
            // 23:00 on the summer clock is 22:00: night rain.
            (
                "2031-05-02T22:00".to_owned(),
                6,
                Outcome::NotReached,
                Outcome::Reached(Sureness::Certain)
            ),
        ]
    );
    let Some(WeatherRule::FavourableMonths(rule)) = rule("canker") else { panic!("by months") };
    let months = favourable_months(book.weather(), rule);
    assert_eq!(months.len(), 3);
    assert_eq!((months[2].rain_days, months[2].favours(rule)), (0, None));
}
