//! The meaning of valid scenarios.

use sim::angler::FeedMethod;
use sim::fish::Trait;
use sim::params::{DailyDistribution, Prior};
use sim::scenario::{SessionKind, Units, load, read};
use sim::water::Point;

use super::reading::{SMALL, read_valid};

#[track_caller]
fn near(found: f64, expected: f64, unit: &str) {
    let slack = 1e-9 * expected.abs().max(1.0);
    assert!((found - expected).abs() <= slack, "found {found} {unit}, expected {expected} {unit}");
}

#[test]
fn three_keys_make_a_scenario_and_all_others_have_defaults() {
    let scenario = read_valid(SMALL, &[]);
    assert_eq!(scenario.name, "pond");
    assert_eq!(scenario.title, "pond");
    near(scenario.session_s, 18_000.0, "s");
    assert_eq!(scenario.kind, SessionKind::Match);
    assert_eq!(scenario.units, Units::Metric);
    assert_eq!(scenario.keepnet, None);
    assert_eq!(
        scenario.weather.temperature_c,
        DailyDistribution::Uniform { low: 15.0, high: 20.0 }
    );
    assert_eq!(scenario.plans.len(), 1);
    let phase = &scenario.plans[0].phases[0];
    near(phase.tackle.recast_s, 600.0, "s");
    near(phase.tackle.load_kg, 0.025, "kg");
    near(phase.until_s, 18_000.0, "s");
    assert_eq!(scenario.recipes[phase.tackle.recipe].name, "groundbait");
    assert_eq!(scenario.hookbaits[phase.tackle.hookbait].name, "soft-pellet");
    assert_eq!(scenario.sha256.len(), 64);
}

#[test]
fn a_plan_needs_nothing_but_its_name() {
    let scenario = read_valid("line.bar.distance = \"28 m\"\n[plan.plain]\n", &[]);
    assert_eq!(scenario.plans[0].name, "plain");
    near(scenario.plans[0].phases[0].tackle.recast_s, 300.0, "s");
}

#[test]
fn a_water_without_fish_is_allowed() {
    assert!(read_valid("line.a.distance = \"9 m\"\n[plan.b]\n", &[]).shoals.is_empty());
    let none = read_valid(SMALL, &["shoal.residents.count=0"]);
    assert_eq!(none.shoals[0].count, DailyDistribution::Fixed(0.0));
}

#[test]
fn quantities_are_read_in_every_documented_unit() {
    let time = |text: &str| read_valid(SMALL, &[&format!("session.length={text}")]).session_s;
    near(time("90s"), 90.0, "s");
    near(time("2 min 30 s"), 150.0, "s");
    near(time("4h30min"), 16_200.0, "s");
    near(time("1.5 hours"), 5400.0, "s");
    let mass = |text: &str| {
        let set = format!("shoal.residents.weight={text}");
        read_valid(SMALL, &[&set]).shoals[0].mass_kg.mean()
    };
    near(mass("3 lb 4 oz"), 3.25 * 0.453_592_37, "kg");
    near(mass("3lb4oz"), 3.25 * 0.453_592_37, "kg");
    near(mass("900 g"), 0.9, "kg");
    let load = |text: &str| {
        let set = format!("plan.patient.load={text}");
        read_valid(SMALL, &[&set]).plans[0].phases[0].tackle.load_kg
    };
    near(load("1 pint"), 0.35, "kg");
    near(load("25g"), 0.025, "kg");
    near(load("2 handfuls"), 0.1, "kg");
    near(load("1 handful 3 g"), 0.053, "kg");
    near(load("1.5 pouches"), 0.03, "kg");
    // π/6 · (6 mm)³ · 1150 kg/m³ = 0.130062 g.
    near(load("20 pellets of 6 mm"), 20.0 * 1.300_619_359e-4, "kg");
    near(load("1 pellet of 0.8 cm"), 3.082_949_592e-4, "kg");
    let distance =
        |text: &str| read_valid(SMALL, &[&format!("line.bar.distance={text}")]).lines[0].at.y_m;
    near(distance("20 yd"), 18.288, "m");
    near(distance("60 ft"), 18.288, "m");
    let warmth = |text: &str| {
        read_valid(SMALL, &[&format!("water.temperature={text}")]).weather.temperature_c.mean()
    };
    near(warmth("18 °C"), 18.0, "°C");
    near(warmth("18C"), 18.0, "°C");
    near(warmth("68 F"), 20.0, "°C");
    let wind =
        |text: &str| read_valid(SMALL, &[&format!("water.wind={text}")]).weather.wind_m_s.mean();
    near(wind("18 km/h"), 5.0, "m/s");
    near(wind("10 mph"), 4.4704, "m/s");
    near(wind("3 m/s"), 3.0, "m/s");
    let density = read_valid(
        "line.a.distance = \"9 m\"\n[plan.b]\n",
        &["bait.groundbait.class.fines.density=1200kg/m3"],
    );
    near(density.recipes[0].classes[0].density_kg_m3, 1200.0, "kg/m³");
}

