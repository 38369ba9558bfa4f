//! `catches.csv`: one row per fish that counts.

use std::io::Write;

use crate::scenario::Scenario;
use crate::study::{DayOutcomes, safe_cell};

/// Writes a header, then a row for each fish of each day, in the order of the plans and of the catch.
pub struct CatchesCsv<W: Write> {
    out: csv::Writer<W>,
}

impl<W: Write> CatchesCsv<W> {
    /// Names of the columns, in order.
    pub const COLUMNS: [&'static str; 6] =
        ["plan", "day", "at_s", "mass_g", "shoal", "foul_hooked"];

    /// Writes the header.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn new(out: W) -> csv::Result<Self> {
        let mut out = csv::Writer::from_writer(out);
        out.write_record(Self::COLUMNS)?;
        Ok(Self { out })
    }

    /// Writes the fish of one day.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn write(&mut self, scenario: &Scenario, day: &DayOutcomes) -> csv::Result<()> {
        for (plan, outcome) in scenario.plans.iter().zip(&day.outcomes) {
            for fish in &outcome.catches {
                let shoal = scenario.shoals.get(fish.shoal).map_or("", |shoal| shoal.name.as_str());
                self.out.write_record([
                    safe_cell(&plan.name).into_owned(),
                    day.number.to_string(),
                    format!("{:.1}", fish.at_s),
                    fish.mass_g.to_string(),
                    safe_cell(shoal).into_owned(),
                    fish.foul.to_string(),
                ])?;
            }
        }
        Ok(())
    }

    /// Completes the file.
    ///
    /// # Errors
    ///
    /// If the last rows cannot be written.
    pub fn finish(self) -> std::io::Result<W> {
        self.out.into_inner().map_err(csv::IntoInnerError::into_error)
    }
}
