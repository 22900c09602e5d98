//! Real input: the open bell-pepper fields turned into plot folders.
//!
//! Two fields of 20 × 20 quadrats, each looked at once for Phytophthora blight (Gumpertz, Graham &
//! Ristaino 1997, *JABES* 2:131–156; the data as in the R package agridat, MIT licence). A quadrat
//! becomes a place, yes or no a trait of two classes.

use files::FileSet;
use plot::{
    Head, Kind, Layout, Plot, Refusal, Scale, ScoreDraft, ScoreId, Step, Trait, TraitId, TreeDraft,
    TreeId, When, WhereGiven,
};

/// Name of the disease in the plot folder.
pub const DISEASE: &str = "phytophthora_blight";

/// Which of the two fields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Field {
    /// 54 of 400 quadrats diseased.
    One,
    /// 61 of 400 quadrats diseased.
    Two,
}

const README: &str = "\
# Bell pepper, one field of 20 × 20 quadrats

Data: Gumpertz, Graham & Ristaino 1997, Journal of Agricultural, Biological, and Environmental
Statistics 2:131–156, as in the R package agridat (MIT licence).

A quadrat stands as a place; blight seen in it or not is a score of two classes. Stated for want of
better: quadrats one metre apart, and one day (1 July 1992) for all scores. The data give neither
distances nor dates. The class `seen` says only that there was disease in the quadrat: its severity
of 1 counts the quadrat, not the tissue.
";

/// The plot folder of a field.
///
/// # Errors
/// The stored table does not hold what it should: a bug.
pub fn folder(field: Field) -> Result<FileSet, Box<dyn std::error::Error>> {
    let (csv, name) = match field {
        Field::One => (include_str!("../reference/data/pepper_F1.csv"), "Bell pepper, field 1"),
        Field::Two => (include_str!("../reference/data/pepper_F2.csv"), "Bell pepper, field 2"),
    };
    let mut plot = Plot::new(head(name)?)?;
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let columns = reader.headers()?.clone();
    for quadrat in reader.records() {
        let quadrat = quadrat?;
        let cell = |column: &str| {
            let at = columns.iter().position(|name| name == column);
            at.and_then(|at| quadrat.get(at)).ok_or(format!("no column {column}"))
        };
        let id = cell("id")?;
        let location = WhereGiven {
            row: Some(cell("row")?.parse()?),
            place: Some(cell("quadrat")?.parse()?),
            ..WhereGiven::default()
        };
        plot.add_tree(TreeDraft { location, ..TreeDraft::new(TreeId::new(id)) })?;
        for (trait_id, column) in [("blight", "diseased"), ("water", "water"), ("leaf", "leaf")] {
            let value = match cell(column)? {
                // Looked for without a result.
                "NA" => None,
                value => Some(value.parse()?),
            };
            plot.add_score(ScoreDraft {
                id: ScoreId::new(format!("{id}-{trait_id}")),
                tree: TreeId::new(id),
                trait_id: TraitId::new(trait_id),
                value,
                scored_on: When::parse("1992-07-01").ok_or("a day")?,
                round: None,
                scorer: None,
                note: (cell(column)? == "NA").then(|| "no value in the data".into()),
                replaces: None,
            })?;
        }
    }
    let mut files = files::write(&plot);
    files.insert("README.md".to_owned(), README.into());
    Ok(files)
}

fn head(name: &str) -> Result<Head, Refusal> {
    let step = |value, label: &str, severity| Step {
        value,
        label: label.to_owned(),
        severity: Some(severity),
    };
    let one = |id: &str, disease: Option<&str>, label: &str, kind| Trait {
        id: TraitId::new(id),
        disease: disease.map(str::to_owned),
        label: label.to_owned(),
        kind,
        needs: None,
    };
    let number = |unit: Option<&str>, max| Kind::Number {
        unit: unit.map(str::to_owned),
        min: Some(0.0),
        max: Some(max),
    };
    let scale = Scale::new(vec![step(0.0, "none seen", 0.0), step(1.0, "seen", 1.0)])?;
    Ok(Head {
        name: name.to_owned(),
        layout: Layout { row_spacing_m: 1.0, place_spacing_m: 1.0, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 1,
        traits: vec![
            one(
                "blight",
                Some(DISEASE),
                "Phytophthora blight in the quadrat",
                Kind::Ordinal(scale),
            ),
            one("water", None, "Soil water", number(Some("%"), 100.0)),
            one("leaf", None, "Leaf assay", number(None, 5.0)),
        ],
        diseases: Default::default(),
        crosses: Vec::new(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_fields_open_without_a_problem_and_hold_what_was_published() {
        // Diseased quadrats: 54 and 61 of 400 (computed from the data).
        for (field, diseased) in [(Field::One, 54), (Field::Two, 61)] {
            let (book, problems) = files::open(folder(field).expect("a folder"));
            assert_eq!(problems, []);
            let book = book.expect("a book");
            let plot = book.plot();
            assert_eq!(plot.trees().len(), 400);
            let seen = |score: &&plot::Score| {
                plot.trait_of(score.trait_ix).id.as_str() == "blight" && score.value == Some(1.0)
            };
            assert_eq!(plot.scores().iter().filter(seen).count(), diseased);
        }
    }
}