#[test]
fn the_ends_of_a_range_are_within_it_in_any_unit() {
    let ends = [
        "bait.groundbait.mouthful=0.01 g",
        "bait.groundbait.mouthful=100 g",
        "bait.pellets-4mm.class.pellet.diameter=0.001 mm",
        "water.wind=90 km/h",
        "line.bar.distance=200 cm",
        "session.length=1440 min",
        "water.wind_to=-360 deg",
        "shoal.residents.rises=0",
    ];
    for set in ends {
        read_valid(SMALL, &[set]);
    }
}

#[test]
fn spreads_are_read_in_both_forms_and_one_part_can_be_set() {
    let text = format!("{SMALL}water.temperature = {{ low = \"50 F\", high = \"15 C\" }}\n");
    let count = "shoal.residents.count={ mean = 80, cv = 0.2 }";
    let scenario =
        read_valid(&text, &[count, "water.temperature.high=16 C", "water.wind.high=36 km/h"]);
    assert_eq!(
        scenario.weather.temperature_c,
        DailyDistribution::Uniform { low: 10.0, high: 16.0 }
    );
    assert_eq!(scenario.weather.wind_m_s, DailyDistribution::Uniform { low: 0.0, high: 10.0 });
    assert_eq!(scenario.shoals[0].count, DailyDistribution::LogNormal { mean: 80.0, cv: 0.2 });
}

#[test]
fn lines_lie_by_distance_and_bearing_and_a_shoal_lives_at_one() {
    let text = r#"
        [line.open]
        distance = "20 m"
        bearing = "30 deg"
        [shoal.residents]
        home = "open"
        [shoal.roamers]
        home_across = "-5 m"
        [plan.a]
    "#;
    let scenario = read_valid(text, &[]);
    near(scenario.lines[0].at.x_m, 10.0, "m");
    near(scenario.lines[0].at.y_m, 20.0 * 0.75_f64.sqrt(), "m");
    assert_eq!(scenario.shoals[0].home, scenario.lines[0].at);
    near(scenario.shoals[1].home.x_m, -5.0, "m");
    near(scenario.shoals[1].home.y_m, 22.5, "m");
    assert!(scenario.shoals[0].traits[Trait::Rises].is_none());
}

#[test]
fn soundings_by_distance_are_a_profile_along_the_whole_bank() {
    let text = format!(
        "{SMALL}[water.sounding]\nfar = {{ distance = \"20 m\", depth = \"2 m\" }}\n\
         near = {{ distance = \"5 m\", depth = \"1 m\" }}\n"
    );
    let chart = read_valid(&text, &[]).chart;
    for x_m in [-25.0, 0.0, 25.0] {
        near(chart.depth_m(Point { x_m, y_m: 0.0 }), 1.0, "m");
        near(chart.depth_m(Point { x_m, y_m: 12.5 }), 1.5, "m");
        near(chart.depth_m(Point { x_m, y_m: 40.0 }), 2.0, "m");
    }
}

