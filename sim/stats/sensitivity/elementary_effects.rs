//! Elementary effects (Morris): screens many inputs for those that move an output.
//!
//! The output may be noisy: the mean over replicates that compared points share. Remaining noise would look like an
//! effect. Its variance is therefore estimated from the scatter over the replicates and subtracted from every square.

use rand::Rng;

use crate::stats::describe::Summary;
use crate::stats::design::uniform;

/// A path through a grid along which each input is moved once.
#[derive(Clone, Debug, PartialEq)]
pub struct Trajectory {
    /// Points of the path, one more than there are inputs; coordinates from 0 to 1.
    pub points: Vec<Vec<f64>>,
    /// By step: the input that is moved, and by how much.
    pub moved: Vec<(usize, f64)>,
}

/// Random trajectories on a grid with p = `levels` values from 0 to 1 for each input.
///
/// An input is moved by p/(2(p − 1)), so that all levels occur equally often.
///
/// - **Source** Morris 1991 (Technometrics 33:161).
/// - **Checked by** V-113 (all effects of Ishigami's function).
///
/// # Panics
///
/// If the number of levels is not even.
pub fn morris_trajectories(
    count: usize,
    inputs: usize,
    levels: u32,
    rng: &mut impl Rng,
) -> Vec<Trajectory> {
    assert!(levels >= 2 && levels.is_multiple_of(2), "the number of levels, {levels}, is not even");
    let last = f64::from(levels - 1);
    let step = f64::from(levels / 2) / last;
    let mut pick = |n: usize| ((uniform(rng) * n as f64) as usize).min(n - 1);
    let mut trajectory = || {
        let mut point = Vec::with_capacity(inputs);
        let mut moves = Vec::with_capacity(inputs);
        for input in 0..inputs {
            let low = pick(levels as usize / 2) as f64 / last;
            let up = pick(2) == 0;
            point.push(if up { low } else { low + step });
            moves.push((input, if up { step } else { -step }));
        }
        for last in (1..inputs).rev() {
            moves.swap(last, pick(last + 1));
        }
        let mut points = vec![point.clone()];
        for &(input, step) in &moves {
            point[input] += step;
            points.push(point.clone());
        }
        Trajectory { points, moved: moves }
    };
    (0..count).map(|_| trajectory()).collect()
}

/// One elementary effect, with its noise variance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ElementaryEffect {
    /// The change of the output divided by that of the input.
    pub value: f64,
    /// Variance of the value by noise; zero for an output without noise.
    pub noise_variance: f64,
}

impl ElementaryEffect {
    /// The effect of moving an input by `by`, from outputs before and after with the same replicates. `None` without
    /// replicates.
    pub fn from_outputs(before: &[f64], after: &[f64], by: f64) -> Option<Self> {
        let change = differences(after, before);
        let noise_variance = change.variance().map_or(0.0, |variance| variance / change.n() as f64);
        Some(Self { value: change.mean()? / by, noise_variance: noise_variance / (by * by) })
    }
}

/// Summary of the elementary effects of one input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct EffectSummary {
    /// Mean μ: whether the input raises or lowers the output on average.
    pub mean: f64,
    /// Standard error of μ over trajectories.
    pub se: f64,
    /// Mean absolute value μ*.
    pub mean_absolute: f64,
    /// Standard deviation σ: how much the effect depends on the other inputs, and on noise.
    pub spread: f64,
    /// Root mean square effect with the noise variance subtracted; zero if noise explains all.
    pub size: f64,
    /// Root mean square effect that noise alone would give.
    pub noise: f64,
}

impl EffectSummary {
    /// Summary of an input's effects. `None` for fewer than two.
    pub fn from_effects(effects: &[ElementaryEffect]) -> Option<Self> {
        let mut values = Summary::default();
        effects.iter().for_each(|effect| values.add(effect.value));
        let n = effects.len() as f64;
        let mean = |f: fn(&ElementaryEffect) -> f64| effects.iter().map(f).sum::<f64>() / n;
        let square = mean(|effect| effect.value * effect.value);
        let noise_variance = mean(|effect| effect.noise_variance);
        Some(Self {
            mean: values.mean()?,
            se: values.se()?,
            mean_absolute: mean(|effect| effect.value.abs()),
            spread: values.variance()?.sqrt(),
            size: (square - noise_variance).max(0.0).sqrt(),
            noise: noise_variance.sqrt(),
        })
    }
}

/// Paired differences `after` − `before`.
fn differences(after: &[f64], before: &[f64]) -> Summary {
    let mut summary = Summary::default();
    after.iter().zip(before).for_each(|(x, y)| summary.add(x - y));
    summary
}
