//! What the reader of a comparison should know before trusting or following it.

/// Something the reader should know: what it is about, with its figures in SI units.
///
/// [`warning_text`](crate::report::warning_text) puts it into words.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Warning {
    /// Few days were simulated, so intervals are rough.
    FewDays {
        /// Days simulated.
        days: u32,
        /// Number of days from which on this warning is not given.
        enough_days: u32,
    },
    /// The heaviest plan is not clearly better than others.
    Unclear {
        /// Name of the heaviest plan.
        best: String,
        /// Names of plans that may be better.
        others: Vec<String>,
        /// Number of days that would decide; `None` if it would take too many.
        days_needed: Option<f64>,
        /// What choosing the heaviest plan now costs on average, as a share of its weight.
        loss_share: f64,
    },
    /// The scenario holds a parameter at a limit of its range.
    RangeLimit {
        /// Dotted key of the parameter.
        key: String,
        /// Its value.
        value: f64,
        /// Unit of the value; empty for a ratio or a count.
        unit: String,
        /// Lowest and highest plausible value.
        range: [f64; 2],
    },
    /// A plan landed no fish on any day.
    NoFish {
        /// Name of the plan.
        plan: String,
    },
    /// Rules of a plan did not fire on any day.
    SilentRules {
        /// Name of the plan.
        plan: String,
        /// Names of the rules; at least one.
        rules: Vec<String>,
    },
    /// A plan lands more than its keepnets may hold.
    OverKeepnet {
        /// Name of the plan.
        plan: String,
        /// Weight that is too much [kg].
        weight_kg: f64,
        /// Whether this is the weight of an average day; otherwise, one day in ten has it or more.
        is_average: bool,
        /// Number of nets.
        nets: u32,
        /// Weight that each net may hold [kg].
        limit_kg: f64,
    },
    /// A plan uses up its bait on at least one day in ten.
    BaitUsedUp {
        /// Name of the plan.
        plan: String,
        /// Bait that the plan may use in a session [kg].
        limit_kg: f64,
    },
    /// The water is warm on some days.
    WarmWater {
        /// Number of these days.
        warm_days: u32,
        /// Number of all days.
        days: u32,
        /// Temperature above which water is warm [°C].
        limit_c: f64,
        /// Highest temperature [°C].
        warmest_c: f64,
    },
    /// The water holds little oxygen on some days.
    LowOxygen {
        /// Number of these days.
        low_days: u32,
        /// Number of all days.
        days: u32,
        /// Oxygen content below which it is low [mg/L].
        limit_mg_l: f64,
        /// Lowest oxygen content [mg/L].
        lowest_mg_l: f64,
    },
}

impl Warning {
    /// A short identifier for programs.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        match self {
            Self::FewDays { .. } => "few-days",
            Self::Unclear { .. } => "unclear",
            Self::RangeLimit { .. } => "edge",
            Self::NoFish { .. } => "no-fish",
            Self::SilentRules { .. } => "silent-rule",
            Self::OverKeepnet { .. } => "keepnet",
            Self::BaitUsedUp { .. } => "bait-limit",
            Self::WarmWater { .. } => "warm-water",
            Self::LowOxygen { .. } => "low-oxygen",
        }
    }
}
