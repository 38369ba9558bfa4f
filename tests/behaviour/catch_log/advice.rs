//! Advice during a session, and the paused sessions behind it.

use std::fs;

use sim::angler::{FeedMethod, LooseFeed, Phase, PlanId, Tackle};
use sim::catch_log::{CatchLog, catch_log_text};
use sim::engine::NullObserver;
use sim::report::now_text;
use sim::scenario::{Scenario, Units, read};
use sim::session::{Day, Outcome, PausedSession, run_session};
use sim::study::{
    Control, ForecastMethod, NowError, NowResult, NowSpec, NowStudy, SimulatedRest, WayKind,
    WayToGoOn, logged_plans, now, simulated_session, ways_to_go_on,
};

use super::samples::sound;
use crate::command_line::{ProgramFolder, json};

/// All fish are at one of two lines.
const WATER: &str = "session.length = \"90 min\"\naim.target = \"10 kg\"\n\
    line.full.distance = \"20 m\"\nline.full.bearing = \"-40 deg\"\n\
    line.empty.distance = \"24 m\"\nline.empty.bearing = \"40 deg\"\n\
    shoal.residents.count = 80\nshoal.residents.home = \"full\"\nshoal.residents.home_half_length = \"5 m\"\n\
    shoal.residents.home_half_width = \"5 m\"\n\
    plan.full.line = \"full\"\nplan.full.recast = \"3 min\"\nplan.empty.line = \"empty\"\nplan.empty.recast = \"3 min\"\n";

/// One rival, who weighs in the target.
const SECTION: &str = "section.rivals = 1\nsection.places = 1\nsection.shared = 0.0\n\
    section.weight = { low = \"9.99 kg\", high = \"10.01 kg\" }\n";

fn water() -> Scenario {
    read(&(WATER.to_owned() + SECTION), "pond", &[]).unwrap_or_else(|faults| panic!("{faults}"))
}

/// The log of the first `minutes` of a session of one plan.
fn log_of(plan: usize, number: u32, minutes: f64) -> CatchLog {
    let mut scenario = water();
    scenario.session_s = 60.0 * minutes;
    let day = Day::draw(&scenario, 91, number);
    let session = simulated_session(&scenario, &scenario.plans[plan], &day, 0.0, 1.0);
    sound(&catch_log_text(&[session]))
}

fn advice(
    log: &CatchLog,
    plan: usize,
    minutes: f64,
    threads: usize,
) -> Result<NowResult, NowError> {
    let scenario = water();
    let past = logged_plans(log, "pond.csv", &scenario).expect("known names").pop().expect("one");
    let spec = NowSpec {
        scenario: &scenario,
        plan: PlanId(plan),
        log,
        past: &past,
        clock_s: 60.0 * minutes,
        seed: 3,
        sessions: 80,
    };
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
    pool.install(|| now(&spec, Control::default()))
}

fn ways(result: &NowResult) -> Vec<WayKind> {
    result.ways.iter().map(|way| way.way.clone()).collect()
}

/// An outcome without the number of its events, which a pause changes.
fn without_events(mut outcome: Outcome) -> Outcome {
    outcome.swim.events = 0;
    outcome
}

#[test]
fn a_paused_session_that_goes_on_with_its_plan_is_the_session() {
    let scenario = water();
    let mut differs = false;
    for number in 1..=4 {
        let day = Day::draw(&scenario, 91, number);
        let plan = &scenario.plans[0];
        let whole = without_events(run_session(&scenario, plan, &day));
        for until_s in [0.5, 700.0, 2401.3, 5399.0] {
            let mut observer = NullObserver;
            let paused = PausedSession::new(&scenario, plan, &day, until_s, &mut observer);
            assert!(paused.outcome().catches.iter().all(|fish| fish.at_s <= until_s));
            let first = without_events(paused.go_on(plan, false));
            assert_eq!(first, whole, "day {number} paused at {until_s} s");
            let other = paused.go_on(&scenario.plans[1], true);
            assert_eq!(
                without_events(paused.go_on(plan, false)),
                whole,
                "ways do not touch each other"
            );
            differs |= other.casts != whole.casts || other.weight_g != whole.weight_g;
        }
    }
    assert!(differs, "another plan makes no difference");
}

