//! `compare`: every plan on the same days; table, verdict, reasons and files.

use std::fmt::Write as _;
use std::fs::File;
use std::io::{Write as _, stdout};
use std::path::PathBuf;

use super::args::{CompareArgs, LIMIT_DAYS, Shown as ShownUnits, units_of};
use super::door::tell;
use super::doubt::compare_doubted;
use super::ended::Ended;
use super::interrupt;
use super::progress::Shown;
use super::reading::{keep_plans, read};
use super::sweep::{Show, compare_share, compare_varied};
use crate::report::{
    aims_table, beats_table, comparison_table_within, png, reasons, report_html, rules_fired,
    verdict, weight_curve_svg,
};
use crate::scenario::{Scenario, Units};
use crate::study::{
    Asked, Comparison, Control, DayFished, Folder, FolderFault, Scoreboard, SessionRows, Stamp,
    Stopped, Store, Sweep, UntilClear, compare_until_clear, comparison, days_of_shares,
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
    if !asked.vary.is_empty() {
        return compare_varied(asked);
    }
    if let Some(share) = asked.part.filter(|share| !share.is_whole()) {
        return compare_share(asked, share);
    }
    let mut scenario = read(&asked.read, &[])?;
    keep_plans(&mut scenario, &asked.plans)?;
    if asked.doubt {
        return compare_doubted(asked, &scenario);
    }
    let folder = match asked.days {
        Some(days) => folder_for(asked, &scenario, days)?,
        None => Folder::choose_until_clear(asked.out.as_deref(), what(asked, &scenario, 0))?,
    };
    let stop = interrupt::listen()?;
    let sessions = u64::from(asked.days.unwrap_or(0)) * scenario.plans.len() as u64;
    let progress = Shown::new(sessions, asked.quiet);
    let control = Control { progress: &progress, stop };
    let mut rows = Rows { folder, open: None };
    let fished = on_threads(asked.threads, || fish(asked, &scenario, control, &mut rows));
    progress.finish();
    let comparison =
        match fished.and_then(|fished| fished).inspect_err(|_| rows.drop_unfinished())? {
            UntilClear::Done(comparison) => comparison,
            UntilClear::Interrupted { days } => return Err(rows.interrupted(days, asked.days)?),
        };
    let units = asked.simulated.units(&scenario);
    show(rows, &comparison, &scenario, units, &Show::of(asked))
}

/// Leaves the files of a whole comparison and prints what it came to.
fn show(
    rows: Rows,
    comparison: &Comparison,
    scenario: &Scenario,
    units: Units,
    show: &Show<'_>,
) -> Result<(), Ended> {
    let document = format!("{}\n", serde_json::to_string_pretty(comparison)?);
    // Files first: whoever pipes the table into `head` still gets them.
    let (folder, left) = rows.leave(comparison, scenario, &document, units);
    if show.json {
        stdout().write_all(document.as_bytes())?;
    } else {
        stdout().write_all(words(comparison, units, scenario.fixed_days).as_bytes())?;
    }
    left?;
    say_where(&folder, show.json, show.quiet)
}

/// Adds up the days of a comparison out of its shares; what comes of it is what one machine would have left.
pub(super) fn join_compared(
    shares: &[Store],
    whole: &Sweep,
    units: Option<ShownUnits>,
    shown: &Show<'_>,
) -> Result<(), Ended> {
    let scenario = whole.scenario(&[])?;
    let asked = Asked {
        command: "compare",
        stamp: whole.stamp.clone(),
        plans: whole.plans.clone(),
        vary: Vec::new(),
        days: whole.days,
    };
    let folder = Folder::choose(shown.out.map(PathBuf::as_path), asked)?;
    let mut rows = Rows { folder, open: None };
    let mut board = Scoreboard::new(&scenario);
    days_of_shares(shares, whole, |day| {
        board.add(day);
        rows.write(&scenario, day)
    })
    .inspect_err(|_: &Ended| rows.drop_unfinished())?;
    let found = comparison(&scenario, whole.stamp.seed, &board, Stopped::Asked);
    show(rows, &found, &scenario, units_of(units, &scenario), shown)
}

