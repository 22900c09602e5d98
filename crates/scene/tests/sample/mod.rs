//! A small invented plot, and an invented report on it, for the tests of this crate.
#![allow(dead_code, reason = "each test file uses a part of it")]
#![allow(clippy::unwrap_used, reason = "a test may stop")]

use plot::{
    Cross, CrossKey, GenotypeId, Head, Kind, Layout, Needs, Origin, Plot, Role, Scale, ScoreDraft,
    ScoreId, Season, Status, Step, Trait, TraitId, TreeDraft, TreeId, When,
};
use proof::{
    Estimate, Fit, Judgement, Leftover, Neighbourhood, Reach, ReachPart, Reason, Report,
    SeasonStrength, Spread, TreeReport, Verdict,
};
use spatial::{Ellipse, Kernel};
use walk::Ends;

pub(crate) const ROWS: i32 = 5;
pub(crate) const PLACES: i32 = 9;

/// Five rows of nine places: two crosses, a check in each row, a graft pair, a twin, a dead tree
/// with its replant, a gap; two seasons of scab, one of blossom blight, a trunk diameter.
pub(crate) fn plot() -> Plot {
    let mut plot = Plot::new(head()).unwrap();
    for row in 1..=ROWS {
        for place in 1..=PLACES {
            plot.add_tree(tree(row, place)).unwrap();
        }
    }
    for (id, tag) in [("2-3-a", "Q-11a"), ("2-3-b", "Q-11b")] {
        let mut graft = TreeDraft::new(TreeId::new(id));
        graft.tag = Some(tag.into());
        graft.grafted_on = Some(TreeId::new("2-3"));
        plot.add_tree(graft).unwrap();
    }
    let mut twin = tree(4, 6);
    twin.id = TreeId::new("4-6-twin");
    twin.tag = None;
    plot.add_tree(twin).unwrap();
    let mut replant = tree(3, 8);
    replant.id = TreeId::new("3-8-new");
    replant.status = Status::Alive;
    replant.planted_on = When::parse_date("2032-03-01");
    replant.removed_on = None;
    plot.add_tree(replant).unwrap();
    for (nth, (tree, trait_id, value, day, round)) in scores().into_iter().enumerate() {
        plot.add_score(ScoreDraft {
            id: ScoreId::new(format!("s{nth}")),
            tree: TreeId::new(tree),
            trait_id: TraitId::new(trait_id),
            value,
            scored_on: When::parse(day).unwrap(),
            round: Some(round.into()),
            scorer: None,
            note: None,
            replaces: None,
        })
        .unwrap();
    }
    plot
}

pub(crate) fn ends() -> Ends {
    Ends { low: Some("road end".into()), high: Some("hedge end".into()) }
}

