//! What the scores say about one disease, laid out for the fit: who stood where, which genotype
//! it is, and in which interval of each season it was infected or stayed clean.

mod sprays;

use std::collections::{BTreeMap, HashMap};

use plot::disease::Reach;
use plot::{
    CrossKey, GenotypeId, Plot, Role, Round, Score, Season, Status, TraitIx, Tree, TreeIx, When,
};

use crate::surroundings::Surroundings;
use crate::{Options, Part};
use sprays::Sprays;

/// One disease in one plot, as numbers. Sites are the trees with at least one usable score,
/// ordered by tree id, so that nothing depends on the order of lines in a file.
#[derive(Clone, Debug)]
pub(crate) struct Case {
    pub(crate) disease: String,
    pub(crate) reach: Reach,
    pub(crate) rounds: Vec<Round>,
    pub(crate) seasons: Vec<SeasonSpan>,
    pub(crate) sites: Vec<Site>,
    pub(crate) groups: Vec<Group>,
    pub(crate) families: Vec<Family>,
}

/// A season and its rounds, as a range into [`Case::rounds`].
#[derive(Clone, Copy, Debug)]
pub(crate) struct SeasonSpan {
    pub(crate) season: Season,
    pub(crate) first: usize,
    pub(crate) end: usize,
    /// Susceptible checks that were scored.
    pub(crate) checks_scored: usize,
    /// Of these, seen infected.
    pub(crate) checks_infected: usize,
}

impl SeasonSpan {
    fn starting(season: Season, first: usize) -> Self {
        Self { season, first, end: first + 1, checks_scored: 0, checks_infected: 0 }
    }

    /// Susceptible checks were scored, and none took the disease.
    pub(crate) fn is_quiet(&self) -> bool {
        self.checks_scored > 0 && self.checks_infected == 0
    }
}

/// A scored tree.
#[derive(Clone, Debug)]
pub(crate) struct Site {
    pub(crate) tree: TreeIx,
    pub(crate) x_m: f64,
    pub(crate) y_m: f64,
    pub(crate) role: Role,
    /// Whether it stands today.
    pub(crate) is_standing: bool,
    /// By season: log of its vigour, in standard deviations from the season's mean; 0 where it is
    /// not known.
    pub(crate) vigour: Vec<f64>,
    pub(crate) group: usize,
    pub(crate) histories: Vec<History>,
    /// Seasons in which clean looks after a spray were left out.
    pub(crate) sprayed: Vec<usize>,
    pub(crate) rounds_scored: usize,
    /// The reading of the highest severity; of a clean tree, a clean one.
    pub(crate) worst: Sighting,
    /// The day of the first infected reading.
    pub(crate) first_infected: Option<When>,
    /// The sites among the [`FACTS_LOOK_AT`] trees nearest to it.
    pub(crate) nearby: Vec<usize>,
    /// The living trees among these without any usable score.
    pub(crate) unscored_nearby: Vec<Unscored>,
    /// The nearest site seen infected and its distance in metres.
    pub(crate) nearest_infected: Option<(usize, f64)>,
}

impl Site {
    /// The histories that tell how hard disease pressed.
    pub(crate) fn tests(&self) -> impl Iterator<Item = &History> {
        self.histories.iter().filter(|history| !history.is_untested)
    }
}

/// A living tree without any usable score near a scored one.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Unscored {
    pub(crate) tree: TreeIx,
    /// Its way from the scored one along the row and across it, metres.
    pub(crate) along_m: f64,
    pub(crate) across_m: f64,
    /// What is known of it; none: of a family of which nobody was scored.
    pub(crate) standing: Option<Standing>,
}

/// Nearest trees that the plain facts look at.
const FACTS_LOOK_AT: usize = 8;
/// Nearest trees among which the nearest infected one is looked for.
const INFECTED_WITHIN: usize = 64;

/// A score and the severity it stands for.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Sighting {
    pub(crate) trait_ix: TraitIx,
    pub(crate) score: f64,
    pub(crate) severity: f64,
}

/// One tree in one season. Rounds are indices into [`Case::rounds`]: the tree was at risk from
/// `start`, still clean when round `clean_end - 1` was scored, and first seen infected in round
/// `infected`, if ever. Rounds between were not scored: they widen the interval. The last round in
/// which it was scored at all is `scored_end - 1`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct History {
    pub(crate) season: usize,
    pub(crate) start: usize,
    pub(crate) clean_end: usize,
    pub(crate) infected: Option<usize>,
    pub(crate) scored_end: usize,
    /// Worst severity of the season in thousandths, for the inoculum it gave.
    pub(crate) severity_permille: u16,
    /// Seen infected only after a spray that held the disease off. Since clean looks after it are no
    /// test, neither is this: it gives inoculum, and tells nothing of how hard disease pressed.
    pub(crate) is_untested: bool,
}

