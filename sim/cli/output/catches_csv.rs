//! `catches.csv`: one row per fish that counts.

use std::io::Write;

use crate::scenario::Scenario;
use crate::study::CellKind::{Number, Text, TrueOrFalse, WholeNumber};
use crate::study::{CsvColumn, DayOutcomes, safe_cell};

const COLUMNS: usize = 6;

/// Writes a header, then a row for each fish of each day, in the order of the plans and of the catch.
pub struct CatchesCsv<W: Write> {
    out: csv::Writer<W>,
}

impl<W: Write> CatchesCsv<W> {
    /// Columns, in order.
    pub const COLUMNS: [CsvColumn; COLUMNS] = [
        CsvColumn::new("plan", Text, "", "Name of the plan."),
        CsvColumn::new("day", WholeNumber, "", "Number of the day, as in `sessions.csv`."),
        CsvColumn::new("at_s", Number, "s", "When the fish was netted, from the start."),
        CsvColumn::new(
            "mass_g",
            WholeNumber,
            "g",
            "Its weight; those of a plan and day add up to `weight_g` of `sessions.csv` unless a keepnet was over its limit.",
        ),
        CsvColumn::new("shoal", Text, "", "Name of the shoal that it belongs to."),
        CsvColumn::new("foul_hooked", TrueOrFalse, "", "Whether it was hooked outside the mouth."),
    ];

    /// Writes the header.
    pub fn new(out: W) -> csv::Result<Self> {
        let mut out = csv::Writer::from_writer(out);
        out.write_record(Self::COLUMNS.map(|column| column.name))?;
        Ok(Self { out })
    }

    /// Writes the fish of one day.
    pub fn write(&mut self, scenario: &Scenario, day: &DayOutcomes) -> csv::Result<()> {
        for (plan, outcome) in scenario.plans.iter().zip(&day.outcomes) {
            for fish in &outcome.catches {
                let shoal = scenario.shoals.get(fish.shoal).map_or("", |shoal| shoal.name.as_str());
                let cells: [String; COLUMNS] = [
                    safe_cell(&plan.name).into_owned(),
                    day.number.to_string(),
                    format!("{:.1}", fish.at_s),
                    fish.mass_g.to_string(),
                    safe_cell(shoal).into_owned(),
                    fish.foul.to_string(),
                ];
                self.out.write_record(cells)?;
            }
        }
        Ok(())
    }

    /// Completes the file.
    pub fn finish(self) -> std::io::Result<W> {
        self.out.into_inner().map_err(csv::IntoInnerError::into_error)
    }
}
