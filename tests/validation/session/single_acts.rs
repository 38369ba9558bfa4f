//! Single acts of fish in whole sessions occur as often as their formulas say: rising, taking and shunning.

use sim::bait::FallingBait;
use sim::fish::{Experience, FishId, Trait, size_fit, take_chance};
use sim::scenario::{Scenario, read};
use sim::session::{Day, Event, Recording, record_session};

use crate::evidence::{LargestScore, Z_BOUND, within_z};
use crate::measured::measured;

/// Hungry fish that come to every splash and fear none, on a flat bottom, with two hookbaits, one of them hardly tempting.
const WATER: &str = r#"
    title = "An invented water, for single acts of fish"
    session = { length = "3 h", kind = "pleasure" }
    water = { depth = "1.2 m", temperature = "21 C" }
    line.only.distance = "20 m"
    [shoal.some]
    count = 60
    weight = "1.5 kg"
    home = "only"
    comes_to_splash = 0.8
    comes_to_patter = 0.0
    startles_at_splash = 0.0
    startles_at_patter = 0.0
    startles_at_fight = 0.0
    rises = 0.5
    [hookbait.dull]
    like = "banded-pellet"
    tempting = 0.25
    [hookbait.fine]
    like = "banded-pellet"
    tempting = 1.5
    [plan.fine]
    bait = "micro-pellets"
    load = "10 g"
    hookbait = "fine"
    recast = "3 min"
    [plan.dull]
    bait = "micro-pellets"
    load = "10 g"
    hookbait = "dull"
    recast = "3 min"
    [plan.fed]
    bait = "micro-pellets"
    load = "0 g"
    hookbait = "none"
    recast = "3 min"
    feed.only = { bait = "pellets-4mm", every = "4 min", amount = "12 g" }
"#;

pub(super) fn water(sets: &[&str]) -> Scenario {
    let sets: Vec<String> = sets.iter().map(|&set| set.to_owned()).collect();
    read(WATER, "invented", &sets).unwrap_or_else(|faults| panic!("{faults}"))
}

/// One plan on some days, each changed beforehand, as recordings.
pub(super) fn recorded(
    scenario: &Scenario,
    plan: &str,
    days: u32,
    change: impl Fn(&mut Day),
) -> Vec<(Day, Recording)> {
    let plan = scenario.plans.iter().find(|known| known.name == plan).expect("a plan of the water");
    (1..=days)
        .map(|number| {
            let mut day = Day::draw(scenario, 8, number);
            change(&mut day);
            let film = record_session(scenario, plan, &day, 2_000_000).expect("room enough");
            (day, film)
        })
        .collect()
}

/// Counts of something with known chances, to compare with their sum.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Count {
    pub(super) tried: f64,
    pub(super) seen: f64,
    expected: f64,
    variance: f64,
}

impl Count {
    pub(super) fn add(&mut self, seen: bool, chance: f64) {
        self.tried += 1.0;
        self.seen += f64::from(u8::from(seen));
        self.expected += chance;
        self.variance += chance * (1.0 - chance);
    }

    /// Fails unless the count is its expectation within 4 standard errors; returns the standard score.
    #[track_caller]
    pub(super) fn is_expected(&self, what: &str) -> f64 {
        assert!(self.variance > 20.0, "{what}: {self:?} is too little for this test");
        within_z(what, self.seen, self.expected, self.variance.sqrt());
        (self.seen - self.expected) / self.variance.sqrt()
    }

    /// Fails if the count is above its expectation by more than 4 standard errors.
    #[track_caller]
    fn is_at_most_expected(&self, what: &str) {
        assert!(self.variance > 20.0, "{what}: {self:?} is too little for this test");
        println!("{what}: {} of {}, at most {:.1}", self.seen, self.tried, self.expected);
        let most = self.expected + Z_BOUND * self.variance.sqrt();
        assert!(self.seen < most, "{what}: {self:?}");
    }
}

