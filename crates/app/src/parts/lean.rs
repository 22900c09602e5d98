//! View code that is compiled once, however often it is used. Each `view!` and each closure in it
//! is a type of its own to the compiler, and such types are most of what the page weighs; what
//! goes through here is erased at once.

use leptos::html::custom;
use leptos::prelude::*;

/// Shows what `make` makes while `condition` holds.
pub fn when(
    condition: impl Fn() -> bool + Send + Sync + 'static,
    make: impl Fn() -> AnyView + Send + Sync + 'static,
) -> AnyView {
    fn erased(
        condition: Box<dyn Fn() -> bool + Send + Sync>,
        make: Box<dyn Fn() -> AnyView + Send + Sync>,
    ) -> AnyView {
        let holds = Memo::new(move |_| condition());
        changing(move || if holds.get() { make() } else { ().into_any() })
    }
    erased(Box::new(condition), Box::new(make))
}

/// Shows what `make` makes, and makes it anew when something that it read has changed.
pub fn changing(make: impl Fn() -> AnyView + Send + Sync + 'static) -> AnyView {
    fn erased(make: Box<dyn Fn() -> AnyView + Send + Sync>) -> AnyView {
        (move || make()).into_any()
    }
    erased(Box::new(make))
}

/// Words that change.
pub fn changing_words(say: impl Fn() -> Option<String> + Send + Sync + 'static) -> AnyView {
    fn erased(say: Box<dyn Fn() -> Option<String> + Send + Sync>) -> AnyView {
        (move || say().unwrap_or_default()).into_any()
    }
    erased(Box::new(say))
}

/// An element with a class and what is in it.
pub fn element(tag: &'static str, class: &'static str, children: Vec<AnyView>) -> AnyView {
    custom(tag).class(class).child(children).into_any()
}

/// An element with a class and words.
pub fn said(tag: &'static str, class: &'static str, words: impl Into<String>) -> AnyView {
    fn erased(tag: &'static str, class: &'static str, words: String) -> AnyView {
        element(tag, class, vec![words.into_any()])
    }
    erased(tag, class, words.into())
}

/// A link.
pub fn link(class: &'static str, address: String, words: String) -> AnyView {
    view! { <a class=class href=address>{words}</a> }.into_any()
}

/// A button.
pub fn button(
    class: &'static str,
    words: &'static str,
    press: impl Fn() + Send + Sync + 'static,
) -> AnyView {
    fn erased(
        class: &'static str,
        words: &'static str,
        press: Box<dyn Fn() + Send + Sync>,
    ) -> AnyView {
        view! { <button class=class on:click=move |_| press()>{words}</button> }.into_any()
    }
    erased(class, words, Box::new(press))
}
