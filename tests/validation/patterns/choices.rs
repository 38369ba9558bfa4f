//! Effects of the angler's choices: patterns 11 to 17. Sources: common practice, none published.

use sim::scenario::Scenario;
use sim::session::{Event, Outcome};
use sim::water::LineId;

use super::families::{kg, log_ratio, outcomes};
use super::sessions::{ahead, days, fished, two_lines, watched, weights_kg, z_of};
use crate::demo::demo;
use crate::evidence::{Z_BOUND, mean};
use crate::measured::measured;

/// Weights of one plan with one of its keys at a given value [kg].
fn at(plan: &str, key: &str, value: &str, many: u32) -> Vec<f64> {
    weights_kg(&demo(&[&format!("plan.{plan}.{key}={value}")]), plan, many)
}

/// V-136, pattern 11: weight against loose feed has a maximum inside the range.
///
/// Over a lead without feed of its own: 4 g every three minutes beats no feed and 48 g, by 4 standard errors of the
/// paired difference.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn weight_against_feed_has_a_maximum_inside() {
    let feed = |amount: &str| {
        let amount = format!("plan.open-pellets.feed.open.amount={amount}");
        let water = demo(&["plan.open-pellets.load=0 g", &amount]);
        weights_kg(&water, "open-pellets", 400)
    };
    let [none, some, much] = ["0 g", "4 g", "48 g"].map(feed);
    ahead("V-136 kg, 4 g against none", &some, &none);
    ahead("V-136 kg, 4 g against 48 g", &some, &much);
    measured!(
        "V-136",
        "met: {:.1} kg with none, {:.1} with 4 g, {:.1} with 48 g, over a lead",
        mean(&none),
        mean(&some),
        mean(&much)
    );
}

/// V-137, pattern 12: near cover the best recast interval is 1 to 4 minutes, and then a small load beats a large
/// one.
///
/// Three minutes beats both 45 seconds and 8 minutes by 4 standard errors; 25 g beats 80 g at three minutes. Bites come soon: at a ten-minute interval, more than half
/// come within 4 minutes of the landing (the longest best interval), by 4 standard errors of the share.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn near_cover_the_best_interval_is_short_and_the_best_load_small() {
    let every = |recast| at("two-minutes", "recast", recast, 300);
    let [short, two, best, five, long] = ["45 s", "2 min", "3 min", "5 min", "8 min"].map(every);
    ahead("V-137 kg, 3 min against 45 s", &best, &short);
    ahead("V-137 kg, 3 min against 8 min", &best, &long);
    let large = demo(&["plan.two-minutes.recast=3 min", "plan.two-minutes.load=80 g"]);
    let large = weights_kg(&large, "two-minutes", 300);
    ahead("V-137 kg, 25 g against 80 g", &best, &large);
    let waits: Vec<f64> =
        waits_to_bites(&demo(&[]), "ten-minutes", 300).into_iter().flatten().collect();
    let soon = waits.iter().filter(|&&wait_s| wait_s < 240.0).count() as f64;
    let n = waits.len() as f64;
    let (share, error) = (soon / n, (0.25 / n).sqrt());
    println!("V-137: {share:.3} ± {error:.3} of bites come within 4 min of 10");
    assert!(share - 4.0 * error > 0.5, "V-137: {share} ± {error}");
    let waits = [short, two, best, five, long].map(|kg| format!("{:.1}", mean(&kg)));
    measured!(
        "V-137",
        "met: {} kg at 45 s, 2, 3, 5 and 8 min; with 80 g {:.1} kg at 3 min; {:.0} % of bites come within 4 min",
        waits.join(", "),
        mean(&large),
        100.0 * share
    );
}

/// Time from each landing of a feeder to the take, if there was one [s], for each day.
fn waits_to_bites(water: &Scenario, plan: &str, many: u32) -> Vec<Vec<f64>> {
    let plan = water.plans.iter().position(|known| known.name == plan).expect("a plan");
    days(water, many, |day| {
        let (mut landed_s, mut waits) = (0.0, Vec::new());
        for (at, event) in watched(water, plan, day).0 {
            match event {
                Event::FeederLands { .. } => landed_s = at.seconds(),
                Event::FishTakes { .. } => waits.push(at.seconds() - landed_s),
                _ => {}
            }
        }
        waits
    })
}

