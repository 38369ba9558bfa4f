//! The commands and the options of each.

use std::net::{IpAddr, Ipv4Addr};
use std::path::PathBuf;

use clap::{Args, ColorChoice, Parser, Subcommand, ValueEnum};
use clap_complete::ArgValueCandidates;

use super::candidates::{key_candidates, plan_candidates};
use super::examples;
use super::objective::{ObjectiveArg, aim};
use super::option_groups::{
    DEFAULT_DAYS, OutputOptions, RunOptions, ScenarioArgs, SimulationOptions, THREADS_VARIABLE,
    UNITS_VARIABLE, UnitsArg,
};
use super::program::{CompletionsArgs, ManArgs, NewArgs, SchemaArgs};
use super::value_parsers::{
    Intervals, day, days, intervals, log_time, now_sessions, points, practice_time, recast_time,
    search_sessions, seed, share, simulated_logs, threads, waters,
};
use crate::study::{GroupBy, Shard};

/// Default number of logs that are simulated for a fit.
const DEFAULT_LOGS: u32 = 2000;
/// Default number of waters on which practices are simulated.
const DEFAULT_WATERS: u32 = 1000;
/// Default number of sessions that are simulated up to now.
const DEFAULT_NOW_SESSIONS: u32 = 400;
/// Default number of days on which plans are fished before and after a fit.
const DEFAULT_VERDICT_DAYS: u32 = 200;
/// Default number of sessions of a search.
const DEFAULT_SESSIONS: u32 = 40_000;

/// The whole command line.
#[derive(Debug, Parser)]
#[command(
    name = "shoalwise",
    version = concat!(env!("CARGO_PKG_VERSION"), " (", env!("SHOALWISE_COMMIT"), ")"),
    about = "Fish a plan a thousand times before fishing it once.",
    propagate_version = true,
    after_help = after_help()
)]
pub(in crate::cli) struct CommandLine {
    #[command(subcommand)]
    pub(in crate::cli) command: Command,
    /// Colour of help and faults; auto: on a terminal, unless NO_COLOR is set.
    #[arg(
        long,
        value_name = "WHEN",
        default_value = "auto",
        global = true,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub(in crate::cli) color: ColorChoice,
}

/// Where to report a fault of the program, in words.
pub(in crate::cli) fn where_to_report() -> String {
    match env!("CARGO_PKG_REPOSITORY") {
        "" => "report it where you got the program".to_owned(),
        address => format!("report it at {address}"),
    }
}

/// What stands below the help of the program.
fn after_help() -> String {
    format!(
        "Start here:\n  shoalwise new my-water\n  shoalwise compare my-water.toml\n\n\
         Every command has examples: shoalwise COMMAND --help. The manual is scenarios/GUIDE.md, in archives, the .deb and \
         the source; shoalwise man DIR writes manual pages.\n\
         A fault of the program: {}, with the command and the version (-V).\n\n\
         Exit codes: 0 done; 1 failed while working; 2 wrong usage or wrong input, nothing written; 130 interrupted; \
         143 terminated. After an interruption, finished work is kept.",
        where_to_report()
    )
}