/// Fish that roam have planned their looks without a line that was not used yet. When a plan turns to it, they notice it as
/// if they had always looked for it, as they do where a crumb falls there from the start.
#[test]
fn fish_notice_a_line_that_a_plan_turns_to_later() {
    let scenario = water();
    let (full, empty) = (&scenario.plans[0], &scenario.plans[1]);
    let turns_s = 600.0;
    let mut surprising = empty.clone();
    surprising.phases[0].until_s = turns_s;
    surprising.phases.push(Phase { from_s: turns_s, ..full.phases[0].clone() });
    let mut expected = surprising.clone();
    expected.phases[0].loose_feed.push(LooseFeed {
        line: full.phases[0].tackle.line,
        recipe: full.phases[0].tackle.recipe,
        every_s: 1e6,
        amount_kg: 1e-9,
        method: FeedMethod::default(),
    });
    let days = 100;
    let differences: Vec<f64> = (1..=days)
        .map(|number| {
            let day = Day::draw(&scenario, 92, number);
            let [surprised, prepared] = [&surprising, &expected]
                .map(|plan| run_session(&scenario, plan, &day).swim.arrived as f64);
            assert!(surprised > 0.0, "day {number}: no fish came to the line");
            surprised - prepared
        })
        .collect();
    let mean = differences.iter().sum::<f64>() / f64::from(days);
    let squares = differences.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>();
    let error = (squares / f64::from(days * (days - 1))).sqrt();
    // Four standard errors: the seed is fixed.
    assert!(mean.abs() <= 4.0 * error, "{mean} more fish come, with a standard error of {error}");
}

#[test]
fn chance_after_a_pause_is_the_sessions_own_or_another_in_the_same_way_each_time() {
    let scenario = water();
    let plan = &scenario.plans[0];
    let day = Day::draw(&scenario, 92, 1);
    let mut observer = NullObserver;
    let paused = PausedSession::new(&scenario, plan, &day, 1200.0, &mut observer);
    let by_chance = |chance| without_events(paused.go_on_by_chance(plan, false, chance));
    assert_eq!(by_chance(0), without_events(paused.go_on(plan, false)));
    assert_eq!(by_chance(7), by_chance(7));
    let caught =
        |outcome: &Outcome| outcome.catches.iter().filter(|fish| fish.at_s > 1200.0).count();
    let later: Vec<usize> = (0..8).map(|chance| caught(&by_chance(chance))).collect();
    assert!(later.iter().any(|&fish| fish != later[0]), "{later:?}");
    // What happened before stays as it was.
    for chance in 1..8 {
        let (one, own) = (by_chance(chance), by_chance(0));
        let before = |outcome: &Outcome| {
            outcome
                .catches
                .iter()
                .filter(|fish| fish.at_s <= 1200.0)
                .map(|fish| fish.at_s)
                .sum::<f64>()
        };
        assert!((before(&one) - before(&own)).abs() < 1e-12, "replicate {chance}");
    }
}

#[test]
fn a_bait_that_is_wound_in_now_is_cast_again_sooner() {
    let mut scenario = water();
    scenario.plans[1].phases[0].tackle.recast_s = 2400.0;
    let plan = &scenario.plans[1];
    let mut checked = 0;
    for number in 1..=6 {
        let day = Day::draw(&scenario, 91, number);
        let mut observer = NullObserver;
        let paused = PausedSession::new(&scenario, plan, &day, 1200.0, &mut observer);
        if paused.is_bait_out() && paused.outcome().casts == 1 {
            checked += 1;
            assert!(paused.go_on(plan, true).casts > paused.outcome().casts, "day {number}");
        }
    }
    assert!(checked > 0, "no bait was out");
}

#[test]
fn on_an_empty_line_the_advice_is_to_move_and_on_a_full_one_to_stay() {
    let on_empty = advice(&log_of(1, 2, 40.0), 1, 40.0, 2).expect("advice");
    let to_full = |way: &WayKind| match way {
        WayKind::Line(name) | WayKind::Plan(name) => name == "full",
        _ => false,
    };
    assert_eq!(on_empty.method, ForecastMethod::SimulatedSessions);
    assert!(on_empty.better.as_ref().is_some_and(to_full), "{on_empty:#?}");
    let on_full = advice(&log_of(0, 2, 40.0), 0, 40.0, 2).expect("advice");
    let moves = |way: &WayKind| matches!(way, WayKind::Line(_) | WayKind::Plan(_));
    assert!(!on_full.better.as_ref().is_some_and(moves), "{on_full:#?}");
    let text = now_text(&on_empty, Units::Metric, 100).replace('\u{a0}', " ");
    assert!(text.contains("0:40:00 gone, 0:50:00 left") || text.contains("40:00 gone"), "{text}");
    assert!(text.contains("Better than empty:"), "{text}");
}

