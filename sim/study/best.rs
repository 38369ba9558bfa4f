//! The best setting: searched for on some days, confirmed on others.

use super::best_result::{
    AsWritten, Best, Estimate, Finalist, Gap, Setting, SettingFound, Stands, TriedPoint, Worth,
};
use super::ground::{Ground, ReadPoint};
use super::progress::Control;
use super::stamp::Stamp;
use super::wanted::Wanted;
use super::yardstick::Yardstick;
use crate::engine::Dice;
use crate::scenario::Scenario;
use crate::stats::{
    Axis, Contender, Point, Searched, Space, Summary, Trial, Trials, Tried, dunnett, mean_interval,
    rinott, search, wilson,
};

/// The first day of the search. Confirmation is on days from 1, as `compare` fishes them; no day is both.
const SEARCH_DAY: u32 = 1_000_001;
/// Days of confirmation at most, so that they end before the search begins.
pub const MOST_DAYS: u32 = SEARCH_DAY - 1;
/// Finalists that are confirmed, at most.
const FINALISTS: u64 = 8;
/// Days on which other values of one setting are tried, at most.
const WORTH_DAYS: u32 = 200;
/// Other values of one setting that are tried, at most.
const WORTH_LEVELS: usize = 6;
/// Sessions of a search at least, for each point that is looked at together with others.
const LEAST_FOR_POINT: u64 = 10;
/// How sure statements are.
const LEVEL: f64 = 0.95;
/// Streams of chance of a search, apart from those of days.
const SEARCH_STREAM: u64 = 0xbe57;

/// What a search is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct BestAsked {
    /// What may be set, and to what.
    pub settings: Vec<Setting>,
    /// What is wanted.
    pub wanted: Wanted,
    /// Sessions to fish at most, all told.
    pub sessions: u32,
    /// Fresh days to confirm on.
    pub days: u32,
    /// The seed.
    pub seed: u64,
    /// Whether the scenario as written is one plan, to which the plan found can be compared.
    pub has_plan_as_written: bool,
}

/// A search that was asked to stop: what it had tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Unfinished {
    /// Points, in the order in which they were tried.
    pub tried: Vec<TriedPoint>,
    /// Whether the search itself had ended, and only confirmation was missing.
    pub is_searched: bool,
}

impl BestAsked {
    /// Every combination of the values.
    #[must_use]
    pub fn space(&self) -> Space {
        let axis = |setting: &Setting| Axis {
            levels: setting.values.len(),
            is_ordered: setting.is_ordered,
        };
        Space::new(self.settings.iter().map(axis).collect())
    }

    /// Sessions that confirmation takes.
    fn confirming(&self) -> u64 {
        let compared = self.space().size().min(FINALISTS) + u64::from(self.has_plan_as_written);
        let levels = self.settings.iter().map(|setting| setting.values.len());
        let others: usize = levels.map(|levels| (levels - 1).min(WORTH_LEVELS)).sum();
        compared * u64::from(self.days) + others as u64 * u64::from(self.worth_days())
    }

    fn worth_days(&self) -> u32 {
        self.days.min(WORTH_DAYS)
    }

    /// The fewest sessions that make sense of this.
    #[must_use]
    pub fn least_sessions(&self, as_read: &Scenario) -> u64 {
        let searching = LEAST_FOR_POINT * self.space().size().min(64);
        let measuring = match self.wanted.places() {
            None => 0,
            Some(_) => {
                Yardstick::sessions(as_read, u64::from(self.days))
                    + searching * Yardstick::plans(as_read)
            }
        };
        self.confirming() + searching + measuring
    }
}

