//! A plan of which nothing is varied is fished once, with the same result as at every point.

use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use sim::angler::PlanId;
use sim::scenario::ScenarioSource;
use sim::study::{
    Control, Design, Objective, PlanVariant, Progress, Sampling, SearchSpec, Setting, Shard, Stamp,
    Store, SweepDefinition, SweepResult, find_best, run_sweep, summarise,
};

use crate::command_line::POND;

/// Counts the sessions that are fished.
#[derive(Default)]
struct SessionCount(AtomicU64);

impl Progress for SessionCount {
    fn on_session_done(&self) {
        self.0.fetch_add(1, Ordering::Relaxed);
    }
}

/// The result of a sweep over some keys, and the number of sessions fished for it.
fn swept(
    keys: &[&str],
    plans: &[&str],
    days: u32,
    shard: Shard,
) -> (Option<SweepResult>, u64, u64) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let source = ScenarioSource::new(POND, "pond");
    let base = source.read(&[]).expect("sound");
    let vary: Vec<String> = keys.iter().map(|&key| key.to_owned()).collect();
    let sweep = SweepDefinition {
        stamp: Stamp::new(&base.name, &base.sha256, 1),
        source,
        fixed_days: false,
        overrides: Vec::new(),
        book: None,
        plans: plans.iter().map(|&plan| plan.to_owned()).collect(),
        design: Design::new(&vary, Sampling::Grid).expect("a design"),
        days,
        shard,
    };
    let expected = sweep.sessions();
    let mut store = Store::open(&folder.path().join("sweep.db"), sweep).expect("a store");
    let (count, never) = (SessionCount::default(), AtomicBool::new(false));
    let control = Control { progress: &count, stop: &never };
    assert!(run_sweep(&mut store, control, |_| {}).expect("kept"), "it is finished");
    assert_eq!(store.sessions_to_do(), 0);
    let result = shard.is_whole().then(|| summarise(&store).expect("read"));
    (result, expected, count.0.into_inner())
}

const OFTEN: [&str; 2] = ["plan.often.recast=1 min,2 min,4 min", "plan.often.load=20 g,40 g"];

#[test]
fn other_plans_are_fished_once_and_have_the_same_result_at_each_point() {
    let (both, expected, fished) = swept(&OFTEN, &["often", "seldom"], 40, Shard::WHOLE);
    assert_eq!((expected, fished), (7 * 40, 7 * 40), "six points of one plan, one of the other");
    // Alone, each plan is fished at every point or, if nothing of it is varied, once.
    let (often, _, alone) = swept(&OFTEN, &["often"], 40, Shard::WHOLE);
    assert_eq!(alone, 6 * 40);
    let (seldom, _, once) = swept(&[], &["seldom"], 40, Shard::WHOLE);
    assert_eq!(once, 40);
    let (both, often, seldom) =
        (both.expect("whole"), often.expect("whole"), seldom.expect("whole"));
    for (with, without) in both.settings.iter().zip(&often.settings) {
        assert_eq!(with.plans[0], without.plans[0]);
        assert_eq!(with.plans[1].weight_kg, seldom.settings[0].plans[0].weight_kg);
    }
    assert!(both.settings[0].plans[0] != both.settings[5].plans[0], "the settings matter");
}

#[test]
fn each_plan_is_fished_at_its_own_settings_only() {
    let keys = ["plan.often.recast=1 min,2 min,4 min", "plan.seldom.recast=6 min,9 min"];
    let (result, expected, fished) = swept(&keys, &["often", "seldom"], 33, Shard::WHOLE);
    assert_eq!((expected, fished), ((3 + 2) * 33, (3 + 2) * 33));
    let settings = result.expect("whole").settings;
    // The last key varies fastest: points 0 and 1 have the same setting of the first plan.
    assert_eq!(settings[0].plans[0], settings[1].plans[0]);
    assert_eq!(settings[0].plans[1], settings[2].plans[1]);
    // A key of the water touches all.
    let keys = ["plan.often.recast=1 min,2 min", "shoal.small.count=100,200"];
    let (_, _, fished) = swept(&keys, &["often", "seldom"], 10, Shard::WHOLE);
    assert_eq!(fished, (4 + 2) * 10);
}

#[test]
fn a_share_fishes_what_the_other_shares_fish_too() {
    let share = |number| Shard { number, count: 2 };
    let (_, expected, fished) = swept(&OFTEN, &["often", "seldom"], 40, share(1));
    assert_eq!(expected, fished);
    let (_, _, other) = swept(&OFTEN, &["often", "seldom"], 40, share(2));
    assert_eq!(fished + other, 6 * 40 + 2 * 40, "each share fishes the other plan once");
}

#[test]
fn a_search_fishes_a_plan_once_for_all_settings_of_other_plans() {
    let source = ScenarioSource::new(POND, "pond");
    let base = source.read(&[]).expect("sound");
    let values = |values: &[&str]| values.iter().map(|&value| value.to_owned()).collect();
    let setting = |key: &str, levels: &[&str]| Setting {
        key: key.to_owned(),
        values: values(levels),
        is_ordered: true,
    };
    let recast = setting("plan.often.recast", &["1 min", "2 min", "3 min"]);
    let plan = Setting { is_ordered: false, ..setting(Setting::PLAN, &["often", "seldom"]) };
    let request = SearchSpec {
        settings: vec![recast, plan],
        objective: Objective::Weight,
        sessions: 1200,
        days: 40,
        seed: 1,
        has_baseline: false,
    };
    let mut read = |point: &[usize]| {
        let set = point.first().map(|&level| format!("plan.often.recast={} min", 1 + level));
        let scenario = source.read(&set.into_iter().collect::<Vec<_>>()).ok()?;
        Some(PlanVariant { scenario, plan: PlanId(point.get(1).copied().unwrap_or(0)) })
    };
    let (count, never) = (SessionCount::default(), AtomicBool::new(false));
    let control = Control { progress: &count, stop: &never };
    let result = find_best(&base, &request, &mut read, control).expect("not stopped");
    let fished = count.0.into_inner();
    // Of six points three are the plan of which nothing is varied: two thirds of their sessions are known already, and
    // confirmation fishes some days again for other values of a setting.
    assert!(fished < result.sessions, "{fished} of {} sessions", result.sessions);
    assert!(3 * fished < 2 * result.sessions + 3 * 40 * 8, "{fished} of {}", result.sessions);
}