#[test]
#[cfg_attr(debug_assertions, ignore = "hundreds of sessions: run in release")]
fn the_second_round_tries_the_plan_and_what_may_be_better_once_each() {
    let (scenario, log) = (water(), log_of(1, 2, 40.0));
    let past = logged_plans(&log, "pond.csv", &scenario).expect("known names").pop().expect("one");
    let spec = NowSpec {
        scenario: &scenario,
        plan: PlanId(1),
        log: &log,
        past: &past,
        clock_s: 2400.0,
        seed: 3,
        sessions: 240,
    };
    let study = NowStudy::new(&spec).expect("time is left");
    assert_eq!(study.first_sessions(), 100);
    let rest = |number: u32, ways: &[usize]| {
        study.rest(number, ways, Control::default()).expect("nobody stops it")
    };
    let every = study.every_way();
    let first: Vec<SimulatedRest> = (1..=100).map(|number| rest(number, &every)).collect();
    let contenders = study.contenders(&first);
    let result = now(&spec, Control::default()).expect("advice");
    let is_out = ways(&result).contains(&WayKind::RecastNow);
    let all = ways_to_go_on(&scenario, &scenario.plans[1], 2400.0, is_out);
    let tried: Vec<&WayKind> = contenders.iter().map(|&way| &all[way].kind).collect();
    assert_eq!(*tried[0], WayKind::AsPlanned);
    assert!((3..=4).contains(&tried.len()), "{tried:?}");
    let to_full = |way: &&&WayKind| match way {
        WayKind::Line(name) | WayKind::Plan(name) => name == "full",
        _ => false,
    };
    // To move to the line and to turn to its plan is the same here.
    assert_eq!(tried.iter().filter(to_full).count(), 1, "{tried:?}");
    // A page without a server sends these sessions back.
    let with = |last: SimulatedRest| [first.clone(), vec![last]].concat();
    assert!(study.fits(&first) && study.fits(&with(rest(101, &contenders))));
    assert!(!study.fits(&first[1..]) && !study.fits(&with(rest(101, &every))));
    assert_eq!(result.simulated, 240);
    let errors: Vec<f64> = result.ways[1..].iter().map(|way| way.ahead_se_kg).collect();
    assert!(errors.iter().all(|se_kg| *se_kg > 0.0), "{errors:?}");
}

#[test]
fn advice_does_not_depend_on_threads_and_counts_what_is_in_the_log() {
    let log = log_of(0, 3, 40.0);
    let result = advice(&log, 0, 40.0, 1).expect("advice");
    assert_eq!(advice(&log, 0, 40.0, 3).expect("advice"), result);
    let bites = log.casts().filter(|cast| cast.has_bite()).count();
    assert_eq!((result.casts as usize, result.bites as usize), (log.casts().count(), bites));
    let kg: f64 = log.casts().filter_map(|cast| cast.end.as_ref()?.catch.as_ref()?.weight_kg).sum();
    assert!((result.weight_kg - kg).abs() < 1e-9);
    assert!((result.left_s - 3000.0).abs() < 1e-9, "{} s", result.left_s);
    assert_eq!(ways(&result)[0], WayKind::AsPlanned);
    for way in &result.ways {
        assert!(way.low80_kg >= result.weight_kg && way.low80_kg <= way.high80_kg, "{way:?}");
        assert!(way.target_chance.is_some_and(|chance| (0.0..=1.0).contains(&chance)), "{way:?}");
        // To beat a rival who weighs in the target is to reach it, but for weights within 10 g of it.
        let off = way.target_chance.zip(way.frame_chance).map(|(target, frame)| target - frame);
        assert!(off.is_some_and(|off| off.abs() < 0.03), "{way:?}");
    }
    let named = ways(&result);
    for way in [WayKind::Line("empty".to_owned()), WayKind::RecastSooner, WayKind::FeedMore] {
        assert!(named.contains(&way), "{named:?}");
    }
}

