//! Folders and imports: imports run down the layers and go through faces, files are small, and faces hold no logic.
//!
//! `breaches` reads source text and names file and line of each breach. The tests below plant a breach of every
//! rule to show that it is noticed.

use std::collections::{BTreeMap, BTreeSet};

use super::source_text::{code_only, is_word, paths_from};
use super::tree::{Source, Tree, files_below, joined, planted};

/// Folders of `sim/` by layer, from the bottom up.
const LAYERS: &[(&str, u8)] = &[
    ("numerics", 0),
    ("engine", 1),
    ("params", 1),
    ("stats", 1),
    ("water", 2),
    ("bait", 3),
    ("fish", 3),
    ("angler", 3),
    ("scenario", 4),
    ("session", 5),
    ("catch_log", 5),
    ("study", 6),
    ("calibrate", 7),
    ("report", 7),
    ("cli", 8),
    ("web", 8),
];

/// The one import within a layer that is allowed: a parameter book draws a day's values with dice.
const SIDEWAYS: &[(&str, &str)] = &[("params", "engine")];

/// Folders of `sim/` that are no part of the library.
const PROGRAMS: &[&str] = &["examples"];

/// Words that may not be used below a layer, and the lowest layer where they may.
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

/// Names of files and folders that do not tell what is inside.
const VAGUE: &[&str] = &["utils", "util", "common", "helpers", "types", "manager", "misc"];

const MAX_LINES: usize = 600;
const MAX_FILES: usize = 20;

fn layer_of(folder: &str) -> Option<u8> {
    LAYERS.iter().find(|(name, _)| *name == folder).map(|&(_, layer)| layer)
}

/// Every breach of the rules in the sources below `sim/`, each with file and line.
fn breaches(sources: &[Source]) -> Vec<String> {
    let tree = Tree::new(sources);
    let mut breaches = folders_are_small(sources);
    for source in sources.iter().filter(|source| source.is_rust()) {
        let code = code_only(&source.text);
        names_and_sizes(source, &mut breaches);
        if source.is_face() {
            face_holds_no_logic(source, &code, &mut breaches);
        }
        let Some(folder) = source.layer().filter(|folder| !PROGRAMS.contains(folder)) else {
            continue;
        };
        if let Some(layer) = layer_of(folder) {
            imports_run_down(source, &code, (folder, layer), &tree, &mut breaches);
            imports_go_through_faces(source, &code, &tree, &mut breaches);
            words_stay_in_their_layers(source, &code, layer, &mut breaches);
        } else {
            breaches.push(format!("{}:1: folder {folder} is in no layer", source.path));
        }
    }
    breaches
}

fn names_and_sizes(source: &Source, breaches: &mut Vec<String>) {
    let path = &source.path;
    if !source.text.starts_with("//! ") {
        breaches.push(format!("{path}:1: does not begin with a caption, `//! …`"));
    }
    let lines = source.text.lines().count();
    if lines > MAX_LINES {
        breaches.push(format!("{path}:{lines}: {lines} lines, more than {MAX_LINES}: split it"));
    }
    if source.folder().rsplit('/').next() == Some(source.stem()) {
        breaches.push(format!("{path}:1: has the same name as its folder"));
    }
    if let Some(word) = path.split(['/', '.']).find(|word| VAGUE.contains(word)) {
        breaches.push(format!("{path}:1: `{word}` does not tell what is inside"));
    }
}

/// A folder holds few files; its face is not counted.
fn folders_are_small(sources: &[Source]) -> Vec<String> {
    let mut files: BTreeMap<&str, usize> = BTreeMap::new();
    for source in sources.iter().filter(|source| !source.is_face()) {
        *files.entry(source.folder()).or_default() += 1;
    }
    files
        .into_iter()
        .filter(|&(_, files)| files > MAX_FILES)
        .map(|(folder, files)| {
            format!("{folder}:1: {files} files, more than {MAX_FILES}: divide it by subject")
        })
        .collect()
}

fn imports_run_down(
    source: &Source,
    code: &str,
    (folder, layer): (&str, u8),
    tree: &Tree,
    breaches: &mut Vec<String>,
) {
    for path in paths_from(code, "crate") {
        let at = format!("{}:{}", source.path, path.line);
        let named = path.words.join("::");
        let target = path.words[0].as_str();
        if target == folder {
            continue;
        }
        if let Some(other) = layer_of(target) {
            if other > layer {
                breaches.push(format!(
                    "{at}: `crate::{named}` runs up, from layer {layer} to layer {other}"
                ));
            } else if other == layer && !SIDEWAYS.contains(&(folder, target)) {
                breaches.push(format!(
                    "{at}: `crate::{named}` runs sideways: {folder} and {target} share layer {layer}"
                ));
            }
        } else if tree.is_folder(target) {
            breaches.push(format!("{at}: `crate::{named}`: folder {target} is in no layer"));
        }
    }
}

