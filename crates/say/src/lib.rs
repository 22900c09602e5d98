//! Texts that a person reads, written in English where they are used: `say!`, `count!` and `text!`.
//!
//! They become a look-up in `language` by the English text. What is put into a text has a name, so
//! that another language may have another order: `say!("Row {row}")` takes a variable,
//! `say!("Row {row}", row = tree.row())` a value. A form as `{share:.1}` is written by the locale.
//! `cargo xtask words` finds every call of them.

mod pieces;

use proc_macro::TokenStream;
use proc_macro2::TokenStream as Tokens;
use quote::quote;
use syn::parse::{Parse, ParseStream};
use syn::{Expr, Ident, LitStr, Token, parse_macro_input};

use pieces::Pieces;

/// A text: `&'static str` as it stands, a `String` where something is put into it.
///
/// `say!("Print"; "of a button")` tells a text from another of the same words.
#[proc_macro]
pub fn say(input: TokenStream) -> TokenStream {
    let Said { text, context, values } = parse_macro_input!(input);
    let made = Pieces::of(&text).and_then(|pieces| {
        let key = match context {
            Some(context) => format!("{}\u{4}{}", context.value(), pieces.text),
            None => pieces.text.clone(),
        };
        let given = pieces.given(values)?;
        Ok(if pieces.is_plain() {
            quote!(::language::said(#key))
        } else {
            quote!(::language::filled(#key, &[#(#given),*]))
        })
    });
    made.unwrap_or_else(|error| error.to_compile_error()).into()
}

/// A text of a constant, English as it stands: `language::said` says it where it is shown.
#[proc_macro]
pub fn text(input: TokenStream) -> TokenStream {
    let text = parse_macro_input!(input as LitStr);
    let made = Pieces::of(&text).and_then(|pieces| match pieces.is_plain() {
        true => Ok(quote!(#text)),
        false => Err(syn::Error::new(text.span(), "nothing can be put into a constant")),
    });
    made.unwrap_or_else(|error| error.to_compile_error()).into()
}

/// A text for one and a text for any other number: `count!(n, "1 tree", "{n} trees")`, a `String`.
#[proc_macro]
pub fn count(input: TokenStream) -> TokenStream {
    let Counted { number, one, many, values } = parse_macro_input!(input);
    let made = Pieces::of(&one).and_then(|one| {
        let many = Pieces::of(&many)?;
        let english = [one.text.clone(), many.text.clone()];
        let given = one.and(&many).given(values)?;
        Ok(quote!(::language::counted((#number) as u64, [#(#english),*], &[#(#given),*])))
    });
    made.unwrap_or_else(|error: syn::Error| error.to_compile_error()).into()
}

struct Said {
    text: LitStr,
    context: Option<LitStr>,
    values: Vec<Value>,
}

struct Counted {
    number: Expr,
    one: LitStr,
    many: LitStr,
    values: Vec<Value>,
}

/// `row = tree.row()`.
struct Value {
    name: Ident,
    value: Tokens,
}

impl Parse for Said {
    fn parse(input: ParseStream) -> syn::Result<Self> {
        let text = input.parse()?;
        let context = match input.parse::<Option<Token![;]>>()? {
            Some(_) => Some(input.parse()?),
            None => None,
        };
        Ok(Self { text, context, values: values(input)? })
    }
}

impl Parse for Counted {
    fn parse(input: ParseStream) -> syn::Result<Self> {
        let number = input.parse()?;
        input.parse::<Token![,]>()?;
        let one = input.parse()?;
        input.parse::<Token![,]>()?;
        Ok(Self { number, one, many: input.parse()?, values: values(input)? })
    }
}

fn values(input: ParseStream) -> syn::Result<Vec<Value>> {
    let mut values = Vec::new();
    while input.parse::<Option<Token![,]>>()?.is_some() && !input.is_empty() {
        let name = input.parse()?;
        input.parse::<Token![=]>()?;
        let value: Expr = input.parse()?;
        values.push(Value { name, value: quote!(#value) });
    }
    Ok(values)
}
