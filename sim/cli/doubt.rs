//! `compare --doubt`: what could flip the verdict between the two best plans.

use std::io::{Write as _, stdout};
use std::time::Instant;

use anyhow::anyhow;

use super::args::CompareArgs;
use super::compare::{columns, folder_for, leave_picture, on_threads, say_where};
use super::door::tell;
use super::ended::Ended;
use super::interrupt;
use super::progress::Shown;
use crate::report::{doubt_words, tornado_svg};
use crate::scenario::{Scenario, Units};
use crate::session::{Day, fish_session};
use crate::study::{Control, Doubt, Effort, Folder, Stopped, compare, doubt};

/// Sessions fished to tell how long the rest will take.
const TIMED: u32 = 4;

/// Compares, then looks for what could flip the verdict; says beforehand what that costs.
pub(super) fn compare_doubted(asked: &CompareArgs, scenario: &Scenario) -> Result<(), Ended> {
    if scenario.plans.len() < 2 {
        return Err(Ended::WrongInput(anyhow!(
            "--doubt asks what could flip a verdict between two plans; {} has one here: name two with --plan",
            scenario.name
        )));
    }
    if scenario.fixed_days {
        return Err(Ended::WrongInput(anyhow!(
            "--doubt asks what days and unknowns do, and --fixed-days takes both away: leave one of them out"
        )));
    }
    let mut folder = folder_for(asked, scenario, asked.days_of_each())?;
    let stop = interrupt::listen()?;
    let (days, seed) = (asked.days_of_each(), asked.simulated.seed);
    let effort = Effort::beside(days);
    let unknowns = scenario.unknowns().len();
    let sessions = effort.sessions(unknowns) + u64::from(days) * scenario.plans.len() as u64;
    if !asked.quiet {
        tell(&cost(scenario, seed, unknowns, sessions, asked.threads));
    }
    let progress = Shown::new(sessions, asked.quiet);
    let control = Control { progress: &progress, stop };
    let found = on_threads(asked.threads, || {
        let nobody = |_: &_| Ok::<(), std::convert::Infallible>(());
        let Ok(compared) = compare(scenario, seed, days, Stopped::Asked, control, nobody);
        (compared.days == days).then(|| doubt(scenario, &compared, effort, control)).flatten()
    });
    progress.finish();
    let Some(found) = found? else {
        let kept = if folder.holds_results() {
            format!("the earlier results in {} are as they were", folder.path().display())
        } else {
            "nothing was written".to_owned()
        };
        return Err(Ended::Interrupted(format!("interrupted; {kept}")));
    };
    let units = asked.simulated.units(scenario);
    let document = format!("{}\n", serde_json::to_string_pretty(&found)?);
    let left = leave(&mut folder, &found, &document, units);
    if asked.json {
        stdout().write_all(document.as_bytes())?;
    } else {
        stdout().write_all(doubt_words(&found, units, columns().clamp(40, 100)).as_bytes())?;
    }
    left?;
    say_where(&folder, asked.json, asked.quiet)
}

/// What it will cost, from a few sessions fished on one thread.
fn cost(
    scenario: &Scenario,
    seed: u64,
    unknowns: usize,
    sessions: u64,
    threads: Option<usize>,
) -> String {
    let begun = Instant::now();
    for number in 1..=TIMED {
        let plan = &scenario.plans[number as usize % scenario.plans.len()];
        let _ = fish_session(scenario, plan, &Day::draw(scenario, seed, number));
    }
    let threads = threads.unwrap_or_else(|| {
        std::thread::available_parallelism().map_or(1, std::num::NonZeroUsize::get)
    });
    let each_s = begun.elapsed().as_secs_f64() / f64::from(TIMED);
    let minutes = each_s * sessions as f64 / threads as f64 / 60.0;
    let time = if minutes < 1.5 {
        "about a minute or less".to_owned()
    } else {
        format!("about {minutes:.0} minutes")
    };
    format!(
        "{unknowns} unknowns to look at: {sessions} sessions, {time}; --days asks for more or fewer"
    )
}

/// Leaves the document and the chart.
fn leave(folder: &mut Folder, found: &Doubt, document: &str, units: Units) -> Result<(), Ended> {
    leave_picture(folder, "doubt", &tornado_svg(found, units))?;
    folder.write("doubt.json", Some(Doubt::FORMAT), document.as_bytes())?;
    Ok(folder.write_stamp(found.days)?)
}
