//! The end of the page: cautions, assumptions and the stamp.

use maud::{Markup, html};

use super::elements::sentence;
use crate::params::Grade;
use crate::report::format::{counted, one_line};
use crate::report::text::{CAUTIONS, LOCAL_RULES_FIRST, warning_text};
use crate::scenario::{Scenario, Units};
use crate::study::{Comparison, MODEL_VERSION};

/// Warnings of this run, then cautions that hold on any bank.
pub(crate) fn cautions(comparison: &Comparison, units: Units) -> Option<Markup> {
    Some(html! {
        @if !comparison.warnings.is_empty() {
            h3 { "Of this run" }
            ul { @for warning in &comparison.warnings { li { (sentence(&warning_text(warning, units))) } } }
        }
        h3 { "On the bank" }
        p { (LOCAL_RULES_FIRST) }
        ul { @for caution in &CAUTIONS { li { strong { (caution.head) ". " } (sentence(caution.advice)) } } }
    })
}

/// The numbers that are assumed.
pub(crate) fn assumptions(scenario: &Scenario) -> Option<Markup> {
    let books = scenario.books.all();
    let baits = scenario.bait_values();
    let all = books.iter().map(|book| book.rows().len()).sum::<usize>() + baits.len();
    let assumed = books.iter().map(|book| book.assumed_count()).sum::<usize>() + baits.len();
    Some(html! {
        p {
            strong { (assumed) " of " (all) " numbers are assumed" } ": nobody has measured them. Each day every one of "
            "them is drawn at random from its range, so the verdict holds for the whole range and not for one guess. The "
            "fish, the water and the tackle are those of your scenario."
        }
        details {
            summary { "Show them" }
            @if !baits.is_empty() {
                h3 { "baits" }
                ul {
                    @for value in &baits {
                        li { code { (value.origin) } }
                    }
                }
            }
            @for book in books {
                h3 { "book." (book.name) }
                ul {
                    @for row in book.rows().iter().filter(|row| row.grade == Grade::Assumed) {
                        li { code { (row.key) } ": " (row.meaning) }
                    }
                }
            }
        }
    })
}

/// All that is needed to make the same report again.
pub(crate) fn stamp(comparison: &Comparison, scenario: &Scenario, units: Units) -> Option<Markup> {
    let (stamp, written) = (&comparison.stamp, &scenario.written);
    Some(html! {
        dl {
            dt { "program" } dd { "shoalwise " (stamp.version) ", commit " (stamp.commit) ", " (stamp.target) }
            dt { "version of the model" } dd { (MODEL_VERSION) }
            dt { "scenario" } dd { (one_line(&stamp.scenario)) }
            dt { "SHA-256 of the scenario" } dd { code { (stamp.scenario_sha256) } }
            @if !written.text.is_empty() {
                dt { "SHA-256 of the file" } dd { code { (written.file_sha256()) } }
            }
            dt { "changed with --set" }
            dd {
                @if written.sets.is_empty() { "nothing" }
                @for (index, set) in written.sets.iter().enumerate() {
                    @if index > 0 { ", " }
                    code { (one_line(set)) }
                }
            }
            dt { "days differ" } dd { (if scenario.fixed_days { "no: --fixed-days" } else { "yes" }) }
            dt { "units" } dd { (units.name()) }
            dt { "days and seed" } dd { (counted(comparison.days, "day")) " of seed " (stamp.seed) }
        }
        p.note {
            "The same version of the program with all of the above gives the same report to the last byte. The file "
            code { "again.sh" } " next to it does that: it has the scenario and the settings in it."
        }
    })
}