/// The commands.
#[derive(Clone, Debug, Subcommand)]
pub enum Command {
    /// Fish every plan of a scenario on the same days, and say which is best and why.
    #[command(after_help = examples::COMPARE)]
    Compare(CompareArgs),
    /// Search for the best settings of a plan, and confirm them on fresh days.
    #[command(after_help = examples::BEST)]
    Best(BestArgs),
    /// Fish every combination of some values, or points spread over their ranges; can be stopped and resumed.
    #[command(after_help = examples::SWEEP)]
    Sweep(SweepArgs),
    /// Join the shares of a sweep or a comparison that several machines fished.
    #[command(after_help = examples::MERGE)]
    Merge(MergeArgs),
    /// Read a scenario and report every fault in it; fish nothing.
    #[command(after_help = examples::CHECK)]
    Check(CheckArgs),
    /// Show one session of one plan, event by event.
    #[command(after_help = examples::REPLAY)]
    Replay(ReplayArgs),
    /// Put one plan on one page for the bank: what to do when, bait to bring, what to expect by each hour.
    #[command(after_help = examples::CARD)]
    Card(CardArgs),
    /// Say what your own catch log says: how long bites take, the casts without one counted, and when to recast.
    #[command(after_help = examples::LEARN)]
    Learn(LearnArgs),
    /// Add casts to a catch log on the bank, a letter each; every entry is safe on disk at once.
    #[command(after_help = examples::LOG)]
    Log(LogArgs),
    /// During a session: what each way to go on is worth, given your log so far.
    #[command(after_help = examples::NOW)]
    Now(NowArgs),
    /// Open a local page: plans side by side while their days are fished, and single days in motion.
    #[command(after_help = examples::PAGE)]
    Page(PageArgs),
    /// Show every parameter of the model, with its range and source.
    #[command(after_help = examples::PARAMS)]
    Params(ParamsArgs),
    /// Write a first scenario of your own, with the schema for your editor next to it; nothing is overwritten.
    #[command(after_help = examples::NEW)]
    New(NewArgs),
    /// Print the JSON Schema of scenarios, by which editors complete and check keys, or of an output.
    #[command(after_help = examples::SCHEMA)]
    Schema(SchemaArgs),
    /// Print what a shell needs to complete commands, options, plans and keys.
    #[command(after_help = examples::COMPLETIONS)]
    Completions(CompletionsArgs),
    /// Write the manual pages into a folder.
    #[command(after_help = examples::MAN)]
    Man(ManArgs),
}

/// Arguments of `compare`.
#[derive(Clone, Debug, Args)]
pub struct CompareArgs {
    #[command(flatten)]
    pub(in crate::cli) scenario: ScenarioArgs,
    /// More scenario files: the plans of all of them are compared, each water on days of its own.
    ///
    /// The first water has the days of --seed, the next one those of the seed greater by one, and so on. With --set, a key
    /// may begin with the name of one water, as in pool/plan.patient.recast="8 min"; otherwise it is set in all.
    #[arg(value_name = "MORE_SCENARIOS")]
    pub(in crate::cli) others: Vec<PathBuf>,
    /// Fish only this plan; may be repeated. With several scenarios, SCENARIO/NAME is the plan of one of them.
    #[arg(long = "plan", value_name = "NAME", add = ArgValueCandidates::new(plan_candidates))]
    pub(in crate::cli) plans: Vec<String>,
    /// Fish every plan at each of these values: KEY=A,B,C or KEY=LOW..HIGH/COUNT; may be repeated.
    #[arg(long = "vary", value_name = "KEY=VALUES", add = ArgValueCandidates::new(key_candidates))]
    pub(in crate::cli) vary: Vec<String>,
    /// Find out which unknowns about the fish and the water could reverse the verdict between the two best plans, and
    /// at which values; takes a few minutes, and says first how many.
    #[arg(long, conflicts_with = "vary")]
    pub(in crate::cli) doubt: bool,
    /// Days to fish, exactly [default: until the verdict is clear, at most 3200; 400 with --vary or --doubt].
    ///
    /// Without it, the verdict is checked after 200, 400, … 3200 days. Fishing stops as soon as the heaviest plan is
    /// clearly ahead of each other plan, or clearly level with it: within 2 % of its mean weight, or within aim.margin
    /// of the scenario. Stopping early does not make a false verdict more likely: a 5 % chance of error is shared
    /// over all checks and all pairs of plans.
    #[arg(long, value_name = "N", value_parser = days, allow_negative_numbers = true)]
    pub(in crate::cli) days: Option<u32>,
    /// Fish only share K of N of these days, into a store of its own; `merge` joins the shares.
    #[arg(long, value_name = "K/N", value_parser = share, requires = "days", conflicts_with_all = ["vary", "doubt"])]
    pub(in crate::cli) part: Option<Shard>,
    /// With --vary or --part, repair a damaged store first: keep every whole block, and fish the others again.
    #[arg(long)]
    pub(in crate::cli) repair: bool,
    /// Write a row for each fish too, into catches.csv.
    #[arg(long, conflicts_with_all = ["vary", "part", "doubt"])]
    pub(in crate::cli) catches: bool,
    /// Print the table and the verdict as Markdown.
    #[arg(long, conflicts_with_all = ["json", "vary", "part", "doubt"])]
    pub(in crate::cli) markdown: bool,
    #[command(flatten)]
    pub(in crate::cli) run: RunOptions,
}

