//! Keys whose value is one of a few words, and what each word stands for.

use crate::bait::{LoadStyle, ParticleShape};

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

impl Choice for LoadStyle {
    const WORDS: &'static [&'static str] = &["top", "buried"];
    const VALUES: &'static [Self] = &[Self::Top, Self::Buried];
}

impl Choice for ParticleShape {
    const WORDS: &'static [&'static str] = &["sphere", "grain"];
    const VALUES: &'static [Self] = &[Self::Sphere, Self::Grain];
}
