//! The whole page: head, verdict, contents and sections.

use maud::{Markup, html};

use super::elements::{document, section};
use super::{aims, foot, pictures, plans, reasons, time_and_bait, verdict};
use crate::report::format::{counted, one_line};
use crate::scenario::{Scenario, Units};
use crate::study::Comparison;

/// The style of the page.
const STYLE: &str = include_str!("report.css");

/// A comparison as one self-contained page of HTML.
///
/// In this order: verdict, aims, curves, differences, catch, time, bait, plans, reasons, cautions, assumptions, stamp.
///
/// `scenario` is what was fished; its plans are those of the comparison.
pub fn report_html(comparison: &Comparison, scenario: &Scenario, units: Units) -> String {
    let sections: Vec<(&str, &str, Markup)> = [
        ("verdict", "Verdict", verdict::verdict_section(comparison, units)),
        ("aims", "Other aims", aims::aims(comparison, units)),
        ("curves", "Weight against time", pictures::curves(comparison, units)),
        ("differences", "The difference, day by day", pictures::differences(comparison, units)),
        ("catch", "Catch by shoal and hour", pictures::catch(comparison, units)),
        ("time", "Where the time went", time_and_bait::time(comparison)),
        ("bait", "Bait used", time_and_bait::bait(comparison, units)),
        ("plans", "The plans", plans::plans(comparison, scenario, units)),
        ("why", "Why", reasons::reasons(comparison, units)),
        ("cautions", "Cautions", foot::cautions(comparison, units)),
        ("assumptions", "Assumptions", foot::assumptions(scenario)),
        ("stamp", "How this was made", foot::stamp(comparison, scenario, units)),
    ]
    .into_iter()
    .filter_map(|(id, heading, body)| Some((id, heading, body?)))
    .collect();
    let title = one_line(&scenario.title);
    let (first, rest) = sections.split_at(sections.len().min(1));
    let body = html! {
        header {
            p.kind { "shoalwise report" }
            h1 { (title) }
            p.about {
                (counted(comparison.days, "day")) " of seed " (comparison.stamp.seed) ", every plan on the same days. "
                "A simulation: it ranks plans and shows why; it does not predict the weight of one day."
            }
        }
        main {
            @for (id, heading, body) in first { (section(id, heading, body)) }
            nav aria-label="In this report" {
                ul { @for (id, heading, _) in rest { li { a href={ "#" (id) } { (heading) } } } }
            }
            @for (id, heading, body) in rest { (section(id, heading, body)) }
        }
    };
    document(&format!("{title}: report"), STYLE, &body)
}