/// A neighbour in the same folder is imported as `super::file::Name`; everything else by its full path, through the
/// face of the folder that holds it.
fn imports_go_through_faces(source: &Source, code: &str, tree: &Tree, breaches: &mut Vec<String>) {
    for path in paths_from(code, "crate") {
        let at = format!("{}:{}", source.path, path.line);
        let named = path.words.join("::");
        // The innermost folder on the path, and what is named in it.
        let mut folder = String::new();
        let mut words = path.words.iter().peekable();
        while let Some(inner) = words.peek().map(|word| joined(&folder, word)) {
            if !tree.is_folder(&inner) && layer_of(&inner).is_none() {
                break;
            }
            folder = inner;
            words.next();
        }
        let item = words.next();
        if folder == source.folder() && item.is_some() {
            breaches.push(format!("{at}: `crate::{named}` is in the same folder: use `super`"));
            continue;
        }
        // A file next to one of the folders that hold the source may be named; other files are behind a face.
        let holds_source = source.folder().starts_with(&format!("{folder}/"));
        // A module in the middle of a path; types and their functions begin with a capital.
        let is_module = item.is_some_and(|word| word.chars().all(|c| !c.is_uppercase()));
        if is_module
            && words.peek().is_some()
            && !holds_source
            && layer_of(&path.words[0]).is_some()
        {
            breaches.push(format!("{at}: `crate::{named}` goes past the face of {folder}"));
        }
    }
    // From a file `super` is its folder; from a face it is the folder outside.
    let way_out = if source.is_face() { "super::" } else { "super::super::" };
    for (number, line) in code.lines().enumerate() {
        if line.contains(way_out) {
            let at = format!("{}:{}", source.path, number + 1);
            breaches.push(format!("{at}: `{way_out}` leaves the folder: use `crate`"));
        }
    }
}

fn words_stay_in_their_layers(source: &Source, code: &str, layer: u8, breaches: &mut Vec<String>) {
    for (number, line) in code.lines().enumerate() {
        for &(word, lowest) in WORDS.iter().filter(|&&(_, lowest)| layer < lowest) {
            let is_whole = line.match_indices(word).any(|(at, _)| {
                let before = line[..at].chars().next_back();
                let after = line[at + word.len()..].chars().next();
                !before.is_some_and(is_word) && !after.is_some_and(is_word)
            });
            if is_whole {
                breaches.push(format!(
                    "{}:{}: `{word}` may not be used below layer {lowest}",
                    source.path,
                    number + 1
                ));
            }
        }
    }
}

/// A face declares modules and re-exports names, with attributes on either, and holds nothing else.
fn face_holds_no_logic(source: &Source, code: &str, breaches: &mut Vec<String>) {
    let mut line = 1;
    for statement in code.split_inclusive(';') {
        let leading = statement.len() - statement.trim_start().len();
        let begins = line + statement[..leading].matches('\n').count();
        line += statement.matches('\n').count();
        let mut declaration = statement.trim();
        while let Some(end) = declaration.strip_prefix("#[").and_then(|rest| rest.find(']')) {
            declaration = declaration[end + 3..].trim_start();
        }
        let words: Vec<&str> = declaration.split_whitespace().take(2).collect();
        let is_allowed = match words[..] {
            [] | ["mod" | "use", ..] => true,
            [visibility, "mod" | "use"] => visibility.starts_with("pub"),
            _ => false,
        };
        let is_inline_module = declaration.starts_with("mod") && declaration.contains('{');
        if !is_allowed || is_inline_module {
            breaches
                .push(format!("{}:{begins}: a face holds only `mod` and `pub use`", source.path));
        }
    }
}

#[test]
fn imports_run_down_and_every_file_keeps_the_rules() {
    let sources = files_below("sim", &["rs", "toml", "html", "js", "css", "md"]);
    assert!(sources.len() > 40, "only {} files read", sources.len());
    let breaches = breaches(&sources);
    assert!(breaches.is_empty(), "{} breaches:\nsim/{}", breaches.len(), breaches.join("\nsim/"));
}

