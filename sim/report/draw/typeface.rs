//! The embedded font: the width of a text, and how to make it fit.

use ttf_parser::Face;

/// The regular face.
pub(crate) const REGULAR: &[u8] = include_bytes!("font/DejaVuSans-subset.ttf");
/// The bold face, for titles.
pub(crate) const BOLD: &[u8] = include_bytes!("font/DejaVuSans-Bold-subset.ttf");
/// Font families named in a picture; the first is the embedded one, the second has the same width.
pub(crate) const FAMILIES: &str = "DejaVu Sans, Verdana, sans-serif";

/// Width of `text` in a font of `size`, in the same unit.
///
/// Without kerning; a character that is not in the font counts as a full em.
pub(crate) fn text_width(text: &str, size: f64, bold: bool) -> f64 {
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

/// `text` on one line no wider than `room`, cut with an ellipsis if it is too long.
pub(crate) fn fit(text: &str, size: f64, bold: bool, room: f64) -> String {
    let text = printable(text);
    if text_width(&text, size, bold) <= room {
        return text;
    }
    let mut kept: Vec<char> = text.chars().collect();
    loop {
        kept.pop();
        let cut = format!("{}…", kept.iter().collect::<String>().trim_end());
        if kept.is_empty() || text_width(&cut, size, bold) <= room {
            return cut;
        }
    }
}

/// `name`, without its middle if it is wider than `room`: names of plans may begin alike or end alike.
fn fit_middle(name: &str, size: f64, room: f64) -> String {
    if text_width(name, size, false) <= room {
        return name.to_owned();
    }
    let letters: Vec<char> = name.chars().collect();
    (1..letters.len())
        .map(|left_out| {
            let kept = letters.len() - left_out;
            let head: String = letters[..kept.div_ceil(2)].iter().collect();
            let tail: String = letters[letters.len() - kept / 2..].iter().collect();
            format!("{}…{}", head.trim_end(), tail.trim_start())
        })
        .find(|cut| text_width(cut, size, false) <= room)
        .unwrap_or_else(|| "…".to_owned())
}

/// A name on lines no wider than `room`, at most `lines` of them; of one that is too long, the middle of the last line is left out.
pub(crate) fn wrap_name(name: &str, size: f64, room: f64, lines: usize) -> Vec<String> {
    wrap_with(name, size, room, lines, |rest| fit_middle(rest, size, room))
}

/// `text` on lines no wider than `room`, at most `lines` of them, broken after spaces and hyphens if there are any.
pub(crate) fn wrap(text: &str, size: f64, room: f64, lines: usize) -> Vec<String> {
    wrap_with(text, size, room, lines, |rest| fit(rest, size, false, room))
}

/// `text` on at most `lines` lines, the last of them made to fit by `fitted`.
fn wrap_with(
    text: &str,
    size: f64,
    room: f64,
    lines: usize,
    fitted: impl Fn(&str) -> String,
) -> Vec<String> {
    let mut rest = printable(text).trim().to_owned();
    let mut wrapped = Vec::new();
    while wrapped.len() + 1 < lines && text_width(&rest, size, false) > room {
        let mut fits = 0;
        let mut breaks_at = 0;
        for (start, c) in rest.char_indices() {
            let end = start + c.len_utf8();
            if text_width(&rest[..end], size, false) > room {
                break;
            }
            fits = end;
            if c == ' ' || c == '-' {
                breaks_at = end;
            }
        }
        let end = if breaks_at > 0 { breaks_at } else { fits };
        if end == 0 {
            break;
        }
        wrapped.push(rest[..end].trim_end().to_owned());
        rest = rest[end..].trim_start().to_owned();
    }
    if !rest.is_empty() || wrapped.is_empty() {
        wrapped.push(fitted(&rest));
    }
    wrapped
}

/// `text` without line breaks and without the characters that XML forbids.
pub(crate) fn printable(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            c if c.is_control() => ' ',
            '\u{fffe}' | '\u{ffff}' => '\u{fffd}',
            c => c,
        })
        .collect()
}
