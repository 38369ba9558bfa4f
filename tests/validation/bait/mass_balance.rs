//! Bait settling and on the bed: its mass is conserved.

use proptest::prelude::*;
use sim::bait::{
    BaitParams, FallingBait, LoadStyle, Opening, ParticleClass, ParticleShape, Patch, Recipe,
};
use sim::engine::{Dice, Time};
use sim::water::fluid_at;

use crate::evidence::{mean_is, near};

fn class(
    name: &str,
    diameter_mm: f64,
    density_kg_m3: f64,
    share: f64,
    edible_share: f64,
) -> ParticleClass {
    let (name, diameter_m) = (name.to_owned(), 1e-3 * diameter_mm);
    ParticleClass {
        name,
        diameter_m,
        density_kg_m3,
        share,
        edible_share,
        shape: ParticleShape::Grain,
    }
}

/// An invented groundbait: fines that stay suspended, crumb that is half food, a few pellets.
fn groundbait() -> Recipe {
    Recipe {
        name: "invented groundbait".to_owned(),
        classes: vec![
            class("fines", 0.02, 1050.0, 0.2, 0.5),
            class("floating crumb", 1.0, 980.0, 0.1, 0.5),
            class("crumb", 1.0, 1150.0, 0.5, 0.4),
            class("pellets", 4.0, 1200.0, 0.2, 1.0),
        ],
        mouthful_kg: 2e-4,
        attractant_mol_kg: 0.01,
        opens_after_s: 45.0,
    }
}

const SESSION_S: f64 = 5.0 * 3600.0;

/// V-40: what settles more slowly than the session lasts stays suspended; the rest reaches the bed as food or as
/// other matter; together they are the bait thrown.
#[test]
fn fines_stay_suspended_and_the_rest_settles() {
    let fluid = fluid_at(15.0);
    let falling = FallingBait::new(&groundbait(), 0.5, 1.5, SESSION_S, &fluid);
    near("V-40 hanging [kg]", falling.hanging_kg, 0.5 * (0.2 + 0.1), 1e-12);
    near("V-40 food [kg]", falling.food_kg, 0.5 * (0.5 * 0.4 + 0.2), 1e-12);
    near("V-40 no food [kg]", falling.inert_kg, 0.5 * 0.5 * 0.6, 1e-12);
    let sum_kg = falling.hanging_kg + falling.food_kg + falling.inert_kg;
    near("V-40 all of it [kg]", sum_kg, 0.5, 1e-12);

    // Half of the food is crumb and half pellets, so the mean time is halfway between theirs.
    let time = |name: &str| {
        let class = groundbait().classes.into_iter().find(|class| class.name == name);
        let class = class.expect("named above");
        let speed = sim::bait::settling_speed_m_s(
            class.diameter_m,
            class.density_kg_m3,
            class.shape,
            &fluid,
        );
        sim::bait::fall_time_s(1.5, speed)
    };
    let halfway_s = 0.5 * (time("crumb") + time("pellets"));
    near("V-40 mean time of the food [s]", falling.fall_s, halfway_s, 1e-12);
    let deeper = FallingBait::new(&groundbait(), 0.5, 3.0, SESSION_S, &fluid);
    near("V-40 twice the depth [s]", deeper.fall_s, 2.0 * halfway_s, 1e-12);
}

/// V-40: a recipe's edible share is the sum over its classes.
#[test]
fn the_edible_share_is_the_sum_over_classes() {
    near("V-40 edible share", groundbait().edible_share(), 0.1 + 0.05 + 0.2 + 0.2, 1e-12);
}

/// V-41: food on the bed is lost as m₀ exp(−λt), for any time steps, from the moment it arrives.
#[test]
fn food_on_the_bed_decays_exponentially() {
    let loss_per_s = 2e-4;
    let mut patch = Patch::new(8.0, 2e-4);
    patch.lose_until(Time::from_seconds(900.0), loss_per_s);
    patch.add(0.1, 2e-4);
    let mut lost_kg = 0.0;
    for step in 1..=3600 {
        lost_kg += patch.lose_until(Time::from_seconds(900.0 + f64::from(step)), loss_per_s);
    }
    near("V-41 left after an hour [kg]", patch.food_kg, 0.1 * (-0.72_f64).exp(), 1e-11);
    near("V-41 left and lost [kg]", patch.food_kg + lost_kg, 0.1, 1e-12);
    near("V-41 mouthfuls", patch.mouthfuls(), patch.food_kg / 2e-4, 1e-12);
}

#[derive(Clone, Debug)]
enum Act {
    Add(f64, f64),
    Eat(u8),
    Wait(f64),
    TakeAll,
}

