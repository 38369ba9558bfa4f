//! `replay`: one session, event by event.

use std::io::{self, BufWriter, Write, stdout};

use serde::Serialize;
use serde_json::{Value, json};

use super::args::ReplayArgs;
use super::ended::Ended;
use super::reading::{find_plan, read};
use crate::angler::Plan;
use crate::engine::{Time, Watch};
use crate::report::{TraceNames, clock, trace_line, weight};
use crate::scenario::{Scenario, Units};
use crate::session::{Day, Event, Outcome, watch_session};
use crate::study::Stamp;

/// Fishes one plan on one day and tells each event: in words, or as a JSON object a line.
///
/// In words, events that only move the model along, such as a fish looking round, are left out.
///
/// # Errors
///
/// [`Ended::WrongInput`] where the scenario or the plan's name is wrong, [`Ended::Failed`] where nothing can be
/// printed.
pub fn replay(asked: &ReplayArgs) -> Result<(), Ended> {
    let scenario = read(&asked.read, &[])?;
    let plan = &scenario.plans[find_plan(&scenario, &asked.plan)?];
    let seed = asked.simulated.seed;
    let day = Day::draw(&scenario, seed, asked.day);
    let units = asked.simulated.units(&scenario);
    let names = (!asked.json)
        .then(|| TraceNames::of(&scenario, &day, units).with_rules(plan, &scenario, units));
    let mut teller = Teller { out: BufWriter::new(stdout().lock()), names, failed: None };
    let outcome = watch_session(&scenario, plan, &day, &mut teller);
    let Teller { mut out, failed, .. } = teller;
    if let Some(why) = failed {
        return Err(why.into());
    }
    if asked.json {
        let stamp = Stamp::new(&scenario.name, &scenario.sha256, seed);
        let last = json!({
            "format": "shoalwise/replay/1",
            "stamp": stamp,
            "plan": plan.name,
            "day": asked.day,
            "outcome": document(&scenario, plan, &outcome),
        });
        writeln!(out, "{last}")?;
    } else {
        writeln!(out, "{}", summary(&scenario, &outcome, units))?;
    }
    out.flush()?;
    Ok(())
}

/// Prints each event as it happens; after a failure, nothing more.
struct Teller<W: Write> {
    out: W,
    /// Names for words; JSON without.
    names: Option<TraceNames>,
    failed: Option<io::Error>,
}

/// One event with its time, as a line of JSON.
#[derive(Serialize)]
struct Line {
    t_s: f64,
    #[serde(flatten)]
    event: Event,
}

impl<W: Write> Watch<Event> for Teller<W> {
    fn sees(&mut self, at: Time, event: Event) {
        if self.failed.is_some() {
            return;
        }
        let t_s = at.seconds();
        let told = match &self.names {
            Some(_) if moves_the_model_along(&event) => Ok(()),
            Some(names) => writeln!(self.out, "{}", trace_line(t_s, &event, names)),
            None => serde_json::to_string(&Line { t_s, event })
                .map_err(io::Error::from)
                .and_then(|line| writeln!(self.out, "{line}")),
        };
        self.failed = told.err();
    }
}

/// Whether nobody on the bank or in the water would call it something that happens.
fn moves_the_model_along(event: &Event) -> bool {
    matches!(
        event,
        Event::AnglerTurns { .. }
            | Event::AnglerLooks { .. }
            | Event::LooseFeedDue { .. }
            | Event::BaitLeaches { .. }
            | Event::FishLooks { .. }
            | Event::FishFinds { .. }
    )
}

/// The outcome in one sentence.
fn summary(scenario: &Scenario, outcome: &Outcome, units: Units) -> String {
    format!(
        "{}  {} for {} fish; {}, {}, {} lost{}; {} of bait",
        clock(scenario.session_s),
        weight(outcome.weight_g as f64 / 1000.0, units),
        outcome.catches.len(),
        counted(outcome.casts, "cast"),
        counted(outcome.bites, "bite"),
        outcome.lost,
        match outcome.foul_hooked {
            0 => String::new(),
            fouled => format!(", {fouled} hooked outside the mouth"),
        },
        weight(outcome.bait_kg(), units),
    )
}

/// A number of things, in words.
fn counted(count: u32, thing: &str) -> String {
    format!("{count} {thing}{}", if count == 1 { "" } else { "s" })
}

/// The outcome as JSON.
fn document(scenario: &Scenario, plan: &Plan, outcome: &Outcome) -> Value {
    let shoal_name = |shoal: usize| scenario.shoals.get(shoal).map(|shoal| shoal.name.as_str());
    let catches: Vec<Value> = outcome
        .catches
        .iter()
        .map(|caught| {
            json!({
                "at_s": caught.at_s,
                "mass_g": caught.mass_g,
                "shoal": shoal_name(caught.shoal),
                "foul": caught.foul,
            })
        })
        .collect();
    let rules = plan.rules.list.iter().zip(&outcome.fired);
    let fired: Vec<Value> =
        rules.map(|(rule, fired)| json!({ "rule": rule.name, "fired": fired })).collect();
    let (time, bait) = (&outcome.time, &outcome.bait);
    json!({
        "weight_g": outcome.weight_g,
        "fish": outcome.catches.len(),
        "bites": outcome.bites,
        "lost": outcome.lost,
        "foul_hooked": outcome.foul_hooked,
        "casts": outcome.casts,
        "catches": catches,
        "rules": fired,
        "time_s": {
            "casting": time.casting_s,
            "waiting": time.waiting_s,
            "playing": time.playing_s,
            "rebaiting": time.rebaiting_s,
            "feeding": time.feeding_s,
            "other": time.other_s,
        },
        "bait_kg": {
            "feeder": bait.feeder_kg,
            "loose": bait.loose_kg,
            "eaten": bait.eaten_kg,
            "lost": bait.lost_kg,
            "on_bed": bait.on_bed_kg,
            "hanging": bait.hanging_kg,
            "on_feeder": bait.on_feeder_kg,
        },
    })
}