impl History {
    /// Worst severity of the season, 0 to 1.
    pub(crate) fn severity(&self) -> f64 {
        f64::from(self.severity_permille) / 1000.0
    }

    /// The rounds within which infection happened; empty for a season that stayed clean.
    pub(crate) fn interval(&self) -> std::ops::Range<usize> {
        self.clean_end..self.infected.map_or(self.clean_end, |round| round + 1)
    }
}

/// Copies of one genotype: one hidden state.
#[derive(Clone, Debug)]
pub(crate) struct Group {
    pub(crate) genotype: GenotypeId,
    pub(crate) sites: Vec<usize>,
    pub(crate) standing: Standing,
}

/// What is known of a genotype before its own scores.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Standing {
    /// One of a family whose share of resistant members is to be estimated.
    Member(usize),
    /// Declared a susceptible check.
    Susceptible,
    /// Declared a resistant check.
    Resistant,
}

/// Genotypes that share one unknown share of resistant members.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Family {
    pub(crate) kin: Kin,
    /// The share that the breeder expects.
    pub(crate) expected: Option<f64>,
}

/// What makes a family.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kin {
    /// Seedlings of one cross.
    Cross(CrossKey),
    /// Seedlings whose parents are unknown.
    Unknown,
    /// Named sorts and guards.
    Named,
}

impl Case {
    pub(crate) fn gather(plot: &Plot, disease: &str, options: &Options) -> Self {
        let traits = plot.traits_of_disease(disease);
        let in_seasons = |score: &Score| {
            options.seasons.is_empty() || options.seasons.contains(&plot.season_of(score))
        };
        let wanted = |score: &Score| traits.contains(&score.trait_ix) && in_seasons(score);
        let rounds = plot.rounds(wanted);
        let round_at: HashMap<_, usize> = rounds
            .iter()
            .enumerate()
            .map(|(at, round)| ((round.season, round.key.clone()), at))
            .collect();
        let seasons = spans(&rounds);

        let mut trees: Vec<(TreeIx, &Tree)> =
            plot.trees_ix().filter(|(_, tree)| tree.status() != Status::Empty).collect();
        trees.sort_by(|a, b| a.1.id().cmp(b.1.id()));

        let mut case = Self {
            disease: disease.to_owned(),
            reach: plot.disease(disease).map(|it| it.reach.clone()).unwrap_or_default(),
            rounds,
            seasons,
            sites: Vec::new(),
            groups: Vec::new(),
            families: Vec::new(),
        };
        let mut group_of: BTreeMap<GenotypeId, usize> = BTreeMap::new();
        let mut of_sites: Vec<Readings> = Vec::new();
        for (ix, tree) in trees {
            let mut readings = Readings::new(case.rounds.len());
            for (_, score) in plot.scores_of(ix).filter(|(_, score)| wanted(score)) {
                let (season, key) = plot.round_key_of(score);
                let seen = plot.shown_severity(score);
                if let (Some(severity), Some(&at)) = (seen, round_at.get(&(season, key))) {
                    readings.add(at, score, severity);
                }
            }
            let Some(worst) = readings.worst else { continue };
            let site = case.sites.len();
            let genotype = tree.genotype();
            let group = *group_of.entry(genotype.clone()).or_insert_with(|| {
                case.groups.push(Group {
                    genotype,
                    sites: Vec::new(),
                    standing: Standing::Resistant,
                });
                case.groups.len() - 1
            });
            case.groups[group].sites.push(site);
            case.sites.push(Site {
                tree: ix,
                x_m: tree.spot().x_m,
                y_m: tree.spot().y_m,
                role: tree.role(),
                is_standing: tree.status() == Status::Alive,
                vigour: Vec::new(),
                group,
                histories: Vec::new(),
                sprayed: Vec::new(),
                rounds_scored: readings.severity.iter().flatten().count(),
                worst,
                first_infected: readings.first_infected,
                nearby: Vec::new(),
                unscored_nearby: Vec::new(),
                nearest_infected: None,
            });
            of_sites.push(readings);
        }
        case.tell_histories(plot, &of_sites);
        case.count_checks();
        case.settle_standings(plot, options.without.contains(&Part::CrossShares));
        case.look_around(plot, options.without.contains(&Part::CrossShares));
        case.measure_vigour(plot);
        case
    }

    /// Whether any tree's vigour is known.
    pub(crate) fn knows_vigour(&self) -> bool {
        self.sites.iter().any(|site| site.vigour.iter().any(|vigour| *vigour != 0.0))
    }

    fn count_checks(&mut self) {
        for site in self.sites.iter().filter(|site| site.role == Role::SusceptibleCheck) {
            for history in site.tests() {
                let span = &mut self.seasons[history.season];
                span.checks_scored += 1;
                span.checks_infected += usize::from(history.infected.is_some());
            }
        }
    }