/// Searches for the best setting, and says on fresh days how good it is.
///
/// `as_read` is the scenario before anything was set, named in the stamp.
///
/// # Errors
///
/// [`Unfinished`] where it was asked to stop.
pub fn best<'a>(
    as_read: &Scenario,
    asked: &BestAsked,
    read: &'a mut ReadPoint<'a>,
    control: Control<'a>,
) -> Result<Best, Unfinished> {
    let section = asked.wanted.places().zip(as_read.aims.section.as_ref());
    let yardstick =
        section.map(|(places, section)| Yardstick::new(as_read, section, places, asked.seed));
    let mut searching = u64::from(asked.sessions).saturating_sub(asked.confirming());
    if yardstick.is_some() {
        // Each session of the search may need one day more of the yardstick.
        let measuring = Yardstick::sessions(as_read, u64::from(asked.days));
        searching = searching.saturating_sub(measuring) / (1 + Yardstick::plans(as_read));
    }
    let mut ground = Ground::new(read, asked.wanted, yardstick, asked.seed, control);
    let mut tried = Vec::new();
    let searched = search(
        &asked.space(),
        searching as u32,
        SEARCH_DAY,
        |best| asked.wanted.indifference(best),
        &mut Dice::keyed(&[asked.seed, SEARCH_STREAM]),
        &mut ground,
        &mut tried,
    );
    let rows = tried.iter().map(|one| tried_point(asked, one)).collect();
    let Some(searched) = searched else {
        return Err(Unfinished { tried: rows, is_searched: false });
    };
    confirm(as_read, asked, &searched, &rows, &mut ground)
        .ok_or(Unfinished { tried: rows, is_searched: true })
}

/// Fishes what the search has found on fresh days.
fn confirm(
    as_read: &Scenario,
    asked: &BestAsked,
    searched: &Searched,
    tried: &[TriedPoint],
    ground: &mut Ground<'_>,
) -> Option<Best> {
    let mut points = searched.finalists.clone();
    if asked.has_plan_as_written {
        points.push(Vec::new());
    }
    let mut compared = fish(ground, points, asked.days)?;
    let as_written = asked.has_plan_as_written.then(|| compared.pop()).flatten();
    let found = compared.first()?;
    let settings = worth(asked, found, ground)?;
    let written = as_written.map(|as_written| AsWritten {
        value: estimate(asked.wanted, &as_written),
        behind: gap_of(&found.ahead_of(&as_written), student(asked.days)),
        bank_sessions: bank_sessions(found, &as_written),
    });
    Some(Best {
        format: Best::FORMAT,
        stamp: Stamp::new(&as_read.name, &as_read.sha256, asked.seed),
        wanted: asked.wanted,
        combinations: asked.space().size(),
        method: searched.method,
        sessions: ground.sessions,
        days: asked.days,
        found: estimate(asked.wanted, found),
        settings,
        finalists: finalists(asked, &compared),
        as_written: written,
        tried: tried.to_vec(),
    })
}

/// Points on the days from 1 on.
fn fish(ground: &mut Ground<'_>, points: Vec<Point>, days: u32) -> Option<Vec<Contender>> {
    let trial = |point: &Point| Trial { point: point.clone(), days: 1..days + 1 };
    let values = ground.values(&points.iter().map(trial).collect::<Vec<_>>())?;
    let contender = |(point, values)| Contender { point, first_day: 1, values };
    Some(points.into_iter().zip(values).map(contender).collect())
}

/// The other finalists beside the one found. The quantile of Dunnett makes all bounds hold together.
fn finalists(asked: &BestAsked, compared: &[Contender]) -> Vec<Finalist> {
    let Some((found, others)) = compared.split_first() else { return Vec::new() };
    if others.is_empty() {
        return Vec::new();
    }
    let errors = dunnett(compared.len(), u64::from(asked.days) - 1, LEVEL);
    let finalist = |one: &Contender| {
        let ahead = gap_of(&one.ahead_of(found), errors);
        let stands = match ahead {
            Gap { high95, .. } if high95 < 0.0 => Stands::Behind,
            Gap { low95, .. } if low95 > 0.0 => Stands::Ahead,
            _ => Stands::Level,
        };
        Finalist {
            values: written(asked, &one.point),
            value: estimate(asked.wanted, one),
            ahead,
            stands,
        }
    };
    others.iter().map(finalist).collect()
}

