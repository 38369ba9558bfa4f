//! Values that were gone through, as they are read: `25.5 g` for `25.5346023 g`, `3 min 10 s` for `189.73666 s`.

use super::measures::duration;
use super::ticks::tick_label;

/// Values as they are shown; exactly as they were written where two would otherwise look the same.
pub(super) fn shown_values(written: &[&str]) -> Vec<String> {
    let short: Vec<String> = written.iter().map(|label| shown(label)).collect();
    let distinct =
        |at: usize| !short[..at].contains(&short[at]) || written[..at].contains(&written[at]);
    if (0..short.len()).all(distinct) {
        return short;
    }
    written.iter().map(|label| one_line(label)).collect()
}

/// A value to three figures or so, times as they are said; anything but a number with a unit as it was written.
fn shown(label: &str) -> String {
    let label = one_line(label);
    let end = label.find(|c: char| !matches!(c, '0'..='9' | '.')).unwrap_or(label.len());
    let (digits, unit) = label.split_at(end);
    let unit = unit.trim();
    let Some(size) = digits.parse::<f64>().ok().filter(|size| size.is_finite()) else {
        return label;
    };
    if unit.contains(|c: char| c.is_whitespace() || c.is_ascii_digit()) {
        return label;
    }
    let seconds = match unit {
        "s" => Some(size),
        "min" => Some(60.0 * size),
        "h" => Some(3600.0 * size),
        _ => None,
    };
    match seconds {
        Some(s) if s >= 119.5 => duration(s),
        Some(s) if s >= 10.0 => format!("{s:.0} s"),
        Some(s) => format!("{} s", three_figures(s)),
        None if unit.is_empty() => three_figures(size),
        None => format!("{} {unit}", three_figures(size)),
    }
}

/// A number with three figures, or all that stand before the point.
fn three_figures(size: f64) -> String {
    let before = if size > 0.0 { size.log10().floor().clamp(-6.0, 2.0) } else { 0.0 };
    let shift = 10_f64.powf(2.0 - before);
    tick_label((size * shift).round() / shift)
}

/// A label on one line.
fn one_line(label: &str) -> String {
    label
        .trim()
        .trim_matches(['"', '\''])
        .chars()
        .map(|c| if c.is_control() { ' ' } else { c })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_are_read_at_a_glance() {
        for (written, shown) in [
            ("25.5346023 g", "25.5 g"),
            ("120 g", "120 g"),
            ("1234.5 m", "1235 m"),
            ("0.01234 m/s", "0.0123 m/s"),
            ("47.5749953 s", "48 s"),
            ("119.644779 s", "2 min"),
            ("189.73666 s", "3 min 10 s"),
            ("1200 s", "20 min"),
            ("90 s", "90 s"),
            ("0.75 min", "45 s"),
            ("2 min 30 s", "2 min 30 s"),
            ("3 lb 4 oz", "3 lb 4 oz"),
            ("\"bread\"", "bread"),
            ("0.333333", "0.333"),
            ("25g", "25 g"),
            ("", ""),
        ] {
            assert_eq!(shown_values(&[written]), [shown], "{written}");
        }
    }

    #[test]
    fn values_that_differ_look_different() {
        assert_eq!(shown_values(&["25.51 g", "25.52 g"]), ["25.51 g", "25.52 g"]);
        assert_eq!(shown_values(&["25.51 g", "25.51 g"]), ["25.5 g", "25.5 g"]);
    }
}
