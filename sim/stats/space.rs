//! The points there are: a level of each setting.

use std::collections::BTreeSet;

use rand::Rng;

use super::contender::Point;
use super::design::Sobol;

/// One setting with its levels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Axis {
    /// How many levels it has.
    pub levels: usize,
    /// Whether they stand in an order, so that neighbours are alike.
    pub is_ordered: bool,
}

/// Every combination of the levels of some settings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Space {
    axes: Vec<Axis>,
}

impl Space {
    /// The space of some settings.
    ///
    /// # Panics
    ///
    /// If there is none, or one has no level.
    #[must_use]
    pub fn new(axes: Vec<Axis>) -> Self {
        assert!(!axes.is_empty(), "a space has at least one setting");
        assert!(axes.iter().all(|axis| axis.levels > 0), "a setting has at least one level");
        Self { axes }
    }

    /// The settings, in order.
    #[must_use]
    pub fn axes(&self) -> &[Axis] {
        &self.axes
    }

    /// How many points there are.
    #[must_use]
    pub fn size(&self) -> u64 {
        self.axes.iter().fold(1, |size, axis| size.saturating_mul(axis.levels as u64))
    }

    /// Every point, the last setting going through its levels first.
    #[must_use]
    pub fn all(&self) -> Vec<Point> {
        self.axes.iter().fold(vec![Vec::new()], |points, axis| {
            let extended = |point: &Point| {
                let point = point.clone();
                (0..axis.levels).map(move |level| [point.as_slice(), &[level]].concat())
            };
            points.iter().flat_map(extended).collect()
        })
    }

    /// Up to `count` different points that fill the space evenly.
    #[must_use]
    pub fn fill(&self, count: u32, chance: &mut impl Rng) -> Vec<Point> {
        let level = |axis: &Axis, _: usize, x: f64| (x * axis.levels as f64) as usize;
        self.spread(count, chance, &[], level)
    }

    /// Up to `count` different points that fill a box round a centre evenly; the centre comes first.
    ///
    /// The box takes `share` of the levels of each ordered setting, three at least; a setting without order
    /// keeps the centre's level but for this share of the points.
    #[must_use]
    pub fn fill_round(
        &self,
        centre: &[usize],
        share: f64,
        count: u32,
        chance: &mut impl Rng,
    ) -> Vec<Point> {
        let level = |axis: &Axis, at: usize, x: f64| {
            let levels = axis.levels as f64;
            if !axis.is_ordered {
                return if x < share { (x / share * levels) as usize } else { at };
            }
            let width = share.max(3.0 / levels).min(1.0);
            let middle = (at as f64 + 0.5) / levels;
            let low = (middle - 0.5 * width).clamp(0.0, 1.0 - width);
            ((low + width * x) * levels) as usize
        };
        let levels = |axis: &Axis, setting: usize, x: f64| level(axis, centre[setting], x);
        self.spread(count, chance, &[centre], levels)
    }

    /// Different points from scrambled Sobol' points, behind some that come first.
    fn spread(
        &self,
        count: u32,
        chance: &mut impl Rng,
        first: &[&[usize]],
        level: impl Fn(&Axis, usize, f64) -> usize,
    ) -> Vec<Point> {
        let sequence = Sobol::scrambled(self.axes.len(), chance);
        let mut points: Vec<Point> = first.iter().map(|point| point.to_vec()).collect();
        let mut known: BTreeSet<Point> = points.iter().cloned().collect();
        // Few levels give the same point again and again: four times the number are looked at.
        for number in 0..4 * count {
            if points.len() >= count as usize {
                break;
            }
            let place = sequence.point(number);
            let point: Point = (self.axes.iter().enumerate().zip(place))
                .map(|((setting, axis), x)| level(axis, setting, x).min(axis.levels - 1))
                .collect();
            if known.insert(point.clone()) {
                points.push(point);
            }
        }
        points
    }
}
