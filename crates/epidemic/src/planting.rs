//! Plants the plot: who stands where, since when, of which genotype.

use plot::{CrossKey, GenotypeId, Layout, Role, Spot, Status, TreeDraft, TreeId, TreeIx};
use time::{Date, Month};

use crate::draw::Draw;
use crate::{Checks, Order, Planting, Recipe};

mod grafts;
mod later;

/// A genotype before anything is known of its genes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Origin {
    /// A seedling of a family; whether its parents were written down.
    Seedling { family: usize, recorded: bool },
    /// The susceptible check sort.
    SusceptibleCheck,
    /// The resistant check sort.
    ResistantCheck,
    /// The sort that carries grafts.
    Carrier,
}

/// A tree or graft of the plot.
pub(crate) struct Stand {
    pub(crate) draft: TreeDraft,
    pub(crate) spot: Spot,
    /// Its genotype; none for a place with nothing in it.
    pub(crate) genotype: Option<usize>,
    /// Seasons in which it stands: from, up to but without.
    pub(crate) seasons: (usize, usize),
}

impl Stand {
    pub(crate) fn stands(&self, season: usize) -> bool {
        self.genotype.is_some() && (self.seasons.0..self.seasons.1).contains(&season)
    }
    /// Whether anyone scores it.
    pub(crate) fn is_looked_at(&self, season: usize) -> bool {
        self.stands(season) && self.draft.role != Role::Guard
    }
}

/// A copy that is grafted on a tree of a made-up plot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Graft {
    /// Of which tree.
    pub of: TreeIx,
    /// On which tree.
    pub on: TreeIx,
    /// The first season in which it stands, counted from 0.
    pub season: usize,
}

/// The planted plot.
pub(crate) struct Planted {
    pub(crate) stands: Vec<Stand>,
    /// How many of the stands were not grafted later.
    pub(crate) first: usize,
    /// What was grafted later, in the order of the stands behind these.
    pub(crate) grafts: Vec<Graft>,
    pub(crate) genotypes: Vec<Origin>,
}

/// Plants a recipe.
pub(crate) fn plant(recipe: &Recipe, layout: &Layout, draw: &mut Draw) -> Planted {
    let mut work = Work {
        recipe,
        layout,
        planted: Planted {
            stands: Vec::new(),
            first: 0,
            grafts: Vec::new(),
            genotypes: Vec::new(),
        },
        seedlings_of: vec![0; recipe.planting.crosses.len()],
        sorts: [None; 3],
    };
    let places = work.lay_out(draw);
    let families = work.families(places.iter().filter(|at| at.2.is_none()).count(), draw);
    let mut families = families.into_iter();
    for (row, place, what) in places {
        let origin = match what {
            None => families.next().map(|family| Origin::Seedling {
                family,
                recorded: !draw.chance(recipe.planting.parents_unknown),
            }),
            Some(fixed) => fixed,
        };
        work.put(row, place, origin, draw);
    }
    work.clone_selections(draw);
    work.graft(draw);
    work.replace(draw);
    work.name_genotypes();
    work.planted.first = work.planted.stands.len();
    work.planted
}

/// A place and what is to stand there: none a seedling, some none nothing at all.
type Place = (u32, u32, Option<Option<Origin>>);

struct Work<'a> {
    recipe: &'a Recipe,
    layout: &'a Layout,
    planted: Planted,
    /// Seedlings numbered so far, by family.
    seedlings_of: Vec<u32>,
    /// Genotypes of the two check sorts and of the carrier sort, once planted.
    sorts: [Option<usize>; 3],
}

