//! Which crate may use which: the table of docs/architecture.md as a check.

use serde_json::Value;

/// A crate, the crates of ours that it may use, and further ones for its tests alone.
struct Wall {
    name: &'static str,
    may_use: &'static [&'static str],
    tests_may_use: &'static [&'static str],
    /// Crates of others that it must not use: browser types outside of the browser's crates.
    is_browser: bool,
}

const fn wall(name: &'static str, may_use: &'static [&'static str]) -> Wall {
    Wall { name, may_use, tests_may_use: &[], is_browser: false }
}

const WALLS: &[Wall] = &[
    wall("say", &[]),
    wall("language", &["say"]),
    wall("plot", &["language"]),
    wall("files", &["plot", "language"]),
    wall("spatial", &[]),
    Wall { tests_may_use: &["epidemic", "files"], ..wall("proof", &["plot", "spatial"]) },
    wall("epidemic", &["plot", "spatial"]),
    Wall { tests_may_use: &["files"], ..wall("walk", &["plot", "language"]) },
    Wall { tests_may_use: &["files"], ..wall("season", &["plot"]) },
    wall("vigour", &["plot", "spatial"]),
    Wall {
        tests_may_use: &["files"],
        ..wall("scene", &["plot", "proof", "season", "spatial", "vigour", "walk", "language"])
    },
    wall("export", &["plot", "files", "language"]),
    wall("databases", &["plot", "files", "export"]),
    Wall {
        tests_may_use: &["files"],
        ..wall("paper", &["plot", "proof", "scene", "walk", "language"])
    },
    Wall { is_browser: true, ..wall("judge", &["plot", "files", "proof", "vigour", "language"]) },
    Wall { is_browser: true, ..wall("sheets", &["files", "judge", "language"]) },
    Wall {
        is_browser: true,
        ..wall(
            "writer",
            &["plot", "files", "export", "paper", "proof", "scene", "walk", "judge", "language"],
        )
    },
    Wall {
        is_browser: true,
        ..wall(
            "app",
            &[
                "plot", "files", "spatial", "proof", "walk", "season", "vigour", "scene", "judge",
                "export", "paper", "sheets", "writer", "language",
            ],
        )
    },
    Wall {
        tests_may_use: &["crossing"],
        ..wall(
            "cli",
            &[
                "plot",
                "files",
                "spatial",
                "proof",
                "epidemic",
                "walk",
                "season",
                "vigour",
                "scene",
                "export",
                "databases",
                "paper",
            ],
        )
    },
    wall("xtask", &[]),
    wall("fuzz", &["plot", "files"]),
    wall(
        "crossing",
        &[
            "plot", "files", "spatial", "proof", "epidemic", "walk", "season", "vigour", "scene",
            "export",
        ],
    ),
];

/// Crates whose types only a browser has.
const BROWSER: &[&str] = &["web-sys", "js-sys", "leptos", "wasm-bindgen", "wasm-bindgen-futures"];

/// Crates too large for a page, of which only one crate of ours is made.
const NATIVE: &[&str] = &["parquet", "rusqlite"];
/// That crate.
const NATIVE_IN: &str = "databases";

/// Every edge that should not be, and everything that cannot be told.
pub(super) fn faults(metadata: &Value) -> Vec<String> {
    let packages = metadata["packages"].as_array().into_iter().flatten();
    // What has a source was written by others.
    let packages: Vec<&Value> = packages.filter(|one| one["source"].is_null()).collect();
    if packages.is_empty() {
        return vec!["cargo metadata lists no packages".to_owned()];
    }
    let names: Vec<&str> = packages.iter().filter_map(|one| one["name"].as_str()).collect();
    let mut faults = Vec::new();
    for wall in WALLS.iter().filter(|wall| !names.contains(&wall.name)) {
        faults.push(format!("the workspace has no crate {}, which the walls name", wall.name));
    }
    for package in packages {
        let Some(name) = package["name"].as_str() else {
            faults.push("a package without a name".to_owned());
            continue;
        };
        let Some(wall) = WALLS.iter().find(|wall| wall.name == name) else {
            faults.push(format!("{name} stands in no wall: say what it may use"));
            continue;
        };
        let Some(dependencies) = package["dependencies"].as_array() else {
            faults.push(format!("{name}: cargo metadata lists no dependencies"));
            continue;
        };
        faults.extend(dependencies.iter().filter_map(|one| fault(wall, one, &names)));
    }
    faults
}

fn fault(wall: &Wall, dependency: &Value, ours: &[&str]) -> Option<String> {
    let Some(used) = dependency["name"].as_str() else {
        return Some(format!("{}: a dependency without a name", wall.name));
    };
    let is_test = match &dependency["kind"] {
        Value::Null => false,
        Value::String(kind) if kind == "dev" => true,
        Value::String(kind) if kind == "build" => false,
        _ => return Some(format!("{}: a dependency on {used} of unknown kind", wall.name)),
    };
    if BROWSER.contains(&used) && !wall.is_browser {
        return Some(format!("{} must not use {used}: only the browser's crates may", wall.name));
    }
    if NATIVE.contains(&used) && wall.name != NATIVE_IN {
        return Some(format!("{} must not use {used}: only {NATIVE_IN} may", wall.name));
    }
    let is_allowed = !ours.contains(&used)
        || wall.may_use.contains(&used)
        || (is_test && wall.tests_may_use.contains(&used));
    (!is_allowed).then(|| {
        let role = if is_test { " in its tests" } else { "" };
        format!("{} must not use {used}{role}", wall.name)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    /// A workspace that is as it should be, but for what `change` does to it.
    fn check(change: impl Fn(&mut Vec<Value>), expect: &[&str]) {
        let mut packages: Vec<Value> = WALLS
            .iter()
            .map(|wall| {
                let dependencies: Vec<Value> =
                    wall.may_use.iter().map(|name| json!({"name": name, "kind": null})).collect();
                json!({"name": wall.name, "dependencies": dependencies})
            })
            .collect();
        change(&mut packages);
        assert_eq!(faults(&json!({"packages": packages})), expect);
    }

    fn adds(package: &'static str, name: &str, kind: Value) -> impl Fn(&mut Vec<Value>) {
        let dependency = json!({"name": name, "kind": kind});
        move |packages| {
            let found = packages.iter_mut().find(|one| one["name"] == package).unwrap();
            found["dependencies"].as_array_mut().unwrap().push(dependency.clone());
        }
    }

    #[test]
    fn what_is_allowed_is_no_fault() {
        check(|_| {}, &[]);
        check(adds("proof", "epidemic", json!("dev")), &[]);
        check(adds("plot", "serde", Value::Null), &[]);
    }

    #[test]
    fn forbidden_edges_are_told() {
        check(adds("proof", "epidemic", Value::Null), &["proof must not use epidemic"]);
        check(adds("proof", "epidemic", json!("build")), &["proof must not use epidemic"]);
        check(adds("plot", "files", json!("dev")), &["plot must not use files in its tests"]);
        check(adds("cli", "app", Value::Null), &["cli must not use app"]);
        check(adds("xtask", "plot", Value::Null), &["xtask must not use plot"]);
        check(
            adds("scene", "web-sys", Value::Null),
            &["scene must not use web-sys: only the browser's crates may"],
        );
        check(adds("app", "databases", Value::Null), &["app must not use databases"]);
        check(
            adds("export", "rusqlite", Value::Null),
            &["export must not use rusqlite: only databases may"],
        );
    }

    #[test]
    fn what_cannot_be_told_is_a_fault() {
        assert_eq!(faults(&json!({})), ["cargo metadata lists no packages"]);
        assert_eq!(faults(&json!({"packages": []})), ["cargo metadata lists no packages"]);
        check(adds("plot", "x", json!("new kind")), &["plot: a dependency on x of unknown kind"]);
        check(
            |packages| packages.push(json!({"name": "stranger", "dependencies": []})),
            &["stranger stands in no wall: say what it may use"],
        );
        check(
            |packages| packages.retain(|one| one["name"] != "spatial"),
            &["the workspace has no crate spatial, which the walls name"],
        );
    }
}