impl CompareArgs {
    /// Days to fish with `--vary`, `--part` or `--doubt`.
    pub(in crate::cli) fn days_or_default(&self) -> u32 {
        self.days.unwrap_or(DEFAULT_DAYS)
    }
}

/// How the points of a sweep are chosen.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(in crate::cli) enum SamplingArg {
    /// A Sobol sequence with Owen's scrambling; with more points, the first ones stay the same.
    #[default]
    Sobol,
    /// A Latin hypercube.
    Latin,
}

/// Arguments of `sweep`.
#[derive(Clone, Debug, Args)]
pub struct SweepArgs {
    #[command(flatten)]
    pub(in crate::cli) scenario: ScenarioArgs,
    /// Fish only this plan; may be repeated.
    #[arg(long = "plan", value_name = "NAME", add = ArgValueCandidates::new(plan_candidates))]
    pub(in crate::cli) plans: Vec<String>,
    /// Values of a key of the scenario or of a parameter book: KEY=A,B,C or KEY=LOW..HIGH/COUNT, or KEY=LOW..HIGH
    /// with --points; may be repeated.
    #[arg(long = "vary", value_name = "KEY=VALUES", required = true, add = ArgValueCandidates::new(key_candidates))]
    pub(in crate::cli) vary: Vec<String>,
    /// Spread this many points over the ranges of all keys, instead of fishing every combination.
    #[arg(long, value_name = "N", value_parser = points, allow_negative_numbers = true)]
    pub(in crate::cli) points: Option<u32>,
    /// How the points are spread [default: sobol].
    #[arg(long, value_name = "HOW", requires = "points")]
    pub(in crate::cli) design: Option<SamplingArg>,
    /// Days to fish at each point.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_DAYS, value_parser = days, allow_negative_numbers = true)]
    pub(in crate::cli) days: u32,
    /// Fish only share K of N of the sweep; `merge` joins the shares.
    #[arg(long, value_name = "K/N", value_parser = share)]
    pub(in crate::cli) part: Option<Shard>,
    /// Only say how far the sweep is, whether it is running or not.
    #[arg(long)]
    pub(in crate::cli) status: bool,
    /// Repair a damaged store first: keep every whole block, and fish the others again.
    #[arg(long, conflicts_with = "status")]
    pub(in crate::cli) repair: bool,
    #[command(flatten)]
    pub(in crate::cli) run: RunOptions,
}

/// Arguments of `best`.
#[derive(Clone, Debug, Args)]
pub struct BestArgs {
    #[command(flatten)]
    pub(in crate::cli) scenario: ScenarioArgs,
    /// A setting and its values: KEY=A,B,C or KEY=LOW..HIGH/COUNT; up to 8 settings.
    ///
    /// A range means COUNT values from LOW to HIGH and nothing between them: make COUNT as large as makes a
    /// difference, for example 40. Without --vary, the best plan of the file is searched for.
    #[arg(long = "vary", value_name = "KEY=VALUES", add = ArgValueCandidates::new(key_candidates))]
    pub(in crate::cli) vary: Vec<String>,
    /// Choose among these plans; may be repeated [default: the plan whose settings vary, otherwise all].
    #[arg(long = "plan", value_name = "NAME", add = ArgValueCandidates::new(plan_candidates))]
    pub(in crate::cli) plans: Vec<String>,
    /// What to maximise: weight, the mean weight; target, the chance of the scenario's target weight, or of another
    /// one as in "target=80 lb"; win or frame, the chance to win the scenario's section or to finish in its places.
    #[arg(long, value_name = "AIM", default_value = "weight", value_parser = aim)]
    pub(in crate::cli) aim: ObjectiveArg,
    /// Maximum number of sessions to fish, for search and confirmation together.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_SESSIONS, value_parser = search_sessions, allow_negative_numbers = true)]
    pub(in crate::cli) sessions: u32,
    /// Fresh days on which the finalists are confirmed: days 1 to N of the seed.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_DAYS, value_parser = days, allow_negative_numbers = true)]
    pub(in crate::cli) days: u32,
    #[command(flatten)]
    pub(in crate::cli) run: RunOptions,
}

