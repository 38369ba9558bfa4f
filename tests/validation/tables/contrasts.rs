//! Patterns of whole sessions as contrasts of two cases, so that they can be asked of changed models.

use sim::scenario::{Mechanism, Scenario};
use sim::session::Outcome;

use crate::demo::scenario;
use crate::evidence::{mean, standard_error};
use crate::patterns::{fish_between, fished};

/// Fish that shy from a feeder's splash and come to loose feed.
const SHY: [&str; 4] = [
    "shoal.roamers.comes_to_splash={ low = 0.0, high = 0.06 }",
    "shoal.roamers.startles_at_splash={ low = 0.3, high = 0.6 }",
    "shoal.roamers.comes_to_patter={ low = 0.1, high = 0.3 }",
    "shoal.roamers.startles_at_fight={ low = 0.15, high = 0.35 }",
];

/// One plan of an invented water, with settings of its own.
#[derive(Clone, Copy)]
pub(super) struct Case {
    pub(super) water: &'static str,
    pub(super) plan: &'static str,
    pub(super) sets: &'static [&'static str],
}

/// A model that is asked: the whole one, one without a mechanism, or one with a setting on top.
#[derive(Clone, Copy)]
pub(super) enum Variation {
    Whole,
    Without(Mechanism),
    With(&'static str),
}

/// What is compared.
#[derive(Clone, Copy)]
pub(super) enum Measure {
    Kg,
    Fish,
    /// Fish landed in an hour of the session, counted from 1.
    FishInHour(u32),
}

/// One pattern: a factor times the first case is more than the second.
#[derive(Clone, Copy)]
pub(super) struct Contrast {
    pub(super) name: &'static str,
    pub(super) says: &'static str,
    pub(super) factor: f64,
    pub(super) more: (Case, Measure),
    pub(super) less: (Case, Measure),
}

/// Logarithm of a ratio of means over the same days, with its standard error.
#[derive(Clone, Copy, Debug)]
pub(super) struct LogRatio {
    pub(super) value: f64,
    pub(super) error: f64,
}

impl Case {
    fn scenario(&self, variation: Variation) -> Scenario {
        let mut sets = self.sets.to_vec();
        if let Variation::With(set) = variation {
            sets.push(set);
        }
        let mut scenario =
            scenario(&format!("tests/validation/patterns/{}.toml", self.water), &sets);
        if let Variation::Without(mechanism) = variation {
            scenario.switch_off(mechanism);
        }
        scenario
    }

