//! `best`: the best setting, searched for on some days and confirmed on others.

use std::fmt::Write as _;
use std::io::{Write as _, stdout};
use std::time::{Duration, Instant};

use anyhow::anyhow;
use rayon::prelude::*;

use super::args::BestArgs;
use super::compare::{leave_picture, on_threads, say_where, wrapped};
use super::door::tell;
use super::ended::Ended;
use super::interrupt;
use super::progress::Shown;
use super::reading::{find_plan, keep_plans, read};
use crate::report::{best_chart_svg, best_finalists, best_sentences, best_table};
use crate::scenario::{Scenario, Units, has_order, values};
use crate::session::{Day, fish_session};
use crate::study::{
    Asked, Best, BestAsked, Control, Folder, MOST_DAYS, PlanSet, Setting, Stamp, Unfinished,
    Wanted, tried_csv,
};

/// Settings at most.
const MOST_SETTINGS: usize = 8;
/// Days fished to tell how long the rest will take.
const DAYS_TIMED: u32 = 16;

/// Searches for the best setting, prints what it found and leaves the files.
///
/// # Errors
///
/// [`Ended`] as its variants say.
pub fn best(asked: &BestArgs) -> Result<(), Ended> {
    let mut base = read(&asked.read, &[])?;
    let settings = settings(asked, &mut base)?;
    let search = BestAsked {
        settings,
        wanted: asked.aim.of(&base).map_err(|why| Ended::WrongInput(anyhow!(why)))?,
        sessions: asked.sessions,
        days: asked.days,
        seed: asked.simulated.seed,
        has_plan_as_written: base.plans.len() == 1,
    };
    is_feasible(&search, &base)?;
    let mut folder = folder_for(asked, &search, &base)?;
    let stop = interrupt::listen()?;
    let progress = Shown::new(u64::from(search.sessions), asked.quiet);
    let control = Control { progress: &progress, stop };
    let found = on_threads(asked.threads, || {
        if !asked.quiet {
            tell(&time_to_come(&base, &search));
        }
        let mut point = |point: &[usize]| variant(asked, &base, &search.settings, point);
        crate::study::best(&base, &search, &mut point, control)
    });
    progress.finish();
    let found = match found? {
        Ok(found) => found,
        Err(unfinished) => return Err(interrupted(&mut folder, &search, &unfinished)?),
    };
    let units = asked.simulated.units(&base);
    let document = document(asked, &base, &found)?;
    let left = leave(&mut folder, &found, &document, units);
    if asked.json {
        stdout().write_all(document.as_bytes())?;
    } else {
        stdout().write_all(words(asked, &base, &found, units).as_bytes())?;
    }
    left?;
    say_where(&folder, asked.json, asked.quiet)
}

/// What may be set; leaves only the plans to choose from in the scenario.
fn settings(asked: &BestArgs, base: &mut Scenario) -> Result<Vec<Setting>, Ended> {
    let mut settings = Vec::new();
    for text in &asked.vary {
        let (key, values) = values(text)?;
        if settings.iter().any(|setting: &Setting| setting.key == key) {
            return Err(Ended::WrongInput(anyhow!("--vary: {key} is varied twice: leave one out")));
        }
        // Each value is tried on its own first, so that what is wrong is told before anything is fished.
        for value in &values {
            read(&asked.read, &[format!("{key}={value}")])?;
        }
        settings.push(Setting { is_ordered: has_order(&key), key, values });
    }
    keep_plans(base, &plans(asked, base, &settings)?)?;
    if base.plans.len() > 1 {
        let values = base.plans.iter().map(|plan| plan.name.clone()).collect();
        settings.push(Setting { key: Setting::PLAN.to_owned(), values, is_ordered: false });
    }
    if settings.is_empty() {
        let why = "there is nothing to choose: the scenario has one plan; give it settings to vary, as in --vary \
                   plan.NAME.recast=\"30 s..10 min/40 log\"";
        return Err(Ended::WrongInput(anyhow!(why)));
    }
    if settings.len() > MOST_SETTINGS {
        let why = "settings, the choice among plans included; 8 at most can be searched: leave some out, or name \
                   one --plan";
        return Err(Ended::WrongInput(anyhow!("{} {why}", settings.len())));
    }
    Ok(settings)
}

