//! The embedded font: how wide a text is, and how to make it fit.

use ttf_parser::Face;

/// The regular face.
pub(super) const REGULAR: &[u8] = include_bytes!("font/DejaVuSans-subset.ttf");
/// The bold face, for titles.
pub(super) const BOLD: &[u8] = include_bytes!("font/DejaVuSans-Bold-subset.ttf");
/// Families asked for in a picture; the first is the embedded one, the next is as wide.
pub(super) const FAMILIES: &str = "DejaVu Sans, Verdana, sans-serif";

/// Width of `text` in a font of `size`, in the same unit.
///
/// Kerning is left out; a character that is not in the font counts as a full em.
pub(super) fn width(text: &str, size: f64, bold: bool) -> f64 {
    let bytes = if bold { BOLD } else { REGULAR };
    let face = Face::parse(bytes, 0).expect("the embedded font is sound");
    let em = f64::from(face.units_per_em());
    let advance = |c: char| {
        face.glyph_index(c)
            .and_then(|glyph| face.glyph_hor_advance(glyph))
            .map_or(1.0, |units| f64::from(units) / em)
    };
    size * text.chars().map(advance).sum::<f64>()
}

/// `text` on one line no wider than `room`, cut with an ellipsis if it must be.
pub(super) fn fit(text: &str, size: f64, bold: bool, room: f64) -> String {
    let text = printable(text);
    if width(&text, size, bold) <= room {
        return text;
    }
    let mut kept: Vec<char> = text.chars().collect();
    loop {
        kept.pop();
        let cut = format!("{}…", kept.iter().collect::<String>().trim_end());
        if kept.is_empty() || width(&cut, size, bold) <= room {
            return cut;
        }
    }
}

/// `text` on as many lines no wider than `room` as needed, at most `lines`; broken after spaces and hyphens
/// where there are any.
pub(super) fn fold(text: &str, size: f64, room: f64, lines: usize) -> Vec<String> {
    let mut rest = printable(text).trim().to_owned();
    let mut folded = Vec::new();
    while folded.len() + 1 < lines && width(&rest, size, false) > room {
        let mut fits = 0;
        let mut breaks_at = 0;
        for (place, c) in rest.char_indices() {
            let end = place + c.len_utf8();
            if width(&rest[..end], size, false) > room {
                break;
            }
            fits = end;
            if c == ' ' || c == '-' {
                breaks_at = end;
            }
        }
        let at = if breaks_at > 0 { breaks_at } else { fits };
        if at == 0 {
            break;
        }
        folded.push(rest[..at].trim_end().to_owned());
        rest = rest[at..].trim_start().to_owned();
    }
    if !rest.is_empty() || folded.is_empty() {
        folded.push(fit(&rest, size, false, room));
    }
    folded
}

/// `text` without the characters that XML forbids or that would break a line.
pub(super) fn printable(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            c if c.is_control() => ' ',
            '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
            c => c,
        })
        .collect()
}
