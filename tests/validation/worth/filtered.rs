//! Scratch: the filter against today's method.

use rayon::prelude::*;
use sim::angler::PlanId;
use sim::engine::NullObserver;
use sim::session::PausedSession;
use sim::study::{Control, Foretold, NowSpec, NowStudy, logged_plans};

use super::asked::{log_until, true_day};
use super::practised::compared_lead_kg;
use super::tally::mean_and_error;
use super::waters::{FAMILY, SOMEWHERE, scenario};

struct Judged {
    final_kg: f64,
    expected_kg: f64,
    lead_kg: f64,
    by: Vec<Foretold>,
}

const NAMES: [&str; 8] =
    ["today", "today.3", "today.75", "today1", "f.5", "f.5adj", "f.2", "f.2adj"];

#[test]
#[ignore = "scratch"]
fn the_filter_against_todays_method() {
    let each: u32 = std::env::var("EACH").map_or(10, |s| s.parse().unwrap());
    let hours: f64 = std::env::var("HOURS").map_or(2.0, |s| s.parse().unwrap());
    let waters = [FAMILY[0], FAMILY[2], SOMEWHERE[0]];
    let mut all = Vec::new();
    for (name, text) in waters {
        let text = text.replace("\"1 h\"", &format!("\"{} min\"", 60.0 * hours));
        let scenario = scenario(name, &text);
        let plan = usize::from(compared_lead_kg(&scenario, 200) < 0.0);
        let judged: Vec<Judged> = (1..=each)
            .into_par_iter()
            .filter_map(|number| {
                let mut dice = sim::engine::Dice::from_key(&[327, u64::from(number)]);
                let at_s =
                    (dice.uniform_between(900.0 * hours, 2700.0 * hours) / 60.0).floor() * 60.0;
                let day = true_day(&scenario, &mut dice, number);
                let fished = &scenario.plans[plan];
                let final_kg =
                    sim::session::run_session(&scenario, fished, &day).weight_g as f64 / 1000.0;
                let log = log_until(&scenario, fished, &day, at_s)?;
                let past = logged_plans(&log, "match.csv", &scenario).ok()?.pop()?;
                let spec = NowSpec {
                    scenario: &scenario,
                    plan: PlanId(plan),
                    log: &log,
                    past: &past,
                    clock_s: at_s,
                    seed: 7,
                    sessions: 200,
                };
                let mut study = NowStudy::new(&spec).ok()?;
                study.keep_ways(2);
                let rests: Vec<_> = (1..=200)
                    .map(|number| study.rest(number, Control::default()))
                    .collect::<Option<_>>()?;
                let mut by: Vec<Foretold> = [0.5, 0.3, 0.75, 0.999]
                    .into_iter()
                    .map(|share| study.adjusted(&rests, share))
                    .collect::<Option<_>>()?;
                by.extend(study.filtered(200, 1200.0, 0.5)?);
                by.extend(study.filtered(200, 1200.0, 0.2)?);
                let fished = &scenario.plans[plan];
                let mut observer = NullObserver;
                let paused = PausedSession::new(&scenario, fished, &day, at_s, &mut observer);
                let mean_kg = |way: &sim::study::WayToGoOn| {
                    let after = |chance| {
                        paused.go_on_by_chance(&way.plan, way.winds_in_now, chance).weight_g as f64
                    };
                    (1..=24).map(after).sum::<f64>() / 24_000.0
                };
                let [planned_kg, other_kg] = [0, 1].map(|way| mean_kg(&study.ways()[way]));
                Some(Judged {
                    final_kg,
                    expected_kg: planned_kg,
                    lead_kg: other_kg - planned_kg,
                    by,
                })
            })
            .collect();
        println!("{name}");
        describe(&judged);
        all.extend(judged);
    }
    println!("all");
    describe(&all);
}

