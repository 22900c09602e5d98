//! Ten ugly lists, as people keep them, each with what exactly comes of it. All are invented.

use files::list::{
    Choices, Columns, DateOrder, Decimal, Draft, Encoding, Heading, MatchBy, Reading, Separator,
    What, decode,
};
use plot::{Head, Layout, Origin, Plot, Status, TreeDraft, TreeId};

/// What was sniffed, what each column is taken as, the lines, what is no tree, the problems.
fn told(name: &str, bytes: &[u8], plot: &Plot, dates: Option<DateOrder>) -> String {
    let encoding = Encoding::sniff(bytes);
    let text = decode(bytes, encoding);
    let separator = Separator::sniff(&text);
    let rows = Reading::new(text, separator).to_end();
    let heading = Heading::find(&rows);
    let columns = Columns::guess(&rows, heading);
    let decimal = Decimal::sniff(&rows, separator);
    let match_by = MatchBy::guess(&columns, plot);
    let targets: Vec<&str> = columns.targets.iter().map(|target| target.as_str()).collect();
    let mut said = format!(
        "{encoding:?} {separator:?} {decimal:?}, header row {} of {}, {match_by:?}\n{}\n",
        heading.row,
        heading.rows,
        targets.join(" ")
    );
    let choices = Choices {
        file: name.to_owned(),
        heading,
        columns,
        decimal,
        dates,
        match_by,
        fill_rows: false,
    };
    let draft = Draft::new(plot, &rows, choices).to_end(plot, &rows);
    for line in draft.lines() {
        let what = match &line.what {
            What::New(taken) => format!("new {}{}", taken.id, cells(&taken.cells)),
            What::Change(taken) => format!("change {}{}", taken.id, cells(&taken.cells)),
            What::Same(id) => format!("same {id}"),
            What::Faulty => "faulty".to_owned(),
        };
        said += &format!("{} {what}\n", line.line);
    }
    for (line, why) in draft.skipped() {
        said += &format!("{line} skipped {why:?}\n");
    }
    for problem in draft.problems() {
        said += &format!("{:?} {problem}\n", problem.weight);
    }
    if let Some(column) = draft.ambiguous() {
        said += &format!("ask which comes first in {}\n", draft.choices().columns.name(column));
    }
    said
}

fn cells(cells: &[(plot::TreeField, String, String)]) -> String {
    let one = |(field, to, from): &(plot::TreeField, String, String)| {
        let from = if from.is_empty() { String::new() } else { format!(" (was {from})") };
        format!(" {}={to}{from}", field.as_str())
    };
    cells.iter().map(one).collect()
}

