//! Recipes of bait as classes of particles, and hookbaits.

use crate::numerics::cube;

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

/// What the food of a bait is made of, as a fish meets it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feed {
    /// What a fish of 1 kg holds in its mouth where the food lies thick [kg].
    pub mouthful_kg: f64,
    /// Mass of one item [kg].
    pub item_kg: f64,
    /// Diameter of one item [m].
    pub diameter_m: f64,
}

impl Feed {
    /// The mean of two kinds of food of these masses: items and mouthfuls by their number, diameters by mass.
    #[must_use]
    pub fn mixed(self, kg: f64, other: Self, other_kg: f64) -> Self {
        let total_kg = kg + other_kg;
        if total_kg <= 0.0 {
            return other;
        }
        let harmonic = |a: f64, b: f64| total_kg / (kg / a + other_kg / b);
        Self {
            mouthful_kg: harmonic(self.mouthful_kg, other.mouthful_kg),
            item_kg: harmonic(self.item_kg, other.item_kg),
            diameter_m: (kg * self.diameter_m + other_kg * other.diameter_m) / total_kg,
        }
    }
}

impl Recipe {
    /// Its food as a fish meets it: the mean over its classes, weighted by the food in them.
    ///
    /// # Panics
    ///
    /// Never: a recipe has at least one class.
    #[must_use]
    pub fn feed(&self) -> Feed {
        let kinds = self.classes.iter().map(|class| {
            let volume_m3 = std::f64::consts::PI / 6.0 * cube(class.diameter_m);
            let feed = Feed {
                mouthful_kg: self.mouthful_kg,
                item_kg: class.density_kg_m3 * volume_m3,
                diameter_m: class.diameter_m,
            };
            (feed, class.share * class.edible_share)
        });
        kinds
            .reduce(|(a, a_kg), (b, b_kg)| (a.mixed(a_kg, b, b_kg), a_kg + b_kg))
            .expect("a recipe has at least one class")
            .0
    }

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
    /// Its diameter [m].
    pub diameter_m: f64,
}
