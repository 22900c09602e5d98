//! Texts found in the code: every call of `say!`, `count!` and `text!`.

use std::path::Path;
use std::str::FromStr as _;

use anyhow::{Context, Result, anyhow};
use proc_macro2::{Delimiter, TokenStream, TokenTree};

use crate::bundle::files_under;

/// What the code says somewhere.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Text {
    /// What tells it from another of the same words; often empty.
    pub(super) context: String,
    /// English; of a text that counts, for one.
    pub(super) english: String,
    /// English for many, where the text counts.
    pub(super) many: Option<String>,
    /// The files that say it, by their path from the top.
    pub(super) files: Vec<String>,
}

impl Text {
    fn is_same(&self, other: &Self) -> bool {
        (&self.context, &self.english, &self.many) == (&other.context, &other.english, &other.many)
    }
}

/// All texts, each once, by the first file that says it and their order in there.
///
/// # Errors
/// Code that cannot be read, or a call without a text.
pub(super) fn texts(top: &Path) -> Result<Vec<Text>> {
    let mut texts: Vec<Text> = Vec::new();
    for (name, bytes) in files_under(&top.join("crates"))? {
        let is_code = name.ends_with(".rs") && name.contains("/src/");
        if !is_code || ["say/", "language/", "xtask/"].iter().any(|own| name.starts_with(own)) {
            continue;
        }
        let file = format!("crates/{name}");
        let said = texts_of(std::str::from_utf8(&bytes)?).with_context(|| file.clone())?;
        for text in said {
            match texts.iter_mut().find(|one| one.is_same(&text)) {
                Some(one) if one.files.last() == Some(&file) => {}
                Some(one) => one.files.push(file.clone()),
                None => texts.push(Text { files: vec![file.clone()], ..text }),
            }
        }
    }
    texts.extend(of_profiles(top)?);
    Ok(texts)
}

/// What the profiles of diseases that come with the program say: a disease's name, its stages and
/// its cautions. Labels of traits go into a plot, and are its own.
fn of_profiles(top: &Path) -> Result<Vec<Text>> {
    let mut texts: Vec<Text> = Vec::new();
    for (name, bytes) in files_under(&top.join("crates/files/profiles"))? {
        let profile: serde_json::Value = serde_json::from_slice(&bytes)?;
        let all = |list: &str, field: &str| {
            let list = profile[list].as_array().into_iter().flatten();
            list.filter_map(|one| one[field].as_str().map(str::to_owned)).collect::<Vec<_>>()
        };
        let label = profile["label"].as_str().map(str::to_owned);
        for english in
            label.into_iter().chain(all("rounds", "stage")).chain(all("cautions", "text"))
        {
            let file = format!("crates/files/profiles/{name}");
            match texts.iter_mut().find(|one| one.english == english) {
                Some(one) => one.files.push(file),
                None => texts.push(Text { english, files: vec![file], ..Text::default() }),
            }
        }
    }
    Ok(texts)
}

/// The texts of one file.
fn texts_of(code: &str) -> Result<Vec<Text>> {
    let tokens = TokenStream::from_str(code).map_err(|error| anyhow!("no Rust: {error}"))?;
    let mut texts = Vec::new();
    gather(tokens, &mut texts)?;
    Ok(texts)
}

fn gather(tokens: TokenStream, texts: &mut Vec<Text>) -> Result<()> {
    let tokens: Vec<_> = tokens.into_iter().collect();
    for (nth, token) in tokens.iter().enumerate() {
        let TokenTree::Group(group) = token else { continue };
        let called = nth.checked_sub(2).map(|from| (&tokens[from], &tokens[from + 1]));
        if let Some((TokenTree::Ident(name), TokenTree::Punct(mark))) = called
            && mark.as_char() == '!'
            && group.delimiter() == Delimiter::Parenthesis
        {
            match name.to_string().as_str() {
                "say" | "text" => texts.push(said(group.stream())?),
                "count" => texts.push(counted(group.stream())?),
                _ => {}
            }
        }
        gather(group.stream(), texts)?;
    }
    Ok(())
}

/// `"text"`, `"text"; "context"`, with values behind.
fn said(call: TokenStream) -> Result<Text> {
    let mut tokens = call.into_iter();
    let english = literal(tokens.next())?;
    let context = match tokens.next() {
        Some(TokenTree::Punct(mark)) if mark.as_char() == ';' => literal(tokens.next())?,
        _ => String::new(),
    };
    Ok(Text { context, english, ..Text::default() })
}

/// `number, "one", "many"`, with values behind.
fn counted(call: TokenStream) -> Result<Text> {
    let is_comma =
        |token: &TokenTree| matches!(token, TokenTree::Punct(mark) if mark.as_char() == ',');
    let mut tokens = call.into_iter().skip_while(|token| !is_comma(token)).skip(1);
    let one = literal(tokens.next())?;
    let many = literal(tokens.nth(1))?;
    Ok(Text { english: one, many: Some(many), ..Text::default() })
}

/// A text as the macros know it: without the forms of its values.
fn literal(token: Option<TokenTree>) -> Result<String> {
    let token = token.context("a call without a text")?;
    let literal: syn::LitStr = syn::parse2(token.clone().into())
        .map_err(|_| anyhow!("found {token}, expected a text in quotation marks"))?;
    Ok(without_forms(&literal.value()))
}

/// `{share}` for `{share:.1}`.
fn without_forms(text: &str) -> String {
    let (mut made, mut is_form) = (String::new(), false);
    let mut is_named = false;
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '{' | '}' if !is_named && letters.peek() == Some(&letter) => {
                made.extend(letters.next());
            }
            '{' => is_named = true,
            '}' => (is_named, is_form) = (false, false),
            ':' if is_named => is_form = true,
            _ => {}
        }
        if !is_form {
            made.push(letter);
        }
    }
    made
}

/// The names of the values that a text takes, in order of the alphabet.
pub(super) fn names(text: &str) -> Vec<String> {
    let plain = text.replace("{{", "").replace("}}", "");
    let pieces = plain.split('{').skip(1).filter_map(|piece| piece.split_once('}'));
    let mut names: Vec<String> = pieces.map(|(name, _)| name.to_owned()).collect();
    names.sort();
    names.dedup();
    names
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn calls_are_found_wherever_they_stand() {
        let code = r#"
            fn words() -> AnyView {
                let row = say!("Row {row}, {share:.1} \
                                of it", row = tree.row());
                view! { <p title=say!("Print"; "of a button")>{count!(n.len(), "1 tree", "{n} trees")}</p> }
                // say!("never")
                let origin = say!("as {{\"lon\": 5.12}}: {share:.1}", share = 0.5);
            }
        "#;
        let text = |context: &str, english: &str, many: Option<&str>| Text {
            context: context.into(),
            english: english.into(),
            many: many.map(Into::into),
            files: Vec::new(),
        };
        assert_eq!(
            texts_of(code).unwrap(),
            [
                text("", "Row {row}, {share} of it", None),
                text("of a button", "Print", None),
                text("", "1 tree", Some("{n} trees")),
                text("", "as {{\"lon\": 5.12}}: {share}", None),
            ]
        );
    }

    #[test]
    fn a_call_without_a_text_is_refused() {
        assert!(texts_of("fn words() { say!(TEXT) }").is_err());
    }

    #[test]
    fn values_are_known_by_their_names() {
        assert_eq!(names("{tag} in {row}, {tag}"), ["row", "tag"]);
        assert!(names("{{as it stands}}").is_empty());
    }
}
