//! Recipes of bait as classes of particles, and hookbaits.

/// Shape of a particle, which decides its drag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ParticleShape {
    /// Round and smooth, like a pellet.
    Sphere,
    /// Rough and irregular, like a crumb.
    Grain,
}

/// One class of particles in a recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct ParticleClass {
    /// Name in the scenario.
    pub name: String,
    /// Diameter [m].
    pub diameter_m: f64,
    /// Density when soaked [kg/m³].
    pub density_kg_m3: f64,
    /// Share of the recipe's mass.
    pub share: f64,
    /// Share of this class that is food for a fish; the rest only attracts.
    pub edible_share: f64,
    /// Shape of its particles.
    pub shape: ParticleShape,
}

/// A bait that is thrown in or loaded on a feeder.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// Name in the scenario.
    pub name: String,
    /// Particle classes; their shares add up to one.
    pub classes: Vec<ParticleClass>,
    /// Mass of one mouthful [kg].
    pub mouthful_kg: f64,
    /// Soluble attractant per mass of bait [mol/kg].
    pub attractant_mol_kg: f64,
    /// Median time from landing until a load of it on a feeder starts to open [s].
    pub opens_after_s: f64,
}

impl Recipe {
    /// Share of the recipe's mass that is food, whether it sinks or hangs.
    #[must_use]
    pub fn edible_share(&self) -> f64 {
        self.classes.iter().map(|class| class.share * class.edible_share).sum()
    }
}

/// A bait for the hook.
#[derive(Clone, Debug, PartialEq)]
pub struct Hookbait {
    /// Name in the scenario.
    pub name: String,
    /// Mean time until it is robbed, knocked off or buried [s]; infinite if that never happens.
    pub lasts_s: f64,
    /// Chance that a fish displaces it when it refuses it.
    pub displaced_share: f64,
    /// How tempting it is; 1 for an ordinary hookbait.
    pub temptation: f64,
}
