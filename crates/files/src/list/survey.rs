//! Positions given to places, laid over the plot: where the plan lies by them, what is off, whether
//! they tell trees apart, and the edits that take them.

use std::collections::{BTreeMap, HashSet};

use plot::{
    EditPart, Globe, Layout, NoFit, Origin, OriginFit, Plot, Spot, Status, TreeField as F, TreeId,
    TreeIx,
};

use super::Walked;
use super::matching::{Index, Match, MatchBy};

/// Positions laid over a plot.
#[derive(Clone, Debug)]
pub struct Survey {
    /// Every position in walking order.
    pub points: Vec<Point>,
    /// Where the plan lies by them.
    pub fit: Result<OriginFit, NoFit>,
    /// Whether row numbers rise to the right of the way in which place numbers rise; a plan has
    /// them rise to the left, so none fits. The fit is that of the plan turned over.
    pub is_turned_over: bool,
    /// Where the plot is said to lie.
    lies: Option<Origin>,
    layout: Layout,
    fixes: Vec<(Globe, String)>,
    /// What the receiver says of itself, metres in one direction: the median.
    said_m: Option<f64>,
}

/// A position at its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Row number.
    pub row: i32,
    /// Place number.
    pub place: i32,
    /// Its line in the log or list.
    pub line: u64,
    /// Where the plan has the place.
    pub plan: Spot,
    /// How far it was measured from there, along the row and across; none without a fit.
    pub off: Option<Spot>,
    /// Whether it lies farther off than 3.5 standard deviations.
    pub is_suspicious: bool,
    /// Whose position it is.
    pub stands: Stands,
}

/// What a position belongs to.
#[derive(Clone, Debug, PartialEq)]
pub enum Stands {
    /// The tree, or the empty place, that the plot has there.
    Tree(TreeId),
    /// Nothing: the plot has no such place.
    Nothing,
    /// Several trees: nobody can say which.
    Several,
}

/// Nineteen of twenty lie within so many standard deviations.
const NINETEEN_OF_TWENTY: f64 = 1.96;
/// A plan turned over must fit so many times better than the plan itself.
const TURNED_OVER: f64 = 3.0;
/// How a note says where a position comes from.
const NOTED: &str = "position: ";

impl Survey {
    /// Lays them over the plot.
    pub fn new(plot: &Plot, walked: &Walked) -> Self {
        let layout = plot.head().layout;
        let as_is = walked.fit(&layout);
        let over = fit_turned_over(walked, &layout, &as_is);
        let is_turned_over = over.is_some();
        let mut fit = over.map_or(as_is, Ok);
        if let Ok(fit) = &mut fit {
            fit.origin = rounded(fit.origin);
        }
        let index = Index::of(plot, MatchBy::Place);
        let point = |(nth, (row, place, fix)): (usize, &(i32, i32, super::Fix))| {
            let fit = fit.as_ref().ok();
            let off = fit.map(|fit| fit.residuals[nth]);
            Point {
                row: *row,
                place: *place,
                line: fix.line,
                plan: layout.spot(*row, *place),
                // What is off in the plan turned over is off the other way across.
                off: if is_turned_over { off.map(turned_over) } else { off },
                is_suspicious: fit.is_some_and(|fit| fit.suspicious[nth]),
                stands: stands(&index, plot, *row, *place),
            }
        };
        let points = walked.places.iter().enumerate().map(point).collect();
        // North and east together are √2 of one direction.
        let mut said: Vec<f64> = { walked.places.iter() }
            .filter_map(|(.., fix)| fix.sigma_m.map(|both| both / std::f64::consts::SQRT_2))
            .collect();
        said.sort_unstable_by(f64::total_cmp);
        Self {
            points,
            fit,
            is_turned_over,
            lies: plot.head().origin,
            layout,
            fixes: walked.places.iter().map(|(.., fix)| (fix.globe, fix.accuracy())).collect(),
            said_m: said.get(said.len() / 2).copied(),
        }
    }

    /// How far nineteen of twenty positions are off at most, along the row or across, metres: by
    /// what is left over of the fit.
    pub fn left_over_m(&self) -> Option<f64> {
        self.fit.as_ref().ok().map(|fit| fit.sigma_m * NINETEEN_OF_TWENTY)
    }

    /// The same by what is left over or by what the receiver says of itself, whichever is more.
    pub fn error_m(&self) -> Option<f64> {
        let said_m = self.said_m.map(|sigma_m| sigma_m * NINETEEN_OF_TWENTY);
        self.left_over_m().into_iter().chain(said_m).reduce(f64::max)
    }

    /// How many positions are suspicious.
    pub fn far_off(&self) -> usize {
        self.points.iter().filter(|point| point.is_suspicious).count()
    }

    /// Whether the error is at most half of what lies between two places; not known is no.
    pub fn tells_trees_apart(&self) -> bool {
        let half_m = self.layout.place_spacing_m.min(self.layout.row_spacing_m) / 2.0;
        self.error_m().is_some_and(|error_m| error_m <= half_m)
    }

    /// How far places of the plan are apart on the ground, metres: along the row, and rows.
    pub fn spacing_m(&self) -> Option<(f64, f64)> {
        let stretch = self.fit.as_ref().ok()?.stretch;
        Some((self.layout.place_spacing_m * stretch, self.layout.row_spacing_m * stretch))
    }

