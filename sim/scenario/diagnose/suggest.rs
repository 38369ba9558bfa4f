//! The nearest known word to one that is not known.

use strsim::{jaro_winkler, normalized_damerau_levenshtein};

/// The nearest of the known words, if any is near enough to be what was meant.
pub(crate) fn nearest<'a>(
    written: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Option<String> {
    const NEAR_ENOUGH: f64 = 0.6;
    // Comparing costs the product of the lengths; nobody means a known word by thousands of letters.
    if written.len() > 80 {
        return None;
    }
    let written = written.to_lowercase();
    known
        .into_iter()
        .map(|word| {
            let lower = word.to_lowercase();
            let edits = normalized_damerau_levenshtein(&written, &lower);
            // Words with a common beginning are near even where one is much longer.
            (word, edits.max(0.8 * jaro_winkler(&written, &lower)))
        })
        .filter(|&(_, likeness)| likeness >= NEAR_ENOUGH)
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(word, _)| word.to_owned())
}

/// A list of words for people, or `none`.
pub(crate) fn listed<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let words: Vec<_> = words.into_iter().collect();
    if words.is_empty() { "none".to_owned() } else { words.join(", ") }
}
