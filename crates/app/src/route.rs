//! The addresses within the page, kept stable so that a printed tag's square code can carry one.

use leptos::prelude::*;
use wasm_bindgen::prelude::*;

/// Where the person is.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Route {
    /// `#/`: the first page, or the map where a plot is open.
    #[default]
    First,
    /// `#/map`.
    Map,
    /// `#/find?q=…`.
    Find {
        /// What is looked for; empty at first.
        query: String,
    },
    /// `#/walk`.
    Walk,
    /// `#/proof` or `#/proof/<disease>`.
    Proof {
        /// The disease; none: the first that the plot has.
        disease: Option<String>,
    },
    /// `#/vigour` or `#/vigour/<trait>`.
    Vigour {
        /// The trait's id; none: the one that tells vigour.
        trait_id: Option<String>,
    },
    /// `#/tree/<tree_id>`: the map with this tree's card.
    Tree {
        /// The tree's id.
        id: String,
    },
    /// `#/folder`.
    Folder,
    /// `#/print`.
    Print,
}

impl Route {
    /// Reads what stands after `#`; anything unknown is the first page.
    pub fn parse(hash: &str) -> Self {
        let path = hash.trim_start_matches('#').trim_start_matches('/');
        let (path, query) = path.split_once('?').unwrap_or((path, ""));
        let (place, rest) = path.split_once('/').unwrap_or((path, ""));
        let rest = (!rest.is_empty()).then(|| decoded(rest));
        match (place, rest) {
            ("map", _) => Self::Map,
            ("find", _) => Self::Find { query: query_value(query, "q").unwrap_or_default() },
            ("walk", _) => Self::Walk,
            ("proof", disease) => Self::Proof { disease },
            ("vigour", trait_id) => Self::Vigour { trait_id },
            ("tree", Some(id)) => Self::Tree { id },
            ("folder", _) => Self::Folder,
            ("print", _) => Self::Print,
            _ => Self::First,
        }
    }

    /// The address, with its `#`.
    pub fn address(&self) -> String {
        match self {
            Self::First => "#/".to_owned(),
            Self::Map => "#/map".to_owned(),
            Self::Find { query } if query.is_empty() => "#/find".to_owned(),
            Self::Find { query } => format!("#/find?q={}", encoded(query)),
            Self::Walk => "#/walk".to_owned(),
            Self::Proof { disease: None } => "#/proof".to_owned(),
            Self::Proof { disease: Some(disease) } => format!("#/proof/{}", encoded(disease)),
            Self::Vigour { trait_id: None } => "#/vigour".to_owned(),
            Self::Vigour { trait_id: Some(id) } => format!("#/vigour/{}", encoded(id)),
            Self::Tree { id } => format!("#/tree/{}", encoded(id)),
            Self::Folder => "#/folder".to_owned(),
            Self::Print => "#/print".to_owned(),
        }
    }

    /// Goes there, as a new step of the browser's history.
    pub fn go(&self) {
        let _ = window().location().set_hash(&self.address());
    }

    /// Puts the address in place of the present one, without a step in the history.
    pub fn replace(&self) {
        if let Ok(history) = window().history() {
            let _ = history.replace_state_with_url(&JsValue::NULL, "", Some(&self.address()));
        }
    }
}

/// The route as a signal that follows the address.
pub fn follow() -> RwSignal<Route> {
    let now = || Route::parse(&window().location().hash().unwrap_or_default());
    let route = RwSignal::new(now());
    window_event_listener_untyped("hashchange", move |_| route.set(now()));
    route
}

fn query_value(query: &str, key: &str) -> Option<String> {
    let mut pairs = query.split('&').filter_map(|pair| pair.split_once('='));
    pairs.find(|(name, _)| *name == key).map(|(_, value)| decoded(&value.replace('+', " ")))
}

fn encoded(text: &str) -> String {
    js_sys::encode_uri_component(text).into()
}

fn decoded(text: &str) -> String {
    js_sys::decode_uri_component(text).map_or_else(|_| text.to_owned(), String::from)
}
