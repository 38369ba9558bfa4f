//! Safety on the bank, whatever a simulation says.

/// A caution: its heading, and what to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Caution {
    /// The danger, in a few words.
    pub(crate) head: &'static str,
    /// What to do.
    pub(crate) advice: &'static str,
}

/// Comes before the cautions.
pub(crate) const LOCAL_RULES_FIRST: &str =
    "Local rules, byelaws and your rod licence come first; this program cannot see your peg.";

/// The cautions, the deadliest first.
pub(crate) const CAUTIONS: [Caution; 6] = [
    Caution {
        head: "Overhead power lines",
        advice: "A rod or pole conducts electricity. Look up; never fish under or near them.",
    },
    Caution {
        head: "Lightning",
        advice: "At the first thunder put the rod down and leave the water.",
    },
    Caution {
        head: "Flying leads",
        advice: "A feeder that cracks off flies like a bullet. Use a shock leader, look behind, never cast over people.",
    },
    Caution {
        head: "Hooks",
        advice: "Flatten barbs where the rules say so. Carry a disgorger; wear eye protection.",
    },
    Caution {
        head: "Deep margins",
        advice: "Soft banks give way. Wear a life jacket where required; do not fish alone in the cold.",
    },
    Caution {
        head: "The fish",
        advice: "In warm or low-oxygen water use no keepnet, feed little, or stop. Keep to the limits of weight and time \
                 for each net. Wet hands and mat; return fish quickly.",
    },
];
