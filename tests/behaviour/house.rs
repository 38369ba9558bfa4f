//! The rules of the house: imports run down, faces hold no logic, and every room has its own words.
//!
//! `breaches` reads source text and names file and line of each breach; the tests below plant a breach of
//! every rule to see that it is found.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use super::source_text::{code_only, crate_paths, is_word};

/// Folders of `sim/` by floor, from the ground up.
const FLOORS: &[(&str, u8)] = &[
    ("engine", 1),
    ("params", 1),
    ("stats", 1),
    ("water", 2),
    ("bait", 3),
    ("fish", 3),
    ("angler", 3),
    ("scenario", 4),
    ("session", 5),
    ("study", 6),
    ("calibrate", 7),
    ("report", 7),
    ("cli", 8),
    ("web", 8),
];

/// The one import within a floor that is allowed: a book draws a day's values with dice.
const NEIGHBOURS: &[(&str, &str)] = &[("params", "engine")];

/// Words that have no place below a floor, and the lowest floor where they have.
const WORDS: &[(&str, u8)] = &[
    ("HashMap", 6),
    ("HashSet", 6),
    ("thread_rng", 6),
    ("ThreadRng", 6),
    ("StdRng", 6),
    ("SmallRng", 6),
    ("std::time", 6),
    ("SystemTime", 6),
    ("async", 7),
    ("std::net", 7),
    ("clap", 7),
    ("plotters", 7),
    ("resvg", 7),
    ("println!", 8),
    ("print!", 8),
    ("eprintln!", 8),
    ("eprint!", 8),
    ("process::exit", 8),
];

/// Names that tell of no home.
const HOMELESS: &[&str] = &["utils", "util", "common", "helpers", "types", "manager", "misc"];

const MOST_LINES: usize = 600;

/// One source file: its path below `sim/`, with forward slashes, and its text.
struct Source {
    path: String,
    text: String,
}

impl Source {
    /// The folder of the house in which it stands, if any.
    fn folder(&self) -> Option<&str> {
        self.path.split_once('/').map(|(folder, _)| folder)
    }

    /// Its name without the ending.
    fn stem(&self) -> &str {
        let file = self.path.rsplit('/').next().unwrap_or(&self.path);
        file.strip_suffix(".rs").unwrap_or(file)
    }

    /// The folder that holds it directly.
    fn parent(&self) -> Option<&str> {
        self.path.rsplit('/').nth(1)
    }
}

fn floor_of(folder: &str) -> Option<u8> {
    FLOORS.iter().find(|(name, _)| *name == folder).map(|&(_, floor)| floor)
}

/// Every breach of the rules in a house, each with file and line.
fn breaches(house: &[Source]) -> Vec<String> {
    let folders: BTreeSet<&str> = house.iter().filter_map(Source::folder).collect();
    let mut found = Vec::new();
    for source in house {
        let code = code_only(&source.text);
        names_and_sizes(source, &mut found);
        if source.stem() == "mod" {
            face_holds_no_logic(source, &code, &mut found);
        }
        if let Some(folder) = source.folder() {
            match floor_of(folder) {
                None => found.push(format!("{}:1: folder {folder} is on no floor", source.path)),
                Some(floor) => {
                    imports_run_down(source, &code, (folder, floor), &folders, &mut found);
                    words_have_their_floor(source, &code, floor, &mut found);
                }
            }
        }
    }
    found
}

fn names_and_sizes(source: &Source, found: &mut Vec<String>) {
    let path = &source.path;
    if !source.text.starts_with("//! ") {
        found.push(format!("{path}:1: does not begin with a caption, `//! …`"));
    }
    let lines = source.text.lines().count();
    if lines > MOST_LINES {
        found.push(format!("{path}:{lines}: {lines} lines; past {MOST_LINES} a room is split"));
    }
    if source.parent() == Some(source.stem()) {
        found.push(format!("{path}:1: bears its folder's name"));
    }
    if let Some(word) = path.split(['/', '.']).find(|word| HOMELESS.contains(word)) {
        found.push(format!("{path}:1: `{word}` tells of no home"));
    }
}

fn imports_run_down(
    source: &Source,
    code: &str,
    (folder, floor): (&str, u8),
    folders: &BTreeSet<&str>,
    found: &mut Vec<String>,
) {
    for path in crate_paths(code) {
        let at = format!("{}:{}", source.path, path.line);
        let named = path.words.join("::");
        let to = path.words[0].as_str();
        if to == folder {
            if path.words.len() > 1 {
                found.push(format!("{at}: `crate::{named}` is inside the same folder: use `super`"));
            }
        } else if let Some(below) = floor_of(to) {
            if below > floor {
                found.push(format!(
                    "{at}: `crate::{named}` runs up, from floor {floor} to floor {below}"
                ));
            } else if below == floor && !NEIGHBOURS.contains(&(folder, to)) {
                found.push(format!(
                    "{at}: `crate::{named}` runs sideways: {folder} and {to} share floor {floor}"
                ));
            }
            // A module in the middle of a path; types and their functions begin with a capital.
            let inner = path.words[1..path.words.len().max(2) - 1].first();
            if inner.is_some_and(|word| word.chars().all(|c| !c.is_uppercase())) {
                found.push(format!("{at}: `crate::{named}` goes past the face of {to}"));
            }
        } else if folders.contains(to) {
            found.push(format!("{at}: `crate::{named}`: folder {to} is on no floor"));
        }
    }
    // From a file in the folder itself `super` is the folder, and its `super` the whole house.
    let depth = source.path.matches('/').count();
    let way_out = "super::".repeat(if source.stem() == "mod" { depth } else { depth + 1 });
    for (number, line) in code.lines().enumerate() {
        if line.contains(&way_out) && line.trim_start().starts_with("use ") {
            let at = format!("{}:{}", source.path, number + 1);
            found.push(format!("{at}: `{way_out}` leaves the folder by the back door: use `crate`"));
        }
    }
}

