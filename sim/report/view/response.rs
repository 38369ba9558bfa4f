//! The response curve: one plan's weight along the values of one key.

use super::axis::axis;
use crate::report::format::{one_line, readable_values};
use crate::stats::Interval;
use crate::study::SweepResult;

/// One plan's weight at one value.
#[derive(Clone, Debug, PartialEq)]
pub struct ResponsePoint {
    /// The value as the user writes it, `2 min`.
    pub label: String,
    /// The value in the unit of the axis.
    pub value: f64,
    /// Mean weight [kg].
    pub mean_kg: f64,
    /// 95 % interval of the mean [kg]; `None` for a single day.
    pub interval_kg: Option<Interval>,
    /// 10th percentile over days [kg].
    pub p10_kg: f64,
    /// 90th percentile over days [kg].
    pub p90_kg: f64,
    /// Whether it may be within 2 % of the best, given the uncertainty of the means.
    pub is_near_best: bool,
}

impl ResponsePoint {
    /// The mean or the upper end of its interval, whichever is higher [kg].
    pub(crate) fn top_of_mean_kg(&self) -> f64 {
        self.interval_kg.map_or(self.mean_kg, |interval| interval.high.max(self.mean_kg))
    }
}

/// One plan's weight along the values of one key.
#[derive(Clone, Debug, PartialEq)]
pub struct ResponseCurve {
    /// Name of the plan.
    pub plan: String,
    /// The dotted key that was varied.
    pub key: String,
    /// Points, in any order.
    pub points: Vec<ResponsePoint>,
    /// Caption of the axis with its unit: `recast interval [min]`.
    pub axis: String,
    /// Whether the axis is logarithmic; a linear one is drawn all the same if a value is zero or below.
    pub is_logarithmic: bool,
}

/// A mean of at least this share of the best counts as near the best.
pub(crate) const NEAR_BEST: f64 = 0.98;

impl ResponseCurve {
    /// Points with finite value and mean, by value.
    pub(crate) fn sorted(&self) -> Vec<&ResponsePoint> {
        let is_finite =
            |point: &&ResponsePoint| point.value.is_finite() && point.mean_kg.is_finite();
        let mut points: Vec<_> = self.points.iter().filter(is_finite).collect();
        points.sort_by(|a, b| a.value.total_cmp(&b.value));
        points
    }

    /// Whether all means are the same.
    pub(crate) fn is_flat(&self) -> bool {
        let points = self.sorted();
        let same = |two: &[&ResponsePoint]| two[0].mean_kg.total_cmp(&two[1].mean_kg).is_eq();
        points.len() > 1 && points.windows(2).all(same)
    }

    /// Explains why a curve has no best point.
    pub(crate) fn without_best(&self) -> &'static str {
        let points = self.sorted();
        match points.as_slice() {
            [] => "No value was fished.",
            points if points.iter().all(|point| point.mean_kg <= 0.0) => {
                "Nothing was caught at any value."
            }
            _ if self.is_flat() => "This value makes no difference to this plan.",
            _ => "",
        }
    }

    /// The values of the points as shown, by value.
    pub(crate) fn labels(&self) -> Vec<String> {
        let written: Vec<_> = self.sorted().iter().map(|point| point.label.as_str()).collect();
        readable_values(&written)
    }

    /// A key or caption without its plan: `recast` for `plan.two-minutes.recast`.
    pub(crate) fn without_plan(&self, words: &str) -> String {
        let prefix = format!("plan.{}.", self.plan);
        one_line(words.strip_prefix(prefix.as_str()).unwrap_or(words))
    }

    /// The point with the highest mean, the first of equals.
    ///
    /// `None` if all means are the same or nothing was caught.
    pub(crate) fn best(&self) -> Option<&ResponsePoint> {
        self.sorted()
            .into_iter()
            .filter(|point| point.mean_kg > 0.0 && !self.is_flat())
            .reduce(|best, point| if point.mean_kg > best.mean_kg { point } else { best })
    }
}

pub(crate) fn plan_names(swept: &SweepResult) -> Vec<String> {
    let plans = swept.settings.first().map_or(&[][..], |setting| &setting.plans);
    plans.iter().map(|plan| plan.name.clone()).collect()
}

/// The response curve of each plan of a sweep over one key.
pub(crate) fn response_curves(swept: &SweepResult) -> Vec<ResponseCurve> {
    let settings: Vec<&[String]> =
        swept.settings.iter().map(|setting| setting.values.as_slice()).collect();
    let axis = axis(&swept.keys, &settings);
    let curve = |(plan, name): (usize, String)| ResponseCurve {
        plan: name,
        key: swept.keys.join(", "),
        points: swept
            .settings
            .iter()
            .zip(&axis.values)
            .map(|(setting, &value)| {
                let (kg, near_best) =
                    (setting.plans[plan].weight_kg, setting.plans[plan].near_best);
                ResponsePoint {
                    label: setting.values.join(", "),
                    value,
                    mean_kg: kg.mean.value,
                    interval_kg: kg.mean.interval,
                    p10_kg: kg.p10,
                    p90_kg: kg.p90,
                    is_near_best: near_best,
                }
            })
            .collect(),
        axis: axis.caption.clone(),
        is_logarithmic: axis.is_logarithmic,
    };
    plan_names(swept).into_iter().enumerate().map(curve).collect()
}
