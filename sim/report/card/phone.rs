//! The card as a page for a phone, which also prints on one sheet.

use maud::html;

use super::content::{Card, RULES_HEAD};

use crate::report::format::unbroken;
use crate::report::html::document;
use crate::report::text::{CAUTIONS, LOCAL_RULES_FIRST};

/// The style of the page.
const STYLE: &str = include_str!("card.css");

/// The card as one self-contained page of HTML.
pub fn card_html(card: &Card) -> String {
    let body = html! {
        header { h1 { (card.plan) } p.about { (card.about) } }
        main {
            section aria-labelledby="do" {
                h2 id="do" { "What to do when" }
                ol.steps {
                    @for step in &card.steps {
                        li { span.times { (step.times) } div { strong { (unbroken(&step.what)) } " " (unbroken(&step.how)) } }
                    }
                }
            }
            @if !card.rules.is_empty() {
                section aria-labelledby="rules" {
                    h2 id="rules" { (RULES_HEAD) }
                    ul { @for rule in &card.rules { li { (unbroken(rule)) } } }
                }
            }
            div.two {
                section aria-labelledby="expect" {
                    h2 id="expect" { "Are you behind?" }
                    table {
                        thead { tr {
                            @for head in ["after", "behind if under", "usual", "good day", "fish"] {
                                th scope="col" { (head) }
                            }
                        } }
                        tbody {
                            @for by in &card.hours {
                                tr {
                                    th scope="row" { (by.after) }
                                    td { (by.behind) } td { (by.usual) } td { (by.good) } td { (by.fish) }
                                }
                            }
                        }
                    }
                    p.note { (card.note) }
                }
                section aria-labelledby="bring" {
                    h2 id="bring" { "Bring" }
                    ul.plain { @for (bait, amount) in &card.baits { li { strong { (amount) } " " (bait) } } }
                    p.note { "Enough for nine days in ten." }
                    ul.plain { @for (what, which) in &card.others { li { (what) ": " (unbroken(which)) } } }
                }
            }
            section.care aria-labelledby="care" {
                h2 id="care" { "Take care" }
                @if !card.warnings.is_empty() {
                    ul.warned { @for warning in &card.warnings { li { (unbroken(warning)) } } }
                }
                p { (LOCAL_RULES_FIRST) }
                ul { @for caution in &CAUTIONS { li { strong { (caution.head) ". " } (unbroken(caution.advice)) } } }
            }
        }
        footer { p.note { (card.source) } }
    };
    document(&format!("{}: card", card.plan), STYLE, &body)
}
