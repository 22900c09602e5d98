//! The profile of one disease read from its JSON; every field that breaks a rule is told by its
//! path.

use language::say;
use plot::disease::{Months, Organ, ProfileTrait, Reach, UsualRound};
use plot::{Disease, Needs, Trait};
use serde_json::Value;

use super::fields::Fields;
use super::weather_rule::weather_rule;
use super::{needs, non_empty, one_trait, text};

/// Most entries of any list of a profile.
pub(super) const MOST: usize = 100;
/// Longest half-distance, metres.
const FARTHEST_M: f64 = 100.0;

const FIELDS: [&str; 15] = [
    "id",
    "names",
    "label",
    "organs",
    "traits",
    "conditions",
    "months_at_risk",
    "latency",
    "weather",
    "spread",
    "rounds",
    "cautions",
    "on_tools",
    "in_grafting_wood",
    "source",
];
const TRAIT_FIELDS: [&str; 11] = [
    "id",
    "label",
    "kind",
    "scale",
    "unit",
    "min",
    "max",
    "needs",
    "needs_where_scored",
    "usual",
    "source",
];

/// Reads a profile; every fault of it is told.
pub(super) fn profile(fields: &mut Fields<'_, '_>) -> Option<Disease> {
    fields.only(&FIELDS);
    source(fields);
    let id = fields.needed("id", say!("a name"), named);
    let names = fields.texts("names", MOST);
    let label =
        fields.optional("label", say!("what the disease is called amid a sentence"), non_empty);
    let organs = fields.each("organs", &say!("a list of organs {{\"organ\", \"stage\"}}"), organ);
    let mut traits = fields.each("traits", say!("a list of traits"), profile_trait);
    let conditions = fields.each("conditions", say!("a list of traits"), |fields| {
        fields.only(&TRAIT_FIELDS);
        source(fields);
        one_trait(fields)
    });
    let months_at_risk = fields.within("months_at_risk", false, months);
    let unseen_days = fields.within("latency", false, |fields| {
        fields.only(&["unseen_days", "source"]);
        source(fields);
        fields.needed("unseen_days", say!("whole days from 0 to 2000"), |value| {
            whole(value, 0..=2000)
        })
    });
    let weather = fields.within("weather", false, weather_rule);
    let reach = fields.within("spread", false, reach);
    let rounds = fields.each("rounds", &say!("a list of rounds {{\"stage\", \"traits\"}}"), round);
    let cautions =
        fields.each("cautions", &say!("a list of cautions {{\"text\", \"source\"}}"), |fields| {
            fields.only(&["text", "source"]);
            source(fields);
            fields.needed("text", say!("a sentence"), non_empty)
        });
    let is_on_tools = fields.optional("on_tools", say!("true or false"), Value::as_bool);
    let is_in_grafting_wood =
        fields.optional("in_grafting_wood", say!("true or false"), Value::as_bool);
    for list in ["organs", "traits", "conditions", "rounds", "cautions"] {
        fields.at_most(list, MOST);
    }
    trait_names(fields, &traits, &conditions, &rounds);
    let id = id?;
    for (_, it) in &mut traits {
        it.one.disease = Some(id.clone());
    }
    Some(Disease {
        label: label.unwrap_or_else(|| id.replace('_', " ")),
        id,
        names,
        organs: values(organs),
        traits: values(traits),
        conditions: values(conditions),
        months_at_risk,
        unseen_days: unseen_days.unwrap_or(0),
        weather,
        reach: reach.unwrap_or_default(),
        rounds: values(rounds),
        cautions: values(cautions),
        is_on_tools: is_on_tools.unwrap_or(false),
        is_in_grafting_wood: is_in_grafting_wood.unwrap_or(false),
        own: None,
    })
}

fn values<T>(read: Vec<(usize, T)>) -> Vec<T> {
    read.into_iter().map(|(_, one)| one).collect()
}

/// Where the numbers of an object come from, in words; a profile is data, so it stands there.
pub(super) fn source(fields: &mut Fields<'_, '_>) {
    fields.optional("source", say!("where it comes from, in words"), text);
}

/// A name by which something can be found: it has a letter or a digit.
fn named(value: &Value) -> Option<String> {
    non_empty(value).filter(|name| name.chars().any(char::is_alphanumeric))
}

/// A whole number within a range.
pub(super) fn whole<T: TryFrom<u64> + PartialOrd>(
    value: &Value,
    range: std::ops::RangeInclusive<T>,
) -> Option<T> {
    value.as_u64().and_then(|number| T::try_from(number).ok()).filter(|it| range.contains(it))
}

