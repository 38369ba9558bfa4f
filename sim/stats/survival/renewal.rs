//! When to give up waiting and start again: renewal–reward on an estimated curve.

use super::censored_time::CompetingTime;
use crate::stats::inference::Interval;

/// Time that does not go into waiting.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CycleCosts {
    /// Cost of every start.
    pub start: f64,
    /// Further cost of an event.
    pub event: f64,
}

/// What starting again at one age gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RenewalPoint {
    /// The age at which a wait is given up.
    pub age: f64,
    /// Share of waits in which the event comes before that age.
    pub share: f64,
    /// Mean wait, each cut off at the age.
    pub mean_wait: f64,
    /// Events per unit of time over many cycles.
    pub rate: f64,
}

/// Events per unit of time against the age at which a wait is given up, from waits of which some are censored.
///
/// R(T) = F(T)/(M(T) + start + event · F(T)), with F the cumulative incidence of the event and M = ∫ S from 0 to T; a
/// wait also ends by any competing event. Between event times R falls, so its peaks are at event times.
///
/// - **Holds for** cycles that do not influence each other.
/// - **Source** renewal–reward theorem; maximum over the Kaplan–Meier curve as in nonparametric age replacement (from
///   memory).
/// - **Checked by** V-312.
#[derive(Clone, Debug, PartialEq)]
pub struct RenewalCurve {
    points: Vec<RenewalPoint>,
}

impl RenewalCurve {
    /// Estimates the curve up to the age `horizon`. `sorted` are waits in ascending order, each counted as often as
    /// `weight` says; cause 0 is the event. `None` if no event comes before the horizon.
    ///
    /// The last point is at the horizon.
    ///
    /// # Panics
    ///
    /// If the waits are not in ascending order.
    pub fn from_sorted(
        sorted: &[CompetingTime],
        weight: impl Fn(usize) -> u32,
        horizon: f64,
        costs: CycleCosts,
    ) -> Option<Self> {
        assert!(sorted.is_sorted_by(|a, b| a.time <= b.time), "waits in ascending order");
        let mut at_risk: f64 = (0..sorted.len()).map(|index| f64::from(weight(index))).sum();
        let (mut survival, mut share, mut area, mut from) = (1.0, 0.0, 0.0, 0.0);
        let mut points = Vec::new();
        let mut index = 0;
        while index < sorted.len() && sorted[index].time <= horizon {
            let time = sorted[index].time;
            let (mut events, mut others, mut ended) = (0.0, 0.0, 0.0);
            while index < sorted.len() && sorted[index].time <= time {
                let weight = f64::from(weight(index));
                ended += weight;
                match sorted[index].cause {
                    Some(0) => events += weight,
                    Some(_) => others += weight,
                    None => {}
                }
                index += 1;
            }
            area += survival * (time - from);
            from = time;
            if events + others > 0.0 {
                share += survival * events / at_risk;
                survival *= 1.0 - (events + others) / at_risk;
            }
            if events > 0.0 {
                points.push(RenewalPoint::new(time, share, area, costs));
            }
            at_risk -= ended;
        }
        points.first()?;
        if from < horizon || points.last().is_none_or(|point| point.age < horizon) {
            area += survival * (horizon - from);
            points.push(RenewalPoint::new(horizon, share, area, costs));
        }
        Some(Self { points })
    }

    /// The curve at each event time, and at the horizon.
    pub fn points(&self) -> &[RenewalPoint] {
        &self.points
    }

    /// The point with the highest rate; the first of equal ones.
    pub fn best(&self) -> RenewalPoint {
        let better = |best: RenewalPoint, point: &RenewalPoint| {
            if point.rate > best.rate { *point } else { best }
        };
        self.points.iter().fold(self.points[0], better)
    }

    /// The point at the horizon.
    pub fn last(&self) -> RenewalPoint {
        self.points[self.points.len() - 1]
    }

    /// The ages around the best one from which on, and up to which, every event time gives at least `share` of the best
    /// rate; where an event time falls short, the stretch ends.
    pub fn near_best(&self, share: f64, costs: CycleCosts) -> Interval {
        let best = self.best();
        let enough = share * best.rate;
        let at = self.points.iter().position(|point| point.age >= best.age).unwrap_or(0);
        let low = self.points[..=at].iter().rev().take_while(|point| point.rate >= enough).last();
        let high = self.points[at..].iter().take_while(|point| point.rate >= enough).last();
        let (low, high) = (low.unwrap_or(&best), high.unwrap_or(&best));
        // After its last event time the rate falls while waits go on; it is enough until then.
        let next = self.points.iter().find(|point| point.age > high.age);
        let end = next.map_or(high.age, |next| high.age + high.falls_to(enough, next, costs));
        Interval { low: low.age, high: end }
    }
}

impl RenewalPoint {
    fn new(age: f64, share: f64, mean_wait: f64, costs: CycleCosts) -> Self {
        let rate = share / (mean_wait + costs.start + costs.event * share);
        Self { age, share, mean_wait, rate }
    }

    /// Time after this point until the rate has fallen to `enough`, at most until just before the `next` point.
    fn falls_to(&self, enough: f64, next: &Self, costs: CycleCosts) -> f64 {
        let span = next.age - self.age;
        // From here to the next point the mean wait grows at a constant pace, nearly the share still waiting.
        let pace = (next.mean_wait - self.mean_wait) / span;
        let wait = self.share / enough - costs.start - costs.event * self.share;
        ((wait - self.mean_wait) / pace).clamp(0.0, span)
    }
}
