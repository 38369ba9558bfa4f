//! Which points a sweep goes through: every combination, or points strewn evenly over many keys.

use crate::engine::Dice;
use crate::scenario::{Faults, span, values};
use crate::stats::{Sobol, latin_hypercube};

/// Most points of a sweep.
pub const MOST_POINTS: usize = 1_000_000;
/// Names the stream that scrambles; not the seed of the days, so that other days are fished at the same points.
const SCRAMBLE: [u64; 2] = [0x73_6861_7265, 1];

/// How points are laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spread {
    /// Every combination of the values.
    Grid,
    /// So many points of a Sobol' sequence, scrambled by Owen's method; more of them keep the first.
    Sobol(u32),
    /// A Latin hypercube of so many points.
    Latin(u32),
}

/// Why points cannot be laid.
#[derive(Debug, thiserror::Error)]
pub enum DesignFault {
    /// A `--vary` is wrong.
    #[error(transparent)]
    Vary(#[from] Faults),
    /// A key twice.
    #[error("{0} is varied twice: give all its values in one --vary")]
    Twice(String),
    /// Too many.
    #[error(
        "every combination of these values would be {0} points, and {MOST_POINTS} are the most: give fewer values, \
         or strew points with --points N"
    )]
    Many(u128),
    /// More keys than a sequence has.
    #[error("{0} keys are varied, and points can be strewn over {most} at most", most = Sobol::MOST_DIMENSIONS)]
    Keys(usize),
}

/// The points of a sweep.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Design {
    /// The dotted keys varied, in the order asked for.
    pub keys: Vec<String>,
    /// At each point a value for each key, as it would be written; no two points are the same.
    pub points: Vec<Vec<String>>,
    /// How they are laid.
    pub spread: Spread,
}

impl Design {
    /// Lays the points that `vary` texts ask for; in a grid the last key goes through its values first.
    ///
    /// Points that come out the same, as where few whole numbers lie between two ends, are taken once.
    ///
    /// # Errors
    ///
    /// [`DesignFault`].
    pub fn new(vary: &[String], spread: Spread) -> Result<Self, DesignFault> {
        let (keys, points) = match spread {
            Spread::Grid => grid(vary)?,
            Spread::Sobol(points) => strewn(vary, |dimensions| {
                let sobol = Sobol::scrambled(dimensions, &mut Dice::keyed(&SCRAMBLE));
                (0..points).map(|number| sobol.point(number)).collect()
            })?,
            Spread::Latin(points) => strewn(vary, |dimensions| {
                latin_hypercube(points as usize, dimensions, &mut Dice::keyed(&SCRAMBLE))
            })?,
        };
        // The store's columns are named by them, and do not tell great letters from small.
        let same = |a: &String, b: &String| a.to_lowercase() == b.to_lowercase();
        let twice = (1..keys.len()).find(|&at| keys[..at].iter().any(|key| same(key, &keys[at])));
        if let Some(at) = twice {
            return Err(DesignFault::Twice(keys[at].clone()));
        }
        Ok(Self { keys, points, spread })
    }

    /// How they are laid, in words: `a grid of 9 × 9`.
    #[must_use]
    pub fn says(&self) -> String {
        let points = self.points.len();
        match self.spread {
            Spread::Grid if self.keys.is_empty() => "the scenario as it is".to_owned(),
            Spread::Grid => {
                let sides: Vec<String> =
                    (0..self.keys.len()).map(|key| self.values_of(key).len().to_string()).collect();
                format!("a grid of {}", sides.join(" × "))
            }
            Spread::Sobol(_) => format!("{points} points of a scrambled Sobol' sequence"),
            Spread::Latin(_) => format!("a Latin hypercube of {points} points"),
        }
    }

    /// The values that a key goes through, each once, in the order in which they come.
    #[must_use]
    pub fn values_of(&self, key: usize) -> Vec<&str> {
        let mut seen = std::collections::HashSet::new();
        let of = self.points.iter().map(|values| values[key].as_str());
        of.filter(|value| seen.insert(*value)).collect()
    }
}

type Laid = (Vec<String>, Vec<Vec<String>>);

fn grid(vary: &[String]) -> Result<Laid, DesignFault> {
    let lists = vary.iter().map(|text| values(text)).collect::<Result<Vec<_>, Faults>>()?;
    let many = lists.iter().map(|(_, values)| values.len() as u128).product();
    if many > MOST_POINTS as u128 {
        return Err(DesignFault::Many(many));
    }
    let mut points: Vec<Vec<String>> = vec![Vec::new()];
    for (_, values) in &lists {
        let with = |so_far: &Vec<String>, value: &String| {
            [so_far.as_slice(), std::slice::from_ref(value)].concat()
        };
        points =
            points.iter().flat_map(|so_far| values.iter().map(move |v| with(so_far, v))).collect();
    }
    Ok((lists.into_iter().map(|(key, _)| key).collect(), points))
}

fn strewn(
    vary: &[String],
    shares: impl FnOnce(usize) -> Vec<Vec<f64>>,
) -> Result<Laid, DesignFault> {
    let spans = vary.iter().map(|text| span(text)).collect::<Result<Vec<_>, Faults>>()?;
    if spans.len() > Sobol::MOST_DIMENSIONS {
        return Err(DesignFault::Keys(spans.len()));
    }
    let mut seen = std::collections::HashSet::new();
    let at = |shares: Vec<f64>| -> Vec<String> {
        spans.iter().zip(shares).map(|(span, share)| span.at(share)).collect()
    };
    let points = shares(spans.len()).into_iter().map(at);
    let points = points.filter(|values| seen.insert(values.clone())).collect();
    Ok((spans.into_iter().map(|span| span.key).collect(), points))
}
