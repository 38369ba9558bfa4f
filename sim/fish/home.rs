//! Where a home range lies during a session.

use crate::engine::Time;
use crate::water::Point;

/// Centre of a home range during a session: where it is at the start, and where it is after each move.
///
/// ```
/// use sim::engine::Time;
/// use sim::fish::HomeCourse;
/// use sim::water::Point;
/// let (bay, island) = (Point { x_m: -9.0, y_m: 6.0 }, Point { x_m: 4.0, y_m: 30.0 });
/// let home = HomeCourse::new(bay, vec![(Time::from_seconds(3600.0), island)]);
/// assert_eq!(home.at(Time::from_seconds(3599.0)), bay);
/// assert_eq!(home.at(Time::from_seconds(3600.0)), island);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct HomeCourse {
    start: Point,
    /// In the order of time.
    moves: Vec<(Time, Point)>,
}

impl HomeCourse {
    /// The course of a home range that starts at `start` and has moved to each place from its time on.
    #[must_use]
    pub fn new(start: Point, mut moves: Vec<(Time, Point)>) -> Self {
        moves.sort_by_key(|&(time, _)| time);
        Self { start, moves }
    }

    /// Its centre at a time.
    #[inline]
    #[must_use]
    pub fn at(&self, now: Time) -> Point {
        self.moves.iter().rev().find(|(time, _)| *time <= now).map_or(self.start, |&(_, to)| to)
    }
}
