//! The casts of a log as a plan that the simulator can fish.
//!
//! A phase for each cast: from then on the rod is fished on that line with that tackle, and a bait waits for a bite as
//! long as yours would have. In the simulator bites come at other times, so the number of casts differs; what was
//! chosen does not.

use crate::angler::{FeedMethod, HookbaitId, LooseFeed, Phase, Plan, RecipeId, Rules, Tackle};
use crate::catch_log::{CatchLog, EndKind, LoggedCast, LoggedSession};
use crate::scenario::{Diagnostic, Diagnostics, Scenario, SourceLocation, nearest_name, quoted};
use crate::water::LineId;

/// Time from beginning to load the feeder until it hits the water [s].
const LEAD_S: f64 = 17.0;
/// Longest time from one cast to the next in which the angler was busy with fish and tackle; a longer one is a rest, in
/// which the rod was out of the water [s].
const MAX_TURN_S: f64 = 900.0;
/// A first cast that is at most this much earlier than the scenario's start is on the same clock [s].
const EARLY_S: f64 = 1800.0;
/// Number of unbitten casts, nearest in time, whose median is how long a bitten one would have waited.
const NEAREST: usize = 5;
/// Loose feed that is thrown once falls due again after this long, which is never [s].
const NEVER_AGAIN_S: f64 = 1e6;

/// One session of a log, ready to be fished by the simulator.
#[derive(Clone, Debug, PartialEq)]
pub struct LoggedPlan {
    /// The scenario, as long as the session was.
    pub scenario: Scenario,
    /// What the angler did.
    pub plan: Plan,
    /// The log's time at the start of the session [s].
    pub start_s: f64,
}

/// The sessions of a log as plans in a scenario; `shown` is the log's name in faults.
///
/// # Errors
///
/// Every line and bait of the log that the scenario does not have, with its row.
pub fn logged_plans(
    log: &CatchLog,
    shown: &str,
    scenario: &Scenario,
) -> Result<Vec<LoggedPlan>, Diagnostics> {
    let mut unknown = Vec::new();
    let reader = Reader { log, scenario };
    let plans = log.sessions.iter().map(|session| reader.plan(session, &mut unknown)).collect();
    if unknown.is_empty() {
        return Ok(plans);
    }
    let mut faults = Diagnostics::default();
    unknown.iter().for_each(|name| faults.add(name.fault(scenario)));
    Err(faults.in_file(shown))
}

/// A name of the log that the scenario does not have.
struct UnknownName {
    column: &'static str,
    name: String,
    /// The names that the scenario has.
    known: Vec<String>,
    /// The first row with the name.
    row: usize,
    /// How many rows have it.
    count: u64,
}

impl UnknownName {
    /// One fault for all rows that have the name.
    fn fault(&self, scenario: &Scenario) -> Diagnostic {
        let Self { column, name, known, row, count } = self;
        let near = nearest_name(name, known.iter().map(String::as_str));
        let rows = match count {
            1 => String::new(),
            count => format!(" ({count} rows have it, this one is the first)"),
        };
        let problem = format!("{} has no {column} {}{rows}", scenario.name, quoted(name));
        let fix = format!("it has {}; give both the same name", known.join(", "));
        Diagnostic::new(&SourceLocation::Line(*row), *column, problem, fix).near(near)
    }
}

struct Reader<'a> {
    log: &'a CatchLog,
    scenario: &'a Scenario,
}