fn plot() -> Plot {
    Plot::new(Head {
        name: "Reed Corner".to_owned(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
        origin: Some(Origin { lon: 5.12, lat: 52.04, row_bearing_deg: 0.0 }),
        season_starts_month: 1,
        traits: Vec::new(),
        diseases: files::built_in_diseases(),
        crosses: Vec::new(),
    })
    .expect("a plot")
}

fn check(name: &str, plot: &Plot, dates: Option<DateOrder>, expect: &str) {
    let path = format!("{}/tests/lists/{name}", env!("CARGO_MANIFEST_DIR"));
    let found = told(name, &std::fs::read(path).expect("a list"), plot, dates);
    assert_eq!(found.trim(), expect.trim(), "\n{name} gives\n{found}");
}

#[test]
fn semicolons_in_latin_1_with_units_and_german_heads() {
    check("semicolons-latin1.csv", &plot(), None, "
Windows1252 Semicolon Comma, header row 0 of 1, Nothing
row place tag seed_parent pollen_parent cross_year planted_on status x_m y_m note
2 new T00001-8 row=1 place=1 x_m=0 y_m=0 tag=MÜ-1 seed_parent=Süßer Weg pollen_parent=TR-9 cross_year=2026 planted_on=2027-11-20
3 faulty
4 new T00002-6 row=1 place=3 x_m=1.5 y_m=0 status=empty
5 new T00003-4 row=2 place=1 x_m=0.75 y_m=3.25 tag=MÜ-4 seed_parent=Süßer Weg cross_year=2026 planted_on=2027-11-20 note=»schräg«
Fault semicolons-latin1.csv, line 3: found 12 cells, expected at most 11, one for each column");
}

#[test]
fn a_title_above_totals_and_a_second_header_within_a_footer_below() {
    check("title-and-totals.csv", &plot(), None, "
Utf8 Comma Dot, header row 3 of 1, Nothing
row place tag cross cross_year seedling_no
5 new T00001-8 row=1 place=1 tag=WC-1 seed_parent=Marl pollen_parent=TR-9 cross_year=2026 seedling_no=1
6 new T00002-6 row=1 place=2 tag=WC-2 seed_parent=Marl pollen_parent=TR-9 cross_year=2026 seedling_no=2
7 new T00003-4 row=1 place=3 tag=WC-3 seed_parent=Marl pollen_parent=TR-9 cross_year=2026 seedling_no=3
10 new T00004-2 row=2 place=1 tag=WC-4 seed_parent=Sedge cross_year=2026 seedling_no=4
8 skipped Total
9 skipped Header
12 skipped Total
13 skipped Remark");
}

#[test]
fn utf_16_text_with_tabs() {
    check(
        "unicode-text.txt",
        &plot(),
        None,
        "
Utf16Le Tab Dot, header row 0 of 1, Nothing
tree_id row place tag planted_on status
2 new A-1 row=1 place=1 tag=Q-1 planted_on=2031-06-14
3 new A-2 row=1 place=2 status=empty planted_on=2031-06-14
4 new A-3 row=1 place=3 tag=Q-3 planted_on=2031-06-14",
    );
}

#[test]
fn merged_heads_over_two_lines() {
    check("merged-heads.csv", &plot(), None, "
Utf8 Semicolon Comma, header row 1 of 2, Nothing
row place seed_parent pollen_parent planted_on removed_on
4 new T00001-8 row=1 place=1 seed_parent=Marl pollen_parent=TR-9 planted_on=2031-06-14
5 new T00002-6 row=1 place=2 seed_parent=Marl pollen_parent=TR-9 planted_on=2031-06-14 removed_on=2033-01-02
6 faulty
Fault merged-heads.csv, line 6, column Place Removed: found 2030-01-02, expected a day on or after planted_on (2031-06-14)");
}

#[test]
fn tags_and_ids_that_come_twice() {
    check("duplicates.csv", &plot(), None, "
Utf8 Pipe Dot, header row 0 of 1, Nothing
tree_id row place tag
2 new D-1 row=1 place=1 tag=T-7
3 new D-2 row=1 place=2 tag=T-7
4 faulty
5 new D-4 row=1 place=1 tag=T-9
Notice duplicates.csv, line 3, column tag: found \"T-7\", which line 2 has, too, expected a tag of its own; it is taken as it stands
Fault duplicates.csv, line 4: found tree \"D-1\" again, which line 2 is about, expected one line for each tree
Notice duplicates.csv, line 5, column place: found row 1 place 1, where line 2 stands, too, expected a place of its own; it is taken as it stands");
}

#[test]
fn days_in_three_styles() {
    check("three-styles.csv", &plot(), None, "
Utf8 Comma Dot, header row 0 of 1, Nothing
row place planted_on removed_on
2 new T00001-8 row=1 place=1 planted_on=2031-06-14 removed_on=2033-06-20
3 new T00002-6 row=1 place=2 planted_on=2031-06-14 removed_on=2033-07-04
4 new T00003-4 row=1 place=3 planted_on=2031-06-14 removed_on=2033-07-04
5 new T00004-2 row=1 place=4 planted_on=2031-06-14 removed_on=2033-07-04
6 faulty
Fault three-styles.csv, line 6, column planted on: found \"31.02.2031\", expected a day that exists, such as 2031-06-14 or 14.06.2031");
}

#[test]
fn days_that_may_be_read_both_ways_are_asked_for() {
    check("which-first.csv", &plot(), None, "
Utf8 Comma Dot, header row 0 of 1, Nothing
row place planted_on
2 faulty
3 faulty
Fault which-first.csv, line 2, column planted on: found \"4/6/2031\", expected a word on which comes first in this column, day or month
Fault which-first.csv, line 3, column planted on: found \"5/7/2031\", expected a word on which comes first in this column, day or month
ask which comes first in planted on");
    check(
        "which-first.csv",
        &plot(),
        Some(DateOrder::MonthDay),
        "
Utf8 Comma Dot, header row 0 of 1, Nothing
row place planted_on
2 new T00001-8 row=1 place=1 planted_on=2031-04-06
3 new T00002-6 row=1 place=2 planted_on=2031-05-07",
    );
}

#[test]
fn tabs_pasted_from_a_sheet_without_a_header() {
    check(
        "pasted.txt",
        &plot(),
        None,
        "
Utf8 Tab Dot, header row 0 of 0, Nothing
row place cross tag status note
1 new T00001-8 row=1 place=1 tag=Q 1 seed_parent=Marl pollen_parent=TR-9
2 new T00002-6 row=1 place=2 tag=Q 2 seed_parent=Marl pollen_parent=TR-9 note=canker, \"cut\"
3 new T00003-4 row=1 place=3 tag=Q 3 seed_parent=Marl pollen_parent=TR-9 status=dead
5 new T00004-2 row=2 place=1 tag=Q 4 seed_parent=Sedge pollen_parent=TR-9",
    );
}

#[test]
fn ragged_lines_with_a_stray_quote() {
    check("ragged.csv", &plot(), None, "
Utf8 Semicolon Comma, header row 0 of 1, Nothing
row place tag role status
2 new T00001-8 row=1 place=1 tag=R-1 role=susceptible_check
3 faulty
4 new T00002-6 row=1 place=3
5 faulty
6 faulty
7 faulty
8 new T00003-4 row=1 place=7 tag=6\" pot role=named
9 faulty
10 faulty
Fault ragged.csv, line 3, column Place: found \"zwei\", expected a whole number
Fault ragged.csv, line 3, column Role: found \"mother\", expected seedling, named, susceptible check, resistant check or guard
Fault ragged.csv, line 3, column Status: found \"half dead\", expected alive, dead, removed or empty
Fault ragged.csv, line 5: found text after a closing quote, expected quotes only around a whole cell, and each quote within it doubled
Fault ragged.csv, line 6: found 9 cells, expected at most 5, one for each column
Fault ragged.csv, line 7, column Row: found \"x\", expected a whole number
Fault ragged.csv, line 9, column Row: found no position, expected row and place, or x_m and y_m, or lon and lat
Fault ragged.csv, line 10, column Row: found \"1.000,5\", expected a whole number");
}

#[test]
fn degrees_and_row_with_place_in_one_cell() {
    check("positions.csv", &plot(), None, "
Windows1252 Semicolon Comma, header row 0 of 1, Nothing
tree_id lon lat row_place
2 new P-1 row=1 place=1 lon=5.12 lat=52.04
3 new P-2 row=1 place=2 lon=5.12001 lat=52.04
4 faulty
5 faulty
6 new “P-5” row=1 place=5 lon=5.12003 lat=52.04
Fault positions.csv, line 4, column Breitengrad: found nothing, expected degrees, since the longitude is given
Fault positions.csv, line 5, column Längengrad: found 512, 52.04, expected degrees: lon -180 to 180, lat -90 to 90");
}

/// Row 1: Q-1, a dead tree, one taken out, two trees in one place; two tags alike.
fn planted() -> Plot {
    let mut plot = plot();
    let trees = [
        ("T1", 1, "Q-1", Status::Alive),
        ("T2", 2, "Q-2", Status::Dead),
        ("T3", 3, "Q-3", Status::Removed),
        ("T4", 4, "Q-4", Status::Alive),
        ("T5", 4, "Q-4", Status::Alive),
    ];
    for (id, place, tag, status) in trees {
        let mut draft = TreeDraft::new(TreeId::new(id));
        (draft.location.row, draft.location.place) = (Some(1), Some(place));
        (draft.tag, draft.status, draft.note) = (Some(tag.into()), status, Some("leaning".into()));
        plot.add_tree(draft).expect("a tree");
    }
    plot
}

#[test]
fn lines_about_trees_that_are_there_change_what_they_say() {
    let check = |list: &str, expect: &str| {
        let found = told("list", list.as_bytes(), &planted(), None);
        assert_eq!(found.trim(), expect.trim(), "\n{list} gives\n{found}");
    };
    // An empty cell changes nothing; a note comes behind the one that is there.
    check("row,place,tag,status,note\n1,1,,dead,cankered\n1,2,Q-2,dead,leaning\n1,3,Q-9,,\n1,4,Q-4,,\n2,1,Q-5,,\n", "
Utf8 Comma Dot, header row 0 of 1, Place
row place tag status note
2 change T1 status=dead note=leaning; cankered (was leaning)
3 same T2
4 new T00001-8 row=1 place=3 tag=Q-9
5 faulty
6 new T00002-6 row=2 place=1 tag=Q-5
Fault list, line 5, column place: found row 1 place 4, where several trees stand, expected one tree that the line is about");
    check("tag,year\nQ-1,2026\nQ-3,2026\nQ-4,2026\nQ-8,2026\n", "
Utf8 Comma Dot, header row 0 of 1, Tag
tag cross_year
2 change T1 cross_year=2026
3 change T3 cross_year=2026
4 faulty
5 faulty
Fault list, line 4, column tag: found \"Q-4\", which several trees of the plot have, expected one tree that the line is about
Fault list, line 5: found no position, expected row and place, or x_m and y_m, or lon and lat");
    check("tree_id;row;place;leaf colour;planted\nT1;1;1;red;\nT9;1;9;;31.1.2031\nT1;1;2;;\n", "
Utf8 Semicolon Comma, header row 0 of 1, TreeId
tree_id row place skip planted_on
2 same T1
3 new T9 row=1 place=9 planted_on=2031-01-31
4 faulty
Fault list, line 4: found tree \"T1\" again, which line 2 is about, expected one line for each tree");
}

#[test]
fn what_two_columns_say_of_one_thing_is_told() {
    let list = "row,place,tag,label\n1,1,A,B\n".to_owned();
    let rows = Reading::new(list, Separator::Comma).to_end();
    let heading = Heading::find(&rows);
    let mut columns = Columns::guess(&rows, heading);
    // The second of two such columns is left out by the guess; a person who takes both is told.
    assert_eq!(columns.targets[3].as_str(), "skip");
    columns.targets[3] = columns.targets[2];
    let choices = Choices {
        file: "list".to_owned(),
        heading,
        columns,
        decimal: Decimal::Dot,
        dates: None,
        match_by: MatchBy::Nothing,
        fill_rows: false,
    };
    let draft = Draft::new(&plot(), &rows, choices).to_end(&plot(), &rows);
    let told: Vec<String> = draft.problems().iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "list, column tag: found two columns taken as tag, expected one column for it, the others left out",
            "list, column label: found two columns taken as tag, expected one column for it, the others left out"
        ]
    );
}
