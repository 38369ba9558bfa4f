//! Which of many inputs move an output: elementary effects to screen them, total indices for the few that matter.
//!
//! The output may be noisy: the mean over a few *lots* of luck that points to be compared share. Noise that is left
//! would pass for an effect; so every square here is taken less what the scatter over the lots says luck alone
//! gives it.

use rand::Rng;

use super::design::Sobol;
use super::interval::Interval;
use super::summary::Summary;

/// Times that rows are drawn anew for the intervals of indices.
const RESAMPLED: usize = 400;

/// A way through the corners of a grid on which each input is moved once.
#[derive(Clone, Debug, PartialEq)]
pub struct Trajectory {
    /// Points on the way, one more than there are inputs; coordinates from 0 to 1.
    pub points: Vec<Vec<f64>>,
    /// The input moved from each point to the next, and by how much.
    pub moved: Vec<(usize, f64)>,
}

/// Trajectories on a grid of `levels` values an input, from 0 to 1; an input is moved by p/(2(p − 1)), so that
/// all levels come up equally often.
///
/// - **Source** Morris 1991 (Technometrics 33:161).
/// - **Checked by** V-113 (all effects of Ishigami's function; trajectories meet them).
///
/// # Panics
///
/// If the number of levels is not even.
#[must_use]
pub fn trajectories(
    count: usize,
    inputs: usize,
    levels: u32,
    chance: &mut impl Rng,
) -> Vec<Trajectory> {
    assert!(levels >= 2 && levels.is_multiple_of(2), "{levels} levels do not halve");
    let last = f64::from(levels - 1);
    let step = f64::from(levels / 2) / last;
    let mut pick = |below: usize| ((uniform(chance) * below as f64) as usize).min(below - 1);
    let mut one = || {
        let mut point = Vec::with_capacity(inputs);
        let mut moves = Vec::with_capacity(inputs);
        for input in 0..inputs {
            let low = pick(levels as usize / 2) as f64 / last;
            let up = pick(2) == 0;
            point.push(if up { low } else { low + step });
            moves.push((input, if up { step } else { -step }));
        }
        for left in (1..inputs).rev() {
            moves.swap(left, pick(left + 1));
        }
        let mut points = vec![point.clone()];
        for &(input, by) in &moves {
            point[input] += by;
            points.push(point.clone());
        }
        Trajectory { points, moved: moves }
    };
    (0..count).map(|_| one()).collect()
}

/// One elementary effect: the change of the output over that of the input, and the variance that luck gives it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effect {
    /// Its value.
    pub value: f64,
    /// Variance of the value by luck; nought where there is none.
    pub luck: f64,
}

impl Effect {
    /// The effect of moving an input by `by`, from outputs before and after in the same lots of luck; none of no lots.
    #[must_use]
    pub fn of(before: &[f64], after: &[f64], by: f64) -> Option<Self> {
        let change = differences(after, before);
        let luck = change.variance().map_or(0.0, |variance| variance / change.n() as f64);
        Some(Self { value: change.mean()? / by, luck: luck / (by * by) })
    }
}

/// What the elementary effects of one input come to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effects {
    /// Mean μ: which way the input moves the output on the whole.
    pub mean: f64,
    /// Standard error of the mean, over trajectories.
    pub se: f64,
    /// Mean absolute value μ*.
    pub mean_absolute: f64,
    /// Standard deviation σ: how far the effect depends on where the others are, and on luck.
    pub spread: f64,
    /// Root mean square with the variance of luck taken off; nought where luck explains all.
    pub size: f64,
    /// Root mean square that luck alone would give.
    pub luck: f64,
}

impl Effects {
    /// What effects come to; none of fewer than two.
    #[must_use]
    pub fn of(effects: &[Effect]) -> Option<Self> {
        let mut values = Summary::default();
        effects.iter().for_each(|effect| values.add(effect.value));
        let n = effects.len() as f64;
        let over = |f: fn(&Effect) -> f64| effects.iter().map(f).sum::<f64>() / n;
        let (square, luck) =
            (over(|effect| effect.value * effect.value), over(|effect| effect.luck));
        Some(Self {
            mean: values.mean()?,
            se: values.se()?,
            mean_absolute: over(|effect| effect.value.abs()),
            spread: values.variance()?.sqrt(),
            size: (square - luck).max(0.0).sqrt(),
            luck: luck.sqrt(),
        })
    }
}

/// A row of Saltelli's design: two points, and what they make together.
#[derive(Clone, Debug, PartialEq)]
pub struct TwoPoints {
    /// The first point.
    pub a: Vec<f64>,
    /// The second.
    pub b: Vec<f64>,
}

impl TwoPoints {
    /// The first point with one coordinate of the second.
    #[must_use]
    pub fn mixed(&self, input: usize) -> Vec<f64> {
        let mut point = self.a.clone();
        point[input] = self.b[input];
        point
    }
}

/// Rows of Saltelli's design from a scrambled Sobol' sequence; take a power of two.
///
/// # Panics
///
/// If there are more than half as many inputs as [`Sobol::MOST_DIMENSIONS`].
#[must_use]
pub fn two_points(rows: u32, inputs: usize, chance: &mut impl Rng) -> Vec<TwoPoints> {
    let sequence = Sobol::scrambled(2 * inputs, chance);
    (0..rows)
        .map(|row| {
            let mut a = sequence.point(row);
            let b = a.split_off(inputs);
            TwoPoints { a, b }
        })
        .collect()
}

/// Outputs of one row, each in the same lots of luck; a function without noise has one lot.
#[derive(Clone, Debug, PartialEq)]
pub struct RowOutputs {
    /// At the first point.
    pub a: Vec<f64>,
    /// At the second.
    pub b: Vec<f64>,
    /// At the first with each coordinate of the second in turn.
    pub mixed: Vec<Vec<f64>>,
}

