//! Vigour on a plot, step by step, so that whoever runs it can tell how far it is.

use std::collections::BTreeMap;

use plot::{CrossKey, GenotypeId, Plot, Season, TraitIx};

use crate::adjust::Adjusting;
use crate::trend::{Stand, Trend};
use crate::{Line, Measured, Ranked, SeasonFit, Vigour, measured};

/// Measures and adjusts a trait of the plot ([`vigour`](crate::vigour)); a step fits one trend to
/// one season.
pub struct Run {
    trait_ix: TraitIx,
    wanted: Option<Trend>,
    names: Names,
    lines: Vec<Line>,
    /// The seasons that wait, in order, with their trees.
    ahead: std::vec::IntoIter<OfSeason>,
    now: Option<(OfSeason, Adjusting)>,
    seasons: Vec<SeasonFit>,
    done: usize,
}

/// One season's lines.
struct OfSeason {
    season: Season,
    /// Lines that have no number.
    missing: usize,
    /// Which lines have one.
    known: Vec<usize>,
    stands: Vec<Stand>,
}

/// How far a run is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Steps done.
    pub done: usize,
    /// Steps in all, at most.
    pub of: usize,
}

impl Progress {
    /// Whether nothing is left to do.
    pub fn is_done(self) -> bool {
        self.done >= self.of
    }
}

impl Run {
    /// Measures; nothing is adjusted yet.
    pub fn new(plot: &Plot, trait_ix: TraitIx, wanted: Option<Trend>) -> Self {
        let lines: Vec<Line> = measured(plot, trait_ix)
            .into_iter()
            .map(|measured| Line { measured, adjusted: None })
            .collect();
        let names = Names::of(plot);
        let mut by_season: BTreeMap<Season, Vec<usize>> = BTreeMap::new();
        for (nth, line) in lines.iter().enumerate() {
            by_season.entry(line.measured.season).or_default().push(nth);
        }
        let of_season = |(season, members): (Season, Vec<usize>)| {
            let stand = |nth: usize| Some((nth, names.stand(plot, &lines[nth].measured)?));
            let (known, stands): (Vec<usize>, Vec<Stand>) =
                members.iter().filter_map(|&nth| stand(nth)).unzip();
            OfSeason { season, missing: members.len() - known.len(), known, stands }
        };
        let ahead: Vec<OfSeason> = by_season.into_iter().map(of_season).collect();
        let ahead = ahead.into_iter();
        let seasons = Vec::new();
        Self { trait_ix, wanted, names, lines, ahead, now: None, seasons, done: 0 }
    }

    /// Fits the next trend.
    pub fn step(&mut self) -> Progress {
        if self.now.is_none() {
            self.now = self.ahead.next().map(|mut of_season| {
                let stands = std::mem::take(&mut of_season.stands);
                (of_season, Adjusting::new(stands, self.wanted))
            });
        }
        if let Some((of_season, mut adjusting)) = self.now.take() {
            adjusting.step();
            self.done += 1;
            match adjusting.is_done() {
                true => self.take(&of_season, adjusting),
                false => self.now = Some((of_season, adjusting)),
            }
        }
        self.progress()
    }

    fn progress(&self) -> Progress {
        let now = self.now.as_ref().map_or(0, |(_, adjusting)| adjusting.ahead());
        let each = Adjusting::new(Vec::new(), self.wanted).ahead();
        Progress { done: self.done, of: self.done + now + each * self.ahead.len() }
    }

    fn take(&mut self, of_season: &OfSeason, adjusting: Adjusting) {
        let fit = adjusting.finish();
        for (&nth, &value) in of_season.known.iter().zip(&fit.trees) {
            self.lines[nth].adjusted = Some(value);
        }
        let genotype =
            |(number, ranked): (usize, Ranked)| (self.names.genotypes[number].clone(), ranked);
        let cross =
            |(number, ranked): (usize, Ranked)| (self.names.crosses[number].clone(), ranked);
        self.seasons.push(SeasonFit {
            season: of_season.season,
            trees: of_season.known.len(),
            missing: of_season.missing,
            trend: fit.trend,
            tried: fit.tried,
            variances: fit.variances,
            genotypes: fit.genotypes.into_iter().map(genotype).collect(),
            crosses: fit.crosses.into_iter().map(cross).collect(),
        });
    }

    /// What was found; of seasons that were not reached, what was measured alone.
    pub fn finish(self) -> Vigour {
        Vigour { trait_ix: self.trait_ix, lines: self.lines, seasons: self.seasons }
    }
}

/// Numbers for the names of genotypes and crosses, in their order.
struct Names {
    genotypes: Vec<GenotypeId>,
    crosses: Vec<CrossKey>,
}

impl Names {
    fn of(plot: &Plot) -> Self {
        let mut genotypes: Vec<GenotypeId> =
            plot.trees().iter().map(plot::Tree::genotype).collect();
        let known = plot.trees().iter().map(plot::Tree::cross).filter(|cross| !cross.is_unknown());
        let mut crosses: Vec<CrossKey> = known.cloned().collect();
        genotypes.sort();
        genotypes.dedup();
        crosses.sort();
        crosses.dedup();
        Self { genotypes, crosses }
    }

    fn stand(&self, plot: &Plot, measured: &Measured) -> Option<Stand> {
        let tree = plot.tree(measured.tree);
        Some(Stand {
            number: measured.number()?,
            x_m: tree.spot().x_m,
            y_m: tree.spot().y_m,
            cell: tree.row().zip(tree.place()),
            genotype: self.genotypes.binary_search(&tree.genotype()).ok()?,
            cross: self.crosses.binary_search(tree.cross()).ok(),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{field, score};

    #[test]
    fn each_step_is_counted_and_the_end_is_told_once() {
        let check = |wanted: Option<Trend>, trees: i32, steps: &[(usize, usize)]| {
            let mut plot = field(1, trees);
            for place in 1..=trees {
                let own = Some(20.0 + f64::from(place * 29 % 17));
                for season in ["2030-10-01", "2031-10-01"] {
                    score(&mut plot, &format!("T1-{place}"), "trunk_diameter", own, season);
                }
            }
            let ix = plot.trait_ix("trunk_diameter").expect("a trait");
            let mut run = Run::new(&plot, ix, wanted);
            for &(done, of) in steps {
                assert_eq!(run.step(), Progress { done, of }, "{wanted:?}");
            }
            assert!(run.step().is_done(), "{wanted:?}");
            assert_eq!(run.finish(), crate::vigour(&plot, ix, wanted));
        };
        let eight: Vec<(usize, usize)> = (1..=8).map(|done| (done, 8)).collect();
        check(None, 12, &eight);
        check(Some(Trend::None), 12, &[(1, 2), (2, 2)]);
        // One row alone has neither surface nor rows: all that are simpler are tried.
        let six: Vec<(usize, usize)> = (1..=6).map(|done| (done, 6)).collect();
        check(Some(Trend::Surface), 12, &six);
        // What was asked for can be had: the simpler one falls away.
        check(Some(Trend::Papadakis), 12, &[(1, 3), (2, 2)]);
    }

    #[test]
    fn nothing_measured_is_done_at_once() {
        let plot = field(1, 3);
        let ix = plot.trait_ix("trunk_diameter").expect("a trait");
        let mut run = Run::new(&plot, ix, None);
        assert_eq!(run.step(), Progress { done: 0, of: 0 });
        let found = run.finish();
        assert!(found.lines.is_empty() && found.seasons.is_empty());
    }
}
