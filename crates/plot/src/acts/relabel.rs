//! A tree in another place, and what is known of it corrected; what really changed leaves a word
//! with its day in the note.

use language::say;
use time::Date;

use super::plant::neighbours;
use super::{Plan, noted, numbered, place_noted, place_of, place_words};
use crate::words::{capital, quoted};
use crate::{EditPart, Plot, Refusal, TreeField as F, TreeIx};

/// The tree stands in a row and place, whatever metres or degrees its line gave.
pub(super) fn moving(
    plot: &Plot,
    tree: TreeIx,
    (row, place): (i32, i32),
    truly: bool,
    day: Date,
) -> Result<Plan, Refusal> {
    let one = plot.tree(tree);
    let name = one.name();
    if one.carrier().is_some() {
        return Err(Refusal::new(
            "grafted_on",
            say!("a graft"),
            say!("a tree: a graft moves with its tree"),
        ));
    }
    let (to, there) = (numbered(row, place), place_words(row, place));
    let location = one.draft().location;
    if location == to {
        return Err(Refusal::new(
            "place",
            say!("the place where it stands"),
            say!("another place"),
        ));
    }
    let set = |field, text: String| EditPart::set(one.id(), field, text);
    let mut parts = vec![set(F::Row, row.to_string()), set(F::Place, place.to_string())];
    if location.spot.is_some() {
        parts.extend([set(F::X, String::new()), set(F::Y, String::new())]);
    }
    if location.globe.is_some() {
        parts.extend([set(F::Lon, String::new()), set(F::Lat, String::new())]);
    }
    let from = place_of(one);
    let mut will_be = vec![say!("{place}: {name}, so far in {from}.", place = capital(&there))];
    will_be.extend(neighbours(plot, &to));
    let grafts = plot.carried(tree).len();
    if grafts > 0 {
        will_be.push(say!("Its grafts go with it: {grafts}."));
    }
    let words = if truly {
        parts.push(noted(one, day, &format!("moved from {}", place_noted(one))));
        say!("Moved {name} from {from} to {there}")
    } else {
        say!("{name} is in {there}, not in {from}")
    };
    Ok(Plan { words, will_be, parts })
}

/// The cells that say something else than they did; another tag that was really put on leaves the
/// old one in the note.
pub(super) fn plan(
    plot: &Plot,
    tree: TreeIx,
    cells: &[(F, String)],
    truly: bool,
    day: Date,
) -> Result<Plan, Refusal> {
    let one = plot.tree(tree);
    let changed: Vec<(F, &str)> = cells
        .iter()
        .map(|(field, text)| (*field, text.trim()))
        .filter(|(field, text)| !field.says_the_same(&field.of(one), text))
        .collect();
    if changed.is_empty() {
        return Err(Refusal::new(
            "edit",
            say!("nothing that would change"),
            say!("something else than it says"),
        ));
    }
    let (mut parts, mut will_be) = (Vec::new(), Vec::new());
    let mut note = None;
    for &(field, text) in &changed {
        let before = field.of(one);
        let (label, now, so_far) = (field.label(), quoted(text), quoted(&before));
        will_be.push(say!("{label}: {now}, so far {so_far}."));
        if field == F::Tag && truly {
            note = Some(match before.as_str() {
                "" => "tagged".to_owned(),
                before => format!("tag was {before}"),
            });
        }
        parts.push(EditPart::set(one.id(), field, text));
    }
    if let Some(note) = note {
        let mut renoted = one.clone();
        if let Some((_, text)) = changed.iter().find(|(field, _)| *field == F::Note) {
            renoted.draft.note = (!text.is_empty()).then(|| (*text).into());
        }
        parts.retain(|part| !matches!(part, EditPart::Set { field: F::Note, .. }));
        parts.push(noted(&renoted, day, &note));
    }
    let what: Vec<&str> = changed.iter().map(|&(field, _)| field.label()).collect();
    let words = match changed.as_slice() {
        [(F::Tag, tag)] if !tag.is_empty() => say!("Tag of {name} is now {tag}", name = one.name()),
        _ => {
            say!("{cells} of {name} corrected", cells = what.join(", "), name = one.name())
        }
    };
    Ok(Plan { words, will_be, parts })
}
