//! The rod and the hands that hold it.

use crate::angler::{Hold, LooseFeed, Phase};
use crate::bait::Opening;
use crate::engine::Time;
use crate::water::Point;

/// What is still on the feeder.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Load {
    pub(super) food_kg: f64,
    pub(super) inert_kg: f64,
    pub(super) hanging_kg: f64,
    pub(super) mouthful_kg: f64,
    pub(super) attractant_mol_kg: f64,
}

impl Load {
    pub(super) fn mass_kg(&self) -> f64 {
        self.food_kg + self.inert_kg + self.hanging_kg
    }

    /// A share of it comes off.
    pub(super) fn part(&mut self, share: f64) -> Self {
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

/// Where the rig is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum RigAt {
    /// Out of the water.
    Ashore,
    /// On its way down.
    Sinking,
    /// On the bed, fishing.
    Bed,
    /// A fish is on, hooked in the mouth or elsewhere.
    Fish(usize, Hold),
}

/// Whether the hookbait can be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum HookIs {
    /// Still hidden in the load.
    Hidden,
    /// On the pile of its own load.
    OnPile,
    /// Off it, among the scatter.
    InScatter,
    /// Robbed, knocked off or buried.
    Bare,
}

/// The one rod.
#[derive(Clone, Debug)]
pub(super) struct Rod {
    /// Number of the present cast, from 1.
    pub(super) cast: u32,
    pub(super) line: usize,
    pub(super) rig: RigAt,
    pub(super) landed_at: Point,
    pub(super) hook: HookIs,
    pub(super) load: Load,
    /// Mass of the load as it was pressed on [kg].
    pub(super) pressed_kg: f64,
    pub(super) opening: Option<Opening>,
    pub(super) hookbait: usize,
    pub(super) buried: bool,
    pub(super) recipe: usize,
    /// How hard the load was pressed, the feeder's own mass, and the longest wait it was set up for.
    pub(super) squeeze: f64,
    pub(super) feeder_kg: f64,
    pub(super) recast_s: f64,
    /// When it is to be wound in.
    pub(super) recast_at: Time,
}

impl Rod {
    pub(super) fn ashore() -> Self {
        Self {
            cast: 0,
            line: 0,
            rig: RigAt::Ashore,
            landed_at: Point::default(),
            hook: HookIs::Bare,
            load: Load::default(),
            pressed_kg: 0.0,
            opening: None,
            hookbait: 0,
            buried: false,
            recipe: 0,
            squeeze: 1.0,
            feeder_kg: 0.0,
            recast_s: 0.0,
            recast_at: Time::NEVER,
        }
    }

    /// Where the hook holds the fish that is on.
    pub(super) fn hold(&self) -> Hold {
        if let RigAt::Fish(_, hold) = self.rig { hold } else { Hold::Mouth }
    }

    pub(super) fn bait_in_water(&self) -> bool {
        self.rig == RigAt::Bed
    }

    pub(super) fn hookbait_there(&self) -> bool {
        self.rig == RigAt::Bed && matches!(self.hook, HookIs::OnPile | HookIs::InScatter)
    }

    /// Whether an event of that cast still concerns a rig that is fishing.
    pub(super) fn fishes(&self, cast: u32) -> bool {
        self.cast == cast && self.rig == RigAt::Bed
    }
}

/// What the angler's time goes into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Activity {
    Casting,
    Waiting,
    Playing,
    Rebaiting,
    Feeding,
    /// Snags, changing line.
    Other,
    /// Nothing in the plan to do.
    Idle,
}

/// What the angler does when the present task is done.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Step {
    /// Decide what is due.
    Decide,
    /// The feeder is loaded: cast.
    Cast,
    /// Throw the handful, then go on as before.
    Throw { feed: LooseFeed },
}

/// The angler's hands.
#[derive(Clone, Debug)]
pub(super) struct Hands {
    pub(super) phase: Option<usize>,
    /// What is chosen now: that phase, with what rules changed.
    pub(super) chosen: Option<Phase>,
    pub(super) activity: Activity,
    pub(super) since: Time,
    pub(super) step: Step,
    /// Counts tasks; the end of an older one is ignored.
    pub(super) turn: u32,
    /// Feed that is due, in order.
    pub(super) due: Vec<LooseFeed>,
    /// When each feed of the present phase falls due next.
    pub(super) next_feed: Vec<(LooseFeed, Time)>,
    /// The line the rod is set up for, once it was.
    pub(super) set_up_for: Option<usize>,
}

impl Hands {
    pub(super) fn free() -> Self {
        Self {
            phase: None,
            chosen: None,
            activity: Activity::Idle,
            since: Time::ZERO,
            step: Step::Decide,
            turn: 0,
            due: Vec::new(),
            next_feed: Vec::new(),
            set_up_for: None,
        }
    }
}