#[test]
fn tests_and_benches_have_captions_and_are_small() {
    for root in ["tests", "benches"] {
        let sources = files_below(root, &["rs"]);
        let mut breaches = folders_are_small(&sources);
        for source in &sources {
            names_and_sizes(source, &mut breaches);
            if source.is_face() {
                face_holds_no_logic(source, &code_only(&source.text), &mut breaches);
            }
        }
        assert!(breaches.is_empty(), "{root}/{}", breaches.join(&format!("\n{root}/")));
    }
}

#[test]
fn the_table_of_layers_in_the_library_names_every_folder() {
    let sources = files_below("sim", &["rs"]);
    let table = &sources.iter().find(|source| source.path == "lib.rs").expect("sim/lib.rs").text;
    let folders: BTreeSet<&str> = sources.iter().filter_map(Source::layer).collect();
    for folder in folders.into_iter().filter(|folder| !PROGRAMS.contains(folder)) {
        let layer = layer_of(folder).unwrap_or_else(|| panic!("folder {folder} is in no layer"));
        let is_row =
            |line: &&str| line.starts_with("//! |") && line.contains(&format!("[`{folder}`]"));
        let row = table.lines().find(is_row);
        let row = row.unwrap_or_else(|| panic!("sim/lib.rs does not show {folder} in its table"));
        assert!(
            row.contains(&format!("| {layer} |")),
            "sim/lib.rs: {folder} is in layer {layer}: {row}"
        );
    }
}

/// The breaches that a planted file causes in a small crate that keeps the rules otherwise.
fn breaches_with(path: &str, text: &str) -> Vec<String> {
    let mut sources = vec![
        planted(
            "fish/mod.rs",
            "//! Fish.\n\nmod state;\n\n#[doc(inline)]\npub use state::{Fish,\n    Layer};\n",
        ),
        planted(
            "fish/state.rs",
            "//! State.\nuse super::swim::Leg;\nuse crate::engine::{Dice, Time};\n",
        ),
        planted(
            "session/bite.rs",
            "//! Bites.\nuse crate::fish::{Fish, Layer};\nuse crate::angler::cast;\n",
        ),
        planted("study/mod.rs", "//! Studies.\n\nmod compare;\nmod progress;\nmod sweep;\n"),
        planted("study/progress.rs", "//! Progress.\n"),
        planted(
            "study/compare/mod.rs",
            "//! Comparisons.\n\nmod result;\n\npub use result::Comparison;\n",
        ),
        planted("study/compare/result.rs", "//! Results.\n"),
        planted("study/sweep/mod.rs", "//! Sweeps.\n\nmod store;\n"),
        planted(
            "study/sweep/store.rs",
            "//! Stores.\nuse crate::study::compare::Comparison;\nuse crate::study::progress::Progress;\n",
        ),
    ];
    assert_eq!(breaches(&sources), Vec::<String>::new(), "the small crate keeps the rules");
    sources.retain(|source| source.path != path);
    sources.push(planted(path, text));
    breaches(&sources)
}

/// Fails unless the planted file causes one breach, at that line and for that reason.
#[track_caller]
fn is_breach(path: &str, text: &str, line: usize, reason: &str) {
    let breaches = breaches_with(path, text);
    assert_eq!(breaches.len(), 1, "{breaches:?}");
    assert!(breaches[0].starts_with(&format!("{path}:{line}: ")), "{}", breaches[0]);
    assert!(breaches[0].contains(reason), "{} does not say `{reason}`", breaches[0]);
}

#[test]
fn an_import_that_runs_up_is_a_breach() {
    is_breach("water/drift.rs", "//! D.\n\nuse crate::fish::Fish;\n", 3, "runs up");
    is_breach("engine/run.rs", "//! R.\nfn f() -> crate::water::Point {}\n", 2, "runs up");
    is_breach(
        "study/store.rs",
        "//! S.\nuse crate::{\n    engine::Time,\n    cli::Args,\n};\n",
        4,
        "runs up",
    );
}

#[test]
fn an_import_that_runs_sideways_is_a_breach() {
    is_breach("bait/bed.rs", "//! B.\nuse crate::fish::Fish;\n", 2, "runs sideways");
    is_breach("engine/dice.rs", "//! D.\nuse crate::params::Row;\n", 2, "runs sideways");
    is_breach("cli/args.rs", "//! A.\nuse crate::web::serve;\n", 2, "runs sideways");
}

