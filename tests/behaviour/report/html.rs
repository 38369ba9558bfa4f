//! The report page: self-contained, well-formed, accessible.

use sim::report::report_html;
use sim::scenario::Scenario;
use sim::scenario::Units::{Imperial, Metric};
use sim::study::{Comparison, Warning};

use super::sample::{comparison, four, plan, two};
use crate::pond::{self, pond};

/// A scenario with the plans of a comparison.
pub(super) fn scenario_of(compared: &Comparison) -> Scenario {
    let plans = compared.plans.iter().map(|of| pond::plan(&of.name, 120.0)).collect();
    let mut scenario = pond();
    scenario.plans = plans;
    scenario
}

fn page(compared: &Comparison) -> String {
    report_html(compared, &scenario_of(compared), Imperial)
}

/// Comparisons that are hard to lay out.
fn comparisons() -> Vec<(&'static str, Comparison)> {
    let odd = ["<b>&\"'</b>", "two\nlines\u{1}", "</style><script>alert(1)</script>"];
    let odd = odd.iter().zip([7.0, 6.0, 5.0]).map(|(name, bites)| plan(name, bites, 0.7, 1.3));
    let mut warned = two();
    warned.warnings.push(Warning::NoFish { plan: "Mind <this> & that.".to_owned() });
    vec![
        ("two", two()),
        ("four", four()),
        ("odd-names", comparison(odd.collect(), 1.0)),
        ("one", comparison(vec![plan("alone", 5.0, 0.7, 1.0)], 1.0)),
        ("none", comparison(Vec::new(), 1.0)),
        ("blank", comparison(vec![plan("a", 7.0, 0.7, 1.0), plan("b", 0.0, 0.7, 1.0)], 0.1)),
        ("warned", warned),
        ("ten", comparison((0..10).map(|k| plan(&format!("p-{k}"), 7.0, 0.7, 1.0)).collect(), 1.0)),
    ]
}

/// Every tag of a page in order: its name, whether it opens, closes or stands alone, and its text.
pub(super) fn tags(page: &str) -> Vec<(String, char, String)> {
    let mut result = Vec::new();
    let mut rest = page;
    while let Some(at) = rest.find('<') {
        rest = &rest[at + 1..];
        let end = rest.find('>').unwrap_or_else(|| panic!("a tag without an end: {rest:.60}"));
        let tag = &rest[..end];
        let closes = tag.starts_with('/');
        let name: String =
            tag.trim_start_matches('/').chars().take_while(|c| c.is_alphanumeric()).collect();
        let alone = tag.ends_with('/') || tag.starts_with('!') || ["meta", "br"].contains(&&*name);
        let kind = if closes {
            '/'
        } else if alone {
            '.'
        } else {
            '<'
        };
        result.push((name, kind, tag.to_owned()));
        rest = &rest[end + 1..];
    }
    result
}

/// Panics if an element is not closed in order.
pub(super) fn is_well_formed(what: &str, page: &str) {
    let mut open: Vec<String> = Vec::new();
    for (name, kind, tag) in tags(page) {
        match kind {
            '<' => open.push(name),
            '/' => assert_eq!(open.pop().as_ref(), Some(&name), "{what}: <{tag}> closes another"),
            _ => {}
        }
    }
    assert_eq!(open, [""; 0], "{what}: an element is not closed");
}

/// Panics if a page would fetch or run something.
pub(super) fn is_self_contained(what: &str, page: &str) {
    let bare = page.replace("http://www.w3.org/2000/svg", "");
    for word in ["http:", "https:", "<script", "<link", " src=", "url(", "@import", "<iframe"] {
        assert!(!bare.contains(word), "{what}: {word} in the page");
    }
}

#[test]
fn a_report_is_well_formed_and_self_contained() {
    for (what, compared) in comparisons() {
        for units in [Imperial, Metric] {
            let page = report_html(&compared, &scenario_of(&compared), units);
            is_well_formed(what, &page);
            is_self_contained(what, &page);
            assert!(!page.contains("NaN") && !page.contains("inf "), "{what}: not a number");
        }
    }
}

#[test]
fn names_of_the_scenario_are_escaped() {
    let (_, odd) = &comparisons()[2];
    let mut scenario = scenario_of(odd);
    scenario.title = "<i>Mere</i> & \"co\"".to_owned();
    let page = report_html(odd, &scenario, Metric);
    is_well_formed("odd", &page);
    for raw in ["<b>", "<i>", "<script"] {
        assert!(!page.contains(raw), "{raw} is in the page");
    }
    for shown in ["&lt;b&gt;&amp;&quot;'&lt;/b&gt;", "&lt;i&gt;Mere&lt;/i&gt; &amp;", "two lines"] {
        assert!(page.contains(shown), "{shown} is not in the page");
    }
    let (_, warned) = &comparisons()[6];
    assert!(self::page(warned).contains("Mind &lt;this&gt; &amp; that."));
}

