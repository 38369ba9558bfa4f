//! What an angler expects, and what the first and the present model give.

use std::fmt::Write;

use sim::session::Outcome;

use super::contrasts::{Case, Measure, Variation};
use super::page::write_part;
use crate::evidence::{mean, standard_error};

/// Days of each case.
const DAYS: u32 = 200;

/// Outcomes of a plan of one of the patterns' waters.
fn outcomes(water: &'static str, plan: &'static str, sets: &[String]) -> Vec<Outcome> {
    let sets: Vec<&'static str> = sets.iter().map(|set| &*set.clone().leak()).collect();
    Case { water, plan, sets: sets.leak() }.outcomes(Variation::Whole, DAYS)
}

/// A mean with its standard error, in kilograms.
fn kg(outcomes: &[Outcome]) -> String {
    let kg = Measure::Kg.of_days(outcomes);
    format!("{:.1} ± {:.1} kg", mean(&kg), standard_error(&kg))
}

fn fish(outcomes: &[Outcome]) -> String {
    let fish = Measure::Fish.of_days(outcomes);
    format!("{:.1} ± {:.1} fish", mean(&fish), standard_error(&fish))
}

/// The wait with the largest mean weight of those tried, with the weights.
fn best_wait(water: &'static str, plan: &'static str, sets: &[&str]) -> String {
    let waits = [1, 2, 4, 8, 15];
    let means = waits.map(|minutes| {
        let mut sets: Vec<String> = sets.iter().map(|&set| set.to_owned()).collect();
        sets.push(format!("plan.{plan}.recast={minutes} min"));
        mean(&Measure::Kg.of_days(&outcomes(water, plan, &sets)))
    });
    let best = (0..5).max_by(|a, b| means[*a].total_cmp(&means[*b])).unwrap_or(0);
    let listed: Vec<String> = means.iter().map(|kg| format!("{kg:.1}")).collect();
    format!("{} min ({} kg at 1, 2, 4, 8, 15 min)", waits[best], listed.join(", "))
}

/// Writes the table.
#[test]
#[ignore = "writes a part of tests/TABLES.md; takes some minutes"]
fn practice() {
    let mut rows: Vec<[String; 3]> = Vec::new();
    let mut add = |expects: &str, first: &str, now: String| {
        rows.push([expects.to_owned(), first.to_owned(), now]);
    };
    let set = |text: &str| text.to_owned();
    let shy = [
        "shoal.roamers.comes_to_splash={ low = 0.0, high = 0.06 }",
        "shoal.roamers.startles_at_splash={ low = 0.3, high = 0.6 }",
        "shoal.roamers.comes_to_patter={ low = 0.1, high = 0.3 }",
    ];
    for (plan, bait) in
        [("groundbait", "groundbait"), ("micros", "micro-pellets"), ("lead", "a lead")]
    {
        let feed = format!(
            "plan.{plan}.feed.open={{ bait = \"pellets-4mm\", every = \"3 min\", amount = \"6 g\" }}"
        );
        add(
            &format!("over fish that shy from splashes waiting pays, with {bait}"),
            "best at 2 min",
            best_wait("open-water", plan, &[shy[0], shy[1], shy[2], &feed]),
        );
    }
    let fright = |level: &str| {
        outcomes(
            "open-water",
            "micros",
            &[format!("shoal.roamers.startles_at_fight={level}"), set("plan.micros.recast=2 min")],
        )
    };
    add(
        "fright at a fight costs fish",
        "nothing",
        format!(
            "{} without, {} with half of them startled",
            kg(&fright("0.0")),
            kg(&fright("0.5"))
        ),
    );
    let at =
        |line: &str| outcomes("island", "groundbait", &[format!("plan.groundbait.line={line}")]);
    add(
        "fish of the cover must be fished for at their cover",
        "two thirds of them 16 m short of it",
        format!("{} at cover, {} eight metres short", fish(&at("cover")), fish(&at("short"))),
    );
    for (what, sets) in [
        ("200 fish", "shoal.roamers.count=200"),
        ("10 fish", "shoal.roamers.count=10"),
        ("22 °C", "water.temperature=22 C"),
        ("6 °C", "water.temperature=6 C"),
    ] {
        add(
            &format!("fewer fish and colder water ask for longer waits: {what}"),
            "about 2 min",
            best_wait("open-water", "micros", &[sets]),
        );
    }
    let winter = ["lead-and-pellets", "small-feeder", "busy-feeder", "busy-micros", "lone"]
        .map(|plan| format!("{plan} {}", kg(&outcomes("winter", plan, &[]))));
    add(
        "in winter a lead and a few pellets, or a small feeder left alone",
        "118 casts of two minutes win",
        winter.join(", "),
    );
    let summer = [
        set("session.date=2026-07-17"),
        set("water.temperature={ low = \"18 C\", high = \"22 C\" }"),
    ];
    add(
        "a lone hookbait is found by fish that browse over it",
        "0.1 fish",
        fish(&outcomes("winter", "lone", &summer)),
    );
    let peg = outcomes("open-water", "groundbait", &[set("shoal.roamers.count=200")]);
    let hours = [1, 2, 3, 4, 5]
        .map(|hour| format!("{:.1}", mean(&Measure::FishInHour(hour).of_days(&peg))));
    add(
        "a fed peg builds",
        "falls from the first minute",
        format!("{} fish in its five hours", hours.join(", ")),
    );
    let warm = |plan: &'static str| {
        let recast = format!("plan.{plan}.recast=5 min");
        kg(&outcomes("open-water", plan, &[set("water.temperature=23 C"), recast]))
    };
    add(
        "micro-pellets are as good as groundbait",
        "two fifths of it",
        format!("{} and {}", warm("full-micros"), warm("groundbait")),
    );
    let load = |load: &str| {
        let outcomes =
            outcomes("open-water", "groundbait", &[format!("plan.groundbait.load={load}")]);
        format!("{:.1}", mean(&Measure::Kg.of_days(&outcomes)))
    };
    let loads = ["0 g", "0.01 g", "1 g", "5 g", "25 g", "100 g", "250 g", "500 g"];
    add(
        "a little more feed changes the catch a little",
        "ten milligrams multiply it by 26",
        format!("{} kg at {}", loads.map(load).join(", "), loads.join(", ")),
    );
    let sized = |hook: &str| {
        let outcomes = outcomes(
            "open-water",
            "sized",
            &[
                set("shoal.roamers.weight=1.6 kg"),
                set("shoal.roamers.weight_cv=0.9"),
                format!("plan.sized.hookbait={hook}"),
            ],
        );
        let (weight, number) = (Measure::Kg.of_days(&outcomes), Measure::Fish.of_days(&outcomes));
        format!("{:.1} fish of {:.2} kg", mean(&number), mean(&weight) / mean(&number))
    };
    add(
        "a large hookbait sorts fish",
        "it does not",
        format!("{} on 6 mm, {} on 14 mm", sized("small-band"), sized("large-band")),
    );
    let mut text = format!(
        "{DAYS} days of each case, on the patterns' invented waters. The first model's figures were measured by hand on \
         its own waters.\n\n| an angler expects | first model | this model |\n|---|---|---|\n"
    );
    for [expects, first, now] in rows {
        let _ = writeln!(text, "| {expects} | {first} | {now} |");
    }
    write_part("What an angler expects", &text);
}
