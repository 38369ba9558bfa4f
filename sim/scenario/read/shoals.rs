//! Shoals, from their keys.

use super::homes::Homes;
use super::moves::moves;
use crate::fish::{Gape, Shoal, Species, StockDensity, TraitPriors};
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::schema::shoal as shoal_keys;
use crate::scenario::values::ValueTable;

/// All shoals, in the order of the file; what is wrong with their moves is added to `faults`.
pub(super) fn shoals(
    table: &ValueTable,
    homes: &Homes<'_>,
    faults: &mut Diagnostics,
) -> Vec<Shoal> {
    let names = table.names(shoal_keys::SHOALS, &[]).into_iter();
    names.map(|name| shoal(table, name, homes, faults)).collect()
}

fn shoal(table: &ValueTable, name: &str, homes: &Homes<'_>, faults: &mut Diagnostics) -> Shoal {
    let home = table.given(&shoal_keys::HOME.at(&[name])).and_then(|home| homes.named(&home));
    let everywhere_m = (0.5 * homes.chart.width_m, 0.5 * homes.chart.length_m);
    let (half_length_m, half_width_m) = home.map_or(everywhere_m, |(_, half_m)| half_m);
    let position = || {
        let across_m = table.given(&shoal_keys::HOME_ACROSS.at(&[name]));
        homes.place(across_m, table.given(&shoal_keys::HOME_OUT.at(&[name])))
    };
    let mut shoal = Shoal {
        name: name.to_owned(),
        species: species(table, name),
        count: table.value(&shoal_keys::COUNT.at(&[name])),
        stock: None,
        mass_kg: table.value(&shoal_keys::WEIGHT.at(&[name])),
        mass_cv: table.value(&shoal_keys::WEIGHT_CV.at(&[name])),
        home: home.map_or_else(position, |(centre, _)| centre),
        home_half_length_m: table
            .given(&shoal_keys::HOME_HALF_LENGTH.at(&[name]))
            .unwrap_or(half_length_m),
        home_half_width_m: table
            .given(&shoal_keys::HOME_HALF_WIDTH.at(&[name]))
            .unwrap_or(half_width_m),
        home_shift_m: table.value(&shoal_keys::HOME_SHIFT.at(&[name])),
        moves: moves(table, name, homes, faults),
        traits: TraitPriors::from_fn(|of| table.given(&shoal_keys::of_trait(of).at(&[name]))),
    };
    shoal.stock = table.given(&shoal_keys::STOCK.at(&[name])).map(|kg_m2| {
        let share = table.value(&shoal_keys::STOCK_SHARE.at(&[name]));
        StockDensity { kg_m2, area_m2: share * shoal.home_area_m2(homes.chart) }
    });
    shoal
}

/// The species of a shoal, with what is written of its gape and its appetite in the cold.
fn species(table: &ValueTable, name: &str) -> Species {
    let species = table.value(&shoal_keys::SPECIES.at(&[name]));
    let gape = table.given(&shoal_keys::GAPE.at(&[name])).map(Gape::OfLength);
    let cold_shift_c = table.given(&shoal_keys::COLD_SHIFT.at(&[name]));
    Species {
        gape: gape.unwrap_or(species.gape),
        cold_shift_c: cold_shift_c.unwrap_or(species.cold_shift_c),
        ..species
    }
}

#[cfg(test)]
mod tests {
    use crate::scenario::{Scenario, read};
    use crate::water::Point;

    const WATER: &str = r#"
        [session]
        start = "10:00"
        [water.feature.isle]
        across = "4 m"
        out = "30 m"
        half_length = "6 m"
        half_width = "2 m"
        [line.bar]
        distance = "28 m"
        [plan.patient]
    "#;

    fn outcome(keys: &str, sets: &[&str]) -> Result<Scenario, String> {
        let text = format!("{WATER}{keys}");
        let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
        read(&text, "pond", &sets).map_err(|faults| faults.to_string())
    }

    fn scenario(keys: &str, sets: &[&str]) -> Scenario {
        outcome(keys, sets).unwrap_or_else(|faults| panic!("{faults}"))
    }

    #[track_caller]
    fn has_fault(keys: &str, words: &str) {
        let faults = outcome(keys, &[]).expect_err("it has faults");
        assert!(faults.contains(words), "{faults}");
    }

    #[test]
    fn fish_stay_when_an_override_moves_their_line() {
        let keys = "[shoal.residents]\nhome = \"bar\"";
        let moved = scenario(keys, &["line.bar.distance=16 m", "line.bar.bearing=20 deg"]);
        assert_eq!(moved.shoals[0].home, Point { x_m: 0.0, y_m: 28.0 });
        assert!((moved.lines[0].at.distance_m(Point::default()) - 16.0).abs() < 1e-9);
    }