/// The plans to choose from: those asked for, else the one whose settings vary, else all.
fn plans(asked: &BestArgs, base: &Scenario, settings: &[Setting]) -> Result<Vec<String>, Ended> {
    let mut varied: Vec<String> = Vec::new();
    for setting in settings {
        let name = setting.key.strip_prefix("plan.").and_then(|rest| rest.split('.').next());
        if let Some(name) = name.filter(|name| !varied.iter().any(|other| other == name)) {
            varied.push(name.to_owned());
        }
    }
    for name in asked.plans.iter().chain(&varied) {
        find_plan(base, name)?;
    }
    if asked.plans.is_empty() {
        return Ok(varied);
    }
    if let Some(idle) = varied.iter().find(|name| !asked.plans.contains(name)) {
        let why = "settings of a plan that is not fished change nothing: name it with --plan too, or vary others";
        return Err(Ended::WrongInput(anyhow!("--vary: plan.{idle}: {why}")));
    }
    Ok(asked.plans.clone())
}

/// Refuses what cannot be searched with so many sessions.
fn is_feasible(search: &BestAsked, base: &Scenario) -> Result<(), Ended> {
    if search.days > MOST_DAYS {
        return Err(Ended::WrongInput(anyhow!("--days {}: {MOST_DAYS} at most", search.days)));
    }
    let least = search.least_sessions(base);
    if u64::from(search.sessions) < least {
        return Err(Ended::WrongInput(anyhow!(
            "--sessions {} are too few: confirmation on {} days and a search worth the name take {least}; give as \
             many, or fewer --days",
            search.sessions,
            search.days,
        )));
    }
    Ok(())
}

/// The scenario with a point's values set and the plan it fishes; none where the values do not go together.
fn variant(
    asked: &BestArgs,
    base: &Scenario,
    settings: &[Setting],
    point: &[usize],
) -> Option<PlanSet> {
    if point.is_empty() {
        return Some(PlanSet { scenario: base.clone(), plan: 0 });
    }
    let mut sets = Vec::new();
    let mut plan = base.plans.first()?.name.as_str();
    for (setting, &level) in settings.iter().zip(point) {
        match setting.key.as_str() {
            Setting::PLAN => plan = &setting.values[level],
            key => sets.push(format!("{key}={}", setting.values[level])),
        }
    }
    let scenario = read(&asked.read, &sets).ok()?;
    let plan = scenario.plans.iter().position(|known| known.name == plan)?;
    Some(PlanSet { scenario, plan })
}

/// How long it will take at most, by what some sessions took just now.
fn time_to_come(base: &Scenario, search: &BestAsked) -> String {
    let begun = Instant::now();
    (1..=DAYS_TIMED).into_par_iter().for_each(|number| {
        let day = Day::draw(base, search.seed, number);
        base.plans.iter().for_each(|plan| drop(fish_session(base, plan, &day)));
    });
    let fished = f64::from(DAYS_TIMED) * base.plans.len() as f64;
    let each = begun.elapsed().as_secs_f64() / fished;
    let all = Duration::from_secs_f64(each * f64::from(search.sessions));
    let time = match all.as_secs() {
        0..90 => format!("{} s", all.as_secs().max(1)),
        seconds => format!("{} min", seconds.div_ceil(60)),
    };
    let combinations = search.space().size();
    format!("{combinations} combinations, {} sessions at most: about {time}", search.sessions)
}

fn folder_for(asked: &BestArgs, search: &BestAsked, base: &Scenario) -> Result<Folder, Ended> {
    let aim = match search.wanted {
        Wanted::Weight => "weight".to_owned(),
        Wanted::Target { target_kg } => format!("target={target_kg} kg"),
        Wanted::Win { .. } => "win".to_owned(),
        Wanted::Frame { .. } => "frame".to_owned(),
    };
    let more = [format!("--aim {aim}"), format!("--sessions {}", asked.sessions)];
    let what = Asked {
        command: "best",
        stamp: Stamp::new(&base.name, &base.sha256, asked.simulated.seed),
        plans: base.plans.iter().map(|plan| plan.name.clone()).collect(),
        vary: asked.vary.iter().cloned().chain(more).collect(),
        days: asked.days,
    };
    Ok(Folder::choose(asked.out.as_deref(), what)?)
}