impl Work<'_> {
    fn planting(&self) -> &Planting {
        &self.recipe.planting
    }

    /// Places in walking order, up one row and down the next.
    fn lay_out(&self, draw: &mut Draw) -> Vec<Place> {
        let planting = self.planting();
        let mut places: Vec<Place> = (1..=planting.rows)
            .flat_map(|row| {
                let upward = row % 2 == 1;
                (1..=planting.places).map(move |nth| {
                    (row, if upward { nth } else { planting.places + 1 - nth }, None)
                })
            })
            .collect();
        for (checks, origin) in [
            (planting.susceptible_checks.0, Origin::SusceptibleCheck),
            (planting.resistant_checks.0, Origin::ResistantCheck),
        ] {
            match checks {
                Checks::None => {}
                Checks::Every(interval) => {
                    let interval = interval.max(1);
                    // A third on in each row; resistant checks midway between susceptible ones.
                    let start = if origin == Origin::ResistantCheck { interval / 2 } else { 0 };
                    let is_due = |&(row, place, _): &Place| {
                        let shift = row * (interval / 3 + 1) + start;
                        (place + shift).is_multiple_of(interval)
                    };
                    for due in
                        (0..places.len()).filter(|&at| is_due(&places[at])).collect::<Vec<_>>()
                    {
                        // Where another check stands already: the next place that is free.
                        if let Some(place) = places[due..].iter_mut().find(|at| at.2.is_none()) {
                            place.2 = Some(Some(origin));
                        }
                    }
                }
                Checks::Anywhere(count) => {
                    let mut free: Vec<usize> =
                        (0..places.len()).filter(|&at| places[at].2.is_none()).collect();
                    draw.shuffle(&mut free);
                    for &at in free.iter().take(count as usize) {
                        places[at].2 = Some(Some(origin));
                    }
                }
            }
        }
        for (_, _, what) in &mut places {
            if draw.chance(planting.gaps) {
                *what = Some(None);
            }
        }
        places
    }

    /// A family for each of `count` seedlings, in walking order.
    fn families(&self, count: usize, draw: &mut Draw) -> Vec<usize> {
        let crosses = &self.planting().crosses;
        let total: f64 = crosses.iter().map(|cross| cross.size).sum();
        let mut ends: Vec<f64> = Vec::with_capacity(crosses.len());
        for cross in crosses {
            ends.push(ends.last().copied().unwrap_or(0.0) + cross.size / total * count as f64);
        }
        let family_at = |nth: usize| {
            ends.iter().position(|&end| (nth as f64) + 0.5 < end).unwrap_or(crosses.len() - 1)
        };
        let mut families: Vec<usize> = (0..count).map(family_at).collect();
        if self.planting().order == Order::Scattered {
            draw.shuffle(&mut families);
        }
        families
    }

    fn sort(&mut self, origin: Origin) -> usize {
        let nth = match origin {
            Origin::SusceptibleCheck => 0,
            Origin::ResistantCheck => 1,
            Origin::Carrier | Origin::Seedling { .. } => 2,
        };
        *self.sorts[nth].get_or_insert_with(|| {
            self.planted.genotypes.push(origin);
            self.planted.genotypes.len() - 1
        })
    }

    fn sort_name(&self, origin: Origin) -> &str {
        match origin {
            Origin::SusceptibleCheck => &self.planting().susceptible_checks.1,
            Origin::ResistantCheck => &self.planting().resistant_checks.1,
            Origin::Carrier | Origin::Seedling { .. } => &self.planting().graft_carriers.1,
        }
    }

    fn next_id(&self) -> TreeId {
        TreeId::new(format!("T{:04}", self.planted.stands.len() + 1))
    }

    fn put(&mut self, row: u32, place: u32, origin: Option<Origin>, draw: &mut Draw) {
        let mut draft = TreeDraft::new(self.next_id());
        draft.location.row = Some(row as i32);
        draft.location.place = Some(place as i32);
        let genotype = match origin {
            None => {
                draft.status = Status::Empty;
                None
            }
            Some(seedling @ Origin::Seedling { .. }) => {
                self.planted.genotypes.push(seedling);
                self.number(&mut draft, seedling);
                Some(self.planted.genotypes.len() - 1)
            }
            Some(sort) => {
                draft.role = match sort {
                    Origin::SusceptibleCheck => Role::SusceptibleCheck,
                    Origin::ResistantCheck => Role::ResistantCheck,
                    Origin::Carrier | Origin::Seedling { .. } => Role::Guard,
                };
                draft.tag = Some(self.sort_name(sort).into());
                Some(self.sort(sort))
            }
        };
        if genotype.is_some() {
            draft.planted_on = day(self.planting().planted, Month::November, 18);
            self.lose_tag(&mut draft, draw);
        }
        let spot = self.layout.spot(row as i32, place as i32);
        let seasons = (0, self.recipe.seasons);
        self.planted.stands.push(Stand { draft, spot, genotype, seasons });
    }

    /// Tag, number and parents of a new seedling.
    fn number(&mut self, draft: &mut TreeDraft, origin: Origin) {
        let Origin::Seedling { family, recorded } = origin else { return };
        self.seedlings_of[family] += 1;
        let number = self.seedlings_of[family];
        let cross = &self.recipe.planting.crosses[family];
        if recorded {
            draft.tag = Some(format!("{}-{number}", cross.mark).into());
            draft.cross = CrossKey {
                seed_parent: Some(cross.seed_parent.as_str().into()),
                pollen_parent: Some(cross.pollen_parent.as_str().into()),
            };
            draft.cross_year = Some(cross.year);
            draft.seedling_no = Some(number.to_string().into());
        }
    }

    fn lose_tag(&self, draft: &mut TreeDraft, draw: &mut Draw) {
        if draw.chance(self.planting().tags_lost) {
            draft.tag = None;
        }
    }

    /// Gives a name to each genotype that stands more than once.
    fn name_genotypes(&mut self) {
        let mut trees_of = vec![0_u32; self.planted.genotypes.len()];
        self.planted.stands.iter().filter_map(|stand| stand.genotype).for_each(|genotype| {
            trees_of[genotype] += 1;
        });
        for nth in 0..self.planted.stands.len() {
            let Some(genotype) = self.planted.stands[nth].genotype else { continue };
            if trees_of[genotype] < 2 {
                continue;
            }
            let origin = self.planted.genotypes[genotype];
            let name = match origin {
                Origin::Seedling { .. } => format!("selection {}", genotype + 1),
                sort => self.sort_name(sort).to_owned(),
            };
            self.planted.stands[nth].draft.genotype = Some(GenotypeId::new(name));
        }
    }
}

/// A day of the calendar.
fn day(year: i32, month: Month, day: u8) -> Option<Date> {
    Date::from_calendar_date(year, month, day).ok()
}
