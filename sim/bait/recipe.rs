//! Recipes of bait as classes of particles, and hookbaits: as they are on one day, and as they are drawn for it.

use crate::params::DailyDistribution;

use crate::numerics::cube;

/// Shape of a particle, which decides its drag.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ParticleShape {
    /// Round and smooth, like a pellet.
    Sphere,
    /// Rough and irregular, like a crumb.
    Grain,
}

/// One class of particles in a recipe; `V` is a value of one day, or its distribution over days.
#[derive(Clone, Debug, PartialEq)]
pub struct ParticleClass<V = f64> {
    /// Name in the scenario.
    pub name: String,
    /// Diameter [m].
    pub diameter_m: f64,
    /// Density when soaked [kg/m³].
    pub density_kg_m3: f64,
    /// Share of the recipe's mass.
    pub share: f64,
    /// Share of this class that is food for a fish; the rest only attracts.
    pub edible_share: V,
    /// Shape of its particles.
    pub shape: ParticleShape,
}

/// A bait that is thrown in or loaded on a feeder; `V` is a value of one day, or its distribution over days.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe<V = f64> {
    /// Name in the scenario.
    pub name: String,
    /// Particle classes; their shares add up to one.
    pub classes: Vec<ParticleClass<V>>,
    /// Mass of one mouthful [kg].
    pub mouthful_kg: V,
    /// Soluble attractant per mass of bait [mol/kg].
    pub attractant_mol_kg: V,
    /// Median time from landing until a load of it on a feeder starts to open [s].
    pub opens_after_s: V,
}

/// A value of a bait as a scenario states it: its distribution over days.
///
/// A bait that is like another inherits values from it. Such values are the same on every day, since they are one value:
/// two hookbaits that differ in size alone are equally tempting.
#[derive(Clone, Debug, PartialEq)]
pub struct BaitValue {
    /// Its distribution over days.
    pub spread: DailyDistribution,
    /// The dotted key under which it is stated; values of one origin are one value.
    pub origin: String,
}

impl BaitValue {
    /// A value that is the same every day.
    #[must_use]
    pub fn fixed(value: f64) -> Self {
        Self { spread: DailyDistribution::Fixed(value), origin: String::new() }
    }
}

/// A recipe as a scenario states it.
pub type RecipePrior = Recipe<BaitValue>;

impl RecipePrior {
    /// The recipe with a number for each of its values.
    #[must_use]
    pub fn with_values(&self, value_of: impl Fn(&BaitValue) -> f64) -> Recipe {
        let class = |class: &ParticleClass<BaitValue>| class.with(value_of(&class.edible_share));
        Recipe {
            name: self.name.clone(),
            classes: self.classes.iter().map(class).collect(),
            mouthful_kg: value_of(&self.mouthful_kg),
            attractant_mol_kg: value_of(&self.attractant_mol_kg),
            opens_after_s: value_of(&self.opens_after_s),
        }
    }

    /// Its values that may differ from day to day.
    pub fn values(&self) -> impl Iterator<Item = &BaitValue> {
        let own = [&self.mouthful_kg, &self.attractant_mol_kg, &self.opens_after_s];
        own.into_iter().chain(self.classes.iter().map(|class| &class.edible_share))
    }

    /// Its values, to change them.
    pub fn values_mut(&mut self) -> impl Iterator<Item = &mut BaitValue> {
        let own = [&mut self.mouthful_kg, &mut self.attractant_mol_kg, &mut self.opens_after_s];
        own.into_iter().chain(self.classes.iter_mut().map(|class| &mut class.edible_share))
    }
}

impl From<Recipe> for RecipePrior {
    /// The same recipe every day.
    fn from(recipe: Recipe) -> Self {
        let fixed = BaitValue::fixed;
        let classes = recipe.classes.iter().map(|class| class.with(fixed(class.edible_share)));
        Self {
            classes: classes.collect(),
            name: recipe.name,
            mouthful_kg: fixed(recipe.mouthful_kg),
            attractant_mol_kg: fixed(recipe.attractant_mol_kg),
            opens_after_s: fixed(recipe.opens_after_s),
        }
    }
}

impl<V> ParticleClass<V> {
    /// The same class with another edible share.
    fn with<T>(&self, edible_share: T) -> ParticleClass<T> {
        ParticleClass {
            name: self.name.clone(),
            diameter_m: self.diameter_m,
            density_kg_m3: self.density_kg_m3,
            share: self.share,
            edible_share,
            shape: self.shape,
        }
    }
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

/// A bait for the hook; `V` is a value of one day, or its distribution over days.
#[derive(Clone, Debug, PartialEq)]
pub struct Hookbait<V = f64> {
    /// Name in the scenario.
    pub name: String,
    /// Mean time until it is robbed, knocked off or buried [s]; infinite if that never happens.
    pub lasts_s: f64,
    /// Chance that a fish displaces it when it refuses it.
    pub displaced_share: V,
    /// How tempting it is; 1 for an ordinary hookbait.
    pub temptation: V,
    /// Its diameter [m].
    pub diameter_m: f64,
}

/// A hookbait as a scenario states it.
pub type HookbaitPrior = Hookbait<BaitValue>;

impl HookbaitPrior {
    /// The hookbait with a number for each of its values.
    #[must_use]
    pub fn with_values(&self, value_of: impl Fn(&BaitValue) -> f64) -> Hookbait {
        self.with(value_of(&self.displaced_share), value_of(&self.temptation))
    }

    /// Its values that may differ from day to day.
    pub fn values(&self) -> impl Iterator<Item = &BaitValue> {
        [&self.displaced_share, &self.temptation].into_iter()
    }

    /// Its values, to change them.
    pub fn values_mut(&mut self) -> impl Iterator<Item = &mut BaitValue> {
        [&mut self.displaced_share, &mut self.temptation].into_iter()
    }
}

impl From<Hookbait> for HookbaitPrior {
    /// The same hookbait every day.
    fn from(hookbait: Hookbait) -> Self {
        let fixed = BaitValue::fixed;
        hookbait.with(fixed(hookbait.displaced_share), fixed(hookbait.temptation))
    }
}

impl<V> Hookbait<V> {
    /// The same hookbait with other values.
    fn with<T>(&self, displaced_share: T, temptation: T) -> Hookbait<T> {
        Hookbait {
            name: self.name.clone(),
            lasts_s: self.lasts_s,
            displaced_share,
            temptation,
            diameter_m: self.diameter_m,
        }
    }
}
