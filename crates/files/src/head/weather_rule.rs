//! The weather rule of a disease's profile: which one it is, and the numbers that it takes.

use std::ops::RangeInclusive;

use language::say;
use plot::disease::{FavourableMonths, Night, OpenFlowers, WeatherRule, Wetness, WetnessLine};
use serde_json::Value;

use super::fields::Fields;
use super::profile::{MOST, source, whole};

/// Hours without wetness that end a spell where a profile does not say: those of scab (MacHardy &
/// Gadoury 1989, *Phytopathology* 79:304, and Gadoury et al. 1998, as told by West Virginia
/// University, Kearneysville); taken for other diseases as *common practice, no source*.
const BREAK_HOURS: u16 = 8;
/// Temperatures that a rule may name, °C.
const DEGREES: RangeInclusive<f64> = -60.0..=60.0;

/// Reads a rule; every fault of it is told.
pub(super) fn weather_rule(fields: &mut Fields<'_, '_>) -> Option<WeatherRule> {
    source(fields);
    let expected = say!("\"wetness\", \"open_flowers\" or \"favourable_months\"");
    let rule = fields.needed("rule", expected, |value| {
        let known = ["wetness", "open_flowers", "favourable_months"];
        value.as_str().filter(|rule| known.contains(rule)).map(str::to_owned)
    })?;
    match rule.as_str() {
        "wetness" => wetness(fields).map(WeatherRule::Wetness),
        "open_flowers" => open_flowers(fields).map(WeatherRule::OpenFlowers),
        _ => favourable_months(fields).map(WeatherRule::FavourableMonths),
    }
}

fn wetness(fields: &mut Fields<'_, '_>) -> Option<Wetness> {
    fields.only(&["rule", "break_hours", "night", "table", "source"]);
    let break_hours = fields
        .optional("break_hours", say!("whole hours from 1 to 72"), |value| whole(value, 1..=72));
    let night = fields.within("night", false, |fields| {
        fields.only(&["from_hour", "counts_from_hour", "source"]);
        source(fields);
        let hour = |value: &Value| whole(value, 0..=23_u8);
        let from_hour =
            fields.needed("from_hour", say!("an hour of the day from 0 to 23"), hour)?;
        let expected = say!("an hour of the day before from_hour ({from_hour})");
        let counts_from_hour = fields.needed("counts_from_hour", expected, |value| {
            hour(value).filter(|&morning| morning < from_hour)
        })?;
        Some(Night { from_hour, counts_from_hour })
    });
    let table = say!("a list of lines {{\"from_c\", \"to_c\", \"hours\"}}, one at least");
    fields.needed("table", table.as_str(), |value| {
        value.as_array().filter(|lines| !lines.is_empty())
    })?;
    if !fields.at_most("table", MOST) {
        return None;
    }
    let lines = fields.each("table", &table, line);
    for two in lines.windows(2) {
        let (before, (nth, line)) = (&two[0].1, &two[1]);
        if line.from_c <= before.to_c {
            let expected = say!("more than the line before ({to})", to = before.to_c);
            fields.fault(&format!("table[{nth}].from_c"), line.from_c.to_string(), expected);
        }
        for (name, has, had) in [
            ("moderate_hours", line.moderate_hours.is_some(), before.moderate_hours.is_some()),
            ("severe_hours", line.severe_hours.is_some(), before.severe_hours.is_some()),
            ("conidia_hours", line.conidia_hours.is_some(), before.conidia_hours.is_some()),
        ] {
            if has != had {
                let found = if has { say!("a number") } else { say!("nothing") };
                fields.fault(
                    &format!("table[{nth}].{name}"),
                    found,
                    say!("in all lines, or in none"),
                );
            }
        }
    }
    let table = lines.into_iter().map(|(_, line)| line).collect();
    Some(Wetness { break_hours: break_hours.unwrap_or(BREAK_HOURS), night, table })
}

