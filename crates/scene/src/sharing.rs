//! Several trees at one place: who they are, and how their marks are drawn apart.

use plot::{Plot, Spot, Status, TreeIx};

/// The places at which several trees stand or stood, each with its trees: carriers before grafts,
/// then by tree id. Places in order of their first tree.
pub(crate) fn groups(plot: &Plot) -> Vec<Vec<TreeIx>> {
    let place = |ix: &TreeIx| {
        let millimetres = |metres: f64| (metres * 1000.0).round() as i64;
        let Spot { x_m, y_m } = plot.tree(*ix).spot();
        (millimetres(x_m), millimetres(y_m))
    };
    let mut trees: Vec<TreeIx> = plot.trees_ix().map(|(ix, _)| ix).collect();
    trees.sort_by_cached_key(place);
    let places = trees.chunk_by(|a, b| place(a) == place(b));
    let mut groups: Vec<Vec<TreeIx>> =
        places.filter(|group| group.len() > 1).map(<[TreeIx]>::to_vec).collect();
    for group in &mut groups {
        group.sort_by(|a, b| {
            let key = |ix: &TreeIx| (plot.tree(*ix).carrier().is_some(), plot.tree(*ix).id());
            key(a).cmp(&key(b))
        });
    }
    groups.sort();
    groups
}

/// How far grafts are drawn from their carrier, in tree spacings.
const GRAFT_AWAY: f64 = 0.66;
/// How far two trees in one hole are each drawn from it, in tree spacings.
const TWIN_AWAY: f64 = 0.25;

/// Where the living of one place are drawn so that each can be seen and touched. Grafts lie in a
/// ring round their carrier, beginning across the row, where there is most room.
pub(crate) fn apart(plot: &Plot, group: &[TreeIx], spacing_m: f64) -> Vec<(TreeIx, Spot)> {
    let living = || group.iter().copied().filter(|ix| plot.tree(*ix).status() == Status::Alive);
    let is_graft = |ix: &TreeIx| plot.tree(*ix).carrier().is_some();
    let grafts: Vec<TreeIx> = living().filter(is_graft).collect();
    let trunks: Vec<TreeIx> = living().filter(|ix| !is_graft(ix)).collect();
    let ring = |away: f64, start_deg: f64, nth: usize, of: usize| {
        let angle = (start_deg + 360.0 * nth as f64 / of as f64).to_radians();
        (away * spacing_m * libm::cos(angle), away * spacing_m * libm::sin(angle))
    };
    let moved = |ix: TreeIx, (dx_m, dy_m): (f64, f64)| {
        let spot = plot.tree(ix).spot();
        (ix, Spot { x_m: spot.x_m + dx_m, y_m: spot.y_m + dy_m })
    };
    let mut drawn = Vec::new();
    if trunks.len() > 1 {
        let place =
            |(nth, ix): (usize, &TreeIx)| moved(*ix, ring(TWIN_AWAY, 180.0, nth, trunks.len()));
        drawn.extend(trunks.iter().enumerate().map(place));
    }
    let start_deg = if grafts.len() == 4 { 45.0 } else { 90.0 };
    let place =
        |(nth, ix): (usize, &TreeIx)| moved(*ix, ring(GRAFT_AWAY, start_deg, nth, grafts.len()));
    drawn.extend(grafts.iter().enumerate().map(place));
    drawn
}
