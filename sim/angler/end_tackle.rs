//! The end tackle: how strong the line is and how large the hook, as an angler chooses them for the fish and the water.

use super::params::AnglerParams;
use crate::numerics::exp;

/// The size of the hook, by what fish it is tied for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HookSize {
    /// Small and fine.
    Small,
    /// A hook of ordinary size.
    Middling,
    /// Large and strong.
    Strong,
}

impl HookSize {
    /// All of them, from small to large.
    pub const ALL: [Self; 3] = [Self::Small, Self::Middling, Self::Strong];

    /// Its gape over that of a middling hook; a definition: about four numbers of the trade's scale between two words.
    #[must_use]
    pub fn relative_gape(self) -> f64 {
        match self {
            Self::Small => 0.7,
            Self::Middling => 1.0,
            Self::Strong => 1.4,
        }
    }

    /// The word that stands for it in a scenario.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Small => "small",
            Self::Middling => "middling",
            Self::Strong => "strong",
        }
    }
}

/// Line and hook; what is `None` is as the figures of the books assume it, whatever that is on a day.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct EndTackle {
    /// Load at which the line or hooklength breaks [kg].
    pub line_strength_kg: Option<f64>,
    /// The hook.
    pub hook: Option<HookSize>,
}

impl EndTackle {
    /// What is stated here, and for the rest what `other` states.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        Self {
            line_strength_kg: self.line_strength_kg.or(other.line_strength_kg),
            hook: self.hook.or(other.hook),
        }
    }

    /// Whether line or hook is stated.
    #[must_use]
    pub fn is_stated(self) -> bool {
        self != Self::default()
    }

    /// Strength of the line over the ordinary one; 1 if it is not stated.
    #[must_use]
    pub fn relative_strength(self, params: &AnglerParams) -> f64 {
        self.line_strength_kg.map_or(1.0, |kg| kg / params.ordinary_line_kg)
    }

    /// Diameter of the line over that of the ordinary one: its square carries the load.
    #[must_use]
    pub fn relative_diameter(self, params: &AnglerParams) -> f64 {
        self.relative_strength(params).sqrt()
    }

    /// Gape of the hook over that of a middling one; 1 if it is not stated.
    #[must_use]
    pub fn relative_gape(self) -> f64 {
        self.hook.map_or(1.0, HookSize::relative_gape)
    }

    /// By how much a fish of `mass_kg` that is hooked at a distance from cover [m] (infinite if there is none) lowers the
    /// log-odds of being landed, more than on ordinary tackle.
    ///
    /// m · (1 + w·exp(−c/c₀)) · (kₗ (1/s − 1) + kₕ (1/h − 1)): s the strength of the line and h the gape of the hook over
    /// ordinary ones, c the distance from cover. Ordinary tackle has none; strong tackle saves no more than its part of
    /// the whole strain.
    ///
    /// - **Source** `rapp-2008` for a small part of the hook (carp were landed alike on small and large ones); the form is
    ///   ours.
    /// - **Checked by** V-340 (zero for ordinary tackle; grows with the fish, near cover, and as the line gets weaker).
    #[must_use]
    pub fn strain(self, mass_kg: f64, cover_m: f64, params: &AnglerParams) -> f64 {
        if !self.is_stated() {
            return 0.0;
        }
        let near_cover = 1.0 + params.cover_strain * exp(-cover_m / params.cover_strain_m);
        let line = params.line_strain_per_kg * (1.0 / self.relative_strength(params) - 1.0);
        let hook = params.hook_strain_per_kg * (1.0 / self.relative_gape() - 1.0);
        mass_kg * near_cover * (line + hook)
    }
}