/// Arguments of `merge`.
#[derive(Clone, Debug, Args)]
#[command(mut_arg("out", |out| {
    out.help("Folder for the files [default: output/SCENARIO-sweep or output/SCENARIO-compare]")
}))]
pub struct MergeArgs {
    /// The shares: their stores, or the folders that hold them.
    #[arg(value_name = "SHARE", required = true)]
    pub(in crate::cli) shares: Vec<PathBuf>,
    /// Units for weights and lengths [default: those of the scenario].
    #[arg(long, value_name = "UNITS", env = UNITS_VARIABLE)]
    pub(in crate::cli) units: Option<UnitsArg>,
    #[command(flatten)]
    pub(in crate::cli) output: OutputOptions,
}

/// Arguments of `check`.
#[derive(Clone, Debug, Args)]
pub struct CheckArgs {
    #[command(flatten)]
    pub(in crate::cli) scenario: ScenarioArgs,
    /// Print one JSON document with all faults.
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

/// Arguments of `replay`.
#[derive(Clone, Debug, Args)]
pub struct ReplayArgs {
    #[command(flatten)]
    pub(in crate::cli) scenario: ScenarioArgs,
    /// The plan to fish; it may be left out if the scenario has only one.
    #[arg(long, value_name = "NAME", add = ArgValueCandidates::new(plan_candidates))]
    pub(in crate::cli) plan: Option<String>,
    /// The day to fish it on, counted from 1.
    #[arg(long, value_name = "N", value_parser = day, allow_negative_numbers = true)]
    pub(in crate::cli) day: u32,
    #[command(flatten)]
    pub(in crate::cli) simulation: SimulationOptions,
    /// Print every event as one JSON object per line (indices count from 0), then the outcome.
    #[arg(long)]
    pub(in crate::cli) json: bool,
    /// Print the casts as a catch log, as an angler would write them down.
    #[arg(long, conflicts_with = "json")]
    pub(in crate::cli) log: bool,
    /// Print the day as one JSON document for drawing, as the page has it: where every fish was, rod, bait and scent.
    #[arg(long, conflicts_with_all = ["json", "log", "from_the_bank"])]
    pub(in crate::cli) film: bool,
    /// Print only what an angler sees: casts, bites, missed bites, fish and lost fish, line bites and fish that show.
    #[arg(long, conflicts_with = "log")]
    pub(in crate::cli) from_the_bank: bool,
}

/// Arguments of `card`.
#[derive(Clone, Debug, Args)]
#[command(mut_arg("json", |json| {
    json.help("Print the figures as one JSON document, in the format of compare, and nothing else")
}))]
pub struct CardArgs {
    #[command(flatten)]
    pub(in crate::cli) scenario: ScenarioArgs,
    /// The plan to put on the card; it may be left out if the scenario has only one.
    #[arg(long, value_name = "NAME", add = ArgValueCandidates::new(plan_candidates))]
    pub(in crate::cli) plan: Option<String>,
    /// Days to fish it, to see what to expect and how much bait to bring.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_DAYS, value_parser = days, allow_negative_numbers = true)]
    pub(in crate::cli) days: u32,
    #[command(flatten)]
    pub(in crate::cli) run: RunOptions,
}

/// A column by which casts are grouped.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(in crate::cli) enum GroupByArg {
    /// Where you cast to.
    Line,
    /// Hookbait or mix.
    Bait,
    /// What the feeder held.
    Feeder,
}

