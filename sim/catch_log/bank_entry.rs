//! What is typed on the bank: a letter, sometimes with a word, sometimes with the time at which it happened.

use super::cast::EndKind;
use super::clock::read_clock_s;
use crate::scenario::quoted;

/// One thing to record, or to do with what was recorded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum BankEntry {
    /// The bait was cast; a bait that was still out is recorded as wound in without a bite.
    Cast,
    /// A bite.
    Bite,
    /// The fish was landed, with its weight and species if they are given.
    Landed(String),
    /// The fish was lost.
    Lost,
    /// The bait was wound in without a bite, for this reason.
    WoundIn(EndKind),
    /// Where the next casts go.
    Line(String),
    /// What the next casts have on the hook.
    Bait(String),
    /// What the feeder holds from the next cast on; empty for none.
    Feeder(String),
    /// What was thrown in with the last cast.
    LooseFeed(String),
    /// A remark on the last cast.
    Note(String),
    /// The last entry was a slip.
    Undo,
    /// Show what can be typed.
    Help,
    /// Stop.
    Quit,
}

/// An entry, with the time at which it happened if that was given.
#[derive(Clone, Debug, PartialEq)]
pub struct TimedEntry {
    /// What happened to the cast.
    pub entry: BankEntry,
    /// When [s since midnight]. `None` is now.
    pub time_s: Option<f64>,
}

impl BankEntry {
    /// What can be typed, one line each.
    pub const HELP: &'static str = "\
c              cast (a bait still out is recorded as wound in without a bite)
b              bite
y 3 lb 4 oz    yes, landed; the weight and a species may follow, or nothing
n              no, it got off
w  s  r  m     wound in without a bite: just so, snagged, robbed, moved
l far-bank     line: where the next casts go
h corn         hookbait of the next casts
f 25 g         feeder of the next casts; f alone for none
t 1 pint       thrown in with the last cast
x windy        a remark on the last cast
u              undo the last entry
q              quit (a bait that is out stays out)
9:41 b         an entry that is late, with its time
";

    /// Reads what was typed. `None` if it is blank.
    ///
    /// # Errors
    ///
    /// A message that says what is wrong with it.
    pub fn parse(typed: &str) -> Result<Option<TimedEntry>, String> {
        let typed = typed.trim();
        let (first, rest) = split_word(typed);
        let time_s = read_clock_s(first);
        let (word, rest) = if time_s.is_some() { split_word(rest) } else { (first, rest) };
        if word.is_empty() {
            let message = "a time stands alone; write what happened then, as in 9:41 b";
            return if typed.is_empty() { Ok(None) } else { Err(message.to_owned()) };
        }
        let entry = Self::from_words(word, rest)?;
        Ok(Some(TimedEntry { entry, time_s }))
    }

    fn from_words(word: &str, rest: &str) -> Result<Self, String> {
        let text = rest.to_owned();
        let needs = |what: &str, make: fn(String) -> Self| {
            let message = format!("{word} needs {what} after it");
            if rest.is_empty() { Err(message) } else { Ok(make(text.clone())) }
        };
        let entry = match word.to_lowercase().as_str() {
            "y" | "yes" => return Ok(Self::Landed(text)),
            "f" | "feeder" => return Ok(Self::Feeder(text)),
            "l" | "line" => return needs("the name of a line", Self::Line),
            "h" | "hookbait" | "bait" => return needs("the name of a bait", Self::Bait),
            "t" | "thrown" => return needs("an amount, as in t 1 pint", Self::LooseFeed),
            "x" | "note" => return needs("a remark", Self::Note),
            "c" | "cast" => Self::Cast,
            "b" | "bite" => Self::Bite,
            "n" | "no" => Self::Lost,
            "w" => Self::WoundIn(EndKind::WoundIn),
            "s" | "snag" => Self::WoundIn(EndKind::Snag),
            "r" | "robbed" => Self::WoundIn(EndKind::Robbed),
            "m" | "moved" => Self::WoundIn(EndKind::Moved),
            "u" | "undo" => Self::Undo,
            "?" | "help" => Self::Help,
            "q" | "quit" => Self::Quit,
            _ => return Err(format!("{} is not an entry; ? shows them all", quoted(word))),
        };
        if rest.is_empty() {
            return Ok(entry);
        }
        Err(format!("{word} takes nothing after it; ? shows all entries"))
    }
}

/// The first word of a text, and the rest.
fn split_word(text: &str) -> (&str, &str) {
    text.split_once(char::is_whitespace).map_or((text, ""), |(word, rest)| (word, rest.trim()))
}
