//! A sweep in words and pictures: curves for one key, heat maps for two and three, main effects for many.

use super::axis::axis;
use super::heat_map::heat_maps_svg;
use super::main_effects::main_effects_svg;
use super::measures::weight;
use super::setting::{Grid, setting_name, short_keys};
use super::table::{align, days, empty_table, shown_name};
use super::value::shown_values;
use super::vary::{VaryCurve, VaryPoint, vary_table};
use super::vary_chart::vary_chart_svg;
use crate::scenario::{Units, si_value};
use crate::study::{VariedSetting, Vary};

/// Widest line [columns].
const WIDTH: usize = 100;
/// Most settings in a table.
const MOST_ROWS: usize = 10;

/// What a sweep came to, for people.
#[must_use]
pub fn swept_words(found: &Vary, units: Units) -> String {
    let tables: Vec<String> = match found.keys.len() {
        1 => curves(found).iter().map(|curve| vary_table(curve, units)).collect(),
        _ => (0..plans(found).len()).map(|plan| best_table(found, plan, units)).collect(),
    };
    let seed = found.stamp.seed;
    format!("{}\n\n{} of seed {seed} at each value.", tables.join("\n\n"), days(found.days))
}

/// Pictures of a sweep, each with the name of its file: one a plan.
#[must_use]
pub fn swept_pictures(found: &Vary, units: Units) -> Vec<(String, String)> {
    let named = |plan: &str, svg: String| (format!("vary-{plan}"), svg);
    if found.keys.len() == 1 {
        let curves = curves(found);
        return curves.iter().map(|c| named(&c.plan, vary_chart_svg(c, units))).collect();
    }
    let names = plans(found);
    let picture = |(plan, name): (usize, &String)| {
        let svg = match Grid::of(found, plan) {
            Some(grid) if (2..=3).contains(&found.keys.len()) => {
                heat_maps_svg(found, &grid, name, units)
            }
            _ => main_effects_svg(found, plan, units),
        };
        named(name, svg)
    };
    names.iter().enumerate().map(picture).collect()
}

/// Names of the plans.
fn plans(found: &Vary) -> Vec<String> {
    let plans = found.settings.first().map_or(&[][..], |setting| &setting.plans);
    plans.iter().map(|plan| plan.name.clone()).collect()
}

/// Each plan's weight along the one key.
fn curves(found: &Vary) -> Vec<VaryCurve> {
    let settings: Vec<&[String]> = found.settings.iter().map(|at| at.values.as_slice()).collect();
    let axis = axis(&found.keys, &settings);
    let curve = |(plan, name): (usize, String)| VaryCurve {
        plan: name,
        key: found.keys.join(", "),
        points: found
            .settings
            .iter()
            .zip(&axis.values)
            .map(|(setting, &value)| {
                let (kg, near_best) =
                    (setting.plans[plan].weight_kg, setting.plans[plan].near_best);
                VaryPoint {
                    label: setting.values.join(", "),
                    value,
                    mean_kg: kg.mean,
                    low95_kg: kg.low95,
                    high95_kg: kg.high95,
                    p10_kg: kg.p10,
                    p90_kg: kg.p90,
                    near_best,
                }
            })
            .collect(),
        axis: axis.says.clone(),
        log_axis: axis.is_logarithmic,
    };
    plans(found).into_iter().enumerate().map(curve).collect()
}

/// The best settings of a plan, and how wide the region is that may be as good.
fn best_table(found: &Vary, plan: usize, units: Units) -> String {
    let name = plans(found).swap_remove(plan);
    let region = textwrap::fill(&near_region(found, plan), WIDTH);
    if is_level(found, plan) {
        return format!("Plan {}. {region}", shown_name(&name));
    }
    let mut ranked: Vec<&VariedSetting> = found.settings.iter().collect();
    let mean_kg = |setting: &VariedSetting| setting.plans[plan].weight_kg.mean;
    ranked.sort_by(|a, b| mean_kg(b).total_cmp(&mean_kg(a)));
    // Two keys have columns of their own; of more, the setting is said in one.
    let keys = short_keys(&found.keys);
    let few = keys.len() <= 2;
    let mut heads: Vec<&str> =
        if few { keys.iter().map(String::as_str).collect() } else { vec!["setting"] };
    heads.extend(if few { &["weight", "95 % of the mean"][..] } else { &["weight"] });
    heads.extend(["behind", ""]);
    let mut table = empty_table(&heads);
    for (rank, setting) in ranked.iter().take(MOST_ROWS).enumerate() {
        let (at, kg) = (&setting.plans[plan], setting.plans[plan].weight_kg);
        let mut row: Vec<String> = if few {
            setting.values.iter().map(|value| shown_values(&[value.as_str()]).join("")).collect()
        } else {
            vec![setting_name(&found.keys, &setting.values)]
        };
        row.push(weight(kg.mean, units));
        if few {
            row.push(format!("{} to {}", weight(kg.low95, units), weight(kg.high95, units)));
        }
        row.push(weight(at.behind_kg.mean, units));
        row.push(match (rank, at.near_best) {
            (0, _) => "best mean".to_owned(),
            (_, true) => "may be within 2 %".to_owned(),
            _ => String::new(),
        });
        table.add_row(row);
    }
    let words = [0, heads.len() - 1];
    align(&mut table, if few { &words[1..] } else { &words });
    let lines: Vec<_> = table.lines().map(|line| line.trim_end().to_owned()).collect();
    let mut notes = vec![format!("Plan {}.", shown_name(&name))];
    if ranked.len() > MOST_ROWS {
        notes.push(format!("The best {MOST_ROWS} of {} settings.", ranked.len()));
    }
    format!("{}\n{}\n{region}", lines.join("\n"), notes.join(" "))
}

/// Whether what was varied makes no difference at all to a plan.
fn is_level(found: &Vary, plan: usize) -> bool {
    let level = |setting: &VariedSetting| {
        let behind = setting.plans[plan].behind_kg;
        behind.mean.abs() + behind.low95.abs() + behind.high95.abs() <= 0.0
    };
    found.settings.len() > 1 && found.settings.iter().all(level)
}

/// How many settings may be within two per cent of the best, and between which values they lie.
fn near_region(found: &Vary, plan: usize) -> String {
    let near: Vec<&VariedSetting> =
        found.settings.iter().filter(|setting| setting.plans[plan].near_best).collect();
    let (all, on) = (found.settings.len(), days(found.days));
    if is_level(found, plan) {
        return "What was varied makes no difference to this plan.".to_owned();
    }
    let within =
        format!("{} of {all} may be within 2 % of the best, for all that {on} tell", near.len());
    let between = |(key, name): (usize, &String)| {
        let mut values: Vec<(f64, &str)> = near
            .iter()
            .filter_map(|at| {
                Some((si_value(&found.keys[key], &at.values[key])?.0, at.values[key].as_str()))
            })
            .collect();
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (first, last) = (values.first()?.1, values.last()?.1);
        let ends = shown_values(&[first, last]);
        Some(if first == last {
            format!("{name} {}", ends[0])
        } else {
            format!("{name} {} to {}", ends[0], ends[1])
        })
    };
    let keys = short_keys(&found.keys);
    let between: Vec<String> = keys.iter().enumerate().filter_map(between).collect();
    match (near.as_slice(), between.is_empty()) {
        ([only], _) => format!("{within}: {}.", setting_name(&found.keys, &only.values)),
        (_, true) => format!("{within}."),
        _ => format!("{within}; they lie at {}.", between.join(", ")),
    }
}