    /// The points by how far they are off: the suspicious ones first.
    pub fn worst_first(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.points.len()).collect();
        let far = |nth: usize| {
            let point = &self.points[nth];
            let off = point.off.map_or(0.0, |off| off.distance_m(Spot { x_m: 0.0, y_m: 0.0 }));
            (point.is_suspicious, off)
        };
        order.sort_by(|&one, &other| {
            let (one, other) = (far(one), far(other));
            other.0.cmp(&one.0).then(other.1.total_cmp(&one.1))
        });
        order
    }

    /// How far from the fitted place the plot is said to lie, metres at the median place; none
    /// where it is not said, or nothing was fitted.
    pub fn lies_off_m(&self) -> Option<f64> {
        let (Ok(fit), Some(lies)) = (&self.fit, self.lies) else { return None };
        let mut off: Vec<f64> = { self.points.iter() }
            .map(|point| {
                let globe = fit.origin.globe_from_plot(self.fitted(point.plan));
                lies.plot_from_globe(globe).distance_m(self.fitted(point.plan))
            })
            .collect();
        off.sort_unstable_by(f64::total_cmp);
        off.get(off.len() / 2).copied()
    }

    /// Where the plot lies by the fit, as an edit; none where no plan fits.
    pub fn lie(&self) -> Option<EditPart> {
        let fit = self.fit.as_ref().ok().filter(|_| !self.is_turned_over)?;
        Some(EditPart::lie(&fit.origin))
    }

    /// The measured positions of trees in metres of the plot, as an edit, and how many trees get
    /// one; those far off only where they are wanted. A plot that lies nowhere gets the fitted
    /// origin with it. Of a place measured several times the mean counts. None where the plot lies
    /// nowhere and nothing was fitted.
    pub fn stand(&self, plot: &Plot, far_off_too: bool) -> Option<(Vec<EditPart>, usize)> {
        let origin = self.origin()?;
        let mut parts = Vec::new();
        if self.lies.is_none() {
            parts.push(EditPart::lie(&origin));
        }
        let mut measured: BTreeMap<TreeIx, Vec<usize>> = BTreeMap::new();
        for (id, nth) in self.measured(far_off_too) {
            if let Some(ix) = plot.tree_ix(id.as_str()) {
                measured.entry(ix).or_default().push(nth);
            }
        }
        for (ix, of_it) in &measured {
            let tree = plot.tree(*ix);
            let spots: Vec<Spot> =
                of_it.iter().map(|&nth| origin.plot_from_globe(self.fixes[nth].0)).collect();
            let mean =
                |of: fn(&Spot) -> f64| spots.iter().map(of).sum::<f64>() / spots.len() as f64;
            let spot = Spot { x_m: mean(|spot| spot.x_m), y_m: mean(|spot| spot.y_m) }.to_mm();
            let set = |field, to: String| EditPart::set(tree.id(), field, to);
            parts.push(set(F::X, spot.x_m.to_string()));
            parts.push(set(F::Y, spot.y_m.to_string()));
            let accuracy = of_it.last().map_or("", |&nth| &self.fixes[nth].1);
            if !accuracy.is_empty() {
                let note = F::Note.of(tree);
                let kept = note.split("; ").filter(|it| !it.is_empty() && !it.starts_with(NOTED));
                let said = format!("{NOTED}{accuracy}");
                parts.push(set(F::Note, kept.chain([&*said]).collect::<Vec<_>>().join("; ")));
            }
        }
        (!measured.is_empty()).then_some((parts, measured.len()))
    }

    /// How many trees [`stand`](Self::stand) gives a position.
    pub fn trees(&self, far_off_too: bool) -> usize {
        let trees: HashSet<&TreeId> = self.measured(far_off_too).map(|(id, _)| id).collect();
        self.origin().map_or(0, |_| trees.len())
    }

    /// The trees that were measured, each with the point.
    fn measured(&self, far_off_too: bool) -> impl Iterator<Item = (&TreeId, usize)> {
        let is_taken = move |point: &Point| far_off_too || !point.is_suspicious;
        self.points.iter().enumerate().filter_map(move |(nth, point)| match &point.stands {
            Stands::Tree(id) if is_taken(point) => Some((id, nth)),
            _ => None,
        })
    }

    /// What positions in metres are measured from.
    fn origin(&self) -> Option<Origin> {
        self.lies.or(self.fit.as_ref().ok().map(|fit| fit.origin))
    }

    /// Where a spot of the plan lies in the plane of the fit.
    fn fitted(&self, plan: Spot) -> Spot {
        if self.is_turned_over { turned_over(plan) } else { plan }
    }
}

/// The fit of the plan turned over, where it is so much better. One row lies either way.
fn fit_turned_over(
    walked: &Walked,
    layout: &Layout,
    as_is: &Result<OriginFit, NoFit>,
) -> Option<OriginFit> {
    let as_is = as_is.as_ref().ok()?;
    let mut rows = walked.places.iter().map(|it| it.0);
    let first = rows.next()?;
    rows.find(|row| *row != first)?;
    let over = walked.fit_of(layout, turned_over).ok()?;
    (over.sigma_m * TURNED_OVER < as_is.sigma_m).then_some(over)
}

fn turned_over(plan: Spot) -> Spot {
    Spot { y_m: -plan.y_m, ..plan }
}

/// To a tenth of a millimetre, and a bearing that moves 300 m by less than a millimetre.
fn rounded(origin: Origin) -> Origin {
    let to = |value: f64, digits: f64| (value * digits).round() / digits;
    Origin {
        lon: to(origin.lon, 1e9),
        lat: to(origin.lat, 1e9),
        row_bearing_deg: to(origin.row_bearing_deg, 1e4).rem_euclid(360.0),
    }
}

fn stands(index: &Index, plot: &Plot, row: i32, place: i32) -> Stands {
    match index.standing(row, place, Status::Empty, plot) {
        Match::One(ix) => Stands::Tree(plot.tree(ix).id().clone()),
        Match::None => Stands::Nothing,
        Match::Several(..) => Stands::Several,
    }
}

#[cfg(test)]
mod tests;