/// The plan that was found, by its name.
fn plan_found<'a>(base: &'a Scenario, found: &'a Best) -> &'a str {
    let chosen = found.settings.iter().find(|setting| setting.key == Setting::PLAN);
    chosen.map_or_else(|| base.plans[0].name.as_str(), |setting| setting.found.as_str())
}

/// The command that fishes the plan found on the days on which it was confirmed.
fn compare_line(asked: &BestArgs, base: &Scenario, found: &Best) -> String {
    let mut line =
        format!("shoalwise compare {}", quoted(&asked.read.scenario.display().to_string()));
    let sets: Vec<String> = asked.read.sets.iter().cloned().chain(found.sets()).collect();
    // Writing to a string does not fail.
    let _ = write!(line, " --plan {}", quoted(plan_found(base, found)));
    for set in sets {
        let _ = write!(line, " --set {}", quoted(&set));
    }
    let _ = write!(line, " --days {} --seed {}", found.days, found.stamp.seed);
    line
}

/// A word as a shell takes it.
fn quoted(word: &str) -> String {
    let plain = |c: char| c.is_ascii_alphanumeric() || "-_./=,:".contains(c);
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', r"'\''"))
}

/// The result as JSON, with the command that fishes it again.
fn document(asked: &BestArgs, base: &Scenario, found: &Best) -> Result<String, Ended> {
    let mut value = serde_json::to_value(found)?;
    value["plan"] = plan_found(base, found).into();
    value["sets"] = found.sets().collect::<Vec<_>>().into();
    value["compare"] = compare_line(asked, base, found).into();
    Ok(format!("{}\n", serde_json::to_string_pretty(&value)?))
}

/// The result for people.
fn words(asked: &BestArgs, base: &Scenario, found: &Best, units: Units) -> String {
    let mut text = format!("{}\n\n", best_table(found, units));
    for sentence in best_sentences(found, units) {
        let _ = writeln!(text, "{}", wrapped(&sentence, "", ""));
    }
    let finalists = best_finalists(found, units);
    if !finalists.is_empty() {
        text.push_str("\nOther finalists, on the same fresh days:\n");
    }
    for finalist in finalists {
        let _ = writeln!(text, "{}", wrapped(&finalist, "  - ", "    "));
    }
    let _ = writeln!(text, "\nTo fish the plan found:\n{}", compare_line(asked, base, found));
    text
}

/// Leaves all files.
fn leave(folder: &mut Folder, found: &Best, document: &str, units: Units) -> Result<(), Ended> {
    let keys = found.settings.iter().map(|setting| setting.key.as_str());
    folder.write("best.csv", Some(Best::TRIED_FORMAT), &tried_csv(keys, &found.tried)?)?;
    leave_picture(folder, "best", &best_chart_svg(found, units))?;
    folder.write("best.json", Some(Best::FORMAT), document.as_bytes())?;
    Ok(folder.write_stamp(found.days)?)
}

/// Keeps what was tried, unless whole results of an earlier run are there.
fn interrupted(
    folder: &mut Folder,
    search: &BestAsked,
    unfinished: &Unfinished,
) -> Result<Ended, Ended> {
    let place = folder.path().display().to_string();
    let so_far = match unfinished.is_searched {
        true => "interrupted after the search, before its finalists were confirmed",
        false => "interrupted during the search",
    };
    if folder.holds_results() {
        let kept = format!("the earlier results in {place} are as they were");
        return Ok(Ended::Interrupted(format!("{so_far}; {kept}")));
    }
    if unfinished.tried.is_empty() {
        return Ok(Ended::Interrupted(format!("{so_far}; nothing was written")));
    }
    let keys = search.settings.iter().map(|setting| setting.key.as_str());
    folder.write("best.csv", Some(Best::TRIED_FORMAT), &tried_csv(keys, &unfinished.tried)?)?;
    // A run without its result counts as one of no days: the same run may replace it.
    folder.write_stamp(0)?;
    Ok(Ended::Interrupted(format!("{so_far}; the plans tried are kept in {place}/best.csv")))
}
