//! Random streams of one day, named by their purpose, so that no two uses share one.

use crate::engine::Dice;

/// What a random stream is used for. The numbers are part of every seed and never change.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Purpose {
    /// Weather.
    Weather = 1,
    /// Values of the books.
    Books = 2,
    /// Number and traits of the fish of a shoal.
    Stock = 3,
    /// Behaviour of one fish.
    Fish = 4,
    /// Casts.
    Cast = 5,
    /// Loads that open, hookbaits that are lost.
    Bait = 6,
    /// Times that the angler's tasks take.
    Hands = 7,
    /// Fights.
    Fight = 8,
    /// Boldness of one fish.
    Boldness = 9,
    /// Responsiveness of one fish to feed.
    Responsiveness = 10,
    /// Fish that touch the line.
    LineTouch = 11,
    /// The angler's guesses of weight.
    WeightGuess = 12,
    /// Waiting times of a given distribution.
    WaitingTime = 13,
    /// Strikes at line bites, and foul-hooked fish.
    FoulHooking = 14,
    /// One value of a bait or hookbait, by where it is stated.
    BaitValue = 15,
    /// The draw of a learned book.
    LearnedBook = 16,
    /// When the fish of a shoal that pass by come into reach.
    Coming = 17,
}

/// The stream of one purpose and one agent on a day.
pub(super) fn day_stream(seed: u64, day: u32, purpose: Purpose, agent: u64) -> Dice {
    Dice::from_key(&[seed, u64::from(day), purpose as u64, agent])
}

/// The stream of one purpose and one agent on a day, for one replicate of the noise within that day.
///
/// Replicate 0 is the day's own stream.
pub(super) fn replicate_stream(
    seed: u64,
    day: u32,
    replicate: u64,
    purpose: Purpose,
    agent: u64,
) -> Dice {
    if replicate == 0 {
        return day_stream(seed, day, purpose, agent);
    }
    Dice::from_key(&[seed, u64::from(day), purpose as u64, agent, replicate])
}