/// Arguments of `learn`.
#[derive(Clone, Debug, Args)]
#[command(mut_arg("out", |out| out.help("Folder for the files [default: output/LOG-learn, or output/SCENARIO-learn with --scenario]")))]
pub struct LearnArgs {
    /// The catch log: a CSV file with a row for each cast, those without a bite included.
    #[arg(value_name = "LOG", required_unless_present = "template")]
    pub(in crate::cli) log: Option<PathBuf>,
    /// Write an empty log: to LOG if it is given, otherwise to standard output; and explain its columns.
    #[arg(long)]
    pub(in crate::cli) template: bool,
    /// Group casts by this column; may be repeated [default: line and bait].
    #[arg(long = "by", value_name = "COLUMN", conflicts_with = "template")]
    by: Vec<GroupByArg>,
    /// Time from winding in to the next bait in the water, as in "45 s" [default: as the log shows it].
    #[arg(long, value_name = "TIME", value_parser = recast_time, conflicts_with = "template")]
    pub(in crate::cli) recast_time: Option<f64>,
    /// Fit the simulator of this scenario to the log: what your water must be like for such a log.
    #[arg(long, value_name = "SCENARIO", conflicts_with_all = ["template", "by", "recast_time"])]
    pub(in crate::cli) scenario: Option<PathBuf>,
    /// With --scenario, override one value of it by its dotted key; may be repeated.
    #[arg(long = "set", value_name = "KEY=VALUE", requires = "scenario")]
    pub(in crate::cli) sets: Vec<String>,
    /// With --scenario, number of logs to simulate.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_LOGS, value_parser = simulated_logs, requires = "scenario", allow_negative_numbers = true)]
    pub(in crate::cli) logs: u32,
    /// With --scenario, only simulate share K of N of these logs, into a folder of its own; --merge joins the shares.
    #[arg(long, value_name = "K/N", value_parser = share, requires = "scenario", conflicts_with_all = ["next", "merge"])]
    pub(in crate::cli) part: Option<Shard>,
    /// With --scenario, fit with the logs that shares have simulated: the folder of each; may be repeated.
    #[arg(long, value_name = "SHARE", requires = "scenario")]
    pub(in crate::cli) merge: Vec<PathBuf>,
    /// With --scenario, days on which every plan is fished before and after.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_VERDICT_DAYS, value_parser = days, requires = "scenario", allow_negative_numbers = true)]
    pub(in crate::cli) days: u32,
    /// With --scenario, also say which practice session would narrow the doubt about the verdict most.
    #[arg(long, requires = "scenario")]
    pub(in crate::cli) next: bool,
    /// With --next, the time you have for it.
    #[arg(long, value_name = "TIME", default_value = "2 h", value_parser = practice_time, requires = "next")]
    pub(in crate::cli) practice_time: f64,
    /// With --next, the recast intervals to choose from.
    #[arg(long, value_name = "TIMES", default_value = "2 min,5 min,10 min", value_parser = intervals, requires = "next")]
    pub(in crate::cli) intervals: Intervals,
    /// With --next, number of waters on which every practice is simulated.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_WATERS, value_parser = waters, requires = "next", allow_negative_numbers = true)]
    pub(in crate::cli) waters: u32,
    /// With --scenario, threads to use [default: all cores]; the result does not depend on it.
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true, env = THREADS_VARIABLE)]
    pub(in crate::cli) threads: Option<usize>,
    /// Seed of the logs that are drawn again from the sessions, or simulated.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub(in crate::cli) seed: u64,
    /// Units for weights [default: those of the log].
    #[arg(long, value_name = "UNITS", env = UNITS_VARIABLE)]
    pub(in crate::cli) units: Option<UnitsArg>,
    #[command(flatten)]
    pub(in crate::cli) output: OutputOptions,
}

impl LearnArgs {
    /// The columns by which casts are grouped.
    pub(in crate::cli) fn group_by(&self) -> Vec<GroupBy> {
        let group_by = |arg: &GroupByArg| match arg {
            GroupByArg::Line => GroupBy::Line,
            GroupByArg::Bait => GroupBy::Bait,
            GroupByArg::Feeder => GroupBy::Feeder,
        };
        let mut by: Vec<GroupBy> = Vec::new();
        for column in self.by.iter().map(group_by) {
            if !by.contains(&column) {
                by.push(column);
            }
        }
        if by.is_empty() { vec![GroupBy::Line, GroupBy::Bait] } else { by }
    }
}

