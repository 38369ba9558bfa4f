//! Import circles: at every level, the files and folders inside a folder import one another in one direction only.

use std::collections::{BTreeMap, BTreeSet};

use super::tree::{Source, Tree, files_below, joined, parent, planted};

/// One child of a folder imports another, and where.
struct Edge<'a> {
    from: String,
    to: String,
    place: (&'a str, usize),
}

/// Every circle of imports, each with its members and the places of the imports among them.
fn circles(sources: &[Source]) -> Vec<String> {
    let tree = Tree::new(sources);
    let mut levels: BTreeMap<String, Vec<Edge<'_>>> = BTreeMap::new();
    for source in sources.iter().filter(|source| source.is_rust() && !source.is_face()) {
        let from = joined(source.folder(), source.stem());
        for import in tree.imports(source) {
            let Some((level, from, to)) = parting(&from, &import.target) else { continue };
            let place = (source.path.as_str(), import.line);
            levels.entry(level).or_default().push(Edge { from, to, place });
        }
    }
    levels.iter().flat_map(|(level, edges)| circles_of_level(level, edges)).collect()
}

/// The folder in which two modules part, and its children that hold them. `None` if one holds the other.
fn parting(from: &str, to: &str) -> Option<(String, String, String)> {
    let mut level = String::new();
    let (mut from_words, mut to_words) = (from.split('/'), to.split('/'));
    loop {
        let (one, other) = (from_words.next()?, to_words.next()?);
        if other.is_empty() {
            return None;
        }
        if one != other {
            return Some((level, one.to_owned(), other.to_owned()));
        }
        level = joined(&level, one);
    }
}

/// The circles among the children of one folder.
fn circles_of_level(level: &str, edges: &[Edge<'_>]) -> Vec<String> {
    let mut targets: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    for edge in edges {
        targets.entry(&edge.from).or_default().insert(&edge.to);
    }
    let reaches = |from: &str| -> BTreeSet<&str> {
        let mut reached = BTreeSet::new();
        let mut open = vec![from];
        while let Some(child) = open.pop() {
            for &target in targets.get(child).into_iter().flatten() {
                if reached.insert(target) {
                    open.push(target);
                }
            }
        }
        reached
    };
    let reached: BTreeMap<&str, BTreeSet<&str>> =
        targets.keys().map(|&child| (child, reaches(child))).collect();
    let circle_of = |child: &str| -> BTreeSet<&str> {
        reached[child]
            .iter()
            .copied()
            .filter(|&other| reached.get(other).is_some_and(|back| back.contains(child)))
            .collect()
    };
    let circles: BTreeSet<BTreeSet<&str>> =
        targets.keys().map(|&child| circle_of(child)).filter(|circle| !circle.is_empty()).collect();
    circles.iter().map(|circle| described(level, circle, edges)).collect()
}

/// A circle in words: its members, and one place for each import among them.
fn described(level: &str, circle: &BTreeSet<&str>, edges: &[Edge<'_>]) -> String {
    let mut places: BTreeMap<(&str, &str), String> = BTreeMap::new();
    for Edge { from, to, place } in edges {
        if circle.contains(from.as_str()) && circle.contains(to.as_str()) {
            places
                .entry((from, to))
                .or_insert_with(|| format!("\n  {}:{}: {from} imports {to}", place.0, place.1));
        }
    }
    let members: Vec<&str> = circle.iter().copied().collect();
    let folder = if level.is_empty() { "the root" } else { level };
    let places: String = places.into_values().collect();
    format!("circle in {folder}: {}{places}", members.join(", "))
}

#[test]
fn no_files_or_folders_import_one_another_in_a_circle() {
    let sources = files_below("sim", &["rs"]);
    let library: Vec<Source> =
        sources.into_iter().filter(|source| parent(&source.path) != Some("")).collect();
    let circles = circles(&library);
    assert!(circles.is_empty(), "{} circles:\n{}", circles.len(), circles.join("\n"));
}

#[test]
fn a_circle_of_files_is_found() {
    let sources = [
        planted("fish/mod.rs", "//! F.\nmod swim;\nmod state;\nmod shoal;\n"),
        planted("fish/swim.rs", "//! S.\nuse super::state::Fish;\n"),
        planted("fish/state.rs", "//! S.\n\nuse super::shoal::{Shoal, Home};\n"),
        planted("fish/shoal.rs", "//! S.\nfn f() -> super::swim::Leg {}\n"),
    ];
    let found = circles(&sources);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].starts_with("circle in fish: shoal, state, swim"), "{}", found[0]);
    assert!(found[0].contains("fish/state.rs:3: state imports shoal"), "{}", found[0]);
    assert_eq!(circles(&sources[..3]), Vec::<String>::new(), "a chain is no circle");
}

#[test]
fn a_circle_of_folders_is_found_through_their_faces() {
    let sources = [
        planted("study/mod.rs", "//! S.\nmod compare;\nmod sweep;\npub use sweep::Store;\n"),
        planted("study/compare/mod.rs", "//! C.\nmod run;\nmod result;\npub use run::Run;\n"),
        planted("study/compare/run.rs", "//! R.\nuse super::result::Result;\n"),
        planted("study/compare/result.rs", "//! R.\nuse crate::study::Store;\n"),
        planted("study/sweep/mod.rs", "//! S.\nmod store;\npub use store::Store;\n"),
        planted("study/sweep/store.rs", "//! S.\nuse crate::study::compare::Run;\n"),
    ];
    let found = circles(&sources);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].starts_with("circle in study: compare, sweep"), "{}", found[0]);
    assert!(found[0].contains("study/compare/result.rs:2: compare imports sweep"), "{}", found[0]);
}
