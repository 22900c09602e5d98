//! Words of lists, in several languages and spellings: heads of columns, roles, what became of a
//! tree, lines that count.

use plot::{Role, Status, TreeField as F};
use rapidfuzz::distance::osa;

use super::Target;

/// A word as it is compared: small letters without accents, words parted by one space, without
/// what stands in brackets.
pub(super) fn folded(text: &str) -> String {
    let mut depth = 0_usize;
    let outside: String = text
        .chars()
        .filter(|&letter| {
            depth += usize::from(matches!(letter, '(' | '['));
            let is_outside = depth == 0;
            depth -= usize::from(matches!(letter, ')' | ']') && depth > 0);
            is_outside
        })
        .collect();
    let plain = plot::without_accents(&outside);
    let parted = |letter: char| !letter.is_alphanumeric() && letter != '×' && letter != '#';
    plain.split(parted).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Heads of columns, folded. English, German, Dutch, French, Spanish, Italian; `_` is a space.
const HEADS: &[(Target, &str)] = &[
    (
        Target::TreeId,
        "tree id|id|tree|tree number|tree no|tree nr|baum id|baum nr|baumnummer|boom id|boomnummer|no arbre|id arbre|id arbol|plant id|plant no|identifier|unique id|baum|boom|arbre|arbol|albero",
    ),
    (
        Target::Field(F::Row),
        "row|row no|row number|row nr|reihe|reihen nr|reihennummer|rij|rijnummer|rij nr|rang|rangee|ligne|fila|hilera|fila no|filare|rows",
    ),
    (
        Target::Field(F::Place),
        "place|position|pos|place no|place in row|position in row|spot|slot|platz|platz nr|pflanzplatz|stelle|plaats|plek|plaats nr|emplacement|place dans le rang|posicion|puesto|posto|tree in row|baum in reihe",
    ),
    (
        Target::Field(F::X),
        "x m|x|x metres|x meter|x meters|along|along row|metres along row|abstand entlang|local x",
    ),
    (
        Target::Field(F::Y),
        "y m|y|y metres|y meter|y meters|across|across rows|metres across rows|local y",
    ),
    (
        Target::Field(F::Lon),
        "lon|lng|long|longitude|lange|langengrad|geo lange|lengtegraad|longitud|longitudine|easting degrees|wgs84 lon",
    ),
    (
        Target::Field(F::Lat),
        "lat|latitude|breite|breitengrad|geo breite|breedtegraad|latitud|latitudine|wgs84 lat",
    ),
    (
        Target::Field(F::Tag),
        "tag|label|tag no|tag number|tag nr|etikett|etiket|etiquette|etiqueta|etichetta|schild|marke|code|name on tag|label text|name",
    ),
    (
        Target::Field(F::Genotype),
        "genotype|clone|klon|kloon|genotyp|genotypus|sort|sorte|variety|cultivar|ras|variete|variedad|selection|selektion|accession|varieta",
    ),
    (
        Target::Field(F::SeedParent),
        "seed parent|mother|female|female parent|seed|parent 1|mutter|muttersorte|moeder|moederras|mere|parent femelle|madre|mum|maternal parent",
    ),
    (
        Target::Field(F::PollenParent),
        "pollen parent|father|male|male parent|pollen|parent 2|vater|vatersorte|vader|vaderras|pere|parent male|padre|dad|pollinator|paternal parent",
    ),
    (
        Target::Cross,
        "cross|parents|parentage|pedigree|kreuzung|eltern|abstammung|kruising|ouders|croisement|cruce|cruzamiento|family|familie|incrocio|progeny|cross name",
    ),
    (
        Target::Field(F::CrossYear),
        "cross year|year|year of cross|crossed|crossed in|crossing year|kreuzungsjahr|jahr|jahr der kreuzung|kruisingsjaar|jaar|annee|annee de croisement|ano|anno",
    ),
    (
        Target::Field(F::SeedlingNo),
        "seedling no|seedling number|seedling|seedling nr|no in cross|number|no|nr|nummer|samlingsnummer|samling|zaailing|zaailing nr|semis|numero|num|n|#",
    ),
    (
        Target::Field(F::Role),
        "role|kind|type|art|rolle|rol|use|purpose|typ|tipo|funktion|verwendung",
    ),
    (
        Target::Field(F::GraftedOn),
        "grafted on|on tree|carrier|veredelt auf|unterlage baum|geent op|greffe sur|injertado en",
    ),
    (
        Target::Field(F::Status),
        "status|state|condition|alive|zustand|stand|toestand|etat|estado|stato|lebt|vitality",
    ),
    (
        Target::Field(F::PlantedOn),
        "planted on|planted|planting date|date planted|plant date|pflanzdatum|gepflanzt|gepflanzt am|pflanzung|geplant|geplant op|plantdatum|plante le|date de plantation|fecha de plantacion|plantado|data impianto",
    ),
    (
        Target::Field(F::RemovedOn),
        "removed on|removed|removal date|date removed|gerodet|gerodet am|entfernt|entfernt am|gerooid|gerooid op|arrache le|died|died on|retirado|grubbed",
    ),
    (
        Target::Field(F::Note),
        "note|notes|remark|remarks|comment|comments|bemerkung|bemerkungen|notiz|notizen|opmerking|opmerkingen|remarque|remarques|nota|notas|observaciones|notities|kommentar|anmerkung|anmerkungen|note di campo",
    ),
    (
        Target::RowPlace,
        "row place|row and place|row position|reihe platz|reihe position|standort|location|rij plaats|field position|plot position|coordinates in plot",
    ),
];

/// How sure a head is: its very word, or only nearly so.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Sure {
    Nearly,
    Exactly,
}

