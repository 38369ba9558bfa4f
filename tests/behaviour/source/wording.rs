//! The words of comments, documents, help, messages and page: none that a reader has to decipher.

use super::source_text::{code_only, comments_only, is_word, prose_only};
use super::tree::{Source, files_below, planted};

/// Words that never stand in a text, separated by commas.
const NEVER: &str = "nought, strew, strews, strewn, whoever, whosoever, anew, afresh, reckon, reckons, reckoned, \
    reckoning, none of no, none of none, of none, lots of luck, lest, thither, hither, heed, heeds, betimes, wherein, \
    whereof, thereof, unto, ere, forsooth, sulk, sulks, so many, beside, besides, takes heart, comes to lie, \
    come to lie, what came of, dealt out, lets go, let go, larder, yardstick, has its way";

/// Words that are plain English now and then, and a riddle where they pile up.
const SELDOM: &str = "told, tell apart, tells apart, asked, whichever, mend, mends, mended, at hand, lawful, \
    doorway, as may be, of such, in which sense, leans on, lean on, the whole of it, for the sake, \
    come to nothing, comes to nothing, bears on, bear on, comes to what";

/// Largest number of words of either list in 1,000 words of text.
const MAX_RATE: f64 = 0.3;

/// A listed word in a text.
struct Hit {
    path: String,
    line: usize,
    word: &'static str,
    is_never: bool,
}

impl std::fmt::Display for Hit {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}:{}: {}", self.path, self.line, self.word)
    }
}

/// The prose of a file, every line still in its place.
///
/// In Rust code of the library that is comments and strings, in tests only comments: their strings are often
/// another program's output. Other files are prose as a whole.
fn prose(source: &Source, has_strings: bool) -> String {
    match (source.is_rust(), has_strings) {
        (true, true) => prose_only(&source.text),
        (true, false) => comments_only(&source.text),
        (false, _) => source.text.clone(),
    }
}

/// A line without the code that it quotes between backticks.
fn without_code(line: &str) -> String {
    line.split('`').step_by(2).collect::<Vec<_>>().join(" ")
}

/// The listed words of some files, and the number of all their words.
fn hits(sources: &[Source], root: &str, has_strings: bool) -> (Vec<Hit>, usize) {
    let (mut hits, mut words) = (Vec::new(), 0);
    for source in sources {
        for (number, line) in prose(source, has_strings).lines().enumerate() {
            let line = without_code(line).to_lowercase();
            words +=
                line.split(|c: char| !c.is_alphabetic()).filter(|word| !word.is_empty()).count();
            for (list, is_never) in [(NEVER, true), (SELDOM, false)] {
                for word in list.split(", ").filter(|word| contains_words(&line, word)) {
                    let path = format!("{root}{}", source.path);
                    hits.push(Hit { path, line: number + 1, word, is_never });
                }
            }
        }
    }
    (hits, words)
}

/// Whether a line contains some words, not as part of longer ones or of a name.
fn contains_words(line: &str, words: &str) -> bool {
    line.match_indices(words).any(|(at, _)| {
        let before = line[..at].chars().next_back();
        let after = line[at + words.len()..].chars().next();
        let joins = |c: char| is_word(c) || c == '-';
        !before.is_some_and(joins) && !after.is_some_and(joins)
    })
}

/// The listed words of the whole project, and the number of all words.
fn project() -> (Vec<Hit>, usize) {
    let (mut all, mut words) = (Vec::new(), 0);
    for (root, endings, has_strings) in [
        ("sim", &["rs", "md", "toml", "html", "js"][..], true),
        ("tests", &["rs", "md", "toml"], false),
        ("benches", &["rs", "md"], false),
        ("scenarios", &["md", "toml", "json"], false),
        ("output", &["md"], false),
    ] {
        let mut sources = files_below(root, endings);
        // This file holds the lists.
        sources.retain(|source| !source.path.ends_with("source/wording.rs"));
        let (hits, count) = hits(&sources, &format!("{root}/"), has_strings);
        all.extend(hits);
        words += count;
    }
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    for name in ["README.md", "DEVELOPERS.md"] {
        let text =
            std::fs::read_to_string(root.join(name)).unwrap_or_else(|why| panic!("{name}: {why}"));
        let (hits, count) = hits(&[planted(name, &text)], "", false);
        all.extend(hits);
        words += count;
    }
    (all, words)
}

fn listed(hits: &[&Hit]) -> String {
    hits.iter().map(|hit| format!("\n{hit}")).collect()
}

#[test]
fn no_text_contains_a_word_that_readers_have_to_decipher() {
    let (hits, _) = project();
    let never: Vec<&Hit> = hits.iter().filter(|hit| hit.is_never).collect();
    assert!(never.is_empty(), "{} words:{}", never.len(), listed(&never));
}

#[test]
fn words_that_are_riddles_where_they_pile_up_are_rare() {
    let (hits, words) = project();
    let rate = 1000.0 * hits.len() as f64 / words as f64;
    assert!(words > 50_000, "only {words} words read");
    assert!(
        rate < MAX_RATE,
        "{} listed words in {words}, {rate:.2} in 1,000:{}",
        hits.len(),
        listed(&hits.iter().collect::<Vec<_>>())
    );
}

#[test]
fn a_listed_word_is_found_with_its_place() {
    let text = "//! Zero.\n/// Zero, or Nought.\nfn told() { say(\"it lay beside\") } // `nought`, nought-like\n";
    let library = [planted("fish/swim.rs", text)];
    let (found, words) = hits(&library, "sim/", true);
    let found: Vec<String> = found.iter().map(Hit::to_string).collect();
    assert_eq!(found, ["sim/fish/swim.rs:2: nought", "sim/fish/swim.rs:3: beside"]);
    assert_eq!(words, 9);
    let (found, _) = hits(&library, "tests/", false);
    assert_eq!(found.len(), 1, "strings of tests are another program's output");
    let page = [planted("page/app.js", "const text = 'Nobody told us'\n")];
    let (found, _) = hits(&page, "sim/", true);
    assert!(found.len() == 1 && !found[0].is_never);
    assert!(!code_only(text).contains("Nought"));
}
