//! `weather.csv`: hourly weather, read in bounded steps.

use language::{count, say};
use plot::{HourStamp, LocalHour, Refusal, Weather, WeatherHour, Weight};

use crate::findings::Findings;
use crate::table::{Column, Line, Table, columns};

pub(crate) const FILE: &str = "weather.csv";

columns!(WeatherColumn:
    Time = "time", TempC = "temp_c", RainMm = "rain_mm", LeafWetness = "leaf_wetness",
    RelativeHumidity = "relative_humidity", WindMs = "wind_ms", WindFromDeg = "wind_from_deg",
);
use WeatherColumn as C;

/// `weather.csv` while it is read.
#[derive(Debug)]
pub(crate) struct WeatherReading {
    table: Table,
    taken: Vec<Taken>,
}

/// A sound line.
#[derive(Debug)]
struct Taken {
    line: u64,
    offset_min: Option<i16>,
    /// Its hour is that of the clock that the line was written by.
    hour: WeatherHour,
}

impl WeatherReading {
    /// Reads the header; none, with the fault told, when the file cannot be read at all.
    pub(crate) fn new(bytes: &[u8], findings: &mut Findings) -> Option<Self> {
        let table = Table::new(bytes, &[C::Time], findings)?;
        let header = table.header();
        let mut lacks = |column: C, found: &str, expected: &str| {
            let column = Some(column.name().to_owned());
            findings.push(Weight::Notice, Some(1), column, found, expected);
        };
        if !header.has(C::TempC) {
            lacks(
                C::TempC,
                say!("no temperature"),
                say!("a column temp_c (without it, no infection is told)"),
            );
        }
        if !header.has(C::LeafWetness) && !header.has(C::RelativeHumidity) {
            let expected = say!(
                "a column leaf_wetness or relative_humidity (without either, only rain tells of \
                 wetness)"
            );
            lacks(C::LeafWetness, say!("no wetness"), expected);
        }
        Some(Self { table, taken: Vec::new() })
    }

    pub(crate) fn line(&self) -> u64 {
        self.table.line()
    }

    /// Takes up to `lines` further lines; gives whether more are left.
    pub(crate) fn step(&mut self, bytes: &[u8], lines: u64, findings: &mut Findings) -> bool {
        let Self { table, taken } = self;
        table.step(bytes, lines, findings, &mut |line| taken.extend(hour(line)))
    }

    /// Puts the hours in order, whatever the order of the lines, and tells those that stand twice,
    /// clocks that do not agree, and gaps.
    pub(crate) fn finish(self, findings: &mut Findings) -> Weather {
        let mut taken = on_one_clock(self.taken, findings);
        taken.sort_by_key(|one| (one.hour.at, one.line));
        taken.dedup_by(|later, earlier| {
            let is_same = later.hour.at == earlier.hour.at;
            if is_same {
                let found = say!(
                    "{hour}, which line {line} has",
                    hour = later.hour.at,
                    line = earlier.line
                );
                let expected = say!("each hour once (local standard time has no summer time)");
                let refusal = Refusal::new(C::Time.name(), found, expected);
                findings.refusal(Weight::Fault, Some(later.line), refusal);
            }
            is_same
        });
        for pair in taken.windows(2) {
            tell_gap(pair[0].hour.at, &pair[1], findings);
        }
        let hours = taken.into_iter().map(|one| one.hour).collect();
        Weather::new(hours).expect("each hour stands once, and its values were checked")
    }
}

/// What a line says; none when anything in it was refused.
fn hour(line: &mut Line<'_>) -> Option<Taken> {
    let expected =
        || say!("a full hour that exists, such as 2031-06-14T09:00 or 2031-06-14T09:00+02:00");
    let stamp = match line.needed(C::Time, expected) {
        Some(_) => line.read(C::Time, expected, HourStamp::parse),
        None => None,
    };
    let [temp_c, rain_mm, leaf_wetness, relative_humidity, wind_ms, wind_from_deg] =
        [C::TempC, C::RainMm, C::LeafWetness, C::RelativeHumidity, C::WindMs, C::WindFromDeg]
            .map(|column| line.number_in(column));
    let HourStamp { hour: at, offset_min } = stamp?;
    let hour = WeatherHour {
        at,
        temp_c,
        rain_mm,
        leaf_wetness,
        relative_humidity,
        wind_ms,
        wind_from_deg,
    };
    hour.refusals().for_each(|refusal| line.refuse(refusal));
    line.is_good().then(|| Taken { line: line.number(), offset_min, hour })
}

/// The hours of all lines on one clock: that of the smallest offset, which is the standard time
/// where summer time puts clocks forward. Lines that cannot be put there are told and left out.
fn on_one_clock(mut taken: Vec<Taken>, findings: &mut Findings) -> Vec<Taken> {
    let offsets = || taken.iter().filter_map(|one| Some((one.offset_min?, one.line)));
    let Some((standard_min, _)) = offsets().min() else { return taken };
    let (greatest_min, greatest_line) = offsets().max().expect("there is an offset");
    let first = offsets().map(|(_, line)| line).min().expect("there is an offset");
    if greatest_min - standard_min > 60 {
        let (least, most) = (offset(standard_min), offset(greatest_min));
        let found = say!("offsets from {least} to {most}");
        let expected =
            say!("those of one place: standard time, and at most an hour more in summer");
        let notice = Refusal::new(C::Time.name(), found, expected);
        findings.refusal(Weight::Notice, Some(greatest_line), notice);
    }
    taken.retain_mut(|one| {
        let stamp = HourStamp { hour: one.hour.at, offset_min: one.offset_min };
        let told = match (one.offset_min, stamp.on_clock(standard_min)) {
            (Some(_), Some(at)) => {
                one.hour.at = at;
                return true;
            }
            (None, _) => {
                let expected = say!("a time with an offset, as line {first} has");
                (say!("{hour} without an offset", hour = one.hour.at), expected)
            }
            (Some(own_min), None) => {
                let expected =
                    say!("a full hour of the clock of {offset}", offset = offset(standard_min));
                (format!("{}{}", one.hour.at, offset(own_min)), expected)
            }
        };
        let refusal = Refusal::new(C::Time.name(), told.0, told.1);
        findings.refusal(Weight::Fault, Some(one.line), refusal);
        false
    });
    taken
}

fn offset(minutes: i16) -> String {
    let sign = if minutes < 0 { '-' } else { '+' };
    let minutes = minutes.unsigned_abs();
    format!("{sign}{:02}:{:02}", minutes / 60, minutes % 60)
}

fn tell_gap(before: LocalHour, after: &Taken, findings: &mut Findings) {
    let missing = after.hour.at.since(before) - 1;
    let (Some(first), Some(last)) = (before.plus(1), after.hour.at.plus(-1)) else { return };
    let found = match missing {
        ..=0 => return,
        missing => count!(
            missing,
            "no line for the hour before: {first}",
            "no lines for the {missing} hours before: {first} to {last}"
        ),
    };
    let notice = Refusal::new(C::Time.name(), found, say!("one line for each hour"));
    findings.refusal(Weight::Notice, Some(after.line), notice);
}

#[cfg(test)]
mod tests;