fn act() -> impl Strategy<Value = Act> {
    prop_oneof![
        4 => (1e-4_f64..0.2, 5e-5_f64..1e-3).prop_map(|(food, mouthful)| Act::Add(food, mouthful)),
        4 => (1_u8..50).prop_map(Act::Eat),
        4 => (0.0_f64..900.0).prop_map(Act::Wait),
        1 => Just(Act::TakeAll),
    ]
}

proptest! {
    #![proptest_config(crate::evidence::the_same_cases())]

    /// V-42: in any sequence of feeding, eating, waiting and clearing, food put in = eaten + lost + cleared + left.
    #[test]
    fn food_on_the_bed_is_accounted_for(acts in prop::collection::vec(act(), 1..80)) {
        let mut patch = Patch::new(2.0, 2e-4);
        let mut now = Time::ZERO;
        let (mut put, mut gone) = (0.0, 0.0);
        for act in acts {
            match act {
                Act::Add(food_kg, mouthful_kg) => {
                    let before = patch.mouthfuls();
                    patch.add(food_kg, mouthful_kg);
                    put += food_kg;
                    let mouthfuls = before + food_kg / mouthful_kg;
                    prop_assert!((patch.mouthfuls() - mouthfuls).abs() <= 1e-9 * mouthfuls);
                }
                Act::Eat(times) => {
                    for _ in 0..times {
                        let taken_kg = patch.take_mouthful();
                        prop_assert!(taken_kg >= 0.0 && taken_kg <= patch.mouthful_kg);
                        gone += taken_kg;
                    }
                }
                Act::Wait(seconds) => {
                    now = now.after(seconds);
                    let lost_kg = patch.lose_until(now, 2e-4);
                    prop_assert!(lost_kg >= 0.0);
                    gone += lost_kg;
                }
                Act::TakeAll => gone += patch.take_all(),
            }
            prop_assert!(patch.food_kg >= 0.0);
            prop_assert!((put - gone - patch.food_kg).abs() <= 1e-12 * (put + 1.0));
        }
    }

    /// V-40: for any recipe, bait thrown stays suspended or settles, and fish find no more than is edible.
    #[test]
    fn every_throw_is_accounted_for(
        parts in prop::collection::vec((0.01_f64..8.0, 900.0_f64..1400.0, 0.01_f64..1.0, 0.0_f64..=1.0), 1..5),
        amount_kg in 0.005_f64..1.0,
        depth_m in 0.3_f64..5.0,
    ) {
        let whole: f64 = parts.iter().map(|part| part.2).sum();
        let classes = parts.iter().map(|p| class("part", p.0, p.1, p.2 / whole, p.3)).collect();
        let recipe = Recipe { classes, ..groundbait() };
        let falling = FallingBait::new(&recipe, amount_kg, depth_m, SESSION_S, &fluid_at(15.0));
        let sum_kg = falling.hanging_kg + falling.food_kg + falling.inert_kg;
        prop_assert!((sum_kg - amount_kg).abs() <= 1e-12);
        prop_assert!(falling.food_kg <= amount_kg * recipe.edible_share() + 1e-12);
        prop_assert!(falling.hanging_kg >= 0.0 && falling.inert_kg >= -1e-15);
        prop_assert!((0.0..=SESSION_S * 1.000_1).contains(&falling.fall_s));
    }
}

/// V-43: a load's opening times have the medians of recipe and book, pressing delays them as stated, and only a
/// hookbait on top rolls off.
#[test]
fn loads_open_at_the_time_of_their_recipe_in_the_median() {
    let (recipe, params) = (groundbait(), BaitParams::central());
    for (seed, style, squeeze) in [(4301, LoadStyle::Top, 1.0), (4302, LoadStyle::Buried, 1.6)] {
        let mut dice = Dice::from_key(&[seed]);
        let openings: Vec<Opening> = (0..20_000)
            .map(|_| Opening::draw(&recipe, style, squeeze, &params, &mut dice))
            .collect();
        assert!(
            openings
                .iter()
                .all(|opening| 0.0 < opening.starts_s && opening.starts_s < opening.down_s)
        );
        let logs: Vec<f64> =
            openings.iter().map(|opening| (opening.starts_s / (45.0 * squeeze)).ln()).collect();
        mean_is("V-43 logarithm of the start", &logs, 0.0);
        let ratios: Vec<f64> =
            openings.iter().map(|opening| (opening.down_s / opening.starts_s - 1.0).ln()).collect();
        mean_is("V-43 logarithm of its length", &ratios, params.opening_length_ratio.ln());
        let strayed: Vec<f64> =
            openings.iter().map(|opening| f64::from(u8::from(!opening.on_pile))).collect();
        match style {
            LoadStyle::Top => mean_is("V-43 strays", &strayed, params.top_strays_share),
            LoadStyle::Buried => {
                assert!(strayed.iter().all(|&s| s <= 0.0), "V-43: buried baits stay")
            }
        }
    }
}
