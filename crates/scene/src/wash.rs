//! The ground under the marks, tinted by the pressure of a disease at a moment.

use language::say;
use plot::{Plot, Round};
use proof::Report;

use crate::field::Field;
use crate::lattice::Lattice;
use crate::words::{self, number, percent};
use crate::{Ink, Look, Moment, Shape};

/// What tints the ground under the marks of whatever layer is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Underlay {
    /// Nothing.
    #[default]
    Plain,
    /// Diseased tissue around: inoculum.
    Tissue,
    /// The share infected of the neighbours that could have been.
    Witnesses,
}

impl Underlay {
    /// All of them, in the order in which they are offered.
    pub const ALL: [Self; 3] = [Self::Plain, Self::Tissue, Self::Witnesses];

    /// Its name on the screen.
    pub fn label(self) -> &'static str {
        match self {
            Self::Plain => say!("Plain ground"),
            Self::Tissue => say!("Tissue"; "a tint of the ground"),
            Self::Witnesses => say!("Witnesses"; "a tint of the ground"),
        }
    }

    /// A word for it that stays the same.
    pub fn key(self) -> &'static str {
        match self {
            Self::Plain => "plain",
            Self::Tissue => "tissue",
            Self::Witnesses => "witnesses",
        }
    }

    /// The underlay of a key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|one| one.key() == key)
    }
}

/// One class of the tinted ground: a line of its legend.
#[derive(Clone, Debug, PartialEq)]
pub struct Shade {
    /// How it is tinted, 0 (least) to 3; none: paper, since nobody can tell.
    pub step: Option<u8>,
    /// Its short words.
    pub label: String,
    /// Ground of it, square metres.
    pub area_m2: f64,
}

/// The tint of every cell of the ground.
#[derive(Clone, Debug)]
pub struct Wash {
    title: String,
    notes: Vec<String>,
    shades: Vec<Shade>,
    lattice: Option<Lattice>,
    codes: Vec<u8>,
}

/// What a wash is made from.
#[derive(Clone, Copy, Debug)]
pub struct WashSources<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// The disease.
    pub disease: &'a str,
    /// The report on it, where there is one.
    pub report: Option<&'a Report>,
    /// The pressure that the report found, where it has a fit.
    pub field: Option<&'a Field>,
}

/// Cells at most that the ground is drawn with.
const MOST_DRAWN: usize = 320_000;
/// Parts of a cell's side at most.
const MOST_PARTS: usize = 8;
/// Shares between the classes of the witness share.
const SHARES: [f64; 3] = [0.25, 0.5, 0.75];

impl Wash {
    /// Tints the ground; none where it stays plain. `rounds` are those that the moment may name.
    pub fn of(
        sources: WashSources<'_>,
        underlay: Underlay,
        moment: &Moment,
        rounds: &[Round],
    ) -> Option<Self> {
        let WashSources { plot, disease, report, field } = sources;
        if underlay == Underlay::Plain {
            return None;
        }
        let limits = match underlay {
            Underlay::Witnesses => SHARES,
            _ => doublings(field.map_or(1.0, Field::most_tissue)),
        };
        let mut shades = shades(underlay, limits);
        let unknown = if report.is_some() { say!("cannot tell") } else { say!("not judged yet") };
        shades.push(Shade { step: None, label: unknown.to_owned(), area_m2: 0.0 });
        let mut wash = Self {
            title: title(plot, disease, underlay, moment, rounds),
            notes: notes(underlay),
            shades,
            lattice: None,
            codes: Vec::new(),
        };
        if let Some(field) = field {
            let values = field.values(underlay, moment.span(rounds));
            wash.tint(field.lattice(), &values, &limits);
        }
        Some(wash)
    }

