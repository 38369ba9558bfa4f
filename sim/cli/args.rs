//! Commands and their options.

use std::net::{IpAddr, Ipv4Addr};
use std::path::PathBuf;

use clap::{Args as Group, Parser, Subcommand, ValueEnum};

use crate::scenario::{Scenario, Units, mass_kg};
use crate::study::{MOST_POINTS, Share, Wanted};

/// Sessions of a search where nothing else is asked.
const USUAL_SESSIONS: u32 = 40_000;
/// Days at most, where the verdict is not clear before and nothing else is asked.
pub(super) const LIMIT_DAYS: u32 = 3200;
/// Days fished at each value of `--vary`, and on which `best` confirms, where nothing else is asked.
pub(super) const USUAL_DAYS: u32 = 400;

/// The whole command line.
#[derive(Debug, Parser)]
#[command(
    name = "shoalwise",
    version = concat!(env!("CARGO_PKG_VERSION"), " (", env!("SHOALWISE_COMMIT"), ")"),
    about = "Fish a plan a thousand times before fishing it once.",
    after_help = "Exit codes: 0 done; 1 failed while working; 2 wrong usage or wrong input, nothing written; \
                  130 interrupted; 143 asked to terminate. What was finished is kept."
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
    /// Search a plan's settings for the best under noise, and confirm it on fresh days.
    Best(BestArgs),
    /// Fish every combination of some values, or points strewn over them, into a store that survives the night.
    Sweep(SweepArgs),
    /// Join the shares of a sweep or a comparison that several machines fished.
    Merge(MergeArgs),
    /// Read a scenario and report every fault in it; fish nothing.
    Check(CheckArgs),
    /// Tell one session of one plan, event by event.
    Replay(ReplayArgs),
    /// Put one plan on one page for the bank: what to do when, bait to bring, what to expect by each hour.
    Card(CardArgs),
    /// Open a local page: plans side by side as their days are fished, and single days in motion.
    Page(PageArgs),
    /// Show every parameter of the model, with its range and source.
    Params(ParamsArgs),
}

/// How weights and lengths are shown.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Shown {
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
        units_of(self.units, scenario)
    }
}

/// The units asked for, or the scenario's own.
pub(super) fn units_of(asked: Option<Shown>, scenario: &Scenario) -> Units {
    match asked {
        Some(Shown::Metric) => Units::Metric,
        Some(Shown::Imperial) => Units::Imperial,
        None => scenario.units,
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
    /// Days to fish, exactly [default: until the verdict is clear, 3200 at most; with --vary 400].
    ///
    /// Left out, the days are looked at after 200 and after each doubling, and fishing stops once the heaviest plan
    /// is told apart from every other, or is surely level with it within the margin (2 % of its mean, or the
    /// scenario's aim.margin). An error of 5 % is split over all looks and all pairs of plans: the chance that any
    /// verdict is false is no more than that, at whichever look it stops.
    #[arg(long, value_name = "N", value_parser = days, allow_negative_numbers = true)]
    pub(super) days: Option<u32>,
    /// Fish only share K of N of these days into a store of its own, for `merge` to join; `sweep` has the same.
    #[arg(long, value_name = "K/N", value_parser = share, requires = "days", conflicts_with_all = ["vary", "doubt"])]
    pub(super) part: Option<Share>,
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
    /// Days to fish at each value that is varied, or for a verdict that is doubted.
    pub(super) fn days_of_each(&self) -> u32 {
        self.days.unwrap_or(USUAL_DAYS)
    }
}

/// How the points of a sweep are strewn.
#[derive(Clone, Copy, Debug, Default, ValueEnum)]
pub(super) enum Strewn {
    /// A Sobol' sequence under Owen's scrambling; more points keep the first.
    #[default]
    Sobol,
    /// A Latin hypercube.
    Latin,
}

/// What `sweep` is asked.
#[derive(Clone, Debug, Group)]
pub struct SweepArgs {
    #[command(flatten)]
    pub(super) read: Read,
    /// Fish only this plan; may be repeated.
    #[arg(long = "plan", value_name = "NAME")]
    pub(super) plans: Vec<String>,
    /// Values of a key of the scenario or of a book: KEY=A,B,C or KEY=LOW..HIGH/COUNT, or KEY=LOW..HIGH with
    /// --points; may be repeated.
    #[arg(long = "vary", value_name = "KEY=VALUES", required = true)]
    pub(super) vary: Vec<String>,
    /// Strew so many points over all keys at once, instead of fishing every combination.
    #[arg(long, value_name = "N", value_parser = points, allow_negative_numbers = true)]
    pub(super) points: Option<u32>,
    /// How they are strewn [default: sobol].
    #[arg(long, value_name = "HOW", requires = "points")]
    pub(super) design: Option<Strewn>,
    #[command(flatten)]
    pub(super) simulated: Simulated,
    /// Days to fish at each point [default: 400].
    #[arg(long, value_name = "N", value_parser = days, allow_negative_numbers = true)]
    pub(super) days: Option<u32>,
    /// Fish only share K of N, for `merge` to join.
    #[arg(long, value_name = "K/N", value_parser = share)]
    pub(super) part: Option<Share>,
    /// Say how far the sweep is, running or not, and end.
    #[arg(long)]
    pub(super) status: bool,
    /// Threads to use [default: all cores]; the result does not depend on it.
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true)]
    pub(super) threads: Option<usize>,
    /// Folder for the store and the files [default: output/SCENARIO-sweep].
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Print the result as one JSON document and nothing else.
    #[arg(long)]
    pub(super) json: bool,
    /// Show no progress.
    #[arg(long)]
    pub(super) quiet: bool,
}

