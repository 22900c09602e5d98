//! Names for scores that no column has yet.

use std::collections::BTreeSet;

/// Names of columns, each once.
pub(crate) struct Names(BTreeSet<String>);

impl Names {
    pub(crate) fn taken<'a>(names: impl Iterator<Item = &'a str>) -> Self {
        Self(names.map(str::to_owned).collect())
    }

    /// The name, with a number behind it where it is taken.
    pub(crate) fn free(&mut self, name: String) -> String {
        let numbered = (2..).map(|nth| format!("{name} {nth}"));
        let free = std::iter::once(name.clone()).chain(numbered).find(|one| !self.0.contains(one));
        let free = free.unwrap_or(name);
        self.0.insert(free.clone());
        free
    }
}
