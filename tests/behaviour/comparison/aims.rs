//! Aims of a day: the best plan for each aim, and the source of the rivals' weights.

use std::f64::consts::PI;
use std::fs;

use sim::angler::PlanId;
use sim::params::DailyDistribution;
use sim::scenario::{RivalWeight, Scenario, Section, load};
use sim::session::{Day, Outcome};
use sim::study::{
    Aim, AimResult, Compare, Comparison, Control, DayOutcomes, Objective, PlanVariant, Scoreboard,
    SearchSpec, Setting, comparison, find_best,
};

use crate::pond::{FAIR, pond};

/// A comparison of days on which the pond's two plans have the given weights [g].
fn compared(scenario: &Scenario, days_g: &[[u64; 2]]) -> Comparison {
    let mut board = Scoreboard::new(scenario);
    for (number, day_g) in (1..).zip(days_g) {
        let outcomes = day_g.map(|weight_g| {
            let mut outcome = Outcome::default();
            outcome.weight_g = weight_g;
            outcome
        });
        let outcomes = outcomes.to_vec();
        board.add(&DayOutcomes {
            number,
            conditions: FAIR,
            uncertain_inputs: Vec::new(),
            outcomes,
        });
    }
    comparison(scenario, 1, &board)
}

fn aim(comparison: &Comparison, which: Aim) -> &AimResult {
    comparison.aims.iter().find(|aim| aim.aim == which).unwrap_or_else(|| panic!("no {which:?}"))
}

/// Weights of a steady plan, 10 kg every day, and of one with a mean of 9 kg: 25 kg on one day in four, else 3.667
/// kg.
fn steady_and_wild() -> Vec<[u64; 2]> {
    (0..400).map(|day| [10_000, if day % 4 == 0 { 25_000 } else { 3_667 }]).collect()
}

#[test]
fn the_best_plan_differs_by_aim() {
    let mut scenario = pond();
    scenario.aims.target_kg = Some(15.0);
    scenario.aims.section = Some(Section {
        rivals: 9,
        places: 3,
        weight: RivalWeight::Distribution(DailyDistribution::LogNormal { mean: 10.0, cv: 0.4 }),
        shared: 0.0,
    });
    let comparison = compared(&scenario, &steady_and_wild());
    for (which, best) in [
        (Aim::MeanWeight, "often"),
        (Aim::Target, "seldom"),
        (Aim::Win, "seldom"),
        (Aim::WorstDays, "often"),
    ] {
        assert_eq!(aim(&comparison, which).best, best, "{which:?}");
    }
    let target = aim(&comparison, Aim::Target);
    assert_eq!(target.plans.iter().map(|plan| plan.result.value).collect::<Vec<_>>(), [0.0, 0.25]);
    assert!(target.not_clearly_worse.is_empty(), "a quarter of 400 days is clearly more than zero");
    let worst = aim(&comparison, Aim::WorstDays);
    assert!(
        (worst.plans[1].result.value - 3.667).abs() < 1e-9 && worst.threshold == Some(0.1),
        "{worst:?}"
    );
    // No plan has a day without a fish, so neither is better.
    let blank = aim(&comparison, Aim::Blank);
    assert!(!blank.more_is_better && blank.plans.iter().all(|plan| plan.result.value <= 0.0));
    assert_eq!(blank.not_clearly_worse, ["seldom"]);
    // The variable plan wins a section more often than the steady one, and frames less often.
    let (win, frame) = (aim(&comparison, Aim::Win), aim(&comparison, Aim::Frame));
    assert!(win.plans[1].result.value > 0.2 && win.plans[0].result.value < 0.1, "{win:?}");
    assert_eq!((win.rivals, frame.threshold), (Some(9), Some(3.0)));
}

#[test]
fn the_share_of_the_day_in_rivals_weights_changes_who_wins() {
    // Given a plan that is heavy on good days only, and rivals with the same distribution of weights,
    let water = pond();
    let offered_kg = |number: u32| Day::draw(&water, 1, number).keen_kg(water.session_s);
    let mut by_quality: Vec<(f64, u32)> =
        (1..=400).map(|number| (offered_kg(number), number)).collect();
    by_quality.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut days = vec![[0, 4_000]; 400];
    for (rank, (_, number)) in by_quality.iter().enumerate() {
        days[*number as usize - 1][0] = 20 * rank as u64;
    }
    let win = |shared: f64| {
        let mut scenario = pond();
        let weight = RivalWeight::Distribution(DailyDistribution::Uniform { low: 0.0, high: 8.0 });
        scenario.aims.section = Some(Section { rivals: 9, places: 1, weight, shared });
        let comparison = compared(&scenario, &days);
        aim(&comparison, Aim::Win).plans[0].result.value
    };
    // then it wins as often as any of ten if rivals do not depend on the day. The more their weights depend on the
    // day too, the less often it wins: on its good days they are good as well, while its own weight depends on the
    // day alone.
    let (alone, shared) = (win(0.0), win(0.8));
    assert!((alone - 0.1).abs() < 0.01, "{alone}");
    assert!(shared < 0.6 * alone, "{shared} is not much less than {alone}");
}

