//! `replay`: prints one session, event by event.

use std::io::{self, BufWriter, Write, stdout};

use crate::angler::Plan;
use crate::catch_log::catch_log_text;
use crate::cli::args::ReplayArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::formats::{BankEnd, BankLine, EventLine, ReplayEnd};
use crate::cli::scenario::{chosen_plan, read};
use crate::engine::{EventLog, Observer, Time};
use crate::report::{
    BankNames, EventNames, bank_line, clock, counted, event_line, recording_document, weight,
};
use crate::scenario::{Scenario, Units};
use crate::session::{Day, Event, Outcome, observe_session, record_session};
use crate::study::simulated_session;

/// Fishes one plan on one day and prints each event, in words or as one JSON object per line.
///
/// With `--log` it prints the casts as a catch log instead. In words, internal events of the model, such as a fish looking round, are left out.
///
/// # Errors
///
/// [`ExitError::WrongInput`] if the scenario has faults or no plan of that name, [`ExitError::Failed`] if standard
/// output cannot be written.
pub fn replay(args: &ReplayArgs) -> Result<(), ExitError> {
    let scenario = read(&args.scenario, &[])?;
    let plan = &scenario.plans[chosen_plan(&scenario, args.plan.as_deref())?];
    let seed = args.simulation.seed;
    let day = Day::draw(&scenario, seed, args.day);
    if args.log {
        let start_s = scenario.clock.as_ref().map_or(0.0, |clock| clock.start_s);
        let mut session = simulated_session(&scenario, plan, &day, start_s, 1.0);
        session.name = format!("day-{}", args.day);
        return Ok(stdout().write_all(catch_log_text(&[session]).as_bytes())?);
    }
    let units = args.simulation.units(&scenario);
    if args.film {
        // Without a limit of rows every day is recorded.
        let recording = record_session(&scenario, plan, &day, usize::MAX);
        let film =
            recording.map(|recording| recording_document(&scenario, plan, &day, &recording, units));
        return Ok(stdout().write_all(format!("{}\n", serde_json::to_string(&film)?).as_bytes())?);
    }
    if args.from_the_bank {
        return replay_from_the_bank(args, &scenario, plan, &day);
    }
    let names = (!args.json)
        .then(|| EventNames::new(&scenario, &day, units).with_rules(plan, &scenario, units));
    let mut printer = EventPrinter { out: BufWriter::new(stdout().lock()), names, error: None };
    let outcome = observe_session(&scenario, plan, &day, &mut printer);
    let EventPrinter { mut out, error, .. } = printer;
    if let Some(error) = error {
        return Err(error.into());
    }
    if args.json {
        let end = ReplayEnd::new(&scenario, plan, (seed, args.day), &outcome);
        let line = serde_json::to_string(&end)?;
        writeln!(out, "{line}")?;
    } else {
        writeln!(out, "{}", summary(&scenario, &outcome, units))?;
    }
    out.flush()?;
    Ok(())
}

/// Fishes one plan on one day and prints what an angler sees of it: no fish under water, and of a fish that was landed
/// only what it weighs.
fn replay_from_the_bank(
    args: &ReplayArgs,
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
) -> Result<(), ExitError> {
    let units = args.simulation.units(scenario);
    let mut log = EventLog::default();
    let outcome = observe_session(scenario, plan, day, &mut log);
    let names = BankNames::new(plan, scenario, day, units);
    let mut out = BufWriter::new(stdout().lock());
    let mut missed = 0;
    for (index, (at, event)) in log.events.iter().enumerate() {
        let is_missed = match *event {
            Event::FishTakes { fish, .. } => {
                let at_once = log.events[index..].iter().take_while(|(then, _)| then == at);
                let is_hook = |event: &Event| matches!(event, Event::FishIsHooked { fish: hooked } if *hooked == fish);
                !at_once.into_iter().any(|(_, event)| is_hook(event))
            }
            _ => false,
        };
        missed += u32::from(is_missed);
        let t_s = at.seconds();
        let Some(line) = bank_line(t_s, event, is_missed, &names) else { continue };
        if args.json {
            let words = line.split_once("  ").map_or(line.as_str(), |(_, words)| words);
            writeln!(out, "{}", serde_json::to_string(&BankLine { t_s, sentence: words })?)?;
        } else {
            writeln!(out, "{line}")?;
        }
    }
    if args.json {
        let seed_and_day = (args.simulation.seed, args.day);
        let line =
            serde_json::to_string(&BankEnd::new(scenario, plan, seed_and_day, &outcome, missed))?;
        writeln!(out, "{line}")?;
    } else {
        let missed = counted(u64::from(missed), "missed bite");
        writeln!(out, "{} ({missed})", summary(scenario, &outcome, units))?;
    }
    Ok(out.flush()?)
}

/// Prints each event as it happens; nothing more after the first error.
struct EventPrinter<W: Write> {
    out: W,
    /// Names for events in words; `None` for JSON.
    names: Option<EventNames>,
    error: Option<io::Error>,
}

impl<W: Write> Observer<Event> for EventPrinter<W> {
    fn observe(&mut self, at: Time, event: Event) {
        if self.error.is_some() {
            return;
        }
        let t_s = at.seconds();
        let result = match &self.names {
            Some(_) if is_internal(&event) => Ok(()),
            Some(names) => writeln!(self.out, "{}", event_line(t_s, &event, names)),
            None => serde_json::to_string(&EventLine { t_s, event })
                .map_err(io::Error::from)
                .and_then(|line| writeln!(self.out, "{line}")),
        };
        self.error = result.err();
    }
}

/// Whether an event is only internal to the model and means nothing to an angler.
fn is_internal(event: &Event) -> bool {
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
            count => format!(", {count} hooked outside the mouth"),
        },
        weight(outcome.bait_kg(), units),
    )
}
