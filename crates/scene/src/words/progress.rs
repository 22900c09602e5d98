//! How the area under a disease's progress on a tree is said.

use language::{count, say};
use plot::{Plot, TreeIx};
use season::{TreeProgress, progress_of_tree};

use super::{number, season_name};

/// What the areas are measured in, and what may be compared.
pub fn area_unit() -> &'static str {
    say!(
        "Areas are in share-days: all of the tissue diseased for one day is 1. Compare trees that \
         were looked at on the same days: an area grows with the days that it covers."
    )
}

/// `AUDPC 5, AUDPS 7.5 share-days: 3 looks over 20 days`; none where the looks define no area.
pub fn progress(progress: &TreeProgress) -> Option<String> {
    let (audpc, audps) = progress.audpc().ok().zip(progress.audps().ok())?;
    Some(say!(
        "AUDPC {audpc}, AUDPS {audps} share-days: {looks} over {days} days",
        audpc = area(audpc),
        audps = area(audps),
        looks = count!(
            progress.readings.len(),
            "1 look",
            "{looks} looks",
            looks = progress.readings.len()
        ),
        days = progress.days()
    ))
}

/// `AUDPS 7.5 in 2031`: a tree's worst season of a disease; none without an area. Ties go to the
/// earlier season.
pub fn worst_progress(plot: &Plot, disease: &str, tree: TreeIx) -> Option<String> {
    let traits = plot.traits_of_disease(disease).into_iter();
    let curves = traits.flat_map(|ix| progress_of_tree(plot, ix, tree));
    let areas = curves.filter_map(|curve| Some((curve.season, curve.audps().ok()?)));
    let (season, audps) = areas.max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))?;
    Some(say!("AUDPS {audps} in {season}", audps = area(audps), season = season_name(plot, season)))
}

fn area(share_days: f64) -> String {
    number((share_days * 100.0).round() / 100.0)
}

#[cfg(test)]
mod tests {
    use plot::Season;
    use time::macros::date;

    use super::*;

    #[test]
    fn an_area_is_said_with_its_unit_and_what_it_covers() {
        let mut curve = TreeProgress {
            tree: TreeIx::new(0),
            season: Season(2031),
            readings: vec![
                (date!(2031 - 06 - 01), 0.0),
                (date!(2031 - 06 - 11), 0.25),
                (date!(2031 - 06 - 21), 0.5),
            ],
        };
        let told = progress(&curve).expect("an area");
        assert_eq!(told, "AUDPC 5, AUDPS 7.5 share-days: 3 looks over 20 days");
        curve.readings.truncate(1);
        assert_eq!(progress(&curve), None);
    }
}