/// V-138, pattern 13: in open water over loose-fed pellets the best wait is long, and frequent recasting costs
/// weight.
///
/// Nine minutes, within the range of 6 to 15, beats 1, 2 and 3 minutes by 4 standard errors. 25 minutes is printed: the
/// catch hardly falls there.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn in_open_water_long_waits_are_best() {
    let every = |recast| at("open-pellets", "recast", recast, 400);
    let (patient, longest) = (every("9 min"), every("25 min"));
    let shorter = ["1 min", "2 min", "3 min"].map(|recast| {
        let weights = every(recast);
        ahead(&format!("V-138 kg, 9 min against {recast}"), &patient, &weights);
        format!("{:.1}", mean(&weights))
    });
    measured!(
        "V-138",
        "met for short waits: {} kg at 1, 2 and 3 min, {:.1} at 9; a long one of 25 min gives {:.1} (z = {:+.1} against 9)",
        shorter.join(", "),
        mean(&patient),
        mean(&longest),
        z_of(&longest, &patient)
    );
}

/// Masses landed from one shoal, or from all [kg].
fn masses_kg(outcomes: &[Outcome], shoal: Option<usize>) -> Vec<f64> {
    outcomes
        .iter()
        .flat_map(|outcome| &outcome.catches)
        .filter(|catch| shoal.is_none_or(|shoal| catch.shoal == shoal))
        .map(|catch| f64::from(catch.mass_g) / 1000.0)
        .collect()
}

/// V-139, pattern 14: fish caught near cover weigh about 0.9 to 1.8 kg, those in open water 2.7 to 3.6 kg with some
/// over 4.5 kg, and one of these is worth two or three of the others.
///
/// The weights of the shoals are the demo's data; the test is that each line catches its own fish. The median fish
/// near cover and the mean fish in open water, of all shoals, are within these ranges; the mean fish of the larger
/// shoal caught in open water weighs 2 to 3 times the mean fish of the smaller one caught near cover.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn each_line_catches_its_own_fish() {
    let water = demo(&[]);
    let near = fished(&water, "two-minutes", 200);
    let open = fished(&water, "open-pellets", 200);
    let worth = mean(&masses_kg(&open, Some(1))) / mean(&masses_kg(&near, Some(0)));
    let (mut near, open) = (masses_kg(&near, None), masses_kg(&open, None));
    near.sort_by(f64::total_cmp);
    let (middle, mean_open) = (near[near.len() / 2], mean(&open));
    let large = open.iter().filter(|&&kg| kg > 4.5).count() as f64 / open.len() as f64;
    println!(
        "V-139: near cover {middle:.2} kg in the middle; open water {mean_open:.2} kg in the mean, {:.1} % over \
         4.5 kg; one is worth {worth:.2}",
        100.0 * large
    );
    assert!((0.9..1.8).contains(&middle), "V-139: {middle} kg near cover");
    assert!((2.7..3.6).contains(&mean_open), "V-139: {mean_open} kg in open water");
    assert!(large > 0.01, "V-139: {large} over 4.5 kg");
    assert!((2.0..3.0).contains(&worth), "V-139: {worth}");
    measured!(
        "V-139",
        "met: {middle:.2} kg, {mean_open:.2} kg, {:.0} % over 4.5 kg, {worth:.1} times",
        100.0 * large
    );
}

/// The demo with its open line fished in the last hour only, loose-fed with these amounts before and during it.
fn fished_late(before: &str, then: &str) -> Vec<Outcome> {
    let water = demo(&[
        "plan.island-then-open.phase.1.until=4 h",
        "plan.island-then-open.phase.2.recast=6 min",
        &format!("plan.island-then-open.phase.1.feed.open.amount={before}"),
        &format!("plan.island-then-open.phase.2.feed.open.amount={then}"),
    ]);
    fished(&water, "island-then-open", 5000)
}

/// V-140, pattern 15: an open-water line primed from the start and fished in the last hour beats the same line
/// unprimed.
///
/// An unprimed line is never loose-fed: the mass landed after the change of line must be ahead by 4 standard errors.
/// A line fed only from the change on is printed for comparison without a bound, as is the weight of the whole day:
/// time spent feeding is not spent fishing, and no source says which of these is meant.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_primed_open_line_beats_an_unprimed_one() {
    let late = |outcomes: &[Outcome]| -> Vec<f64> {
        outcomes
            .iter()
            .map(|outcome| {
                let late = outcome.catches.iter().filter(|catch| catch.at_s > 14_400.0);
                late.map(|catch| f64::from(catch.mass_g) / 1000.0).sum()
            })
            .collect()
    };
    let arms = [fished_late("4 g", "4 g"), fished_late("0 g", "0 g"), fished_late("0 g", "4 g")];
    let [primed, never, from_then] = arms.each_ref().map(|outcomes| late(outcomes));
    let whole_day = arms.each_ref().map(|outcomes| {
        mean(&outcomes.iter().map(|outcome| outcome.weight_g as f64 / 1e3).collect::<Vec<_>>())
    });
    println!("V-140: kg all day, primed, never fed and fed from then on: {whole_day:.2?}");
    println!(
        "V-140: against a line fed from the change on {:.2} to {:.2} kg, z = {:+.1}",
        mean(&primed),
        mean(&from_then),
        z_of(&primed, &from_then)
    );
    let z = ahead("V-140 kg in the last hour, primed against never fed", &primed, &never);
    measured!(
        "V-140",
        "met: {:.2} kg in the last hour against {:.2} (z = {z:+.1}); printed: {:.2} where fed from the change on (z = {:+.1}), \
         {} kg all day primed, never fed and fed from the change on",
        mean(&primed),
        mean(&never),
        mean(&from_then),
        z_of(&primed, &from_then),
        whole_day.map(|kg| format!("{kg:.1}")).join(", ")
    );
}