    /// Draws contours between the cells' middles on finer cells.
    fn tint(&mut self, coarse: Lattice, values: &[Option<f64>], limits: &[f64]) {
        let parts = (1..=MOST_PARTS).rfind(|parts| coarse.cells() * parts * parts <= MOST_DRAWN);
        let parts = parts.unwrap_or(1);
        let fine = coarse.refined(parts);
        let unknown = limits.len() as u8 + 1;
        let between = |cells: usize| move |at: usize| Between::of(at, parts, cells);
        let along: Vec<Between> = (0..fine.columns).map(between(coarse.columns)).collect();
        self.codes.reserve(fine.cells());
        for across in (0..fine.rows).map(between(coarse.rows)) {
            let line = |row: usize| &values[row * coarse.columns..][..coarse.columns];
            let pairs = line(across.low).iter().zip(line(across.high));
            let mixed: Vec<[f64; 2]> =
                pairs.map(|(low, high)| across.mix(told(*low), told(*high))).collect();
            for along in &along {
                let [value, told] = along.mix(mixed[along.low], mixed[along.high]);
                let class = |value: f64| limits.partition_point(|limit| *limit <= value) as u8;
                self.codes.push(if told < 0.5 { unknown } else { class(value / told) });
            }
        }
        let area_m2 = fine.side_m * fine.side_m;
        let mut cells = vec![0_usize; self.shades.len()];
        self.codes.iter().for_each(|code| cells[usize::from(*code)] += 1);
        for (shade, cells) in self.shades.iter_mut().zip(cells) {
            shade.area_m2 = cells as f64 * area_m2;
        }
        self.lattice = Some(fine);
    }

    /// What it shows, in a few words.
    pub fn title(&self) -> &str {
        &self.title
    }

    /// What one must know to read it.
    pub fn notes(&self) -> &[String] {
        &self.notes
    }

    /// The classes that the legend lists: all tints, and paper where there is some.
    pub fn legend(&self) -> impl Iterator<Item = &Shade> {
        let nowhere = self.codes.is_empty();
        self.shades.iter().filter(move |one| nowhere || one.step.is_some() || one.area_m2 > 0.0)
    }

    /// All its classes by code, the last being that nobody can tell.
    pub fn shades(&self) -> &[Shade] {
        &self.shades
    }

    /// The drawn cells and their codes, row by row; none where nothing is known anywhere.
    pub fn cells(&self) -> Option<(Lattice, &[u8])> {
        Some((self.lattice?, &self.codes))
    }

    /// The ink of a code.
    pub fn ink(&self, code: u8) -> Ink {
        self.shades[usize::from(code)].step.map_or(Ink::Paper, Ink::Tint)
    }
}

impl Shade {
    /// Its mark in a legend: a square of the tint.
    pub fn look(&self) -> Look {
        let fill = self.step.map_or(Ink::Paper, Ink::Tint);
        Look { shape: Shape::Square, fill, line: Ink::Faint, size: 1.0 }
    }

    /// Its ground in words: `under 1 m²`, `1,240 m²`, `3.2 ha`.
    pub fn area(&self) -> String {
        match self.area_m2 {
            0.0 => say!("0\u{a0}m²").to_owned(),
            tiny if tiny < 1.0 => say!("under 1\u{a0}m²").to_owned(),
            small if small < 10_000.0 => say!("{area:.0}\u{a0}m²", area = small),
            large => say!("{area:.1}\u{a0}ha", area = large / 10_000.0),
        }
    }
}

/// Where the middle of a part lies between the middles of two cells.
#[derive(Clone, Copy, Debug)]
struct Between {
    low: usize,
    high: usize,
    way: f64,
}

impl Between {
    fn of(part: usize, parts: usize, cells: usize) -> Self {
        let at = (part as f64 + 0.5) / parts as f64 - 0.5;
        let at = at.clamp(0.0, (cells - 1) as f64);
        let low = at as usize;
        Self { low, high: (low + 1).min(cells - 1), way: at - low as f64 }
    }

    fn mix(self, low: [f64; 2], high: [f64; 2]) -> [f64; 2] {
        let mix = |low: f64, high: f64| low + (high - low) * self.way;
        [mix(low[0], high[0]), mix(low[1], high[1])]
    }
}

/// A value, and 1 where it is known.
fn told(value: Option<f64>) -> [f64; 2] {
    value.map_or([0.0, 0.0], |value| [value, 1.0])
}