/// How much of an output's variance one input has a part in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Index {
    /// Share that it has alone.
    pub first: f64,
    /// Share that it has alone or together with others.
    pub total: f64,
    /// 95 % interval of the total, from rows drawn anew.
    pub total95: Interval,
}

/// How an output's variance is shared among inputs.
#[derive(Clone, Debug, PartialEq)]
pub struct Indices {
    /// Variance over the inputs, that of luck taken off.
    pub variance: f64,
    /// Variance that luck leaves in the output at one point.
    pub luck: f64,
    /// By input.
    pub inputs: Vec<Index>,
}

/// What one row adds to the estimates.
struct Part {
    outputs: [f64; 2],
    luck: f64,
    first: Vec<f64>,
    total: Vec<f64>,
}

/// First-order and total indices.
///
/// V_i = mean f_B (f_ABi − f_A) and V_Ti = mean (f_A − f_ABi)²/2; from every product the share is taken that luck,
/// common to the points of a row, gives it: the covariance over the lots divided by their number.
///
/// - **Source** Saltelli et al. 2010 (Computer Physics Communications 181:259); Jansen 1999 (same journal
///   117:35) for totals.
/// - **Checked by** V-114 (Ishigami's and Sobol's functions), V-115 (what noise does, and that it is taken off).
///
/// None of fewer than two rows, or where nothing varies beyond luck.
#[must_use]
pub fn indices(rows: &[RowOutputs], chance: &mut impl Rng) -> Option<Indices> {
    let inputs = rows.first()?.mixed.len();
    let centre = {
        let mut all = Summary::default();
        rows.iter().flat_map(|row| row.a.iter().chain(&row.b)).for_each(|&y| all.add(y));
        all.mean()?
    };
    let parts: Vec<Part> = rows.iter().map(|row| part(row, centre)).collect();
    let whole: Vec<usize> = (0..parts.len()).collect();
    let (variance, luck, shares) = shares(&parts, &whole, inputs)?;
    let mut totals = vec![Vec::with_capacity(RESAMPLED); inputs];
    for _ in 0..RESAMPLED {
        let drawn: Vec<usize> = whole
            .iter()
            .map(|_| ((uniform(chance) * parts.len() as f64) as usize).min(parts.len() - 1))
            .collect();
        // A sample in which nothing varies says nothing of shares.
        if let Some((_, _, shares)) = self::shares(&parts, &drawn, inputs) {
            totals.iter_mut().zip(shares).for_each(|(totals, (_, total))| totals.push(total));
        }
    }
    let interval = |totals: &mut Vec<f64>| {
        totals.sort_by(f64::total_cmp);
        let at = |p| super::quantile::quantile(totals, p);
        at(0.025).zip(at(0.975)).map(|(low, high)| Interval { low, high })
    };
    let inputs = shares
        .iter()
        .zip(&mut totals)
        .map(|(&(first, total), totals)| Some(Index { first, total, total95: interval(totals)? }))
        .collect::<Option<Vec<Index>>>()?;
    Some(Indices { variance, luck, inputs })
}

fn part(row: &RowOutputs, centre: f64) -> Part {
    let lots = row.a.len() as f64;
    let (mean_a, variance_a) = moments(&row.a);
    let (mean_b, variance_b) = moments(&row.b);
    let each = row.mixed.iter().map(|mixed| {
        let change: Vec<f64> = mixed.iter().zip(&row.a).map(|(m, a)| m - a).collect();
        let (mean, variance) = moments(&change);
        let together = if row.a.len() < 2 {
            0.0
        } else {
            let products = row.b.iter().zip(&change).map(|(b, c)| (b - mean_b) * (c - mean));
            products.sum::<f64>() / (lots - 1.0)
        };
        ((mean_b - centre) * mean - together / lots, 0.5 * (mean * mean - variance / lots))
    });
    let (first, total) = each.unzip();
    let luck = 0.5 * (variance_a + variance_b) / lots;
    Part { outputs: [mean_a, mean_b], luck, first, total }
}

/// Variance, luck, and each input's share alone and in all.
type Shares = (f64, f64, Vec<(f64, f64)>);

/// What some of the rows say.
fn shares(parts: &[Part], rows: &[usize], inputs: usize) -> Option<Shares> {
    let mut outputs = Summary::default();
    rows.iter().flat_map(|&row| parts[row].outputs).for_each(|y| outputs.add(y));
    let n = rows.len() as f64;
    let luck = rows.iter().map(|&row| parts[row].luck).sum::<f64>() / n;
    let variance = outputs.variance()? - luck;
    let mean = |of: &dyn Fn(&Part) -> f64| rows.iter().map(|&row| of(&parts[row])).sum::<f64>() / n;
    let share = |input: usize| {
        (mean(&|part| part.first[input]) / variance, mean(&|part| part.total[input]) / variance)
    };
    (variance > 0.0).then(|| (variance, luck, (0..inputs).map(share).collect()))
}

/// Mean and variance; no variance of a single value.
fn moments(values: &[f64]) -> (f64, f64) {
    let mut summary = Summary::default();
    values.iter().for_each(|&value| summary.add(value));
    (summary.mean().unwrap_or(f64::NAN), summary.variance().unwrap_or(0.0))
}

fn differences(of: &[f64], from: &[f64]) -> Summary {
    let mut summary = Summary::default();
    of.iter().zip(from).for_each(|(x, y)| summary.add(x - y));
    summary
}

/// Uniform on [0, 1).
fn uniform(chance: &mut impl Rng) -> f64 {
    (chance.next_u64() >> 11) as f64 / 2_f64.powi(53)
}
