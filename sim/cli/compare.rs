//! `compare`: every plan on the same days; table, verdict, reasons and files.

use std::fmt::Write as _;
use std::fs::File;
use std::io::{Write as _, stdout};

use super::args::CompareArgs;
use super::door::tell;
use super::doubt::compare_doubted;
use super::ended::Ended;
use super::interrupt;
use super::progress::Shown;
use super::reading::{keep_plans, read};
use super::vary::compare_varied;
use crate::report::{
    comparison_table_within, png, reasons, rules_fired, verdict, weight_curve_svg,
};
use crate::scenario::{Scenario, Units};
use crate::study::{
    Asked, Comparison, Control, DayFished, Folder, FolderFault, SessionRows, Stamp, Stopped,
};

/// Width of the picture in points for the eye [px].
pub(super) const PICTURE_PX: u32 = 1600;
/// Name of the table of sessions.
const SESSIONS: &str = "sessions.csv";

/// Fishes every plan asked for on the same days, prints what came of it and leaves the files.
///
/// # Errors
///
/// [`Ended`] as its variants say.
pub fn compare(asked: &CompareArgs) -> Result<(), Ended> {
    let mut scenario = read(&asked.read, &[])?;
    keep_plans(&mut scenario, &asked.plans)?;
    if !asked.vary.is_empty() {
        return compare_varied(asked, &scenario);
    }
    if asked.doubt {
        return compare_doubted(asked, &scenario);
    }
    let folder = folder_for(asked, &scenario)?;
    let stop = interrupt::listen()?;
    let sessions = u64::from(asked.days()) * scenario.plans.len() as u64;
    let progress = Shown::new(sessions, asked.quiet);
    let control = Control { progress: &progress, stop };
    let mut rows = Rows { folder, open: None };
    let fished = on_threads(asked.threads, || fish(asked, &scenario, control, &mut rows));
    progress.finish();
    let comparison = fished.and_then(|fished| fished).inspect_err(|_| rows.drop_unfinished())?;
    if comparison.days < asked.days() {
        return Err(rows.interrupted(comparison.days, asked.days())?);
    }
    let units = asked.simulated.units(&scenario);
    let document = format!("{}\n", serde_json::to_string_pretty(&comparison)?);
    // Files first: whoever pipes the table into `head` still gets them.
    let (folder, left) = rows.leave(&comparison, &document, units);
    if asked.json {
        stdout().write_all(document.as_bytes())?;
    } else {
        stdout().write_all(words(&comparison, units, scenario.fixed_days).as_bytes())?;
    }
    left?;
    say_where(&folder, asked)
}

/// Where the files will go.
pub(super) fn folder_for(asked: &CompareArgs, scenario: &Scenario) -> Result<Folder, Ended> {
    let what = Asked {
        command: if asked.doubt { "doubt" } else { "compare" },
        stamp: Stamp::new(&scenario.name, &scenario.sha256, asked.simulated.seed),
        plans: scenario.plans.iter().map(|plan| plan.name.clone()).collect(),
        vary: asked.vary.clone(),
        days: asked.days(),
    };
    Ok(Folder::choose(asked.out.as_deref(), what)?)
}

/// Does some work on a number of threads.
pub(super) fn on_threads<T: Send>(
    threads: Option<usize>,
    work: impl FnOnce() -> T + Send,
) -> Result<T, Ended> {
    // Without a number, rayon takes one thread a core.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads.unwrap_or(0)).build();
    Ok(pool.map_err(|why| Ended::Failed(why.into()))?.install(work))
}

fn fish(
    asked: &CompareArgs,
    scenario: &Scenario,
    control: Control<'_>,
    rows: &mut Rows,
) -> Result<Comparison, Ended> {
    let stopped = if asked.days.is_some() { Stopped::Asked } else { Stopped::Limit };
    crate::study::compare(scenario, asked.simulated.seed, asked.days(), stopped, control, |day| {
        rows.write(scenario, day)
    })
}

/// Says where the files are: below the words, or on standard error beside JSON.
pub(super) fn say_where(folder: &Folder, asked: &CompareArgs) -> Result<(), Ended> {
    let names: Vec<String> = folder
        .left()
        .filter_map(|path| Some(path.file_name()?.to_string_lossy().into_owned()))
        .collect();
    let place = format!("Files in {}: {}", folder.path().display(), names.join(", "));
    match (asked.json, asked.quiet) {
        (true, true) => {}
        (true, false) => tell(&place),
        (false, _) => writeln!(stdout(), "\n{place}")?,
    }
    Ok(())
}

/// Columns of the terminal; where there is none, as many as a table uses at most.
pub(super) fn columns() -> usize {
    console::Term::stdout().size_checked().map_or(100, |(_, columns)| usize::from(columns))
}

