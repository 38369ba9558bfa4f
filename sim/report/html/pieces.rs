//! Pieces that sections are made of.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::super::table::shown_name;
use super::paint::paint;

/// A whole document with its own style and nothing from outside.
pub(in super::super) fn document(title: &str, style: &str, body: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(paint())) (PreEscaped(style)) }
            }
            body { (body) }
        }
    };
    page.into_string()
}

/// A name as it may stand on a page: on one line; escaping is the page's own work.
pub(super) fn shown(name: &str) -> String {
    shown_name(name)
}

/// Units that stay on one line with the number before them, and with a number after them.
const UNITS: [&str; 10] = ["lb", "oz", "kg", "g", "%", "h", "min", "s", "m", "yd"];

/// A sentence in which no quantity is broken at the end of a line.
pub(in super::super) fn sentence(says: &str) -> String {
    let mut kept = String::with_capacity(says.len() + 32);
    let says = shown(says);
    let mut before = "";
    for word in says.split(' ') {
        let is_unit = |word: &str| {
            UNITS.contains(&word.trim_matches(|c: char| !(c.is_alphanumeric() || c == '%')))
        };
        let is_number = |word: &str| word.ends_with(|c: char| c.is_ascii_digit());
        let whole = (is_number(before) && is_unit(word))
            || (UNITS.contains(&before) && word.starts_with(|c: char| c.is_ascii_digit()));
        if !kept.is_empty() {
            kept.push(if whole { '\u{a0}' } else { ' ' });
        }
        kept.push_str(word);
        before = word;
    }
    kept
}

/// A section with its heading.
pub(super) fn section(id: &str, heading: &str, body: &Markup) -> Markup {
    html! {
        section id=(id) aria-labelledby={ (id) "-head" } {
            h2 id={ (id) "-head" } { (heading) }
            (body)
        }
    }
}

/// A picture with what it shows in words, and the same as a table to unfold.
pub(super) fn figure(svg: &str, caption: &str, table: &Markup) -> Markup {
    html! {
        figure {
            div.picture { (PreEscaped(svg)) }
            figcaption { span { (caption) } }
            details { summary { "The same as a table" } (table) }
        }
    }
}

/// A table that scrolls sideways where the page is narrow; the first cell of each row is its head.
pub(super) fn table(caption: &str, heads: &[&str], rows: &[Vec<Markup>]) -> Markup {
    html! {
        div.scroll tabindex="0" role="region" aria-label=(caption) {
            table {
                caption { (caption) }
                thead { tr { @for head in heads { th scope="col" { (head) } } } }
                tbody {
                    @for row in rows {
                        tr {
                            @for (at, cell) in row.iter().enumerate() {
                                @if at == 0 { th scope="row" { (cell) } } @else { td { (cell) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The name of the plan at `place` in the scenario, with its colour.
pub(super) fn plan(place: usize, name: &str) -> Markup {
    html! { span class={ "swatch p" (place % 8) } aria-hidden="true" {} (shown(name)) }
}

/// A number with a bar of its share of the whole, 0 to 1.
pub(super) fn bar(share: f64, says: &str) -> Markup {
    let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
    html! {
        span.bar aria-hidden="true" { span style={ "width:" (format!("{:.1}", 100.0 * share)) "%" } {} }
        (says)
    }
}