fn describe(judged: &[Judged]) {
    let n = judged.len();
    let [lead, _] = mean_and_error(judged.iter().map(|of| of.lead_kg));
    let [square, _] = mean_and_error(judged.iter().map(|of| of.lead_kg * of.lead_kg));
    println!("  {n} matches, true lead {lead:.2}, mean square {square:.2}");
    for (way, name) in NAMES.iter().enumerate() {
        let mse = |value: fn(&Judged, &Foretold) -> f64| {
            let squares = |of: &Judged, by: usize| value(of, &of.by[by]).powi(2);
            let [m, _] = mean_and_error(judged.iter().map(|of| squares(of, way)));
            let [d, e] = mean_and_error(judged.iter().map(|of| squares(of, way) - squares(of, 0)));
            format!("{m:.3} (minus today {d:+.3} ± {:.3})", 1.96 * e)
        };
        let bias = |value: fn(&Judged, &Foretold) -> f64| {
            let [m, e] = mean_and_error(judged.iter().map(|of| value(of, &of.by[way])));
            format!("{m:+.2} ± {:.2}", 1.96 * e)
        };
        let inside = judged.iter().filter(|of| {
            (of.by[way].low80_kg - 1e-3..=of.by[way].high80_kg + 1e-3).contains(&of.final_kg)
        });
        let inside = 100.0 * inside.count() as f64 / n as f64;
        let width = judged.iter().map(|of| of.by[way].high80_kg - of.by[way].low80_kg).sum::<f64>()
            / n as f64;
        let effective = judged.iter().map(|of| of.by[way].effective).sum::<f64>() / n as f64;
        println!(
            "  {name:9} final mse {}, bias {}, lead mse {}, bias {}, inside {inside:.1}, width {width:.2}, eff {effective:.0}",
            mse(|of, by| by.final_kg - of.expected_kg),
            bias(|of, by| by.final_kg - of.expected_kg),
            mse(|of, by| by.lead_kg - of.lead_kg),
            bias(|of, by| by.lead_kg - of.lead_kg),
        );
    }
}

#[test]
#[ignore = "scratch"]
fn dump_requests() {
    use std::io::Write;
    let each: u32 = std::env::var("EACH").map_or(10, |s| s.parse().unwrap());
    let count: u32 = std::env::var("RESTS").map_or(400, |s| s.parse().unwrap());
    let file = std::sync::Mutex::new(std::fs::File::create("/tmp/now8-requests.jsonl").unwrap());
    let waters = [SOMEWHERE[0], SOMEWHERE[1], SOMEWHERE[2], FAMILY[0], FAMILY[2]];
    let scenarios: Vec<_> = waters
        .into_iter()
        .map(|(name, text)| {
            let scenario = scenario(name, text);
            let plan = usize::from(compared_lead_kg(&scenario, 200) < 0.0);
            (scenario, plan)
        })
        .collect();
    let jobs: Vec<(u32, usize)> =
        (1..=each).flat_map(|number| (0..scenarios.len()).map(move |water| (number, water))).collect();
    jobs.into_par_iter().with_max_len(1).for_each(|(number, water)| {
        let (scenario, plan) = (&scenarios[water].0, scenarios[water].1);
        let mut dice = sim::engine::Dice::from_key(&[328, u64::from(number)]);
        let at_s = (dice.uniform_between(600.0, 3000.0) / 60.0).floor() * 60.0;
        let day = true_day(scenario, &mut dice, number);
        let fished = &scenario.plans[plan];
        let final_kg =
            sim::session::run_session(scenario, fished, &day).weight_g as f64 / 1000.0;
        let Some(log) = log_until(scenario, fished, &day, at_s) else { return };
        let past = logged_plans(&log, "match.csv", scenario).unwrap().pop().unwrap();
        let spec = NowSpec {
            scenario,
            plan: PlanId(plan),
            log: &log,
            past: &past,
            clock_s: at_s,
            seed: 7,
            sessions: count,
        };
        let study = NowStudy::new(&spec).unwrap();
        let rests: Vec<_> = (1..=count)
            .map(|number| study.rest(number, Control::default()).unwrap())
            .collect();
        let mut observer = NullObserver;
        let paused = PausedSession::new(scenario, fished, &day, at_s, &mut observer);
        let before = paused.outcome().weight_g as f64 / 1000.0;
        let truth: Vec<f64> = study
            .ways()
            .iter()
            .map(|way| {
                let after = |chance| {
                    paused.go_on_by_chance(&way.plan, way.winds_in_now, chance).weight_g as f64
                };
                (1..=24).map(after).sum::<f64>() / 24_000.0 - before
            })
            .collect();
        let kinds: Vec<String> = study.ways().iter().map(|way| format!("{:?}", way.kind)).collect();
        let (observed, weight_kg) = study.observed();
        let row = serde_json::json!({
            "water": scenario.name, "number": number, "at_s": at_s, "observed": observed,
            "weight_kg": weight_kg, "final_kg": final_kg, "kinds": kinds, "truth": truth,
            "rests": serde_json::to_value(&rests).unwrap(),
        });
        writeln!(file.lock().unwrap(), "{row}").unwrap();
    });
}