/// With one rival, and a plan that weighs in the rival's median on the better half of days and nothing on the others, the
/// chance to win is that of two correlated normal scores with different signs: ¼ − arcsin r / 2π (Sheppard 1899), where a
/// rank correlation ρ is one of r = 2 sin(πρ/6) between normal scores (Pearson 1907; both from memory).
#[test]
fn the_chance_against_one_rival_has_its_closed_form() {
    let (water, shared, days) = (pond(), 0.6, 4000);
    let offered_kg = |number: u32| Day::draw(&water, 1, number).keen_kg(water.session_s);
    let mut by_quality: Vec<u32> = (1..=days).collect();
    by_quality.sort_by(|&a, &b| offered_kg(a).total_cmp(&offered_kg(b)));
    let mut days_g = vec![[0, 4_000]; days as usize];
    for better in &by_quality[days as usize / 2..] {
        days_g[*better as usize - 1][0] = 4_000;
    }
    let mut scenario = pond();
    let weight = RivalWeight::Distribution(DailyDistribution::Uniform { low: 0.0, high: 8.0 });
    scenario.aims.section = Some(Section { rivals: 1, places: 1, weight, shared });
    let comparison = compared(&scenario, &days_g);
    let won = aim(&comparison, Aim::Win).plans[0].result.value;
    let r = 2.0 * (PI * shared / 6.0).sin();
    let expected = 0.25 - r.asin() / (2.0 * PI);
    assert!((won - expected).abs() < 5e-4, "{won} is not {expected}");
}

/// `best` ranks a day among days that no search changes, `compare` among those fished: the same sessions must have nearly the
/// same odds in both.
#[test]
fn a_search_and_a_comparison_agree_on_the_odds_in_a_section() {
    let (mut scenario, days) = (pond(), 300);
    let weight = RivalWeight::Distribution(DailyDistribution::Uniform { low: 0.0, high: 8.0 });
    scenario.aims.section = Some(Section { rivals: 9, places: 3, weight, shared: 0.9 });
    scenario.plans.truncate(1);
    let comparison = Compare::new(&scenario).days(days).run();
    let compared = aim(&comparison, Aim::Frame).plans[0].result.value;
    let recasts = ["90 s", "120 s"].map(str::to_owned).to_vec();
    let search = SearchSpec {
        settings: vec![Setting {
            key: "plan.often.recast".to_owned(),
            values: recasts,
            is_ordered: true,
        }],
        objective: Objective::Frame { rivals: 9, places: 3 },
        sessions: 4 * days,
        days,
        seed: 1,
        has_baseline: true,
    };
    let mut read = |point: &[usize]| {
        let mut scenario = scenario.clone();
        if let Some(&level) = point.first() {
            scenario.plans[0].phases[0].tackle.recast_s = [90.0, 120.0][level];
        }
        Some(PlanVariant { scenario, plan: PlanId(0) })
    };
    let found = find_best(&scenario, &search, &mut read, Control::default()).expect("it ends");
    let searched = found.baseline.expect("it was asked for").value.value;
    println!("searched {searched}, compared {compared}");
    assert!((searched - compared).abs() < 0.01, "{searched} is not nearly {compared}");
}

#[test]
fn the_odds_of_a_plan_do_not_depend_on_which_others_are_compared() {
    let mut scenario = pond();
    let weight = RivalWeight::Distribution(DailyDistribution::Uniform { low: 0.0, high: 12.0 });
    scenario.aims.section = Some(Section { rivals: 9, places: 3, weight, shared: 0.6 });
    let both = Compare::new(&scenario).days(60).run();
    let name = scenario.plans[0].name.clone();
    scenario.plans.truncate(1);
    let alone = Compare::new(&scenario).days(60).run();
    for which in [Aim::Win, Aim::Frame] {
        let odds = |comparison: &Comparison| {
            let plans = &aim(comparison, which).plans;
            plans.iter().find(|plan| plan.name == name).expect("the plan").result.value
        };
        assert!((odds(&both) - odds(&alone)).abs() < 1e-12, "{which:?}");
        assert!(odds(&both) > 0.0 && odds(&both) < 1.0, "{which:?}: {}", odds(&both));
    }
}

