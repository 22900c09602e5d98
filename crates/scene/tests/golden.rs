//! Sheets and pages against what they were before. A golden guards against change; that the
//! picture is right was seen with the eye.

mod sample;

use plot::{Plot, RoundKey, Season};
use proof::{Asked, Report, Surroundings};
use scene::{
    Camera, Facing, Field, Ground, Insets, Layer, Moment, NeighbourView, Page, Record, Sheet,
    Sources, Theme, Underlay, Viewport, Wash, WashSources, svg,
};

const SCREEN: Viewport = Viewport { width: 420.0, height: 600.0 };
const INSETS: Insets = Insets { top: 36.0, right: 36.0, bottom: 36.0, left: 36.0 };

fn sheet(plot: &Plot, ground: &Ground, report: &Report, key: &str, moment: &Moment) -> Sheet {
    let layer = Layer::from_key(plot, key).unwrap_or_else(|| panic!("no layer {key}"));
    let record = layer.trait_ix(plot).map(|ix| Record::of(plot, ix));
    let sources = Sources {
        plot,
        ground,
        record: record.as_ref(),
        report: layer.needs_report().then_some(report),
    };
    Sheet::of(sources, &layer, moment)
}

fn legend(sheet: &Sheet) -> String {
    let mut text = format!("{}\n", sheet.title());
    for class in sheet.legend() {
        let detail = class.detail.as_deref().unwrap_or("");
        text += &format!("{:>4}  {:?}  {}  [{detail}]\n", class.count, class.kind, class.label);
    }
    for note in sheet.notes() {
        text += &format!("note: {note}\n");
    }
    text.replace('\u{a0}', " ")
}

#[test]
fn legends_of_all_layers() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot), sample::report(&plot));
    let all: Vec<String> = Layer::all(&plot)
        .iter()
        .map(|layer| {
            let key = layer.key(&plot);
            let made = sheet(&plot, &ground, &report, &key, &Moment::All);
            format!(
                "== {key} ({} / {})\n{}",
                layer.heading(&plot),
                layer.label(&plot),
                legend(&made)
            )
        })
        .collect();
    insta::assert_snapshot!(all.join("\n"));
}

#[test]
fn legends_of_the_rounds() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot), sample::report(&plot));
    let record = Record::of(&plot, plot.trait_ix("scab_leaf").unwrap());
    let moments = record.rounds().iter().map(Moment::from);
    let all: Vec<String> = moments
        .map(|moment| legend(&sheet(&plot, &ground, &report, "trait/scab_leaf", &moment)))
        .collect();
    insta::assert_snapshot!(all.join("\n"));
}

#[test]
fn page_of_a_trait() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot), sample::report(&plot));
    let moment = Moment::Round(Season(2031), RoundKey::Named("2".into()));
    check_page(
        "trait",
        &plot,
        &ground,
        &sheet(&plot, &ground, &report, "trait/scab_leaf", &moment),
        Theme::Day,
        None,
        None,
    );
}

fn wash(plot: &Plot, ground: &Ground, report: &Report, under: Underlay, moment: &Moment) -> Wash {
    let field = Field::of(plot, ground, report);
    let sources =
        WashSources { plot, disease: "scab", report: Some(report), field: field.as_ref() };
    let rounds = plot.rounds(|score| plot.trait_of(score.trait_ix).disease.is_some());
    Wash::of(sources, under, moment, &rounds).expect("no plain ground")
}

#[test]
fn legends_of_the_ground() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot), sample::report(&plot));
    let mut text = String::new();
    for under in [Underlay::Tissue, Underlay::Witnesses] {
        for moment in [
            Moment::Round(Season(2031), RoundKey::Named("1".into())),
            Moment::Round(Season(2031), RoundKey::Named("2".into())),
            Moment::Season(Season(2031)),
            Moment::All,
        ] {
            let made = wash(&plot, &ground, &report, under, &moment);
            text += &format!("{}\n", made.title());
            for shade in made.shades() {
                text += &format!("{:>8}  {:?}  {}\n", shade.area(), shade.step, shade.label);
            }
        }
        let made = wash(&plot, &ground, &report, under, &Moment::All);
        made.notes().iter().for_each(|note| text += &format!("note: {note}\n"));
    }
    insta::assert_snapshot!(text.replace('\u{a0}', " "));
}

