//! The sentences, word by word.

use plot::{Head, HourStamp, Layout, Plot, Season, Weather, WeatherHour, When};
use proof::{
    CrossReport, Estimate, Judgement, Known, Limit, Neighbour, Neighbourhood, Reason,
    SeasonStrength, Segregation, Span, Verdict,
};
use scene::words;

fn plot(season_starts_month: u8) -> Plot {
    Plot::new(Head {
        name: "Hollow Bank trial".into(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month,
        traits: Vec::new(),
        diseases: files::built_in_diseases(),
        crosses: Vec::new(),
    })
    .expect("a plot")
}

fn clean(luck: f64, scored: usize, infected: usize, reasons: Vec<Reason>) -> Judgement {
    Judgement {
        verdict: Verdict::of_luck(luck),
        luck: Some(Estimate { value: luck, low: luck / 2.0, high: (luck * 1.5).min(1.0) }),
        dose: Some(0.8),
        seasons_scored: 2,
        rounds_scored: 6,
        worst_score: Some(1.0),
        worst_severity: 0.0,
        neighbours: Neighbourhood { scored, infected, ..Neighbourhood::default() },
        expected_severity: None,
        severity_gap: None,
        shrunk_gap: None,
        settle: None,
        reasons,
    }
}

fn plain(text: String) -> String {
    text.replace('\u{a0}', " ")
}

#[test]
fn a_clean_tree_in_one_sentence() {
    let escape = || vec![Reason::EscapeChance { chance: 0.4 }];
    for (judgement, sentence) in [
        (
            clean(0.62, 8, 2, escape()),
            "Clean in 6 rounds of 2 seasons, but few infected neighbours: luck 62 % — untested.",
        ),
        (
            clean(0.62, 8, 0, escape()),
            "Clean in 6 rounds of 2 seasons, but no infected neighbours: luck 62 % — untested.",
        ),
        (
            clean(0.31, 8, 6, escape()),
            "Clean in 6 rounds of 2 seasons, and 6 of 8 neighbours took scab, which does not rule \
             out luck: luck 31 % — untested.",
        ),
        (
            clean(0.9, 8, 6, vec![Reason::CopyInfected { tree: plot::TreeIx::new(0) }]),
            "Clean in 6 rounds of 2 seasons, but a copy of it took scab: luck 90 % — untested.",
        ),
        (
            clean(0.18, 8, 5, escape()),
            "Clean in 6 rounds of 2 seasons, though 5 of 8 neighbours took scab: luck 18 % — \
             leaning.",
        ),
        (
            clean(0.004, 7, 7, escape()),
            "Clean in 6 rounds of 2 seasons, though all 7 neighbours took scab: luck under 1 % — \
             proven.",
        ),
        (
            clean(0.03, 8, 5, vec![Reason::CopiesClean { copies: 2 }]),
            "Clean in 6 rounds of 2 seasons, and so were 2 copies of it: luck 3 % — proven.",
        ),
        (
            clean(0.5, 8, 0, vec![Reason::NoFit]),
            "Clean in 6 rounds of 2 seasons, but this plot cannot tell luck from resistance — \
             untested.",
        ),
    ] {
        assert_eq!(plain(words::judgement("scab", &judgement)), sentence);
    }
}

#[test]
fn an_infected_tree_in_one_sentence() {
    let on = When::parse("2031-06-14").unwrap();
    let mut judgement = Judgement {
        verdict: Verdict::Infected,
        luck: None,
        worst_score: Some(5.0),
        worst_severity: 0.25,
        ..clean(1.0, 8, 4, vec![Reason::SeenInfected { on }])
    };
    let said = |judgement: &Judgement| plain(words::judgement("fire blight", judgement));
    assert_eq!(said(&judgement), "Took fire blight, first seen on 14 June 2031; worst score 5.");
    judgement.severity_gap = Some(0.3);
    assert_eq!(
        said(&judgement),
        "Took fire blight, first seen on 14 June 2031; worst score 5, much less than its dose \
         explains."
    );
}

#[test]
fn how_much_less_an_infected_tree_carries_is_said_with_its_interval() {
    let gap = |value, low, high| {
        let shrunk_gap = Some(Estimate { value, low, high });
        words::gap(&Judgement { shrunk_gap, ..clean(1.0, 8, 4, Vec::new()) }).map(plain)
    };
    assert_eq!(
        gap(0.04, -0.02, 0.09).as_deref(),
        Some(
            "Over its seasons 4 % less of its tissue was affected than its dose explains (2 % more \
             to 9 % less), drawn towards what its cross and the plot did."
        )
    );
    assert_eq!(words::gap(&clean(0.1, 8, 4, Vec::new())), None);
}

#[test]
fn how_much_a_season_tested() {
    let season = |checks_scored, checks_infected| SeasonStrength {
        season: Season(2031),
        rounds: 3,
        last_look: None,
        scored: 900,
        infected: 34,
        checks_scored,
        checks_infected,
        sprayed: 0,
        median_dose: None,
    };
    let said = |plot: &Plot, of: &str, weather: &Weather, checks: (usize, usize)| {
        let seen = season(checks.0, checks.1);
        words::season(plot, of, &seen, &words::season_test(plot, weather, of, &seen))
    };
    let none = Weather::default();
    for (checks, sentence) in [
        (
            (12, 1),
            "In 2031 only 1 of 12 susceptible checks took scab: this season was quiet, it tests \
             little.",
        ),
        (
            (12, 0),
            "In 2031, none of 12 susceptible checks took scab: this season was quiet, it tests \
             nothing.",
        ),
        ((12, 6), "In 2031, 6 of 12 susceptible checks took scab: this season is a fair test."),
        ((12, 12), "In 2031, all 12 susceptible checks took scab: this season is a strong test."),
        (
            (1, 1),
            "In 2031, the only susceptible check took scab, and 34 of 900 trees took scab: so few \
             checks cannot tell how hard this season tested.",
        ),
        (
            (2, 0),
            "In 2031, none of 2 susceptible checks took scab, and 34 of 900 trees took scab: so few \
             checks cannot tell how hard this season tested.",
        ),
        (
            (0, 0),
            "In 2031 no susceptible check was scored; 34 of 900 trees took scab. How hard this \
             season tested cannot be said.",
        ),
    ] {
        assert_eq!(said(&plot(1), "scab", &none, checks), [sentence]);
    }
    assert!(said(&plot(7), "scab", &none, (12, 1))[0].starts_with("In 2031/32 only 1"));
    let sprayed = SeasonStrength { scored: 0, infected: 0, sprayed: 900, ..season(0, 0) };
    let test = words::season_test(&plot(1), &none, "scab", &sprayed);
    assert_eq!(
        words::season(&plot(1), "scab", &sprayed, &test),
        [
            "In 2031 all that was looked at for scab had been sprayed before. How hard this season \
             tested cannot be said.",
            "The clean looks of 900 trees after a spray are no test.",
        ]
    );
    // Ten hours of wetness at 18 °C on 2 and 9 May, and a record that ends on the 10th.
    let hours = (0..40 * 24).map(|nth| {
        let at =
            HourStamp::parse("2031-04-01T00:00").expect("an hour").hour.plus(nth).expect("one");
        let wet = [31, 38].contains(&(nth / 24)) && (9..19).contains(&at.of_day());
        let leaf_wetness = Some(f64::from(u8::from(wet)));
        WeatherHour { temp_c: Some(18.0), leaf_wetness, ..WeatherHour::unknown(at) }
    });
    let weather = Weather::new(hours.collect()).expect("each hour once");
    assert_eq!(
        said(&plot(1), "scab", &weather, (12, 0))[1..],
        [
            "The weather from 1 April 2031 to 31 October 2031 had 2 infection periods of scab; it \
             holds 19\u{a0}% of the hours.",
            "The weather would have allowed more than was seen: scab was not about, or the checks \
             are no good ones.",
        ]
    );
}

#[test]
fn every_step_back_is_said() {
    for (limit, sentence) in [
        (
            Limit::KernelFixed { infected: 12, needed: 20 },
            "Only 12 trees took scab; 20 are needed to learn how far it travels here. A reach from \
             the literature is used instead.",
        ),
        (
            Limit::TooFewInfected { infected: 1, needed: 5 },
            "Only 1 tree took scab; 5 are needed before anyone can be judged. Every clean tree \
             stays untested.",
        ),
        (
            Limit::NobodyInfected,
            "No tree took scab: nothing was tested, and every clean tree stays untested.",
        ),
        (
            Limit::NotConverged { passes: 200 },
            "The fit had not settled after 200 passes: take its numbers as rough.",
        ),
    ] {
        assert_eq!(words::limit("scab", &limit), sentence);
    }
}

#[test]
fn a_neighbour_in_one_line() {
    let near = Neighbour {
        tree: plot::TreeIx::new(0),
        distance_m: 0.75,
        bearing_deg: Some(12.0),
        known: Known::default(),
        could_have: Some(0.9),
        weight: None,
    };
    // Without an origin nobody knows where north is.
    let said = |span| plain(words::neighbour(&plot(1), "scab", &near, span));
    let day = When::parse_date("2031-06-14").unwrap();
    assert_eq!(said(Span::All), "0.75 m: not scored");
    assert_eq!(said(Span::Until(Season(2031), day)), "0.75 m: not looked at yet");
    assert_eq!(said(Span::Season(Season(2031))), "0.75 m: not scored that season");
    assert_eq!(words::weight(&near), None);
    let near = Neighbour { weight: Some(0.176), ..near };
    assert_eq!(words::weight(&near).map(plain).as_deref(), Some("counts 18 %"));
    assert_eq!([0.0, 44.0, 181.0, 359.0].map(words::compass), ["N", "NE", "S", "N"]);
}

#[test]
fn cautions_defer_to_the_authorities() {
    let of = |name| words::cautions::of_disease(&plot(1), name);
    for name in ["fire_blight", "Fire blight", "fireblight"] {
        assert!(of(name)[0].contains("plant-health authority"), "{name}");
        assert!(of(name)[3].contains("Grafting wood of a tree with fire blight"), "{name}");
    }
    assert_eq!((of("scab").len(), of("no such disease").len()), (0, 0));
}

#[test]
fn what_a_cross_shows_beside_what_it_promises() {
    let said = |clean, scored, share: Option<(f64, f64)>| {
        let counts = Segregation {
            expected: 0.5,
            clean,
            scored,
            chi_square: Some(2.56),
            p_chi_square: Some(0.11),
            // Of made-up counts the p that decides which sentence it is.
            p_exact: if clean == 58 { 0.13321 } else { 0.0004 },
        };
        let cross = CrossReport {
            cross: Some("Marl × TR-9".into()),
            scored,
            verdicts: [0, 0, clean, scored - clean],
            resistant_share: share.map(|(low, high)| Estimate { value: 0.5, low, high }),
            segregation: Some(counts),
            position_test: None,
        };
        plain(words::segregation(&cross, &counts))
    };
    assert_eq!(
        said(58, 100, None),
        "58 of 100 clean, 50 % expected: no more than chance (p 0.133 exact, χ² 2.56)."
    );
    assert_eq!(
        said(80, 100, Some((0.42, 0.61))),
        "80 of 100 clean, 50 % expected: more than it allows; corrected for escapes 50 % (42 % to \
         61 %) (p below 0.001 exact, χ² 2.56)."
    );
    assert!(said(20, 100, None).contains("fewer than it allows"));
}