/// A sentence on lines that fit the terminal, the first and the others begun as told.
fn wrapped(sentence: &str, first: &str, others: &str) -> String {
    let width = columns().clamp(40, 100);
    let options = textwrap::Options::new(width).initial_indent(first).subsequent_indent(others);
    textwrap::fill(sentence, options)
}

/// The comparison for people.
fn words(comparison: &Comparison, units: Units, fixed_days: bool) -> String {
    let mut text = format!("{}\n\n", comparison_table_within(comparison, units, columns()));
    let days = comparison.days;
    let why = match comparison.stopped_because {
        Stopped::Asked => "as asked",
        Stopped::Clear => "enough for a clear verdict",
        Stopped::Limit => "the usual number; --days asks for another",
    };
    // Writing to a string does not fail.
    let _ = writeln!(text, "{days} days of seed {}, {why}.", comparison.stamp.seed);
    if fixed_days {
        let alike = "Every day is the same one, at central values: what differs is luck within it, so the intervals \
                     say nothing of other days or of what is not known.";
        let _ = writeln!(text, "{}", wrapped(alike, "", ""));
    }
    for sentence in verdict(comparison, units) {
        let _ = writeln!(text, "{}", wrapped(&sentence, "", ""));
    }
    let reasons = reasons(comparison, units);
    if !reasons.is_empty() {
        text.push_str("\nWhy:\n");
    }
    for reason in reasons {
        let _ = writeln!(text, "{}", wrapped(&reason, "  - ", "    "));
    }
    let fired = rules_fired(comparison);
    if !fired.is_empty() {
        text.push_str("\nRules:\n");
    }
    for sentence in fired {
        let _ = writeln!(text, "{}", wrapped(&sentence, "  - ", "    "));
    }
    if !comparison.warnings.is_empty() {
        text.push_str("\nMind:\n");
    }
    for warning in &comparison.warnings {
        let _ = writeln!(text, "{}", wrapped(&warning.says, "  - ", "    "));
    }
    text
}

/// The table of sessions, written as days are done, and the folder it is in.
struct Rows {
    folder: Folder,
    open: Option<SessionRows<File>>,
}

impl Rows {
    /// Adds a day; the file is begun with the first.
    fn write(&mut self, scenario: &Scenario, day: &DayFished) -> Result<(), Ended> {
        if self.open.is_none() {
            self.open = Some(SessionRows::new(self.folder.begin(SESSIONS)?)?);
        }
        if let Some(rows) = &mut self.open {
            rows.write(&scenario.plans, day)?;
        }
        Ok(())
    }

    fn drop_unfinished(&mut self) {
        if self.open.take().is_some() {
            self.folder.drop_unfinished(SESSIONS);
        }
    }

    /// Ends the table and gives it its name.
    fn keep(&mut self) -> Result<(), Ended> {
        if let Some(rows) = self.open.take() {
            rows.finish()?;
            self.folder.keep(SESSIONS, Some(SessionRows::<File>::FORMAT))?;
        }
        Ok(())
    }

    /// Keeps the rows of the days done, unless whole results of an earlier run are there.
    fn interrupted(mut self, done: u32, asked: u32) -> Result<Ended, Ended> {
        let so_far = format!("interrupted after {done} of {asked} days");
        let folder = self.folder.path().display().to_string();
        if done == 0 || self.folder.holds_results() {
            let before = self.folder.holds_results();
            self.drop_unfinished();
            let kept = match before {
                true => format!("the earlier results in {folder} are as they were"),
                false => "nothing was written".to_owned(),
            };
            return Ok(Ended::Interrupted(format!("{so_far}; {kept}")));
        }
        self.keep()?;
        self.folder.write_stamp(done)?;
        Ok(Ended::Interrupted(format!("{so_far}; their rows are kept in {folder}/{SESSIONS}")))
    }

    /// Leaves all files of a whole comparison; the folder comes back whether or not the disk took them.
    fn leave(
        mut self,
        comparison: &Comparison,
        document: &str,
        units: Units,
    ) -> (Folder, Result<(), Ended>) {
        let left = self.leave_all(comparison, document, units);
        (self.folder, left)
    }

    fn leave_all(
        &mut self,
        comparison: &Comparison,
        document: &str,
        units: Units,
    ) -> Result<(), Ended> {
        self.keep()?;
        let svg = weight_curve_svg(comparison, units);
        leave_picture(&mut self.folder, "weight-curve", &svg)?;
        self.folder.write("summary.json", Some(Comparison::FORMAT), document.as_bytes())?;
        Ok(self.folder.write_stamp(comparison.days)?)
    }
}

/// Leaves a picture as SVG and as PNG.
pub(super) fn leave_picture(folder: &mut Folder, name: &str, svg: &str) -> Result<(), Ended> {
    folder.write(&format!("{name}.svg"), None, svg.as_bytes())?;
    let picture = png(svg, PICTURE_PX).map_err(|why| Ended::Failed(why.into()))?;
    folder.write(&format!("{name}.png"), None, &picture).map_err(FolderFault::into)
}
