//! A bait as a recipe of particle classes, and hookbaits.

/// How a particle meets the water.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Rounded and smooth, as a pellet.
    Sphere,
    /// Rough and irregular, as a crumb.
    Grain,
}

/// Particles of one kind in a recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct Class {
    /// The name under which it stands in the scenario.
    pub name: String,
    /// Diameter [m].
    pub diameter_m: f64,
    /// Density when soaked [kg/m³].
    pub density_kg_m3: f64,
    /// Share of the recipe's mass.
    pub share: f64,
    /// Share of this class that is food to a fish; the rest only looks and smells.
    pub edible_share: f64,
    /// How it meets the water.
    pub shape: Shape,
}

/// A bait that is thrown in or loaded on a feeder.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// The name under which it stands in the scenario.
    pub name: String,
    /// Particle classes; their shares add up to one.
    pub classes: Vec<Class>,
    /// What one fish takes at a time [kg].
    pub mouthful_kg: f64,
    /// Dissolvable attractant per mass of bait [mol/kg].
    pub attractant_mol_kg: f64,
    /// Median time from landing until a load of it on a feeder starts to open [s].
    pub opens_after_s: f64,
}

impl Recipe {
    /// Share of the recipe's mass that is food, whether it comes down or hangs.
    #[must_use]
    pub fn edible_share(&self) -> f64 {
        self.classes.iter().map(|class| class.share * class.edible_share).sum()
    }
}

/// What is on the hook.
#[derive(Clone, Debug, PartialEq)]
pub struct Hookbait {
    /// The name under which it stands in the scenario.
    pub name: String,
    /// Mean time until it is robbed, knocked off or buried [s]; infinite if it lasts.
    pub lasts_s: f64,
    /// Chance that a fish's refusal displaces it.
    pub displaced_share: f64,
    /// How tempting it is beside an ordinary one.
    pub tempting: f64,
}
