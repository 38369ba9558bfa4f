//! `sessions.csv`: one row per plan and day.

use std::io::Write;

use super::csv_cell::safe_cell;
use super::csv_column::CellKind::{Number, Text, WholeNumber};
use super::csv_column::CsvColumn;
use super::replicate::DayOutcomes;
use crate::scenario::Scenario;

/// Number of columns that every table has.
const FIXED_COLUMNS: usize = 16;
/// Number of columns for each shoal.
const SHOAL_COLUMNS: usize = 2;
/// Stands for the name of a shoal in the name of a column.
const SHOAL: &str = "<shoal>";

/// Writes a header, then the rows of each day.
///
/// The same seed and days give the same bytes on every machine.
pub struct SessionsCsv<W: Write> {
    out: csv::Writer<W>,
    /// Whether the first column names the scenario.
    has_scenario: bool,
    /// Names of the shoals that have columns, in their order.
    shoals: Vec<String>,
}

impl<W: Write> SessionsCsv<W> {
    /// First column of a table of several scenarios.
    pub const SCENARIO_COLUMN: CsvColumn =
        CsvColumn::new("scenario", Text, "", "Name of the scenario: the water.");

    /// Columns that every table has, in order.
    pub const COLUMNS: [CsvColumn; FIXED_COLUMNS] = [
        CsvColumn::new("plan", Text, "", "Name of the plan."),
        CsvColumn::new(
            "day",
            WholeNumber,
            "",
            "Number of the day, from 1; all plans are fished on the same days.",
        ),
        CsvColumn::new("weight_g", WholeNumber, "g", "Weight at the scales."),
        CsvColumn::new("fish", WholeNumber, "", "Number of fish that count."),
        CsvColumn::new("bites", WholeNumber, "", "How often a hookbait was taken."),
        CsvColumn::new("lost", WholeNumber, "", "Number of fish hooked and lost."),
        CsvColumn::new(
            "foul_hooked",
            WholeNumber,
            "",
            "Number of fish hooked outside the mouth, landed or lost.",
        ),
        CsvColumn::new("casts", WholeNumber, "", "Number of casts."),
        CsvColumn::new("bait_g", Number, "g", "Bait cast and thrown."),
        CsvColumn::new(
            "fish_on_line",
            Number,
            "count",
            "Mean number of fish feeding on the bed at the fished line while a bait was in the water.",
        ),
        CsvColumn::new("scared", WholeNumber, "", "How often a fish was startled."),
        CsvColumn::new("temperature_c", Number, "°C", "Temperature of the water."),
        CsvColumn::new("wind_m_s", Number, "m/s", "Speed of the wind."),
        CsvColumn::new("in_water_s", Number, "s", "Time with a bait in the water."),
        CsvColumn::new(
            "largest_g",
            WholeNumber,
            "g",
            "Weight of the largest fish that counts; empty without a fish.",
        )
        .or_empty(),
        CsvColumn::new(
            "first_fish_s",
            Number,
            "s",
            "When the first fish was netted, from the start; empty without a fish.",
        )
        .or_empty(),
    ];

    /// Columns for each shoal, in the order of the scenario, after the others.
    pub const SHOAL_COLUMNS: [CsvColumn; SHOAL_COLUMNS] = [
        CsvColumn::new("fish.<shoal>", WholeNumber, "", "Number of fish that count of this shoal."),
        CsvColumn::new(
            "weight_g.<shoal>",
            WholeNumber,
            "g",
            "Their weight; those of all shoals add up to `weight_g` unless a keepnet was over its limit.",
        ),
    ];

    /// Writes the header.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn new(out: W, scenario: &Scenario) -> csv::Result<Self> {
        Self::with_header(out, std::slice::from_ref(scenario), false)
    }

    /// Writes the header of a table of several scenarios, whose first column names the scenario. It has the columns of every
    /// shoal of any of them.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn across_scenarios(out: W, scenarios: &[Scenario]) -> csv::Result<Self> {
        Self::with_header(out, scenarios, true)
    }

    fn with_header(out: W, scenarios: &[Scenario], has_scenario: bool) -> csv::Result<Self> {
        let mut shoals: Vec<String> = Vec::new();
        for shoal in scenarios.iter().flat_map(|scenario| &scenario.shoals) {
            if !shoals.contains(&shoal.name) {
                shoals.push(shoal.name.clone());
            }
        }
        let first = has_scenario.then(|| Self::SCENARIO_COLUMN.name.to_owned());
        let fixed = Self::COLUMNS.map(|column| column.name.to_owned());
        let by_shoal = shoals
            .iter()
            .flat_map(|shoal| Self::SHOAL_COLUMNS.map(|column| column.name.replace(SHOAL, shoal)));
        let mut out = csv::Writer::from_writer(out);
        out.write_record(first.into_iter().chain(fixed).chain(by_shoal))?;
        Ok(Self { out, has_scenario, shoals })
    }

    /// Writes one day, one row per plan.
    ///
    /// # Errors
    ///
    /// If the output cannot be written.
    pub fn write(&mut self, scenario: &Scenario, day: &DayOutcomes) -> csv::Result<()> {
        // Where each shoal of the table is in this scenario, if it has it.
        let shoals: Vec<Option<usize>> = self
            .shoals
            .iter()
            .map(|name| scenario.shoals.iter().position(|shoal| shoal.name == *name))
            .collect();
        let first = self.has_scenario.then(|| safe_cell(&scenario.name).into_owned());
        for (plan, outcome) in scenario.plans.iter().zip(&day.outcomes) {
            let in_water_s = outcome.swim.bait_in_water_s;
            let fish_on_line =
                if in_water_s > 0.0 { outcome.swim.fish_on_line_s / in_water_s } else { 0.0 };
            let cells: [String; FIXED_COLUMNS] = [
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
            let by_shoal = shoals.iter().flat_map(|shoal| -> [String; SHOAL_COLUMNS] {
                let caught =
                    shoal.map(|shoal| outcome.by_shoal.get(shoal).copied().unwrap_or_default());
                [or_empty(caught.map(|of| of.fish)), or_empty(caught.map(|of| of.weight_g))]
            });
            self.out.write_record(first.clone().into_iter().chain(cells).chain(by_shoal))?;
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
