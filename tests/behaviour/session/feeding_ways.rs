//! Ways to feed, and casts without a hookbait.

use sim::engine::EventLog;
use sim::scenario::{Scenario, read};
use sim::session::{Activity, Day, Event, Outcome, observe_session, run_session};

/// Days that are fished.
const DAYS: u32 = 12;

/// A near line that is fed every four minutes, on days when nothing of the angler's times is drawn.
fn fed(how: &str, sets: &[&str]) -> Scenario {
    let text = format!(
        r#"
        session.length = "2 h"
        line.near.distance = "12 m"
        shoal.carp = {{ count = 60, weight = "1.2 kg", home = "near", rises = 0.5, startles_at_splash = 0.4 }}
        [plan.a]
        line = "near"
        recast = "6 min"
        load = "10 g"
        feed.near = {{ every = "4 min", amount = "60 g", bait = "pellets-4mm"{how} }}
        "#
    );
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    read(&text, "near", &sets).unwrap_or_else(|faults| panic!("{faults}"))
}

fn outcomes(scenario: &Scenario) -> Vec<Outcome> {
    let fish = |number| {
        let day = Day::draw(scenario, 1, number);
        run_session(scenario, &scenario.plans[0], &day)
    };
    (1..=DAYS).map(fish).collect()
}

fn sum(outcomes: &[Outcome], of: impl Fn(&Outcome) -> f64) -> f64 {
    outcomes.iter().map(of).sum()
}

#[test]
fn feed_goes_out_by_catapult_unless_it_is_said_otherwise() {
    let plain = outcomes(&fed("", &[]));
    assert!(plain == outcomes(&fed(r#", by = "catapult""#, &[])), "the same sessions");
    for way in ["hand", "pot", "ball"] {
        let other = outcomes(&fed(&format!(r#", by = "{way}""#), &[]));
        assert!(plain != other, "{way} changes nothing");
    }
}

#[test]
fn each_way_takes_its_own_time() {
    let feeding_s = |way: &str| {
        let outcomes = outcomes(&fed(&format!(r#", by = "{way}""#), &[]));
        let thrown = sum(&outcomes, |outcome| outcome.bait.loose_kg) / 0.06;
        sum(&outcomes, |outcome| outcome.time_s[Activity::Feeding]) / thrown
    };
    // The times are lognormal with a spread of 0.25: means are 3 % above the typical value, over some 300 throws with an
    // error of 1.5 %. Throws that a bite interrupts are not counted, hence the wide bounds.
    for (way, typical_s) in [("catapult", 7.0), ("hand", 4.0), ("pot", 30.0), ("ball", 12.0)] {
        let mean_s = feeding_s(way);
        assert!((0.9 * typical_s..1.2 * typical_s).contains(&mean_s), "{way}: {mean_s} s");
    }
}

#[test]
fn fish_rise_to_feed_that_falls_loose_and_not_to_a_ball() {
    let rises = |way: &str| {
        let scenario = fed(&format!(r#", by = "{way}""#), &[]);
        let risen = |number| {
            let mut events = EventLog::default();
            let day = Day::draw(&scenario, 1, number);
            observe_session(&scenario, &scenario.plans[0], &day, &mut events);
            let of_rise = |event: &&(sim::Time, Event)| matches!(event.1, Event::FishRises { .. });
            events.events.iter().filter(of_rise).count()
        };
        (1..=DAYS).map(risen).sum::<usize>()
    };
    let (catapult, ball) = (rises("catapult"), rises("ball"));
    assert!(catapult > 30 && ball == 0, "{catapult} rise to the catapult, {ball} to balls");
}

#[test]
fn a_pot_is_quieter_and_a_ball_louder_than_a_catapult() {
    // With nothing on the feeder, and a shoal that flees from each sound.
    let sets = ["plan.a.load=0 g", "shoal.carp.startles_at_patter=0.5"];
    let scared = |way: &str, sets: &[&str]| {
        let outcomes = outcomes(&fed(&format!(r#", by = "{way}""#), sets));
        sum(&outcomes, |outcome| f64::from(outcome.swim.scared))
    };
    let (pot, catapult) = (scared("pot", &sets), scared("catapult", &sets));
    assert!(pot < 0.7 * catapult, "{pot} are scared by pots, {catapult} by the catapult");
    let deaf = ["plan.a.load=0 g", "shoal.carp.startles_at_patter=0"];
    let (ball, catapult) = (scared("ball", &deaf), scared("catapult", &deaf));
    assert!(ball > 1.2 * catapult, "{ball} are scared by balls, {catapult} by the catapult");
}

#[test]
fn a_cast_without_a_hookbait_feeds_and_catches_nothing() {
    let bare = outcomes(&fed("", &["plan.a.hookbait=none"]));
    let baited = outcomes(&fed("", &[]));
    assert!(sum(&baited, |outcome| f64::from(outcome.bites)) > 0.0, "there are fish to catch");
    for outcome in &bare {
        assert_eq!((outcome.bites, outcome.swim.hookbait_met), (0, 0));
        assert!(outcome.swim.hookbait_fishing_s <= 0.0, "no hookbait is ever there");
        assert!(outcome.casts > 10 && outcome.bait.feeder_kg > 0.05, "it casts and feeds");
    }
}
