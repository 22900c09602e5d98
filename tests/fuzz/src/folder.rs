//! One file of a plot folder from any bytes, the other files being sound.

use files::{Book, FileSet};
use plot::{
    Decision, DecisionId, Edit, EditId, EditPart, Fate, Kind, Origin, ScoreDraft, ScoreId,
    TreeField, TreeId, When,
};

use crate::laws;

const HEAD: &str = include_str!("../seeds/plot_json/whole.json");
const TREES: &str = include_str!("../seeds/trees/whole.csv");
const SCORES: &str = include_str!("../seeds/scores/whole.csv");

/// A folder without a fault, one of its files being these bytes.
pub(crate) fn folder(file: &str, bytes: &[u8]) -> FileSet {
    let sound = [("plot.json", HEAD), ("trees.csv", TREES), ("scores.csv", SCORES)];
    let sound = sound.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
    let mut files = FileSet::from(sound);
    files.insert(file.to_owned(), bytes.to_vec());
    files
}

/// The folder without a fault, read.
pub(crate) fn sound() -> Book {
    files::open(folder("trees.csv", TREES.as_bytes())).0.expect("a sound folder")
}

/// `plot.json`.
pub fn plot_json(bytes: &[u8]) {
    let Some(mut book) = laws::opened(&folder("plot.json", bytes)) else { return };
    let elsewhere = Origin { lon: 11.25, lat: -43.5, row_bearing_deg: 7.0 };
    edited(&mut book, EditPart::lie(&elsewhere), "plot.json");
}

/// A disease in `plot.json`.
pub fn disease(bytes: &[u8]) {
    let end = HEAD.trim_end().strip_suffix('}').expect("an object");
    let head = [end.as_bytes(), b", \"diseases\": [", bytes, b"]}"].concat();
    laws::opened(&folder("plot.json", &head));
}

/// `trees.csv`.
pub fn trees(bytes: &[u8]) {
    let Some(mut book) = laws::opened(&folder("trees.csv", bytes)) else { return };
    let Some(tree) = last_tree(&book) else { return };
    edited(&mut book, EditPart::set(&tree, TreeField::Tag, "another, \"new\""), "trees.csv");
}

/// `scores.csv`.
pub fn scores(bytes: &[u8]) {
    let Some(mut book) = laws::opened(&folder("scores.csv", bytes)) else { return };
    let tree = last_tree(&book).expect("a sound tree");
    let of = &book.plot().head().traits[0];
    let Kind::Ordinal(scale) = &of.kind else { panic!("a sound trait") };
    let draft = ScoreDraft {
        id: ScoreId::new("a score of its own"),
        tree,
        trait_id: of.id.clone(),
        value: Some(scale.steps()[0].value),
        scored_on: day(),
        round: None,
        scorer: Some("a, \"b\"".into()),
        note: None,
        replaces: book.plot().scores().first().map(|score| score.id.clone()),
    };
    let before = book.to_files();
    match book.record(draft) {
        Ok((_, line)) => {
            assert!(book.files()["scores.csv"].ends_with(&line), "a new line is the last one");
            laws::as_read(&book);
        }
        Err(_) => assert_eq!(book.files(), &before, "refused, and nothing changed"),
    }
}

/// `decisions.csv`.
pub fn decisions(bytes: &[u8]) {
    let Some(mut book) = laws::opened(&folder("decisions.csv", bytes)) else { return };
    let decision = Decision {
        id: DecisionId::new("a decision of its own"),
        tree: last_tree(&book).expect("a sound tree"),
        fate: Some(Fate::Watch),
        decided_on: day(),
        reason: Some("a, \"b\"\nc".into()),
    };
    let before = book.to_files();
    match book.decide(decision) {
        Ok(_) => laws::as_read(&book),
        Err(_) => assert_eq!(book.files(), &before, "refused, and nothing changed"),
    }
}

/// `events.csv`.
pub fn events(bytes: &[u8]) {
    let Some(book) = laws::opened(&folder("events.csv", bytes)) else { return };
    let mut table = csv::Writer::from_writer(Vec::new());
    table.write_record(["from", "to", "kind", "rows", "note"]).expect("memory");
    for event in book.plot().events() {
        let rows = event.rows.iter().map(|rows| format!("{}-{}", rows.start(), rows.end()));
        let rows: Vec<String> = rows.collect();
        let (from, to) = (event.from.to_string(), event.to.to_string());
        let note = event.note.as_deref().unwrap_or_default();
        table.write_record([&from, &to, &event.kind, &rows.join(", "), note]).expect("memory");
    }
    let written = table.into_inner().expect("memory");
    let again = laws::without_fault(folder("events.csv", &written));
    assert_eq!(again.plot().events(), book.plot().events(), "written and read again");
}

/// `weather.csv`.
pub fn weather(bytes: &[u8]) {
    let Some(book) = laws::opened(&folder("weather.csv", bytes)) else { return };
    let mut written =
        "time,temp_c,rain_mm,leaf_wetness,relative_humidity,wind_ms,wind_from_deg\n".to_owned();
    for hour in book.weather().hours() {
        let cell = |value: Option<f64>| value.map(|value| value.to_string()).unwrap_or_default();
        let values = [
            hour.temp_c,
            hour.rain_mm,
            hour.leaf_wetness,
            hour.relative_humidity,
            hour.wind_ms,
            hour.wind_from_deg,
        ];
        written += &format!("{},{}\n", hour.at, values.map(cell).join(","));
    }
    let again = laws::without_fault(folder("weather.csv", written.as_bytes()));
    assert_eq!(again.weather(), book.weather(), "written and read again");
}

/// Makes an edit and takes it back: the file says what it said, and in between what the book says.
fn edited(book: &mut Book, part: EditPart, file: &str) {
    let before = book.to_files();
    let edit = Edit::new(EditId::new("e1"), "an edit", day(), vec![part]);
    if book.edit(edit).is_err() {
        assert_eq!(book.files(), &before, "refused, and nothing changed");
        return;
    }
    laws::as_read(book);
    let undone = book.turn_over(&EditId::new("e1"), EditId::new("e2"), day());
    assert!(undone.is_ok(), "nothing came between: {undone:?}");
    laws::as_read(book);
    laws::same_but_for_quotes(&before[file], &book.files()[file]);
    for (name, bytes) in before.iter().filter(|(name, _)| *name != file) {
        assert_eq!(&book.files()[name], bytes, "{name} was not edited");
    }
    let redone = book.turn_over(&EditId::new("e1"), EditId::new("e3"), day());
    assert!(redone.is_ok(), "done again: {redone:?}");
    laws::as_read(book);
}

pub(crate) fn day() -> When {
    When::parse("2031-06-14").expect("a day")
}

fn last_tree(book: &Book) -> Option<TreeId> {
    book.plot().trees().last().map(|tree| tree.id().clone())
}
