//! The card: one page, nothing cut off, nothing overlapping, readable.

use std::path::Path;

use sim::angler::{
    Condition, FeedMethod, LooseFeed, Phase, PlanChange, PlanRule, RecipeId, RuleDuration, Tackle,
    TackleChange,
};
use sim::bait::ParticleShape;
use sim::report::{Card, card, card_html, card_pdf, card_svg, png};
use sim::scenario::Units::{Imperial, Metric};
use sim::scenario::{Keepnet, Scenario};
use sim::study::{BaitAmount, Comparison, Warning};
use sim::water::{LineId, Point};

use super::charts::check_layout;
use super::html::{contrast, is_self_contained, is_well_formed, scenario_of};
use super::sample::{comparison, plan, unbroken};

/// One plan fished, with a scenario to match.
fn fished(name: &str) -> (Comparison, Scenario) {
    let compared = comparison(vec![plan(name, 7.4, 0.62, 1.38)], 1.0);
    let scenario = scenario_of(&compared);
    (compared, scenario)
}

/// Divides the only phase of the only plan into `count`, each with another interval and feed.
fn in_phases(scenario: &mut Scenario, count: u32) {
    let whole = scenario.plans[0].phases[0].clone();
    let step_s = scenario.session_s / f64::from(count);
    let phase = |k: u32| Phase {
        from_s: f64::from(k) * step_s,
        until_s: f64::from(k + 1) * step_s,
        tackle: Tackle {
            recast_s: 60.0 * f64::from(k + 1),
            buried: k % 2 == 1,
            compression: 0.5 + 0.5 * f64::from(k % 3),
            ..whole.tackle
        },
        loose_feed: vec![LooseFeed {
            line: LineId(0),
            recipe: RecipeId(0),
            every_s: 60.0 * f64::from(k + 2),
            amount_kg: 0.006,
            method: FeedMethod::default(),
        }],
    };
    scenario.plans[0].phases = (0..count).map(phase).collect();
}

/// Cards that are hard to lay out.
fn cards() -> Vec<(&'static str, Card)> {
    let made = |(compared, scenario): (Comparison, Scenario)| {
        let name = compared.plans[0].name.clone();
        card(&compared, &scenario, &name, Imperial).expect("its plan was fished")
    };
    let phased = |count: u32, warnings: usize| {
        let (mut compared, mut scenario) = fished("changes-often");
        in_phases(&mut scenario, count);
        let warning =
            Warning::WarmWater { warm_days: 12, days: 400, limit_c: 24.0, warmest_c: 25.3 };
        compared.warnings = vec![warning; warnings];
        (compared, scenario)
    };
    let long = "a-plan-with-a-name-that-goes-on-and-on-until-nobody-reads-on-any-more";
    let (mut many, scenario) = fished("brings-much");
    many.plans[0].baits = (0..14)
        .map(|k| BaitAmount { bait: format!("bait-number-{k}-of-them"), mean: 1.0, p90: 1.5 })
        .collect();
    let (odd, mut odd_scenario) = fished("<b>&\"'</b>");
    odd_scenario.title = "<i>żółw</i> ".repeat(12);
    odd_scenario.lines[0].name =
        "a line with a name of many words, and then some more of them".to_owned();
    vec![
        ("plain", made(fished("two-minutes"))),
        ("two-phases", made(phased(2, 1))),
        ("six-phases", made(phased(6, 3))),
        ("forty-phases", made(phased(40, 6))),
        ("long-name", made(fished(long))),
        ("many-baits", made((many, scenario))),
        ("odd-names", made((odd, odd_scenario))),
    ]
}

#[test]
fn every_card_fits_its_page_without_overlaps() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("cards");
    std::fs::create_dir_all(&folder).expect("a folder for pictures");
    for (what, card) in cards() {
        let svg = card_svg(&card);
        let texts = check_layout(what, &svg);
        for words in ["What to do when", "Are you behind?", "Bring", "Take care", "Lightning"] {
            assert!(texts.iter().any(|text| text == words), "{what}: no {words} in {texts:?}");
        }
        if what == "plain" || what == "two-phases" {
            assert!(!texts.iter().any(|text| text.ends_with('…')), "{what}: cut in {texts:?}");
        }
        let bytes = png(&svg, 1190).expect("a sound picture");
        let image = resvg::tiny_skia::Pixmap::decode_png(&bytes).expect("a sound PNG");
        assert_eq!((image.width(), image.height()), (1190, 1684), "{what}: A4");
        let dark = image.pixels().iter().filter(|pixel| pixel.red() < 128).count();
        // Text covers a few per cent of a page: it is neither empty nor black.
        let share = dark as f64 / image.pixels().len() as f64;
        assert!((0.005..0.25).contains(&share), "{what}: {share:.3} of the page is dark");
        std::fs::write(folder.join(format!("{what}.png")), bytes).expect("kept");
    }
}