    /// Its outcomes on days 1 to `days`.
    pub(super) fn outcomes(&self, variation: Variation, days: u32) -> Vec<Outcome> {
        fished(&self.scenario(variation), self.plan, days)
    }
}

impl Measure {
    /// Its value on each day.
    pub(super) fn of_days(self, outcomes: &[Outcome]) -> Vec<f64> {
        match self {
            Self::Kg => outcomes.iter().map(|day| day.weight_g as f64 / 1e3).collect(),
            Self::Fish => outcomes.iter().map(|day| day.catches.len() as f64).collect(),
            Self::FishInHour(hour) => {
                let ends_s = 3600.0 * f64::from(hour);
                fish_between(outcomes, ends_s - 3600.0, ends_s)
            }
        }
    }
}

impl Contrast {
    /// Logarithm of what the pattern wants above 1: factor × first mean / second mean.
    ///
    /// Its error is that of a ratio of means over paired days (delta method).
    pub(super) fn log_ratio(&self, variation: Variation, days: u32) -> LogRatio {
        let values =
            |(case, measure): &(Case, Measure)| measure.of_days(&case.outcomes(variation, days));
        let (more, less) = (values(&self.more), values(&self.less));
        // A hundredth of a kilogram or fish keeps the logarithm of nothing finite.
        let (a, b) = (mean(&more) + 0.01, mean(&less) + 0.01);
        let relative: Vec<f64> = more.iter().zip(&less).map(|(x, y)| x / a - y / b).collect();
        LogRatio { value: (self.factor * a / b).ln(), error: standard_error(&relative) }
    }
}

const OPEN: &str = "open-water";
const HOOKS: [&str; 3] =
    ["shoal.roamers.weight=1.6 kg", "shoal.roamers.weight_cv=0.9", "shoal.roamers.count=90"];

/// Patterns that show in the means of two cases.
pub(super) fn contrasts() -> Vec<Contrast> {
    fn case(water: &'static str, plan: &'static str, sets: &[&'static str]) -> Case {
        Case { water, plan, sets: sets.to_vec().leak() }
    }
    fn shy(plan: &'static str, recast: &'static str) -> Case {
        let feed: &'static str = format!(
            "plan.{plan}.feed.open={{ bait = \"pellets-4mm\", every = \"3 min\", amount = \"6 g\" }}"
        )
        .leak();
        case(OPEN, plan, &[SHY[0], SHY[1], SHY[2], SHY[3], recast, feed])
    }
    let new = |name, says, factor, more, less| Contrast { name, says, factor, more, less };
    let kg = |case| (case, Measure::Kg);
    let fish = |case| (case, Measure::Fish);
    let builds = case(OPEN, "groundbait", &["shoal.roamers.count=200"]);
    let warm = "water.temperature=23 C";
    let micros = case(OPEN, "full-micros", &[warm, "plan.full-micros.recast=5 min"]);
    let groundbait = case(OPEN, "groundbait", &[warm, "plan.groundbait.recast=5 min"]);
    vec![
        new(
            "18 groundbait",
            "over fish that shy from splashes eight minutes beat two",
            1.0,
            kg(shy("groundbait", "plan.groundbait.recast=8 min")),
            kg(shy("groundbait", "plan.groundbait.recast=2 min")),
        ),
        new(
            "18 lead",
            "the same with a lead over loose feed",
            1.0,
            kg(shy("lead", "plan.lead.recast=8 min")),
            kg(shy("lead", "plan.lead.recast=2 min")),
        ),
        new(
            "19 warm, many",
            "with 200 fish at 22 °C two minutes beat eight",
            1.0,
            kg(case(
                OPEN,
                "micros",
                &["shoal.roamers.count=200", "water.temperature=22 C", "plan.micros.recast=2 min"],
            )),
            kg(case(
                OPEN,
                "micros",
                &["shoal.roamers.count=200", "water.temperature=22 C", "plan.micros.recast=8 min"],
            )),
        ),
        new(
            "19 cold",
            "at 6 °C eight minutes beat one",
            1.0,
            kg(case(OPEN, "micros", &["water.temperature=6 C", "plan.micros.recast=8 min"])),
            kg(case(OPEN, "micros", &["water.temperature=6 C", "plan.micros.recast=1 min"])),
        ),
        new(
            "20",
            "two thirds of the fish at cover are more than those 8 m short of it",
            2.0 / 3.0,
            fish(case("island", "groundbait", &["plan.groundbait.line=cover"])),
            fish(case("island", "groundbait", &["plan.groundbait.line=short"])),
        ),
        new(
            "21",
            "fright costs two-minute casts more than a fifth",
            0.8,
            kg(case(
                OPEN,
                "micros",
                &[
                    "plan.micros.recast=2 min",
                    "shoal.roamers.startles_at_splash=0.0",
                    "shoal.roamers.startles_at_patter=0.0",
                    "shoal.roamers.startles_at_fight=0.0",
                ],
            )),
            kg(case(
                OPEN,
                "micros",
                &[
                    "plan.micros.recast=2 min",
                    "shoal.roamers.startles_at_splash=0.6",
                    "shoal.roamers.startles_at_patter=0.2",
                    "shoal.roamers.startles_at_fight=0.5",
                ],
            )),
        ),
        new(
            "24",
            "in winter a small feeder left alone beats a busy one",
            1.0,
            kg(case("winter", "small-feeder", &[])),
            kg(case("winter", "busy-feeder", &[])),
        ),
        new(
            "25",
            "in winter a lone hookbait catches four fifths of a feeder or more",
            1.25,
            kg(case("winter", "lone", &[])),
            kg(case("winter", "feeder", &[])),
        ),
        new(
            "26",
            "a fed peg catches more in its third hour than in its first",
            1.0,
            (builds, Measure::FishInHour(3)),
            (builds, Measure::FishInHour(1)),
        ),
        new(
            "27 micros",
            "micro-pellets catch three quarters of groundbait",
            4.0 / 3.0,
            kg(micros),
            kg(groundbait),
        ),
        new("27 groundbait", "and the other way round", 4.0 / 3.0, kg(groundbait), kg(micros)),
        new(
            "28",
            "a small hookbait catches more fish than a large one",
            1.0,
            fish(case(OPEN, "sized", &HOOKS)),
            fish(case(
                OPEN,
                "sized",
                &[HOOKS[0], HOOKS[1], HOOKS[2], "plan.sized.hookbait=large-band"],
            )),
        ),
        new(
            "no step",
            "one gram of feed catches less than 1.3 times what none does",
            1.3,
            kg(case(OPEN, "groundbait", &["plan.groundbait.load=0 g"])),
            kg(case(OPEN, "groundbait", &["plan.groundbait.load=1 g"])),
        ),
        new(
            "too much",
            "25 g on the feeder beat 250 g",
            1.0,
            kg(case(OPEN, "groundbait", &["plan.groundbait.load=25 g"])),
            kg(case(OPEN, "groundbait", &["plan.groundbait.load=250 g"])),
        ),
        new(
            "night",
            "a July night beats a July noon",
            1.0,
            kg(case(OPEN, "micros", &["session.date=2026-07-11", "session.start=20:00"])),
            kg(case(OPEN, "micros", &["session.date=2026-07-11", "session.start=10:30"])),
        ),
    ]
}