/// Mean number of fish up in the water over the left line in each of two periods [s], for each day.
fn fish_up(plan: &str, spans: [(f64, f64); 2]) -> [Vec<f64>; 2] {
    let water = two_lines(&["shoal.roamers.count=240"]);
    let plan = water.plans.iter().position(|known| known.name == plan).expect("a plan");
    let of_days = days(&water, 200, |day| {
        let mut since = vec![None; day.stock.len()];
        let mut up = [0.0; 2];
        for (at, event) in watched(&water, plan, day).0 {
            let now_s = at.seconds();
            let (rises, down) = match event {
                Event::FishRises { fish, line: LineId(0) } => (Some(fish), None),
                Event::FishGoesDown { fish, .. } | Event::FishLeaves { fish, .. } => {
                    (None, Some(fish))
                }
                _ => continue,
            };
            if let Some(fish) = rises {
                since[fish.0] = Some(now_s);
            }
            if let Some(since_s) = down.and_then(|fish| since[fish.0].take()) {
                for (sum, (from_s, until_s)) in up.iter_mut().zip(spans) {
                    let within_s: f64 = now_s.min(until_s) - f64::max(since_s, from_s);
                    *sum += within_s.max(0.0) / (until_s - from_s);
                }
            }
        }
        up
    });
    [0, 1].map(|span| of_days.iter().map(|up| up[span]).collect())
}

/// V-141, pattern 16: small frequent feeds bring fish up, and a heavy throw brings them down.
///
/// At the same 240 g an hour more fish are up where 4 g is thrown each minute than where 80 g is thrown every twenty
/// minutes. Over a line with small frequent feeds, fewer than half of the fish that were up are up in the ten
/// minutes that begin two minutes after a throw of 150 g. Both by 4 standard errors, where 240 fish are in reach.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn frequent_small_feeds_bring_fish_up_and_a_heavy_throw_brings_them_down() {
    let session = [(1800.0, 17_000.0), (0.0, 1.0)];
    let [often, _] = fish_up("little-and-often", session);
    let [pulses, _] = fish_up("heavy-pulses", session);
    ahead("V-141 fish up, little and often against heavy throws", &often, &pulses);
    let [before, after] = fish_up("then-a-pulse", [(6600.0, 7200.0), (7320.0, 7920.0)]);
    let half: Vec<f64> = before.iter().map(|fish| 0.5 * fish).collect();
    ahead("V-141 half the fish that were up against those up after the throw", &half, &after);
    measured!(
        "V-141",
        "met: {:.2} fish up against {:.2}; {:.2} before a throw of 150 g, {:.3} after",
        mean(&often),
        mean(&pulses),
        mean(&before),
        mean(&after)
    );
}

/// V-142, pattern 17: a hookbait on top of the load gives the quicker first bite, one buried in it is better for
/// long waits.
///
/// Over the demo's ten-minute plan, more casts have their bite within a minute of landing with the hookbait on top;
/// with a wait of 12 minutes, a buried one gives more weight. Both by 4 standard errors.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn a_hookbait_on_top_is_quicker_and_a_buried_one_better_for_long_waits() {
    let quick = |style: &str| -> Vec<f64> {
        let water = demo(&[&format!("plan.ten-minutes.load_style={style}")]);
        let waits = waits_to_bites(&water, "ten-minutes", 400);
        waits.iter().map(|day| day.iter().filter(|&&wait_s| wait_s < 60.0).count() as f64).collect()
    };
    let [soon_top, soon_buried] = ["top", "buried"].map(quick);
    ahead("V-142 bites within a minute, on top against buried", &soon_top, &soon_buried);
    let long = |style: &str| {
        let set = format!("plan.ten-minutes.load_style={style}");
        weights_kg(&demo(&[&set, "plan.ten-minutes.recast=12 min"]), "ten-minutes", 1000)
    };
    let [late_top, late_buried] = ["top", "buried"].map(long);
    ahead("V-142 kg every 12 minutes, buried against on top", &late_buried, &late_top);
    measured!(
        "V-142",
        "met: {:.1} bites within a minute against {:.1}; every 12 minutes {:.1} kg buried, {:.1} on top",
        mean(&soon_top),
        mean(&soon_buried),
        mean(&late_buried),
        mean(&late_top)
    );
}