    /// Notes each site's vigour in each season: the last measurement up to then, else the first
    /// after it.
    fn measure_vigour(&mut self, plot: &Plot) {
        let trait_ix = plot.vigour_trait();
        for (nth, span) in self.seasons.iter().enumerate() {
            let logs: Vec<Option<f64>> = self
                .sites
                .iter()
                .map(|site| {
                    let measured = plot
                        .scores_of(site.tree)
                        .filter(|(_, score)| Some(score.trait_ix) == trait_ix)
                        .filter_map(|(_, score)| Some((plot.season_of(score), score.value?)))
                        .filter(|(_, value)| *value > 0.0);
                    let later =
                        |season: Season| (season > span.season, season.0.abs_diff(span.season.0));
                    let (_, value) = measured.min_by_key(|(season, _)| later(*season))?;
                    Some(libm::log(value))
                })
                .collect();
            let known: Vec<f64> = logs.iter().copied().flatten().collect();
            let mean = known.iter().sum::<f64>() / known.len().max(1) as f64;
            let square = |log: &f64| (log - mean) * (log - mean);
            let sd = (known.iter().map(square).sum::<f64>() / known.len().max(1) as f64).sqrt();
            for (site, log) in self.sites.iter_mut().zip(logs) {
                debug_assert_eq!(site.vigour.len(), nth);
                let apart = log.map_or(0.0, |log| log - mean);
                site.vigour.push(if sd > 0.0 { apart / sd } else { 0.0 });
            }
        }
    }

    /// Notes what stands near each site.
    fn look_around(&mut self, plot: &Plot, one_family: bool) {
        let surroundings = Surroundings::of(plot);
        let site_of: HashMap<TreeIx, usize> =
            self.sites.iter().enumerate().map(|(nth, site)| (site.tree, nth)).collect();
        for (tree, near) in surroundings.nearest_of_all(INFECTED_WITHIN) {
            let Some(&nth) = site_of.get(&tree) else { continue };
            let scored = |(tree, distance_m)| Some((*site_of.get(&tree)?, distance_m));
            let infected = |(site, _): &(usize, f64)| self.sites[*site].first_infected.is_some();
            let nearest_infected = near.iter().copied().filter_map(scored).find(infected);
            let nearest = &near[..near.len().min(FACTS_LOOK_AT)];
            let unscored = nearest
                .iter()
                .map(|(tree, _)| *tree)
                .filter(|tree| !site_of.contains_key(tree))
                .filter(|tree| plot.tree(*tree).status() == Status::Alive);
            let here = plot.tree(tree).spot();
            let unscored = unscored.map(|tree| {
                let one = plot.tree(tree);
                let (along_m, across_m) = (one.spot().x_m - here.x_m, one.spot().y_m - here.y_m);
                Unscored { tree, along_m, across_m, standing: self.standing_of(one, one_family) }
            });
            self.sites[nth].unscored_nearby = unscored.collect();
            let nearby = nearest.iter().copied().filter_map(scored).map(|(site, _)| site);
            self.sites[nth].nearby = nearby.collect();
            self.sites[nth].nearest_infected = nearest_infected;
        }
    }

    /// Sites seen infected that a fit can learn from.
    pub(crate) fn infected(&self) -> usize {
        let learns = |site: &&Site| self.groups[site.group].standing != Standing::Resistant;
        self.sites.iter().filter(learns).filter(|site| site.first_infected.is_some()).count()
    }

    /// What each site showed, season by season, once it is known which sprays held.
    fn tell_histories(&mut self, plot: &Plot, readings: &[Readings]) {
        let sprays = Sprays::of(plot);
        let held = sprays.held(self, readings);
        for (site, readings) in readings.iter().enumerate() {
            let tree = plot.tree(self.sites[site].tree);
            for (nth, held) in held.iter().enumerate() {
                let span = &self.seasons[nth];
                let cut = held.then(|| sprays.cut(self, span, tree.row())).flatten();
                let (history, is_cut) = self.history(nth, readings, tree, cut);
                self.sites[site].histories.extend(history);
                if is_cut {
                    self.sites[site].sprayed.push(nth);
                }
            }
        }
    }

