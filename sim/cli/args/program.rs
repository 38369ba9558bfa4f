//! Arguments of the commands that are about the program itself: a first scenario, schemas, completions, manual pages.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

/// Arguments of `new`.
#[derive(Clone, Debug, Args)]
pub struct NewArgs {
    /// Name of the water; the file is NAME.toml, in the folder before the name if there is one.
    #[arg(value_name = "NAME")]
    pub(in crate::cli) name: PathBuf,
    /// Length of the session.
    #[arg(long, value_name = "TIME", default_value = "5 h")]
    pub(in crate::cli) length: String,
    /// Distance from you to the place where you cast.
    #[arg(long, value_name = "LENGTH", default_value = "25 m")]
    pub(in crate::cli) distance: String,
    /// Number of carp in reach.
    #[arg(long, value_name = "N", default_value = "60")]
    pub(in crate::cli) fish: String,
    /// Mean weight of a carp.
    #[arg(long, value_name = "WEIGHT", default_value = "1.5 kg")]
    pub(in crate::cli) weight: String,
}

/// Documents that have a schema.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub(in crate::cli) enum SchemaArg {
    /// Scenario files.
    #[default]
    Scenario,
    /// The whole result of `compare`, also printed with --json.
    #[value(name = "summary.json", alias = "compare")]
    Summary,
    /// A row per plan and day.
    #[value(name = "sessions.csv", alias = "sessions")]
    Sessions,
    /// A row per fish.
    #[value(name = "catches.csv", alias = "catches")]
    Catches,
    /// The whole result of `compare` of several waters, also printed with --json.
    #[value(name = "waters.json", alias = "waters")]
    Waters,
    /// A row per water, plan and day.
    #[value(name = "waters.csv")]
    WatersTable,
    /// The result of `sweep` and `compare --vary`.
    #[value(name = "vary.json", alias = "vary")]
    Vary,
    /// The same as a table.
    #[value(name = "vary.csv")]
    VaryTable,
    /// The result of `best`.
    #[value(name = "best.json", alias = "best")]
    Best,
    /// Every plan that `best` tried.
    #[value(name = "best.csv")]
    BestTable,
    /// What could reverse the verdict.
    #[value(name = "doubt.json", alias = "doubt")]
    Doubt,
    /// What a catch log says.
    #[value(name = "learn.json", alias = "learn")]
    Learn,
    /// What the simulator learnt from a catch log.
    #[value(name = "fit.json", alias = "fit")]
    Fit,
    /// The unknowns as a catch log has them, for `--book`.
    #[value(name = "learned-book.toml", alias = "book")]
    LearnedBook,
    /// How the files of a folder were made.
    #[value(name = "stamp.json", alias = "stamp")]
    Stamp,
    /// What `now --json` prints.
    Now,
    /// What `check --json` prints.
    Check,
    /// What `params --json` prints.
    Params,
    /// A line of `replay --json`.
    Replay,
    /// A line of `replay --from-the-bank --json`.
    Bank,
    /// What `replay --film` prints.
    Film,
    /// What `sweep --status --json` prints.
    SweepStatus,
    /// A row of a catch log.
    CatchLog,
}

/// Arguments of `schema`.
#[derive(Clone, Debug, Args)]
pub struct SchemaArgs {
    /// The document: a file, or a command and what it prints with --json [default: scenario].
    #[arg(value_name = "NAME")]
    pub(in crate::cli) name: Option<SchemaArg>,
    /// Print instead what every column and field means, of all outputs without a NAME.
    #[arg(long)]
    pub(in crate::cli) describe: bool,
}

/// Shells that can complete.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(in crate::cli) enum ShellArg {
    /// Bash.
    Bash,
    /// Z shell.
    Zsh,
    /// Fish.
    Fish,
    /// `PowerShell`.
    #[value(help = "PowerShell")]
    Powershell,
}

impl ShellArg {
    /// Its name.
    pub(in crate::cli) fn name(self) -> &'static str {
        match self {
            Self::Bash => "bash",
            Self::Zsh => "zsh",
            Self::Fish => "fish",
            Self::Powershell => "powershell",
        }
    }
}

/// Arguments of `completions`.
#[derive(Clone, Debug, Args)]
pub struct CompletionsArgs {
    /// The shell.
    #[arg(value_name = "SHELL")]
    pub(in crate::cli) shell: ShellArg,
}

/// Arguments of `man`.
#[derive(Clone, Debug, Args)]
pub struct ManArgs {
    /// The folder; pages of the same names in it are replaced.
    #[arg(value_name = "DIR")]
    pub(in crate::cli) folder: PathBuf,
}
