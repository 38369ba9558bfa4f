//! The search for the best point under noise: which procedure suits a space, and the race through a large one.

use rand::Rng;

use super::contender::{Contender, Point, Trials, rank, try_more};
use super::few::{Fewer, choose_among_few};
use super::guess::{middle_of_best, summit};
use super::halving::halve;
use super::space::Space;

/// Up to how many points are few.
const FEW: u64 = 20;
/// Up to how many points all of them are tried.
const ALL: u64 = 512;
/// Points that fill a larger space at the start, at most.
const AT_START: u32 = 256;
/// Share of the trials that the start takes.
const START_SHARE: f64 = 0.2;
/// Rounds about the best so far.
const ROUNDS: u32 = 12;
/// Points of such a round, at most.
const IN_ROUND: u32 = 32;
/// What each round leaves of the box of the one before.
const SHRINK: f64 = 0.82;
/// Share of the trials for choosing among the finalists on days of their own.
const PLAY_OFF_SHARE: f64 = 0.1;
/// Finalists at most.
const FINALISTS: usize = 8;
/// Trials of a point in the first round of a halving, at least, where there are enough for that.
const FIRST_DAYS: u32 = 2;

/// How a space was searched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// All points, by Kim and Nelson's procedure; its promise holds.
    Screened,
    /// All points, the trials shared out as they tell most.
    Shared,
    /// All points, by sequential halving.
    Halved,
    /// Points that fill the space, then rounds about the best so far, each by sequential halving.
    Raced,
}

/// What one round of a search learned of one point.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// The round, counted from 1.
    pub round: u32,
    /// The point with its values.
    pub contender: Contender,
}

/// Where a search came to an end.
#[derive(Clone, Debug, PartialEq)]
pub struct Searched {
    /// How it was done.
    pub method: Method,
    /// The points that did best, the one chosen first.
    pub finalists: Vec<Point>,
}

/// Searches a space from `first_day` on with a number of trials at most.
///
/// - Up to 20 points: Kim and Nelson's procedure where even the most that it can need are at hand, else optimal
///   shares. `indifference` says, given the best mean so far, what difference is not worth telling apart.
/// - Up to 512, if the trials suffice: sequential halving of all.
/// - More: 256 points of a scrambled Sobol' sequence, then twelve rounds of 32 in a box about the best so far that
///   shrinks to 0.82 of itself each time, two guesses from the round before among them; each by sequential halving,
///   each on days of its own, so that the luck of one set of days is not carried on.
///
/// In the end up to eight finalists play off on days of their own, unless few points were tried together
/// throughout. Everything tried goes to `tried` as soon as it is known, and stays there where the search is asked
/// to stop and none comes back.
///
/// - **Checked by** V-94 (functions with known optima), V-95 (the simulator's own weights).
pub fn search(
    space: &Space,
    trials_at_most: u32,
    first_day: u32,
    indifference: impl Fn(f64) -> f64,
    chance: &mut impl Rng,
    trials: &mut impl Trials,
    tried: &mut Vec<Tried>,
) -> Option<Searched> {
    let mut run = Run { trials_at_most, next_day: first_day, trials, tried };
    let share = trials_at_most - run.play_off_trials();
    if space.size() > ALL || space.size() > most_contenders(share) as u64 {
        return run.race(space, chance);
    }
    let mut points = space.all();
    points.retain(|point| run.trials.is_possible(point));
    if space.size() <= FEW {
        return run.choose(points, indifference);
    }
    let ranked = run.halve(points, share)?;
    let finalists = ranked.into_iter().take(FINALISTS).map(|one| one.point).collect();
    Some(Searched { method: Method::Halved, finalists: run.play_off(finalists)? })
}

/// A search under way.
struct Run<'a, T: Trials> {
    trials_at_most: u32,
    next_day: u32,
    trials: &'a mut T,
    tried: &'a mut Vec<Tried>,
}

