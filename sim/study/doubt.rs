//! How far a verdict can be doubted: which unknowns could flip it, and where its spread comes from.

use rayon::prelude::*;
use serde::Serialize;

use super::line::{Flip, LinePoint, Verdict, flips};
use super::progress::Control;
use super::result::{Comparison, Difference};
use super::split::{PairSplit, SESSIONS_A_BLOCK, Split, split};
use super::stamp::Stamp;
use super::weights::kg;
use crate::engine::Dice;
use crate::scenario::{Scenario, Unknown};
use crate::session::{Day, fish_session};
use crate::stats::{Effect, Effects, RowOutputs, indices, t_quantile, trajectories, two_points};

/// Levels of the screening grid.
const LEVELS: u32 = 4;
/// Lots of luck at each point: days that points to be compared share.
const LOTS: u32 = 4;
/// Most unknowns looked at closely.
const FEW: usize = 6;
/// Where along an unknown the difference is looked at: 19 values in 20 lie between the ends.
const QUANTILES: [f64; 9] = [0.025, 0.1, 0.2, 0.35, 0.5, 0.65, 0.8, 0.9, 0.975];
/// Streams of chance of the designs, apart from those of any day.
const DESIGN: u64 = 0x646f_7562;

/// How much is fished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort {
    /// Ways through the grid on which each unknown is moved once.
    pub trajectories: u32,
    /// Rows of the design of indices, a power of two.
    pub rows: u32,
    /// Days at each point of a line.
    pub line_days: u32,
    /// Blocks of the split.
    pub blocks: u32,
}

impl Effort {
    /// What goes with a comparison on so many days: at 400, some 20 ways, 128 rows, 100 days and 150 blocks.
    #[must_use]
    pub fn beside(days: u32) -> Self {
        Self {
            trajectories: (days / 20).max(2),
            rows: (days / 3).max(4).next_power_of_two() / 2 * if days < 12 { 2 } else { 1 },
            line_days: (days / 4).max(2),
            blocks: (3 * days / 8).max(2),
        }
    }

    /// Sessions that it takes, with a number of unknowns.
    #[must_use]
    pub fn sessions(&self, unknowns: usize) -> u64 {
        let (unknowns, few) = (unknowns as u64, unknowns.min(FEW) as u64);
        let screening = u64::from(self.trajectories) * (unknowns + 1) * u64::from(LOTS);
        let shares = u64::from(self.rows) * (few + 2) * u64::from(LOTS);
        let lines = u64::from(self.line_days) * (few * QUANTILES.len() as u64 + 1);
        2 * (screening + shares + lines) + u64::from(self.blocks) * SESSIONS_A_BLOCK
    }
}

/// What moving one unknown does to the paired difference, others anywhere; moved from the lower to the upper
/// eighth of what is held likely.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Screened {
    /// Its dotted key.
    pub key: String,
    /// What it is.
    pub says: String,
    /// Unit of its values.
    pub unit: String,
    /// One value in forty lies below.
    pub low: f64,
    /// One in forty lies above.
    pub high: f64,
    /// Mean change of the difference (Morris's μ) [kg].
    pub mean_kg: f64,
    /// Its standard error [kg].
    pub mean_se_kg: f64,
    /// Mean size of the change (μ*), luck included [kg].
    pub mean_size_kg: f64,
    /// Standard deviation of the change (σ), luck included [kg].
    pub spread_kg: f64,
    /// Root mean square of the change with luck taken off [kg].
    pub beyond_luck_kg: f64,
    /// Root mean square that luck alone would give [kg].
    pub luck_kg: f64,
}

/// One of the few unknowns that matter most.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Few {
    /// Its dotted key.
    pub key: String,
    /// What it is.
    pub says: String,
    /// Unit of its values.
    pub unit: String,
    /// Share of the difference's variance over the few that it has alone (Sobol' first-order index); none where
    /// luck left nothing to share.
    pub first: Option<f64>,
    /// Share that it has alone or with others (total index).
    pub total: Option<f64>,
    /// Lower end of the total's 95 % interval.
    pub total_low95: Option<f64>,
    /// Upper end.
    pub total_high95: Option<f64>,
    /// The difference along it, in order of value.
    pub line: Vec<LinePoint>,
    /// Where the other plan would win.
    pub flips: Vec<Flip>,
}

/// Where the variance of the two plans' weights and of their difference comes from.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Splits {
    /// Weight of the plan ahead.
    pub a: Split,
    /// Weight of the other.
    pub b: Split,
    /// Their paired difference.
    pub difference: Split,
}

