//! Keys whose value is one of a few words, and what each word stands for.

use crate::angler::{FeedMethod, HookSize};
use crate::bait::{LoadStyle, ParticleShape};
use crate::fish::Species;
use crate::params::DailyDistribution;
use crate::water::Clarity;

/// A type whose values are chosen by a word.
pub(crate) trait Choice: Copy + 'static {
    /// The words, in the order of the reference.
    const WORDS: &'static [&'static str];
    /// What each word stands for, in the same order.
    const VALUES: &'static [Self];
}

/// Gives types the words that stand for their values.
macro_rules! choices {
    ($($name:ident { $($word:literal => $value:ident),+ $(,)? })+) => {
        $(impl Choice for $name {
            const WORDS: &'static [&'static str] = &[$($word),+];
            const VALUES: &'static [Self] = &[$(Self::$value),+];
        })+
    };
}

choices! {
    SessionKind { "match" => Match, "pleasure" => Pleasure }
    Units { "metric" => Metric, "imperial" => Imperial }
    FoulHooked { "counts" => Counts, "goes-back" => GoesBack }
    WindFrom {
        "behind me" => BehindMe,
        "in my face" => InMyFace,
        "left to right" => LeftToRight,
        "right to left" => RightToLeft,
    }
    Smell { "little" => Little, "middling" => Middling, "strong" => Strong }
    FeedMethod { "catapult" => Catapult, "hand" => Hand, "pot" => Pot, "ball" => Ball }
    HookSize { "small" => Small, "middling" => Middling, "strong" => Strong }
    Clarity { "clear" => Clear, "coloured" => Coloured, "muddy" => Muddy }
    LoadStyle { "top" => Top, "buried" => Buried }
    ParticleShape { "sphere" => Sphere, "grain" => Grain }
    Species {
        "common-carp" => COMMON_CARP,
        "carp-crucian-hybrid" => CARP_CRUCIAN_HYBRID,
        "bream" => BREAM,
        "roach" => ROACH,
    }
}

/// Whether the fish caught stay out of the water.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SessionKind {
    /// Fish are kept until the end and weighed.
    Match,
    /// Fish go back at once; they rest, and remember.
    Pleasure,
}

/// How weights and lengths are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Units {
    /// Kilograms, metres.
    Metric,
    /// Pounds and ounces.
    Imperial,
}

impl Units {
    /// The word for these units in scenarios and on the command line.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Metric => "metric",
            Self::Imperial => "imperial",
        }
    }
}

/// What becomes of a fish hooked outside the mouth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FoulHooked {
    /// It counts as any other.
    Counts,
    /// It goes back at once.
    GoesBack,
}

/// Where the wind comes from, as an angler facing the water says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum WindFrom {
    /// From the bank, out over the water.
    BehindMe,
    /// From the water, towards the bank.
    InMyFace,
    /// Along the bank, to the right.
    LeftToRight,
    /// Along the bank, to the left.
    RightToLeft,
}

impl WindFrom {
    /// Direction it blows to, anticlockwise from the right along the bank [°].
    pub(crate) fn blows_to_deg(self) -> f64 {
        match self {
            Self::LeftToRight => 0.0,
            Self::BehindMe => 90.0,
            Self::RightToLeft => 180.0,
            Self::InMyFace => 270.0,
        }
    }
}

/// How strongly a bait smells, in words.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Smell {
    /// As plain pellets that were soaked long.
    Little,
    /// As pellets.
    Middling,
    /// As a groundbait of fishmeal.
    Strong,
}

impl Smell {
    /// Soluble attractant per mass of bait [mol/kg]: common practice has only the order, so each word stands for a wide spread.
    pub(crate) fn attractant_mol_kg(self) -> DailyDistribution {
        let mean = match self {
            Self::Little => 0.02,
            Self::Middling => 0.06,
            Self::Strong => 0.15,
        };
        DailyDistribution::LogNormal { mean, cv: 0.5 }
    }
}
