//! Laws of reading and writing, on made-up plots: there and back is the same, damage stays where
//! it struck, and nothing makes the reader panic.

use std::collections::{BTreeMap, BTreeSet};

use plot::{
    Cross, CrossKey, GenotypeId, Globe, Head, Kind, Layout, Needs, Origin, Plot, Role, Scale,
    ScoreDraft, ScoreId, Spot, Status, Step, Trait, TraitId, TreeCell, TreeChange, TreeDraft,
    TreeId, Weight, When, WhereGiven,
};
use proptest::prelude::*;
use proptest::sample::Index;

use crate::written::Lines;
use crate::{Book, FileSet, open, pack, unpack, write};

/// Words with everything that CSV must quote.
fn word() -> impl Strategy<Value = String> {
    "[a-c ,\"\n\réß中=+\u{feff}-]{1,8}"
}

fn maybe_word() -> impl Strategy<Value = Option<String>> {
    proptest::option::of(word())
}

fn day() -> impl Strategy<Value = When> {
    let clock = proptest::option::of((0..24, 0..60, 0..60, -12..=14));
    (2025..2040, 1..=12, 1..=28, clock).prop_map(|(year, month, day, clock)| {
        let date = format!("{year}-{month:02}-{day:02}");
        let text = match clock {
            Some((hour, minute, second, offset)) => {
                format!("{date}T{hour:02}:{minute:02}:{second:02}{offset:+03}:00")
            }
            None => date,
        };
        When::parse(&text).expect("a date")
    })
}

fn head() -> impl Strategy<Value = Head> {
    let origin = proptest::option::of((-180.0..180.0, -80.0..80.0, -360.0..360.0));
    let numbers = (0.001..1000.0, 0.001..1000.0, -5..5, -5..5, 1_u8..=12);
    (word(), numbers, origin, word(), maybe_word(), 0.0..=1.0).prop_map(
        |(
            words,
            (row_spacing_m, place_spacing_m, first_row, first_place, month),
            origin,
            parent,
            other,
            share,
        )| {
            let step = |value, severity| Step { value, label: words.clone(), severity };
            let scale =
                Scale::new(vec![step(0.0, None), step(1.0, Some(0.0)), step(2.5, Some(share))]);
            let one = |id: &str, kind, needs: bool| Trait {
                id: TraitId::new(id),
                disease: needs.then(|| format!("d{words}")),
                label: words.clone(),
                kind,
                needs: needs.then(|| Needs { trait_id: TraitId::new("girth"), at_least: share }),
            };
            let key = CrossKey {
                seed_parent: Some(format!("x{parent}").as_str().into()),
                pollen_parent: other.map(|other| format!("y{other}").as_str().into()),
            };
            Head {
                name: format!("N{words}"),
                layout: Layout { row_spacing_m, place_spacing_m, first_row, first_place },
                origin: origin.map(|(lon, lat, row_bearing_deg)| Origin {
                    lon,
                    lat,
                    row_bearing_deg,
                }),
                season_starts_month: month,
                traits: vec![
                    one("scab, leaf", Kind::Ordinal(scale.expect("a scale")), true),
                    one(
                        "girth",
                        Kind::Number { unit: Some("mm".into()), min: None, max: Some(400.0) },
                        false,
                    ),
                ],
                diseases: crate::built_in_diseases(),
                crosses: vec![Cross {
                    key,
                    expected_resistant: BTreeMap::from([(format!("d{words}"), share)]),
                }],
            }
        },
    )
}

