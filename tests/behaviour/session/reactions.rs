//! What an angler reacts to: each condition of a rule fires at the moment found by going through the events again.

use sim::engine::EventLog;
use sim::fish::FishId;
use sim::scenario::{Scenario, read};
use sim::session::{Day, Event, Outcome, observe_session};

/// Days on which each condition is tried.
const DAYS: u32 = 24;

/// A peg with fish to lose and to miss, in wind and failing light, and a plan whose only rule changes the load.
fn peg(condition: &str, sets: &[&str]) -> Scenario {
    let text = format!(
        r#"
        session = {{ length = "4 h", date = "2026-09-20", start = "15:30" }}
        water = {{ wind = {{ low = "8 km/h", high = "26 km/h" }} }}
        line.open.distance = "18 m"
        shoal.small = {{ count = 40, weight = "600 g", weight_cv = 0.05, home = "open", rises = 0.8 }}
        shoal.large = {{ count = 40, weight = "2.4 kg", weight_cv = 0.05, home = "open", rises = 0.8 }}
        [plan.a]
        line = "open"
        recast = "4 min"
        feed.open = {{ every = "3 min", amount = "8 g", bait = "pellets-4mm" }}
        rule.r = {{ {condition}, load = "10 g", at_most = 1, lasts = "all session" }}
        "#
    );
    let sets: Vec<String> = sets.iter().map(|set| (*set).to_owned()).collect();
    read(&text, "peg", &sets).unwrap_or_else(|faults| panic!("{faults}"))
}

/// One session: its events with times [s], and its result.
struct Seen {
    events: Vec<(f64, Event)>,
    outcome: Outcome,
    day: Day,
}

impl Seen {
    /// Times of the events for which `is` is true [s].
    fn times(&self, is: impl Fn(&Event) -> bool) -> Vec<f64> {
        self.events.iter().filter(|(_, event)| is(event)).map(|(at_s, _)| *at_s).collect()
    }

    fn losses(&self) -> Vec<f64> {
        self.times(|event| matches!(event, Event::FishIsLost { .. }))
    }

    fn landings(&self) -> Vec<f64> {
        self.times(|event| matches!(event, Event::FishIsNetted { .. }))
    }

    /// Bites in order, each with whether the fish that took the hookbait was hooked.
    fn bites(&self) -> Vec<(f64, bool)> {
        let hooked = |at_s: f64, fish: FishId| {
            self.events.iter().any(|&(then_s, event)| {
                then_s.to_bits() == at_s.to_bits()
                    && matches!(event, Event::FishIsHooked { fish: other } if other == fish)
            })
        };
        let bite = |&(at_s, event): &(f64, Event)| match event {
            Event::FishTakes { fish, .. } => Some((at_s, hooked(at_s, fish))),
            _ => None,
        };
        self.events.iter().filter_map(bite).collect()
    }
}

/// The first time at which the last `count` of some times lie within a span [s].
fn first_run(times_s: &[f64], count: usize, within_s: f64) -> Option<f64> {
    times_s.windows(count).find(|run| run[count - 1] - run[0] < within_s).map(|run| run[count - 1])
}

/// The first time from which a span passed without one of some times [s].
fn first_gap(times_s: &[f64], within_s: f64, session_s: f64) -> Option<f64> {
    let starts = std::iter::once(0.0).chain(times_s.iter().copied());
    let ends = times_s.iter().copied().chain(std::iter::once(session_s));
    starts
        .zip(ends)
        .find(|(from_s, to_s)| to_s - from_s > within_s)
        .map(|(from_s, _)| from_s + within_s)
}

/// Checks that a rule fires first when `expected` says, on every day, and that it fires on some.
#[track_caller]
fn fires_when(condition: &str, sets: &[&str], expected: impl Fn(&Seen) -> Option<f64>) {
    let scenario = peg(condition, sets);
    let mut fired_on = 0;
    for number in 1..=DAYS {
        let day = Day::draw(&scenario, 1, number);
        let mut record = EventLog::default();
        let outcome = observe_session(&scenario, &scenario.plans[0], &day, &mut record);
        let events = record.events.into_iter().map(|(at, event)| (at.seconds(), event)).collect();
        let seen = Seen { events, outcome, day };
        let fired = seen.times(|event| matches!(event, Event::RuleFires { .. })).first().copied();
        // At the very end nothing is left to change.
        let due = expected(&seen).filter(|due_s| *due_s < scenario.session_s - 1e-3);
        let same = match (fired, due) {
            (Some(fired_s), Some(due_s)) => (fired_s - due_s).abs() < 2e-6,
            (None, None) => true,
            _ => false,
        };
        assert!(same, "{condition}, day {number}: fired at {fired:?}, due at {due:?}");
        fired_on += u32::from(fired.is_some());
    }
    assert!(fired_on > 0, "{condition} never fired, so nothing is tested");
}