/// V-380: of the fish on the bed under a throw of loose feed the share `rises` · F/(F + B) rises, F the food that falls and B the
/// food that lies there.
///
/// What lies there is taken from the recording, which leaves out changes below a fiftieth, so 2 % of the sum is allowed on
/// top of 4 standard errors of a binomial count. Throws over a bare bed and over a full one are counted apart.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn fish_rise_by_what_falls_against_what_lies() {
    let scenario = water(&[]);
    let (mut bare, mut full) = (Count::default(), Count::default());
    for (day, film) in recorded(&scenario, "fed", 60, |_| {}) {
        let rises = day.traits[0][Trait::Rises];
        let recipe = &day.recipes[scenario.plans[2].phases[0].loose_feed[0].recipe];
        let mut below = vec![false; day.stock.len()];
        let mut events = film.events.iter().peekable();
        while let Some(&(at_s, event)) = events.next() {
            match event {
                Event::FishArrives { fish, .. } | Event::FishGoesDown { fish, .. } => {
                    below[fish.0] = true
                }
                Event::FishRises { fish, .. } | Event::FishLeaves { fish, .. } => {
                    below[fish.0] = false
                }
                Event::LooseFeedThrown { mass_kg, .. } => {
                    let thrown = FallingBait::new(recipe, mass_kg, 1.2, &day.fluid, &day.bait);
                    let lay = film.lines[0].bait.iter().take_while(|bait| bait.at_s < at_s).last();
                    let lies_kg = lay.map_or(0.0, |bait| bait.pile_kg + bait.scatter_kg);
                    let chance = rises * thrown.food_kg / (thrown.food_kg + lies_kg);
                    let there: Vec<usize> = (0..below.len()).filter(|&fish| below[fish]).collect();
                    while let Some(&(_, event)) = events.next_if(|(then_s, _)| *then_s <= at_s) {
                        if let Event::FishRises { fish, .. } = event {
                            below[fish.0] = false;
                        }
                    }
                    let count = if lies_kg < thrown.food_kg { &mut bare } else { &mut full };
                    there.iter().for_each(|&fish| count.add(!below[fish], chance));
                }
                _ => {}
            }
        }
    }
    let mut result = Vec::new();
    for (what, count) in [("a bare", bare), ("a full", full)] {
        println!("V-380 over {what} bed: {count:?}");
        assert!(count.variance > 20.0, "V-380: too few fish over {what} bed: {count:?}");
        let off = (count.seen - count.expected).abs();
        let allowed = Z_BOUND * count.variance.sqrt() + 0.02 * count.expected;
        assert!(off < allowed, "V-380 over {what} bed: {count:?}");
        result.push(format!(
            "over {what} bed {} of {} fish rose, {:.0} expected",
            count.seen, count.tried, count.expected
        ));
    }
    measured!("V-380", "{}", result.join("; "));
}

/// V-381: a fish that meets the hookbait takes it with the chance of its own boldness and size and of the bait's temptation and
/// size.
///
/// Where neither captures nor frights are remembered, the chance of each meeting is known from the day's stock before the
/// session. Takes are counted apart for bold and for shy fish, with a tempting and with a dull hookbait: 4 standard errors
/// each of a sum of binomial counts.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn hookbaits_are_taken_by_boldness_and_temptation() {
    let scenario = water(&[]);
    let mut largest = LargestScore::default();
    for plan in ["fine", "dull"] {
        let (mut bold, mut shy) = (Count::default(), Count::default());
        for (day, film) in recorded(&scenario, plan, 40, |day| {
            day.fish.own_capture_lesson = 0.0;
            day.fish.seen_capture_lesson = 0.0;
            day.fish.fright_wariness = 0.0;
        }) {
            let named = |hookbait: &&sim::bait::Hookbait| hookbait.name == plan;
            let hookbait = day.hookbaits.iter().find(named).expect("a hookbait of the plan's name");
            for (_, event) in film.events {
                let (fish, takes) = match event {
                    Event::FishTakes { fish, .. } => (fish, true),
                    Event::FishRefuses { fish, .. } => (fish, false),
                    _ => continue,
                };
                let fish = &day.stock[fish.0];
                let fits = size_fit(hookbait.diameter_m, fish.gape_m, &day.fish);
                let ready = fish.boldness * hookbait.temptation * fits;
                let chance = take_chance(fish.mass_kg(), ready, Experience::default(), &day.fish);
                let count = if fish.boldness > 1.0 { &mut bold } else { &mut shy };
                count.add(takes, chance);
            }
        }
        for (who, count) in [("bold", bold), ("shy", shy)] {
            let z = count.is_expected(&format!("V-381 taken by {who} fish, {plan} hookbait"));
            largest.add(z);
        }
    }
    measured!("V-381", "{largest}");
}