fn words_have_their_floor(source: &Source, code: &str, floor: u8, found: &mut Vec<String>) {
    for (number, line) in code.lines().enumerate() {
        for &(word, lowest) in WORDS.iter().filter(|&&(_, lowest)| floor < lowest) {
            let whole = line.match_indices(word).any(|(at, _)| {
                let before = line[..at].chars().next_back();
                let after = line[at + word.len()..].chars().next();
                !before.is_some_and(is_word) && !after.is_some_and(is_word)
            });
            if whole {
                found.push(format!(
                    "{}:{}: `{word}` has no place below floor {lowest}",
                    source.path,
                    number + 1
                ));
            }
        }
    }
}

/// A face declares rooms and shows what is in them, with attributes on either; nothing else.
fn face_holds_no_logic(source: &Source, code: &str, found: &mut Vec<String>) {
    let mut line = 1;
    for statement in code.split_inclusive(';') {
        let leading = statement.len() - statement.trim_start().len();
        let begins = line + statement[..leading].matches('\n').count();
        line += statement.matches('\n').count();
        let mut said = statement.trim();
        while let Some(end) = said.strip_prefix("#[").and_then(|rest| rest.find(']')) {
            said = said[end + 3..].trim_start();
        }
        let words: Vec<&str> = said.split_whitespace().take(2).collect();
        let kept = match words[..] {
            [] | ["mod" | "use", ..] => true,
            [sight, "mod" | "use"] => sight.starts_with("pub"),
            _ => false,
        };
        let room_inside = said.starts_with("mod") && said.contains('{');
        if !kept || room_inside {
            found.push(format!("{}:{begins}: a face holds only `mod` and `pub use`", source.path));
        }
    }
}

/// Reads the sources below a folder, in order of path.
fn read_house(root: &Path) -> Vec<Source> {
    fn walk(folder: &Path, root: &Path, house: &mut Vec<Source>) {
        let mut entries: Vec<_> = fs::read_dir(folder)
            .unwrap_or_else(|why| panic!("{}: {why}", folder.display()))
            .map(|entry| entry.expect("an entry of a folder that can be listed").path())
            .collect();
        entries.sort();
        for entry in entries {
            if entry.is_dir() {
                walk(&entry, root, house);
            } else if entry.extension().is_some_and(|ending| ending == "rs") {
                let below = entry.strip_prefix(root).expect("below the root it was found in");
                let path = below.to_string_lossy().replace('\\', "/");
                let text = fs::read_to_string(&entry)
                    .unwrap_or_else(|why| panic!("{}: {why}", entry.display()));
                house.push(Source { path, text });
            }
        }
    }
    let mut house = Vec::new();
    walk(root, root, &mut house);
    house
}

fn here(folder: &str) -> Vec<Source> {
    read_house(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder))
}

#[test]
fn imports_run_down_and_every_room_keeps_the_rules() {
    let house = here("sim");
    assert!(house.len() > 40, "only {} files read", house.len());
    let found = breaches(&house);
    assert!(found.is_empty(), "{} breaches:\nsim/{}", found.len(), found.join("\nsim/"));
}

#[test]
fn tests_and_benches_have_captions_and_are_no_halls() {
    let mut found = Vec::new();
    for source in here("tests").iter().chain(&here("benches")) {
        names_and_sizes(source, &mut found);
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

#[test]
fn the_map_of_the_house_names_every_folder() {
    let house = here("sim");
    let map = &house.iter().find(|source| source.path == "lib.rs").expect("sim/lib.rs").text;
    for folder in house.iter().filter_map(Source::folder).collect::<BTreeSet<_>>() {
        let floor = floor_of(folder).unwrap_or_else(|| panic!("folder {folder} is on no floor"));
        let row = map.lines().find(|line| line.contains(&format!("[`{folder}`]")));
        let row = row.unwrap_or_else(|| panic!("sim/lib.rs does not show {folder} in its table"));
        assert!(row.contains(&format!("| {floor} |")), "sim/lib.rs: {folder} is on floor {floor}: {row}");
    }
}

/// What the rules say of one planted file, in a small house that keeps them otherwise.
fn planted(path: &str, text: &str) -> Vec<String> {
    let plant = |path: &str, text: &str| Source { path: path.to_owned(), text: text.to_owned() };
    let mut house = vec![
        plant("fish/mod.rs", "//! Fish.\n\nmod state;\n\n#[doc(inline)]\npub use state::{Fish,\n    Layer};\n"),
        plant("fish/state.rs", "//! State.\nuse super::swim::Leg;\nuse crate::engine::{Dice, Time};\n"),
        plant("session/bite.rs", "//! Bites.\nuse crate::fish::{Fish, Layer};\nuse crate::angler::cast;\n"),
    ];
    assert_eq!(breaches(&house), Vec::<String>::new(), "the small house keeps the rules");
    house.push(plant(path, text));
    breaches(&house)
}

/// Fails unless the planted file is found in breach, once, at that line and for that reason.
#[track_caller]
fn is_found(path: &str, text: &str, line: usize, reason: &str) {
    let found = planted(path, text);
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].starts_with(&format!("{path}:{line}: ")), "{}", found[0]);
    assert!(found[0].contains(reason), "{} does not say `{reason}`", found[0]);
}

