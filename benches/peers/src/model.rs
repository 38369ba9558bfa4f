//! The model that all engines run: walkers that look for the stronger of two clouds; `model.py` is the same in Python.

use crate::engine::Dice;

/// Number of walkers.
pub(crate) const WALKERS: usize = 300;
/// Length of a session [s].
pub(crate) const SESSION_S: f64 = 18_000.0;

const WORLD_M: [f64; 2] = [100.0, 60.0];
const SPEED_M_PER_S: f64 = 0.3;
const MEAN_WAIT_S: f64 = 10.0;
const SOURCES_M: [[f64; 2]; 2] = [[30.0, 30.0], [70.0, 20.0]];
const SOURCE_AMOUNT: f64 = 1_000.0;
const FADES_IN_S: f64 = 7_200.0;
const SPREAD_M2_PER_S: f64 = 0.005;
const HALF_NOTICED: f64 = 0.5;

/// What a session counts.
#[derive(Clone, Copy, Default)]
pub(crate) struct Counts {
    /// Decisions made.
    pub(crate) decisions: u64,
    /// Decisions for a source.
    pub(crate) hits: u64,
}

/// One walker, on its way to a waypoint.
pub(crate) struct Walker {
    at_m: [f64; 2],
    waypoint_m: [f64; 2],
    decided_s: f64,
    dice: Dice,
}

impl Walker {
    /// Creates a walker of a session, and its first wait [s].
    pub(crate) fn new(session: u64, number: usize) -> (Self, f64) {
        let mut dice = Dice::from_key(&[session, number as u64]);
        let at_m = anywhere(&mut dice);
        let waypoint_m = anywhere(&mut dice);
        let wait_s = dice.exponential(MEAN_WAIT_S);
        (Self { at_m, waypoint_m, decided_s: 0.0, dice }, wait_s)
    }

    /// Moves on and chooses the next waypoint; whether it is at a source, and the wait until the next decision [s].
    pub(crate) fn decide(&mut self, now_s: f64) -> (bool, f64) {
        self.walk(now_s);
        let amount = SOURCE_AMOUNT * (-now_s / FADES_IN_S).exp();
        let s2 = 1.0 + 2.0 * SPREAD_M2_PER_S * now_s;
        let [first, second] = SOURCES_M.map(|source| {
            let [x, y] = [self.at_m[0] - source[0], self.at_m[1] - source[1]];
            amount / (std::f64::consts::TAU * s2) * (-(x * x + y * y) / (2.0 * s2)).exp()
        });
        let (concentration, source) =
            if first >= second { (first, SOURCES_M[0]) } else { (second, SOURCES_M[1]) };
        let hit = self.dice.uniform() < concentration / (concentration + HALF_NOTICED);
        self.waypoint_m = if hit {
            source.map(|place| self.dice.uniform_between(place - 1.0, place + 1.0))
        } else {
            anywhere(&mut self.dice)
        };
        (hit, self.dice.exponential(MEAN_WAIT_S))
    }

    /// Walks towards the waypoint, at most as far as that.
    fn walk(&mut self, now_s: f64) {
        let [x, y] = [self.waypoint_m[0] - self.at_m[0], self.waypoint_m[1] - self.at_m[1]];
        let left_m = (x * x + y * y).sqrt();
        let walked_m = SPEED_M_PER_S * (now_s - self.decided_s);
        self.decided_s = now_s;
        if walked_m >= left_m {
            self.at_m = self.waypoint_m;
        } else {
            let part = walked_m / left_m;
            self.at_m = [self.at_m[0] + part * x, self.at_m[1] + part * y];
        }
    }
}

fn anywhere(dice: &mut Dice) -> [f64; 2] {
    WORLD_M.map(|length_m| length_m * dice.uniform())
}
