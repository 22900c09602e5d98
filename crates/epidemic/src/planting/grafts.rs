//! Copies that are grafted once the plot stands, on what was found out about it.

use plot::{GenotypeId, Refusal, TreeDraft, TreeId, TreeIx};
use time::Month;

use super::{Graft, Planted, Stand, day};
use crate::Recipe;

impl Planted {
    /// Puts them behind everything that stands already.
    ///
    /// # Errors
    /// A graft of or on what is no tree of the plot.
    pub(crate) fn graft_copies(
        &mut self,
        recipe: &Recipe,
        grafts: &[Graft],
    ) -> Result<(), Refusal> {
        for (nth, graft) in grafts.iter().enumerate() {
            let id = self.checked(graft.of)?.id.clone();
            let carrier = self.checked(graft.on)?.id.clone();
            let of = &mut self.stands[graft.of.get()];
            let genotype = of.draft.genotype.get_or_insert(GenotypeId::new(id.as_str())).clone();
            let (origin, from) = (of.genotype, of.draft.clone());
            let mut draft = TreeDraft::new(TreeId::new(format!("G{:04}", nth + 1)));
            draft.genotype = Some(genotype);
            draft.cross = from.cross;
            draft.cross_year = from.cross_year;
            draft.seedling_no = from.seedling_no;
            draft.role = from.role;
            draft.grafted_on = Some(carrier);
            let year = recipe.first_season + graft.season as i32;
            draft.planted_on = day(year, Month::March, 1);
            let spot = self.stands[graft.on.get()].spot;
            let seasons = (graft.season, recipe.seasons);
            self.stands.push(Stand { draft, spot, genotype: origin, seasons });
            self.grafts.push(*graft);
        }
        Ok(())
    }

    fn checked(&self, tree: TreeIx) -> Result<&TreeDraft, Refusal> {
        let stand = self.stands[..self.first].get(tree.get());
        let stand = stand.filter(|stand| stand.genotype.is_some());
        stand.map(|stand| &stand.draft).ok_or_else(|| {
            Refusal::new("grafts", format!("tree {}", tree.get()), "a tree of the plot")
        })
    }

    /// A number for each stand: as drawn for those that were there first; a graft has that of the
    /// tree it is a copy of.
    pub(crate) fn with_grafts<T: Copy>(&self, draw: impl FnOnce(usize) -> Vec<T>) -> Vec<T> {
        let mut numbers = draw(self.first);
        self.add_grafts(&mut numbers, |graft| graft.of);
        numbers
    }

    /// Behind a number for each stand that was there first, one for each graft: that of the tree that
    /// it is `like`.
    pub(crate) fn add_grafts<T: Copy>(
        &self,
        numbers: &mut Vec<T>,
        like: impl Fn(&Graft) -> TreeIx,
    ) {
        let of_grafts: Vec<T> = self.grafts.iter().map(|it| numbers[like(it).get()]).collect();
        numbers.extend(of_grafts);
    }
}