/// How far a verdict can be doubted.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Doubt {
    /// `shoalwise/doubt/1`.
    pub format: &'static str,
    /// Where it came from.
    pub stamp: Stamp,
    /// Days on which the verdict rests.
    pub days: u32,
    /// Days at each point of a line.
    pub line_days: u32,
    /// The plan ahead in the mean.
    pub a: String,
    /// The plan that could win instead.
    pub b: String,
    /// Weight of the first less that of the second.
    pub difference_kg: Difference,
    /// Standard deviation over the few of the mean difference, luck taken off [kg]; none where luck left nothing.
    pub spread_over_few_kg: Option<f64>,
    /// Standard deviation that luck leaves in one point of that design [kg].
    pub luck_of_a_point_kg: Option<f64>,
    /// Every unknown, the largest effect beyond luck first.
    pub screened: Vec<Screened>,
    /// The few that matter most.
    pub few: Vec<Few>,
    /// Where variances come from.
    pub variance: Splits,
}

impl Doubt {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/doubt/1";
}

/// The two plans with the heaviest mean weights, the heavier first; none of fewer than two.
#[must_use]
pub fn two_best(comparison: &Comparison) -> Option<[usize; 2]> {
    let mut order: Vec<usize> = (0..comparison.plans.len()).collect();
    let mean = |plan: usize| comparison.plans[plan].weight_kg.mean;
    order.sort_by(|&one, &other| mean(other).total_cmp(&mean(one)));
    order.first_chunk().copied()
}

/// One study of doubt at work.
struct Study<'a> {
    scenario: &'a Scenario,
    pair: [usize; 2],
    seed: u64,
    control: Control<'a>,
}

/// Looks for what could flip the verdict between the two best plans of a comparison; none if it was stopped or there
/// are not two.
///
/// Every unknown is moved about while all the rest is drawn as on any day; both plans meet the same days, and points
/// that are compared the same luck.
#[must_use]
pub fn doubt(
    scenario: &Scenario,
    comparison: &Comparison,
    effort: Effort,
    control: Control<'_>,
) -> Option<Doubt> {
    let pair = two_best(comparison)?;
    let seed = comparison.stamp.seed;
    let study = Study { scenario, pair, seed, control };
    let unknowns = scenario.unknowns();
    let screened = study.screen(&unknowns, effort.trajectories)?;
    let few: Vec<&Unknown> = screened
        .iter()
        .take(FEW)
        .filter_map(|found| unknowns.iter().find(|unknown| unknown.key == found.key))
        .collect();
    let difference_kg = study.verdict(comparison)?;
    let shares = study.shares(&few, effort.rows)?;
    let looks = few.len() * QUANTILES.len();
    let half_kg = 0.5 * (difference_kg.high95 - difference_kg.low95);
    let verdict = Verdict {
        days: comparison.days,
        mean_kg: difference_kg.mean,
        se_kg: half_kg / t_quantile(0.95, u64::from(comparison.days.max(2)) - 1),
    };
    let plain_kg = study.days_kg(scenario, effort.line_days)?;
    let few = few
        .iter()
        .enumerate()
        .map(|(at, unknown)| {
            let line = study.line(unknown, &plain_kg, &verdict, looks)?;
            let share = shares.as_ref().map(|found| found.inputs[at]);
            Some(Few {
                key: unknown.key.clone(),
                says: unknown.says.clone(),
                unit: unknown.unit.clone(),
                first: share.map(|share| share.first),
                total: share.map(|share| share.total),
                total_low95: share.map(|share| share.total95.low),
                total_high95: share.map(|share| share.total95.high),
                flips: flips(&line, difference_kg.mean),
                line,
            })
        })
        .collect::<Option<Vec<Few>>>()?;
    let [a, b, difference]: PairSplit = split(scenario, pair, seed, effort.blocks, control)?;
    let name = |at: usize| scenario.plans[pair[at]].name.clone();
    Some(Doubt {
        format: Doubt::FORMAT,
        stamp: comparison.stamp.clone(),
        days: comparison.days,
        line_days: effort.line_days,
        a: name(0),
        b: name(1),
        difference_kg,
        spread_over_few_kg: shares.as_ref().map(|found| found.variance.sqrt()),
        luck_of_a_point_kg: shares.as_ref().map(|found| found.luck.max(0.0).sqrt()),
        screened,
        few,
        variance: Splits { a, b, difference },
    })
}

