//! The rod: rig, load and hookbait.

use crate::angler::{HookPosition, Tackle};
use crate::bait::{Feed, Opening};
use crate::engine::Time;
use crate::fish::FishId;
use crate::water::Point;

/// Where the rig is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RigState {
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
pub enum HookbaitState {
    /// Hidden in the load.
    Hidden,
    /// On the pile that its own load makes.
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
    pub(super) fish: FishId,
    pub(super) hold: HookPosition,
}

/// The one rod.
#[derive(Clone, Debug)]
pub(super) struct Rod {
    /// Number of the current cast, from 1.
    pub(super) cast: u32,
    /// What it was last set up with.
    pub(super) tackle: Tackle,
    pub(super) rig: RigState,
    /// The fish that is being played, only while `rig` is [`RigState::Playing`].
    pub(super) hooked: Option<HookedFish>,
    pub(super) landed_at: Point,
    pub(super) hook: HookbaitState,
    pub(super) load: Load,
    /// Mass of the load when it was pressed onto the feeder [kg].
    pub(super) pressed_kg: f64,
    pub(super) opening: Option<Opening>,
    /// When the rig is due to be wound in.
    pub(super) recast_at: Time,
}

impl Rod {
    /// A rod before its first cast.
    pub(super) fn new() -> Self {
        Self {
            cast: 0,
            tackle: Tackle { compression: 1.0, ..Tackle::default() },
            rig: RigState::Ashore,
            hooked: None,
            landed_at: Point::default(),
            hook: HookbaitState::Bare,
            load: Load::default(),
            pressed_kg: 0.0,
            opening: None,
            recast_at: Time::NEVER,
        }
    }

    /// Sets the rod up, with `pressed_kg` of bait on the feeder.
    pub(super) fn set_up(&mut self, tackle: Tackle, pressed_kg: f64) {
        self.tackle = tackle;
        self.pressed_kg = pressed_kg;
    }

    /// Takes the rig off the bed, with or without a fish, and returns what was left of the load.
    pub(super) fn leave_bed(&mut self, hooked: Option<HookedFish>) -> Load {
        self.hooked = hooked;
        self.rig = if hooked.is_some() { RigState::Playing } else { RigState::Ashore };
        self.hook = HookbaitState::Bare;
        std::mem::take(&mut self.load)
    }

    /// Brings the rig ashore; no fish is on it any more.
    pub(super) fn bring_ashore(&mut self) {
        self.rig = RigState::Ashore;
        self.hooked = None;
    }

    /// Where the fish on the rod is hooked; in the mouth if there is none.
    pub(super) fn hold(&self) -> HookPosition {
        self.hooked.map_or(HookPosition::Mouth, |hooked| hooked.hold)
    }

    pub(super) fn bait_in_water(&self) -> bool {
        self.rig == RigState::Bed
    }

    /// Whether a fish can take the hookbait.
    pub(super) fn hookbait_available(&self) -> bool {
        self.rig == RigState::Bed
            && matches!(self.hook, HookbaitState::OnPile | HookbaitState::InScatter)
    }

    /// Whether the rig of that cast is still fishing.
    pub(super) fn is_fishing(&self, cast: u32) -> bool {
        self.cast == cast && self.rig == RigState::Bed
    }
}