#[test]
fn the_verdict_comes_first_and_all_sections_follow() {
    let page = page(&four());
    let sections = [
        "verdict",
        "curves",
        "differences",
        "catch",
        "time",
        "bait",
        "plans",
        "why",
        "cautions",
        "assumptions",
        "stamp",
    ];
    let places: Vec<usize> = sections
        .iter()
        .map(|id| page.find(&format!("<section id=\"{id}\"")).unwrap_or_else(|| panic!("no {id}")))
        .collect();
    assert!(places.is_sorted(), "{places:?}");
    let verdict = page.find("beats").expect("a verdict in words");
    assert!(verdict < page.find("<svg").expect("a picture"), "text comes before charts");
    for id in &sections[1..] {
        assert!(page.contains(&format!("<a href=\"#{id}\">")), "no link leads to {id}");
    }
}

#[test]
fn the_report_works_with_screen_reader_and_keyboard() {
    for (what, compared) in comparisons() {
        let page = page(&compared);
        let all = tags(&page);
        let count = |name: &str| all.iter().filter(|t| t.0 == name && t.1 == '<').count();
        for (landmark, times) in [("html", 1), ("header", 1), ("main", 1), ("nav", 1), ("h1", 1)] {
            assert_eq!(count(landmark), times, "{what}: {landmark}");
        }
        assert!(page.contains("<html lang=\"en-GB\">"), "{what}");
        // A heading is at most one level below the previous one.
        let levels: Vec<u32> = all
            .iter()
            .filter(|t| t.1 == '<')
            .filter_map(|t| t.0.strip_prefix('h')?.parse().ok())
            .collect();
        assert!(levels.windows(2).all(|two| two[1] <= two[0] + 1), "{what}: {levels:?}");
        // Every chart has a name, a description and a table; every table has a caption and heads.
        let pictures = count("svg");
        assert_eq!(pictures, page.matches("role=\"img\"").count(), "{what}");
        assert_eq!(pictures, count("desc"), "{what}");
        assert_eq!(pictures, count("figure"), "{what}");
        assert_eq!(pictures, page.matches("The same as a table").count(), "{what}");
        assert_eq!(count("table"), count("caption"), "{what}");
        assert!(count("th") >= 2 * count("table"), "{what}");
        // Nothing changes the order of keyboard focus.
        let tabs = all.iter().filter(|t| t.2.contains("tabindex"));
        assert!(tabs.into_iter().all(|t| t.2.contains("tabindex=\"0\"")), "{what}");
    }
}

#[test]
fn assumed_numbers_are_counted_from_the_books() {
    let compared = two();
    let scenario = scenario_of(&compared);
    let rows: Vec<_> = scenario.books.all().iter().flat_map(|book| book.rows()).collect();
    let assumed = rows.iter().filter(|row| row.grade == sim::params::Grade::Assumed);
    let texts = format!("{} of {} numbers are assumed", assumed.clone().count(), rows.len());
    let page = page(&compared);
    assert!(page.contains(&texts), "{texts}");
    for row in assumed {
        assert!(page.contains(&format!("<code>{}</code>", row.key)), "{} is not listed", row.key);
    }
}

/// The value of a colour in the style sheet: first in light mode, then in dark mode.
fn colours(page: &str, name: &str) -> Vec<[f64; 3]> {
    let start = format!("--{name}:#");
    page.match_indices(&start)
        .map(|(at, _)| {
            let hex = &page[at + start.len()..][..6];
            [0, 2, 4].map(|k| f64::from(u8::from_str_radix(&hex[k..k + 2], 16).expect("hex")))
        })
        .collect()
}

/// Contrast of two colours as the accessibility guidelines define it (WCAG 2, relative luminance).
pub(super) fn contrast(one: [f64; 3], other: [f64; 3]) -> f64 {
    let luminance = |colour: [f64; 3]| {
        let [r, g, b] = colour.map(|part| {
            let part = part / 255.0;
            if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        });
        0.2126 * r + 0.7152 * g + 0.0722 * b + 0.05
    };
    let (one, other) = (luminance(one), luminance(other));
    one.max(other) / one.min(other)
}

#[test]
fn text_has_enough_contrast_in_both_modes_and_plans_in_dark_mode() {
    let page = page(&two());
    let ground = colours(&page, "ground");
    assert_eq!(ground.len(), 2, "one background for each mode");
    for ink in ["ink", "muted"] {
        for (ink_of, ground) in colours(&page, ink).into_iter().zip(&ground) {
            // The guidelines require 4.5 for text.
            let contrast = contrast(ink_of, *ground);
            assert!(contrast >= 4.5, "{ink}: {contrast:.1}");
        }
    }
    for plan in 0..8 {
        // They require 3 for graphics.
        let night = contrast(colours(&page, &format!("p{plan}"))[1], ground[1]);
        assert!(night >= 3.0, "plan {plan} by night: {night:.1}");
    }
}

#[test]
fn every_chart_colour_has_a_dark_mode_counterpart() {
    for (what, compared) in comparisons() {
        let page = page(&compared);
        let (style, body) = page.split_once("</style>").expect("a style");
        for of in ["fill", "stroke"] {
            let start = format!("{of}=\"#");
            for (at, _) in body.match_indices(&start) {
                let attribute = &body[at..at + start.len() + 7];
                let rule = format!("svg [{attribute}]");
                assert!(style.contains(&rule), "{what}: {attribute} has no dark mode colour");
            }
        }
    }
}

#[test]
fn equal_input_gives_an_equal_page() {
    assert_eq!(page(&four()), page(&four()));
}
