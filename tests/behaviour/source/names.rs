//! Names in the code: no type name twice, and no name from the list of words that readers had to decipher.

use std::collections::BTreeMap;

use super::source_text::{code_only, names_in, words_of_name};
use super::tree::{Source, files_below, planted};

/// Type names that may be declared more than once, because a trait or macro asks for it.
const MAY_REPEAT: &[&str] = &[];

/// Words that no name contains, wherever it stands.
const BANNED_WORDS: &[(&str, &str)] = &[
    ("nought", "zero"),
    ("told", "message, reported"),
    ("tell", "print, report"),
    ("asked", "args, request"),
    ("strewn", "sampled"),
    ("strew", "sample"),
    ("whoever", "observer"),
    ("reckon", "compute"),
    ("reckoned", "computed"),
    ("mend", "fix, help"),
    ("larder", "built_in_baits"),
    ("yardstick", "day_quality"),
    ("doorway", "origin_policy"),
    ("lawful", "waiting_time"),
    ("luck", "noise, replicate"),
];

/// Names that say nothing about what they stand for.
const BANNED_NAMES: &[&str] = &["one", "each", "there", "mine", "says", "found"];

/// First words of a constant, and the usual ones.
const BANNED_PREFIXES: &[(&str, &str)] = &[
    ("MOST_", "MAX_"),
    ("LARGEST_", "MAX_"),
    ("LONGEST", "MAX_"),
    ("WIDEST", "MAX_"),
    ("LEAST_", "MIN_"),
    ("SMALLEST_", "MIN_"),
    ("FEWEST", "MIN_"),
];

/// The types that a line of code declares.
fn declared_type(line: &str) -> Option<&str> {
    let mut rest = line.trim_start();
    let is_indented = rest.len() < line.len();
    if let Some(after) = rest.strip_prefix("pub") {
        rest = after
            .strip_prefix('(')
            .map_or(after, |inside| inside.split_once(')').map_or(inside, |(_, after)| after));
    }
    let mut words = rest.split_whitespace();
    let is_declared = match words.next()? {
        "struct" | "enum" | "trait" | "union" => true,
        // Inside a trait or an `impl` a type belongs to the trait.
        "type" => !is_indented,
        _ => false,
    };
    let name = words.next().filter(|_| is_declared)?;
    let end = name.find(|c: char| !c.is_alphanumeric()).unwrap_or(name.len());
    Some(&name[..end]).filter(|name| name.starts_with(char::is_uppercase))
}

/// Every type name that is declared twice, with all places.
fn repeated_types(sources: &[Source]) -> Vec<String> {
    let mut places: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for source in sources {
        for (number, line) in code_only(&source.text).lines().enumerate() {
            if let Some(name) = declared_type(line) {
                let place = format!("{}:{}", source.path, number + 1);
                places.entry(name.to_owned()).or_default().push(place);
            }
        }
    }
    places.retain(|name, places| places.len() > 1 && !MAY_REPEAT.contains(&name.as_str()));
    places.into_iter().map(|(name, places)| format!("{name}: {}", places.join(", "))).collect()
}

/// Every banned name in the code, each once a line.
fn banned_names(sources: &[Source]) -> Vec<String> {
    let mut breaches = Vec::new();
    for source in sources {
        let code = code_only(&source.text);
        for (number, line) in code.lines().enumerate() {
            let mut reasons: Vec<String> = names_in(line)
                .into_iter()
                .filter_map(|(at, name)| why_banned(line, at, name))
                .collect();
            reasons.dedup();
            let place = format!("{}:{}", source.path, number + 1);
            breaches.extend(reasons.into_iter().map(|reason| format!("{place}: {reason}")));
        }
    }
    breaches
}

/// Why a name is banned, and what could stand in its place. `None` if it is not.
fn why_banned(line: &str, at: usize, name: &str) -> Option<String> {
    let words = words_of_name(name);
    if let Some((_, better)) = BANNED_WORDS.iter().find(|(word, _)| words.iter().any(|w| w == word))
    {
        return Some(format!("`{name}`: better {better}"));
    }
    if let Some((_, better)) = BANNED_PREFIXES.iter().find(|(first, _)| name.starts_with(first)) {
        return Some(format!("`{name}`: begin with `{better}`"));
    }
    // A field is named where it is declared.
    let is_use_of_field = line[..at].ends_with('.');
    if BANNED_NAMES.contains(&name) && !is_use_of_field {
        return Some(format!("`{name}` does not say what it stands for"));
    }
    if name == "of" && line[..at].ends_with("fn ") {
        return Some("`of`: a constructor is called `new` or `from_…`".to_owned());
    }
    None
}

#[test]
fn no_type_name_is_declared_twice() {
    // The build script and the examples are programs of their own.
    let is_library =
        |source: &Source| source.path != "build.rs" && !source.path.starts_with("examples/");
    let library: Vec<Source> = files_below("sim", &["rs"]).into_iter().filter(is_library).collect();
    let repeated = repeated_types(&library);
    assert!(
        repeated.is_empty(),
        "{} type names stand for two things:\n{}",
        repeated.len(),
        repeated.join("\n")
    );
}

#[test]
fn names_use_the_terms_of_the_field() {
    let banned = banned_names(&files_below("sim", &["rs"]));
    assert!(
        banned.is_empty(),
        "{} names need a better one:\nsim/{}",
        banned.len(),
        banned.join("\nsim/")
    );
}

#[test]
fn a_type_declared_twice_is_found_with_both_places() {
    let sources = [
        planted(
            "fish/state.rs",
            "//! S.\npub struct Fish;\nimpl It for Fish {\n    type Out = u8;\n}\n",
        ),
        planted("bait/bed.rs", "//! B.\ntype Out = u8;\n\nfn f() {\n    enum Fish { A }\n}\n"),
        planted("bait/cloud.rs", "//! C.\npub(in crate::bait) trait Cloud {} // struct Fish\n"),
    ];
    assert_eq!(repeated_types(&sources), ["Fish: fish/state.rs:2, bait/bed.rs:5"]);
}

#[test]
fn a_banned_name_is_found_with_its_place() {
    let text = "//! S.\nconst MOST_DAYS: u8 = 1;\nlet told = 2;\nstruct BestAsked;\nfn of() {}\nlet fish = a.found;\nlet one = 1; // nought\nlet kind_of_fish = found;\n";
    let found = banned_names(&[planted("study/best.rs", text)]);
    let lines: Vec<&str> = found.iter().filter_map(|breach| breach.split(':').nth(1)).collect();
    assert_eq!(lines, ["2", "3", "4", "5", "7", "8"], "{found:#?}");
    assert!(found[0].contains("`MAX_`") && found[2].contains("args, request"), "{found:#?}");
}
