//! Sprayed trees: what they show after a spray is no test, unless the spray let the disease through.

use plot::{Event, Plot, Role};

use super::{Case, Readings, SeasonSpan};

/// Share of sprayed trees above which a spray let the disease through: that of a season that is a
/// fair test. *Common practice, no source.*
const THROUGH_ABOVE: f64 = 0.3;
/// Sprayed susceptible checks that can tell it by themselves. *Common practice, no source.*
const ENOUGH_CHECKS: u32 = 3;

/// The sprays of a plot.
pub(super) struct Sprays<'a> {
    plot: &'a Plot,
    sprays: Vec<&'a Event>,
}

/// How many looked at after a spray, and how many of them took the disease after it.
#[derive(Clone, Copy, Default)]
struct Share {
    all: u32,
    infected: u32,
}

impl Share {
    fn add(&mut self, infected: bool) {
        self.all += 1;
        self.infected += u32::from(infected);
    }

    fn is_through(self) -> bool {
        f64::from(self.infected) > THROUGH_ABOVE * f64::from(self.all)
    }
}

impl<'a> Sprays<'a> {
    pub(super) fn of(plot: &'a Plot) -> Self {
        Self { plot, sprays: plot.events().iter().filter(|event| event.is_spray()).collect() }
    }

    /// The first round of a season whose look came after a spray of the row: a round of several
    /// days counts as after it from its last day on.
    pub(super) fn cut(&self, case: &Case, span: &SeasonSpan, row: Option<i32>) -> Option<usize> {
        let (first, last) = span.season.days(self.plot.head().season_starts_month);
        let of_season = |event: &&&Event| event.to >= first && event.from <= last;
        let of_row = self.sprays.iter().filter(|event| event.concerns(row));
        let from = of_row.filter(of_season).map(|event| event.from).min()?;
        (span.first..span.end).find(|&at| case.rounds[at].last_day >= from)
    }

    /// By season: whether its sprays held the disease off, so that what sprayed trees showed after
    /// them is no test.
    pub(super) fn held(&self, case: &Case, readings: &[Readings]) -> Vec<bool> {
        let holds = |span: &SeasonSpan| {
            let (mut checks, mut trees) = (Share::default(), Share::default());
            for (site, readings) in case.sites.iter().zip(readings) {
                let row = self.plot.tree(site.tree).row();
                let Some(cut) = self.cut(case, span, row) else { continue };
                let looks = |at: usize| readings.severity[at];
                if (span.first..cut).filter_map(looks).any(|severity| severity > 0.0) {
                    continue;
                }
                let mut after = (cut..span.end).filter_map(looks).peekable();
                if after.peek().is_none() {
                    continue;
                }
                let infected = after.any(|severity| severity > 0.0);
                trees.add(infected);
                if site.role == Role::SusceptibleCheck {
                    checks.add(infected);
                }
            }
            trees.all > 0
                && !(trees.is_through() || checks.all >= ENOUGH_CHECKS && checks.is_through())
        };
        case.seasons.iter().map(holds).collect()
    }
}