/// Arguments of `log`.
#[derive(Clone, Debug, Args)]
pub struct LogArgs {
    /// The catch log to add to; it is created if it does not exist.
    #[arg(value_name = "FILE")]
    pub(in crate::cli) file: PathBuf,
    /// Name of the session [default: today's date].
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) session: Option<String>,
}

/// Arguments of `now`.
#[derive(Clone, Debug, Args)]
pub struct NowArgs {
    #[command(flatten)]
    pub(in crate::cli) scenario: ScenarioArgs,
    /// Today's catch log so far; with several sessions, the last one is today's.
    #[arg(long, value_name = "LOG")]
    pub(in crate::cli) log: PathBuf,
    /// The plan you fish; it may be left out if the scenario has only one.
    #[arg(long, value_name = "NAME", add = ArgValueCandidates::new(plan_candidates))]
    pub(in crate::cli) plan: Option<String>,
    /// Today's session, if it is not the last one of the log.
    #[arg(long, value_name = "NAME")]
    pub(in crate::cli) session: Option<String>,
    /// The time now, as the log writes times: h:mm or h:mm:ss [default: the last time in the log].
    #[arg(long, value_name = "TIME", value_parser = log_time)]
    pub(in crate::cli) at: Option<f64>,
    /// Sessions to simulate up to now; a quarter go on in every way, the others in those that may be best.
    #[arg(long, value_name = "N", default_value_t = DEFAULT_NOW_SESSIONS, value_parser = now_sessions, allow_negative_numbers = true)]
    pub(in crate::cli) sessions: u32,
    /// Seed of all random numbers.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub(in crate::cli) seed: u64,
    /// Threads to use [default: all cores]; the result does not depend on it.
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true, env = THREADS_VARIABLE)]
    pub(in crate::cli) threads: Option<usize>,
    /// Units for weights [default: those of the scenario].
    #[arg(long, value_name = "UNITS", env = UNITS_VARIABLE)]
    pub(in crate::cli) units: Option<UnitsArg>,
    /// Print one JSON document.
    #[arg(long)]
    pub(in crate::cli) json: bool,
}

/// Arguments of `page`.
#[derive(Clone, Debug, Args)]
pub struct PageArgs {
    /// The scenario shown first; the others of its folder can be chosen on the page.
    #[arg(value_name = "SCENARIO")]
    pub(in crate::cli) scenario: Option<PathBuf>,
    /// Port to listen on [default: a free one].
    #[arg(short, long, value_name = "N", default_value_t = 0, hide_default_value = true)]
    pub(in crate::cli) port: u16,
    /// Address to listen on; with any other, other machines can open the page too.
    #[arg(long, value_name = "ADDRESS", default_value_t = IpAddr::V4(Ipv4Addr::LOCALHOST))]
    pub(in crate::cli) host: IpAddr,
    /// Print the address and open no browser.
    #[arg(long)]
    pub(in crate::cli) no_open: bool,
    /// Write the page into one HTML file instead, with the model and all scenarios of the folder inside: it opens on any
    /// phone or computer without this program and without a network.
    #[arg(long, value_name = "FILE", conflicts_with_all = ["port", "host", "no_open"])]
    pub(in crate::cli) save: Option<PathBuf>,
}

/// Arguments of `params`.
#[derive(Clone, Debug, Args)]
pub struct ParamsArgs {
    /// Show only the parameters with this text in their name, meaning, grade or source.
    #[arg(value_name = "TEXT")]
    pub(in crate::cli) text: Option<String>,
    /// Print one line for each parameter, however wide; without a terminal this is so anyway.
    #[arg(long, conflicts_with_all = ["json", "markdown"])]
    pub(in crate::cli) wide: bool,
    /// Print one JSON document.
    #[arg(long, conflicts_with = "markdown")]
    pub(in crate::cli) json: bool,
    /// Print the table as Markdown, as in sim/PARAMETERS.md.
    #[arg(long)]
    pub(in crate::cli) markdown: bool,
}