#[test]
fn lines_that_do_not_fit_a_card_are_counted() {
    let all = cards();
    let (_, forty) = all.iter().find(|(name, _)| *name == "forty-phases").expect("it is there");
    let texts = check_layout("forty", &card_svg(forty));
    assert!(texts.iter().any(|text| text.ends_with("more, see card.html")), "{texts:?}");
    let page = card_html(forty);
    assert_eq!(page.matches("class=\"times\"").count(), 80, "forty phases, forty feeds");
}

#[test]
fn a_card_on_paper_is_a_pdf_of_one_page_of_a4() {
    for (what, card) in cards() {
        let pdf = card_pdf(&card).unwrap_or_else(|why| panic!("{what}: {why}"));
        assert!(pdf.starts_with(b"%PDF-"), "{what}");
        let text = String::from_utf8_lossy(&pdf);
        assert_eq!(text.matches("/Type /Page\n").count(), 1, "{what}: pages");
        assert!(text.contains("/Count 1"), "{what}");
        // A4 in points of 1/72 inch, to the point.
        assert!(text.contains("/MediaBox [0 0 595 842]"), "{what}");
        for _ in 0..4 {
            assert!(pdf == card_pdf(&card).expect("again"), "{what}: the file differs each time");
        }
    }
}

#[test]
fn text_on_the_paper_card_has_enough_contrast() {
    for (what, card) in cards() {
        let svg = card_svg(&card);
        let mut seen = 0;
        for text in svg.split("<text").skip(1) {
            let hex = text.split("fill=\"#").nth(1).expect("a colour").get(..6).expect("in hex");
            let part = |k: usize| u8::from_str_radix(&hex[k..k + 2], 16).expect("hex");
            let ink = [0, 2, 4].map(|k| f64::from(part(k)));
            let contrast = contrast(ink, [255.0; 3]);
            assert!(contrast >= 4.5, "{what}: #{hex} on white is {contrast:.1}");
            seen += 1;
        }
        assert!(seen > 20, "{what}: only {seen} texts");
    }
}

#[test]
fn a_card_gives_the_expected_weight_at_each_hour() {
    // 7.4 bites an hour over 3.1 h, nine in ten landed, 1.38 kg each: 28.5 kg, of which 0.4^1.35 by two hours.
    let (compared, scenario) = fished("two-minutes");
    let kg = 7.4 * 0.62 * 5.0 * 0.9 * 1.38 * 0.4_f64.powf(1.35);
    let card = card(&compared, &scenario, "two-minutes", Metric).expect("it was fished");
    let page = card_html(&card);
    let row = page.split("<tr>").find(|row| row.contains(">2:00<")).expect("a row for two hours");
    for share in [0.55, 0.98, 1.5] {
        let shown = format!("{:.1}", share * kg);
        assert!(row.contains(&shown), "{shown} kg is not in {row}");
    }
}

#[test]
fn a_card_says_which_way_to_cast_what_to_throw_and_what_to_bring() {
    let (compared, mut scenario) = fished("two-minutes");
    in_phases(&mut scenario, 1);
    let left = scenario.lines[0].at;
    scenario.keepnet = Some(Keepnet { limit_kg: 25.0, nets: 3 });
    // Pellets of 6 mm and 1,150 kg/m³ weigh 0.130 g each: 46 of them are 6 g.
    scenario.recipes[0].classes.truncate(1);
    let class = &mut scenario.recipes[0].classes[0];
    (class.share, class.diameter_m, class.density_kg_m3) = (1.0, 6e-3, 1150.0);
    class.shape = ParticleShape::Sphere;
    let page = |scenario: &Scenario| {
        let card = card(&compared, scenario, "two-minutes", Metric).expect("it was fished");
        check_layout("with nets", &card_svg(&card));
        card_html(&card)
    };
    scenario.lines[0].at = Point { x_m: 0.0, ..left };
    let straight = page(&scenario);
    let hookbait = scenario.hookbaits[scenario.plans[0].phases[0].tackle.hookbait.0].name.clone();
    for words in [
        "out, straight out; recast",
        "about 45 pellets each time",
        "nets: 3, ",
        &format!("hookbait: {hookbait}"),
    ] {
        assert!(straight.contains(&unbroken(words)), "{words} is not in {straight}");
    }
    scenario.lines[0].at = Point { x_m: -0.4 * left.y_m, ..left };
    assert!(page(&scenario).contains("22° to the left"), "the arc tangent of 0.4 is 21.8°");
    let pouches = |kg: f64, scenario: &mut Scenario| {
        scenario.plans[0].phases[0].loose_feed[0].amount_kg = kg;
        page(scenario)
    };
    assert!(pouches(0.03, &mut scenario).contains("about 1½ pouches each time"), "20 g a pouch");
}