prop_compose! {
    /// A tree whose id is still to be made unique, and perhaps which earlier tree carries it.
    fn tree()(
        id in word(),
        (row, place) in (-50..50, -50..50),
        spot in proptest::option::of((-9e4..9e4, -9e4..9e4)),
        globe in proptest::option::of((-0.1..0.1, -0.1..0.1)),
        texts in proptest::collection::vec(maybe_word(), 6),
        cross_year in proptest::option::of(1990..2040),
        (role, status) in (any::<Index>(), any::<Index>()),
        (planted, kept_days) in (proptest::option::of(day()), proptest::option::of(0_i64..4000)),
        carrier in proptest::option::weighted(0.3, any::<Index>()),
    ) -> (TreeDraft, Option<Index>) {
        let text = |nth: usize| texts[nth].as_deref().map(Into::into);
        let planted_on = planted.map(When::date);
        let draft = TreeDraft {
            id: TreeId::new(id),
            location: WhereGiven {
                row: Some(row),
                place: Some(place),
                spot: spot.map(|(x_m, y_m)| Spot { x_m, y_m }),
                globe: globe.map(|(lon, lat)| Globe { lon, lat }),
            },
            tag: text(0),
            genotype: texts[1].as_deref().map(GenotypeId::new),
            cross: CrossKey { seed_parent: text(2), pollen_parent: text(3) },
            cross_year,
            seedling_no: text(4),
            role: *role.get(Role::ALL),
            grafted_on: None,
            status: *status.get(Status::ALL),
            planted_on,
            removed_on: kept_days
                .and_then(|days| Some(planted_on?.saturating_add(time::Duration::days(days)))),
            note: text(5),
        };
        (draft, carrier)
    }
}

type MadeScore = (Index, bool, Option<Index>, When, Vec<Option<String>>);

fn score() -> impl Strategy<Value = MadeScore> {
    let texts = proptest::collection::vec(maybe_word(), 4);
    (any::<Index>(), any::<bool>(), proptest::option::of(any::<Index>()), day(), texts)
}

fn score_draft(plot: &Plot, nth: usize, (tree, scab, value, day, texts): MadeScore) -> ScoreDraft {
    let text = |nth: usize| texts[nth].as_deref().map(Into::into);
    let value = value.map(|value| {
        if scab { *value.get(&[0.0, 1.0, 2.5]) } else { *value.get(&[-1e-7, 0.1, 1.0 / 3.0]) }
    });
    ScoreDraft {
        // As unlike one another as the ids that the app makes.
        id: ScoreId::new(format!(
            "{:016x}-{nth}",
            (nth as u64).wrapping_mul(0x9e37_79b9_7f4a_7c15)
        )),
        tree: tree.get(plot.trees()).id().clone(),
        trait_id: TraitId::new(if scab { "scab, leaf" } else { "girth" }),
        value,
        scored_on: day,
        round: text(0),
        scorer: text(1),
        note: text(2),
        replaces: texts[3].as_deref().map(ScoreId::new),
    }
}

prop_compose! {
    fn plot()(
        head in head(),
        trees in proptest::collection::vec(tree(), 1..12),
        scores in proptest::collection::vec(score(), 0..30),
    ) -> Plot {
        let mut plot = Plot::new(head).expect("a head");
        for (nth, (mut draft, carrier)) in trees.into_iter().enumerate() {
            draft.id = TreeId::new(format!("{}{nth}", draft.id));
            if let (Some(carrier), false) = (carrier, plot.trees().is_empty()) {
                draft.grafted_on = Some(carrier.get(plot.trees()).id().clone());
                (draft.location.row, draft.location.place) = (None, None);
            }
            if plot.head().origin.is_none() {
                draft.location.globe = None;
            }
            // Degrees far from the origin are refused; such a tree is simply not in the plot.
            let _ = plot.add_tree(draft);
        }
        if plot.trees().is_empty() {
            return plot;
        }
        for (nth, made) in scores.into_iter().enumerate() {
            let draft = score_draft(&plot, nth, made);
            plot.add_score(draft).expect("a score");
        }
        plot
    }
}

fn read(files: FileSet) -> Book {
    let (book, problems) = open(files);
    let faults: Vec<String> = problems
        .iter()
        .filter(|problem| problem.weight == Weight::Fault)
        .map(ToString::to_string)
        .collect();
    assert_eq!(faults, [""; 0]);
    book.expect("a book")
}

fn assert_same(one: &Plot, other: &Plot) {
    assert_eq!(one.head(), other.head());
    assert_eq!(one.trees(), other.trees());
    assert_eq!(one.scores(), other.scores());
}

/// The records of a file that the csv crate finds, with the bytes they reach to.
fn records(csv: &[u8]) -> Vec<(std::ops::Range<usize>, Vec<String>)> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(csv);
    let mut records = Vec::new();
    let mut record = csv::StringRecord::new();
    loop {
        let start = reader.position().byte() as usize;
        if !reader.read_record(&mut record).expect("CSV") {
            return records;
        }
        let end = reader.position().byte() as usize;
        records.push((start..end, record.iter().map(str::to_owned).collect()));
    }
}