#[test]
fn bait_and_feeder_of_the_other_plans_are_tried_too() {
    let tackle = "plan.full.hookbait = \"corn\"\nplan.full.load = \"30 g\"\n\
        plan.empty.hookbait = \"worm\"\nplan.empty.bait = \"micro-pellets\"\n\
        plan.empty.load_style = \"buried\"\nplan.empty.load = \"30 g\"\n\
        plan.bare.hookbait = \"corn\"\nplan.bare.load = \"0 g\"\n";
    let scenario = read(&(WATER.to_owned() + tackle), "pond", &[]);
    let scenario = scenario.unwrap_or_else(|faults| panic!("{faults}"));
    let ways_of = |plan: usize| ways_to_go_on(&scenario, &scenario.plans[plan], 600.0, true);
    let tackle_of = |ways: &[WayToGoOn], kind: &WayKind| {
        let way = ways.iter().find(|way| way.kind == *kind);
        way.unwrap_or_else(|| panic!("{kind:?} is not tried")).plan.phases[0].tackle
    };
    let loaded = ways_of(0);
    let own = tackle_of(&loaded, &WayKind::AsPlanned);
    let worm = tackle_of(&loaded, &WayKind::Hookbait("worm".to_owned()));
    assert_eq!(scenario.hookbaits[worm.hookbait].name, "worm");
    assert_eq!(Tackle { hookbait: own.hookbait, ..worm }, own, "nothing else is changed");
    let mix = tackle_of(&loaded, &WayKind::Mix("micro-pellets".to_owned()));
    assert_eq!(scenario.recipes[mix.recipe].name, "micro-pellets");
    assert_eq!(Tackle { recipe: own.recipe, ..mix }, own, "nothing else is changed");
    let feeder = tackle_of(&loaded, &WayKind::FeederOf("empty".to_owned()));
    assert!(feeder.buried && feeder.hookbait == own.hookbait && feeder.recipe == own.recipe);
    let bare = tackle_of(&loaded, &WayKind::BareLead);
    assert!(bare.load_kg.abs() < 1e-12 && !bare.buried && bare.hookbait == own.hookbait);
    // Who fishes a bare lead already is offered a feeder with its mix, and no more or less feed.
    let unloaded = ways_of(2);
    let kinds: Vec<&WayKind> = unloaded.iter().map(|way| &way.kind).collect();
    for kind in [WayKind::BareLead, WayKind::FeedMore, WayKind::FeedLess] {
        assert!(!kinds.contains(&&kind), "{kinds:?}");
    }
    let feeder = tackle_of(&unloaded, &WayKind::FeederOf("full".to_owned()));
    assert!(feeder.load_kg > 0.0 && feeder.recipe == own.recipe, "{feeder:?}");
    let mut seen = Vec::new();
    for kind in kinds {
        assert!(!seen.contains(&kind), "{kind:?} is tried twice");
        seen.push(kind);
    }
}

#[test]
fn a_log_that_does_not_say_which_fish_were_landed_is_not_taken_to_say_none() {
    let counted = log_of(0, 3, 40.0);
    assert!(counted.casts().any(|cast| cast.has_bite()), "the day has no bite");
    let result = advice(&uncounted(&counted), 0, 40.0, 2).expect("advice");
    assert_eq!((result.landed, result.weight_kg), (None, 0.0));
    let words = now_text(&result, Units::Metric, 1000).replace('\u{a0}', " ");
    assert!(words.contains("which were landed is not written"), "{words}");
    assert!(!words.contains("0 landed"), "{words}");
}

/// Sessions without a fish would be the nearest if none were taken to be landed; the rest would be foretold too low.
#[test]
fn a_log_that_does_not_say_which_fish_were_landed_foretells_as_much_as_one_that_does() {
    let (mut counted_kg, mut uncounted_kg) = (0.0, 0.0);
    let mut days = 0;
    for number in 1..=10 {
        let counted = log_of(0, number, 40.0);
        let whole = advice(&counted, 0, 40.0, 2).expect("advice");
        if whole.landed.is_none_or(|landed| landed == 0) {
            continue;
        }
        let result = advice(&uncounted(&counted), 0, 40.0, 2).expect("advice");
        counted_kg += whole.ways[0].final_kg - whole.weight_kg;
        uncounted_kg += result.ways[0].final_kg;
        days += 1;
    }
    assert!(days > 4, "{days} days with a fish");
    let ratio = uncounted_kg / counted_kg;
    assert!((0.6..1.6).contains(&ratio), "{ratio} of {counted_kg} kg on {days} days");
}

