//! Texts from outside, shown so that they cannot deceive: nothing invisible, and nothing that changes the direction of
//! writing or controls a terminal.

/// Whether a character is a control character, or a mark that changes the direction of writing.
pub(crate) fn is_hidden(c: char) -> bool {
    matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        || c.is_control()
}

/// A message with hidden characters written out, as `\u{1b}`; line breaks stay.
#[must_use]
pub fn shown_plainly(text: &str) -> String {
    with_written_out(text, |c| is_hidden(c) && c != '\n')
}

/// A part of a message with hidden characters and line breaks written out.
pub(super) fn shown_in_line(text: &str) -> String {
    with_written_out(text, is_hidden)
}

fn with_written_out(text: &str, is_written_out: impl Fn(char) -> bool) -> String {
    let mut shown = String::with_capacity(text.len());
    for c in text.chars() {
        if is_written_out(c) {
            shown.extend(c.escape_unicode());
        } else {
            shown.push(c);
        }
    }
    shown
}

/// A name that came from outside as a plain name: `-` stands for hidden characters and for those that separate the parts
/// of a path.
#[must_use]
pub fn plain_name(text: &str) -> String {
    let plain = |c: char| if is_hidden(c) || matches!(c, '/' | '\\' | ':') { '-' } else { c };
    text.chars().map(plain).collect()
}
