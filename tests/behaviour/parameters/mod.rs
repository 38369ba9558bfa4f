//! The parameter books: their rows, and the effect of each row on results.

mod books;
mod effects;
