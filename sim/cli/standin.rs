//! Stands in for rooms that are built elsewhere: remove this file and write `crate::` for `super::standin::`.
#![allow(missing_docs, unreachable_pub, reason = "goes when the real rooms are here")]
#![allow(clippy::missing_errors_doc, clippy::must_use_candidate, reason = "as above")]

pub mod scenario {
    use std::path::Path;

    use crate::scenario::Scenario;

    #[derive(Debug, thiserror::Error)]
    #[error("{0}")]
    pub struct Faults(String);

    pub fn load(path: &Path, _sets: &[String]) -> Result<Scenario, Faults> {
        Err(Faults(format!("{}: reading is not built yet", path.display())))
    }

    pub fn values(vary: &str) -> Result<(String, Vec<String>), Faults> {
        let (key, values) =
            vary.split_once('=').ok_or_else(|| Faults(format!("{vary} is not KEY=VALUES")))?;
        Ok((key.to_owned(), values.split(',').map(str::to_owned).collect()))
    }
}

pub mod report {
    use crate::scenario::{Scenario, Units};
    use crate::session::{Day, Event};
    use crate::study::Comparison;

    pub struct VaryPoint {
        pub label: String,
        pub value: f64,
        pub mean_kg: f64,
        pub low95_kg: f64,
        pub high95_kg: f64,
        pub p10_kg: f64,
        pub p90_kg: f64,
    }

    pub struct VaryCurve {
        pub plan: String,
        pub key: String,
        pub points: Vec<VaryPoint>,
        pub axis: String,
        pub log_axis: bool,
    }

    pub struct TraceNames;

    impl TraceNames {
        pub fn of(_scenario: &Scenario, _day: &Day, _units: Units) -> Self {
            Self
        }
    }

    pub fn trace_line(t_s: f64, event: &Event, _names: &TraceNames) -> String {
        format!("{t_s} {event:?}")
    }

    pub fn clock(t_s: f64) -> String {
        format!("{t_s} s")
    }

    pub fn weight(kg: f64, _units: Units) -> String {
        format!("{kg} kg")
    }

    pub fn comparison_table(comparison: &Comparison, _units: Units) -> String {
        format!("{} plans", comparison.plans.len())
    }

    pub fn verdict(_comparison: &Comparison, _units: Units) -> Vec<String> {
        Vec::new()
    }

    pub fn reasons(_comparison: &Comparison, _units: Units) -> Vec<String> {
        Vec::new()
    }

    pub fn weight_curve_svg(_comparison: &Comparison, _units: Units) -> String {
        "<svg/>".to_owned()
    }

    pub fn vary_chart_svg(_curve: &VaryCurve, _units: Units) -> String {
        "<svg/>".to_owned()
    }

    pub fn vary_table(curve: &VaryCurve, _units: Units) -> String {
        format!("{}: {} values", curve.plan, curve.points.len())
    }

    pub fn png(_svg: &str, _width_px: u32) -> Result<Vec<u8>, std::io::Error> {
        Ok(Vec::new())
    }
}