/// Mean weight of a plan with a load on the feeder, on the same days for each, with the weights themselves [kg].
fn with_load(water: &str, plan: &str, load: &str, many: u32) -> Vec<f64> {
    kg(&outcomes(water, &[&format!("plan.{plan}.load={load}")], plan, many))
}

/// V-198: weight changes with the load of the feeder without a step, on three lines and from nothing to 500 g.
///
/// With 10 mg as with none, within 4 standard errors of paired days; from each load to the next no faster than the load, beyond 4
/// standard errors, where a step would be; and 500 g are too much, by as many. What one gram does is printed.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn weight_changes_with_the_load_without_a_step() {
    let loads = [0.0_f64, 0.01, 0.1, 1.0, 3.0, 10.0, 30.0, 100.0, 250.0, 500.0];
    let (mut faults, mut results) = (Vec::new(), Vec::new());
    for (water, plan) in
        [("open-water", "groundbait"), ("island", "micros"), ("feeders", "groundbait")]
    {
        let weights = loads.map(|load_g| with_load(water, plan, &format!("{load_g} g"), 200));
        let means = weights.each_ref().map(|kg| mean(kg));
        let z = z_of(&weights[1], &weights[0]);
        if z.abs() > Z_BOUND {
            faults.push(format!("{water}: ten milligrams against none, z = {z:+.1}"));
        }
        for pair in 1..loads.len() - 1 {
            let (log, error) = log_ratio(&weights[pair + 1], &weights[pair]);
            let more = (loads[pair + 1] / loads[pair]).ln();
            if log > more + Z_BOUND * error {
                faults.push(format!("{water}: {} g multiply by {:.1}", loads[pair + 1], log.exp()));
            }
        }
        let best = means.iter().copied().fold(0.0, f64::max);
        let at = means.iter().position(|&kg| kg >= best).unwrap_or(0);
        let too_much = z_of(&weights[at], &weights[9]);
        if too_much <= Z_BOUND {
            faults.push(format!("{water}: 500 g against {} g, z = {too_much:+.1}", loads[at]));
        }
        let gram = z_of(&weights[3], &weights[0]);
        let listed = means.map(|kg| format!("{kg:.1}"));
        results.push(format!(
            "{} on `{water}` with `{plan}` (1 g over none z = {gram:+.1})",
            listed.join(", ")
        ));
    }
    println!("V-198 {}", results.join("; "));
    assert!(faults.is_empty(), "V-198: {faults:?}");
    measured!(
        "V-198",
        "met: kg at 0, 0.01, 0.1, 1, 3, 10, 30, 100, 250, 500 g: {}",
        results.join("; ")
    );
}

/// V-198: the best load and interval together are such as anglers use: 5 to 120 g of groundbait every 2 to 15 minutes in open
/// water, and not the ends of what is tried, 10 mg to 300 g and half a minute to half an hour.
#[test]
#[cfg_attr(debug_assertions, ignore = "whole sessions: run in release")]
fn the_best_load_and_interval_are_such_as_anglers_use() {
    let mut tried = Vec::new();
    for load_g in [0.01, 1.0, 5.0, 15.0, 40.0, 120.0, 300.0] {
        for recast_s in [30, 60, 120, 240, 480, 900, 1800] {
            let sets = [
                format!("plan.groundbait.load={load_g} g"),
                format!("plan.groundbait.recast={recast_s} s"),
            ];
            let sets = [sets[0].as_str(), sets[1].as_str()];
            let weights = kg(&outcomes("open-water", &sets, "groundbait", 120));
            tried.push((mean(&weights), load_g, recast_s, weights));
        }
    }
    tried.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (best_kg, load_g, recast_s, best) = &tried[0];
    let level = tried[1..].iter().filter(|other| z_of(best, &other.3) < 2.0).count();
    let ends = tried.iter().filter(|case| case.1 < 0.1 && case.2 <= 60);
    let speck_kg = ends.map(|case| case.0).fold(0.0, f64::max);
    println!(
        "V-198: {best_kg:.1} kg with {load_g} g every {recast_s} s, {level} within 2 errors; a speck {speck_kg:.1}"
    );
    let usual = (5.0..=120.0).contains(load_g) && (120..=900).contains(recast_s);
    assert!(usual, "V-198: {load_g} g every {recast_s} s");
    measured!(
        "V-198",
        "met: {best_kg:.1} kg with {load_g} g every {recast_s} s, {level} of 48 others within 2 errors of it; 10 mg every minute or \
         less {speck_kg:.1} kg"
    );
}
