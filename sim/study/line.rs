//! The paired difference along one unknown, and where along it the other plan would win.

use serde::Serialize;

use crate::stats::{Summary, mean_interval};

/// The paired difference with one unknown held at a value, everything else as drawn.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LinePoint {
    /// The value held, in the unknown's unit.
    pub value: f64,
    /// Share of what is held likely that lies below the value.
    pub quantile: f64,
    /// Mean difference [kg].
    pub mean_kg: f64,
    /// Lower end of its 95 % interval [kg].
    pub low95_kg: f64,
    /// Upper end [kg].
    pub high95_kg: f64,
    /// Lower end of the interval that holds at all points of all lines at once, in 95 of 100 runs [kg].
    pub sure_low_kg: f64,
    /// Upper end [kg].
    pub sure_high_kg: f64,
}

/// The verdict from which a line starts.
pub(super) struct Verdict {
    /// Days it rests on.
    pub(super) days: u32,
    /// Mean difference [kg].
    pub(super) mean_kg: f64,
    /// Its standard error [kg].
    pub(super) se_kg: f64,
}

impl LinePoint {
    /// A point from the differences of its days and of the same days with nothing held [kg]; `looks` is how many points
    /// are looked at in all.
    ///
    /// The verdict on all its days plus the mean change on these, which are some of them: what these days are like
    /// falls out. Var = s²/N + s_c²/n + 2 cov/N.
    pub(super) fn of(
        (value, quantile): (f64, f64),
        held_kg: &[f64],
        plain_kg: &[f64],
        verdict: &Verdict,
        looks: usize,
    ) -> Option<Self> {
        let (mut change, mut plain) = (Summary::default(), Summary::default());
        for (held, as_drawn) in held_kg.iter().zip(plain_kg) {
            change.add(held - as_drawn);
            plain.add(*as_drawn);
        }
        let (change_kg, plain_mean_kg, n) = (change.mean()?, plain.mean()?, change.n());
        let products = held_kg
            .iter()
            .zip(plain_kg)
            .map(|(held, as_drawn)| (held - as_drawn - change_kg) * (as_drawn - plain_mean_kg));
        let together = products.sum::<f64>() / (n as f64 - 1.0);
        let variance =
            verdict.se_kg.powi(2) + change.se()?.powi(2) + 2.0 * together / f64::from(verdict.days);
        let (mean, se) = (verdict.mean_kg + change_kg, variance.max(0.0).sqrt());
        let usual = mean_interval(mean, se, n, 0.95)?;
        // Bonferroni: as many chances to be wrong as there are points.
        let sure = mean_interval(mean, se, n, 1.0 - 0.05 / looks.max(1) as f64)?;
        Some(Self {
            value,
            quantile,
            mean_kg: mean,
            low95_kg: usual.low,
            high95_kg: usual.high,
            sure_low_kg: sure.low,
            sure_high_kg: sure.high,
        })
    }
}

/// Where the line crosses nought.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Crossing {
    /// Where the mean crosses.
    pub value: f64,
    /// Where the 95 % band first holds nought; the end of the line where it does so throughout.
    pub low: f64,
    /// Where it last does.
    pub high: f64,
}

/// A stretch of the line on which the other plan is ahead in the mean.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Flip {
    /// Where it begins; none where it reaches the lower end of what is held likely.
    pub above: Option<Crossing>,
    /// Where it ends; none where it reaches the upper end.
    pub below: Option<Crossing>,
    /// Whether noise is ruled out somewhere on it.
    pub is_sure: bool,
}

/// Stretches of a line, in order of value, on which the sign is the other than that of `verdict_kg`.
#[must_use]
pub fn flips(line: &[LinePoint], verdict_kg: f64) -> Vec<Flip> {
    let sign = if verdict_kg < 0.0 { -1.0 } else { 1.0 };
    let mean = |at: usize| sign * line[at].mean_kg;
    let band = |at: usize| {
        let (low, high) = (sign * line[at].low95_kg, sign * line[at].high95_kg);
        (low.min(high), low.max(high))
    };
    let mut found = Vec::new();
    let mut at = 0;
    while at < line.len() {
        if mean(at) >= 0.0 {
            at += 1;
            continue;
        }
        let from = at;
        while at < line.len() && mean(at) < 0.0 {
            at += 1;
        }
        let until = at - 1;
        let is_sure = (from..=until).any(|at| {
            let point = &line[at];
            (sign * point.sure_low_kg).max(sign * point.sure_high_kg) < 0.0
        });
        // From a crossing the band is followed inwards until it lies below nought, outwards until above.
        let cross = |inside: usize, outside: usize| {
            let value = between(line, inside, outside, mean);
            let outwards = outside > inside;
            let step =
                |at: usize, out: bool| if out == outwards { at + 1 } else { at.wrapping_sub(1) };
            let walk = |start: usize, out: bool, ends: &dyn Fn(usize) -> f64| {
                let mut here = start;
                loop {
                    let next = step(here, out);
                    if next >= line.len() {
                        return line[here].value;
                    }
                    if (ends(here) < 0.0) != (ends(next) < 0.0) {
                        return between(line, here, next, ends);
                    }
                    here = next;
                }
            };
            let outer = walk(inside, true, &|at| band(at).0);
            let inner = walk(outside, false, &|at| band(at).1);
            Crossing { value, low: outer.min(inner), high: outer.max(inner) }
        };
        found.push(Flip {
            above: from.checked_sub(1).map(|before| cross(from, before)),
            below: (until + 1 < line.len()).then(|| cross(until, until + 1)),
            is_sure,
        });
    }
    found
}

/// Where a straight line between two points is nought.
fn between(line: &[LinePoint], one: usize, other: usize, of: impl Fn(usize) -> f64) -> f64 {
    let (from, to) = (of(one), of(other));
    // Called where one end lies below nought and the other does not: they differ.
    let share = (from / (from - to)).clamp(0.0, 1.0);
    line[one].value + share * (line[other].value - line[one].value)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(means_kg: &[f64]) -> Vec<LinePoint> {
        let point = |(at, &mean_kg): (usize, &f64)| LinePoint {
            value: at as f64,
            quantile: 0.1 * at as f64,
            mean_kg,
            low95_kg: mean_kg - 1.0,
            high95_kg: mean_kg + 1.0,
            sure_low_kg: mean_kg - 1.5,
            sure_high_kg: mean_kg + 1.5,
        };
        means_kg.iter().enumerate().map(point).collect()
    }

    #[test]
    fn the_other_plan_wins_where_the_line_has_the_other_sign() {
        assert!(flips(&line(&[3.0, 2.0, 4.0]), 3.0).is_empty());
        let below = flips(&line(&[-4.0, -2.0, 2.0, 4.0]), 1.0);
        assert_eq!(below.len(), 1);
        assert!(below[0].above.is_none() && below[0].is_sure);
        let crossing = below[0].below.expect("it ends");
        assert!((crossing.value - 1.5).abs() < 1e-12);
        // The band of one kilogram to either side crosses a quarter of a step earlier and later.
        assert!((crossing.low - 1.25).abs() < 1e-12 && (crossing.high - 1.75).abs() < 1e-12);
        // Seen from the other plan it is the upper part that flips, at the same place.
        let above = flips(&line(&[-4.0, -2.0, 2.0, 4.0]), -1.0);
        assert!(above[0].below.is_none());
        assert_eq!(above[0].above, below[0].below);
        let middle = flips(&line(&[2.0, -1.2, 2.0]), 1.0);
        assert!(middle[0].above.is_some() && middle[0].below.is_some() && !middle[0].is_sure);
    }
}