fn head() -> Head {
    let step = |value: f64, label: &str, severity| Step { value, label: label.into(), severity };
    let ordinal = |id: &str, disease: Option<&str>, label: &str, steps: Vec<Step>| Trait {
        id: TraitId::new(id),
        disease: disease.map(str::to_owned),
        label: label.into(),
        kind: Kind::Ordinal(Scale::new(steps).unwrap()),
        needs: None,
    };
    let scab = vec![
        step(0.0, "not observed", None),
        step(1.0, "no visible symptom", Some(0.0)),
        step(2.0, "one or very few lesions", Some(0.005)),
        step(3.0, "up to 5 % of leaves", Some(0.03)),
        step(4.0, "about 12 % of leaves", Some(0.12)),
        step(5.0, "about 25 % of leaves", Some(0.25)),
        step(7.0, "about 50 % of leaves", Some(0.5)),
        step(9.0, "over 90 % of leaves", Some(0.95)),
    ];
    let blossom = vec![step(0.0, "none", Some(0.0)), step(1.0, "some clusters", Some(0.1))];
    let bloom =
        vec![step(0.0, "none", None), step(1.0, "a few", None), step(2.0, "all over", None)];
    Head {
        name: "Hollow Bank trial".into(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
        origin: Some(Origin { lon: 5.12, lat: 52.04, row_bearing_deg: 12.0 }),
        season_starts_month: 1,
        traits: vec![
            ordinal("scab_leaf", Some("scab"), "Scab on leaves", scab),
            Trait {
                needs: Some(Needs { trait_id: TraitId::new("bloom"), at_least: 1.0 }),
                ..ordinal("blossom_blight", Some("fire_blight"), "Blossom blight", blossom)
            },
            ordinal("bloom", None, "Bloom", bloom),
            Trait {
                id: TraitId::new("trunk_diameter"),
                disease: None,
                label: "Trunk diameter".into(),
                kind: Kind::Number { unit: Some("mm".into()), min: Some(1.0), max: Some(400.0) },
                needs: None,
            },
        ],
        diseases: files::built_in_diseases(),
        crosses: vec![Cross { key: cross(1), expected_resistant: Default::default() }],
    }
}

fn cross(row: i32) -> CrossKey {
    let pollen = if row % 2 == 0 { "Tarn Rib" } else { "TR-9" };
    CrossKey { seed_parent: Some("Marl Beauty".into()), pollen_parent: Some(pollen.into()) }
}

fn tree(row: i32, place: i32) -> TreeDraft {
    let mut draft = TreeDraft::new(TreeId::new(format!("{row}-{place}")));
    draft.location.row = Some(row);
    draft.location.place = Some(place);
    draft.tag = Some(format!("Q-{}", row * 10 + place).into());
    draft.cross = cross(row);
    draft.cross_year = Some(2027);
    match (row, place) {
        (_, 5) => {
            draft.role = Role::SusceptibleCheck;
            draft.cross = CrossKey { seed_parent: None, pollen_parent: None };
            draft.genotype = Some(GenotypeId::new("Soft Pippin"));
        }
        (5, 1) => draft.status = Status::Empty,
        (3, 8) => {
            draft.status = Status::Dead;
            draft.removed_on = When::parse_date("2031-11-20");
        }
        (1, 1) => draft.cross = CrossKey { seed_parent: None, pollen_parent: None },
        _ => {}
    }
    draft
}

type Line = (String, &'static str, Option<f64>, &'static str, &'static str);

/// Scab spreads from the end of row 1; round 2 of 2031 skips the last row.
fn scores() -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    for row in 1..=ROWS {
        for place in 1..=PLACES {
            let id = format!("{row}-{place}");
            if (row, place) == (5, 1) || (row, place) == (4, 9) {
                continue;
            }
            let far = row + (place - 5).abs();
            let worse = |by: i32| match far - by {
                ..=1 => 9.0,
                2 => 7.0,
                3 => 5.0,
                4 => 3.0,
                5 => 2.0,
                _ => 1.0,
            };
            let scab = "scab_leaf";
            lines.push((id.clone(), scab, Some(worse(-2)), "2031-06-03", "1"));
            if row < 5 {
                let value = if place == 9 { None } else { Some(worse(0)) };
                lines.push((id.clone(), scab, value, "2031-07-02", "2"));
            }
            if (row, place) != (3, 8) {
                lines.push((id.clone(), scab, Some(worse(1)), "2032-06-05", "1"));
            }
            lines.push((id.clone(), "bloom", Some(f64::from(place % 3)), "2031-05-01", "bloom"));
            let blighted = if place % 3 == 2 && row == 2 { 1.0 } else { 0.0 };
            lines.push((id.clone(), "blossom_blight", Some(blighted), "2031-05-20", "bloom"));
            let diameter = 20.0 + f64::from((row * 7 + place * 5) % 23);
            lines.push((id, "trunk_diameter", Some(diameter), "2031-10-10", "autumn"));
        }
    }
    lines.push(("2-3-a".into(), "scab_leaf", Some(1.0), "2031-07-02", "2"));
    lines.push(("2-3-b".into(), "scab_leaf", Some(3.0), "2031-07-02", "2"));
    lines
}

/// An invented report on scab: luck falls with the pressure of row 1.
pub(crate) fn report(plot: &Plot) -> Report {
    let scab = plot.trait_ix("scab_leaf").unwrap();
    let mut trees = Vec::new();
    for (ix, tree) in plot.trees_ix() {
        let mut worst = None;
        let (mut rounds, mut seen) = (0, None);
        for (_, score) in plot.scores_of(ix).filter(|(_, score)| score.trait_ix == scab) {
            let Some(severity) = score.value.and_then(|value| plot.trait_of(scab).severity(value))
            else {
                continue;
            };
            rounds += 1;
            if severity > 0.0 && seen.is_none() {
                seen = Some(score.scored_on);
            }
            if worst.is_none_or(|(_, before)| severity > before) {
                worst = Some((score.value.unwrap(), severity));
            }
        }
        let Some((value, severity)) = worst else { continue };
        let luck = f64::from(tree.row().unwrap_or(3)) * 0.19 - 0.17;
        let estimate = Estimate { value: luck, low: luck * 0.5, high: (luck * 1.6).min(1.0) };
        trees.push(TreeReport {
            tree: ix,
            could_have: Some(if tree.row() == Some(2) { 0.2 } else { 0.9 }),
            judgement: Judgement {
                verdict: if severity > 0.0 { Verdict::Infected } else { Verdict::of_luck(luck) },
                luck: (severity <= 0.0).then_some(estimate),
                dose: Some(f64::from(6 - tree.row().unwrap_or(3))),
                seasons_scored: 2,
                rounds_scored: rounds,
                worst_score: Some(value),
                worst_severity: severity,
                neighbours: Neighbourhood {
                    scored: 8,
                    infected: (9 - tree.row().unwrap_or(3) as usize).min(8),
                    witness_share: 1.0 - luck,
                    ..Neighbourhood::default()
                },
                expected_severity: Some(0.1),
                severity_gap: Some(0.1 - severity),
                shrunk_gap: None,
                settle: None,
                reasons: vec![seen.map_or(Reason::EscapeChance { chance: luck }, |on| {
                    Reason::SeenInfected { on }
                })],
            },
        });
    }
    let by_tree = trees
        .iter()
        .map(|line| {
            let place = plot.tree(line.tree).place().unwrap_or(3);
            (line.tree, f64::from(place - 5) * 0.24)
        })
        .collect();
    Report {
        disease: "scab".into(),
        limits: Vec::new(),
        fit: Some(Fit {
            half_distance_m: 3.0,
            kernels: vec![("exponential, 3 m".into(), 1.0)],
            reach: Reach::of([ReachPart {
                share: 1.0,
                kernel: Kernel::Exponential { half_distance_m: 3.0 },
                ellipse: Ellipse::CIRCLE,
            }]),
            spread: Spread {
                kernel: Kernel::Exponential { half_distance_m: 3.0 },
                ellipse: Ellipse::CIRCLE,
            },
            prior_witnesses: 1.0,
            evenness: 1.0,
            frailty_sd: 0.7,
            leak: 0.02,
            vigour_effect: 0.0,
            tissue_power: 0.0,
            passes: 12,
            log_likelihood: -100.0,
        }),
        seasons: vec![SeasonStrength {
            season: Season(2031),
            rounds: 2,
            last_look: None,
            scored: 44,
            infected: 20,
            checks_scored: 5,
            checks_infected: 4,
            sprayed: 0,
            median_dose: Some(1.4),
        }],
        crosses: Vec::new(),
        trees,
        calibration: Vec::new(),
        leftover: Some(Leftover { moran_i: 0.31, p: 0.002, permutations: 499, seed: 1, by_tree }),
        busy_places: Vec::new(),
        genotypes: Vec::new(),
    }
}
