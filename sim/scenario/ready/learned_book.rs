//! A learned book: what a catch log says of the unknowns, as draws that are equally likely.

/// What an unknown changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum UnknownTarget {
    /// A row of the books, by its place among the rows of all books.
    Row(usize),
    /// The number of fish of a shoal, which it multiplies, by the place of the shoal.
    StockFactor(usize),
}

/// Draws of unknowns that are equally likely, each row with a value for every unknown.
#[derive(Clone, Debug, PartialEq)]
pub struct LearnedBook {
    /// SHA-256 of the file in hexadecimal; empty for draws that come from no file.
    pub sha256: String,
    /// Text of the file, by which a store or a script keeps the book; empty for draws that come from no file.
    pub text: String,
    /// What each value of a row is.
    pub targets: Vec<UnknownTarget>,
    /// The draws; at least one.
    pub draws: Vec<Vec<f64>>,
}

impl LearnedBook {
    /// One row of draws, by a uniform number of at least zero and less than one.
    #[must_use]
    pub fn draw(&self, u: f64) -> &[f64] {
        let last = self.draws.len().saturating_sub(1);
        let row = ((u * self.draws.len() as f64) as usize).min(last);
        self.draws.get(row).map_or(&[], Vec::as_slice)
    }

    /// All drawn values of an unknown, in ascending order. `None` if the book does not have it.
    #[must_use]
    pub fn sorted_values(&self, target: UnknownTarget) -> Option<Vec<f64>> {
        let at = self.targets.iter().position(|known| *known == target)?;
        let mut values: Vec<f64> = self.draws.iter().map(|row| row[at]).collect();
        values.sort_by(f64::total_cmp);
        Some(values)
    }

    /// The same unknowns at the median of each, on every day.
    #[must_use]
    pub fn fixed_at_medians(&self) -> Self {
        let medians = self.targets.iter().filter_map(|target| {
            let values = self.sorted_values(*target)?;
            values.get(values.len() / 2).copied()
        });
        Self { draws: vec![medians.collect()], ..self.clone() }
    }
}