#[test]
fn soundings_at_a_place_and_depths_of_lines_bend_the_profile_there() {
    let text = r#"
        [water]
        depth = "2 m"
        sounding.hole = { across = "-9 m", out = "10 m", depth = "3 m" }
        sounding.hump = { distance = "20 m", bearing = "30 deg", depth = "1 m" }
        [line.shelf]
        distance = "30 m"
        depth = "0.8 m"
        [plan.a]
    "#;
    let scenario = read_valid(text, &[]);
    let depth_m = |x_m, y_m| scenario.chart.depth_m(Point { x_m, y_m });
    near(depth_m(-9.0, 10.0), 3.0, "m");
    near(depth_m(10.0, 20.0 * 0.75_f64.sqrt()), 1.0, "m");
    near(scenario.chart.depth_m(scenario.lines[0].at), 0.8, "m");
    near(depth_m(28.0, 2.0), 2.0, "m");
}

#[test]
fn a_phase_inherits_what_it_leaves_out_and_a_gap_takes_the_rod_out() {
    let text = r#"
        [line.near]
        distance = "12 m"
        [line.far]
        distance = "30 m"
        [plan.two-lines]
        line = "far"
        recast = "2 min"
        feed.near = { bait = "pellets-4mm", every = "5 min", amount = "20 g" }
        [plan.two-lines.phase.1]
        until = "1 h"
        [plan.two-lines.phase.2]
        from = "90 min"
        until = "3 h"
        recast = "8 min"
        feed.far.amount = "10 g"
        [plan.two-lines.phase.3]
        line = "near"
        load = "0 g"
        feed.near.amount = "0 g"
    "#;
    let scenario = read_valid(text, &[]);
    let phases = &scenario.plans[0].phases;
    let times: Vec<_> = phases.iter().map(|phase| (phase.from_s, phase.until_s)).collect();
    assert_eq!(times, [(0.0, 3600.0), (5400.0, 10_800.0), (10_800.0, 18_000.0)]);
    assert_eq!(phases.iter().map(|phase| phase.tackle.line.0).collect::<Vec<_>>(), [1, 1, 0]);
    let recasts: Vec<_> = phases.iter().map(|phase| phase.tackle.recast_s).collect();
    assert_eq!(recasts, [120.0, 480.0, 120.0]);
    let fed: Vec<Vec<_>> = phases
        .iter()
        .map(|phase| phase.loose_feed.iter().map(|feed| feed.line.0).collect())
        .collect();
    assert_eq!(fed, [vec![0], vec![0, 1], vec![]]);
    let thrown = &phases[1].loose_feed;
    assert_eq!(scenario.recipes[thrown[0].recipe].name, "pellets-4mm");
    assert_eq!(scenario.recipes[thrown[1].recipe].name, "groundbait");
    near(phases[2].tackle.load_kg, 0.0, "kg");
}

#[test]
fn loose_feed_with_its_own_times_divides_the_phase() {
    let text = format!(
        "{SMALL}[plan.patient.feed.bar]\nfrom = \"1 h\"\nuntil = \"2 h\"\namount = \"5 g\"\n"
    )
    .replace("plan.patient.recast", "plan.other.recast");
    let scenario = read_valid(&text, &[]);
    let patient = scenario.plans.iter().find(|plan| plan.name == "patient").expect("a plan");
    let pieces: Vec<_> = patient
        .phases
        .iter()
        .map(|phase| (phase.from_s, phase.until_s, phase.loose_feed.len()))
        .collect();
    assert_eq!(pieces, [(0.0, 3600.0, 0), (3600.0, 7200.0, 1), (7200.0, 18_000.0, 0)]);
}