impl Reader<'_> {
    fn plan(&self, session: &LoggedSession, unknown: &mut Vec<UnknownName>) -> LoggedPlan {
        let start_s = self.start_s(session);
        let session_s = session
            .casts
            .iter()
            .map(|cast| ended_s(cast).unwrap_or(cast.cast_s))
            .fold(0.0, |last, ended_s| f64::max(last, ended_s - start_s));
        let session_s = session_s.max(60.0);
        let mut phases: Vec<Phase> = Vec::new();
        let mut before: Option<&LoggedCast> = None;
        for (number, cast) in session.casts.iter().enumerate() {
            let Some(tackle) = self.tackle(session, cast, unknown) else { continue };
            let begins_s = cast.cast_s - LEAD_S;
            let rested_from_s = before.and_then(|before| {
                let ended_s = ended_s(before)?;
                (cast.cast_s - ended_s > MAX_TURN_S).then_some(ended_s)
            });
            let moved_from_s = before
                .filter(|before| before.line != cast.line)
                .and_then(ended_s)
                .filter(|ended_s| begins_s - ended_s < MAX_TURN_S);
            let earliest_s = phases.last().map_or(0.0, |last| last.from_s + 1.0);
            let from_s = moved_from_s.unwrap_or(begins_s) - start_s;
            let from_s = from_s.max(earliest_s).min(session_s - 1.0);
            if let Some(last) = phases.last_mut() {
                let until_s = rested_from_s.map_or(from_s, |ended_s| ended_s - start_s);
                last.until_s = until_s.clamp(last.from_s + 0.5, from_s);
            }
            let loose_feed = cast.loose_feed_kg.filter(|kg| *kg > 0.0).map(|amount_kg| LooseFeed {
                line: tackle.line,
                recipe: self.loose_recipe(&tackle),
                every_s: NEVER_AGAIN_S + number as f64,
                amount_kg,
                method: FeedMethod::default(),
            });
            let loose_feed = loose_feed.into_iter().collect();
            phases.push(Phase { from_s, until_s: session_s, tackle, loose_feed });
            before = Some(cast);
        }
        LoggedPlan {
            scenario: Scenario { session_s, ..self.scenario.clone() },
            plan: Plan {
                name: session.name.clone(),
                phases,
                bait_limit_kg: None,
                rules: Rules::default(),
            },
            start_s,
        }
    }

    /// The log's time at the start of a session: that of the scenario, zero if the log counts from there, or else just
    /// before the first cast [s].
    fn start_s(&self, session: &LoggedSession) -> f64 {
        let first_s = session.casts.first().map_or(0.0, |cast| cast.cast_s);
        let clock_s = self.scenario.clock.as_ref().map(|clock| clock.start_s);
        let on_clock = |start_s: &f64| {
            (start_s - EARLY_S..start_s + self.scenario.session_s).contains(&first_s)
        };
        match clock_s.filter(on_clock) {
            Some(start_s) => start_s.min(first_s - LEAD_S),
            None if first_s < EARLY_S => 0.0,
            None => first_s - LEAD_S,
        }
    }

    /// What a cast was made with. `None` if the scenario does not have it.
    fn tackle(
        &self,
        session: &LoggedSession,
        cast: &LoggedCast,
        unknown: &mut Vec<UnknownName>,
    ) -> Option<Tackle> {
        let scenario = self.scenario;
        let lines: Vec<&str> = scenario.lines.iter().map(|line| line.name.as_str()).collect();
        let hookbaits = scenario.hookbaits.iter().map(|bait| bait.name.as_str());
        let recipes = scenario.recipes.iter().map(|bait| bait.name.as_str());
        let baits: Vec<&str> = hookbaits.chain(recipes).collect();
        let line = lines.iter().position(|name| *name == cast.line);
        if line.is_none() {
            add_unknown(unknown, cast, "line", &cast.line, &lines);
        }
        let bait = baits.iter().position(|name| *name == cast.bait);
        if bait.is_none() && !cast.bait.is_empty() {
            add_unknown(unknown, cast, "bait", &cast.bait, &baits);
            return None;
        }
        let hookbait = bait.filter(|bait| *bait < scenario.hookbaits.len()).map(HookbaitId);
        let recipe = bait.and_then(|bait| bait.checked_sub(scenario.hookbaits.len())).map(RecipeId);
        let line = line?;
        let mut tackle = self.template(line, hookbait, recipe)?;
        tackle.line = LineId(line);
        tackle.hookbait = hookbait.unwrap_or(tackle.hookbait);
        tackle.recipe = recipe.unwrap_or(tackle.recipe);
        tackle.load_kg = cast.feeder_kg.unwrap_or(tackle.load_kg);
        tackle.end = cast.end_tackle.or(tackle.end);
        tackle.recast_s = self.patience_s(session, cast);
        Some(tackle)
    }

    /// How the scenario fishes a line with this bait, or at least that line, or at all.
    fn template(
        &self,
        line: usize,
        hookbait: Option<HookbaitId>,
        recipe: Option<RecipeId>,
    ) -> Option<Tackle> {
        let tackles = || {
            let phases = self.scenario.plans.iter().flat_map(|plan| &plan.phases);
            phases.map(|phase| phase.tackle)
        };
        let on_line = |tackle: &Tackle| tackle.line == LineId(line);
        let with_bait = |tackle: &Tackle| {
            hookbait.is_none_or(|hookbait| tackle.hookbait == hookbait)
                && recipe.is_none_or(|recipe| tackle.recipe == recipe)
        };
        tackles()
            .find(|tackle| on_line(tackle) && with_bait(tackle))
            .or_else(|| tackles().find(on_line))
            .or_else(|| tackles().next())
    }

    /// What the angler throws in by hand: as the scenario's plans do on that line, or else what is on the feeder.
    fn loose_recipe(&self, tackle: &Tackle) -> RecipeId {
        let feeds = self.scenario.plans.iter().flat_map(|plan| &plan.phases);
        let mut feeds = feeds.flat_map(|phase| &phase.loose_feed);
        feeds.find(|feed| feed.line == tackle.line).map_or(tackle.recipe, |feed| feed.recipe)
    }

    /// How long a bait waits without a bite [s]: as long as it did, or for a bitten cast the median of the nearest casts
    /// without a bite on the same line, if that is longer.
    fn patience_s(&self, session: &LoggedSession, cast: &LoggedCast) -> f64 {
        let own_s = cast.wait_s().unwrap_or(0.0);
        if cast.end.as_ref().is_some_and(|end| end.kind != EndKind::Bite) {
            return own_s.max(1.0);
        }
        // The last cast of a session is wound in because the session ends.
        let all_but_last = |session: &'_ LoggedSession| {
            let count = session.casts.len();
            session.casts[..count.saturating_sub(1)].to_vec()
        };
        let same_line = all_but_last(session).into_iter().filter(|other| other.line == cast.line);
        let mut unbitten = unbitten_waits(same_line, cast.cast_s);
        if unbitten.is_empty() {
            unbitten = unbitten_waits(all_but_last(session).into_iter(), cast.cast_s);
        }
        if unbitten.is_empty() {
            unbitten = unbitten_waits(self.log.casts().cloned(), cast.cast_s);
        }
        let longest = || self.log.casts().filter_map(LoggedCast::wait_s).fold(0.0, f64::max);
        let median_s = unbitten.get(unbitten.len() / 2).copied().unwrap_or_else(longest);
        own_s.max(median_s).max(1.0)
    }
}