impl Study<'_> {
    /// The pair's difference as compared, the plan ahead first.
    fn verdict(&self, comparison: &Comparison) -> Option<Difference> {
        let name = |at: usize| &self.scenario.plans[self.pair[at]].name;
        let of = |a: &str, b: &str| comparison.pairs.iter().find(|pair| pair.a == a && pair.b == b);
        let turned = |found: Difference| Difference {
            mean: -found.mean,
            low95: -found.high95,
            high95: -found.low95,
        };
        of(name(0), name(1))
            .map(|pair| pair.difference_kg)
            .or_else(|| of(name(1), name(0)).map(|pair| turned(pair.difference_kg)))
    }

    /// The paired difference on one day of a scenario [kg].
    fn day_kg(&self, scenario: &Scenario, number: u32) -> Option<f64> {
        let day = Day::draw(scenario, self.seed, number);
        let mut weights_kg = [0.0; 2];
        for (weight_kg, &plan) in weights_kg.iter_mut().zip(&self.pair) {
            if self.control.is_stopped() {
                return None;
            }
            *weight_kg = kg(fish_session(scenario, &scenario.plans[plan], &day).weight_g as f64);
            self.control.progress.session_is_done();
        }
        Some(weights_kg[0] - weights_kg[1])
    }

    /// The difference in each of some lots of luck, with some unknowns held where a point says [kg].
    fn at(&self, held: &[&Unknown], point: &[f64], lots: u32, first: u32) -> Option<Vec<f64>> {
        let mut scenario = self.scenario.clone();
        for (unknown, &u) in held.iter().zip(point) {
            unknown.hold(&mut scenario, unknown.at(u));
        }
        (first..first + lots).map(|number| self.day_kg(&scenario, number)).collect()
    }

    /// Moves every unknown about, one at a time, and ranks them by what that does beyond luck.
    fn screen(&self, unknowns: &[Unknown], count: u32) -> Option<Vec<Screened>> {
        let mut chance = Dice::keyed(&[self.seed, DESIGN, 1]);
        let ways = trajectories(count as usize, unknowns.len(), LEVELS, &mut chance);
        let held: Vec<&Unknown> = unknowns.iter().collect();
        // Levels stand for the middles of equal parts of what is held likely.
        let parts = f64::from(LEVELS);
        let share = |level: f64| (0.5 + level * (parts - 1.0)) / parts;
        let points = ways.iter().zip(0_u32..).flat_map(|(way, number)| {
            way.points.iter().map(move |point| (point, 1 + number * LOTS))
        });
        let points: Vec<(&Vec<f64>, u32)> = points.collect();
        let found: Option<Vec<Vec<f64>>> = points
            .par_iter()
            .map(|&(point, first)| {
                let point: Vec<f64> = point.iter().map(|&level| share(level)).collect();
                self.at(&held, &point, LOTS, first)
            })
            .collect();
        let found = found?;
        let mut effects = vec![Vec::with_capacity(ways.len()); unknowns.len()];
        for (way, outputs) in ways.iter().zip(found.chunks(unknowns.len() + 1)) {
            for (two, &(input, by)) in outputs.windows(2).zip(&way.moved) {
                effects[input].extend(Effect::of(&two[0], &two[1], by));
            }
        }
        let mut screened = unknowns
            .iter()
            .zip(&effects)
            .map(|(unknown, effects)| {
                let found = Effects::of(effects)?;
                Some(Screened {
                    key: unknown.key.clone(),
                    says: unknown.says.clone(),
                    unit: unknown.unit.clone(),
                    low: unknown.at(0.025),
                    high: unknown.at(0.975),
                    mean_kg: found.mean,
                    mean_se_kg: found.se,
                    mean_size_kg: found.mean_absolute,
                    spread_kg: found.spread,
                    beyond_luck_kg: found.size,
                    luck_kg: found.luck,
                })
            })
            .collect::<Option<Vec<Screened>>>()?;
        // Ties, as of those that luck explains, keep the order of the books.
        screened.sort_by(|one, other| other.beyond_luck_kg.total_cmp(&one.beyond_luck_kg));
        Some(screened)
    }

    /// How the difference's variance is shared among a few unknowns; the inner none where luck leaves nothing.
    #[expect(clippy::option_option, reason = "stopped, and nothing to share, are two things")]
    fn shares(&self, few: &[&Unknown], rows: u32) -> Option<Option<crate::stats::Indices>> {
        if few.is_empty() {
            return Some(None);
        }
        let mut chance = Dice::keyed(&[self.seed, DESIGN, 2]);
        let design = two_points(rows, few.len(), &mut chance);
        let outputs: Option<Vec<RowOutputs>> = design
            .par_iter()
            .enumerate()
            .map(|(row, points)| {
                let at = |point: &[f64]| self.at(few, point, LOTS, 1 + row as u32 * LOTS);
                let mixed: Option<Vec<Vec<f64>>> =
                    (0..few.len()).map(|input| at(&points.mixed(input))).collect();
                Some(RowOutputs { a: at(&points.a)?, b: at(&points.b)?, mixed: mixed? })
            })
            .collect();
        Some(indices(&outputs?, &mut chance))
    }

    /// The difference on each of the first days of a scenario [kg].
    fn days_kg(&self, scenario: &Scenario, days: u32) -> Option<Vec<f64>> {
        (1..=days).into_par_iter().map(|number| self.day_kg(scenario, number)).collect()
    }

    /// The difference along one unknown, on the same days at each of its values.
    fn line(
        &self,
        unknown: &Unknown,
        plain_kg: &[f64],
        verdict: &Verdict,
        looks: usize,
    ) -> Option<Vec<LinePoint>> {
        QUANTILES
            .iter()
            .map(|&quantile| {
                let value = unknown.at(quantile);
                let mut scenario = self.scenario.clone();
                unknown.hold(&mut scenario, value);
                let held_kg = self.days_kg(&scenario, plain_kg.len() as u32)?;
                LinePoint::of((value, quantile), &held_kg, plain_kg, verdict, looks)
            })
            .collect()
    }
}