#[test]
fn baits_build_on_others_and_groundbait_is_mostly_not_food() {
    let text = format!(
        "{SMALL}[bait.rich]\nlike = \"groundbait\"\nclass.coarse-crumb.edible = 0.9\n\
         [bait.richer]\nlike = \"rich\"\nmouthful = \"0.5 g\"\n\
         [hookbait.tough-worm]\nlike = \"worm\"\nlasts = \"all session\"\n"
    );
    let scenario = read_valid(&text, &[]);
    let edible = |name: &str| {
        let recipe = scenario.recipes.iter().find(|recipe| recipe.name == name);
        let recipe = recipe.unwrap_or_else(|| panic!("no {name}"));
        recipe.with_values(|value| value.spread.mean()).edible_share()
    };
    assert!((0.1..0.35).contains(&edible("groundbait")), "{}", edible("groundbait"));
    assert!(edible("micro-pellets") > 0.9, "{}", edible("micro-pellets"));
    near(edible("pellets-6mm"), 1.0, "");
    let coarse = scenario.recipes[0].classes.iter().find(|class| class.name == "coarse-crumb");
    let coarse = coarse.expect("a class");
    near(
        edible("rich"),
        edible("groundbait") + coarse.share * (0.9 - coarse.edible_share.spread.mean()),
        "",
    );
    near(edible("richer"), edible("rich"), "");
    let worm = scenario.hookbaits.iter().find(|h| h.name == "tough-worm").expect("a hookbait");
    assert!(worm.lasts_s.is_infinite());
    near(worm.temptation.spread.mean(), 1.2, "");
    let six = scenario.recipes.iter().find(|r| r.name == "pellets-6mm").expect("a bait");
    near(six.classes[0].diameter_m, 0.006, "m");
    near(six.opens_after_s.spread.mean(), 25.0, "s");
}

#[test]
fn a_book_row_is_held_at_the_users_value() {
    let scenario = read_valid(
        &format!("{SMALL}[book.fish]\nhearing_m = 9\n"),
        &["book.bait.pile_radius_m=0.2"],
    );
    let row = |book: &sim::params::Book, key: &str| {
        book.rows().iter().find(|row| row.key == key).cloned().expect("a row")
    };
    let hearing = row(&scenario.books.fish, "hearing_m");
    near(hearing.value, 9.0, "m");
    assert_eq!(hearing.prior, Prior::Fixed);
    near(row(&scenario.books.bait, "pile_radius_m").value, 0.2, "m");
}

#[test]
fn the_hash_differs_between_texts_and_between_overrides() {
    let plain = read_valid(SMALL, &[]).sha256;
    assert_eq!(plain, read_valid(SMALL, &[]).sha256);
    assert_ne!(plain, read_valid(&format!("{SMALL}# a remark\n"), &[]).sha256);
    assert_ne!(plain, read_valid(SMALL, &["shoal.residents.count=60"]).sha256);
}

#[test]
fn text_needs_no_quotation_marks_on_the_command_line() {
    let two = format!("{SMALL}line.12.distance = \"12 m\"\n");
    let scenario =
        read_valid(&two, &["plan.patient.line=12", "title=Low water, cold wind", "units=imperial"]);
    assert_eq!(scenario.plans[0].phases[0].tackle.line.0, 1);
    assert_eq!(scenario.title, "Low water, cold wind");
    assert_eq!(scenario.units, Units::Imperial);
    assert_eq!(
        read_valid(SMALL, &["plan.patient.line=\"bar\""]).plans[0].phases[0].tackle.line.0,
        0
    );
}

#[test]
fn the_last_of_two_overrides_of_one_key_wins() {
    let sets = ["plan.patient.recast=2min", "plan.patient.recast=3min"];
    near(read_valid(SMALL, &sets).plans[0].phases[0].tackle.recast_s, 180.0, "s");
}

#[test]
fn a_file_is_named_after_its_stem() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("low-water.toml");
    std::fs::write(&path, SMALL).expect("written");
    assert_eq!(load(&path, &[]).expect("no faults").name, "low-water");
}