#[test]
fn an_import_that_runs_up_is_found() {
    is_found("water/drift.rs", "//! D.\n\nuse crate::fish::Fish;\n", 3, "runs up");
    is_found("engine/run.rs", "//! R.\nfn f() -> crate::water::Point {}\n", 2, "runs up");
    is_found("study/store.rs", "//! S.\nuse crate::{\n    engine::Time,\n    cli::Args,\n};\n", 4, "runs up");
}

#[test]
fn an_import_that_runs_sideways_is_found() {
    is_found("bait/bed.rs", "//! B.\nuse crate::fish::Fish;\n", 2, "runs sideways");
    is_found("engine/dice.rs", "//! D.\nuse crate::params::Row;\n", 2, "runs sideways");
    is_found("cli/args.rs", "//! A.\nuse crate::web::serve;\n", 2, "runs sideways");
}

#[test]
fn an_import_past_the_face_or_by_the_back_door_is_found() {
    let past = "//! R.\nuse crate::fish::state::Fish;\n";
    is_found("session/run.rs", past, 2, "past the face");
    is_found("fish/swim.rs", past, 2, "use `super`");
    is_found("fish/swim.rs", "//! S.\nuse super::super::engine::Time;\n", 2, "back door");
}

#[test]
fn a_path_through_a_type_is_no_breach() {
    let text = "//! R.\nfn f() { crate::engine::Time::from_seconds(1.0); crate::fish::Layer::Up; }\n";
    assert_eq!(planted("session/run.rs", text), Vec::<String>::new());
    let comment = "//! R, see crate::cli::Args.\n// use crate::web::serve;\n";
    assert_eq!(planted("session/run.rs", comment), Vec::<String>::new());
}

#[test]
fn a_folder_without_a_floor_is_found() {
    is_found("attic/chest.rs", "//! C.\n", 1, "on no floor");
}

#[test]
fn a_face_with_logic_is_found() {
    let logic = "//! W.\n\nmod chart;\n\npub use chart::Chart;\n\nfn depth() {}\n";
    is_found("water/mod.rs", logic, 7, "a face holds only");
    is_found("water/mod.rs", "//! W.\nmod inner { fn f() {} }\n", 2, "a face holds only");
    is_found("water/mod.rs", "//! W.\npub const DEPTH: u8 = 1;\n", 2, "a face holds only");
}

#[test]
fn a_room_without_a_name_of_its_own_is_found() {
    is_found("fish/fish.rs", "//! F.\n", 1, "bears its folder's name");
    is_found("fish/utils.rs", "//! U.\n", 1, "tells of no home");
    is_found("fish/swim.rs", "use super::state::Fish;\n", 1, "caption");
}

#[test]
fn a_hall_is_found() {
    let text = format!("//! H.\n{}", "\n".repeat(MOST_LINES));
    is_found("fish/swim.rs", &text, MOST_LINES + 1, "is split");
}

#[test]
fn words_below_their_floor_are_found() {
    for (path, word) in [
        ("session/world.rs", "use std::collections::HashMap;"),
        ("engine/dice.rs", "let dice = rand::thread_rng();"),
        ("params/row.rs", "let dice = StdRng::from_os_rng();"),
        ("report/table.rs", "println!(\"x\");"),
        ("fish/swim.rs", "eprint!(\"x\");"),
        ("session/run.rs", "let begun = std::time::Instant::now();"),
        ("study/store.rs", "use plotters::prelude::*;"),
        ("scenario/check.rs", "async fn f() {}"),
    ] {
        is_found(path, &format!("//! X.\n\n{word}\n"), 3, "has no place below floor");
    }
    for (path, word) in [
        ("cli/compare.rs", "println!(\"x\");"),
        ("study/progress.rs", "use std::time::Instant; let m: HashMap<u8, u8>;"),
        ("fish/swim.rs", "fn print() { pretty_println!(); } // println!"),
    ] {
        assert_eq!(planted(path, &format!("//! X.\n\n{word}\n")), Vec::<String>::new());
    }
}