#[test]
fn the_phone_card_is_well_formed_escaped_and_self_contained() {
    for (what, card) in cards() {
        let page = card_html(&card);
        is_well_formed(what, &page);
        is_self_contained(what, &page);
        assert!(!page.contains("<b>") && !page.contains("<i>"), "{what}: a name is not escaped");
    }
}

#[test]
fn an_unknown_plan_has_no_card() {
    let (compared, scenario) = fished("two-minutes");
    assert!(card(&compared, &scenario, "another", Metric).is_none());
}

#[test]
fn a_card_says_where_the_lines_of_its_rules_are_and_what_a_mix_is_made_of() {
    let (compared, mut scenario) = fished("two-minutes");
    let mut margin = scenario.lines[0].clone();
    margin.name = "margin".to_owned();
    margin.at = Point { x_m: -9.0, y_m: 0.0 };
    scenario.lines.push(margin);
    let to_the_margin = |scenario: &mut Scenario, line: usize| {
        scenario.plans[0].rules.list = vec![PlanRule {
            name: "to-the-margin".to_owned(),
            condition: Condition { no_bite_for_s: Some(900.0), ..Condition::default() },
            change: PlanChange {
                tackle: TackleChange { line: Some(LineId(line)), ..TackleChange::default() },
                feeds: Vec::new(),
                new_feed: (180.0, 0.006),
            },
            lasts: RuleDuration::Phase,
            again_after_s: 60.0,
            max_firings: None,
        }];
    };
    let page = |scenario: &Scenario| {
        let card = card(&compared, scenario, "two-minutes", Metric).expect("it was fished");
        check_layout("with a rule", &card_svg(&card));
        card_html(&card)
    };
    let place = unbroken("margin: 9.0 m out, 90° to the left.");
    to_the_margin(&mut scenario, 1);
    let with_rule = page(&scenario);
    assert!(with_rule.contains(&place), "{place} is not in {with_rule}");
    assert!(with_rule.contains("Rules, which may change the above"));
    // A line of the timetable stands there already.
    to_the_margin(&mut scenario, 0);
    assert!(!page(&scenario).contains("90° to the left"));

    let bait = compared.plans[0].baits[0].bait.clone();
    scenario.recipes[0].name.clone_from(&bait);
    let classes = &mut scenario.recipes[0].classes;
    let mut second = classes[0].clone();
    classes.truncate(1);
    classes[0].share = 0.4;
    (second.name, second.share) = ("crumb".to_owned(), 0.6);
    classes.push(second);
    let mixed = page(&scenario);
    assert!(mixed.contains(&format!("{bait} (60\u{a0}% crumb, 40\u{a0}% ")), "no mix in {mixed}");
}

#[test]
fn nobody_is_behind_with_nothing() {
    let (mut compared, scenario) = fished("two-minutes");
    let page = |compared: &Comparison| {
        card_html(&card(compared, &scenario, "two-minutes", Metric).expect("it was fished"))
    };
    assert!(!page(&compared).contains("too early to say"), "a fish an hour at the least");
    for point in &mut compared.plans[0].curve {
        if point.minute <= 60.0 {
            point.p10_kg = 0.0;
        }
    }
    let early = page(&compared);
    let row = early.split("<tr>").find(|row| row.contains(">1:00<")).expect("a row for an hour");
    assert!(row.contains("<td>–</td>"), "{row}");
    assert!(early.contains("–: too early to say."));
}
