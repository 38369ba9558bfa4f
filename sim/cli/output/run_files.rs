//! Every file that a run writes: who writes it, what it contains, and its format.
//!
//! A folder writes no other file, and protects files of these names from other runs.

use crate::scenario::LEARNED_BOOK_FORMAT;
use crate::study::{
    Comparison, FitResult, LearnResult, SearchResult, SensitivityReport, Store, SweepResult,
    TableFile, WatersComparison,
};

/// Name of the file that describes what a folder holds.
pub(super) const STAMP_FILE: &str = "stamp.json";
/// Name of the script that makes the files again.
pub(super) const AGAIN_FILE: &str = "again.sh";
/// Name and version of the format of the stamp.
pub(super) const STAMP_FORMAT: &str = "shoalwise/stamp/1";

/// Stands for the name of a plan in the name of a file.
const PLAN: &str = "<plan>";

/// A file that a run writes.
#[derive(Debug)]
pub struct RunFile {
    /// Its name, in which `<plan>` stands for the name of a plan.
    pub name: &'static str,
    /// The commands that write it, in Markdown.
    pub commands: &'static str,
    /// What the file contains.
    pub content: &'static str,
    /// Name and version of its format; `None` for pages, pictures and the store.
    pub format: Option<&'static str>,
}

/// Every file that a run writes.
pub static RUN_FILES: [RunFile; 37] = [
    file(
        "summary.json",
        "`compare`, `merge`, `card`",
        "the whole result",
        Some(Comparison::FORMAT),
    ),
    file("sessions.csv", COMPARISONS, "a row per plan and day", Some("shoalwise/sessions/1")),
    file("catches.csv", "`compare --catches`", "a row per fish", Some("shoalwise/catches/1")),
    file(
        "waters.json",
        "`compare` of several waters",
        "the whole result",
        Some(WatersComparison::FORMAT),
    ),
    file(
        "waters.csv",
        "`compare` of several waters",
        "a row per water, plan and day",
        Some(WatersComparison::SESSIONS_FORMAT),
    ),
    file("weight-curve.svg", COMPARISONS, "expected weight against time", None),
    file("weight-curve.png", COMPARISONS, "the same picture", None),
    file("report.html", COMPARISONS, "everything on one page", None),
    file("card.html", "`card`", "the card for a phone", None),
    file("card.pdf", "`card`", "the card for paper", None),
    file("card.svg", "`card`", "the same page as a picture", None),
    file("vary-<plan>.svg", SWEEPS, "weight against the settings of a plan", None),
    file("vary-<plan>.png", SWEEPS, "the same picture", None),
    file("vary.json", SWEEPS, "the result at all settings", Some(SweepResult::FORMAT)),
    file("vary.csv", SWEEPS, "a row per plan and setting", Some(SweepResult::FORMAT)),
    file(Store::FILE, STORES, "the store: every session so far", None),
    file("best.svg", "`best`", "how the search went", None),
    file("best.png", "`best`", "the same picture", None),
    file("best.json", "`best`", "the best settings and the finalists", Some(SearchResult::FORMAT)),
    file("best.csv", "`best`", "every plan tried", Some(SearchResult::EVALUATIONS_FORMAT)),
    file("doubt.svg", DOUBT, "how far each unknown moves the verdict", None),
    file("doubt.png", DOUBT, "the same picture", None),
    file("doubt.json", DOUBT, "what could reverse the verdict", Some(SensitivityReport::FORMAT)),
    file("waits.svg", LEARN, "the share of casts still without a bite against the wait", None),
    file("waits.png", LEARN, "the same picture", None),
    file("expected-bites.svg", LEARN, "bites to expect of a bait against time", None),
    file("expected-bites.png", LEARN, "the same picture", None),
    file("recast-rate.svg", LEARN, "bites an hour against the recast interval", None),
    file("recast-rate.png", LEARN, "the same picture", None),
    file("learn.json", LEARN, "everything that the log says", Some(LearnResult::FORMAT)),
    file(AGAIN_FILE, "all", "a shell script that makes the files again", None),
    file(
        TableFile::NAME,
        FIT,
        "the simulated logs, so that a run that was cut short goes on",
        None,
    ),
    file("unknowns.svg", FIT, "each unknown before and after the log", None),
    file("unknowns.png", FIT, "the same picture", None),
    file("fit.json", FIT, "what the simulator learnt from the log", Some(FitResult::FORMAT)),
    file(
        "learned-book.toml",
        FIT,
        "the unknowns as the log has them, for `--book`",
        Some(LEARNED_BOOK_FORMAT),
    ),
    file(STAMP_FILE, "all", "how the files were made", Some(STAMP_FORMAT)),
];

const COMPARISONS: &str = "`compare`, `merge`";
const SWEEPS: &str = "`sweep`, `merge`, `compare --vary`";
const STORES: &str = "`sweep`, `merge`, `compare --vary`, `compare --part`";
const DOUBT: &str = "`compare --doubt`";
const LEARN: &str = "`learn`";
const FIT: &str = "`learn --scenario`";

const fn file(
    name: &'static str,
    commands: &'static str,
    content: &'static str,
    format: Option<&'static str>,
) -> RunFile {
    RunFile { name, commands, content, format }
}

impl RunFile {
    /// The file that has this name. `None` if no run writes such a file.
    pub fn named(name: &str) -> Option<&'static Self> {
        let is_plain = !name.contains(['/', '\\']);
        RUN_FILES.iter().find(|file| is_plain && file.has_name(name))
    }

    fn has_name(&self, name: &str) -> bool {
        match self.name.split_once(PLAN) {
            Some((before, after)) => {
                name.strip_prefix(before).is_some_and(|rest| rest.ends_with(after))
            }
            None => name == self.name,
        }
    }
}