/// What each setting is worth: other values of it, the others staying as found.
fn worth(
    asked: &BestAsked,
    found: &Contender,
    ground: &mut Ground<'_>,
) -> Option<Vec<SettingFound>> {
    let days = asked.worth_days();
    let mut settings = Vec::new();
    for (place, setting) in asked.settings.iter().enumerate() {
        let mut points: Vec<Point> = other_levels(setting.values.len(), found.point[place])
            .into_iter()
            .map(|level| {
                let mut point = found.point.clone();
                point[place] = level;
                point
            })
            .collect();
        points.retain(|point| ground.is_possible(point));
        let others = fish(ground, points, days)?;
        let worth = others.iter().map(|other| Worth {
            value: setting.values[other.point[place]].clone(),
            ahead: gap_of(&other.ahead_of(found), student(days)),
        });
        settings.push(SettingFound {
            key: setting.key.clone(),
            values: setting.values.clone(),
            is_ordered: setting.is_ordered,
            found: setting.values[found.point[place]].clone(),
            worth: worth.collect(),
            worth_days: days,
        });
    }
    Some(settings)
}

/// Levels other than the one found: all of them, or some from end to end with the neighbours among them.
fn other_levels(levels: usize, found: usize) -> Vec<usize> {
    let mut others: Vec<usize> = (0..levels).filter(|&level| level != found).collect();
    if others.len() > WORTH_LEVELS {
        let last = others.len() - 1;
        others = (0..WORTH_LEVELS).map(|k| others[k * last / (WORTH_LEVELS - 1)]).collect();
    }
    others
}

/// Standard errors that a 95 % interval of a mean reaches to either side.
fn student(days: u32) -> f64 {
    crate::stats::t_quantile(LEVEL, u64::from(days) - 1)
}

/// A mean difference, and what lies a number of its standard errors to either side.
fn gap_of(differences: &Summary, errors: f64) -> Gap {
    let mean = differences.mean().unwrap_or(f64::NAN);
    let reach = errors * differences.se().unwrap_or(f64::NAN);
    Gap { mean, low95: mean - reach, high95: mean + reach }
}

fn estimate(wanted: Wanted, one: &Contender) -> Estimate {
    let summary = one.summary();
    let (mean, n) = (summary.mean().unwrap_or(f64::NAN), summary.n());
    let interval = match wanted.is_chance() {
        true => wilson(one.values.iter().sum(), n, LEVEL),
        false => mean_interval(mean, summary.se().unwrap_or(f64::NAN), n, LEVEL),
    };
    let (low95, high95) = interval.map_or((f64::NAN, f64::NAN), |ends| (ends.low, ends.high));
    Estimate { mean, low95, high95 }
}

/// Sessions with each of two plans after which the better is told on the bank, where no two plans get the same
/// day, by Rinott's procedure for their difference; none where it is not clear that there is one.
fn bank_sessions(found: &Contender, other: &Contender) -> Option<u64> {
    let ahead = found.ahead_of(other);
    let gap = gap_of(&ahead, student(ahead.n() as u32));
    let clear = gap.low95 > 0.0;
    let spread = |one: &Contender| one.summary().variance().unwrap_or(0.0);
    let widest = spread(found).max(spread(other)).sqrt();
    let h = clear.then(|| rinott(2, ahead.n() - 1, LEVEL))?;
    Some((h * widest / gap.mean).powi(2).ceil().max(1.0) as u64)
}

fn written(asked: &BestAsked, point: &[usize]) -> Vec<String> {
    asked
        .settings
        .iter()
        .zip(point)
        .map(|(setting, &level)| setting.values[level].clone())
        .collect()
}

fn tried_point(asked: &BestAsked, one: &Tried) -> TriedPoint {
    let summary = one.contender.summary();
    TriedPoint {
        round: one.round,
        values: written(asked, &one.contender.point),
        days: summary.n(),
        mean: summary.mean().unwrap_or(f64::NAN),
        se: summary.se(),
    }
}