#[test]
fn page_of_doses_over_the_tissue_around() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot), sample::report(&plot));
    let made = sheet(&plot, &ground, &report, "dose/scab", &Moment::All);
    let moment = Moment::Round(Season(2031), RoundKey::Named("2".into()));
    let under = wash(&plot, &ground, &report, Underlay::Tissue, &moment);
    check_page("tissue", &plot, &ground, &made, Theme::Day, None, Some(&under));
}

fn around(plot: &Plot, report: Option<&Report>, id: &str, moment: &Moment) -> NeighbourView {
    let tree = plot.tree_ix(id).expect("a tree");
    let record = Record::of(plot, plot.trait_ix("scab_leaf").expect("a trait"));
    let span = moment.span(record.rounds());
    let asked = Asked { plot, report, disease: "scab", span };
    let nearby = Surroundings::of(plot).nearby(asked, tree, 8);
    NeighbourView::of(plot, "scab", report, &nearby)
}

fn told(view: &NeighbourView) -> String {
    let mut lines = vec![view.itself.clone(), view.summary.clone()];
    for link in &view.links {
        let counts = link.counts.as_deref().unwrap_or("-");
        lines.push(format!("{:?} [{counts}] {}", link.tells, link.words));
    }
    lines.extend(view.farther.clone());
    lines.push(view.weighing.clone());
    lines.join("\n").replace('\u{a0}', " ")
}

#[test]
fn neighbours_of_a_tree_at_every_moment() {
    let plot = sample::plot();
    let report = sample::report(&plot);
    let record = Record::of(&plot, plot.trait_ix("scab_leaf").unwrap());
    let mut moments: Vec<Moment> = record.rounds().iter().map(Moment::from).collect();
    moments.extend([Moment::Season(Season(2031)), Moment::All]);
    let mut all: Vec<String> = moments
        .iter()
        .map(|moment| {
            let view = around(&plot, Some(&report), "4-3", moment);
            format!("== {}\n{}", moment.label(&plot, record.rounds()), told(&view))
        })
        .collect();
    let without_a_fit = Report { fit: None, ..report };
    for (what, report) in [("not judged", None), ("no fit", Some(&without_a_fit))] {
        all.push(format!("== {what}\n{}", told(&around(&plot, report, "4-3", &Moment::All))));
    }
    insta::assert_snapshot!("neighbours", all.join("\n\n"));
}

#[test]
fn page_of_verdicts_with_the_neighbours_of_a_tree() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot).with_ends(sample::ends()), sample::report(&plot));
    let view = around(&plot, Some(&report), "3-2", &Moment::All);
    let made = sheet(&plot, &ground, &report, "verdict/scab", &Moment::All);
    check_page("verdicts", &plot, &ground, &made, Theme::Evening, Some(&view), None);
}

#[test]
fn page_of_a_round_with_the_neighbours_of_a_tree_close_up() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot), sample::report(&plot));
    let moment = Moment::Round(Season(2031), RoundKey::Named("2".into()));
    let view = around(&plot, Some(&report), "4-3", &moment);
    let sheet = sheet(&plot, &ground, &report, "trait/scab_leaf", &moment);
    let centre = plot.tree(view.of).spot();
    let camera = Camera { centre, px_per_m: 60.0, turn_deg: -78.0, viewport: SCREEN };
    let neighbours = Some(&view);
    let page = Page {
        plot: &plot,
        ground: &ground,
        sheet: &sheet,
        camera: &camera,
        theme: Theme::Day,
        neighbours,
        wash: None,
    };
    insta::assert_snapshot!("close_up", svg(page));
}

fn check_page(
    name: &str,
    plot: &Plot,
    ground: &Ground,
    sheet: &Sheet,
    theme: Theme,
    neighbours: Option<&NeighbourView>,
    wash: Option<&Wash>,
) {
    let turn_deg = Facing::Upright.turn_deg(ground.bounds(), SCREEN, ground.origin());
    let camera = Camera::fit(ground.bounds(), SCREEN, INSETS, turn_deg);
    let page = Page { plot, ground, sheet, wash, camera: &camera, theme, neighbours };
    insta::assert_snapshot!(name, svg(page));
}