/// What `best` is asked.
#[derive(Clone, Debug, Group)]
pub struct BestArgs {
    #[command(flatten)]
    pub(super) read: Read,
    /// A setting and its values: KEY=A,B,C or KEY=LOW..HIGH/COUNT; 1 to 8 of them.
    ///
    /// A range stands for the COUNT values from end to end, and nothing between: give it as many as make a
    /// difference, such as 40. Without any, the best plan of the file is looked for.
    #[arg(long = "vary", value_name = "KEY=VALUES")]
    pub(super) vary: Vec<String>,
    /// Choose among these plans; may be repeated [default: the plan whose settings vary, else all].
    #[arg(long = "plan", value_name = "NAME")]
    pub(super) plans: Vec<String>,
    /// What is wanted: weight, the mean; target, the chance of the scenario's target or, as in "target=80 lb", of
    /// another; win or frame, the chance to be first or in the places of the scenario's section.
    #[arg(long, value_name = "AIM", default_value = "weight", value_parser = aim)]
    pub(super) aim: WantedOf,
    #[command(flatten)]
    pub(super) simulated: Simulated,
    /// Sessions to fish at most, the search and its confirmation together.
    #[arg(long, value_name = "N", default_value_t = USUAL_SESSIONS, allow_negative_numbers = true)]
    pub(super) sessions: u32,
    /// Fresh days on which the finalists are confirmed, days 1 to N of the seed.
    #[arg(long, value_name = "N", default_value_t = USUAL_DAYS, value_parser = days, allow_negative_numbers = true)]
    pub(super) days: u32,
    /// Threads to use [default: all cores]; the result does not depend on it.
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true)]
    pub(super) threads: Option<usize>,
    /// Folder for the files [default: output/SCENARIO-best].
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Print the result as one JSON document and nothing else.
    #[arg(long)]
    pub(super) json: bool,
    /// Show no progress.
    #[arg(long)]
    pub(super) quiet: bool,
}

