//! Translations in gettext's form, held to the texts of the code.

use polib::catalog::Catalog;
use polib::message::{Message, MessageView};
use polib::metadata::CatalogMetadata;

use super::found::{Text, names};

/// The rule of languages that have one and many: the only one that `language` knows.
const ONE_AND_MANY: &str = "nplurals=2; plural=(n != 1);";
/// What part records and fields of what the page fetches, as `language::speak` has them.
const RECORD: &str = "\u{1e}";
const FIELD: char = '\u{1f}';
/// What parts a context from its text, as in gettext's compiled files.
const CONTEXT: char = '\u{4}';

/// All texts, without any translation.
pub(super) fn template(texts: &[Text]) -> Catalog {
    brought_up(texts, &[], "")
}

/// All texts and no others, with what is known of their translations; the first that knows one
/// counts.
pub(super) fn brought_up(texts: &[Text], known: &[Catalog], language: &str) -> Catalog {
    let mut catalog = Catalog::new(metadata(language));
    for text in texts {
        let mut known = known.iter().filter_map(|known| message_of(known, text));
        let translated = known.find(|message| message.is_translated());
        let mut message = match &text.many {
            None => {
                let translated = translated.and_then(|message| message.msgstr().ok());
                let mut message = Message::build_singular();
                message.with_msgstr(translated.unwrap_or_default().to_owned());
                message
            }
            Some(many) => {
                let translated = translated.and_then(|message| message.msgstr_plural().ok());
                let mut message = Message::build_plural();
                message.with_msgid_plural(many.clone());
                message.with_msgstr_plural(translated.cloned().unwrap_or(vec![String::new(); 2]));
                message
            }
        };
        if !text.context.is_empty() {
            message.with_msgctxt(text.context.clone());
        }
        message.with_msgid(text.english.clone()).with_source(text.files.join("\n"));
        catalog.append_or_update(message.done());
    }
    catalog
}

fn metadata(language: &str) -> CatalogMetadata {
    let head = format!(
        "Project-Id-Version: Leeward\nMIME-Version: 1.0\nContent-Type: text/plain; charset=UTF-8\n\
         Content-Transfer-Encoding: 8bit\nLanguage: {language}\nPlural-Forms: {ONE_AND_MANY}\n"
    );
    CatalogMetadata::parse(&head).expect("the rule is as gettext writes it")
}

/// What a list of all texts has too few or too many of.
pub(super) fn behind(texts: &[Text], list: &Catalog) -> Vec<String> {
    let lacking = texts.iter().filter(|text| message_of(list, text).is_none());
    let mut faults: Vec<_> = lacking
        .map(|text| format!("leeward.pot lacks {:?}: call `cargo xtask words`", text.english))
        .collect();
    if faults.is_empty() && list.count() != texts.len() {
        faults.push("leeward.pot has texts that nothing says: call `cargo xtask words`".into());
    }
    faults
}

/// What a translation lacks, has too much of, or puts other values into.
pub(super) fn lacking(texts: &[Text], translation: &Catalog, language: &str) -> Vec<String> {
    let mut faults = Vec::new();
    if translation.metadata.plural_rules.dump() != ONE_AND_MANY {
        faults.push(format!("{language}.po: only the rule {ONE_AND_MANY:?} is known"));
    }
    for text in texts {
        // Both are looked up by the same English words.
        let is_counted = |other: &Text| other.many.as_ref() == Some(&text.english);
        if text.many.is_none() && texts.iter().any(is_counted) {
            faults.push(format!("{:?} is said with and without counting", text.english));
        }
        let said = message_of(translation, text).map(forms).unwrap_or_default();
        let english = [Some(&text.english), text.many.as_ref()];
        if said.is_empty() || said.iter().any(String::is_empty) {
            faults.push(format!("{language}.po has no {:?}", text.english));
        } else if !english.iter().flatten().zip(&said).all(|(one, other)| takes(text, one, other)) {
            faults.push(format!("{language}.po puts other values into {:?}", text.english));
        }
    }
    faults
}

