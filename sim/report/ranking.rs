//! Plans in order of weight, and how two of them stand to each other.

use crate::stats::{Standing, wilson};
use crate::study::{Beats, Chance, Comparison, Pair, Part, PlanResult};

/// Plans by mean weight, best first; equals keep the order of the scenario.
pub(super) fn by_weight(comparison: &Comparison) -> Vec<&PlanResult> {
    let mut plans: Vec<_> = comparison.plans.iter().collect();
    let weight = |plan: &PlanResult| match plan.weight_kg.mean {
        kg if kg.is_finite() => kg,
        _ => f64::NEG_INFINITY,
    };
    plans.sort_by(|a, b| weight(b).total_cmp(&weight(a)));
    plans
}

/// How often the second of a pair was the heavier on the same day: level days count for neither.
fn other_ahead(pair: &Pair, days: u32) -> Chance {
    let share = (1.0 - pair.a_ahead_share - pair.tie_share).max(0.0);
    let interval = wilson(share * f64::from(days), u64::from(days), 0.95);
    let (low95, high95) = interval.map_or((0.0, 1.0), |interval| (interval.low, interval.high));
    Chance { share, low95, high95 }
}

/// A plan's place in the scenario.
pub(super) fn place_of(comparison: &Comparison, plan: &PlanResult) -> usize {
    let of = |other: &PlanResult| std::ptr::eq(other, plan);
    comparison.plans.iter().position(of).unwrap_or(0)
}

/// Two plans on the same days, seen from the one named first.
#[derive(Clone, Copy, Debug)]
pub(super) struct Facing<'a> {
    /// The plan named first.
    pub(super) one: &'a PlanResult,
    /// The other.
    pub(super) other: &'a PlanResult,
    /// Mean of one − other [kg].
    pub(super) mean_kg: f64,
    /// Lower end of its 95 % interval [kg].
    pub(super) low_kg: f64,
    /// Upper end [kg].
    pub(super) high_kg: f64,
    /// Share of days on which one weighed more.
    pub(super) ahead_share: f64,
    /// Share of days on which both weighed the same.
    pub(super) tie_share: f64,
    /// How one stands to the other in mean weight.
    pub(super) verdict: Standing,
    /// One was heavier on the same day.
    pub(super) same_day: Chance,
    /// One on one day was heavier than the other on another.
    pub(super) two_days: Option<Chance>,
    /// One has the higher mean, given what nobody knows.
    pub(super) on_average: Option<Chance>,
    /// How many times the days it would take unpaired.
    pub(super) days_saved_factor: Option<f64>,
    /// The pair as compared.
    pair: &'a Pair,
    /// Correlation of their weights over days.
    pub(super) correlation: Option<f64>,
}

impl<'a> Facing<'a> {
    /// How `one` stands to `other`; none if they were not compared.
    pub(super) fn of(
        comparison: &'a Comparison,
        one: &'a PlanResult,
        other: &'a PlanResult,
    ) -> Option<Self> {
        let pair = comparison.pairs.iter().find(|pair| {
            (pair.a == one.name && pair.b == other.name)
                || (pair.a == other.name && pair.b == one.name)
        })?;
        let difference = &pair.difference_kg;
        let seen = Self {
            one,
            other,
            mean_kg: difference.mean,
            low_kg: difference.low95,
            high_kg: difference.high95,
            ahead_share: pair.a_ahead_share,
            tie_share: pair.tie_share,
            verdict: pair.verdict,
            same_day: pair.beats.same_day,
            two_days: pair.beats.two_days,
            on_average: pair.beats.on_average,
            days_saved_factor: pair.days_saved_factor,
            pair,
            correlation: pair.correlation,
        };
        let turned = |chance: Chance| Chance {
            share: 1.0 - chance.share,
            low95: 1.0 - chance.high95,
            high95: 1.0 - chance.low95,
        };
        Some(if pair.a == one.name {
            seen
        } else {
            Self {
                mean_kg: -seen.mean_kg,
                low_kg: -seen.high_kg,
                high_kg: -seen.low_kg,
                ahead_share: (1.0 - seen.ahead_share - seen.tie_share).max(0.0),
                verdict: seen.verdict.turned(),
                same_day: other_ahead(pair, comparison.days),
                two_days: seen.two_days.map(turned),
                on_average: seen.on_average.map(turned),
                ..seen
            }
        })
    }

    /// Whether `one` is surely better.
    pub(super) fn clearly_ahead(&self) -> bool {
        self.verdict == Standing::Ahead
    }

    /// In which sense, and how surely, one beats the other.
    pub(super) fn beats(&self) -> Beats {
        let (same_day, two_days, on_average) = (self.same_day, self.two_days, self.on_average);
        Beats { same_day, two_days, on_average }
    }

    /// The parts of one − other.
    pub(super) fn parts(&self) -> Vec<Part> {
        let turned = |part: &Part| Part { a: part.b, b: part.a, kg: -part.kg, ..*part };
        if self.pair.a == self.one.name {
            self.pair.parts.clone()
        } else {
            self.pair.parts.iter().map(turned).collect()
        }
    }

    /// Steps of one − other [kg] and the days in each, from the lowest up.
    pub(super) fn histogram_kg(&self) -> Vec<((f64, f64), u32)> {
        let steps = self.pair.histogram.steps_kg();
        if self.pair.a == self.one.name {
            steps.collect()
        } else {
            let mut turned: Vec<_> = steps.map(|((from, to), days)| ((-to, -from), days)).collect();
            turned.reverse();
            turned
        }
    }
}