impl<T: Trials> Run<'_, T> {
    fn play_off_trials(&self) -> u32 {
        (PLAY_OFF_SHARE * f64::from(self.trials_at_most)) as u32
    }

    /// Chooses among few points.
    fn choose(
        &mut self,
        points: Vec<Point>,
        indifference: impl Fn(f64) -> f64,
    ) -> Option<Searched> {
        let mut seen = Vec::new();
        let (at_most, first_day) = (self.trials_at_most, self.next_day);
        let chosen =
            choose_among_few(points, at_most, first_day, indifference, self.trials, &mut seen);
        self.note(seen);
        let (ranked, how) = chosen?;
        let method = match how {
            Fewer::Screened => Method::Screened,
            Fewer::Shared => Method::Shared,
        };
        let finalists = ranked.into_iter().take(FINALISTS).map(|one| one.point).collect();
        Some(Searched { method, finalists })
    }

    /// Halves points on days of their own, fewer of them where the trials would not last.
    fn halve(&mut self, mut points: Vec<Point>, share: u32) -> Option<Vec<Contender>> {
        points.truncate(most_contenders(share));
        let mut seen = Vec::new();
        let ranked = halve(points, share, self.next_day, self.trials, &mut seen);
        self.note(seen);
        ranked
    }

    /// Goes through a large space.
    fn race(&mut self, space: &Space, chance: &mut impl Rng) -> Option<Searched> {
        let play_off = self.play_off_trials();
        let start = (START_SHARE * f64::from(self.trials_at_most)) as u32;
        let round = (self.trials_at_most - play_off - start) / ROUNDS;
        let at_start = AT_START.min(previous_power_of_two(most_contenders(start)));
        let mut points = space.fill(at_start, chance);
        points.retain(|point| self.trials.is_possible(point));
        let mut rounds = vec![self.halve(points, start)?];
        let mut share_of_box = 1.0;
        let mut guesses = Vec::new();
        for _ in 0..ROUNDS {
            share_of_box *= SHRINK;
            let Some(centre) = rounds.last().and_then(|ranked| ranked.first()) else { break };
            let mut points = space.fill_round(&centre.point, share_of_box, IN_ROUND, chance);
            for guess in guesses {
                if !points.contains(&guess) {
                    // Behind the centre, so that it takes part where trials are few.
                    points.insert(1, guess);
                }
            }
            points.retain(|point| self.trials.is_possible(point));
            let ranked = self.halve(points, round)?;
            let guessed = [middle_of_best(space, &ranked), summit(space, &ranked)];
            guesses = guessed.into_iter().flatten().collect();
            rounds.push(ranked);
        }
        guesses.retain(|guess| self.trials.is_possible(guess));
        let finalists = finalists_of(&guesses, &rounds);
        Some(Searched { method: Method::Raced, finalists: self.play_off(finalists)? })
    }

    /// Puts finalists in the order of their means on days of their own.
    fn play_off(&mut self, finalists: Vec<Point>) -> Option<Vec<Point>> {
        let days = self.play_off_trials() / finalists.len().max(1) as u32;
        let mut contenders: Vec<Contender> =
            finalists.into_iter().map(|point| Contender::new(point, self.next_day)).collect();
        let more = vec![days; contenders.len()];
        try_more(&mut contenders, &more, self.trials)?;
        rank(&mut contenders);
        let points = contenders.iter().map(|one| one.point.clone()).collect();
        self.note(contenders);
        Some(points)
    }

    /// Keeps what a round has learned, and goes on behind its days.
    fn note(&mut self, seen: Vec<Contender>) {
        let round = self.tried.last().map_or(1, |last| last.round + 1);
        let last_days = seen.iter().map(|one| one.first_day + one.values.len() as u32);
        self.next_day = last_days.fold(self.next_day, u32::max);
        self.tried.extend(seen.into_iter().map(|contender| Tried { round, contender }));
    }
}

/// How many can begin a halving so that each is tried often enough in its first round.
fn most_contenders(trials: u32) -> usize {
    let lasts = |k: usize| k as u32 * k.next_power_of_two().trailing_zeros() * FIRST_DAYS <= trials;
    (2..=ALL as usize).rev().find(|&k| lasts(k)).unwrap_or(2)
}

fn previous_power_of_two(count: usize) -> u32 {
    1 << count.ilog2()
}

/// The last guesses, then the best of the last round, of the one before and so on, then the second of each, as
/// many as are taken.
fn finalists_of(guesses: &[Point], rounds: &[Vec<Contender>]) -> Vec<Point> {
    let deepest = rounds.iter().map(Vec::len).max().unwrap_or_default();
    let in_turn = (0..deepest)
        .flat_map(|place| rounds.iter().rev().filter_map(move |ranked| ranked.get(place)))
        .map(|one| &one.point);
    let mut finalists: Vec<Point> = Vec::new();
    for point in guesses.iter().chain(in_turn) {
        if finalists.len() < FINALISTS && !finalists.contains(point) {
            finalists.push(point.clone());
        }
    }
    finalists
}