#[test]
fn aims_are_reported_only_where_the_scenario_has_them() {
    let comparison = compared(&pond(), &steady_and_wild());
    let message: Vec<Aim> = comparison.aims.iter().map(|aim| aim.aim).collect();
    assert_eq!(message, [Aim::MeanWeight, Aim::Blank, Aim::WorstDays]);
}

const SCENARIO: &str = r#"
line.middle.distance = "15 m"
shoal.small.count = 40
plan.often.recast = "90 s"
section.weigh_ins = "rivals.csv"
"#;

/// Loads a scenario from a folder that also holds a table of weigh-ins.
fn load_with_weigh_ins(table: &str, more: &str) -> Result<Scenario, String> {
    let folder = tempfile::tempdir().expect("a temporary folder");
    fs::write(folder.path().join("pond.toml"), format!("{SCENARIO}{more}")).expect("a scenario");
    if !table.is_empty() {
        fs::write(folder.path().join("rivals.csv"), table).expect("a table");
    }
    load(&folder.path().join("pond.toml"), &[]).map_err(|faults| faults.to_string())
}

#[test]
fn past_weigh_ins_are_read_from_the_folder_of_the_scenario() {
    let table =
        "date,weight\n1 May,12 kg\n8 May,\"3 lb 4 oz\"\n8 May,0 kg\n15 May,8 kg\n15 May,9.5 kg\n";
    let scenario = load_with_weigh_ins(table, "").expect("a sound table");
    let section = scenario.aims.section.expect("a section");
    let RivalWeight::PastWeighIns(kg) = section.weight else { panic!("not from the table") };
    assert_eq!(kg.len(), 5);
    assert!(kg.is_sorted() && (kg[1] - 3.25 * 0.453_592_37).abs() < 1e-9, "{kg:?}");
    assert_eq!((section.rivals, section.places), (9, 3), "the defaults");
    // The same scenario with another table has another hash.
    let other = load_with_weigh_ins(&table.replace("12 kg", "13 kg"), "").expect("a sound table");
    assert_ne!(scenario.sha256, other.sha256);
}

#[test]
fn errors_in_weigh_ins_are_reported_with_their_line() {
    for (table, message) in [
        ("", "\"rivals.csv\" does not exist"),
        ("date,kg\n1 May,12\n", "no column is headed weight"),
        ("weight\n12 kg\n9\n8 kg\n7 kg\n6 kg\n", "rivals.csv:3: "),
        ("weight\n12 kg\n9 m\n8 kg\n7 kg\n6 kg\n", "rivals.csv:3: "),
        ("weight\n12 kg\n8 kg\n", "2 weigh-ins are too few"),
        ("weight\n12 kg\n9 kg\n8 kg\n7 kg\n6000 kg\n", "rivals.csv:6: "),
    ] {
        let error = load_with_weigh_ins(table, "").expect_err(table);
        assert!(
            error.contains("section.weigh_ins") && error.contains(message),
            "{message}: {error}"
        );
    }
}

#[test]
fn a_section_gives_the_weights_of_rivals_in_one_way_only() {
    let table = "weight\n12 kg\n9 kg\n8 kg\n7 kg\n6 kg\n";
    for (more, message) in [
        ("section.weight = \"9 kg\"\n", "cannot be used together with section.weight"),
        ("section.places = 10\n", "10 places frame among 9 rivals"),
        ("section.shared = 1.0\n", "0 to 0.95"),
    ] {
        let error = load_with_weigh_ins(table, more).expect_err(more);
        assert!(error.contains(message), "{message}: {error}");
    }
    let text = SCENARIO.replace("section.weigh_ins = \"rivals.csv\"", "section.rivals = 5");
    let error = sim::scenario::read(&text, "pond", &[]).expect_err("no weights").to_string();
    assert!(error.contains("does not say what rivals weigh in"), "{error}");
    // A text that was not read from a file has no folder for attached files.
    let error = sim::scenario::read(SCENARIO, "pond", &[]).expect_err("no folder").to_string();
    assert!(error.contains("was not read from a file"), "{error}");
}