/// Whether a translation takes the values of its text; one that counts may leave out the number in
/// the form for one.
fn takes(text: &Text, english: &str, said: &str) -> bool {
    let (wanted, taken) = (names(english), names(said));
    let all = text.many.as_deref().map(names).unwrap_or_default();
    match text.many {
        None => wanted == taken,
        Some(_) => taken.iter().all(|name| all.contains(name) || wanted.contains(name)),
    }
}

/// What the page fetches: one record for each text.
pub(super) fn records(translation: &Catalog) -> String {
    let record = |message: &dyn MessageView| {
        let english = message.msgid_plural().unwrap_or_else(|_| message.msgid());
        let context = message.msgctxt().map(|context| format!("{context}{CONTEXT}"));
        let mut record = format!("{}{english}", context.unwrap_or_default());
        for said in forms(message) {
            record.push(FIELD);
            record.push_str(&said);
        }
        record
    };
    let translated = translation.messages().filter(|message| message.is_translated());
    translated.map(record).collect::<Vec<_>>().join(RECORD)
}

fn message_of<'a>(catalog: &'a Catalog, text: &Text) -> Option<&'a dyn MessageView> {
    let context = Some(text.context.as_str()).filter(|context| !context.is_empty());
    catalog.find_message(context, &text.english, text.many.as_deref())
}

/// The translation, or those for one and for many.
fn forms(message: &dyn MessageView) -> Vec<String> {
    match message.msgstr_plural() {
        Ok(forms) => forms.clone(),
        Err(_) => vec![message.msgstr().unwrap_or_default().to_owned()],
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use polib::message::MessageMutView as _;

    fn text(english: &str, many: Option<&str>) -> Text {
        Text { english: english.into(), many: many.map(Into::into), ..Text::default() }
    }

    /// German for the texts, in their order.
    fn translated(texts: &[Text], german: &[&[&str]]) -> Catalog {
        let mut catalog = brought_up(texts, &[], "de");
        for (mut message, german) in catalog.messages_mut().zip(german) {
            let forms: Vec<String> = german.iter().map(|&form| form.to_owned()).collect();
            match message.msgstr_plural_mut() {
                Ok(plural) => *plural = forms,
                Err(_) => message.set_msgstr(forms.concat()).expect("no plural"),
            }
        }
        catalog
    }

    #[test]
    fn a_translation_is_kept_as_long_as_the_text_stays() {
        let before = [text("Row {row}", None), text("1 tree", Some("{n} trees"))];
        let known = translated(&before, &[&["Reihe {row}"], &["1 Baum", "{n} Bäume"]]);
        let now = [text("1 tree", Some("{n} trees")), text("Print", None)];
        let catalog = brought_up(&now, &[known], "de");
        assert_eq!(records(&catalog), "{n} trees\u{1f}1 Baum\u{1f}{n} Bäume");
        assert_eq!(lacking(&now, &catalog, "de"), ["de.po has no \"Print\""]);
        assert_eq!(behind(&now, &template(&now)), Vec::<String>::new());
        assert_eq!(behind(&now, &template(&before)).len(), 1);
    }

    #[test]
    fn other_values_are_told() {
        let texts = [text("Row {row}", None), text("1 tree", Some("{n} trees"))];
        for (german, faults) in [
            ([&["Reihe {row}"][..], &["ein Baum", "{n} Bäume"]], 0),
            ([&["Reihe {place}"], &["1 Baum", "{n} Bäume"]], 1),
            ([&["Reihe"], &["1 Baum", "{trees} Bäume"]], 2),
        ] {
            let found = lacking(&texts, &translated(&texts, &german), "de");
            assert_eq!(found.len(), faults, "{found:?}");
        }
        let both = [text("{n} trees", None), text("1 tree", Some("{n} trees"))];
        let german = translated(&both, &[&["{n} Bäume"], &["1 Baum", "{n} Bäume"]]);
        assert_eq!(
            lacking(&both, &german, "de"),
            ["\"{n} trees\" is said with and without counting"]
        );
    }
}