/// Where the files of a run of exactly so many days will go.
pub(super) fn folder_for(
    asked: &CompareArgs,
    scenario: &Scenario,
    days: u32,
) -> Result<Folder, Ended> {
    Ok(Folder::choose(asked.out.as_deref(), what(asked, scenario, days))?)
}

fn what(asked: &CompareArgs, scenario: &Scenario, days: u32) -> Asked {
    Asked {
        command: if asked.doubt { "doubt" } else { "compare" },
        stamp: Stamp::new(&scenario.name, &scenario.sha256, asked.simulated.seed),
        plans: scenario.plans.iter().map(|plan| plan.name.clone()).collect(),
        vary: Vec::new(),
        days,
    }
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
) -> Result<UntilClear, Ended> {
    let (seed, each_day) = (asked.simulated.seed, |day: &_| rows.write(scenario, day));
    let Some(days) = asked.days else {
        return compare_until_clear(scenario, seed, LIMIT_DAYS, control, each_day);
    };
    let found = crate::study::compare(scenario, seed, days, Stopped::Asked, control, each_day)?;
    Ok(match found.days {
        done if done < days => UntilClear::Interrupted { days: done },
        _ => UntilClear::Done(Box::new(found)),
    })
}

/// Says where the files are: below the words, or on standard error beside JSON.
pub(super) fn say_where(folder: &Folder, json: bool, quiet: bool) -> Result<(), Ended> {
    let names: Vec<String> = folder
        .left()
        .filter_map(|path| Some(path.file_name()?.to_string_lossy().into_owned()))
        .collect();
    let place = format!("Files in {}: {}", folder.path().display(), names.join(", "));
    match (json, quiet) {
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
pub(super) fn wrapped(sentence: &str, first: &str, others: &str) -> String {
    let width = columns().clamp(40, 100);
    let options = textwrap::Options::new(width).initial_indent(first).subsequent_indent(others);
    textwrap::fill(sentence, options)
}

/// Why no more days were fished.
fn stopped(comparison: &Comparison) -> String {
    let days = format!("{} days of seed {}", comparison.days, comparison.stamp.seed);
    match comparison.stopped_because {
        Stopped::Asked => format!("{days}, as asked."),
        Stopped::Clear if comparison.pairs.is_empty() => format!("{days}; one plan has no rival."),
        Stopped::Clear => format!("{days}: the verdict is clear."),
        Stopped::Limit => format!("{days}, the limit: the verdict is still not clear."),
    }
}

/// The comparison for people.
fn words(comparison: &Comparison, units: Units, fixed_days: bool) -> String {
    let mut text = format!("{}\n\n", comparison_table_within(comparison, units, columns()));
    // Writing to a string does not fail.
    let _ = writeln!(text, "{}", wrapped(&stopped(comparison), "", ""));
    if fixed_days {
        let alike = "Every day is the same one, at central values: what differs is luck within it, so the intervals \
                     say nothing of other days or of what is not known.";
        let _ = writeln!(text, "{}", wrapped(alike, "", ""));
    }
    for sentence in verdict(comparison, units) {
        let _ = writeln!(text, "{}", wrapped(&sentence, "", ""));
    }
    if let Some((table, notes)) = beats_table(comparison, columns()) {
        let _ = writeln!(text, "\n{table}\n{}", wrapped(&notes.join(" "), "", ""));
    }
    if let Some(table) = aims_table(comparison, units, columns()) {
        let _ = writeln!(text, "\n{table}");
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
    fn interrupted(mut self, done: u32, asked: Option<u32>) -> Result<Ended, Ended> {
        let so_far = match asked {
            Some(asked) => format!("interrupted after {done} of {asked} days"),
            None => format!("interrupted after {done} days, before the verdict was clear"),
        };
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
        scenario: &Scenario,
        document: &str,
        units: Units,
    ) -> (Folder, Result<(), Ended>) {
        let left = self.leave_all(comparison, scenario, document, units);
        (self.folder, left)
    }

    fn leave_all(
        &mut self,
        comparison: &Comparison,
        scenario: &Scenario,
        document: &str,
        units: Units,
    ) -> Result<(), Ended> {
        self.keep()?;
        let svg = weight_curve_svg(comparison, units);
        leave_picture(&mut self.folder, "weight-curve", &svg)?;
        let report = report_html(comparison, scenario, units);
        self.folder.write("report.html", None, report.as_bytes())?;
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