    #[test]
    fn a_home_at_a_feature_has_its_extent() {
        let shoal = &scenario("[shoal.residents]\nhome = \"isle\"", &[]).shoals[0];
        assert_eq!(shoal.home, Point { x_m: 4.0, y_m: 30.0 });
        assert!((shoal.home_half_length_m - 6.0).abs() < 1e-9);
        assert!((shoal.home_half_width_m - 2.0).abs() < 1e-9);
        has_fault("[shoal.residents]\nhome = \"island\"", "no line or feature named");
    }

    #[test]
    fn a_shoal_moves_at_a_clock_time_or_after_a_time() {
        let keys = "[shoal.residents.move]\n\
                    evening = { at = \"14:30\", to = \"bar\" }\n\
                    noon = { after = \"2 h\", to_across = \"-6 m\", to_out = \"9 m\" }";
        let moves = &scenario(keys, &[]).shoals[0].moves;
        let times: Vec<f64> = moves.iter().map(|step| step.after_s).collect();
        assert_eq!(times, [7200.0, 16_200.0]);
        assert_eq!(moves[0].to, Point { x_m: -6.0, y_m: 9.0 });
        assert_eq!(moves[1].to, Point { x_m: 0.0, y_m: 28.0 });
    }

    #[test]
    fn a_move_says_when_and_where_in_one_way() {
        let step = |keys: &str| format!("[shoal.residents.move]\nevening = {{ {keys} }}");
        has_fault(&step("to = \"bar\""), "does not say when");
        has_fault(&step("after = \"1 h\""), "does not say where");
        has_fault(&step("at = \"11:00\", after = \"1 h\", to = \"bar\""), "together with after");
        has_fault(&step("after = \"1 h\", to = \"bar\", to_out = \"9 m\""), "together with to");
        has_fault(&step("at = \"9:00\", to = \"bar\""), "not within the session");
        has_fault(&step("at = \"nine\", to = \"bar\""), "not a clock time");
        has_fault(&step("after = \"9 h\", to = \"bar\""), "not before the end");
        has_fault(&step("after = \"1 h\", to = \"pads\""), "no line or feature named");
        has_fault(&step("after = \"1 h\", to_out = \"99 m\""), "outside the water");
    }

    #[test]
    fn a_species_can_be_stated_differently() {
        let keys = "[shoal.silvers]\nspecies = \"roach\"\nweight = \"100 g\"\n\
                    [shoal.winter]\nspecies = \"roach\"\ncold_shift = \"9 F\"\ngape = 0.05";
        let shoals = &scenario(keys, &[]).shoals;
        let length_m = shoals[0].species.length_weight.length_m(0.1);
        assert!((0.2..0.25).contains(&length_m), "a roach of 100 g has {length_m} m");
        let params = crate::fish::FishParams::central();
        assert!(shoals[0].appetite(4.0, &params) < shoals[1].appetite(4.0, &params));
        assert!((shoals[1].gape_m(0.2, &params) - 0.01).abs() < 1e-12);
        assert!((shoals[1].species.cold_shift_c - 5.0).abs() < 1e-12);
        has_fault("[shoal.silvers]\nspecies = \"roche\"", "did you mean `roach`");
    }

    #[test]
    fn a_stock_makes_a_number_of_fish_by_area_and_weight() {
        let keys = "[shoal.a]\nstock = \"1000 kg/ha\"\nstock_share = 0.5\nweight = \"2 kg\"\n\
                    home_half_length = \"20 m\"\nhome_half_width = \"10 m\"\nhome_across = \"0 m\"";
        let number = |across: &str| {
            scenario(keys, &[&format!("shoal.a.home_across={across}")]).shoals[0].mean_number()
        };
        let whole = 0.5 * 0.1 * std::f64::consts::PI * 20.0 * 10.0 / 2.0;
        assert!((number("0 m") / whole - 1.0).abs() < 1e-9);
        assert!((number("30 m") / whole - 0.5).abs() < 1e-2, "half of the home range is on land");
        has_fault("[shoal]\na = { stock = \"400 kg/ha\", count = 9 }", "together with count");
        has_fault("[shoal]\na = { stock_share = 0.5 }", "only counts together with stock");
        has_fault(
            "[shoal]\na = { stock = \"9000 kg/ha\", weight = \"50 g\" }",
            "2000 fish at most",
        );
    }

    #[test]
    fn the_wind_comes_from_one_side() {
        let wind = |keys: &str| scenario("", &[keys]).weather.wind_to_deg;
        assert_eq!(wind("water.wind_from=behind me"), wind("water.wind_to=90 deg"));
        let faults = outcome("", &["water.wind_from=behind me", "water.wind_to=90 deg"]);
        assert!(faults.expect_err("two directions").contains("together with wind_to"));
    }
}
