//! The known word that is nearest to a misspelt one.

use strsim::{jaro_winkler, normalized_damerau_levenshtein};

/// The nearest of the known words. `None` if none is similar enough.
pub fn nearest_name<'a>(written: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    const MIN_SIMILARITY: f64 = 0.6;
    // Comparing costs the product of the lengths, and no known word is that long.
    const MAX_BYTES: usize = 80;
    if written.len() > MAX_BYTES {
        return None;
    }
    let written = written.to_lowercase();
    known
        .into_iter()
        .map(|word| {
            let lower = word.to_lowercase();
            let edits = normalized_damerau_levenshtein(&written, &lower);
            // Words with a common beginning are similar even if one is much longer.
            (word, edits.max(0.8 * jaro_winkler(&written, &lower)))
        })
        .filter(|&(_, similarity)| similarity >= MIN_SIMILARITY)
        .max_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(word, _)| word.to_owned())
}

/// A list of words for people, or `none`.
pub(crate) fn listed<'a>(words: impl IntoIterator<Item = &'a str>) -> String {
    let words: Vec<_> = words.into_iter().collect();
    if words.is_empty() { "none".to_owned() } else { words.join(", ") }
}
