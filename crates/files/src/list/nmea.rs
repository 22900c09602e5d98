//! Positions from a receiver: GGA sentences of NMEA 0183, each with its checksum, kind of fix and
//! accuracy.
//!
//! `$GPGGA,time,ddmm.mmmm,N,dddmm.mmmm,E,quality,satellites,hdop,altitude,M,geoid,M,age,station*hh`;
//! the checksum is the exclusive or of all bytes between `$` and `*`. A GST sentence of the same
//! moment gives the receiver's own standard deviations of latitude and longitude in metres.

use language::say;
use plot::{Globe, Problem, Weight};

use crate::findings::quoted;

/// How a position was found: the quality of GGA.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quality {
    /// 1: satellites alone.
    Alone,
    /// 2: with differential corrections.
    Differential,
    /// 3: precise positioning service.
    Precise,
    /// 4: real-time kinematic, whole cycles known; centimetres.
    Fixed,
    /// 5: real-time kinematic, whole cycles not known; decimetres.
    Float,
    /// 6: reckoned on from an earlier one.
    Reckoned,
    /// 7: typed in.
    Manual,
    /// 8: made up by a simulator.
    Simulated,
}

impl Quality {
    /// In words.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Alone => say!("satellites alone"),
            Self::Differential => say!("differential"),
            Self::Precise => say!("precise service"),
            Self::Fixed => say!("RTK fixed"),
            Self::Float => say!("RTK float"),
            Self::Reckoned => say!("reckoned"),
            Self::Manual => say!("typed in"),
            Self::Simulated => say!("simulated"),
        }
    }

    /// The same as a note has it, in whose file there is no language but one.
    fn noted(self) -> &'static str {
        match self {
            Self::Alone => "satellites alone",
            Self::Differential => "differential",
            Self::Precise => "precise service",
            Self::Fixed => "RTK fixed",
            Self::Float => "RTK float",
            Self::Reckoned => "reckoned",
            Self::Manual => "typed in",
            Self::Simulated => "simulated",
        }
    }

    /// Of the digit; none for 0, which is no fix, and for others.
    fn of(digit: &str) -> Option<Self> {
        const ALL: [Quality; 8] = [
            Quality::Alone,
            Quality::Differential,
            Quality::Precise,
            Quality::Fixed,
            Quality::Float,
            Quality::Reckoned,
            Quality::Manual,
            Quality::Simulated,
        ];
        let nth: usize = digit.parse().ok()?;
        ALL.get(nth.checked_sub(1)?).copied()
    }
}

/// Lines within which a receiver says all of one moment.
const SAME_MOMENT: u64 = 40;

/// A position from a receiver.
#[derive(Clone, Debug, PartialEq)]
pub struct Fix {
    /// Its line.
    pub line: u64,
    /// Time of day as the sentence writes it, `hhmmss.ss` UTC; may be empty.
    pub time: String,
    /// Where.
    pub globe: Globe,
    /// How it was found; none where only a list gives it.
    pub quality: Option<Quality>,
    /// Satellites in use.
    pub satellites: Option<u8>,
    /// Horizontal dilution of precision.
    pub hdop: Option<f64>,
    /// Metres above mean sea level.
    pub altitude_m: Option<f64>,
    /// Standard deviation as the receiver has it, north and east together, metres.
    pub sigma_m: Option<f64>,
}

impl Fix {
    /// How good it is, as a note has it: `RTK fixed, HDOP 0.8, 12 satellites, 0.02 m`; empty where nobody
    /// says.
    pub fn accuracy(&self) -> String {
        let hdop = self.hdop.map(|hdop| format!("HDOP {hdop}"));
        let satellites = self.satellites.map(|count| format!("{count} satellites"));
        let sigma = self.sigma_m.map(|metres| format!("{metres:.2} m"));
        let quality = self.quality.map(|quality| quality.noted().to_owned());
        let all = [quality, hdop, satellites, sigma];
        all.into_iter().flatten().collect::<Vec<_>>().join(", ")
    }
}

