//! The list of `.cargo/deny.toml`, which `cargo deny` reads as well: which licences, sources,
//! packages and doubles there may be.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use anyhow::{Context, Result};
use serde_json::Value;
use spdx::{Expression, LicenseReq, ParseMode};

use super::Package;

/// What is allowed.
#[derive(Debug)]
pub(crate) struct Rules {
    licences: Vec<String>,
    sources: Vec<String>,
    /// Packages that must not be there, and why.
    banned: BTreeMap<String, String>,
    /// Packages of which there may be several versions.
    doubles: Vec<String>,
}

impl Rules {
    /// Reads them.
    ///
    /// # Errors
    /// The file cannot be read, or has not what it should have.
    pub(crate) fn read(top: &Path) -> Result<Self> {
        let file = top.join(".cargo/deny.toml");
        let text = fs::read_to_string(&file).with_context(|| file.display().to_string())?;
        Self::of(&text).with_context(|| file.display().to_string())
    }

    fn of(text: &str) -> Result<Self> {
        let rules: Value = toml::from_str(text)?;
        let list = |section: &str, key: &str| {
            let list = rules[section][key].as_array();
            list.with_context(|| format!("no list {key} in [{section}]"))
        };
        let words = |section, key| {
            let words = list(section, key)?.iter().map(|one| Some(one.as_str()?.to_owned()));
            words.collect::<Option<Vec<String>>>().with_context(|| format!("{key} has no words"))
        };
        let crates = |key| {
            let word = |one: &Value, key: &str| Some(one[key].as_str()?.to_owned());
            let crates = list("bans", key)?.iter();
            let crates = crates.map(|one| Some((word(one, "crate")?, word(one, "reason")?)));
            crates
                .collect::<Option<BTreeMap<String, String>>>()
                .with_context(|| format!("{key}: each needs a crate and a reason"))
        };
        Ok(Self {
            licences: words("licenses", "allow")?,
            sources: words("sources", "allow-registry")?,
            banned: crates("deny")?,
            doubles: crates("skip")?.into_keys().collect(),
        })
    }

    /// What is wrong with these packages, one sentence each.
    pub(crate) fn faults(&self, packages: &[Package]) -> Vec<String> {
        let mut faults: Vec<String> = packages.iter().flat_map(|one| self.of_one(one)).collect();
        let mut several: Vec<&str> = Vec::new();
        for same in packages.chunk_by(|a, b| a.name == b.name).filter(|same| same.len() > 1) {
            let name = same[0].name.as_str();
            several.push(name);
            if !self.doubles.iter().any(|it| it == name) {
                let versions: Vec<&str> = same.iter().map(|it| it.version.as_str()).collect();
                faults.push(format!("{name} is here as {}", versions.join(" and ")));
            }
        }
        let needless = self.doubles.iter().filter(|name| !several.contains(&name.as_str()));
        faults.extend(needless.map(|name| format!("{name} need not be listed under skip")));
        faults
    }

    /// Whether one of a licence's choices is allowed; it is none where it cannot be read.
    pub(crate) fn allows(&self, licence: &str) -> bool {
        let is_listed = |asked: &LicenseReq| self.licences.contains(&asked.to_string());
        // Older packages write a stroke for OR.
        let read = Expression::parse_mode(licence, ParseMode::LAX);
        read.is_ok_and(|choices| choices.evaluate(is_listed))
    }

    fn of_one(&self, package: &Package) -> Vec<String> {
        let Package { name, version, licence, source } = package;
        let mut faults = Vec::new();
        if !self.allows(licence) {
            faults.push(format!("{name} {version} has the licence {licence:?}, not on the list"));
        }
        let is_listed = source
            .strip_prefix("registry+")
            .is_some_and(|it| self.sources.iter().any(|one| one == it));
        if !is_listed {
            faults.push(format!("{name} {version} comes from {source:?}, not on the list"));
        }
        if let Some(why) = self.banned.get(name) {
            faults.push(format!("{name} is banned: {why}"));
        }
        faults
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const RULES: &str = "[licenses]\nallow = ['MIT', 'Apache-2.0 WITH LLVM-exception']\n\
         [bans]\ndeny = [{ crate = 'caller', reason = 'makes requests' }]\n\
         skip = [{ crate = 'syn', reason = 'macros' }]\n[sources]\nallow-registry = ['here']\n";

    fn package(name: &str, licence: &str, source: &str) -> Package {
        let [name, licence, source] = [name, licence, source].map(str::to_owned);
        Package { name, version: "1.0.0".to_owned(), licence, source }
    }

    #[test]
    fn a_licence_passes_where_one_of_its_choices_is_listed() {
        let rules = Rules::of(RULES).unwrap();
        for good in ["MIT", "GPL-3.0 OR MIT", "Unlicense/MIT", "Apache-2.0 WITH LLVM-exception"] {
            assert!(rules.allows(good), "{good}");
        }
        for bad in ["GPL-3.0", "GPL-3.0-only", "MIT AND Apache-2.0", "Apache-2.0", "", "ours"] {
            assert!(!rules.allows(bad), "{bad}");
        }
    }

    #[test]
    fn what_is_not_listed_is_told() {
        let rules = Rules::of(RULES).unwrap();
        let check = |packages: &[Package], expect: &[&str]| {
            assert_eq!(rules.faults(packages), expect);
        };
        let sound = |name| package(name, "MIT", "registry+here");
        let double = [sound("syn"), sound("syn")];
        check(&double, &[]);
        check(&[sound("csv")], &["syn need not be listed under skip"]);
        let with = |more: &[Package]| [more, &double].concat();
        check(
            &with(&[package("a", "GPL-3.0", "git+there"), sound("b"), sound("b"), sound("caller")]),
            &[
                "a 1.0.0 has the licence \"GPL-3.0\", not on the list",
                "a 1.0.0 comes from \"git+there\", not on the list",
                "caller is banned: makes requests",
                "b is here as 1.0.0 and 1.0.0",
            ],
        );
        assert!(Rules::of("[licenses]\nallow = []\n").is_err());
    }
}
