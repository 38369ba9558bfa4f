//! `compare --vary`: every plan at every value on the same days.

use std::io::{Write as _, stdout};

use super::args::CompareArgs;
use super::axis::axis;
use super::compare::{folder_for, leave_picture, on_threads, say_where};
use super::ended::Ended;
use super::interrupt;
use super::progress::Shown;
use super::reading::{keep_plans, read};
use crate::report::{VaryCurve, VaryPoint, vary_chart_svg, vary_table};
use crate::scenario::values;
use crate::scenario::{Scenario, Units};
use crate::study::{Control, Folder, Variant, Vary, vary};

/// Fishes every plan at every combination of the values asked for, prints tables and leaves the files.
pub(super) fn compare_varied(asked: &CompareArgs, base: &Scenario) -> Result<(), Ended> {
    let (keys, variants) = variants(asked)?;
    let mut folder = folder_for(asked, base)?;
    let stop = interrupt::listen()?;
    let sessions = u64::from(asked.days()) * (base.plans.len() * variants.len()) as u64;
    let progress = Shown::new(sessions, asked.quiet);
    let control = Control { progress: &progress, stop };
    let seed = asked.simulated.seed;
    let found =
        on_threads(asked.threads, || vary(base, &keys, &variants, seed, asked.days(), control));
    progress.finish();
    let found = found?;
    let whole = found.settings.len() == variants.len();
    if !whole {
        return Err(interrupted(folder, &found, variants.len())?);
    }
    let units = asked.simulated.units(base);
    let curves = curves(&found);
    let document = format!("{}\n", serde_json::to_string_pretty(&found)?);
    let left = leave(&mut folder, &found, &curves, &document, units);
    if asked.json {
        stdout().write_all(document.as_bytes())?;
    } else {
        let tables: Vec<String> = curves.iter().map(|curve| vary_table(curve, units)).collect();
        let days = format!("{} days of seed {seed} at each value.", found.days);
        writeln!(stdout(), "{}\n\n{days}", tables.join("\n\n"))?;
    }
    left?;
    say_where(&folder, asked.json, asked.quiet)
}

/// The keys varied, and the scenario at every combination of their values, the last key going through
/// its values first.
fn variants(asked: &CompareArgs) -> Result<(Vec<String>, Vec<Variant>), Ended> {
    let mut keys = Vec::new();
    let mut combinations: Vec<Vec<String>> = vec![Vec::new()];
    for text in &asked.vary {
        let (key, values) = values(text)?;
        keys.push(key);
        combinations = combinations
            .iter()
            .flat_map(|so_far| {
                values.iter().map(|value| [so_far.as_slice(), std::slice::from_ref(value)].concat())
            })
            .collect();
    }
    let variant = |values: Vec<String>| {
        let set = keys.iter().zip(&values).map(|(key, value)| format!("{key}={value}"));
        let mut scenario = read(&asked.read, &set.collect::<Vec<_>>())?;
        keep_plans(&mut scenario, &asked.plans)?;
        Ok(Variant { values, scenario })
    };
    let variants = combinations.into_iter().map(variant).collect::<Result<_, Ended>>()?;
    Ok((keys, variants))
}

/// Each plan's weight along the settings.
fn curves(found: &Vary) -> Vec<VaryCurve> {
    let settings: Vec<&[String]> = found.settings.iter().map(|at| at.values.as_slice()).collect();
    let axis = axis(&found.keys, &settings);
    let plans = found.settings.first().map_or(&[][..], |setting| &setting.plans);
    plans
        .iter()
        .enumerate()
        .map(|(plan, named)| VaryCurve {
            plan: named.name.clone(),
            key: found.keys.join(", "),
            points: found
                .settings
                .iter()
                .zip(&axis.values)
                .map(|(setting, &value)| {
                    let kg = setting.plans[plan].weight_kg;
                    VaryPoint {
                        label: setting.values.join(", "),
                        value,
                        mean_kg: kg.mean,
                        low95_kg: kg.low95,
                        high95_kg: kg.high95,
                        p10_kg: kg.p10,
                        p90_kg: kg.p90,
                    }
                })
                .collect(),
            axis: axis.says.clone(),
            log_axis: axis.is_logarithmic,
        })
        .collect()
}

/// Keeps the rows of the settings done, unless whole results of an earlier run are there.
fn interrupted(mut folder: Folder, found: &Vary, asked: usize) -> Result<Ended, Ended> {
    let done = found.settings.len();
    let so_far = format!("interrupted after {done} of {asked} settings");
    let place = folder.path().display().to_string();
    if folder.holds_results() {
        let kept = format!("the earlier results in {place} are as they were");
        return Ok(Ended::Interrupted(format!("{so_far}; {kept}")));
    }
    if done == 0 {
        return Ok(Ended::Interrupted(format!("{so_far}; nothing was written")));
    }
    folder.write("vary.csv", Some(Vary::FORMAT), &found.to_csv()?)?;
    // A run without all its settings counts as one of no days: the same run may replace it.
    folder.write_stamp(0)?;
    Ok(Ended::Interrupted(format!("{so_far}; their rows are kept in {place}/vary.csv")))
}

/// Leaves all files, a picture a plan.
fn leave(
    folder: &mut Folder,
    found: &Vary,
    curves: &[VaryCurve],
    document: &str,
    units: Units,
) -> Result<(), Ended> {
    folder.write("vary.csv", Some(Vary::FORMAT), &found.to_csv()?)?;
    for curve in curves {
        leave_picture(folder, &format!("vary-{}", curve.plan), &vary_chart_svg(curve, units))?;
    }
    folder.write("vary.json", Some(Vary::FORMAT), document.as_bytes())?;
    Ok(folder.write_stamp(found.days)?)
}