/// Counts a name that the scenario does not have.
fn add_unknown(
    unknown: &mut Vec<UnknownName>,
    cast: &LoggedCast,
    column: &'static str,
    name: &str,
    known: &[&str],
) {
    match unknown.iter_mut().find(|other| other.column == column && other.name == name) {
        Some(other) => other.count += 1,
        None => unknown.push(UnknownName {
            column,
            name: name.to_owned(),
            known: known.iter().map(|&name| name.to_owned()).collect(),
            row: cast.row,
            count: 1,
        }),
    }
}

/// Waits of the casts without a bite that are nearest in time, in ascending order [s].
fn unbitten_waits(casts: impl Iterator<Item = LoggedCast>, at_s: f64) -> Vec<f64> {
    let unbitten = casts.filter(|cast| !cast.has_bite());
    let mut waits: Vec<(f64, f64)> =
        unbitten.filter_map(|cast| Some(((cast.cast_s - at_s).abs(), cast.wait_s()?))).collect();
    waits.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut nearest: Vec<f64> = waits.into_iter().take(NEAREST).map(|(_, wait_s)| wait_s).collect();
    nearest.sort_by(f64::total_cmp);
    nearest
}

/// When the rod was out of the water again [s]. `None` if the bait is still out.
fn ended_s(cast: &LoggedCast) -> Option<f64> {
    cast.end.as_ref().map(|end| end.wound_in_s.unwrap_or(end.at_s))
}