#[test]
fn a_lost_fish_is_reacted_to_when_it_comes_off() {
    fires_when("fish_lost = 1", &[], |seen| seen.losses().first().copied());
    fires_when("fish_lost = 2, within = \"2 h\"", &[], |seen| first_run(&seen.losses(), 2, 7200.0));
}

#[test]
fn missed_bites_are_counted_in_a_time_and_in_a_row() {
    fires_when("bites_missed = 2, within = \"20 min\"", &[], |seen| {
        let missed: Vec<f64> =
            seen.bites().iter().filter(|(_, hooked)| !hooked).map(|(at_s, _)| *at_s).collect();
        first_run(&missed, 2, 1200.0)
    });
    fires_when("missed_in_a_row = 2", &[], |seen| {
        let bites = seen.bites();
        bites.windows(2).find(|pair| !pair[0].1 && !pair[1].1).map(|pair| pair[1].0)
    });
}

#[test]
fn fish_landed_lately_are_counted() {
    fires_when("landed_at_least = 3, within = \"15 min\"", &[], |seen| {
        first_run(&seen.landings(), 3, 900.0)
    });
    fires_when("landed_at_most = 0, within = \"25 min\"", &[], |seen| {
        first_gap(&seen.landings(), 1500.0, 14_400.0)
    });
}

#[test]
fn fish_that_get_smaller_are_noticed_by_the_mean_of_the_last_few() {
    // Two small fish are guessed well below a kilogram each, and a large one well above two.
    let small_error = ["book.angler.guess_spread_ln=0.05"];
    fires_when("fish_below = \"1 kg\", of_last = 2", &small_error, |seen| {
        let lighter = |pair: &&[sim::session::Catch]| pair[0].mass_g + pair[1].mass_g < 2000;
        seen.outcome.catches.windows(2).find(lighter).map(|pair| pair[1].at_s)
    });
}

#[test]
fn a_foul_hooked_fish_is_noticed_when_it_is_landed() {
    let many = ["book.angler.strikes_at_touch=0.5", "book.angler.fouls_at_strike=0.5"];
    fires_when("foul_hooked = 1", &many, |seen| {
        seen.outcome.catches.iter().find(|catch| catch.foul).map(|catch| catch.at_s)
    });
}

#[test]
fn wind_that_rises_or_drops_is_noticed_within_five_minutes() {
    let first_look = |seen: &Seen, holds: &dyn Fn(f64) -> bool| {
        let looks = (0..48).map(|look| 300.0 * f64::from(look));
        looks.into_iter().find(|at_s| holds(seen.day.courses.wind_m_s.at(*at_s)))
    };
    fires_when("wind_at_least = \"18 km/h\"", &[], |seen| {
        first_look(seen, &|m_s| m_s >= 18.0 / 3.6)
    });
    // The wind drops towards evening: on some days it is reached during the session.
    fires_when("wind_at_most = \"12 km/h\"", &[], |seen| {
        first_look(seen, &|m_s| m_s <= 12.0 / 3.6)
    });
    let scenario = peg("wind_at_most = \"12 km/h\"", &[]);
    let drops = |number| {
        let wind_m_s = Day::draw(&scenario, 1, number).courses.wind_m_s;
        wind_m_s.at(0.0) > 12.0 / 3.6 && wind_m_s.at(14_000.0) < 12.0 / 3.6
    };
    assert!((1..=DAYS).any(drops), "the wind drops below the limit on no day");
}

#[test]
fn sunset_and_clock_are_followed() {
    let [_, sunset_s] = peg("after = \"1 h\"", &[])
        .clock
        .and_then(|clock| clock.day.sunrise_and_sunset_s())
        .expect("the sun sets in September");
    fires_when("to_sunset = \"40 min\"", &[], |_| Some(sunset_s - 2400.0 - 15.5 * 3600.0));
    fires_when("clock_from = \"17:10\"", &[], |_| Some(6000.0));
}
