//! Reversals: intervals of an uncertain input in which the other plan is better.

use schemars::JsonSchema;
use serde::Serialize;

use super::held::HeldMean;
use super::profile::ProfilePoint;

/// A value of the input at which the difference crosses zero.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ZeroCrossing {
    /// Value at which the mean crosses zero [in unit].
    pub value: f64,
    /// Lowest value at which the 95 % band includes zero; the end of the profile if it does so up to there [in unit].
    pub low: f64,
    /// Highest value at which the 95 % band includes zero; the end of the profile if it does so up to there [in unit].
    pub high: f64,
}

/// An interval of the input in which the other plan is better in the mean.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
pub struct ReversalInterval {
    /// Lower end; `None` if the interval reaches the lower end of the profile.
    #[serde(rename = "above")]
    pub from: Option<ZeroCrossing>,
    /// Upper end; `None` if the interval reaches the upper end of the profile.
    #[serde(rename = "below")]
    pub to: Option<ZeroCrossing>,
    /// Whether the reversal is statistically clear somewhere in the interval.
    #[serde(rename = "is_sure")]
    pub is_clear: bool,
}

/// Intervals of a profile, in order of value, in which the sign is opposite to that of `verdict_kg`.
#[must_use]
pub fn reversals(line: &[ProfilePoint], verdict_kg: f64) -> Vec<ReversalInterval> {
    let profile = Oriented { line, sign: if verdict_kg < 0.0 { -1.0 } else { 1.0 } };
    let mut flips = Vec::new();
    let mut index = 0;
    while index < line.len() {
        if profile.mean(index) >= 0.0 {
            index += 1;
            continue;
        }
        let first = index;
        while index < line.len() && profile.mean(index) < 0.0 {
            index += 1;
        }
        let last = index - 1;
        flips.push(ReversalInterval {
            from: first.checked_sub(1).map(|before| profile.crossing(first, before)),
            to: (index < line.len()).then(|| profile.crossing(last, index)),
            is_clear: (first..=last).any(|index| profile.is_clearly_negative(index)),
        });
    }
    flips
}

/// A profile with the sign of the verdict: positive where the verdict holds.
struct Oriented<'a> {
    line: &'a [ProfilePoint],
    sign: f64,
}

impl Oriented<'_> {
    fn held(&self, index: usize) -> &HeldMean {
        &self.line[index].held
    }

    fn mean(&self, index: usize) -> f64 {
        self.sign * self.held(index).mean_kg
    }

    /// Lower end of the 95 % band.
    fn low(&self, index: usize) -> f64 {
        let held = self.held(index);
        (self.sign * held.low95_kg).min(self.sign * held.high95_kg)
    }

    /// Upper end of the 95 % band.
    fn high(&self, index: usize) -> f64 {
        let held = self.held(index);
        (self.sign * held.low95_kg).max(self.sign * held.high95_kg)
    }

    fn is_clearly_negative(&self, index: usize) -> bool {
        let held = self.held(index);
        (self.sign * held.joint_low_kg).max(self.sign * held.joint_high_kg) < 0.0
    }

    /// Crossing between a point inside a reversal and its neighbour outside.
    fn crossing(&self, inside: usize, outside: usize) -> ZeroCrossing {
        let value = self.zero_between(inside, outside, Self::mean);
        let outer = self.zero_from(inside, outside, Self::low);
        let inner = self.zero_from(outside, inside, Self::high);
        ZeroCrossing { value, low: outer.min(inner), high: outer.max(inner) }
    }

    /// First zero of a curve on the way from `start` in the direction of its neighbour `next`; the end of the profile
    /// if there is none.
    fn zero_from(&self, start: usize, next: usize, curve: fn(&Self, usize) -> f64) -> f64 {
        let step = if next > start { 1 } else { -1 };
        let mut index = start;
        loop {
            let next = index.wrapping_add_signed(step);
            if next >= self.line.len() {
                return self.line[index].value;
            }
            if (curve(self, index) < 0.0) != (curve(self, next) < 0.0) {
                return self.zero_between(index, next, curve);
            }
            index = next;
        }
    }

    /// Zero of the straight line between two points of a curve, of which exactly one is negative.
    fn zero_between(&self, a: usize, b: usize, curve: fn(&Self, usize) -> f64) -> f64 {
        let (from, to) = (curve(self, a), curve(self, b));
        let share = (from / (from - to)).clamp(0.0, 1.0);
        self.line[a].value + share * (self.line[b].value - self.line[a].value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(means_kg: &[f64]) -> Vec<ProfilePoint> {
        let point = |(index, &mean_kg): (usize, &f64)| ProfilePoint {
            value: index as f64,
            quantile: 0.1 * index as f64,
            held: HeldMean {
                mean_kg,
                low95_kg: mean_kg - 1.0,
                high95_kg: mean_kg + 1.0,
                joint_low_kg: mean_kg - 1.5,
                joint_high_kg: mean_kg + 1.5,
            },
        };
        means_kg.iter().enumerate().map(point).collect()
    }

    #[test]
    fn the_other_plan_wins_where_the_line_has_the_other_sign() {
        assert!(reversals(&line(&[3.0, 2.0, 4.0]), 3.0).is_empty());
        let below = reversals(&line(&[-4.0, -2.0, 2.0, 4.0]), 1.0);
        assert_eq!(below.len(), 1);
        assert!(below[0].from.is_none() && below[0].is_clear);
        let crossing = below[0].to.expect("it ends");
        assert!((crossing.value - 1.5).abs() < 1e-12);
        // The band of one kilogram on each side crosses a quarter of a step earlier and later.
        assert!((crossing.low - 1.25).abs() < 1e-12 && (crossing.high - 1.75).abs() < 1e-12);
        // Seen from the other plan, the upper part is the reversal, with the same crossing.
        let above = reversals(&line(&[-4.0, -2.0, 2.0, 4.0]), -1.0);
        assert!(above[0].to.is_none());
        assert_eq!(above[0].from, below[0].to);
        let middle = reversals(&line(&[2.0, -1.2, 2.0]), 1.0);
        assert!(middle[0].from.is_some() && middle[0].to.is_some() && !middle[0].is_clear);
    }
}
