//! Elements of the page: document, section, figure, table, bar.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::colours::style_rules;
use crate::report::format::{one_line, unbroken};

/// A complete document with its own style, which loads nothing.
pub(crate) fn document(title: &str, style: &str, body: &Markup) -> String {
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) }
                style { (PreEscaped(style_rules())) (PreEscaped(style)) }
            }
            body { (body) }
        }
    };
    page.into_string()
}

pub(crate) fn section(id: &str, heading: &str, body: &Markup) -> Markup {
    html! {
        section id=(id) aria-labelledby={ (id) "-head" } {
            h2 id={ (id) "-head" } { (heading) }
            (body)
        }
    }
}

/// A picture with a caption, and the same as a table to unfold.
pub(crate) fn figure(svg: &str, caption: &str, table: &Markup) -> Markup {
    html! {
        figure {
            div.picture { (PreEscaped(svg)) }
            figcaption { span { (sentence(caption)) } }
            details { summary { "The same as a table" } (table) }
        }
    }
}

/// A table; the first cell of each row is its head. On a narrow page each row is a list of heads and cells, so the roles of a
/// table are written out for those who hear it.
pub(crate) fn table(caption: &str, heads: &[&str], rows: &[Vec<Markup>]) -> Markup {
    html! {
        div.scroll tabindex="0" role="region" aria-label=(caption) {
            table role="table" {
                caption { span { (caption) } }
                thead role="rowgroup" {
                    tr role="row" { @for head in heads { th scope="col" role="columnheader" { (head) } } }
                }
                tbody role="rowgroup" {
                    @for row in rows {
                        tr role="row" {
                            @for (head, cell) in heads.iter().zip(row).take(1) {
                                th scope="row" role="rowheader" data-head=(head) { (cell) }
                            }
                            @for (head, cell) in heads.iter().zip(row).skip(1) {
                                td role="cell" data-head=(head) { (cell) }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// A sentence in which no line ends inside a quantity, nor at a hyphen of a name that fits on a line.
pub(crate) fn sentence(text: &str) -> Markup {
    let text = unbroken(text);
    html! {
        @for (index, word) in text.split(' ').enumerate() {
            @if index > 0 { " " }
            @if word.contains('-') { span.whole { (word) } } @else { (word) }
        }
    }
}

/// The name of plan `index` in the scenario, with its colour.
pub(crate) fn plan(index: usize, name: &str) -> Markup {
    html! { span class={ "swatch p" (index % 8) } aria-hidden="true" {} (sentence(&one_line(name))) }
}

/// A text with a bar of length `share`, 0 to 1.
pub(crate) fn bar(share: f64, text: &str) -> Markup {
    let share = if share.is_finite() { share.clamp(0.0, 1.0) } else { 0.0 };
    html! {
        span.bar aria-hidden="true" { span style={ "width:" (format!("{:.1}", 100.0 * share)) "%" } {} }
        (text)
    }
}
