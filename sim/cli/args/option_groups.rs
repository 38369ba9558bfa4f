//! Options that several commands share.

use std::io::stdin;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

use clap::{Args, ValueEnum};
use clap_complete::ArgValueCandidates;

use super::candidates::key_candidates;
use super::value_parsers::{seed, threads};
use crate::scenario::{Diagnostics, Scenario, ScenarioSource, Units};

/// Default number of days at each value of `--vary`, on a card, and for the confirmation of `best`.
pub(super) const DEFAULT_DAYS: u32 = 400;

/// Variable of the environment that stands for `--units`.
pub(in crate::cli) const UNITS_VARIABLE: &str = "SHOALWISE_UNITS";

/// Variable of the environment that stands for `--threads`.
pub(in crate::cli) const THREADS_VARIABLE: &str = "SHOALWISE_THREADS";

/// Units in which weights and lengths are shown.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(in crate::cli) enum UnitsArg {
    /// Kilograms and metres.
    Metric,
    /// Pounds, ounces and yards.
    Imperial,
}

/// The scenario and the changes to it.
#[derive(Clone, Debug, Args)]
pub(in crate::cli) struct ScenarioArgs {
    /// The scenario file; `-` reads standard input.
    #[arg(value_name = "SCENARIO")]
    pub(in crate::cli) path: PathBuf,
    /// Override one value by its dotted key, as in plan.patient.recast="8 min"; may be repeated.
    #[arg(long = "set", value_name = "KEY=VALUE", add = ArgValueCandidates::new(key_candidates))]
    pub(in crate::cli) sets: Vec<String>,
    /// Lay a learned book, as `learn --scenario` writes it, over the parameters: every day takes one of its draws.
    #[arg(long, value_name = "FILE")]
    pub(in crate::cli) book: Option<PathBuf>,
    /// Make every day the same: all that varies from day to day takes its central value, and only chance within the
    /// day is left.
    #[arg(long)]
    pub(in crate::cli) fixed_days: bool,
    /// The scenario as it was first read.
    #[arg(skip)]
    source: OnceLock<ScenarioSource>,
}

impl ScenarioArgs {
    /// The scenario as written. It is read once, since standard input can be read only once and a file may be edited
    /// meanwhile.
    pub(in crate::cli) fn source(&self) -> Result<&ScenarioSource, Diagnostics> {
        if let Some(source) = self.source.get() {
            return Ok(source);
        }
        let source = source_of(&self.path)?;
        Ok(self.source.get_or_init(|| source))
    }
}

/// The scenario as written in a file, or on standard input for `-`.
pub(in crate::cli) fn source_of(path: &Path) -> Result<ScenarioSource, Diagnostics> {
    match path == Path::new("-") {
        true => ScenarioSource::from_input(stdin().lock()),
        false => ScenarioSource::open(path),
    }
}

/// Options of all commands that simulate.
#[derive(Clone, Debug, Args)]
pub(in crate::cli) struct SimulationOptions {
    /// Seed of all random numbers: same version, machine kind and seed give the same bytes.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub(in crate::cli) seed: u64,
    /// Units for weights and lengths [default: those of the scenario].
    #[arg(long, value_name = "UNITS", env = UNITS_VARIABLE)]
    units: Option<UnitsArg>,
}

/// Options of all commands that fish many sessions.
#[derive(Clone, Debug, Args)]
pub(in crate::cli) struct RunOptions {
    #[command(flatten)]
    pub(in crate::cli) simulation: SimulationOptions,
    /// Threads to use [default: all cores]; the result does not depend on it.
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true, env = THREADS_VARIABLE)]
    pub(in crate::cli) threads: Option<usize>,
    #[command(flatten)]
    pub(in crate::cli) output: OutputOptions,
}

/// Where results go, and how much is printed.
#[derive(Clone, Debug, Args)]
pub(in crate::cli) struct OutputOptions {
    /// Folder for the files [default: output/SCENARIO-COMMAND]; `-` writes no files, and needs --json or --markdown.
    #[arg(short, long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Print the result as one JSON document and nothing else.
    #[arg(long)]
    pub(in crate::cli) json: bool,
    /// Show no progress.
    #[arg(short, long)]
    pub(in crate::cli) quiet: bool,
}

impl SimulationOptions {
    /// Units to show.
    pub(in crate::cli) fn units(&self, scenario: &Scenario) -> Units {
        UnitsArg::resolved(self.units, scenario)
    }
}

impl OutputOptions {
    /// Whether no files are to be written: `--out -`.
    pub(in crate::cli) fn is_without_files(&self) -> bool {
        self.folder() == Some(Path::new("-"))
    }

    /// Folder named with `--out`.
    pub(in crate::cli) fn folder(&self) -> Option<&Path> {
        self.out.as_deref()
    }
}

impl UnitsArg {
    /// The units given on the command line, or those of the scenario if `None`.
    pub(in crate::cli) fn resolved(given: Option<Self>, scenario: &Scenario) -> Units {
        match given {
            Some(Self::Metric) => Units::Metric,
            Some(Self::Imperial) => Units::Imperial,
            None => scenario.units,
        }
    }
}
