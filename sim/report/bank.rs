//! What to take care of on any bank, whatever a simulation says.

/// A caution: its head, and what to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Caution {
    /// What of.
    pub(super) head: &'static str,
    /// What to do.
    pub(super) says: &'static str,
}

/// Said before the cautions.
pub(super) const FIRST: &str =
    "Local rules, byelaws and your rod licence come first; this cannot see your peg.";

/// The cautions, the deadliest first.
pub(super) const CAUTIONS: [Caution; 6] = [
    Caution {
        head: "Overhead power lines",
        says: "A rod or pole conducts. Look up; never fish under or near them.",
    },
    Caution {
        head: "Lightning",
        says: "At the first thunder put the rod down and leave the water.",
    },
    Caution {
        head: "Flying leads",
        says: "A feeder that cracks off flies like a shot. Use a shock leader, look behind, never cast over people.",
    },
    Caution {
        head: "Hooks",
        says: "Flatten barbs where the rules ask for it. Carry a disgorger; wear eye protection.",
    },
    Caution {
        head: "Deep margins",
        says: "Soft banks give way. Wear a life jacket where asked; do not fish alone in the cold.",
    },
    Caution {
        head: "The fish",
        says: "In warm or low-oxygen water use no keepnet, feed little, or stop. Keep to the limit of each net and \
               the hours in it. Wet hands and mat; return fish quickly.",
    },
];