#[test]
fn amounts_that_are_no_weights_are_listed_with_what_they_were_taken_to_weigh() {
    let text = "title = \"A handful of perch\"\nload = \"2 handfuls\"\namount = '10 pellets of 4 mm'\nx = \"25 g\"\n\
                again = \"2 handfuls\"";
    let measured = sim::scenario::measured_baits_kg(text);
    let written: Vec<&str> = measured.iter().map(|(written, _)| written.as_str()).collect();
    assert_eq!(written, ["2 handfuls", "10 pellets of 4 mm"]);
    near(measured[0].1, 0.1, "kg");
}

#[test]
fn pellets_without_a_size_and_other_words_after_a_number_are_faults() {
    for (load, words) in [
        ("20 pellets", "does not say how large"),
        ("20 pellets of 6", "no unit"),
        ("20 pellets of 90 mm", "no pellets of 0.5 to 30 mm"),
        ("20 pellets of corn", "is not a quantity"),
        ("2 fistfuls", "handful"),
    ] {
        let set = [format!("plan.patient.load=\"{load}\"")];
        let faults = read(SMALL, "pond", &set).expect_err(load).to_string();
        assert!(faults.contains("plan.patient.load") && faults.contains(words), "{load}: {faults}");
    }
}

#[test]
fn smell_in_words_is_a_spread_of_attractant_and_gives_way_to_a_number() {
    let text = format!("{SMALL}\n[bait.mine]\nlike = \"groundbait\"\nsmell = \"strong\"\n");
    let attractant = |sets: &[&str]| {
        let scenario = read_valid(&text, sets);
        let mine = scenario.recipes.iter().find(|recipe| recipe.name == "mine").expect("there");
        (mine.attractant_mol_kg.spread, mine.attractant_mol_kg.origin.clone())
    };
    let origin = "bait.mine.attractant".to_owned();
    let strong = DailyDistribution::LogNormal { mean: 0.15, cv: 0.5 };
    assert_eq!(attractant(&[]), (strong, origin.clone()));
    let little = attractant(&["bait.mine.smell=little"]).0;
    assert!(little.mean() < strong.mean() / 5.0, "{little:?}");
    let exact = attractant(&["bait.mine.attractant=80 mmol/kg"]);
    assert_eq!(exact, (DailyDistribution::Fixed(0.08), origin));
    // A word replaces the number of a built-in bait; two statements of one's own are a fault.
    let built_in = read_valid(SMALL, &["bait.groundbait.smell=little"]);
    assert_eq!(built_in.recipes[0].attractant_mol_kg.spread, little);
    let both = format!("{text}attractant = \"80 mmol/kg\"\n");
    let faults = read(&both, "pond", &[]).expect_err("said twice").to_string();
    assert!(faults.contains("bait.mine.smell") && faults.contains("one of the two"), "{faults}");
}

#[test]
fn a_way_to_feed_is_checked_against_its_reach_and_what_it_holds() {
    let text = "line.near.distance = \"12 m\"\nline.far.distance = \"28 m\"\n[plan.a]\n";
    let by = |feed: &str| read(&format!("{text}{feed}"), "pond", &[]);
    let pot = by("feed.near = { by = \"pot\", amount = \"200 g\", every = \"20 min\" }");
    let scenario = pot.unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(scenario.plans[0].phases[0].loose_feed[0].method, FeedMethod::Pot);
    let plain = by("feed.far = { amount = \"200 g\" }").expect("as in files of before");
    assert_eq!(plain.plans[0].phases[0].loose_feed[0].method, FeedMethod::Catapult);
    for (feed, words) in [
        ("feed.far = { by = \"hand\" }", "gets 14 m far, and \"far\" is at 28 m"),
        ("feed.near = { by = \"hand\", amount = \"1 kg\" }", "150 g at a time is the most"),
        ("feed.near = { by = \"spade\" }", "catapult"),
    ] {
        let faults = by(feed).expect_err(feed).to_string();
        assert!(faults.contains("plan.a.feed") && faults.contains(words), "{feed}: {faults}");
    }
}
