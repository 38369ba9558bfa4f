//! Cells of a table that a spreadsheet shows and never computes.

use std::borrow::Cow;

/// A text from outside as a cell. A spreadsheet would take one that begins with `=`, `+`, `-` or `@` for a formula, so it
/// gets an apostrophe in front, unless it is a quantity such as `-5 °C`.
#[must_use]
pub fn safe_cell(text: &str) -> Cow<'_, str> {
    let is_quantity = |rest: &str| {
        rest.starts_with(|c: char| c.is_ascii_digit() || c == '.')
            && rest.chars().all(|c| c.is_alphanumeric() || matches!(c, '.' | ' ' | '°' | '%' | 'µ'))
    };
    match text.strip_prefix(['+', '-']) {
        Some(rest) if is_quantity(rest) => Cow::Borrowed(text),
        None if !text.starts_with(['=', '@', '\t', '\r']) => Cow::Borrowed(text),
        _ => Cow::Owned(format!("'{text}")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn formulas_become_texts_and_quantities_stay() {
        for (text, cell) in [
            ("=1+1", "'=1+1"),
            ("@sum", "'@sum"),
            ("+cmd|x", "'+cmd|x"),
            ("-2+3", "'-2+3"),
            ("-plan", "'-plan"),
            ("-5 °C", "-5 °C"),
            ("+0.5", "+0.5"),
            ("2 min", "2 min"),
            ("never", "never"),
            ("", ""),
        ] {
            assert_eq!(safe_cell(text), cell);
        }
    }
}