fn organ(fields: &mut Fields<'_, '_>) -> Option<Organ> {
    fields.only(&["organ", "stage", "source"]);
    source(fields);
    let organ = fields.needed("organ", say!("such as leaves"), non_empty);
    let stage = fields.optional("stage", say!("when it can be infected, in words"), non_empty);
    Some(Organ { organ: organ?, stage })
}

fn profile_trait(fields: &mut Fields<'_, '_>) -> Option<ProfileTrait> {
    fields.only(&TRAIT_FIELDS);
    source(fields);
    let is_usual = fields.optional("usual", say!("true or false"), Value::as_bool);
    let needs_where_scored = fields.within("needs_where_scored", false, needs);
    let one = one_trait(fields)?;
    Some(ProfileTrait { one, is_usual: is_usual.unwrap_or(false), needs_where_scored })
}

fn months(fields: &mut Fields<'_, '_>) -> Option<Months> {
    fields.only(&["first", "last", "source"]);
    source(fields);
    let mut month =
        |name| fields.needed(name, say!("a month from 1 to 12"), |it| whole(it, 1..=12));
    let (first, last) = (month("first"), month("last"));
    Some(Months { first: first?, last: last? })
}

fn reach(fields: &mut Fields<'_, '_>) -> Option<Reach> {
    const MOST_DISTANCES: usize = 12;
    fields.only(&["half_distances_m", "usual_half_distance_m", "source"]);
    source(fields);
    let metres = |value: &Value| value.as_f64().filter(|&it| it > 0.0 && it <= FARTHEST_M);
    let expected = say!(
        "1 to {most} distances in metres, each above 0 and at most {farthest}, rising",
        most = MOST_DISTANCES,
        farthest = FARTHEST_M
    );
    let grid = fields.optional("half_distances_m", expected, |value| {
        let grid: Vec<f64> =
            value.as_array()?.iter().take(MOST_DISTANCES + 1).map(metres).collect::<Option<_>>()?;
        let is_rising = grid.windows(2).all(|two| two[0] < two[1]);
        (is_rising && (1..=MOST_DISTANCES).contains(&grid.len())).then_some(grid)
    });
    let expected = say!("metres above 0 and at most {farthest}", farthest = FARTHEST_M);
    let usual = fields.optional("usual_half_distance_m", expected, metres);
    let common = Reach::default();
    Some(Reach {
        half_distances_m: grid.unwrap_or(common.half_distances_m),
        usual_half_distance_m: usual.unwrap_or(common.usual_half_distance_m),
    })
}

fn round(fields: &mut Fields<'_, '_>) -> Option<UsualRound> {
    fields.only(&["stage", "traits", "source"]);
    source(fields);
    let stage = fields.needed("stage", say!("when in the season, in words"), non_empty);
    Some(UsualRound { traits: fields.texts("traits", MOST), stage: stage? })
}

/// Ids of traits stand once, and what names one names one of this profile.
fn trait_names(
    fields: &mut Fields<'_, '_>,
    traits: &[(usize, ProfileTrait)],
    conditions: &[(usize, Trait)],
    rounds: &[(usize, UsualRound)],
) {
    let ids = || {
        let of_traits = traits.iter().map(|(nth, it)| (format!("traits[{nth}]"), &it.one.id));
        let others = conditions.iter().map(|(nth, one)| (format!("conditions[{nth}]"), &one.id));
        of_traits.chain(others)
    };
    let all: Vec<&str> = ids().map(|(_, id)| id.as_str()).collect();
    for (nth, (path, id)) in ids().enumerate() {
        if all[..nth].contains(&id.as_str()) {
            let found = say!("{id} twice", id = crate::findings::quoted(id.as_str()));
            fields.fault(&format!("{path}.id"), found, say!("each id once"));
        }
    }
    let needed = |needs: &Option<Needs>| needs.as_ref().map(|it| it.trait_id.to_string());
    let of_traits = traits.iter().flat_map(|(nth, it)| {
        let always = needed(&it.one.needs).map(|id| (format!("traits[{nth}].needs.trait"), id));
        let path = format!("traits[{nth}].needs_where_scored.trait");
        always.into_iter().chain(needed(&it.needs_where_scored).map(|id| (path, id)))
    });
    let of_rounds = rounds.iter().flat_map(|(nth, round)| {
        let path = format!("rounds[{nth}].traits");
        round.traits.iter().map(move |id| (path.clone(), id.clone()))
    });
    for (path, id) in of_traits.chain(of_rounds) {
        if !all.contains(&id.as_str()) {
            let expected = say!("the id of a trait or condition of this disease");
            fields.fault(&path, crate::findings::quoted(&id), expected);
        }
    }
}