/// What a receiver's log holds.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fixes {
    /// Every sound position, in order.
    pub fixes: Vec<Fix>,
    /// Sentences of other kinds, which are passed over.
    pub others: usize,
    /// Sentences that are broken, or tell of no fix.
    pub problems: Vec<Problem>,
}

/// Whether most lines are sentences of a receiver.
pub fn is_nmea(text: &str) -> bool {
    let filled = || text.lines().map(str::trim).filter(|line| !line.is_empty()).take(50);
    let sentences = filled().filter(|line| line.starts_with(['$', '!']) && line.contains(','));
    text.contains("GGA,") && sentences.count() * 2 > filled().count()
}

/// Reads a log of sentences; `file` is what problems call it.
pub fn read_nmea(file: &str, text: &str) -> Fixes {
    let mut found = Fixes::default();
    let mut deviations: Vec<(u64, (String, f64))> = Vec::new();
    for (line, text) in (1..).zip(text.lines()) {
        let text = text.trim();
        if text.is_empty() {
            continue;
        }
        match sentence(text).and_then(|(kind, fields)| match kind {
            "GGA" => gga(line, &fields).map(|fix| found.fixes.push(fix)),
            "GST" => {
                deviations.extend(gst(&fields).map(|gst| (line, gst)));
                found.others += 1;
                Ok(())
            }
            _ => {
                found.others += 1;
                Ok(())
            }
        }) {
            Ok(()) => {}
            Err((weight, found_there, expected)) => found.problems.push(Problem {
                weight,
                file: file.to_owned(),
                line: Some(line),
                column: None,
                found: found_there,
                expected: expected.to_owned(),
            }),
        }
    }
    // Sentences of one moment stand near each other.
    let mut at = 0;
    for fix in found.fixes.iter_mut().filter(|fix| !fix.time.is_empty()) {
        let rest = deviations[at..].iter();
        at += rest.take_while(|(line, _)| line + SAME_MOMENT < fix.line).count();
        let near = deviations[at..].iter().take_while(|(line, _)| *line <= fix.line + SAME_MOMENT);
        let mut of_it = near.filter(|(_, (time, _))| *time == fix.time);
        fix.sigma_m = of_it.next().map(|(_, (_, sigma_m))| *sigma_m);
    }
    found
}

