//! A comparison across waters set up step by step.

use super::result::WatersOutcome;
use super::run::{WatersRun, run};
use crate::scenario::Scenario;
use crate::study::progress::Control;
use crate::study::replicate::DayOutcomes;

/// A comparison of the plans of several scenarios, each on days of its own, that has not run yet.
///
/// By default, it takes seed 1 and stops as soon as the verdict is clear. The first scenario has the days of this seed, the
/// second those of the next one, and so on: they are independent of each other, and `compare` on a scenario alone, with its
/// seed, gives the same days again.
///
/// ```no_run
/// # fn main() -> Result<(), sim::Diagnostics> {
/// use sim::study::{CompareWaters, Control, WatersOutcome};
///
/// let scenarios = ["summer.toml", "winter.toml"].map(|path| sim::load(path.as_ref(), &[]));
/// let [summer, winter] = scenarios;
/// let scenarios = [summer?, winter?];
/// let comparing = CompareWaters::new(&scenarios).days(400);
/// let Ok(outcome) = comparing.run_with(Control::default(), |_, _| Ok::<_, std::convert::Infallible>(()));
/// if let WatersOutcome::Done(waters) = outcome {
///     println!("{} pairs", waters.pairs.len());
/// }
/// # Ok(())
/// # }
/// ```
#[derive(Clone, Copy, Debug)]
#[must_use]
pub struct CompareWaters<'a>(WatersRun<'a>);

impl<'a> CompareWaters<'a> {
    /// Compares all plans of some scenarios.
    pub fn new(scenarios: &'a [Scenario]) -> Self {
        Self(WatersRun { scenarios, seed: 1, days: None })
    }

    /// Sets the seed of the first scenario.
    pub fn seed(self, seed: u64) -> Self {
        Self(WatersRun { seed, ..self.0 })
    }

    /// Fishes exactly this many days on each water.
    pub fn days(self, days: u32) -> Self {
        Self(WatersRun { days: Some(days), ..self.0 })
    }

    /// Seed of the scenario with an index: greater by one than that of the scenario before it.
    #[must_use]
    pub fn seed_of(&self, index: usize) -> u64 {
        self.0.seed_of(index)
    }

    /// Runs the comparison. `each_day` is called with the index of the scenario and the day: blocks of 200 days, water after
    /// water, however many threads there are.
    ///
    /// # Errors
    ///
    /// The first error of `each_day`.
    pub fn run_with<E>(
        self,
        control: Control<'_>,
        each_day: impl FnMut(usize, &DayOutcomes) -> Result<(), E>,
    ) -> Result<WatersOutcome, E> {
        run(self.0, control, each_day)
    }
}
