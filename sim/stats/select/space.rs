//! Search spaces: every combination of the levels of some settings.

use std::collections::BTreeSet;

use rand::Rng;

use super::candidate::GridPoint;
use crate::stats::design::Sobol;

/// One setting of a search space.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct GridAxis {
    /// Number of levels.
    pub levels: usize,
    /// Whether the levels have an order, so that neighbours are similar.
    pub is_ordered: bool,
}

/// A search space: every combination of the levels of some settings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SearchSpace {
    axes: Vec<GridAxis>,
}

impl SearchSpace {
    /// From its settings.
    ///
    /// # Panics
    ///
    /// If there are no settings, or a setting has no levels.
    pub fn new(axes: Vec<GridAxis>) -> Self {
        assert!(!axes.is_empty(), "a space has at least one setting");
        assert!(axes.iter().all(|axis| axis.levels > 0), "a setting has at least one level");
        Self { axes }
    }

    /// The settings, in order.
    pub fn axes(&self) -> &[GridAxis] {
        &self.axes
    }

    /// Number of points.
    pub fn size(&self) -> u64 {
        self.axes.iter().fold(1, |size, axis| size.saturating_mul(axis.levels as u64))
    }

    /// Every point. The last setting varies fastest.
    pub fn points(&self) -> Vec<GridPoint> {
        self.axes.iter().fold(vec![Vec::new()], |points, axis| {
            let extended = |point: &GridPoint| {
                let point = point.clone();
                (0..axis.levels).map(move |level| [point.as_slice(), &[level]].concat())
            };
            points.iter().flat_map(extended).collect()
        })
    }

    /// Up to `count` different points that fill the space evenly.
    pub fn fill(&self, count: u32, rng: &mut impl Rng) -> Vec<GridPoint> {
        let level = |axis: &GridAxis, _: usize, x: f64| (x * axis.levels as f64) as usize;
        self.sampled(count, rng, &[], level)
    }

    /// Up to `count` different points that fill a box around a centre evenly. The centre comes first.
    ///
    /// The box spans the fraction `share` of the levels of each ordered setting, but three levels or more. A setting
    /// without order keeps the centre's level, except in a fraction `share` of the points.
    pub fn fill_around(
        &self,
        centre: &[usize],
        share: f64,
        count: u32,
        rng: &mut impl Rng,
    ) -> Vec<GridPoint> {
        let level = |axis: &GridAxis, centre: usize, x: f64| {
            let levels = axis.levels as f64;
            if !axis.is_ordered {
                return if x < share { (x / share * levels) as usize } else { centre };
            }
            let width = share.max(3.0 / levels).min(1.0);
            let middle = (centre as f64 + 0.5) / levels;
            let low = (middle - 0.5 * width).clamp(0.0, 1.0 - width);
            ((low + width * x) * levels) as usize
        };
        let levels = |axis: &GridAxis, setting: usize, x: f64| level(axis, centre[setting], x);
        self.sampled(count, rng, &[centre], levels)
    }

    /// Different points from a scrambled Sobol' sequence, after those in `first`.
    ///
    /// `level` turns a setting, its index and a coordinate within 0 to 1 into a level.
    fn sampled(
        &self,
        count: u32,
        rng: &mut impl Rng,
        first: &[&[usize]],
        level: impl Fn(&GridAxis, usize, f64) -> usize,
    ) -> Vec<GridPoint> {
        let sequence = Sobol::scrambled(self.axes.len(), rng);
        let mut points: Vec<GridPoint> = first.iter().map(|point| point.to_vec()).collect();
        let mut known: BTreeSet<GridPoint> = points.iter().cloned().collect();
        // With few levels, points repeat: up to four times the number are drawn.
        for index in 0..4 * count {
            if points.len() >= count as usize {
                break;
            }
            let coordinates = sequence.point(index);
            let point: GridPoint = (self.axes.iter().enumerate().zip(coordinates))
                .map(|((setting, axis), x)| level(axis, setting, x).min(axis.levels - 1))
                .collect();
            if known.insert(point.clone()) {
                points.push(point);
            }
        }
        points
    }
}
