//! Text on one line, counted things, and quantities that stay whole.

use crate::scenario::grouped;

/// The space that stands inside a quantity: no line is broken there.
const NO_BREAK: char = '\u{a0}';
/// Units that belong to the number before them, and to a number that follows them: `2 lb 3 oz`.
const UNITS: [&str; 10] = ["lb", "oz", "kg", "g", "%", "h", "min", "s", "m", "yd"];

/// `text` on one line: each control character becomes a space.
pub(crate) fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A number of things: `1 day`, `400 days`, `1,600 days`.
///
/// For nouns whose plural ends in s.
pub fn counted(count: impl Into<u64>, noun: &str) -> String {
    match count.into() {
        1 => format!("1 {noun}"),
        count => format!("{} {noun}s", grouped(count)),
    }
}

/// `text` on one line, with a no-break space inside each quantity.
///
/// ```
/// assert_eq!(sim::report::unbroken("2 lb 3 oz a day"), "2\u{a0}lb\u{a0}3\u{a0}oz a day");
/// ```
pub fn unbroken(text: &str) -> String {
    let mut joined = String::with_capacity(text.len() + 32);
    let text = one_line(text);
    let mut before = "";
    for word in text.split(' ') {
        let is_unit = |word: &str| {
            UNITS.contains(&word.trim_matches(|c: char| !(c.is_alphanumeric() || c == '%')))
        };
        let is_number = |word: &str| word.ends_with(|c: char| c.is_ascii_digit());
        let is_inside = (is_number(before) && is_unit(word))
            || (UNITS.contains(&before) && word.starts_with(|c: char| c.is_ascii_digit()));
        if !joined.is_empty() {
            joined.push(if is_inside { NO_BREAK } else { ' ' });
        }
        joined.push_str(word);
        before = word;
    }
    joined
}

/// `text` on lines of `width` columns at most. A name is never broken at its hyphens, unless it is wider than a line.
///
/// ```
/// assert_eq!(sim::report::wrapped("ahead of bar-five-minutes", 20), "ahead of\nbar-five-minutes");
/// ```
#[must_use]
pub fn wrapped(text: &str, width: usize) -> String {
    textwrap::fill(text, whole_words(width))
}

/// `text` as an item of a list with a dash before it, on lines of `width` columns at most.
#[must_use]
pub fn wrapped_item(text: &str, width: usize) -> String {
    textwrap::fill(text, whole_words(width).initial_indent("  - ").subsequent_indent("    "))
}

/// How text is wrapped: between words only.
fn whole_words(width: usize) -> textwrap::Options<'static> {
    textwrap::Options::new(width).word_splitter(textwrap::WordSplitter::NoHyphenation)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_separated() {
        for (number, text) in [
            (0_u64, "0"),
            (999, "999"),
            (1000, "1,000"),
            (54_321, "54,321"),
            (6_000_000, "6,000,000"),
        ] {
            assert_eq!(grouped(number), text);
        }
        assert_eq!(counted(1600u32, "day"), "1,600 days");
    }

    #[test]
    fn a_quantity_is_never_broken() {
        assert_eq!(
            unbroken("2 lb 3 oz every 1 h 30 min, 5 % of 40 days"),
            "2\u{a0}lb\u{a0}3\u{a0}oz every 1\u{a0}h\u{a0}30\u{a0}min, 5\u{a0}% of 40 days"
        );
        assert_eq!(unbroken("a\nb"), "a b");
    }

    #[test]
    fn one_thing_is_counted_without_s() {
        assert_eq!(counted(1_u32, "day"), "1 day");
        assert_eq!(counted(400_u32, "day"), "400 days");
    }
}