/// Weight, what was found, what was expected.
type Wrong = (Weight, String, &'static str);

/// Kind and fields of a sentence whose checksum is right.
fn sentence(text: &str) -> Result<(&str, Vec<&str>), Wrong> {
    let fault = |found: String, expected| (Weight::Fault, found, expected);
    let body = text
        .strip_prefix(['$', '!'])
        .ok_or_else(|| fault(quoted(text), say!("a sentence such as $GPGGA,…*47")))?;
    let (body, sum) = body.rsplit_once('*').ok_or_else(|| {
        fault(say!("no checksum").to_owned(), say!("* and two hexadecimal digits at the end"))
    })?;
    let is = body.bytes().fold(0, |sum, byte| sum ^ byte);
    let said = u8::from_str_radix(sum, 16).ok().filter(|_| sum.len() == 2);
    if said != Some(is) {
        let expected = say!("a checksum that fits: the sentence was damaged on its way");
        return Err(fault(
            say!("checksum {sum}, where {is:02X} fits", sum = quoted(sum)),
            expected,
        ));
    }
    let mut fields: Vec<&str> = body.split(',').collect();
    let name = fields.remove(0);
    // Two letters say who talks; makers' own sentences begin with P.
    let kind = match name.strip_prefix('P') {
        Some(_) => "",
        None => name.get(2..).unwrap_or_default(),
    };
    Ok((kind, fields))
}

fn gga(line: u64, fields: &[&str]) -> Result<Fix, Wrong> {
    let field = |nth: usize| fields.get(nth).copied().unwrap_or_default().trim();
    let fault = |found: String, expected| (Weight::Fault, found, expected);
    if field(5) == "0" {
        return Err((
            Weight::Notice,
            say!("no fix").to_owned(),
            say!("a fix; the sentence is passed over"),
        ));
    }
    let quality = Quality::of(field(5)).ok_or_else(|| {
        fault(
            say!("fix quality {quality}", quality = quoted(field(5))),
            say!("a digit from 0 to 8"),
        )
    })?;
    let half = |nth: usize, digits: usize, letters: [&str; 2], most: f64| {
        let said = format!("{} {}", field(nth), field(nth + 1));
        let wrong = || fault(quoted(said.trim()), say!("degrees and minutes with N or S, E or W"));
        let value = degrees(field(nth), digits).filter(|value| *value <= most).ok_or_else(wrong)?;
        match letters.iter().position(|letter| *letter == field(nth + 1)) {
            Some(0) => Ok(value),
            Some(_) => Ok(-value),
            None => Err(wrong()),
        }
    };
    let lat = half(1, 2, ["N", "S"], 90.0)?;
    let lon = half(3, 3, ["E", "W"], 180.0)?;
    let number = |nth: usize| field(nth).parse::<f64>().ok().filter(|value| value.is_finite());
    Ok(Fix {
        line,
        time: field(0).to_owned(),
        globe: Globe { lon, lat },
        quality: Some(quality),
        satellites: field(6).parse().ok(),
        hdop: number(7),
        altitude_m: number(8),
        sigma_m: None,
    })
}

/// Time, and the standard deviation of the position in the plane.
fn gst(fields: &[&str]) -> Option<(String, f64)> {
    let metres = |nth: usize| fields.get(nth)?.trim().parse::<f64>().ok().filter(|it| *it >= 0.0);
    let (lat_m, lon_m) = (metres(5)?, metres(6)?);
    Some((fields.first()?.trim().to_owned(), (lat_m * lat_m + lon_m * lon_m).sqrt()))
}

/// `ddmm.mmmm`, `digits` of them degrees, as degrees.
fn degrees(text: &str, digits: usize) -> Option<f64> {
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    let (whole, minutes) = text.split_at_checked(digits).filter(|_| plain)?;
    let (whole, minutes): (f64, f64) = (whole.parse().ok()?, minutes.parse().ok()?);
    (minutes < 60.0).then_some(whole + minutes / 60.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A sentence with its checksum.
    fn with_sum(body: &str) -> String {
        format!("${body}*{:02X}", body.bytes().fold(0, |sum, byte| sum ^ byte))
    }

    #[test]
    fn the_well_known_sentence_is_read() {
        // The example that texts on NMEA 0183 give, with its checksum 47.
        let text = "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47";
        let found = read_nmea("log", text);
        assert_eq!(found.problems, []);
        let fix = &found.fixes[0];
        assert!(
            (fix.globe.lat - 48.1173).abs() < 1e-9
                && (fix.globe.lon - 11.516_666_666_7).abs() < 1e-9
        );
        assert_eq!(
            (fix.quality, fix.satellites, fix.hdop),
            (Some(Quality::Alone), Some(8), Some(0.9))
        );
        assert_eq!(fix.altitude_m, Some(545.4));
        assert_eq!(fix.accuracy(), "satellites alone, HDOP 0.9, 8 satellites");
    }

    #[test]
    fn other_sentences_are_passed_over_and_broken_ones_told() {
        let lines = [
            with_sum("GNGST,101500.00,0.02,,,,0.012,0.016,0.03"),
            with_sum("GNGGA,101500.00,5202.4000,S,00507.2000,W,4,17,0.6,3.1,M,43.0,M,1.0,0001"),
            with_sum("GNRMC,101500.00,A,5202.4,N,00507.2,E,0.0,,140631,,,R"),
            with_sum("PXYZ,GGA,1"),
            String::new(),
            "$GNGGA,101501.00,5202.4000,N,00507.2000,E,4,17,0.6,3.1,M,43.0,M,1.0,0001*00"
                .to_owned(),
            "$GNGGA,101501.00,5202.4000".to_owned(),
            with_sum("GNGGA,101502.00,,,,,0,00,,,M,,M,,"),
            with_sum("GNGGA,101503.00,5262.4000,N,00507.2000,E,4,17,0.6,,M,,M,,"),
            with_sum("GNGGA,101503.00,5202.4000,N,00507.2000,N,4,17,0.6,,M,,M,,"),
            with_sum("GNGGA,101503.00,5202.4000,N,00507.2000,E,9,17,0.6,,M,,M,,"),
            "hello".to_owned(),
        ];
        let text = lines.join("\r\n");
        assert!(is_nmea(&text) && !is_nmea("row,place\n1,2\n$GPGGA,"));
        let found = read_nmea("log", &text);
        assert_eq!((found.fixes.len(), found.others), (1, 3));
        let fix = &found.fixes[0];
        assert!((fix.globe.lat + 52.04).abs() < 1e-9 && (fix.globe.lon + 5.12).abs() < 1e-9);
        assert_eq!(fix.accuracy(), "RTK fixed, HDOP 0.6, 17 satellites, 0.02 m");
        let told: Vec<String> = found.problems.iter().map(ToString::to_string).collect();
        let sum = lines[5]
            .trim_start_matches('$')
            .split('*')
            .next()
            .map(|body| body.bytes().fold(0, |sum, byte| sum ^ byte));
        let sum = sum.expect("a sentence");
        assert_eq!(
            told,
            [
                &*format!(
                    "log, line 6: found checksum \"00\", where {sum:02X} fits, expected a checksum that fits: the sentence was damaged on its way"
                ),
                "log, line 7: found no checksum, expected * and two hexadecimal digits at the end",
                "log, line 8: found no fix, expected a fix; the sentence is passed over",
                "log, line 9: found \"5262.4000 N\", expected degrees and minutes with N or S, E or W",
                "log, line 10: found \"00507.2000 N\", expected degrees and minutes with N or S, E or W",
                "log, line 11: found fix quality \"9\", expected a digit from 0 to 8",
                "log, line 12: found \"hello\", expected a sentence such as $GPGGA,…*47",
            ]
        );
    }

    proptest! {
        #[test]
        fn no_text_makes_it_panic(text in "([$!]?(GP|GN|P)?(GGA|GST|RMC)?[0-9NSEW.,*é]{0,40}\n){0,6}", any: String) {
            read_nmea("log", &text);
            read_nmea("log", &any);
            is_nmea(&any);
        }

        #[test]
        fn one_wrong_digit_is_always_noticed(at in 0_usize..60, digit in b'0'..=b'9') {
            let sound = with_sum("GNGGA,101500.00,5202.4000,S,00507.2000,W,4,17,0.6,3.1,M,43.0,M,1.0,0001");
            let mut bytes = sound.clone().into_bytes();
            prop_assume!(bytes[at].is_ascii_digit() && bytes[at] != digit);
            bytes[at] = digit;
            let found = read_nmea("log", std::str::from_utf8(&bytes).expect("text"));
            prop_assert_eq!((found.fixes.len(), found.problems.len()), (0, 1));
        }

        #[test]
        fn a_position_reads_back(lat in -89.9_f64..89.9, lon in -179.9_f64..179.9) {
            let half = |degrees: f64, width: usize| {
                let whole = degrees.abs().floor();
                format!("{whole:0width$.0}{:011.8}", (degrees.abs() - whole) * 60.0 - 5e-9)
            };
            prop_assume!((lat.abs().fract() * 60.0) > 1e-6 && (lon.abs().fract() * 60.0) > 1e-6);
            let (north, east) = (if lat < 0.0 { "S" } else { "N" }, if lon < 0.0 { "W" } else { "E" });
            let text = with_sum(&format!("GPGGA,1,{},{north},{},{east},1,,,,M,,M,,", half(lat, 2), half(lon, 3)));
            let found = read_nmea("log", &text);
            prop_assert_eq!(&found.problems, &[]);
            let globe = found.fixes[0].globe;
            prop_assert!((globe.lat - lat).abs() < 1e-9 && (globe.lon - lon).abs() < 1e-9, "{:?}", globe);
        }
    }
}
