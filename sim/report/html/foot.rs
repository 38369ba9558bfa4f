//! Cautions, assumptions and the stamp.

use maud::{Markup, html};

use super::super::bank::{CAUTIONS, FIRST};
use super::pieces::{sentence, shown};
use crate::params::Grade;
use crate::scenario::Scenario;
use crate::study::Comparison;

/// What the run warns of, then what holds on any bank.
pub(super) fn cautions(comparison: &Comparison) -> Option<Markup> {
    Some(html! {
        @if !comparison.warnings.is_empty() {
            h3 { "Of this run" }
            ul { @for warning in &comparison.warnings { li { (sentence(&warning.says)) } } }
        }
        h3 { "On the bank" }
        p { (FIRST) }
        ul { @for caution in &CAUTIONS { li { strong { (caution.head) ". " } (caution.says) } } }
    })
}

/// How many numbers are assumed, and which.
pub(super) fn assumptions(scenario: &Scenario) -> Option<Markup> {
    let books = scenario.books.all();
    let all: usize = books.iter().map(|book| book.rows().len()).sum();
    let assumed: usize = books.iter().map(|book| book.assumed()).sum();
    Some(html! {
        p {
            strong { (assumed) " of " (all) " numbers are assumed" } ": nobody has measured them. Each is drawn afresh "
            "every day from a stated range, so the verdict holds across that range and not for one guess. The fish, the "
            "water and the tackle of the scenario are the user's own say."
        }
        details {
            summary { "Which they are" }
            @for book in books {
                h3 { "book." (book.name) }
                ul {
                    @for row in book.rows().iter().filter(|row| row.grade == Grade::Assumed) {
                        li { code { (row.key) } ": " (row.says) }
                    }
                }
            }
        }
    })
}

/// What it takes to make the report again.
pub(super) fn stamp(comparison: &Comparison) -> Option<Markup> {
    let stamp = &comparison.stamp;
    Some(html! {
        dl {
            dt { "program" } dd { "shoalwise " (stamp.version) ", commit " (stamp.commit) ", " (stamp.target) }
            dt { "scenario" } dd { (shown(&stamp.scenario)) }
            dt { "its SHA-256" } dd { code { (stamp.scenario_sha256) } }
            dt { "days and seed" } dd { (comparison.days) " days of seed " (stamp.seed) }
        }
        p.note { "The same version, scenario and seed give the same report to the last byte." }
    })
}
