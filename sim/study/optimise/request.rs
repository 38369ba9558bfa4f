//! Request for a search: what may be set, the objective, and the sessions it may take.

use super::objective::Objective;
use super::result::Setting;
use crate::stats::{GridAxis, SearchSpace};

/// First day of the search. Confirmation uses days from 1, as `compare` does; no day is used for both.
pub(super) const SEARCH_DAY: u32 = 1_000_001;
/// Maximum number of days of confirmation, so that they end before the search begins.
pub const MAX_CONFIRMATION_DAYS: u32 = SEARCH_DAY - 1;
/// Maximum number of finalists that are confirmed.
const MAX_FINALISTS: u64 = 8;
/// Maximum number of days on which other values of one setting are tried.
const MAX_VALUE_DAYS: u32 = 200;
/// Maximum number of other values of one setting that are tried.
pub(super) const MAX_OTHER_VALUES: usize = 6;
/// Minimum number of sessions of a search for each point that is compared with others.
const MIN_SESSIONS_PER_POINT: u64 = 10;

/// Request for a search.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchSpec {
    /// Settings that may vary, with their values.
    pub settings: Vec<Setting>,
    /// Objective.
    pub objective: Objective,
    /// Maximum number of sessions, including confirmation.
    pub sessions: u32,
    /// Number of fresh days for confirmation.
    pub days: u32,
    /// Seed of all random numbers.
    pub seed: u64,
    /// Whether the scenario as written is a single plan, to which the best plan can be compared.
    pub has_baseline: bool,
}

impl SearchSpec {
    /// All combinations of the values.
    #[must_use]
    pub fn space(&self) -> SearchSpace {
        let axis = |setting: &Setting| GridAxis {
            levels: setting.values.len(),
            is_ordered: setting.is_ordered,
        };
        SearchSpace::new(self.settings.iter().map(axis).collect())
    }

    /// Minimum budget for this search \[sessions\].
    #[must_use]
    pub fn min_sessions(&self) -> u64 {
        let searching = MIN_SESSIONS_PER_POINT * self.space().size().min(64);
        self.confirmation_sessions() + searching
    }

    /// Number of sessions left for the search itself.
    pub(super) fn search_sessions(&self) -> u64 {
        u64::from(self.sessions).saturating_sub(self.confirmation_sessions())
    }

    /// Number of sessions that confirmation takes.
    fn confirmation_sessions(&self) -> u64 {
        let compared = self.space().size().min(MAX_FINALISTS) + u64::from(self.has_baseline);
        let levels = self.settings.iter().map(|setting| setting.values.len());
        let others: usize = levels.map(|levels| (levels - 1).min(MAX_OTHER_VALUES)).sum();
        compared * u64::from(self.days) + others as u64 * u64::from(self.value_days())
    }

    /// Number of days on which other values of one setting are tried.
    pub(super) fn value_days(&self) -> u32 {
        self.days.min(MAX_VALUE_DAYS)
    }

    /// Values of a point, as written.
    pub(super) fn values_at(&self, point: &[usize]) -> Vec<String> {
        let levels = self.settings.iter().zip(point);
        levels.map(|(setting, &level)| setting.values[level].clone()).collect()
    }
}
