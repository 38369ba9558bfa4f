//! Checks that look at several keys: something is missing, a name is unknown, or there are too many entries.

use std::collections::BTreeMap;

use crate::scenario::diagnose::{
    Diagnostic, Diagnostics, SourceLocation, listed, nearest_name, quoted,
};
use crate::scenario::schema::{
    ENTRY_LIMITS, EntryLimit, FullKey, KeyDefault, Kind, MAX_LINES, Referent, aim, key_of, keys,
    plan, rule, water,
};
use crate::scenario::values::ValueTable;

/// Largest number of plans in one scenario.
const MAX_PLANS: usize = 50;

/// Checks everything that can be checked before the scenario is assembled.
pub(crate) fn check_keys(table: &ValueTable, faults: &mut Diagnostics) {
    missing_tables(table, faults);
    too_many_entries(table, faults);
    missing_keys(table, faults);
    names_of_nothing(table, faults);
    soundings(table, faults);
    wind(table, faults);
    section(table, faults);
}

/// Checks that a text has no more tables of a kind than can be read quickly; a text with more is not read any further.
pub(crate) fn check_sizes(tables: &[(String, SourceLocation)], faults: &mut Diagnostics) -> bool {
    // For each table with limited entries: its limit, the number of its entries, and the first entry beyond the limit.
    let mut counts: BTreeMap<&str, (EntryLimit, usize, Option<usize>)> = BTreeMap::new();
    for (index, (dotted, _)) in tables.iter().enumerate() {
        let Some((above, _)) = dotted.rsplit_once('.') else { continue };
        let Some(limit) = ENTRY_LIMITS.iter().find(|limit| limit.table.fits(above)) else {
            continue;
        };
        let (_, count, beyond) = counts.entry(above).or_insert((*limit, 0, None));
        *count += 1;
        if *count == limit.max + 1 {
            *beyond = Some(index);
        }
    }
    let mut is_small = true;
    for (limit, count, beyond) in counts.into_values() {
        let Some((dotted, place)) = beyond.and_then(|index| tables.get(index)) else { continue };
        let noun = limit.table.noun();
        let ending = if noun.ends_with('s') { "es" } else { "s" };
        let problem = format!("{count} {noun}{ending}");
        let fix = format!("{} {}", limit.max, limit.words);
        faults.add(Diagnostic::new(place, dotted, problem, fix));
        is_small = false;
    }
    is_small
}

fn missing_tables(table: &ValueTable, faults: &mut Diagnostics) {
    // What is missing has no line of its own.
    let first = SourceLocation::Line(1);
    if table.names(water::LINES, &[]).is_empty() {
        let fix = "write [line.NAME] with its distance, such as distance = \"28 m\"";
        faults.add(Diagnostic::new(&first, "line", "there is no line to fish", fix));
    }
    if table.names(plan::PLANS, &[]).is_empty() {
        let fix = "write [plan.NAME]; every key below it may be left out";
        faults.add(Diagnostic::new(&first, "plan", "there is no plan to fish", fix));
    }
}

fn too_many_entries(table: &ValueTable, faults: &mut Diagnostics) {
    for (entries, max, limit) in [
        (water::LINES, MAX_LINES, "lines at most can be fished from one peg"),
        (plan::PLANS, MAX_PLANS, "plans at most can be compared"),
    ] {
        let names = table.names(entries, &[]);
        if let Some(name) = names.get(max) {
            let problem = format!("{} {}s", names.len(), entries.noun());
            faults.add(table.fault(&entries.entry(&[name]), problem, format!("{max} {limit}")));
        }
    }
}

/// Checks that every table has its required keys.
fn missing_keys(table: &ValueTable, faults: &mut Diagnostics) {
    for key in keys().filter(|key| key.default == KeyDefault::Required) {
        let Some((entries, _)) = key.pattern.rsplit_once(".*.") else { continue };
        for name in table.names_below(entries) {
            let path = key.at(&[name]);
            if !table.has(&path) {
                faults.add(missing_key(table, &format!("{entries}.{name}"), &path));
            }
        }
    }
}

/// The fault of a required key that is missing in an entry.
pub(crate) fn missing_key(table: &ValueTable, entry: &str, key: &impl FullKey) -> Diagnostic {
    let fix = format!("write {}", key.spec().such_as());
    Diagnostic::new(&table.place(entry), key.dotted(), "is missing", fix)
}

fn names_of_nothing(table: &ValueTable, faults: &mut Diagnostics) {
    for (dotted, name) in table.texts() {
        if let Some(Kind::NameOf(referent)) = key_of(dotted).map(|key| key.kind) {
            check_name(table, referent, name, dotted, faults);
        }
    }
    for plan in table.names(plan::PLANS, &[]) {
        let mut feeds = vec![plan::FEEDS.at(&[plan])];
        for phase in table.names(plan::PHASES, &[plan]) {
            feeds.push(plan::PHASE_FEEDS.at(&[plan, phase]));
        }
        for rule in table.names(rule::RULES, &[plan]) {
            feeds.push(rule::RULE_FEEDS.at(&[plan, rule]));
        }
        for feed in feeds {
            for line in table.names_below(&feed) {
                check_name(table, Referent::Line, line, &format!("{feed}.{line}"), faults);
            }
        }
    }
}

