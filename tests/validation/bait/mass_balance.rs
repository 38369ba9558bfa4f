//! Bait settling and on the bed: its mass is conserved.

use proptest::prelude::*;
use sim::bait::{
    BaitParams, FallingBait, Feed, LoadStyle, Opening, ParticleClass, ParticleShape, Patch, Recipe,
    pile_radius_m,
};
use sim::engine::{Dice, Time};
use sim::water::{Fluid, fluid_at};

use crate::evidence::{LargestScore, mean_is, near};
use crate::measured::measured;

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

/// Time that one class of the invented groundbait takes to the bed [s].
fn fall_s(name: &str, depth_m: f64, fluid: &Fluid) -> f64 {
    let class = groundbait().classes.into_iter().find(|class| class.name == name);
    let class = class.expect("a class of the recipe");
    let speed =
        sim::bait::settling_speed_m_s(class.diameter_m, class.density_kg_m3, class.shape, fluid);
    sim::bait::fall_time_s(depth_m, speed)
}

/// V-40: bait thrown hangs in the water or reaches the bed, as food or as other matter, and nothing is lost.
///
/// A floating class never lands. Of a class that takes the time t, the share 1/(1 + (t/t₀)⁴) lands: for the pellets and
/// crumb here t is below 100 s, so that less than (100 s/2400 s)⁴ = 3·10⁻⁶ of them hangs; for fines of 0.02 mm it is
/// above 10 h, so that less than (2400 s/36 000 s)⁴ = 2·10⁻⁵ of them lands.
#[test]
fn fines_stay_suspended_and_the_rest_settles() {
    let (fluid, params) = (fluid_at(15.0), BaitParams::central());
    assert!(fall_s("fines", 1.5, &fluid) > 36_000.0, "V-40: fines are slow");
    assert!(fall_s("crumb", 1.5, &fluid) < 100.0, "V-40: crumb is fast");
    let falling = FallingBait::new(&groundbait(), 0.5, 1.5, &fluid, &params);
    near("V-40 hanging [kg]", falling.hanging_kg, 0.5 * (0.2 + 0.1), 2e-5);
    near("V-40 food [kg]", falling.food_kg, 0.5 * (0.5 * 0.4 + 0.2), 2e-5);
    near("V-40 no food [kg]", falling.inert_kg, 0.5 * 0.5 * 0.6, 2e-5);
    let sum_kg = falling.hanging_kg + falling.food_kg + falling.inert_kg;
    near("V-40 all of it [kg]", sum_kg, 0.5, 1e-12);

    // The mean time of the food is that of its classes, weighted by the food of each that lands.
    let lands = |t_s: f64| 1.0 / (1.0 + (t_s / params.hang_s).powi(4));
    let mean_s = |depth_m: f64| {
        let parts = [("fines", 0.2 * 0.5), ("crumb", 0.5 * 0.4), ("pellets", 0.2)];
        let (sum, weight) = parts.iter().fold((0.0, 0.0), |(sum, weight), (name, food)| {
            let t_s = fall_s(name, depth_m, &fluid);
            (sum + t_s * food * lands(t_s), weight + food * lands(t_s))
        });
        sum / weight
    };
    for depth_m in [1.5, 3.0] {
        let fallen = FallingBait::new(&groundbait(), 0.5, depth_m, &fluid, &params);
        near("V-40 mean time of the food [s]", fallen.fall_s, mean_s(depth_m), 1e-12);
    }
}

/// V-40: half of a class hangs if it takes the book's time to the bed.
///
/// The depth is chosen for that: h = w t₀. Three quarters of it takes (3/4)⁴ = 81/256, of which 256/337 lands.
#[test]
fn half_of_a_class_hangs_at_the_time_of_the_book() {
    let (fluid, params) = (fluid_at(15.0), BaitParams::central());
    let only = Recipe { classes: vec![class("fines", 0.05, 1100.0, 1.0, 0.0)], ..groundbait() };
    let speed_m_s = sim::bait::settling_speed_m_s(5e-5, 1100.0, ParticleShape::Grain, &fluid);
    let depth_m = speed_m_s * params.hang_s;
    let landed_kg = |depth_m: f64| FallingBait::new(&only, 1.0, depth_m, &fluid, &params).inert_kg;
    near("V-40 half lands", landed_kg(depth_m), 0.5, 1e-12);
    near("V-40 at three quarters", landed_kg(0.75 * depth_m), 256.0 / 337.0, 1e-12);
}