proptest! {
    #[test]
    fn write_and_read_is_the_same(plot in plot()) {
        let files = write(&plot);
        let book = read(files.clone());
        assert_same(book.plot(), &plot);
        prop_assert_eq!(book.files(), &files, "nothing touched, nothing changed");
        prop_assert_eq!(write(book.plot()), files);
    }

    #[test]
    fn packed_and_unpacked_is_the_same(plot in plot()) {
        let files = unpack("copy.zip", &pack(&write(&plot), "hollow-bank"));
        assert_same(read(files.expect("an archive")).plot(), &plot);
    }

    #[test]
    fn recorded_scores_are_read_again(plot in plot(), more in proptest::collection::vec(score(), 1..8)) {
        if plot.trees().is_empty() {
            return Ok(());
        }
        let mut book = Book::new(plot);
        let before = book.to_files();
        let mut log = Vec::new();
        for (nth, made) in more.into_iter().enumerate() {
            let draft = score_draft(book.plot(), 1000 + nth, made);
            log.extend(book.record(draft).expect("a score").1);
        }
        assert_same(read(book.to_files()).plot(), book.plot());
        let mut replayed = read(before);
        prop_assert_eq!(replayed.replay(&log), []);
        prop_assert_eq!(replayed.files(), book.files());
        assert_same(replayed.plot(), book.plot());
    }

    /// One cell says something else; every other cell and every line of another tree is as it was.
    #[test]
    fn a_changed_cell_changes_nothing_else(
        plot in plot(),
        crlf in any::<bool>(),
        extra in word(),
        tree in any::<Index>(),
        cell in any::<bool>(),
        (words, status) in (word(), any::<Index>()),
    ) {
        if plot.trees().is_empty() {
            return Ok(());
        }
        let mut files = write(&plot);
        let before = records(&files["trees.csv"]);
        let (header, body) = before.split_first().expect("a header");
        // The same file with a column of one's own in front, as another program may write it.
        let mut lines = Lines::new(crlf);
        lines.push(std::iter::once("of our own").chain(header.1.iter().map(String::as_str)));
        for (_, cells) in body {
            lines.push(std::iter::once(extra.as_str()).chain(cells.iter().map(String::as_str)));
        }
        files.insert("trees.csv".to_owned(), lines.into_bytes());
        let before = records(&files["trees.csv"]);
        let mut book = read(files.clone());
        let id = tree.get(book.plot().trees()).id().clone();
        let (cell, to) = match cell {
            true => (TreeCell::Status, status.get(Status::ALL).as_str().to_owned()),
            false => (TreeCell::Note, words),
        };
        let line = book.change_tree(TreeChange {
            tree: id.clone(), cell, from: "?".into(), to: to.as_str().into(),
            changed_on: When::parse("2031-06-14").expect("a day"),
            round: None, scorer: Some(extra.as_str().into()), after: None,
        }).expect("a change");
        let after = records(&book.files()["trees.csv"]);
        let at = |name: &str| before[0].1.iter().position(|it| it == name).expect("a column");
        let (of_tree, of_cell) = (at("tree_id"), at(cell.as_str()));
        prop_assert_eq!(before.len(), after.len());
        for ((was, old), (is, new)) in before.iter().zip(&after) {
            if old[of_tree] == id.as_str() {
                let mut expected = old.clone();
                expected[of_cell] = to.clone();
                prop_assert_eq!(new, &expected);
            } else {
                let (was, is) = (was.clone(), is.clone());
                prop_assert_eq!(&files["trees.csv"][was], &book.files()["trees.csv"][is]);
            }
        }
        let again = read(book.to_files());
        prop_assert_eq!(again.plot().trees(), book.plot().trees());
        let mut replayed = read(files.clone());
        prop_assert_eq!(replayed.replay_trees([crate::TreeRecord::Changes(&line)]), []);
        prop_assert_eq!(replayed.files(), book.files());
        prop_assert_eq!(replayed.plot().changes(), book.plot().changes());
    }

    #[test]
    fn cells_are_what_a_well_kept_reader_makes_of_them(
        rows in proptest::collection::vec(proptest::collection::vec(word(), 3), 1..20),
        crlf in any::<bool>(),
    ) {
        // The csv crate reads lone carriage returns as line ends; RFC 4180 has none outside quotes.
        let mut lines = Lines::new(crlf);
        lines.push(["score_id", "tree_id", "note"].into_iter());
        for row in &rows {
            lines.push(row.iter().map(String::as_str));
        }
        let bytes = lines.into_bytes();
        let theirs: Vec<Vec<String>> = records(&bytes).into_iter().skip(1).map(|(_, cells)| cells).collect();
        prop_assert_eq!(&theirs, &rows);
        let (ours, problems) = crate::table::tests::rows_of(&bytes);
        prop_assert_eq!(ours, rows);
        prop_assert_eq!(problems, [""; 0]);
    }

    #[test]
    fn damage_stays_where_it_struck(
        plot in plot(),
        hits in proptest::collection::vec((any::<Index>(), any::<u8>()), 1..4),
    ) {
        if plot.scores().is_empty() {
            return Ok(());
        }
        // Names in plain letters: a quoted cell that begins with a comma or a line feed is a
        // partner that a stray quote far above it could take for its own closing one.
        let mut plain = Plot::new(plot.head().clone()).expect("a plot");
        let plain_id = |ix: plot::TreeIx| TreeId::new(format!("T{}", ix.get()));
        for (ix, tree) in plot.trees_ix() {
            let location = WhereGiven { globe: None, ..tree.draft().location };
            let draft = TreeDraft { location, ..TreeDraft::new(plain_id(ix)) };
            plain.add_tree(draft).expect("a tree");
        }
        for score in plot.scores() {
            plain.add_score(ScoreDraft {
                id: score.id.clone(),
                tree: plain_id(score.tree),
                trait_id: plot.trait_of(score.trait_ix).id.clone(),
                value: score.value,
                scored_on: score.scored_on,
                round: Some("June".into()),
                scorer: None,
                note: score.note.as_ref().map(|_| "say \"no\", twice\nand again".into()),
                replaces: None,
            }).expect("a score");
        }
        let mut files = write(&plain);
        let scores = files.get_mut("scores.csv").expect("scores");
        let records = records(scores);
        let body = records[1].0.start;
        let mut struck = BTreeSet::new();
        for (at, byte) in hits {
            let at = body + at.index(scores.len() - body);
            if scores[at] != byte {
                let nth = records.iter().position(|(range, _)| range.contains(&at)).expect("a record");
                struck.insert(nth);
                // A lost line end joins the next record to this one.
                if scores[at] == b'\n' {
                    struck.insert(nth + 1);
                }
                scores[at] = byte;
            }
        }
        let (book, problems) = open(files.clone());
        let book = book.expect("a book: plot.json and trees.csv are sound");
        prop_assert_eq!(book.files(), &files, "every byte is kept");
        for (nth, (_, cells)) in records.iter().enumerate().skip(1) {
            if !struck.contains(&nth) {
                let there = book.plot().score_ix(&cells[0]).is_some();
                prop_assert!(there, "{cells:?} {problems:?}");
            }
        }
    }

    #[test]
    fn no_bytes_make_the_reader_panic(
        plot in plot(),
        file in any::<Index>(),
        hits in proptest::collection::vec((any::<Index>(), any::<Option<u8>>()), 1..40),
        lines in 1..20_usize,
    ) {
        let mut files = write(&plot);
        let names: Vec<String> = files.keys().cloned().collect();
        let bytes = files.get_mut(file.get(&names)).expect("a file");
        for (at, byte) in hits {
            let at = at.index(bytes.len().max(1));
            match byte {
                Some(byte) if at < bytes.len() => bytes[at] = byte,
                _ => bytes.truncate(at),
            }
        }
        let mut opening = crate::Opening::new(files.clone());
        while { let (done, of) = opening.step(lines); done < of } {}
        if let (Some(book), _) = opening.finish() {
            prop_assert_eq!(book.files(), &files);
        }
    }

    #[test]
    fn no_archive_makes_the_unpacker_panic(
        plot in plot(),
        hits in proptest::collection::vec((any::<Index>(), any::<u8>()), 1..10),
    ) {
        let mut bytes = pack(&write(&plot), "hollow-bank");
        for (at, byte) in hits {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        let _ = unpack("copy.zip", &bytes);
    }
}
