//! What the angler has perceived so far; nothing that cannot be seen from the bank.

use crate::water::{Course, LineId};

/// A bite: a fish took the hookbait.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Bite {
    at_s: f64,
    is_hooked: bool,
}

/// What the angler has perceived; all times are from the start of the session [s], in order.
#[derive(Clone, Debug, PartialEq)]
pub struct Perceived {
    /// Length of the session [s].
    pub session_s: f64,
    /// The line that is fished or turned to; `None` while the plan keeps the rod out of the water.
    pub line: Option<LineId>,
    /// Since when that line is fished [s].
    pub line_since_s: f64,
    /// Weight in the net, by the guesses of the angler for each fish [kg].
    pub guessed_kg: f64,
    /// When each line was last left [s]; the start for lines that were not fished.
    pub left_s: Vec<f64>,
    /// The day's wind, by the time since the start [m/s].
    pub wind_m_s: Course,
    bites: Vec<Bite>,
    line_bites_s: Vec<f64>,
    lost_s: Vec<f64>,
    landed_s: Vec<f64>,
    /// Guessed weights of the fish landed [kg].
    landed_kg: Vec<f64>,
    foul_hooked_s: Vec<f64>,
    /// Shows at the surface, each with its line.
    shows_s: Vec<(LineId, f64)>,
}

impl Perceived {
    /// Nothing perceived yet.
    #[must_use]
    pub fn new(session_s: f64, lines: usize) -> Self {
        Self {
            session_s,
            line: None,
            line_since_s: 0.0,
            guessed_kg: 0.0,
            left_s: vec![0.0; lines],
            wind_m_s: Course::constant(0.0),
            bites: Vec::new(),
            line_bites_s: Vec::new(),
            lost_s: Vec::new(),
            landed_s: Vec::new(),
            landed_kg: Vec::new(),
            foul_hooked_s: Vec::new(),
            shows_s: Vec::new(),
        }
    }

    /// Turns to another line, or to none; the same line again changes nothing.
    pub fn turn_to_line(&mut self, line: Option<LineId>, now_s: f64) {
        if self.line == line {
            return;
        }
        if let Some(left) = self.line {
            self.left_s[left.0] = now_s;
        }
        self.line = line;
        self.line_since_s = now_s;
        self.bites.clear();
        self.line_bites_s.clear();
        self.lost_s.clear();
        self.landed_s.clear();
        self.landed_kg.clear();
        self.foul_hooked_s.clear();
    }

    /// Adds a bite: a fish took the hookbait. It is a missed one unless [`Perceived::add_hooked`] follows.
    pub fn add_bite(&mut self, now_s: f64) {
        self.bites.push(Bite { at_s: now_s, is_hooked: false });
    }

    /// The last bite hooked its fish.
    pub fn add_hooked(&mut self) {
        if let Some(bite) = self.bites.last_mut() {
            bite.is_hooked = true;
        }
    }

    /// Adds a hooked fish that came off, on the line where it was hooked.
    pub fn add_lost(&mut self, line: LineId, now_s: f64) {
        if self.line == Some(line) {
            self.lost_s.push(now_s);
        }
    }

    /// Adds a fish that turns out to be hooked outside the mouth when it is landed.
    pub fn add_foul_hooked(&mut self, line: LineId, now_s: f64) {
        if self.line == Some(line) {
            self.foul_hooked_s.push(now_s);
        }
    }

    /// Adds a line bite: the rod tip moves, but no fish took the hookbait.
    pub fn add_line_bite(&mut self, now_s: f64) {
        self.line_bites_s.push(now_s);
    }

    /// Adds a fish that shows at the surface over a line.
    pub fn add_show(&mut self, line: LineId, now_s: f64) {
        self.shows_s.push((line, now_s));
    }

    /// Adds a fish in the net that counts, of a guessed weight [kg], from the line where it was hooked.
    pub fn add_netted(&mut self, line: LineId, now_s: f64, guessed_kg: f64) {
        self.guessed_kg += guessed_kg;
        if self.line == Some(line) {
            self.landed_s.push(now_s);
            self.landed_kg.push(guessed_kg);
        }
    }

    /// Times of bites on the current line [s].
    pub fn bites_s(&self) -> impl DoubleEndedIterator<Item = f64> {
        self.bites.iter().map(|bite| bite.at_s)
    }

    /// Times of bites on the current line that did not hook a fish [s].
    pub fn missed_s(&self) -> impl DoubleEndedIterator<Item = f64> {
        self.bites.iter().filter(|bite| !bite.is_hooked).map(|bite| bite.at_s)
    }

    /// Number of the latest bites on the current line that were missed one after another.
    #[must_use]
    pub fn missed_in_a_row(&self) -> usize {
        self.bites.iter().rev().take_while(|bite| !bite.is_hooked).count()
    }

    /// Times at which fish hooked on the current line were lost [s].
    #[must_use]
    pub fn lost_s(&self) -> &[f64] {
        &self.lost_s
    }

    /// Times at which fish that count were landed on the current line [s].
    #[must_use]
    pub fn landed_s(&self) -> &[f64] {
        &self.landed_s
    }

    /// Times at which foul-hooked fish were landed on the current line [s].
    #[must_use]
    pub fn foul_hooked_s(&self) -> &[f64] {
        &self.foul_hooked_s
    }

    /// Mean guessed weight of the last `count` fish landed on the current line [kg]; `None` for fewer fish, or for
    /// none.
    #[must_use]
    pub fn mean_of_last_kg(&self, count: usize) -> Option<f64> {
        let first = self.landed_kg.len().checked_sub(count)?;
        (count > 0).then(|| self.landed_kg[first..].iter().sum::<f64>() / count as f64)
    }

    /// Times of line bites on the current line [s].
    pub fn line_bites_s(&self) -> impl DoubleEndedIterator<Item = f64> {
        self.line_bites_s.iter().copied()
    }

    /// Times of shows over one line [s]; over any line for `None`.
    pub fn shows_s(&self, over: Option<LineId>) -> impl DoubleEndedIterator<Item = f64> {
        let matches = move |line: LineId| over.is_none_or(|over| over == line);
        self.shows_s.iter().filter(move |(line, _)| matches(*line)).map(|(_, at_s)| *at_s)
    }

    /// Since when the current line has been without a bite [s].
    #[must_use]
    pub fn quiet_since_s(&self) -> f64 {
        self.bites.last().map_or(self.line_since_s, |bite| bite.at_s)
    }
}