/// V-40: the book's factor moves the odds of being food, so a class that is all food or none stays so.
#[test]
fn the_edible_factor_moves_odds() {
    let fluid = fluid_at(15.0);
    let params = BaitParams { edible_factor: 2.0, ..BaitParams::central() };
    for (edible, doubled) in [(0.0, 0.0), (0.2, 1.0 / 3.0), (0.5, 2.0 / 3.0), (1.0, 1.0)] {
        let only =
            Recipe { classes: vec![class("crumb", 4.0, 1150.0, 1.0, edible)], ..groundbait() };
        let falling = FallingBait::new(&only, 1.0, 1.0, &fluid, &params);
        let share = falling.food_kg / (falling.food_kg + falling.inert_kg);
        assert!((share - doubled).abs() < 1e-12, "V-40: odds of {edible} doubled give {share}");
    }
}

/// V-164: what lands and what hangs changes without a step over depth and temperature.
///
/// The landed share of a class is S = 1/(1 + x⁴), x = t/t₀, with −x dS/dx = 4 S (1 − S) ≤ 1. So a change of the fall
/// time by the factor f moves it by at most |ln f|, and that of a whole recipe too. Depth moves t in proportion. A step
/// of 0.1 °C moves t by less than 0.4 %: viscosity falls by less than 3.4 % for each degree above 2 °C, and the water's
/// density by less than 0.34 kg/m³, which is 0.7 % of an excess density of 50 kg/m³. A limit at the length of the
/// session would move a fifth of all bait at once.
#[test]
fn what_hangs_changes_without_a_step_over_depth_and_temperature() {
    let params = BaitParams::central();
    // Fines of 0.15 mm take about the book's time over 1.3 m at 15 °C.
    let mut recipe = groundbait();
    recipe.classes[0].diameter_m = 1.5e-4;
    let hanging = |depth_m: f64, temperature_c: f64| {
        let falling = FallingBait::new(&recipe, 1.0, depth_m, &fluid_at(temperature_c), &params);
        assert!(falling.fall_s.is_finite(), "V-164: {depth_m} m, {temperature_c} °C");
        falling.hanging_kg
    };
    let moved = hanging(5.0, 5.0) - hanging(0.3, 30.0);
    assert!(moved > 0.15, "V-164: most of the fines hang or land, not {moved}");
    let (mut steepest_depth, mut steepest_warmth) = (0.0_f64, 0.0_f64);
    for tenths in 20..320 {
        let temperature_c = 0.1 * f64::from(tenths);
        for depth_m in [0.3, 0.8, 1.1, 1.6, 2.4, 5.0] {
            let here = hanging(depth_m, temperature_c);
            let deeper = hanging(1.01 * depth_m, temperature_c) - here;
            assert!(deeper >= 0.0, "V-164: less hangs in deeper water");
            let warmer = here - hanging(depth_m, temperature_c + 0.1);
            steepest_depth = steepest_depth.max(deeper);
            steepest_warmth = steepest_warmth.max(warmer.abs());
        }
    }
    assert!(steepest_depth <= 1.01_f64.ln(), "V-164: {steepest_depth} for 1 % of depth");
    assert!(steepest_warmth <= 0.004, "V-164: {steepest_warmth} for 0.1 °C");
    measured!("V-164", "{steepest_depth:.4} for 1 % of depth, {steepest_warmth:.4} for 0.1 °C");
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
    let mut patch = Patch::new(8.0);
    patch.lose_until(Time::from_seconds(900.0), loss_per_s);
    patch.add(0.1, feed(2e-4));
    let mut lost_kg = 0.0;
    for step in 1..=3600 {
        lost_kg += patch.lose_until(Time::from_seconds(900.0 + f64::from(step)), loss_per_s);
    }
    near("V-41 left after an hour [kg]", patch.food_kg, 0.1 * (-0.72_f64).exp(), 1e-11);
    near("V-41 left and lost [kg]", patch.food_kg + lost_kg, 0.1, 1e-12);
    near("V-41 mouthfuls", patch.mouthfuls(), patch.food_kg / 2e-4, 1e-12);
}