/// What `merge` is asked.
#[derive(Clone, Debug, Group)]
pub struct MergeArgs {
    /// The shares: their stores, or the folders they are in.
    #[arg(value_name = "SHARE", required = true)]
    pub(super) shares: Vec<PathBuf>,
    /// Folder for the whole [default: output/SCENARIO-sweep, or SCENARIO-compare].
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// How weights and lengths are shown; the scenario says where this does not.
    #[arg(long, value_name = "UNITS")]
    pub(super) units: Option<Shown>,
    /// Print the result as one JSON document and nothing else.
    #[arg(long)]
    pub(super) json: bool,
    /// Show no progress.
    #[arg(long)]
    pub(super) quiet: bool,
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

/// What `card` is asked.
#[derive(Clone, Debug, Group)]
pub struct CardArgs {
    #[command(flatten)]
    pub(super) read: Read,
    /// The plan to put on the card.
    #[arg(long, value_name = "NAME")]
    pub(super) plan: String,
    #[command(flatten)]
    pub(super) simulated: Simulated,
    /// Days to fish it, for what to expect and how much bait to bring.
    #[arg(long, value_name = "N", default_value_t = USUAL_DAYS, value_parser = days, allow_negative_numbers = true)]
    pub(super) days: u32,
    /// Threads to use [default: all cores]; the result does not depend on it.
    #[arg(long, value_name = "N", value_parser = threads, allow_negative_numbers = true)]
    pub(super) threads: Option<usize>,
    /// Folder for the files [default: output/SCENARIO-card].
    #[arg(long, value_name = "DIR")]
    pub(super) out: Option<PathBuf>,
    /// Print the figures as one JSON document, as compare does, and nothing else.
    #[arg(long)]
    pub(super) json: bool,
    /// Show no progress.
    #[arg(long)]
    pub(super) quiet: bool,
}

/// What `page` is asked.
#[derive(Clone, Debug, Group)]
pub struct PageArgs {
    /// The scenario shown first; the others of its folder can be chosen on the page.
    #[arg(value_name = "SCENARIO")]
    pub(super) scenario: Option<PathBuf>,
    /// Port to listen on [default: a free one].
    #[arg(long, value_name = "N", default_value_t = 0, hide_default_value = true)]
    pub(super) port: u16,
    /// Address to listen on; any but this machine's own lets others in.
    #[arg(long, value_name = "ADDRESS", default_value_t = IpAddr::V4(Ipv4Addr::LOCALHOST))]
    pub(super) host: IpAddr,
    /// Print the address and open no browser.
    #[arg(long)]
    pub(super) no_open: bool,
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

/// How an aim is written.
const AIMS: &str = "write weight, target, target=80 lb, win or frame";

/// What is wanted, before it is known which scenario it is wanted of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum WantedOf {
    Weight,
    Target(Option<f64>),
    Win,
    Frame,
}

impl WantedOf {
    /// What that is in a scenario; what is missing there, and how to mend it.
    pub(super) fn of(self, scenario: &Scenario) -> Result<Wanted, &'static str> {
        const NO_TARGET: &str = "--aim target: the scenario has no target; write it as in --aim \"target=80 lb\", or as \
                                 aim.target into the scenario";
        const NO_SECTION: &str = "--aim win and --aim frame are about a section, and the scenario has none; write \
                                  section.rivals and section.weight into it, or ask for another aim";
        let section = scenario.aims.section.as_ref().ok_or(NO_SECTION);
        Ok(match self {
            Self::Weight => Wanted::Weight,
            Self::Target(kg) => {
                Wanted::Target { target_kg: kg.or(scenario.aims.target_kg).ok_or(NO_TARGET)? }
            }
            Self::Win => Wanted::Win { rivals: section?.rivals },
            Self::Frame => {
                let section = section?;
                Wanted::Frame { rivals: section.rivals, places: section.places }
            }
        })
    }
}

fn aim(text: &str) -> Result<WantedOf, String> {
    match text.split_once('=') {
        None => match text.trim() {
            "weight" => Ok(WantedOf::Weight),
            "target" => Ok(WantedOf::Target(None)),
            "win" => Ok(WantedOf::Win),
            "frame" => Ok(WantedOf::Frame),
            _ => Err(AIMS.to_owned()),
        },
        Some((name, weight)) if name.trim() == "target" => {
            let target_kg = mass_kg(weight.trim())?;
            if target_kg <= 0.0 {
                return Err("a target lies above nought".to_owned());
            }
            Ok(WantedOf::Target(Some(target_kg)))
        }
        _ => Err(AIMS.to_owned()),
    }
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

fn points(text: &str) -> Result<u32, String> {
    let points = text.parse().map_err(|_| "give a whole number of points".to_owned())?;
    if !(1..=MOST_POINTS).contains(&(points as usize)) {
        return Err(format!("give 1 to {MOST_POINTS}"));
    }
    Ok(points)
}

fn share(text: &str) -> Result<Share, String> {
    text.parse()
}

fn threads(text: &str) -> Result<usize, String> {
    let threads = text.parse().map_err(|_| "give a whole number of threads".to_owned())?;
    if !(1..=1024).contains(&threads) {
        return Err("give 1 to 1024".to_owned());
    }
    Ok(threads)
}
