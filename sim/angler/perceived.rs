//! What the angler has perceived so far; nothing that cannot be seen from the bank.

use crate::water::LineId;

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
    bites_s: Vec<f64>,
    line_bites_s: Vec<f64>,
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
            bites_s: Vec::new(),
            line_bites_s: Vec::new(),
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
        self.bites_s.clear();
        self.line_bites_s.clear();
    }

    /// Adds a bite: a fish took the hookbait, hooked or not.
    pub fn add_bite(&mut self, now_s: f64) {
        self.bites_s.push(now_s);
    }

    /// Adds a line bite: the rod tip moves, but no fish took the hookbait.
    pub fn add_line_bite(&mut self, now_s: f64) {
        self.line_bites_s.push(now_s);
    }

    /// Adds a fish that shows at the surface over a line.
    pub fn add_show(&mut self, line: LineId, now_s: f64) {
        self.shows_s.push((line, now_s));
    }

    /// Adds a fish in the net, of a guessed weight [kg].
    pub fn add_netted(&mut self, guessed_kg: f64) {
        self.guessed_kg += guessed_kg;
    }

    /// Times of bites on the current line [s].
    pub fn bites_s(&self) -> impl DoubleEndedIterator<Item = f64> {
        self.bites_s.iter().copied()
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
        self.bites_s.last().copied().unwrap_or(self.line_since_s)
    }
}
