//! What a fish takes into its mouth, by its size and by the size of the items.

use proptest::prelude::*;
use sim::fish::{
    FishParams, LengthWeight, bite_kg, full_mouth_kg, gape_m, glance_area_m2, size_fit,
    suck_area_m2,
};

use crate::evidence::near;
use crate::measured::measured;

/// V-161: an item at the book's limit, over the gape, is taken half as readily as a small one; readiness rises with the
/// gape and falls with the item, from one to zero.
#[test]
fn an_item_at_the_limit_of_the_gape_is_taken_half_as_readily() {
    let params = FishParams::central();
    for length_m in [0.2, 0.45, 0.8] {
        let gape = gape_m(length_m, &params);
        near("V-161 gape [m]", gape, params.gape_share * length_m, 1e-12);
        let limit_m = params.item_limit_gapes * gape;
        near("V-161 at the limit", size_fit(limit_m, gape, &params), 0.5, 1e-12);
        near("V-161 at half the limit", size_fit(0.5 * limit_m, gape, &params), 16.0 / 17.0, 1e-12);
        near("V-161 at twice the limit", size_fit(2.0 * limit_m, gape, &params), 1.0 / 17.0, 1e-12);
        near("V-161 a speck", size_fit(0.0, gape, &params), 1.0, 1e-12);
    }
}

/// V-196: by its mass over the time that it takes to swallow, 1/s of that of a small one, the best item has 3^(1/4) k of the
/// gape. With the book's value that is 0.6, as of the jaws of sticklebacks; the book's range has the half to the whole gape of
/// small roach and bleak.
#[test]
fn the_best_item_has_the_published_share_of_the_gape() {
    let params = FishParams::central();
    let gape = gape_m(0.4, &params);
    let gain = |share: f64| share.powi(3) * size_fit(share * gape, gape, &params);
    let shares = (1..2000).map(|thousandth| 0.001 * f64::from(thousandth));
    let best = shares.max_by(|a, b| gain(*a).total_cmp(&gain(*b))).expect("some");
    let by_limit = 3.0_f64.powf(0.25);
    near("V-196 best item over the gape", best, by_limit * params.item_limit_gapes, 1e-3);
    assert!((0.55..0.65).contains(&best), "V-196: {best} is not 0.6 to the digit printed");
    let rows = FishParams::book();
    let row = rows.rows().iter().find(|row| row.key == "item_limit_gapes").expect("a row");
    let [low, high] = row.range.map(|limit| by_limit * limit);
    assert!(low <= 0.5 && 1.0 <= high, "V-196: the range gives {low:.2} to {high:.2}");
    measured!("V-196", "{best:.2} of the gape, {low:.2} to {high:.2} over the range");
}

/// V-162: one suck takes what lies under the mouth, but at least one item and at most a full mouth.
#[test]
fn a_suck_takes_what_lies_there_between_one_item_and_a_full_mouth() {
    let (item_kg, full_kg, area_m2) = (1e-5, 4e-4, 2e-3);
    let bite = |density_kg_m2: f64| bite_kg(density_kg_m2, area_m2, item_kg, full_kg);
    near("V-162 where next to nothing lies [kg]", bite(1e-9), item_kg, 1e-12);
    near("V-162 in between [kg]", bite(0.05), 0.05 * area_m2, 1e-12);
    near("V-162 where it lies thick [kg]", bite(50.0), full_kg, 1e-12);
    near(
        "V-162 an item larger than the mouth holds [kg]",
        bite_kg(50.0, area_m2, 1e-3, full_kg),
        1e-3,
        1e-12,
    );

    // Mouths have one shape: twice the length is eight times the volume and four times the area of a suck.
    let params = FishParams::central();
    let length_m = LengthWeight::CARP.length_m(1.0);
    near("V-162 a fish of 1 kg [kg]", full_mouth_kg(full_kg, length_m), full_kg, 1e-12);
    near("V-162 twice as long [kg]", full_mouth_kg(full_kg, 2.0 * length_m), 8.0 * full_kg, 1e-12);
    let area = |length_m: f64| suck_area_m2(gape_m(length_m, &params), &params);
    near("V-162 area of a suck", area(2.0 * length_m) / area(length_m), 4.0, 1e-12);
    let reach_m = params.suck_reach_gapes * gape_m(length_m, &params);
    near(
        "V-162 area of a suck [m²]",
        area(length_m),
        std::f64::consts::PI * reach_m * reach_m,
        1e-12,
    );
    let glance_m2 = std::f64::consts::PI * params.glance_m.powi(2);
    near("V-162 area of a find in scattered feed [m²]", glance_area_m2(&params), glance_m2, 1e-12);
}

proptest! {
    #![proptest_config(crate::evidence::the_same_cases())]

    /// V-161: readiness is between zero and one, rises with the size of the fish and falls with that of the item.
    #[test]
    fn larger_fish_take_larger_items(
        length_m in 0.05_f64..1.2,
        longer in 1.0_f64..3.0,
        diameter_m in 0.0002_f64..0.04,
        larger in 1.0_f64..5.0,
    ) {
        let params = FishParams::central();
        let fit = |diameter_m: f64, length_m: f64| size_fit(diameter_m, gape_m(length_m, &params), &params);
        let here = fit(diameter_m, length_m);
        prop_assert!((0.0..=1.0).contains(&here));
        prop_assert!(fit(diameter_m, longer * length_m) >= here);
        prop_assert!(fit(larger * diameter_m, length_m) <= here);
    }

    /// V-162: a larger fish takes no less, and denser food gives no less.
    #[test]
    fn larger_fish_and_denser_food_give_larger_sucks(
        length_m in 0.1_f64..1.0,
        longer in 1.0_f64..3.0,
        density_kg_m2 in 1e-4_f64..10.0,
        denser in 1.0_f64..10.0,
        item_kg in 1e-7_f64..5e-4,
    ) {
        let params = FishParams::central();
        let suck = |length_m: f64, density_kg_m2: f64| {
            let area_m2 = suck_area_m2(gape_m(length_m, &params), &params);
            bite_kg(density_kg_m2, area_m2, item_kg, full_mouth_kg(4e-4, length_m))
        };
        let here = suck(length_m, density_kg_m2);
        prop_assert!(here >= item_kg);
        prop_assert!(suck(longer * length_m, density_kg_m2) >= here);
        prop_assert!(suck(length_m, denser * density_kg_m2) >= here);
    }
}
