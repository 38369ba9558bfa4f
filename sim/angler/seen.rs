//! What an angler has perceived so far, and nothing that only the water knows.

/// What was perceived; all moments from the start of the session [s], in order of time.
#[derive(Clone, Debug, PartialEq)]
pub struct Seen {
    /// Length of the session [s].
    pub session_s: f64,
    /// The line being fished, or being turned to; none while the plan has the rod out of the water.
    pub line: Option<usize>,
    /// Since when that line.
    pub line_since_s: f64,
    /// Weight in the net, as the angler guesses it fish by fish [kg].
    pub guessed_kg: f64,
    /// When each line was last given up; the start for lines not fished yet.
    pub left_s: Vec<f64>,
    bites_s: Vec<f64>,
    line_bites_s: Vec<f64>,
    /// Shows at the surface, with the line over which.
    shows_s: Vec<(usize, f64)>,
}

impl Seen {
    /// Before the session begins.
    #[must_use]
    pub fn nothing(session_s: f64, lines: usize) -> Self {
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

    /// Another line is taken up, or none; the same one again is no change.
    pub fn takes_up(&mut self, line: Option<usize>, now_s: f64) {
        if self.line == line {
            return;
        }
        if let Some(left) = self.line {
            self.left_s[left] = now_s;
        }
        self.line = line;
        self.line_since_s = now_s;
        self.bites_s.clear();
        self.line_bites_s.clear();
    }

    /// A hookbait is taken, whether or not the fish is hooked.
    pub fn bite(&mut self, now_s: f64) {
        self.bites_s.push(now_s);
    }

    /// The rod tip twitches, and it is no bite.
    pub fn line_bite(&mut self, now_s: f64) {
        self.line_bites_s.push(now_s);
    }

    /// A fish shows at the surface over a line.
    pub fn show(&mut self, line: usize, now_s: f64) {
        self.shows_s.push((line, now_s));
    }

    /// A fish of about this weight goes into the net [kg].
    pub fn netted(&mut self, guessed_kg: f64) {
        self.guessed_kg += guessed_kg;
    }

    /// Bites on the present line.
    pub fn bites_s(&self) -> impl DoubleEndedIterator<Item = f64> {
        self.bites_s.iter().copied()
    }

    /// Line bites on the present line.
    pub fn line_bites_s(&self) -> impl DoubleEndedIterator<Item = f64> {
        self.line_bites_s.iter().copied()
    }

    /// Shows over one line, or over any.
    pub fn shows_s(&self, over: Option<usize>) -> impl DoubleEndedIterator<Item = f64> {
        let there = move |line: usize| over.is_none_or(|over| over == line);
        self.shows_s.iter().filter(move |(line, _)| there(*line)).map(|(_, at_s)| *at_s)
    }

    /// Since when the present line has been without a bite.
    #[must_use]
    pub fn quiet_since_s(&self) -> f64 {
        self.bites_s.last().copied().unwrap_or(self.line_since_s)
    }
}
