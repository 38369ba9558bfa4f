//! The page from top to bottom.

use maud::{Markup, html};

use super::super::table::days;
use super::pieces::{document, section, shown};
use super::{aims, foot, pictures, plans, shares, standing, why};
use crate::scenario::{Scenario, Units};
use crate::study::Comparison;

/// The style of the page.
const STYLE: &str = include_str!("report.css");

/// A comparison as one self-contained page of HTML: verdict, curves, differences, catch, time, bait, plans,
/// reasons, cautions, assumptions and stamp, in this order.
///
/// `scenario` is what was fished; its plans are those of the comparison.
#[must_use]
pub fn report_html(comparison: &Comparison, scenario: &Scenario, units: Units) -> String {
    let sections: Vec<(&str, &str, Markup)> = [
        ("verdict", "Verdict", standing::verdict_section(comparison, units)),
        ("aims", "Other aims", aims::aims(comparison, units)),
        ("curves", "Weight against time", pictures::curves(comparison, units)),
        ("differences", "Day against day", pictures::differences(comparison, units)),
        ("catch", "Catch by shoal and hour", pictures::catch(comparison, units)),
        ("time", "Where the time went", shares::time(comparison)),
        ("bait", "Bait used", shares::bait(comparison, units)),
        ("plans", "The plans", plans::plans(comparison, scenario, units)),
        ("why", "Why", why::why(comparison, units)),
        ("cautions", "Cautions", foot::cautions(comparison)),
        ("assumptions", "Assumptions", foot::assumptions(scenario)),
        ("stamp", "Where this came from", foot::stamp(comparison)),
    ]
    .into_iter()
    .filter_map(|(id, heading, body)| Some((id, heading, body?)))
    .collect();
    let title = shown(&scenario.title);
    let (verdict, rest) = sections.split_at(sections.len().min(1));
    let body = html! {
        header {
            p.kind { "shoalwise report" }
            h1 { (title) }
            p.about {
                (days(comparison.days)) " of seed " (comparison.stamp.seed) ", every plan on the same days. "
                "A simulation: it ranks plans and shows why; it does not foretell one day's weight."
            }
        }
        main {
            @for (id, heading, body) in verdict { (section(id, heading, body)) }
            nav aria-label="In this report" {
                ul { @for (id, heading, _) in rest { li { a href={ "#" (id) } { (heading) } } } }
            }
            @for (id, heading, body) in rest { (section(id, heading, body)) }
        }
    };
    document(&format!("{title}: report"), STYLE, &body)
}
