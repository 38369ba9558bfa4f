//! `sessions.csv`: one row per plan and day.

use std::io::Write;

use super::csv_cell::safe_cell;
use super::replicate::DayOutcomes;
use crate::angler::Plan;

/// Writes a header, then the rows of each day.
///
/// The same seed and days give the same bytes on every machine.
pub struct SessionsCsv<W: Write> {
    out: csv::Writer<W>,
    /// Whether the first column names the scenario.
    has_scenario: bool,
}

impl<W: Write> SessionsCsv<W> {
    /// Names of the columns, in order.
    pub const COLUMNS: [&'static str; 16] = [
        "plan",
        "day",
        "weight_g",
        "fish",
        "bites",
        "lost",
        "foul_hooked",
        "casts",
        "bait_g",
        "fish_on_line",
        "scared",
        "temperature_c",
        "wind_m_s",
        "in_water_s",
        "largest_g",
        "first_fish_s",
    ];

    /// Writes the header.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn new(out: W) -> csv::Result<Self> {
        let mut out = csv::Writer::from_writer(out);
        out.write_record(Self::COLUMNS)?;
        Ok(Self { out, has_scenario: false })
    }

    /// Writes the header of a table of several scenarios, whose first column names the scenario.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn across_scenarios(out: W) -> csv::Result<Self> {
        let mut out = csv::Writer::from_writer(out);
        out.write_record(["scenario"].into_iter().chain(Self::COLUMNS))?;
        Ok(Self { out, has_scenario: true })
    }

    /// Writes one day, one row per plan.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn write(&mut self, plans: &[Plan], day: &DayOutcomes) -> csv::Result<()> {
        self.write_rows("", plans, day)
    }

    /// Writes one day of a scenario, one row per plan.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn write_in(
        &mut self,
        scenario: &str,
        plans: &[Plan],
        day: &DayOutcomes,
    ) -> csv::Result<()> {
        self.write_rows(scenario, plans, day)
    }

    fn write_rows(&mut self, scenario: &str, plans: &[Plan], day: &DayOutcomes) -> csv::Result<()> {
        for (plan, outcome) in plans.iter().zip(&day.outcomes) {
            let in_water_s = outcome.swim.bait_in_water_s;
            let fish_on_line =
                if in_water_s > 0.0 { outcome.swim.fish_on_line_s / in_water_s } else { 0.0 };
            let scenario = self.has_scenario.then(|| safe_cell(scenario).into_owned());
            let cells = [
                safe_cell(&plan.name).into_owned(),
                day.number.to_string(),
                outcome.weight_g.to_string(),
                outcome.catches.len().to_string(),
                outcome.bites.to_string(),
                outcome.lost.to_string(),
                outcome.foul_hooked.to_string(),
                outcome.casts.to_string(),
                format!("{:.1}", 1000.0 * outcome.bait_kg()),
                format!("{fish_on_line:.3}"),
                outcome.swim.scared.to_string(),
                format!("{:.2}", day.conditions.temperature_c),
                format!("{:.2}", day.conditions.wind_m_s),
                format!("{in_water_s:.1}"),
                or_empty(outcome.catches.iter().map(|fish| fish.mass_g).max()),
                or_empty(outcome.catches.first().map(|fish| format!("{:.1}", fish.at_s))),
            ];
            self.out.write_record(scenario.into_iter().chain(cells))?;
        }
        Ok(())
    }

    /// Completes the file and returns the output.
    ///
    /// # Errors
    ///
    /// If the last rows cannot be written.
    pub fn finish(self) -> std::io::Result<W> {
        self.out.into_inner().map_err(csv::IntoInnerError::into_error)
    }
}

/// A cell that is empty if there is no value.
fn or_empty(value: Option<impl ToString>) -> String {
    value.map_or_else(String::new, |value| value.to_string())
}
