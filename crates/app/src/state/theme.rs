//! Light by day, dark by evening, or as the system has it; remembered in this browser.

use leptos::prelude::*;

/// Which colours the page wears.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Theme {
    /// As the system has it.
    #[default]
    System,
    /// Paper.
    Light,
    /// Evening.
    Dark,
}

const KEY: &str = "leeward-theme";

impl Theme {
    /// All three.
    pub const ALL: [Self; 3] = [Self::System, Self::Light, Self::Dark];

    /// The word in the page's `data-theme` and in storage.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::System => "system",
            Self::Light => "light",
            Self::Dark => "dark",
        }
    }

    /// What was chosen last.
    pub fn remembered() -> Self {
        let word = window()
            .local_storage()
            .ok()
            .flatten()
            .and_then(|storage| storage.get_item(KEY).ok().flatten());
        Self::ALL.into_iter().find(|one| Some(one.as_str()) == word.as_deref()).unwrap_or_default()
    }

    /// Puts it on, and remembers it.
    pub fn wear(self) {
        if let Some(root) = document().document_element() {
            let _ = root.set_attribute("data-theme", self.as_str());
        }
        if let Ok(Some(storage)) = window().local_storage() {
            let _ = storage.set_item(KEY, self.as_str());
        }
    }
}
