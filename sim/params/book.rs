//! A book: the rows of one trade, overlaid by a user's own values, drawn day by day.

use std::collections::BTreeMap;

use super::row::{Grade, Prior, Row, Unset};
use crate::engine::Dice;

/// All parameters of one trade.
#[derive(Clone, Debug, PartialEq)]
pub struct Book {
    /// The trade: the first part of every dotted key (`book.<name>.<row>`).
    pub name: &'static str,
    /// Rows in the order of the struct that code reads.
    rows: Vec<Row>,
}

impl Book {
    /// Reads a built-in book and puts its rows in the order of `fields`.
    ///
    /// # Panics
    ///
    /// If the text is no book or its rows are not `fields`, one to one: built-in books are part of
    /// the program, and a test reads each of them.
    #[must_use]
    pub fn built_in(name: &'static str, text: &str, fields: &[&str]) -> Self {
        let mut by_key: BTreeMap<String, Row> =
            toml::from_str(text).unwrap_or_else(|why| panic!("built-in book {name}: {why}"));
        let rows = fields
            .iter()
            .map(|&field| {
                let mut row = by_key
                    .remove(field)
                    .unwrap_or_else(|| panic!("built-in book {name} lacks the row {field}"));
                row.key = field.to_owned();
                row
            })
            .collect();
        assert!(by_key.is_empty(), "rows of book {name} that no code reads: {:?}", by_key.keys());
        Self { name, rows }
    }

    /// The rows, in the order of the struct that code reads.
    #[must_use]
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// How many of its rows are assumed.
    #[must_use]
    pub fn assumed(&self) -> usize {
        self.rows.iter().filter(|row| row.grade == Grade::Assumed).count()
    }

    /// Central values, in the order of the rows.
    #[must_use]
    pub fn central(&self) -> Vec<f64> {
        self.rows.iter().map(|row| row.value).collect()
    }

    /// One day's values, in the order of the rows.
    pub fn draw(&self, dice: &mut Dice) -> Vec<f64> {
        self.rows.iter().map(|row| row.draw(dice)).collect()
    }

    /// Takes a user's value for one row and holds it there every day.
    ///
    /// # Errors
    ///
    /// [`Unset`] where there is no such row or the value lies outside its range.
    pub fn pin(&mut self, key: &str, value: f64) -> Result<(), Unset> {
        let row = self.rows.iter_mut().find(|row| row.key == key).ok_or(Unset::NoSuchRow)?;
        let [low, high] = row.range;
        if !(low..=high).contains(&value) {
            return Err(Unset::OutOfRange { value, low, high, unit: row.unit.clone() });
        }
        row.value = value;
        row.prior = Prior::Fixed;
        Ok(())
    }

    /// Holds every row at its central value every day.
    pub fn pin_all(&mut self) {
        for row in &mut self.rows {
            row.prior = Prior::Fixed;
        }
    }
}

/// Makes the struct that code reads from the rows of one book, field by field.
///
/// Fields are named as the rows are, and take the rows' values in the order written here.
#[macro_export]
macro_rules! book_of {
    ($(#[$about:meta])* $name:ident in $trade:literal from $file:literal { $($field:ident),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            $(
                #[doc = concat!("Row `", stringify!($field), "` of the book of ", $trade, ".")]
                pub $field: f64,
            )+
        }

        impl $name {
            /// The rows read, in order.
            pub const FIELDS: &'static [&'static str] = &[$(stringify!($field)),+];

            /// The built-in book.
            #[must_use]
            pub fn book() -> $crate::params::Book {
                $crate::params::Book::built_in($trade, include_str!($file), Self::FIELDS)
            }

            /// One day's values, in the order of [`Self::FIELDS`].
            ///
            /// # Panics
            ///
            /// If `values` is shorter than the list of fields.
            #[must_use]
            pub fn from_values(values: &[f64]) -> Self {
                let mut next = values.iter().copied();
                Self { $($field: next.next().expect("a value for each row of the book")),+ }
            }

            /// The values, in the order of [`Self::FIELDS`].
            #[must_use]
            pub fn values(&self) -> Vec<f64> {
                vec![$(self.$field),+]
            }

            /// Central values of the built-in book.
            #[must_use]
            pub fn central() -> Self {
                Self::from_values(&Self::book().central())
            }
        }
    };
}