/// V-382: a fish that gave up a line ignores its smell and the fish that feed there for a time, and one that refused a
/// hookbait meets none for a time: both exponential, with the book's means.
///
/// Within t of it at most the share 1 − exp(−t/T) may do so again, however strongly the line calls: 4 standard errors of a
/// binomial count above that.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_line_given_up_and_a_hookbait_refused_are_left_alone() {
    /// Part of the mean time within which a fish may not come again, unless its own time was short.
    const PART: f64 = 0.25;
    let chance = 1.0 - f64::exp(-PART);
    // Splashes call nobody, since a sound ends the disappointment; smell is strong, and pauses are short.
    let calls = [
        "shoal.some.comes_to_splash=0.0",
        "shoal.some.count=300",
        "bait.micro-pellets.attractant=900 mmol/kg",
        "plan.fine.recast=10 min",
    ];
    let (mut returns, mut meets) = (Count::default(), Count::default());
    for (day, film) in recorded(&water(&calls), "fine", 12, |day| {
        day.fish.pause_s = 10.0;
    }) {
        let within_s = PART * day.fish.disappointment_s;
        again(&film, within_s, chance, &mut returns, |event| match event {
            Event::FishGivesUp { fish, .. } => Some((fish, false)),
            Event::FishNotices { fish, .. } => Some((fish, true)),
            _ => None,
        });
    }
    for (day, film) in recorded(&water(&["shoal.some.boldness=0.02"]), "fine", 12, |_| {}) {
        let within_s = PART * day.fish.refusal_memory_s;
        again(&film, within_s, chance, &mut meets, |event| match event {
            Event::FishRefuses { fish, .. } | Event::FishTakes { fish, .. } => Some((fish, true)),
            _ => None,
        });
    }
    returns.is_at_most_expected("V-382 noticed again after giving up");
    meets.is_at_most_expected("V-382 met again after refusing");
    measured!(
        "V-382",
        "{:.1} % of {} come again and {:.1} % of {} meet a hookbait again in a quarter of the mean time, at most {:.1} %",
        100.0 * returns.seen / returns.tried,
        returns.tried,
        100.0 * meets.seen / meets.tried,
        meets.tried,
        100.0 * chance
    );
}

/// Counts, for each time that `acts` marks an event of a fish, whether its next marked event is one that it should leave alone
/// and comes within a time. An event that is marked `true` is such a one.
fn again(
    film: &Recording,
    within_s: f64,
    chance: f64,
    count: &mut Count,
    acts: impl Fn(Event) -> Option<(FishId, bool)>,
) {
    let end_s = film.events.last().map_or(0.0, |(at_s, _)| *at_s);
    for (index, &(at_s, event)) in film.events.iter().enumerate() {
        let starts = matches!(event, Event::FishGivesUp { .. } | Event::FishRefuses { .. });
        let Some((fish, _)) = acts(event).filter(|_| starts && at_s + within_s < end_s) else {
            continue;
        };
        let later = film.events[index + 1..].iter();
        let soon = later.take_while(|(then_s, _)| *then_s < at_s + within_s);
        let mut own =
            soon.filter_map(|&(_, event)| acts(event)).filter(|(other, _)| *other == fish);
        count.add(own.next().is_some_and(|(_, again)| again), chance);
    }
}
