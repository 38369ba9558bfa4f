//! A sweep in tables and sentences.

use super::response::response_table;
use crate::report::format::{
    align_columns, counted, empty_table, grouped, interval_ends, one_line, readable_values,
    setting_name, short_keys, trimmed_lines, weight, wrapped,
};
use crate::report::view::{plan_names, response_curves};
use crate::scenario::{Units, si_value};
use crate::study::{SweepResult, SweptPlan, SweptSetting, is_untouched};

/// Maximum width of a line [columns].
const MAX_WIDTH: usize = 100;
/// Maximum number of settings in a table.
const MAX_ROWS: usize = 10;
/// Up to this many keys have a column each.
const MAX_KEY_COLUMNS: usize = 2;

/// The result of a sweep: for one key a table of its values, for more the best settings.
pub fn sweep_text(swept: &SweepResult, units: Units) -> String {
    let mut tables: Vec<String> = match swept.keys.len() {
        1 => response_curves(swept)
            .iter()
            .filter(|curve| !is_untouched(&curve.plan, &swept.keys))
            .map(|curve| response_table(curve, units))
            .collect(),
        _ => (plan_names(swept).iter().enumerate())
            .filter(|(_, name)| !is_untouched(name, &swept.keys))
            .map(|(plan, _)| plan_table(swept, plan, units))
            .collect(),
    };
    tables.extend(untouched_sentences(swept, units));
    let (days, seed) = (counted(swept.days, "day"), swept.stamp.seed);
    format!("{}\n\n{days} of seed {seed} at each value.", tables.join("\n\n"))
}

/// A sentence for each plan of which nothing is varied.
fn untouched_sentences(swept: &SweepResult, units: Units) -> Option<String> {
    let plans = swept.settings.first()?.plans.iter();
    let sentence = |plan: &SweptPlan| {
        let mean_kg = plan.weight_kg.mean;
        let range = interval_ends(mean_kg.interval, |kg| weight(kg, units));
        let sure = if range.is_empty() { range } else { format!(" (95\u{a0}% sure: {range})") };
        let (name, mean) = (one_line(&plan.name), weight(mean_kg.value, units));
        wrapped(&format!("Nothing of {name} is varied: {mean}{sure} throughout."), MAX_WIDTH)
    };
    let untouched = plans.filter(|plan| is_untouched(&plan.name, &swept.keys));
    let sentences: Vec<String> = untouched.map(sentence).collect();
    (!sentences.is_empty()).then(|| sentences.join("\n"))
}

/// The best settings of a plan, and the region that may be as good.
fn plan_table(swept: &SweepResult, plan: usize, units: Units) -> String {
    let name = plan_names(swept).swap_remove(plan);
    let region = wrapped(&near_best_region(swept, plan), MAX_WIDTH);
    if makes_no_difference(swept, plan) {
        return format!("Plan {}. {region}", one_line(&name));
    }
    let mut notes = vec![format!("Plan {}.", one_line(&name))];
    if swept.settings.len() > MAX_ROWS {
        notes.push(format!("The best {MAX_ROWS} of {} settings.", swept.settings.len()));
    }
    format!("{}\n{}\n{region}", best_settings(swept, plan, units), notes.join(" "))
}

/// The table of the best settings of a plan.
fn best_settings(swept: &SweepResult, plan: usize, units: Units) -> String {
    let mut ranked: Vec<&SweptSetting> = swept.settings.iter().collect();
    let mean_kg = |setting: &SweptSetting| setting.plans[plan].weight_kg.mean.value;
    ranked.sort_by(|a, b| mean_kg(b).total_cmp(&mean_kg(a)));
    ranked.truncate(MAX_ROWS);
    let keys = short_keys(&swept.keys);
    let has_key_columns = keys.len() <= MAX_KEY_COLUMNS;
    let shown_keys: Vec<Vec<String>> = (0..keys.len())
        .map(|key| {
            let values: Vec<&str> =
                ranked.iter().map(|setting| setting.values[key].as_str()).collect();
            readable_values(&values)
        })
        .collect();
    let mut heads: Vec<&str> =
        if has_key_columns { keys.iter().map(String::as_str).collect() } else { vec!["setting"] };
    heads.push("weight");
    heads.extend(has_key_columns.then_some("95\u{a0}% sure"));
    heads.extend(["behind the best", ""]);
    let mut table = empty_table(&heads);
    for (rank, setting) in ranked.iter().enumerate() {
        let (result, mean_kg) = (&setting.plans[plan], setting.plans[plan].weight_kg.mean);
        let mut row: Vec<String> = if has_key_columns {
            shown_keys.iter().map(|values| values[rank].clone()).collect()
        } else {
            vec![setting_name(&swept.keys, &setting.values)]
        };
        row.push(weight(mean_kg.value, units));
        if has_key_columns {
            row.push(interval_ends(mean_kg.interval, |kg| weight(kg, units)));
        }
        row.push(weight(result.shortfall_kg.value, units));
        row.push(match (rank, result.near_best) {
            (0, _) => "best mean".to_owned(),
            (_, true) => "may be within 2\u{a0}%".to_owned(),
            _ => String::new(),
        });
        table.add_row(row);
    }
    let last = heads.len() - 1;
    let text_columns = if has_key_columns { vec![last] } else { vec![0, last] };
    align_columns(&mut table, &text_columns);
    trimmed_lines(&table)
}

/// Whether no setting makes any difference to a plan.
fn makes_no_difference(swept: &SweepResult, plan: usize) -> bool {
    let is_level = |setting: &SweptSetting| {
        let shortfall_kg = setting.plans[plan].shortfall_kg;
        let ends_kg = shortfall_kg.interval.map(|ends_kg| ends_kg.low.abs() + ends_kg.high.abs());
        ends_kg.is_some_and(|ends_kg| shortfall_kg.value.abs() + ends_kg <= 0.0)
    };
    swept.settings.len() > 1 && swept.settings.iter().all(is_level)
}

/// How many settings may be within 2 % of the best, and the range of values in which they lie.
fn near_best_region(swept: &SweepResult, plan: usize) -> String {
    if makes_no_difference(swept, plan) {
        return "These settings make no difference to this plan.".to_owned();
    }
    let near: Vec<&SweptSetting> =
        swept.settings.iter().filter(|setting| setting.plans[plan].near_best).collect();
    let (all, days) = (swept.settings.len(), counted(swept.days, "day"));
    let count = format!(
        "{} of {} may be within 2\u{a0}% of the best; {days} cannot separate them",
        grouped(near.len() as u64),
        grouped(all as u64)
    );
    let range = |(key, name): (usize, &String)| {
        let value = |setting: &&SweptSetting| si_value(&swept.keys[key], &setting.values[key]);
        let mut values: Vec<(f64, &str)> = near
            .iter()
            .filter_map(|setting| Some((value(setting)?.0, setting.values[key].as_str())))
            .collect();
        values.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (first, last) = (values.first()?.1, values.last()?.1);
        let ends = readable_values(&[first, last]);
        Some(if first == last {
            format!("{name} {}", ends[0])
        } else {
            format!("{name} {} to {}", ends[0], ends[1])
        })
    };
    let keys = short_keys(&swept.keys);
    let ranges: Vec<String> = keys.iter().enumerate().filter_map(range).collect();
    match (near.as_slice(), ranges.is_empty()) {
        ([only], _) => format!(
            "1 of {all} may be within 2\u{a0}% of the best: {}.",
            setting_name(&swept.keys, &only.values)
        ),
        (_, true) => format!("{count}."),
        _ => format!("{count}. They lie at {}.", ranges.join(", ")),
    }
}