/// Food in items of a tenth of a mouthful.
fn feed(mouthful_kg: f64) -> Feed {
    Feed { mouthful_kg, item_kg: 0.1 * mouthful_kg, diameter_m: 0.004 }
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
        let mut patch = Patch::new(2.0);
        let mut now = Time::ZERO;
        let (mut put, mut gone) = (0.0, 0.0);
        for act in acts {
            match act {
                Act::Add(food_kg, mouthful_kg) => {
                    let before = patch.mouthfuls();
                    patch.add(food_kg, feed(mouthful_kg));
                    put += food_kg;
                    let mouthfuls = before + food_kg / mouthful_kg;
                    prop_assert!((patch.mouthfuls() - mouthfuls).abs() <= 1e-9 * mouthfuls);
                }
                Act::Eat(times) => {
                    for _ in 0..times {
                        // A rest of less than one item, or of a milligram, goes with the last mouthful.
                        let mouthful_kg = patch.feed.mouthful_kg;
                        let taken_kg = patch.take(mouthful_kg);
                        let rest_kg = patch.feed.item_kg.min(1e-6);
                        prop_assert!(taken_kg >= 0.0 && taken_kg <= mouthful_kg + rest_kg);
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
        let params = BaitParams::central();
        let falling = FallingBait::new(&recipe, amount_kg, depth_m, &fluid_at(15.0), &params);
        let sum_kg = falling.hanging_kg + falling.food_kg + falling.inert_kg;
        prop_assert!((sum_kg - amount_kg).abs() <= 1e-12);
        prop_assert!(falling.food_kg <= amount_kg * recipe.edible_share() + 1e-12);
        prop_assert!(falling.hanging_kg >= 0.0 && falling.inert_kg >= -1e-15);
        prop_assert!(falling.fall_s.is_finite() && falling.fall_s >= 0.0);
    }
}

/// V-388: piles have one shape: eight times the load makes a pile of twice the radius and four times the area, 25 g one of the
/// book's radius. A pinch below a gram lies as a gram does.
#[test]
fn piles_have_one_shape() {
    let params = BaitParams::central();
    near("V-388 25 g [m]", pile_radius_m(0.025, &params), params.pile_radius_m, 1e-12);
    for load_kg in [0.002, 0.03, 0.2] {
        let (one_m, eight_m) =
            (pile_radius_m(load_kg, &params), pile_radius_m(8.0 * load_kg, &params));
        near("V-388 eight times the load", eight_m / one_m, 2.0, 1e-12);
    }
    near("V-388 a pinch [m]", pile_radius_m(0.0, &params), pile_radius_m(0.001, &params), 1e-12);
}

/// V-43: a load's opening times have the medians of recipe and book, pressing delays them as stated, so does the mass of
/// the load by the book's power, and only a hookbait on top rolls off.
#[test]
fn loads_open_at_the_time_of_their_recipe_in_the_median() {
    let (recipe, params) = (groundbait(), BaitParams::central());
    let mut largest = LargestScore::default();
    for (seed, style, squeeze, load_kg) in [
        (4301, LoadStyle::Top, 1.0, 0.025),
        (4302, LoadStyle::Buried, 1.6, 0.025),
        (4303, LoadStyle::Top, 1.0, 1e-5),
        (4304, LoadStyle::Buried, 1.0, 0.2),
    ] {
        let thickness = (load_kg / 0.025_f64).powf(params.opening_load_exponent);
        let mut dice = Dice::from_key(&[seed]);
        let openings: Vec<Opening> = (0..20_000)
            .map(|_| Opening::draw(&recipe, load_kg, style, squeeze, &params, &mut dice))
            .collect();
        assert!(
            openings
                .iter()
                .all(|opening| 0.0 < opening.starts_s && opening.starts_s < opening.down_s)
        );
        let logs: Vec<f64> = openings
            .iter()
            .map(|opening| (opening.starts_s / (45.0 * squeeze * thickness)).ln())
            .collect();
        largest.add(mean_is("V-43 logarithm of the start", &logs, 0.0));
        let ratios: Vec<f64> =
            openings.iter().map(|opening| (opening.down_s / opening.starts_s - 1.0).ln()).collect();
        let length = params.opening_length_ratio.ln();
        largest.add(mean_is("V-43 logarithm of its length", &ratios, length));
        let strayed: Vec<f64> =
            openings.iter().map(|opening| f64::from(u8::from(!opening.on_pile))).collect();
        match style {
            LoadStyle::Top => {
                largest.add(mean_is("V-43 strays", &strayed, params.top_strays_share));
            }
            LoadStyle::Buried => {
                assert!(strayed.iter().all(|&s| s <= 0.0), "V-43: buried baits stay")
            }
        }
    }
    measured!("V-43", "{largest}");
}
