//! Positions given to places, laid over the plot: where the plan lies by them, what is off, whether
//! they tell trees apart, and the edits that take them.

use std::collections::{BTreeMap, BTreeSet};

use plot::{
    EditPart, Globe, Layout, NoFit, Origin, OriginFit, Plot, Spot, Status, TreeField as F, TreeId,
    TreeIx, fit_origin,
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
        let mut fit = walked.fit(&layout);
        let turned = turned_over(&layout, walked);
        let rows: BTreeSet<i32> = walked.places.iter().map(|it| it.0).collect();
        let is_turned_over = rows.len() > 1
            && matches!((&fit, &turned), (Ok(as_is), Ok(over))
                if over.sigma_m * TURNED_OVER < as_is.sigma_m);
        if is_turned_over {
            fit = turned;
        }
        if let Ok(fit) = &mut fit {
            fit.origin = rounded(fit.origin);
        }
        let index = Index::of(plot, MatchBy::Place);
        let point = |(nth, (row, place, fix)): (usize, &(i32, i32, super::Fix))| {
            let fit = fit.as_ref().ok();
            // What is off in the plan turned over is off the other way across.
            let side = if is_turned_over { -1.0 } else { 1.0 };
            let off = fit.map(|fit| fit.residuals[nth]);
            Point {
                row: *row,
                place: *place,
                line: fix.line,
                plan: layout.spot(*row, *place),
                off: off.map(|off| Spot { x_m: off.x_m, y_m: side * off.y_m }),
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
    /// what is left over of the fit or by what the receiver says of itself, whichever is more.
    pub fn error_m(&self) -> Option<f64> {
        let left_over = self.fit.as_ref().ok().map(|fit| fit.sigma_m);
        let most = left_over.into_iter().chain(self.said_m).reduce(f64::max);
        most.map(|sigma_m| sigma_m * NINETEEN_OF_TWENTY)
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
    /// one; those far off only where they are wanted. A plot that lies nowhere gets the fitted origin with it. Of a place measured several
    /// times the mean counts. None where the plot lies nowhere and nothing was fitted.
    pub fn stand(&self, plot: &Plot, far_off_too: bool) -> Option<(Vec<EditPart>, usize)> {
        let mut parts = Vec::new();
        let origin = match (self.lies, &self.fit) {
            (Some(lies), _) => lies,
            (None, Ok(fit)) => {
                parts.push(EditPart::lie(&fit.origin));
                fit.origin
            }
            (None, Err(_)) => return None,
        };
        let mut measured: BTreeMap<TreeIx, Vec<usize>> = BTreeMap::new();
        for (nth, point) in self.points.iter().enumerate() {
            if let Stands::Tree(id) = &point.stands
                && (far_off_too || !point.is_suspicious)
                && let Some(ix) = plot.tree_ix(id.as_str())
            {
                measured.entry(ix).or_default().push(nth);
            }
        }
        for (ix, of_it) in &measured {
            let tree = plot.tree(*ix);
            let spots: Vec<Spot> =
                of_it.iter().map(|&nth| origin.plot_from_globe(self.fixes[nth].0)).collect();
            let mean = |of: fn(&Spot) -> f64| {
                let sum: f64 = spots.iter().map(of).sum();
                // To the millimetre.
                (sum / spots.len() as f64 * 1000.0).round() / 1000.0
            };
            let (x_m, y_m) = (mean(|spot| spot.x_m), mean(|spot| spot.y_m));
            let set = |field, to: String| EditPart::set(tree.id(), field, to);
            parts.push(set(F::X, plain(x_m)));
            parts.push(set(F::Y, plain(y_m)));
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

    /// Where a spot of the plan lies in the plane of the fit.
    fn fitted(&self, plan: Spot) -> Spot {
        match self.is_turned_over {
            true => Spot { y_m: -plan.y_m, ..plan },
            false => plan,
        }
    }
}

/// A number without the sign of nothing.
fn plain(metres: f64) -> String {
    if metres == 0.0 { "0".to_owned() } else { metres.to_string() }
}

fn turned_over(layout: &Layout, walked: &Walked) -> Result<OriginFit, NoFit> {
    let point = |(row, place, fix): &(i32, i32, super::Fix)| {
        let spot = layout.spot(*row, *place);
        (Spot { y_m: -spot.y_m, ..spot }, fix.globe)
    };
    fit_origin(&walked.places.iter().map(point).collect::<Vec<_>>())
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
