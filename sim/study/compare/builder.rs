//! A comparison set up step by step.

use std::convert::Infallible;

use super::result::Comparison;
use super::run::{CompareResult, compare, compare_until_clear};
use crate::scenario::Scenario;
use crate::study::progress::Control;
use crate::study::replicate::DayOutcomes;

/// How many days are fished.
#[derive(Clone, Copy)]
enum DayCount {
    Days(u32),
    UntilClear { limit_days: u32 },
}

/// A function that is called with each day.
type OnDay<'a> = Box<dyn FnMut(&DayOutcomes) + 'a>;

/// A comparison of all plans of a scenario that has not run yet.
///
/// By default, it takes seed 1 and stops as soon as the verdict is clear, as the command line does.
///
/// ```no_run
/// # fn main() -> Result<(), sim::Diagnostics> {
/// let scenario = sim::load("scenarios/first-try.toml".as_ref(), &[])?;
/// let comparison = sim::Compare::new(&scenario)
///     .seed(2)
///     .days(400)
///     .on_day(|day| println!("day {}: {} g", day.number, day.outcomes[0].weight_g))
///     .run();
/// println!("{} kg", comparison.plans[0].weight_kg.mean);
/// # Ok(())
/// # }
/// ```
#[must_use]
pub struct Compare<'a> {
    scenario: &'a Scenario,
    seed: u64,
    extent: DayCount,
    on_day: Option<OnDay<'a>>,
}

impl<'a> Compare<'a> {
    /// Default limit of days of a comparison that stops when its verdict is clear.
    pub const LIMIT_DAYS: u32 = 3200;

    /// Compares all plans of a scenario.
    pub fn new(scenario: &'a Scenario) -> Self {
        let extent = DayCount::UntilClear { limit_days: Self::LIMIT_DAYS };
        Self { scenario, seed: 1, extent, on_day: None }
    }

    /// Sets the seed of all random numbers; the same seed gives the same days.
    pub fn seed(mut self, seed: u64) -> Self {
        self.seed = seed;
        self
    }

    /// Fishes exactly this many days.
    pub fn days(mut self, days: u32) -> Self {
        self.extent = DayCount::Days(days);
        self
    }

    /// Stops when the verdict is clear, or after `limit_days`, which must be at least two; see [`compare_until_clear`].
    pub fn until_clear(mut self, limit_days: u32) -> Self {
        self.extent = DayCount::UntilClear { limit_days };
        self
    }

    /// Sets a function that is called with each day, in order, as soon as it is done.
    pub fn on_day(mut self, on_day: impl FnMut(&DayOutcomes) + 'a) -> Self {
        self.on_day = Some(Box::new(on_day));
        self
    }

    /// Runs the comparison.
    #[must_use]
    pub fn run(self) -> Comparison {
        match self.run_controlled(Control::default()) {
            CompareResult::Done(comparison) => *comparison,
            CompareResult::Interrupted { .. } => unreachable!("the default control never stops"),
        }
    }

    /// Runs the comparison, which reports its progress to `control` and can be stopped by it.
    #[must_use]
    pub fn run_controlled(self, control: Control<'_>) -> CompareResult {
        let Ok(result) = self.run_with(control, |_| Ok::<(), Infallible>(()));
        result
    }

    /// Runs the comparison like [`Compare::run_controlled`]; an error of `each_day` stops it too.
    ///
    /// # Errors
    ///
    /// The first error of `each_day`.
    pub fn run_with<E>(
        mut self,
        control: Control<'_>,
        mut each_day: impl FnMut(&DayOutcomes) -> Result<(), E>,
    ) -> Result<CompareResult, E> {
        let deliver = |day: &DayOutcomes| {
            if let Some(on_day) = &mut self.on_day {
                on_day(day);
            }
            each_day(day)
        };
        match self.extent {
            DayCount::Days(days) => {
                let comparison = compare(self.scenario, self.seed, days, control, deliver)?;
                Ok(match comparison.days {
                    done if done < days => CompareResult::Interrupted { days: done },
                    _ => CompareResult::Done(Box::new(comparison)),
                })
            }
            DayCount::UntilClear { limit_days } => {
                compare_until_clear(self.scenario, self.seed, limit_days, control, deliver)
            }
        }
    }
}
