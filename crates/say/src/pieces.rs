//! A text taken apart: what stands in braces, and the text without its forms.

use proc_macro2::{Span, TokenStream as Tokens};
use quote::quote;
use syn::{Ident, LitStr};

use crate::Value;

/// A text and the names that stand in its braces.
pub(crate) struct Pieces {
    span: Span,
    /// `{share}` for `{share:.1}`; doubled braces stay doubled.
    pub(crate) text: String,
    /// Names with their forms, each once.
    names: Vec<(String, String)>,
}

impl Pieces {
    /// Takes a text apart.
    pub(crate) fn of(literal: &LitStr) -> syn::Result<Self> {
        let fault = |words: &str| syn::Error::new(literal.span(), words);
        let (whole, mut text, mut names) = (literal.value(), String::new(), Vec::new());
        let mut letters = whole.chars().peekable();
        while let Some(letter) = letters.next() {
            text.push(letter);
            match letter {
                '{' | '}' if letters.peek() == Some(&letter) => text.extend(letters.next()),
                '}' => return Err(fault("a brace that opens nothing: `}}` writes one")),
                '{' => {
                    let inner: String = letters.by_ref().take_while(|&one| one != '}').collect();
                    let (name, form) = inner.split_once(':').unwrap_or((&inner, ""));
                    if syn::parse_str::<Ident>(name).is_err() {
                        return Err(fault("what is put in needs a name: `{row}`"));
                    }
                    text.push_str(name);
                    text.push('}');
                    let one = (name.to_owned(), form.to_owned());
                    if !names.contains(&one) {
                        names.push(one);
                    }
                }
                _ => {}
            }
        }
        Ok(Self { span: literal.span(), text, names })
    }

    /// Whether the text is shown as it stands.
    pub(crate) fn is_plain(&self) -> bool {
        !self.text.contains(['{', '}'])
    }

    /// With the names of another, too.
    pub(crate) fn and(mut self, other: &Self) -> Self {
        let more = other.names.iter().filter(|name| !self.names.contains(name));
        self.names.extend(more.cloned().collect::<Vec<_>>());
        self
    }

    /// A pair of name and formatted value for each name; a value that no text names is a fault.
    pub(crate) fn given(&self, mut values: Vec<Value>) -> syn::Result<Vec<Tokens>> {
        let mut given = Vec::new();
        for (name, form) in &self.names {
            let value = match values.iter().position(|value| value.name == name) {
                Some(at) => values.remove(at).value,
                None => {
                    let variable = Ident::new(name, self.span);
                    quote!(#variable)
                }
            };
            let (is_decimal, form) = (form.contains('.'), format!("{{:{form}}}"));
            let written = quote!(::core::format_args!(#form, #value));
            given.push(if is_decimal {
                let written = quote!(::language::decimal(#written.to_string()));
                quote!((#name, ::core::format_args!("{}", #written)))
            } else {
                quote!((#name, #written))
            });
        }
        match values.first() {
            Some(value) => Err(syn::Error::new(value.name.span(), "no text names this value")),
            None => Ok(given),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn taken(text: &str) -> Result<(String, Vec<String>), String> {
        let literal = LitStr::new(text, Span::call_site());
        Pieces::of(&literal)
            .map(|pieces| {
                let names = pieces.names.iter().map(|(name, form)| format!("{name}|{form}"));
                (pieces.text.clone(), names.collect())
            })
            .map_err(|error| error.to_string())
    }

    #[test]
    fn forms_leave_the_text_and_names_stay() {
        for (text, without, names) in [
            ("Row {row}", "Row {row}", vec!["row|"]),
            ("{share:.1} of {all}, {all}", "{share} of {all}, {all}", vec!["share|.1", "all|"]),
            ("as {{it}} stands", "as {{it}} stands", vec![]),
        ] {
            let names = names.into_iter().map(str::to_owned).collect();
            assert_eq!(taken(text), Ok((without.to_owned(), names)));
        }
    }

    #[test]
    fn what_has_no_name_is_refused() {
        for text in ["Row {}", "Row {0}", "Row }"] {
            assert!(taken(text).is_err(), "{text}");
        }
    }
}