#[test]
fn an_import_past_the_face_or_out_of_the_folder_is_a_breach() {
    let past = "//! R.\nuse crate::fish::state::Fish;\n";
    is_breach("session/run.rs", past, 2, "past the face");
    is_breach("fish/swim.rs", past, 2, "use `super`");
    is_breach("fish/swim.rs", "//! S.\nuse super::super::engine::Time;\n", 2, "use `crate`");
}

#[test]
fn inside_a_layer_a_path_goes_through_the_face_of_a_sub_folder() {
    let past = "//! D.\nuse crate::study::compare::result::Comparison;\n";
    is_breach("study/sweep/design.rs", past, 2, "past the face of study/compare");
    is_breach("cli/compare.rs", past, 2, "past the face of study/compare");
    let own = "//! D.\nuse crate::study::sweep::store::Store;\n";
    is_breach("study/sweep/design.rs", own, 2, "use `super`");
    let out = "//! D.\nuse super::super::progress::Progress;\n";
    is_breach("study/sweep/design.rs", out, 2, "use `crate`");
    let face = "//! S.\n\nmod store;\n\nuse super::progress::Progress;\n";
    is_breach("study/sweep/mod.rs", face, 5, "use `crate`");
}

#[test]
fn a_path_through_a_type_is_no_breach() {
    let text =
        "//! R.\nfn f() { crate::engine::Time::from_seconds(1.0); crate::fish::Layer::Up; }\n";
    assert_eq!(breaches_with("session/run.rs", text), Vec::<String>::new());
    let comment = "//! R, see crate::cli::Args.\n// use crate::web::serve;\n";
    assert_eq!(breaches_with("session/run.rs", comment), Vec::<String>::new());
}

#[test]
fn a_folder_without_a_layer_is_a_breach() {
    is_breach("attic/chest.rs", "//! C.\n", 1, "in no layer");
    assert_eq!(breaches_with("examples/one_day.rs", "//! One day.\n"), Vec::<String>::new());
}

#[test]
fn a_face_with_logic_is_a_breach() {
    let logic = "//! W.\n\nmod chart;\n\npub use chart::Chart;\n\nfn depth() {}\n";
    is_breach("water/mod.rs", logic, 7, "a face holds only");
    is_breach("water/mod.rs", "//! W.\nmod inner { fn f() {} }\n", 2, "a face holds only");
    is_breach("water/mod.rs", "//! W.\npub const DEPTH: u8 = 1;\n", 2, "a face holds only");
}

#[test]
fn a_file_without_a_name_of_its_own_or_a_caption_is_a_breach() {
    is_breach("fish/fish.rs", "//! F.\n", 1, "same name as its folder");
    is_breach("fish/utils.rs", "//! U.\n", 1, "does not tell what is inside");
    is_breach("fish/swim.rs", "use super::state::Fish;\n", 1, "caption");
}

#[test]
fn a_long_file_and_a_crowded_folder_are_breaches() {
    let text = format!("//! H.\n{}", "\n".repeat(MAX_LINES));
    is_breach("fish/swim.rs", &text, MAX_LINES + 1, "split it");
    let crowd = |files: usize| -> Vec<Source> {
        (0..files).map(|n| planted(&format!("fish/part_{n}.rs"), "//! P.\n")).collect()
    };
    assert_eq!(breaches(&crowd(MAX_FILES)), Vec::<String>::new());
    let found = breaches(&crowd(MAX_FILES + 1));
    assert!(found.len() == 1 && found[0].starts_with("fish:1: 21 files"), "{found:?}");
}

#[test]
fn words_below_their_layer_are_breaches() {
    for (path, word) in [
        ("session/world.rs", "use std::collections::HashMap;"),
        ("engine/dice.rs", "let dice = rand::thread_rng();"),
        ("params/parameter.rs", "let dice = StdRng::from_os_rng();"),
        ("report/table.rs", "println!(\"x\");"),
        ("fish/swim.rs", "eprint!(\"x\");"),
        ("session/run.rs", "let begun = std::time::Instant::now();"),
        ("study/store.rs", "use plotters::prelude::*;"),
        ("scenario/check.rs", "async fn f() {}"),
    ] {
        is_breach(path, &format!("//! X.\n\n{word}\n"), 3, "may not be used below layer");
    }
    for (path, word) in [
        ("cli/compare.rs", "println!(\"x\");"),
        ("study/progress.rs", "use std::time::Instant; let m: HashMap<u8, u8>;"),
        ("fish/swim.rs", "fn print() { pretty_println!(); } // println!"),
    ] {
        assert_eq!(breaches_with(path, &format!("//! X.\n\n{word}\n")), Vec::<String>::new());
    }
}