fn line(fields: &mut Fields<'_, '_>) -> Option<WetnessLine> {
    fields.only(&[
        "from_c",
        "to_c",
        "hours",
        "moderate_hours",
        "severe_hours",
        "conidia_hours",
        "lesion_days",
        "source",
    ]);
    source(fields);
    let from_c = number(fields, "from_c", DEGREES);
    let to_c = match (from_c, fields.value("to_c")) {
        (Some(from_c), None) => Some(from_c),
        (from_c, _) => number(fields, "to_c", from_c.unwrap_or(*DEGREES.start())..=*DEGREES.end()),
    };
    const MOST_HOURS: f64 = 1000.0;
    let hours = number(fields, "hours", 0.5..=MOST_HOURS);
    let mut more = |name, least: Option<f64>| {
        fields.value(name)?;
        number(fields, name, least.unwrap_or(0.5)..=MOST_HOURS)
    };
    let moderate_hours = more("moderate_hours", hours);
    let severe_hours = more("severe_hours", moderate_hours.or(hours));
    let conidia_hours = span(fields, "conidia_hours", MOST_HOURS);
    let lesion_days = span(fields, "lesion_days", MOST_HOURS);
    let (from_c, to_c, hours) = (from_c?, to_c?, hours?);
    Some(WetnessLine {
        from_c,
        to_c,
        hours,
        moderate_hours,
        severe_hours,
        conidia_hours,
        lesion_days,
    })
}

fn open_flowers(fields: &mut Fields<'_, '_>) -> Option<OpenFlowers> {
    fields.only(&[
        "rule",
        "degree_hours",
        "degree_hours_above_c",
        "within_degree_days",
        "degree_days_above_c",
        "daily_mean_c",
        "rain_mm",
        "rain_day_before_mm",
        "source",
    ]);
    let degree_hours = number(fields, "degree_hours", 0.0..=100_000.0);
    let degree_hours_above_c = number(fields, "degree_hours_above_c", DEGREES);
    let within_degree_days = number(fields, "within_degree_days", 0.0..=10_000.0);
    let degree_days_above_c = number(fields, "degree_days_above_c", DEGREES);
    let daily_mean_c = number(fields, "daily_mean_c", DEGREES);
    let rain_mm = number(fields, "rain_mm", 0.0..=1000.0);
    let rain_day_before_mm = number(fields, "rain_day_before_mm", 0.0..=1000.0);
    Some(OpenFlowers {
        degree_hours: degree_hours?,
        degree_hours_above_c: degree_hours_above_c?,
        within_degree_days: within_degree_days?,
        degree_days_above_c: degree_days_above_c?,
        daily_mean_c: daily_mean_c?,
        rain_mm: rain_mm?,
        rain_day_before_mm: rain_day_before_mm?,
    })
}

fn favourable_months(fields: &mut Fields<'_, '_>) -> Option<FavourableMonths> {
    fields.only(&[
        "rule",
        "rain_days_share",
        "warm_hours_a_day",
        "warm_from_c",
        "warm_to_c",
        "source",
    ]);
    let rain_days_share = number(fields, "rain_days_share", 0.0..=1.0);
    let warm_hours_a_day = number(fields, "warm_hours_a_day", 0.0..=24.0);
    let warm_from_c = number(fields, "warm_from_c", DEGREES);
    let least = warm_from_c.unwrap_or(*DEGREES.start());
    let warm_to_c = number(fields, "warm_to_c", least..=*DEGREES.end());
    Some(FavourableMonths {
        rain_days_share: rain_days_share?,
        warm_hours_a_day: warm_hours_a_day?,
        warm_from_c: warm_from_c?,
        warm_to_c: warm_to_c?,
    })
}

fn number(fields: &mut Fields<'_, '_>, name: &str, range: RangeInclusive<f64>) -> Option<f64> {
    let expected = say!("a number from {from} to {to}", from = range.start(), to = range.end());
    fields.needed(name, expected, |value| value.as_f64().filter(|it| range.contains(it)))
}

/// Two numbers, the lower first; none where there is no such field.
fn span(fields: &mut Fields<'_, '_>, name: &str, most: f64) -> Option<[f64; 2]> {
    let expected = say!("[least, most], from 0 to {most}, the lower first");
    fields.optional(name, expected, |value| {
        let [least, most_of_it] = value.as_array()?.as_slice() else { return None };
        let span = [least.as_f64()?, most_of_it.as_f64()?];
        (0.0 <= span[0] && span[0] <= span[1] && span[1] <= most).then_some(span)
    })
}