/// Three limits of 1, 2 or 5 times a power of ten, each about double the one below, the upper at
/// half of `most` or below: pressure halves over one half-distance, so that a class is about as
/// wide.
fn doublings(most: f64) -> [f64; 3] {
    let most = if most > 0.0 { most / 2.0 } else { 1.0 };
    let power = libm::floor(libm::log10(most)) as i32;
    let series = (power - 2..=power).flat_map(|power| {
        // Division by a whole power keeps 0.1 what is written as 0.1.
        let scale = libm::pow(10.0, f64::from(power.abs()));
        let times = move |times: f64| if power < 0 { times / scale } else { times * scale };
        [1.0, 2.0, 5.0].map(times)
    });
    let below: Vec<f64> = series.filter(|limit| *limit <= most).collect();
    let [.., a, b, c] = below[..] else { return [0.25, 0.5, 1.0] };
    [a, b, c]
}

fn shades(underlay: Underlay, limits: [f64; 3]) -> Vec<Shade> {
    let words = |limit: f64| match underlay {
        Underlay::Witnesses => percent(limit),
        _ => number(limit),
    };
    let [low, middle, high] = limits.map(words);
    let labels = [
        say!("under {high}", high = low),
        words::from_to(&low, &middle),
        words::from_to(&middle, &high),
        say!("{low} and more", low = high),
    ];
    let shade = |(step, label)| Shade { step: Some(step), label, area_m2: 0.0 };
    (0..).zip(labels).map(shade).collect()
}

/// `Ground, diseased tissue around: scab, season 2031 up to 2 July 2031`.
fn title(
    plot: &Plot,
    disease: &str,
    underlay: Underlay,
    moment: &Moment,
    rounds: &[Round],
) -> String {
    let (disease, when) = (words::disease(plot, disease), moment.as_known(plot, rounds));
    match underlay {
        Underlay::Witnesses => say!("Ground, witness share: {disease}, {when}"),
        _ => say!("Ground, diseased tissue around: {disease}, {when}"),
    }
}

fn notes(underlay: Underlay) -> Vec<String> {
    let what = match underlay {
        Underlay::Witnesses => {
            say!(
                "The ground is tinted by the share infected among the trees near a spot that could \
                 have been, near ones counting more."
            )
        }
        _ => {
            say!(
                "The ground is tinted by the diseased tissue of the trees near a spot, near ones \
                 counting more. 1 is as much as one tree diseased all over that stands right there."
            )
        }
    };
    vec![
        what.to_owned(),
        say!(
            "It shows what scores had told by then; all rounds together show the worst season of \
             each spot. Where hardly a tree near was scored, or could have told, it stays paper."
        )
        .to_owned(),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_double_below_half_of_the_most() {
        let check = |most: f64, limits: [f64; 3]| assert_eq!(doublings(most), limits, "{most}");
        check(1.0, [0.1, 0.2, 0.5]);
        check(0.9, [0.05, 0.1, 0.2]);
        check(5.0, [0.5, 1.0, 2.0]);
        check(0.03, [0.002, 0.005, 0.01]);
        check(70.0, [5.0, 10.0, 20.0]);
        check(0.0, [0.2, 0.5, 1.0]);
    }

    #[test]
    fn between_two_middles_values_run_evenly_and_the_unknown_stays_so() {
        let coarse =
            Lattice { corner: plot::Spot { x_m: 0.0, y_m: 0.0 }, side_m: 4.0, columns: 3, rows: 1 };
        let mut wash = Wash {
            title: String::new(),
            notes: Vec::new(),
            shades: shades(Underlay::Witnesses, SHARES),
            lattice: None,
            codes: Vec::new(),
        };
        wash.shades.push(Shade { step: None, label: String::new(), area_m2: 0.0 });
        wash.tint(coarse, &[Some(0.0), Some(1.0), None], &SHARES);
        let (fine, codes) = wash.cells().expect("cells");
        assert_eq!((fine.columns, fine.rows), (24, 8));
        // Middles at 4 and 12 of 24: sixteenths between them; beyond 16 nobody can tell.
        let expected = [0, 0, 0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 4];
        assert_eq!(codes[..24], expected);
        let area: f64 = wash.shades().iter().map(|shade| shade.area_m2).sum();
        assert!((area - 48.0).abs() < 1e-9);
    }
}