/// The same log without what it says of the fish.
fn uncounted(log: &CatchLog) -> CatchLog {
    let mut log = log.clone();
    for cast in log.sessions.iter_mut().flat_map(|session| &mut session.casts) {
        if let Some(end) = &mut cast.end {
            end.catch = None;
        }
    }
    log
}

#[test]
fn a_session_that_no_simulated_one_resembles_is_foretold_from_its_own_bites() {
    let mut text = String::from("session,cast_at,line,recast_at,bite_at,landed,weight\n");
    for cast in 0..60 {
        let (minute, second) = (cast / 2, 30 * (cast % 2));
        text.push_str(&format!(
            "a,0:{minute:02}:{second:02},full,,0:{minute:02}:{:02},yes,3 kg\n",
            second + 4
        ));
    }
    let result = advice(&sound(&text), 0, 30.0, 2).expect("advice");
    assert_eq!(result.method, ForecastMethod::OwnRate);
    assert_eq!(ways(&result), [WayKind::AsPlanned]);
    let way = &result.ways[0];
    assert!((result.weight_kg - 180.0).abs() < 1e-9);
    // Sixty fish in half an hour, an hour left: between what the model would have and 360 kg more.
    assert!(way.final_kg > 200.0 && way.final_kg < 540.0, "{way:?}");
    let words = now_text(&result, Units::Metric, 1000).replace('\u{a0}', " ");
    assert!(words.contains("No session of 80 sessions simulated went as yours."), "{words}");
}

#[test]
fn the_command_advises_and_says_what_it_needs() {
    let folder = ProgramFolder::new();
    fs::write(folder.path("pond.toml"), WATER).expect("a file");
    let log = log_of(1, 2, 40.0);
    fs::write(folder.path("log.csv"), catch_log_text(&log.sessions)).expect("a file");
    let run = |line: &str| folder.run(&line.split(' ').collect::<Vec<_>>());
    let advised = run("now pond.toml --log log.csv --plan empty --sessions 60");
    assert_eq!(advised.code, Some(0), "{}", advised.err);
    assert!(
        advised.out.contains("as planned") && advised.out.contains("8 times in 10"),
        "{}",
        advised.out
    );
    let document = json(&run("now pond.toml --log log.csv --plan empty --sessions 60 --json").out);
    assert_eq!(document["format"], "shoalwise/now/1");
    assert!(document["ways"].as_array().is_some_and(|ways| ways.len() > 4), "{document}");
    for (line, part) in [
        ("now pond.toml --log log.csv", "say which plan with --plan; pond has: full, empty"),
        ("now pond.toml --log log.csv --plan ful", "Did you mean full?"),
        ("now pond.toml --log no.csv --plan full", "there is no such file"),
        ("now pond.toml --log log.csv --plan full --session may", "has no session \"may\""),
        ("now pond.toml --log log.csv --plan full --at 3:00", "nothing is left to advise on"),
        ("now pond.toml --log log.csv --plan full --at noon", "write h:mm or h:mm:ss"),
        ("now pond.toml --log log.csv --plan full --sessions 3", "give 40 to 20000"),
    ] {
        let refused = run(line);
        assert_eq!(refused.code, Some(2), "{line}: {}", refused.err);
        assert!(refused.err.contains(part) && refused.out.is_empty(), "{line}: {}", refused.err);
    }
}

#[test]
fn casts_after_the_given_time_do_not_count() {
    let mut log = log_of(0, 3, 80.0);
    // One more line later on, so that the past has phases that differ.
    if let Some(last) = log.sessions[0].casts.last_mut() {
        last.line = "empty".to_owned();
    }
    for minutes in [10.0, 40.0, 63.3] {
        let result = advice(&log, 0, minutes, 2).expect("advice");
        let so_far = log.casts().filter(|cast| cast.cast_s <= 60.0 * minutes);
        assert_eq!(result.casts as usize, so_far.count(), "after {minutes} min");
        let ended = |cast: &sim::catch_log::LoggedCast| {
            cast.has_bite() && cast.end.as_ref().is_some_and(|end| end.at_s <= 60.0 * minutes)
        };
        assert_eq!(result.bites as usize, log.casts().filter(|cast| ended(cast)).count());
        assert_eq!(ways(&result)[0], WayKind::AsPlanned);
    }
}
