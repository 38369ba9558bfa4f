//! What a search for the best setting came to, as it is written.

use serde::Serialize;

use super::stamp::Stamp;
use super::wanted::Wanted;
use crate::stats::Method;

/// One thing that may be set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// Its dotted key; `plan` for the choice among plans.
    pub key: String,
    /// Its values, as written.
    pub values: Vec<String>,
    /// Whether they stand in an order, so that neighbours are alike.
    pub is_ordered: bool,
}

/// A mean over days with its 95 % interval: a weight [kg] or a chance (0 to 1), as is wanted.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Estimate {
    /// Mean.
    pub mean: f64,
    /// Lower end.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
}

/// A mean difference over shared days with its 95 % interval, in the same unit.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Gap {
    /// Mean.
    pub mean: f64,
    /// Lower end.
    pub low95: f64,
    /// Upper end.
    pub high95: f64,
}

/// How a finalist stands beside the plan found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Stands {
    /// They cannot be told apart on these days.
    Level,
    /// It is behind.
    Behind,
    /// It is ahead: the search chose wrongly.
    Ahead,
}

/// A plan that the search found nearly as good.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finalist {
    /// Its values, as written, in the order of the settings.
    pub values: Vec<String>,
    /// How good it is.
    pub value: Estimate,
    /// How far it is ahead of the plan found; the lower ends of all finalists hold together with 95 %, and so do
    /// the upper ends.
    pub ahead: Gap,
    /// How it stands.
    pub stands: Stands,
}

/// Another value of one setting, all others as found.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Worth {
    /// The value, as written.
    pub value: String,
    /// How far it is ahead of the value found.
    pub ahead: Gap,
}

/// One setting as found, and what it is worth.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SettingFound {
    /// Its dotted key.
    pub key: String,
    /// The values searched.
    pub values: Vec<String>,
    /// Whether they stand in an order.
    pub is_ordered: bool,
    /// The value found.
    pub found: String,
    /// Other values of it alone.
    pub worth: Vec<Worth>,
    /// Days of that.
    pub worth_days: u32,
}

/// The plan as the scenario has it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct AsWritten {
    /// How good it is.
    pub value: Estimate,
    /// How far it is behind the plan found.
    pub behind: Gap,
    /// Sessions with each on the bank that would show the same with 95 %; none where they are not told apart.
    pub bank_sessions: Option<u64>,
}

/// What one round of the search learned of one point.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TriedPoint {
    /// The round, counted from 1.
    pub round: u32,
    /// Its values, as written.
    pub values: Vec<String>,
    /// Days on which it was tried in that round.
    pub days: u64,
    /// Mean over them.
    pub mean: f64,
    /// Its standard error; none of one day.
    pub se: Option<f64>,
}

/// What the search came to.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Best {
    /// `shoalwise/best/1`.
    pub format: &'static str,
    /// Where it came from; the scenario's hash is of the scenario before anything was set.
    pub stamp: Stamp,
    /// What was wanted.
    #[serde(flatten)]
    pub wanted: Wanted,
    /// How many combinations of values there are.
    pub combinations: u64,
    /// How they were searched.
    #[serde(serialize_with = "method_name")]
    pub method: Method,
    /// Sessions fished, all told.
    pub sessions: u64,
    /// Days of confirmation, none of them seen by the search: days 1 to this of the seed.
    pub days: u32,
    /// How good the plan found is.
    pub found: Estimate,
    /// The settings as found.
    pub settings: Vec<SettingFound>,
    /// The other finalists, in the order in which the search left them.
    pub finalists: Vec<Finalist>,
    /// The plan as the scenario has it, where that is one plan.
    pub as_written: Option<AsWritten>,
    /// Everything the search tried; left in `best.csv`.
    #[serde(skip)]
    pub tried: Vec<TriedPoint>,
}

fn method_name<S: serde::Serializer>(method: &Method, to: S) -> Result<S::Ok, S::Error> {
    to.serialize_str(match method {
        Method::Screened => "screened",
        Method::Shared => "shared",
        Method::Halved => "halved",
        Method::Raced => "raced",
    })
}

impl Best {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/best/1";
    /// Name and version of the format of the table of points tried.
    pub const TRIED_FORMAT: &'static str = "shoalwise/best-tried/1";

    /// What sets the scenario to the plan found, but for the choice among plans: `KEY=VALUE`.
    pub fn sets(&self) -> impl Iterator<Item = String> {
        let set = |setting: &SettingFound| format!("{}={}", setting.key, setting.found);
        self.settings.iter().filter(|setting| setting.key != Setting::PLAN).map(set)
    }
}

impl Setting {
    /// The key of the choice among plans.
    pub const PLAN: &'static str = "plan";
}

/// Points tried as CSV: the round, a column a key, days, mean and standard error.
///
/// # Errors
///
/// Where a value cannot be written.
pub fn tried_csv<'a>(
    keys: impl Iterator<Item = &'a str>,
    tried: &[TriedPoint],
) -> csv::Result<Vec<u8>> {
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(["round"].into_iter().chain(keys).chain(["days", "mean", "se"]))?;
    for one in tried {
        let round = one.round.to_string();
        let se = one.se.map_or_else(String::new, |se| format!("{se:.4}"));
        let figures = [one.days.to_string(), format!("{:.4}", one.mean), se];
        out.write_record(std::iter::once(&round).chain(&one.values).chain(&figures))?;
    }
    out.into_inner().map_err(|why| why.into_error().into())
}
