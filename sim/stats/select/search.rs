//! Search for the best point under noise: picks the procedure by the size of the space, and races through large ones.

use rand::Rng;
use schemars::JsonSchema;
use serde::Serialize;

use super::candidate::{Candidate, GridPoint, Simulator, extend, rank};
use super::halving::halve;
use super::small_set::{Procedure, choose_from_small_set};
use super::space::SearchSpace;
use super::surrogate::{centroid, surface_maximum};

/// Largest number of points that counts as a small set.
const MAX_SMALL_SET: u64 = 20;
/// Largest number of points of which all are simulated.
const MAX_EXHAUSTIVE: u64 = 512;
/// Largest number of points in the first round of a race.
const MAX_START_POINTS: u32 = 256;
/// Share of the trials for the first round of a race.
const START_SHARE: f64 = 0.2;
/// Number of rounds around the best point so far.
const ROUNDS: u32 = 12;
/// Largest number of points in a round.
const MAX_ROUND_POINTS: u32 = 32;
/// Factor by which the box shrinks from one round to the next.
const SHRINK: f64 = 0.82;
/// Share of the trials for the final: the finalists on separate days.
const FINAL_SHARE: f64 = 0.1;
/// Largest number of finalists.
const MAX_FINALISTS: usize = 8;
/// Days for each point in the first round of a halving, or more; the number of points is limited to allow for this.
const MIN_FIRST_DAYS: u32 = 2;

/// Procedure by which a space was searched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
pub enum SearchMethod {
    /// All points, by Kim and Nelson's procedure; its guarantee holds.
    #[serde(rename = "screened")]
    KimNelson,
    /// All points; the budget was allocated by OCBA.
    #[serde(rename = "shared")]
    Ocba,
    /// All points, by sequential halving.
    #[serde(rename = "halved")]
    SequentialHalving,
    /// Space-filling points, then rounds around the best so far; each round by sequential halving.
    #[serde(rename = "raced")]
    Race,
}

/// Result of one round of a search for one point.
#[derive(Clone, Debug, PartialEq)]
pub struct Evaluation {
    /// The round, counted from 1.
    pub round: u32,
    /// The point with its values.
    pub candidate: Candidate,
}

/// Result of a search.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchOutcome {
    /// The procedure used.
    pub method: SearchMethod,
    /// The best points; the winner comes first.
    pub finalists: Vec<GridPoint>,
}

/// Searches a space for the best point, from `first_day` on, with at most `max_trials`. `None` if it was stopped.
///
/// - Up to 20 points: Kim and Nelson's procedure if the trials cover its worst case, otherwise OCBA. `indifference`
///   gives the indifference zone from the best mean so far.
/// - Up to 512 points, if the trials suffice: sequential halving of all.
/// - More points: a race. 256 points of a scrambled Sobol' sequence, then twelve rounds of 32 points in a box around
///   the best so far. The box shrinks by a factor of 0.82 each time. Two points of a round are guesses from the round
///   before. Each round is a sequential halving on separate days, so that the noise of one set of days is not carried
///   on.
///
/// In the end, up to eight finalists are compared on separate days, except after the first kind of search, which
/// compares all points on common days. Every result is added to `tried` at once and stays there if the search is
/// stopped.
///
/// - **Checked by** V-94 (functions with known optima), V-95 (the simulator's own weights).
pub fn search(
    space: &SearchSpace,
    max_trials: u32,
    first_day: u32,
    indifference: impl Fn(f64) -> f64,
    rng: &mut impl Rng,
    simulator: &mut impl Simulator,
    tried: &mut Vec<Evaluation>,
) -> Option<SearchOutcome> {
    let mut search = Search { max_trials, next_day: first_day, simulator, tried };
    let before_final = max_trials - search.final_trials();
    if space.size() > MAX_EXHAUSTIVE || space.size() > max_candidates(before_final) as u64 {
        return search.race(space, rng);
    }
    let mut points = space.points();
    points.retain(|point| search.simulator.is_possible(point));
    if space.size() <= MAX_SMALL_SET {
        return search.choose(points, indifference);
    }
    let ranked = search.halve(points, before_final)?;
    Some(SearchOutcome {
        method: SearchMethod::SequentialHalving,
        finalists: search.run_final(best_points(ranked))?,
    })
}

/// A running search.
struct Search<'a, T: Simulator> {
    max_trials: u32,
    /// First day that no round has used yet.
    next_day: u32,
    simulator: &'a mut T,
    tried: &'a mut Vec<Evaluation>,
}

