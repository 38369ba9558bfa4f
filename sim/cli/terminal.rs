//! What the terminal needs: messages on standard error, its width, and text wrapped to that width.

use std::io::Write;

/// Widths between which text is wrapped [columns].
const TEXT_WIDTH: (usize, usize) = (40, 100);

/// Prints a message on standard error.
pub(super) fn notify(text: &str) {
    // If standard error is closed, there is no other place to report it.
    let _ = writeln!(std::io::stderr(), "shoalwise: {text}");
}

/// Width of the terminal [columns]; 100, the widest that a table uses, if there is no terminal.
pub(super) fn columns() -> usize {
    console::Term::stdout().size_checked().map_or(TEXT_WIDTH.1, |(_, columns)| usize::from(columns))
}

/// Width of running text [columns].
pub(super) fn text_width() -> usize {
    columns().clamp(TEXT_WIDTH.0, TEXT_WIDTH.1)
}

/// A sentence wrapped to the terminal.
pub(super) fn wrapped(sentence: &str) -> String {
    textwrap::fill(sentence, text_width())
}

/// A sentence wrapped to the terminal as an item of a list.
pub(super) fn wrapped_item(sentence: &str) -> String {
    let options = textwrap::Options::new(text_width());
    textwrap::fill(sentence, options.initial_indent("  - ").subsequent_indent("    "))
}