/// What a column's head says that it holds.
pub(super) fn head(text: &str) -> Option<(Target, Sure)> {
    let word = folded(text);
    if word.is_empty() {
        return None;
    }
    // The contract's own names mean just that.
    let exact = Target::all().find(|target| target.as_str().replace('_', " ") == word);
    let said = |like: &dyn Fn(&str) -> bool| {
        HEADS.iter().find(|(_, words)| words.split('|').any(like)).map(|(target, _)| *target)
    };
    let exact = exact.filter(|target| *target != Target::Skip).or_else(|| said(&|one| one == word));
    if let Some(target) = exact {
        return Some((target, Sure::Exactly));
    }
    let slips = match word.chars().count() {
        0..=4 => return None,
        5..=7 => 1,
        _ => 2,
    };
    let near = |one: &str| one.len() > 4 && osa::distance(one.chars(), word.chars()) <= slips;
    Some((said(&near)?, Sure::Nearly))
}

const ROLES: &[(Role, &str)] = &[
    (Role::Seedling, "seedling|samling|zaailing|semis|plantula|s"),
    (Role::Named, "named|named sort|variety|cultivar|sorte|sort|ras|variete|variedad|n"),
    (
        Role::SusceptibleCheck,
        "susceptible check|susceptible|susceptible control|anfallig|anfallige kontrolle|vatbaar|vatbare controle|temoin sensible|sensible|testigo susceptible",
    ),
    (
        Role::ResistantCheck,
        "resistant check|resistant|resistant control|resistente kontrolle|resistente controle|temoin resistant|testigo resistente|resistente",
    ),
    (Role::Guard, "guard|guard tree|border|edge|rand|randbaum|bordure|borde|filler|fullbaum"),
];

const STATUSES: &[(Status, &str)] = &[
    (
        Status::Alive,
        "alive|living|lives|ok|yes|standing|lebt|lebend|ja|steht|levend|leeft|vivant|vivo|viva|1|good|healthy|gesund|gezond|x",
    ),
    (Status::Dead, "dead|died|tot|abgestorben|dood|mort|morte|muerto|dode|0|no|nein|nee"),
    (
        Status::Removed,
        "removed|gone|taken out|grubbed|gerodet|entfernt|gerooid|verwijderd|arrache|retirado|culled",
    ),
    (
        Status::Empty,
        "empty|none|nothing|missing|gap|leer|luecke|lucke|fehlt|leeg|ontbreekt|vide|manquant|vacio|falta|fehlstelle",
    ),
];

/// The role of a word.
pub(super) fn role(text: &str) -> Option<Role> {
    Role::parse(text).or_else(|| of_words(ROLES, text))
}

/// What became of a tree, of a word.
pub(super) fn status(text: &str) -> Option<Status> {
    Status::parse(text).or_else(|| of_words(STATUSES, text))
}

fn of_words<T: Copy>(table: &[(T, &str)], text: &str) -> Option<T> {
    let word = folded(text);
    table.iter().find(|(_, words)| words.split('|').any(|one| one == word)).map(|(it, _)| *it)
}

/// Whether a line that begins so counts the lines above it.
pub(super) fn is_total(text: &str) -> bool {
    const WORDS: [&str; 14] = [
        "total",
        "totals",
        "sum",
        "summe",
        "gesamt",
        "gesamtsumme",
        "totaal",
        "som",
        "somme",
        "totale",
        "suma",
        "subtotal",
        "zwischensumme",
        "grand total",
    ];
    let word = folded(text);
    WORDS
        .iter()
        .any(|one| word == *one || word.strip_prefix(one).is_some_and(|rest| rest.starts_with(' ')))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heads_are_known_in_several_spellings() {
        let check = |text: &str, expect: Option<Target>| {
            assert_eq!(head(text).map(|(target, _)| target), expect, "{text}");
        };
        check("tree_id", Some(Target::TreeId));
        check("  Row  ", Some(Target::Field(F::Row)));
        check("Reihe Nr.", Some(Target::Field(F::Row)));
        check("Reihen-Nr.", Some(Target::Field(F::Row)));
        check("REIHE", Some(Target::Field(F::Row)));
        check("Längengrad", Some(Target::Field(F::Lon)));
        check("x [m]", Some(Target::Field(F::X)));
        check("x_m", Some(Target::Field(F::X)));
        check("Emplacment", Some(Target::Field(F::Place)));
        check("Pflanzdattum", Some(Target::Field(F::PlantedOn)));
        check("Croisement", Some(Target::Cross));
        check("skip", None);
        check("Leaf colour", None);
        check("", None);
        check("(m)", None);
    }

    #[test]
    fn no_head_stands_for_two_targets() {
        let mut seen = std::collections::BTreeMap::new();
        for (target, words) in HEADS {
            for word in words.split('|') {
                assert_eq!(word, folded(word), "{word} is not folded");
                assert_eq!(seen.insert(word, target), None, "{word}");
            }
        }
        for target in Target::all().filter(|target| *target != Target::Skip) {
            assert_eq!(head(target.as_str()), Some((target, Sure::Exactly)));
        }
    }

    #[test]
    fn roles_and_statuses_are_known() {
        assert_eq!(role("Anfällig"), Some(Role::SusceptibleCheck));
        assert_eq!(role("resistant_check"), Some(Role::ResistantCheck));
        assert_eq!(role("tree"), None);
        assert_eq!(status("Lücke"), Some(Status::Empty));
        assert_eq!(status("TOT"), Some(Status::Dead));
        assert_eq!(status("maybe"), None);
        assert!(
            is_total("Total:")
                && is_total("Summe Bäume")
                && !is_total("Totara-1")
                && !is_total("Sumac")
        );
    }
}
