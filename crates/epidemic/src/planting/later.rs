//! What happens to seedlings after planting: cloned, grafted, replaced.

use plot::{Role, Status, TreeDraft};
use time::Month;

use super::{Origin, Stand, Work, day};
use crate::draw::Draw;

impl Work<'_> {
    /// Seedlings standing at their own place, in random order.
    fn some_seedlings(&self, draw: &mut Draw) -> Vec<usize> {
        let is_seedling = |stand: &Stand| {
            stand.draft.role == Role::Seedling
                && stand.genotype.is_some()
                && stand.draft.grafted_on.is_none()
        };
        let stands = &self.planted.stands;
        let mut some: Vec<usize> = (0..stands.len()).filter(|&n| is_seedling(&stands[n])).collect();
        draw.shuffle(&mut some);
        some
    }

    pub(super) fn clone_selections(&mut self, draw: &mut Draw) {
        let Some(copies) = self.planting().copies else { return };
        let some = self.some_seedlings(draw);
        let each = copies.each.max(2) as usize;
        let groups = libm::round(some.len() as f64 * copies.share / each as f64) as usize;
        for group in some.chunks_exact(each).take(groups) {
            for &copy in &group[1..] {
                self.copy_genotype(group[0], copy);
            }
        }
    }

    /// Makes `copy` a copy of `source`.
    fn copy_genotype(&mut self, source: usize, copy: usize) {
        let stands = &mut self.planted.stands;
        let (genotype, from) = (stands[source].genotype, stands[source].draft.clone());
        let to = &mut stands[copy];
        to.genotype = genotype;
        to.draft.cross = from.cross;
        to.draft.cross_year = from.cross_year;
        to.draft.seedling_no = from.seedling_no;
        to.draft.tag = to.draft.tag.take().and(from.tag);
    }

    pub(super) fn graft(&mut self, draw: &mut Draw) {
        let wanted = self.planting().graft_carriers.0 as usize;
        let some = self.some_seedlings(draw);
        let mut sources = some.iter().rev().copied();
        for &trunk in some.iter().take(wanted.min(some.len() / 4)) {
            let carrier = self.sort(Origin::Carrier);
            let name = self.sort_name(Origin::Carrier).to_owned();
            let (id, spot, planted_on) = {
                let stand = &mut self.planted.stands[trunk];
                let mut draft = TreeDraft::new(stand.draft.id.clone());
                draft.location = stand.draft.location;
                draft.planted_on = stand.draft.planted_on;
                draft.role = Role::Guard;
                draft.tag = Some(name.into());
                stand.draft = draft;
                stand.genotype = Some(carrier);
                (stand.draft.id.clone(), stand.spot, stand.draft.planted_on)
            };
            for source in sources.by_ref().take(3) {
                let mut draft = TreeDraft::new(self.next_id());
                draft.grafted_on = Some(id.clone());
                draft.planted_on = planted_on;
                draft.tag = Some("".into());
                let (genotype, seasons) = (None, (0, self.recipe.seasons));
                self.planted.stands.push(Stand { draft, spot, genotype, seasons });
                let copy = self.planted.stands.len() - 1;
                self.copy_genotype(source, copy);
            }
        }
    }

    pub(super) fn replace(&mut self, draw: &mut Draw) {
        if self.recipe.seasons < 2 {
            return;
        }
        let some = self.some_seedlings(draw);
        let wanted = libm::round(some.len() as f64 * self.planting().replaced) as usize;
        for (nth, &old) in some.iter().take(wanted).enumerate() {
            let season = 1 + draw.below(self.recipe.seasons - 1);
            let year = self.recipe.first_season + season as i32;
            let stand = &mut self.planted.stands[old];
            stand.seasons.1 = season;
            stand.draft.removed_on = day(year - 1, Month::November, 22);
            stand.draft.status = if draw.chance(0.5) { Status::Dead } else { Status::Removed };
            let Some(Origin::Seedling { family, recorded }) =
                stand.genotype.map(|genotype| self.planted.genotypes[genotype])
            else {
                continue;
            };
            if nth % 2 == 0 {
                let mut draft = TreeDraft::new(self.next_id());
                draft.location = self.planted.stands[old].draft.location;
                draft.planted_on = day(year, Month::March, 9);
                let origin = Origin::Seedling { family, recorded };
                self.planted.genotypes.push(origin);
                let genotype = Some(self.planted.genotypes.len() - 1);
                self.number(&mut draft, origin);
                self.lose_tag(&mut draft, draw);
                let spot = self.planted.stands[old].spot;
                let seasons = (season, self.recipe.seasons);
                self.planted.stands.push(Stand { draft, spot, genotype, seasons });
            }
        }
    }
}
