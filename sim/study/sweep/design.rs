//! Points of a sweep: every combination of values, or a space-filling design over many keys.

use crate::engine::Dice;
use crate::scenario::{Diagnostics, grouped, vary_range, vary_values};
use crate::stats::{Sobol, latin_hypercube};

/// Maximum number of points of a sweep.
pub const MAX_POINTS: usize = 1_000_000;
/// Key of the random stream that scrambles. It does not depend on the seed of the days, so that another seed fishes
/// other days at the same points.
const SCRAMBLE: [u64; 2] = [0x73_6861_7265, 1];

/// How the points are generated.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sampling {
    /// Every combination of the values.
    Grid,
    /// This number of points of a Sobol' sequence, scrambled by Owen's method. More points include all points of fewer.
    Sobol(u32),
    /// A Latin hypercube of this number of points.
    Latin(u32),
}

/// Why a design cannot be generated.
#[derive(Debug, thiserror::Error)]
pub enum DesignError {
    /// A `--vary` has faults.
    #[error(transparent)]
    Vary(#[from] Diagnostics),
    /// A key is varied twice.
    #[error("{0} is varied twice: give all its values in one --vary")]
    RepeatedKey(String),
    /// There would be too many points.
    #[error(
        "every combination of these values would give {} points, and the maximum is {}: give fewer values, or sample \
         points with --points N",
        grouped(*.0),
        grouped(MAX_POINTS as u128)
    )]
    TooManyPoints(u128),
    /// There are more keys than the sequence has dimensions.
    #[error("{0} keys are varied, and points can be sampled over at most {most}", most = Sobol::MAX_DIMENSIONS)]
    TooManyKeys(usize),
}

/// The points of a sweep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Design {
    /// Dotted keys that are varied, in the order of the request.
    pub keys: Vec<String>,
    /// For each point the value of each key, as it would be written; no two points are the same.
    pub points: Vec<Vec<String>>,
    /// How the points are generated.
    pub sampling: Sampling,
}

impl Design {
    /// Generates the points for `--vary` texts; in a grid the last key changes fastest.
    ///
    /// Equal points count once; they occur if there are only a few whole numbers between two limits.
    ///
    /// # Errors
    ///
    /// [`DesignError`].
    pub fn new(vary: &[String], spread: Sampling) -> Result<Self, DesignError> {
        let (keys, points) = match spread {
            Sampling::Grid => grid(vary)?,
            Sampling::Sobol(points) => sampled(vary, |dimensions| {
                let sobol = Sobol::scrambled(dimensions, &mut Dice::from_key(&SCRAMBLE));
                (0..points).map(|number| sobol.point(number)).collect()
            })?,
            Sampling::Latin(points) => sampled(vary, |dimensions| {
                latin_hypercube(points as usize, dimensions, &mut Dice::from_key(&SCRAMBLE))
            })?,
        };
        // Columns of the store have the names of the keys, and SQL ignores case.
        let is_same = |a: &String, b: &String| a.to_lowercase() == b.to_lowercase();
        let twice = (1..keys.len())
            .find(|&index| keys[..index].iter().any(|key| is_same(key, &keys[index])));
        if let Some(index) = twice {
            return Err(DesignError::RepeatedKey(keys[index].clone()));
        }
        Ok(Self { keys, points, sampling: spread })
    }

    /// The design in words: `a grid of 9 × 9`.
    #[must_use]
    pub fn description(&self) -> String {
        let points = grouped(self.points.len() as u128);
        match self.sampling {
            Sampling::Grid if self.keys.is_empty() => "the scenario as it is".to_owned(),
            Sampling::Grid => {
                let sides: Vec<String> =
                    (0..self.keys.len()).map(|key| self.values_of(key).len().to_string()).collect();
                format!("a grid of {}", sides.join(" × "))
            }
            Sampling::Sobol(_) => format!("{points} points of a scrambled Sobol' sequence"),
            Sampling::Latin(_) => format!("a Latin hypercube of {points} points"),
        }
    }

    /// Values of a key, each once, in the order of the points.
    #[must_use]
    pub fn values_of(&self, key: usize) -> Vec<&str> {
        let mut seen = std::collections::HashSet::new();
        let values = self.points.iter().map(|values| values[key].as_str());
        values.filter(|value| seen.insert(*value)).collect()
    }
}

/// Keys and points.
type KeysAndPoints = (Vec<String>, Vec<Vec<String>>);

/// Every combination of the values of `--vary` texts.
fn grid(vary: &[String]) -> Result<KeysAndPoints, DesignError> {
    let lists =
        vary.iter().map(|text| vary_values(text)).collect::<Result<Vec<_>, Diagnostics>>()?;
    let count = lists.iter().map(|(_, values)| values.len() as u128).product();
    if count > MAX_POINTS as u128 {
        return Err(DesignError::TooManyPoints(count));
    }
    let mut points: Vec<Vec<String>> = vec![Vec::new()];
    for (_, values) in &lists {
        let append = |point: &Vec<String>, value: &String| {
            [point.as_slice(), std::slice::from_ref(value)].concat()
        };
        points =
            points.iter().flat_map(|point| values.iter().map(move |v| append(point, v))).collect();
    }
    Ok((lists.into_iter().map(|(key, _)| key).collect(), points))
}

/// Samples points over the ranges of `--vary` texts; `shares` gives each point as shares of the ranges.
fn sampled(
    vary: &[String],
    shares: impl FnOnce(usize) -> Vec<Vec<f64>>,
) -> Result<KeysAndPoints, DesignError> {
    let ranges =
        vary.iter().map(|text| vary_range(text)).collect::<Result<Vec<_>, Diagnostics>>()?;
    if ranges.len() > Sobol::MAX_DIMENSIONS {
        return Err(DesignError::TooManyKeys(ranges.len()));
    }
    let mut seen = std::collections::HashSet::new();
    let point = |shares: Vec<f64>| -> Vec<String> {
        ranges.iter().zip(shares).map(|(range, share)| range.value_at(share)).collect()
    };
    let points = shares(ranges.len()).into_iter().map(point);
    let points = points.filter(|values| seen.insert(values.clone())).collect();
    Ok((ranges.into_iter().map(|range| range.key).collect(), points))
}