    /// What a tree showed in a season, and whether clean looks were left out: from `cut` on they
    /// are no test, since it had been sprayed.
    fn history(
        &self,
        nth: usize,
        readings: &Readings,
        tree: &Tree,
        cut: Option<usize>,
    ) -> (Option<History>, bool) {
        let span = &self.seasons[nth];
        let planted = tree.draft().planted_on;
        let too_early = |at: &usize| planted.is_some_and(|day| self.rounds[*at].last_day < day);
        let start = (span.first..span.end).find(|at| !too_early(at)).unwrap_or(span.end);
        let (mut clean_end, mut infected, mut scored_end) = (start, None, start);
        let (mut worst, mut is_cut) = (0.0_f64, false);
        for at in start..span.end {
            let Some(severity) = readings.severity[at] else { continue };
            if severity == 0.0 && infected.is_none() && cut.is_some_and(|cut| at >= cut) {
                is_cut = true;
                continue;
            }
            worst = worst.max(severity);
            scored_end = at + 1;
            if infected.is_none() {
                if severity > 0.0 {
                    infected = Some(at);
                } else {
                    clean_end = at + 1;
                }
            }
        }
        let severity_permille = permille(worst);
        let history = (clean_end > start || infected.is_some()).then_some(History {
            season: nth,
            start,
            clean_end,
            infected,
            scored_end,
            severity_permille,
            is_untested: infected.zip(cut).is_some_and(|(at, cut)| at >= cut),
        });
        (history, is_cut)
    }

    /// What would be known of a tree before its first score.
    fn standing_of(&self, tree: &Tree, one_family: bool) -> Option<Standing> {
        match tree.role() {
            Role::SusceptibleCheck => Some(Standing::Susceptible),
            Role::ResistantCheck => Some(Standing::Resistant),
            _ => {
                let kin = kin_of(tree, one_family);
                self.families.iter().position(|it| it.kin == kin).map(Standing::Member)
            }
        }
    }

    /// Families in the order of their kin, whatever the order of trees.
    fn settle_standings(&mut self, plot: &Plot, one_family: bool) {
        let kin_of = |tree: &Tree| kin_of(tree, one_family);
        let trees = |group: &Group| -> Vec<&Tree> {
            group.sites.iter().map(|&site| plot.tree(self.sites[site].tree)).collect()
        };
        let mut families: BTreeMap<Kin, usize> = BTreeMap::new();
        for group in &self.groups {
            families.entry(kin_of(trees(group)[0])).or_insert(0);
        }
        for (nth, at) in families.values_mut().enumerate() {
            *at = nth;
        }
        let standings: Vec<Standing> = self
            .groups
            .iter()
            .map(|group| {
                let trees = trees(group);
                let any = |role| trees.iter().any(|tree| tree.role() == role);
                if any(Role::SusceptibleCheck) {
                    Standing::Susceptible
                } else if any(Role::ResistantCheck) {
                    Standing::Resistant
                } else {
                    Standing::Member(families[&kin_of(trees[0])])
                }
            })
            .collect();
        for (group, standing) in self.groups.iter_mut().zip(standings) {
            group.standing = standing;
        }
        self.families = families
            .into_keys()
            .map(|kin| Family {
                expected: match &kin {
                    Kin::Cross(key) => plot.expected_resistant(key, &self.disease),
                    Kin::Unknown | Kin::Named => None,
                },
                kin,
            })
            .collect();
    }
}

/// What a tree belongs to; `one_family`: seedlings are all of one.
fn kin_of(tree: &Tree, one_family: bool) -> Kin {
    match tree.role() {
        Role::Named | Role::Guard => Kin::Named,
        _ if one_family || tree.cross().is_unknown() => Kin::Unknown,
        _ => Kin::Cross(tree.cross().clone()),
    }
}

/// A severity in thousandths, rounded up: a trace of disease is never none.
pub(crate) fn permille(severity: f64) -> u16 {
    (severity * 1000.0).ceil() as u16
}

fn spans(rounds: &[Round]) -> Vec<SeasonSpan> {
    let mut spans: Vec<SeasonSpan> = Vec::new();
    for (at, round) in rounds.iter().enumerate() {
        match spans.last_mut() {
            Some(span) if span.season == round.season => span.end = at + 1,
            _ => spans.push(SeasonSpan::starting(round.season, at)),
        }
    }
    spans
}

/// The usable readings of one tree, joined over the traits of the disease.
struct Readings {
    /// By round: the highest severity read.
    severity: Vec<Option<f64>>,
    worst: Option<Sighting>,
    first_infected: Option<When>,
}

impl Readings {
    fn new(rounds: usize) -> Self {
        Self { severity: vec![None; rounds], worst: None, first_infected: None }
    }

    fn add(&mut self, at: usize, score: &Score, severity: f64) {
        self.severity[at] = Some(self.severity[at].unwrap_or(0.0).max(severity));
        let Some(value) = score.value else { return };
        let sighting = Sighting { trait_ix: score.trait_ix, score: value, severity };
        if self.worst.is_none_or(|worst| severity > worst.severity) {
            self.worst = Some(sighting);
        }
        if severity > 0.0
            && self.first_infected.is_none_or(|day| score.scored_on.cmp_in_time(&day).is_lt())
        {
            self.first_infected = Some(score.scored_on);
        }
    }
}

#[cfg(test)]
mod tests;
