//! The unknowns of a scenario: what nobody has measured, and a catch log may tell of.

use sha2::{Digest, Sha256};

use super::learned_book::{LearnedBook, UnknownTarget};
use super::scenario::Scenario;
use crate::params::{Grade, Parameter, Prior};
use crate::scenario::schema::{FullKey, shoal};

/// Lowest and highest factor by which a shoal's number of fish may be misjudged.
const STOCK_FACTOR_RANGE: [f64; 2] = [0.4, 2.5];

/// Something that nobody has measured and that a catch log may tell of.
#[derive(Clone, Debug, PartialEq)]
pub struct Unknown {
    /// Its dotted key; `shoal.NAME.count` stands for the factor by which the scenario misjudges the number of fish.
    pub key: String,
    /// Meaning, unit, range and prior.
    pub parameter: Parameter,
    /// The part of the scenario that the unknown changes.
    pub target: UnknownTarget,
}

impl Scenario {
    /// Everything that nobody has measured: the assumed rows of the books that differ from day to day, and the number of
    /// fish of each shoal.
    #[must_use]
    pub fn unknowns(&self) -> Vec<Unknown> {
        let mut unknowns = self.unknowns_with_fixed();
        unknowns.retain(|unknown| unknown.parameter.prior != Prior::Fixed);
        unknowns
    }

    /// As [`Scenario::unknowns`], with the rows that are fixed here.
    pub(in crate::scenario) fn unknowns_with_fixed(&self) -> Vec<Unknown> {
        let named = self.books.all().into_iter().flat_map(|book| {
            book.rows().iter().map(|row| (format!("book.{}.{}", book.name, row.key), row))
        });
        let rows = named.enumerate().filter(|(_, (_, row))| row.grade == Grade::Assumed);
        let rows = rows.map(|(place, (key, row))| Unknown {
            key,
            parameter: row.clone(),
            target: UnknownTarget::Row(place),
        });
        let shoals = self.shoals.iter().enumerate().map(|(place, shoal)| Unknown {
            key: shoal::COUNT.at(&[&shoal.name]).dotted().to_owned(),
            parameter: stock_factor(&shoal.name),
            target: UnknownTarget::StockFactor(place),
        });
        rows.chain(shoals).collect()
    }

    /// Whether a row of the books, by its place among the rows of all books, is the same every day.
    #[must_use]
    pub fn is_fixed_row(&self, place: usize) -> bool {
        let mut rows = self.books.all().into_iter().flat_map(|book| book.rows());
        rows.nth(place).is_none_or(|row| row.prior == Prior::Fixed)
    }

    /// Lays a learned book over the built-in ones: every day takes one of its draws. Rows that are fixed, as with
    /// `--set`, stay as they are.
    pub fn lay_over(&mut self, book: LearnedBook) {
        // Results with a book are not results of the scenario as it was written.
        let mut hash = Sha256::new();
        hash.update(self.sha256.as_bytes());
        hash.update(b"\n--book ");
        hash.update(book.sha256.as_bytes());
        self.sha256 = hash.finalize().iter().map(|byte| format!("{byte:02x}")).collect();
        self.learned = Some(if self.fixed_days { book.fixed_at_medians() } else { book });
    }
}

/// The factor by which a scenario misjudges the number of fish of a shoal.
fn stock_factor(shoal: &str) -> Parameter {
    Parameter {
        key: "count".to_owned(),
        meaning: format!("{shoal}: number of fish, over what the scenario says"),
        unit: String::new(),
        value: 1.0,
        range: STOCK_FACTOR_RANGE,
        prior: Prior::LogNormal,
        grade: Grade::Assumed,
        source: String::new(),
        note: String::new(),
    }
}
