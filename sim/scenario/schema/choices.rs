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

/// Whether the fish caught stay out of the water.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SessionKind {
    /// Fish are kept until the end and weighed.
    Match,
    /// Fish go back at once; they rest, and remember.
    Pleasure,
}

impl Choice for SessionKind {
    const WORDS: &'static [&'static str] = &["match", "pleasure"];
    const VALUES: &'static [Self] = &[Self::Match, Self::Pleasure];
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

impl Choice for Units {
    const WORDS: &'static [&'static str] = &["metric", "imperial"];
    const VALUES: &'static [Self] = &[Self::Metric, Self::Imperial];
}

/// What becomes of a fish hooked outside the mouth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum FoulHooked {
    /// It counts as any other.
    Counts,
    /// It goes back at once.
    GoesBack,
}

impl Choice for FoulHooked {
    const WORDS: &'static [&'static str] = &["counts", "goes-back"];
    const VALUES: &'static [Self] = &[Self::Counts, Self::GoesBack];
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

impl Choice for WindFrom {
    const WORDS: &'static [&'static str] =
        &["behind me", "in my face", "left to right", "right to left"];
    const VALUES: &'static [Self] =
        &[Self::BehindMe, Self::InMyFace, Self::LeftToRight, Self::RightToLeft];
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

impl Choice for Smell {
    const WORDS: &'static [&'static str] = &["little", "middling", "strong"];
    const VALUES: &'static [Self] = &[Self::Little, Self::Middling, Self::Strong];
}

impl Choice for FeedMethod {
    const WORDS: &'static [&'static str] = &["catapult", "hand", "pot", "ball"];
    const VALUES: &'static [Self] = &[Self::Catapult, Self::Hand, Self::Pot, Self::Ball];
}

impl Choice for HookSize {
    const WORDS: &'static [&'static str] = &["small", "middling", "strong"];
    const VALUES: &'static [Self] = &[Self::Small, Self::Middling, Self::Strong];
}

impl Choice for Clarity {
    const WORDS: &'static [&'static str] = &["clear", "coloured", "muddy"];
    const VALUES: &'static [Self] = &[Self::Clear, Self::Coloured, Self::Muddy];
}

impl Choice for LoadStyle {
    const WORDS: &'static [&'static str] = &["top", "buried"];
    const VALUES: &'static [Self] = &[Self::Top, Self::Buried];
}

impl Choice for ParticleShape {
    const WORDS: &'static [&'static str] = &["sphere", "grain"];
    const VALUES: &'static [Self] = &[Self::Sphere, Self::Grain];
}

impl Choice for Species {
    const WORDS: &'static [&'static str] =
        &["common-carp", "carp-crucian-hybrid", "bream", "roach"];
    const VALUES: &'static [Self] =
        &[Self::COMMON_CARP, Self::CARP_CRUCIAN_HYBRID, Self::BREAM, Self::ROACH];
}
