//! The rod: rig, load and hookbait.

use crate::angler::{Hold, Phase};
use crate::bait::{Feed, Opening};
use crate::engine::Time;
use crate::water::Point;

/// Where the rig is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rig {
    /// Out of the water.
    Ashore,
    /// On its way down.
    Sinking,
    /// On the bed, fishing.
    Bed,
    /// Attached to a fish that is being played.
    Playing,
}

/// Where the hookbait is, and so whether a fish can take it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hook {
    /// Hidden in the load.
    Hidden,
    /// On the pile of its own load.
    OnPile,
    /// Off the pile, among the scattered feed.
    InScatter,
    /// Robbed, knocked off or buried.
    Bare,
}

/// The load that is still on the feeder.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Load {
    pub(super) food_kg: f64,
    pub(super) inert_kg: f64,
    pub(super) hanging_kg: f64,
    pub(super) feed: Option<Feed>,
    pub(super) attractant_mol_kg: f64,
}

impl Load {
    pub(super) fn mass_kg(&self) -> f64 {
        self.food_kg + self.inert_kg + self.hanging_kg
    }

    /// Takes off a share of the load and returns that part.
    pub(super) fn take_share(&mut self, share: f64) -> Self {
        let part = Self {
            food_kg: self.food_kg * share,
            inert_kg: self.inert_kg * share,
            hanging_kg: self.hanging_kg * share,
            ..*self
        };
        self.food_kg -= part.food_kg;
        self.inert_kg -= part.inert_kg;
        self.hanging_kg -= part.hanging_kg;
        part
    }
}

/// The fish that is being played.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct HookedFish {
    pub(super) fish: usize,
    pub(super) hold: Hold,
}

/// The one rod.
#[derive(Clone, Debug)]
pub(super) struct Rod {
    /// Number of the current cast, from 1.
    pub(super) cast: u32,
    pub(super) line: usize,
    pub(super) rig: Rig,
    /// The fish that is being played, only while `rig` is [`Rig::Playing`].
    pub(super) hooked: Option<HookedFish>,
    pub(super) landed_at: Point,
    pub(super) hook: Hook,
    pub(super) load: Load,
    /// Mass of the load when it was pressed onto the feeder [kg].
    pub(super) pressed_kg: f64,
    pub(super) opening: Option<Opening>,
    pub(super) hookbait: usize,
    pub(super) buried: bool,
    pub(super) recipe: usize,
    /// How hard the load was pressed: 1 ordinary.
    pub(super) compression: f64,
    pub(super) feeder_kg: f64,
    /// Longest time from this cast to winding in [s].
    pub(super) recast_s: f64,
    /// When the rig is due to be wound in.
    pub(super) recast_at: Time,
}

impl Rod {
    /// A rod before its first cast.
    pub(super) fn new() -> Self {
        Self {
            cast: 0,
            line: 0,
            rig: Rig::Ashore,
            hooked: None,
            landed_at: Point::default(),
            hook: Hook::Bare,
            load: Load::default(),
            pressed_kg: 0.0,
            opening: None,
            hookbait: 0,
            buried: false,
            recipe: 0,
            compression: 1.0,
            feeder_kg: 0.0,
            recast_s: 0.0,
            recast_at: Time::NEVER,
        }
    }

    /// Sets the rod up as a phase says, with `pressed_kg` of bait on the feeder.
    pub(super) fn set_up(&mut self, phase: &Phase, pressed_kg: f64) {
        self.line = phase.line;
        self.recipe = phase.recipe;
        self.hookbait = phase.hookbait;
        self.buried = phase.buried;
        self.compression = phase.squeeze;
        self.feeder_kg = phase.feeder_kg;
        self.recast_s = phase.recast_s;
        self.pressed_kg = pressed_kg;
    }

    /// Takes the rig off the bed, with or without a fish, and returns what was left of the load.
    pub(super) fn leave_bed(&mut self, hooked: Option<HookedFish>) -> Load {
        self.hooked = hooked;
        self.rig = if hooked.is_some() { Rig::Playing } else { Rig::Ashore };
        self.hook = Hook::Bare;
        std::mem::take(&mut self.load)
    }

    /// Brings the rig ashore; no fish is on it any more.
    pub(super) fn bring_ashore(&mut self) {
        self.rig = Rig::Ashore;
        self.hooked = None;
    }

    /// Where the fish on the rod is hooked; in the mouth if there is none.
    pub(super) fn hold(&self) -> Hold {
        self.hooked.map_or(Hold::Mouth, |hooked| hooked.hold)
    }

    pub(super) fn bait_in_water(&self) -> bool {
        self.rig == Rig::Bed
    }

    /// Whether a fish can take the hookbait.
    pub(super) fn hookbait_available(&self) -> bool {
        self.rig == Rig::Bed && matches!(self.hook, Hook::OnPile | Hook::InScatter)
    }

    /// Whether the rig of that cast is still fishing.
    pub(super) fn is_fishing(&self, cast: u32) -> bool {
        self.cast == cast && self.rig == Rig::Bed
    }
}
