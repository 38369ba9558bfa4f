//! What other programs read: dictionary and schemas agree with what runs write, and the example programs get the verdict.

mod dictionary;
mod runs;
