//! Commands and their options.

use std::path::PathBuf;

use clap::{Args as Group, Parser, Subcommand, ValueEnum};

use crate::scenario::{Scenario, Units};

/// Days fished where nothing else is asked.
pub(super) const USUAL_DAYS: u32 = 400;

/// The whole command line.
#[derive(Debug, Parser)]
#[command(
    name = "shoalwise",
    version = concat!(env!("CARGO_PKG_VERSION"), " (", env!("SHOALWISE_COMMIT"), ")"),
    about = "Fish a plan a thousand times before fishing it once.",
    after_help = "Exit codes: 0 done; 1 failed while working; 2 wrong usage or wrong input, nothing written; \
                  130 interrupted."
)]
pub(super) struct Args {
    #[command(subcommand)]
    pub(super) command: Command,
}

/// What can be asked.
#[derive(Clone, Debug, Subcommand)]
pub enum Command {
    /// Fish every plan of a scenario on the same days, and say which is best and why.
    Compare(CompareArgs),
    /// Read a scenario and report every fault in it; fish nothing.
    Check(CheckArgs),
    /// Tell one session of one plan, event by event.
    Replay(ReplayArgs),
    /// Show every parameter of the model, with its range and source.
    Params(ParamsArgs),
}

/// How weights and lengths are shown.
#[derive(Clone, Copy, Debug, ValueEnum)]
enum Shown {
    /// Kilograms and metres.
    Metric,
    /// Pounds, ounces and yards.
    Imperial,
}

/// What scenario, and what is changed in it.
#[derive(Clone, Debug, Group)]
pub(super) struct Read {
    /// The scenario file.
    #[arg(value_name = "SCENARIO")]
    pub(super) scenario: PathBuf,
    /// Override one value by its dotted key, as in plan.patient.recast="8 min"; may be repeated.
    #[arg(long = "set", value_name = "KEY=VALUE")]
    pub(super) sets: Vec<String>,
    /// Make every day the same, all that differs between days at central values: only luck is left.
    #[arg(long)]
    pub(super) fixed_days: bool,
}

/// The seed and the units, common to all commands that simulate.
#[derive(Clone, Debug, Group)]
pub(super) struct Simulated {
    /// The seed: same version, machine kind and seed give the same bytes.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub(super) seed: u64,
    /// How weights and lengths are shown; the scenario says where this does not.
    #[arg(long, value_name = "UNITS")]
    units: Option<Shown>,
}

impl Simulated {
    /// The units to show.
    pub(super) fn units(&self, scenario: &Scenario) -> Units {
        match self.units {
            Some(Shown::Metric) => Units::Metric,
            Some(Shown::Imperial) => Units::Imperial,
            None => scenario.units,
        }
    }
}

/// What `compare` is asked.
#[derive(Clone, Debug, Group)]
pub struct CompareArgs {
    #[command(flatten)]
    pub(super) read: Read,
    /// Fish only this plan; may be repeated.
    #[arg(long = "plan", value_name = "NAME")]
    pub(super) plans: Vec<String>,
    /// Fish every plan at each of these values: KEY=A,B,C or KEY=LOW..HIGH/COUNT; may be repeated.
    #[arg(long = "vary", value_name = "KEY=VALUES")]
    pub(super) vary: Vec<String>,
    /// Ask which of all that is not known could flip the verdict between the two best plans, and over what range; takes
    /// a minute or a few, and says so first.
    #[arg(long, conflicts_with = "vary")]
    pub(super) doubt: bool,
    #[command(flatten)]
    pub(super) simulated: Simulated,
    /// Days to fish [default: 400].
    #[arg(long, value_name = "N", value_parser = days, allow_negative_numbers = true)]
    pub(super) days: Option<u32>,
    /// Threads to use [default: all cores]; the result does not depend on it.
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true)]
    pub(super) threads: Option<usize>,
    /// Folder for the files [default: output/SCENARIO-compare].
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Print the result as one JSON document and nothing else.
    #[arg(long)]
    pub(super) json: bool,
    /// Show no progress.
    #[arg(long)]
    pub(super) quiet: bool,
}

impl CompareArgs {
    /// Days to fish.
    pub(super) fn days(&self) -> u32 {
        self.days.unwrap_or(USUAL_DAYS)
    }
}

/// What `check` is asked.
#[derive(Clone, Debug, Group)]
pub struct CheckArgs {
    #[command(flatten)]
    pub(super) read: Read,
}

/// What `replay` is asked.
#[derive(Clone, Debug, Group)]
pub struct ReplayArgs {
    #[command(flatten)]
    pub(super) read: Read,
    /// The plan to fish.
    #[arg(long, value_name = "NAME")]
    pub(super) plan: String,
    /// The day to fish it on, counted from 1.
    #[arg(long, value_name = "N", value_parser = day, allow_negative_numbers = true)]
    pub(super) day: u32,
    #[command(flatten)]
    pub(super) simulated: Simulated,
    /// Print every event as a JSON object on a line of its own (counting from 0), then the outcome.
    #[arg(long)]
    pub(super) json: bool,
}

/// What `params` is asked.
#[derive(Clone, Debug, Group)]
pub struct ParamsArgs {
    /// Print one JSON document.
    #[arg(long, conflicts_with = "markdown")]
    pub(super) json: bool,
    /// Print the page of the documentation.
    #[arg(long)]
    pub(super) markdown: bool,
}

fn seed(text: &str) -> Result<u64, String> {
    text.parse().map_err(|_| "give a whole number, 0 or more".to_owned())
}

fn days(text: &str) -> Result<u32, String> {
    let days = text.parse().map_err(|_| "give a whole number of days".to_owned())?;
    if days < 2 {
        return Err("give at least 2, or nothing is known of how days differ".to_owned());
    }
    Ok(days)
}

fn day(text: &str) -> Result<u32, String> {
    let day = text.parse().map_err(|_| "give the number of a day".to_owned())?;
    if day == 0 {
        return Err("days are counted from 1".to_owned());
    }
    Ok(day)
}

fn threads(text: &str) -> Result<usize, String> {
    let threads = text.parse().map_err(|_| "give a whole number of threads".to_owned())?;
    if !(1..=1024).contains(&threads) {
        return Err("give 1 to 1024".to_owned());
    }
    Ok(threads)
}