impl<T: Simulator> Search<'_, T> {
    fn final_trials(&self) -> u32 {
        (FINAL_SHARE * f64::from(self.max_trials)) as u32
    }

    /// Chooses from a small set of points.
    fn choose(
        &mut self,
        points: Vec<GridPoint>,
        indifference: impl Fn(f64) -> f64,
    ) -> Option<SearchOutcome> {
        let mut simulated = Vec::new();
        let choice = choose_from_small_set(
            points,
            self.max_trials,
            self.next_day,
            indifference,
            self.simulator,
            &mut simulated,
        );
        self.record_round(simulated);
        let (ranked, procedure) = choice?;
        let method = match procedure {
            Procedure::KimNelson => SearchMethod::KimNelson,
            Procedure::Ocba => SearchMethod::Ocba,
        };
        Some(SearchOutcome { method, finalists: best_points(ranked) })
    }

    /// Runs a sequential halving on separate days. If `max_trials` is too small for all points, the last are left out.
    fn halve(&mut self, mut points: Vec<GridPoint>, max_trials: u32) -> Option<Vec<Candidate>> {
        points.truncate(max_candidates(max_trials));
        let mut simulated = Vec::new();
        let ranked = halve(points, max_trials, self.next_day, self.simulator, &mut simulated);
        self.record_round(simulated);
        ranked
    }

    /// Searches a large space by rounds in a shrinking box.
    fn race(&mut self, space: &SearchSpace, rng: &mut impl Rng) -> Option<SearchOutcome> {
        let start_trials = (START_SHARE * f64::from(self.max_trials)) as u32;
        let round_trials = (self.max_trials - self.final_trials() - start_trials) / ROUNDS;
        let start_points = previous_power_of_two(max_candidates(start_trials));
        let mut points = space.fill(MAX_START_POINTS.min(start_points), rng);
        points.retain(|point| self.simulator.is_possible(point));
        let mut rounds = vec![self.halve(points, start_trials)?];
        let mut box_share = 1.0;
        let mut guesses = Vec::new();
        for _ in 0..ROUNDS {
            box_share *= SHRINK;
            let Some(best) = rounds.last().and_then(|ranked| ranked.first()) else { break };
            let mut points = space.fill_around(&best.point, box_share, MAX_ROUND_POINTS, rng);
            for guess in guesses {
                if !points.contains(&guess) {
                    // Directly after the centre, so that it stays in if the points are truncated.
                    points.insert(1, guess);
                }
            }
            points.retain(|point| self.simulator.is_possible(point));
            let ranked = self.halve(points, round_trials)?;
            let new_guesses = [centroid(space, &ranked), surface_maximum(space, &ranked)];
            guesses = new_guesses.into_iter().flatten().collect();
            rounds.push(ranked);
        }
        guesses.retain(|guess| self.simulator.is_possible(guess));
        let finalists = finalists_of_race(&guesses, &rounds);
        Some(SearchOutcome { method: SearchMethod::Race, finalists: self.run_final(finalists)? })
    }

    /// Sorts finalists by their means on separate days.
    fn run_final(&mut self, finalists: Vec<GridPoint>) -> Option<Vec<GridPoint>> {
        let days = self.final_trials() / finalists.len().max(1) as u32;
        let mut candidates: Vec<Candidate> =
            finalists.into_iter().map(|point| Candidate::new(point, self.next_day)).collect();
        let more_days = vec![days; candidates.len()];
        extend(&mut candidates, &more_days, self.simulator)?;
        rank(&mut candidates);
        let points = candidates.iter().map(|candidate| candidate.point.clone()).collect();
        self.record_round(candidates);
        Some(points)
    }

    /// Records the results of a round, and moves on to the days after it.
    fn record_round(&mut self, candidates: Vec<Candidate>) {
        let round = self.tried.last().map_or(1, |last| last.round + 1);
        let ends =
            candidates.iter().map(|candidate| candidate.first_day + candidate.values.len() as u32);
        self.next_day = ends.fold(self.next_day, u32::max);
        self.tried.extend(
            candidates.into_iter().map(|contender| Evaluation { round, candidate: contender }),
        );
    }
}

/// Largest number of candidates with which a halving has enough days for each in its first round.
fn max_candidates(trials: u32) -> usize {
    let suffices =
        |k: usize| k as u32 * k.next_power_of_two().trailing_zeros() * MIN_FIRST_DAYS <= trials;
    (2..=MAX_EXHAUSTIVE as usize).rev().find(|&k| suffices(k)).unwrap_or(2)
}

/// Largest power of two up to `count`.
fn previous_power_of_two(count: usize) -> u32 {
    1 << count.ilog2()
}

/// The points of the first candidates, as many as there may be finalists.
fn best_points(ranked: Vec<Candidate>) -> Vec<GridPoint> {
    ranked.into_iter().take(MAX_FINALISTS).map(|candidate| candidate.point).collect()
}

/// Finalists of a race: the last guesses, then the best of each round from the last one back, then the second of each
/// round, and on until there are enough.
fn finalists_of_race(guesses: &[GridPoint], rounds: &[Vec<Candidate>]) -> Vec<GridPoint> {
    let longest = rounds.iter().map(Vec::len).max().unwrap_or_default();
    let in_turn = (0..longest)
        .flat_map(|rank| rounds.iter().rev().filter_map(move |ranked| ranked.get(rank)))
        .map(|candidate| &candidate.point);
    let mut finalists: Vec<GridPoint> = Vec::new();
    for point in guesses.iter().chain(in_turn) {
        if finalists.len() < MAX_FINALISTS && !finalists.contains(point) {
            finalists.push(point.clone());
        }
    }
    finalists
}