fn check_name(
    table: &ValueTable,
    referent: Referent,
    name: &str,
    dotted: &str,
    faults: &mut Diagnostics,
) {
    let noun = referent.noun();
    let known = table.names_of(referent);
    if !known.contains(&name) {
        let near = nearest_name(name, known.iter().copied());
        let problem = format!("there is no {noun} named {}", quoted(name));
        faults
            .add(table.fault(dotted, problem, format!("known here: {}", listed(known))).near(near));
    }
}

fn soundings(table: &ValueTable, faults: &mut Diagnostics) {
    let mut along_bank: Vec<(f64, &str)> = Vec::new();
    for name in table.names(water::SOUNDINGS, &[]) {
        if !place_of_sounding(table, name, faults) {
            continue;
        }
        let key = water::SOUNDING_DISTANCE.at(&[name]);
        let Some(distance_m) = table.given(&key) else { continue };
        if let Some((_, other)) =
            along_bank.iter().find(|(known_m, _)| (known_m - distance_m).abs() < 1e-9)
        {
            let problem = format!("the sounding {} is at the same distance", quoted(other));
            let fix = "each distance has one depth: remove one of the two";
            faults.add(table.fault(key.dotted(), problem, fix));
        }
        along_bank.push((distance_m, name));
    }
    if !along_bank.is_empty() && table.has(&water::DEPTH) {
        let problem = "is not used if there are soundings by distance from the bank";
        let fix = "remove either water.depth or the soundings";
        faults.add(table.fault(water::DEPTH.dotted(), problem, fix));
    }
}

/// Checks that a sounding says where it was measured in one way; returns whether it holds all along the bank.
fn place_of_sounding(table: &ValueTable, name: &str, faults: &mut Diagnostics) -> bool {
    let distance = water::SOUNDING_DISTANCE.at(&[name]);
    let bearing = water::SOUNDING_BEARING.at(&[name]);
    let (across, out) = (water::SOUNDING_ACROSS.at(&[name]), water::SOUNDING_OUT.at(&[name]));
    let entry = water::SOUNDINGS.entry(&[name]);
    let fix = "write distance = \"6 m\" from the bank, or across = \"-4 m\" and out = \"6 m\"";
    let (has_across, has_out) = (table.has(&across), table.has(&out));
    if has_across || has_out {
        if let Some(other) = [&distance, &bearing].into_iter().find(|key| table.has(*key)) {
            let problem = "cannot be used together with across and out, which also say where it is";
            faults.add(table.fault(other.dotted(), problem, fix));
        } else if has_across != has_out {
            let missing = if has_across { out } else { across };
            faults.add(Diagnostic::new(&table.place(&entry), missing.dotted(), "is missing", fix));
        }
        return false;
    }
    if !table.has(&distance) {
        let problem = "does not say where the depth was measured";
        faults.add(table.fault(&entry, problem, fix));
        return false;
    }
    !table.has(&bearing)
}

/// Checks that the direction of the wind is written in one way.
fn wind(table: &ValueTable, faults: &mut Diagnostics) {
    if table.has(&water::WIND_FROM) && table.has(&water::WIND_TO) {
        let problem = "cannot be used together with wind_to, which also says the direction";
        let fix = "write either wind_from = \"behind me\" or wind_to = \"90 deg\"";
        faults.add(table.fault(water::WIND_FROM.dotted(), problem, fix));
    }
}

/// Checks that rivals' weights come from one key, and that fewer places frame than there are anglers.
fn section(table: &ValueTable, faults: &mut Diagnostics) {
    let section = aim::SECTION.at(&[]);
    if !table.has_table(&section) {
        return;
    }
    let has_past = table.has(&aim::WEIGH_INS);
    if table.has(&aim::RIVAL_WEIGHT) == has_past {
        let (dotted, problem) = if has_past {
            let problem =
                "cannot be used together with section.weight, which also says what rivals weigh in";
            (aim::WEIGH_INS.dotted(), problem)
        } else {
            (section.as_str(), "does not say what rivals weigh in")
        };
        let fix = "write either weight = { mean = \"40 lb\", cv = 0.5 } or weigh_ins = \"FILE.csv\" below \
                   [section]";
        faults.add(table.fault(dotted, problem, fix));
    }
    let (places, rivals) = (table.value(&aim::PLACES), table.value(&aim::RIVALS));
    let unread = table.failed(&aim::PLACES) || table.failed(&aim::RIVALS);
    if places > rivals && !unread {
        let key = if table.has(&aim::PLACES) { aim::PLACES } else { aim::RIVALS };
        let problem = format!("{places} places frame among {rivals} rivals, so everybody frames");
        let fix = "use fewer places than there are anglers in the section";
        faults.add(table.fault(key.dotted(), problem, fix));
    }
}
