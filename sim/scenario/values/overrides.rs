//! Values from the command line that override those of the file: `--set KEY=VALUE`.

use toml_edit::Item;

use super::toml_text::{Entries, Entry, RawValue, split_item, unknown_key};
use super::value_table::default_entry;
use crate::scenario::diagnose::{
    Diagnostic, Diagnostics, SourceLocation, listed, nearest_name, quoted,
};
use crate::scenario::schema::{Kind, Table, bait, is_name, key_of, plan, rule, shoal, water};

/// Tables whose entries `--set` may change but not create.
const NAMED: [Table; 9] = [
    water::SOUNDINGS,
    water::FEATURES,
    water::LINES,
    bait::BAITS,
    bait::HOOKBAITS,
    shoal::SHOALS,
    shoal::MOVES,
    plan::PLANS,
    rule::RULES,
];

/// Puts `--set` values over the entries of a file; `known` are the tables that exist.
pub(crate) fn apply_overrides(
    entries: &mut Entries,
    sets: &[String],
    known: &[(String, SourceLocation)],
    faults: &mut Diagnostics,
) {
    for set in sets {
        if let Some(new) = read_override(set, faults) {
            let unknown = new.tables.iter().find_map(|(table, _)| unknown_entry(table, known));
            match unknown {
                Some(fault) => faults.add(fault),
                None => new.values.into_iter().for_each(|entry| replace(entries, entry)),
            }
            for table in new.tables {
                if !entries.tables.iter().any(|(name, _)| *name == table.0) {
                    entries.tables.push(table);
                }
            }
        }
    }
}

/// Reads one `KEY=VALUE`; what is wrong with it is added to `faults`.
fn read_override(set: &str, faults: &mut Diagnostics) -> Option<Entries> {
    let Some((key, value)) = split_assignment(set) else {
        let problem = format!("{} is not KEY=VALUE", quoted(set));
        let fix = "write a dotted key and a value, such as plan.two-minutes.recast=90s";
        faults.add(Diagnostic::new(&SourceLocation::Set, "", problem, fix));
        return None;
    };
    if let Some(fault) = bad_name(key, &SourceLocation::Set) {
        faults.add(fault);
        return None;
    }
    let (spread, part) = match key.rsplit_once('.') {
        Some((above, part)) if key_of(above).is_some_and(|key| key.varies) => (above, Some(part)),
        _ => (key, None),
    };
    let item = item_from_text(spread, value, part.is_some(), faults)?;
    let mut entries = split_item_below(spread, &item, faults);
    if let (Some(part), Some(entry)) = (part, entries.values.first_mut()) {
        let raw = std::mem::replace(&mut entry.raw, RawValue::List);
        let part = Entry { key: part.to_owned(), raw, place: SourceLocation::Set };
        entry.raw = RawValue::Parts(vec![part]);
    }
    Some(entries)
}

/// The fault of a dotted key with a segment that cannot be a name. `None` if all can.
pub(crate) fn bad_name(dotted: &str, place: &SourceLocation) -> Option<Diagnostic> {
    let name = dotted.split('.').find(|name| !is_name(name))?;
    let problem = format!("{} cannot be a name in a key", quoted(name));
    let fix = "a dotted key has names of letters, digits, - and _, separated by dots";
    Some(Diagnostic::new(place, "", problem, fix))
}

/// Key and value of `KEY=VALUE`, without the spaces around them.
pub(crate) fn split_assignment(set: &str) -> Option<(&str, &str)> {
    let (key, value) = set.split_once('=')?;
    let (key, value) = (key.trim(), value.trim());
    (!key.is_empty() && !value.is_empty()).then_some((key, value))
}

/// The value as TOML if it is TOML, otherwise as text, which needs no quotation marks here.
pub(crate) fn item_from_text(
    key: &str,
    value: &str,
    is_part: bool,
    faults: &mut Diagnostics,
) -> Option<Item> {
    let is_text = key_of(key)
        .is_some_and(|key| matches!(key.kind, Kind::Text | Kind::Choice(_) | Kind::NameOf(_)));
    let parsed = value.parse::<toml_edit::Value>();
    match parsed {
        Ok(value) if !is_text || value.is_str() => Some(Item::Value(value)),
        Err(error) if value.starts_with(['{', '[', '"', '\'']) => {
            let reason = error.message().lines().collect::<Vec<_>>().join(", ");
            let problem = format!("{} is not a value", quoted(value));
            let fix = format!(
                "a spread is written {{ low = \"15 C\", high = \"20 C\" }}; the parser reports: {reason}"
            );
            let key = if is_part { format!("{key}.…") } else { key.to_owned() };
            faults.add(Diagnostic::new(&SourceLocation::Set, key, problem, fix));
            None
        }
        _ => Some(Item::Value(value.into())),
    }
}

/// As [`split_item`], with the tables above the key included; an unknown key is a fault.
fn split_item_below(key: &str, item: &Item, faults: &mut Diagnostics) -> Entries {
    let mut tables = Vec::new();
    for (dot, _) in key.match_indices('.') {
        let above = &key[..dot];
        if key_of(above).is_some() {
            faults.add(unknown_key(key, &SourceLocation::Set));
            return Entries::default();
        }
        tables.push((above.to_owned(), SourceLocation::Set));
    }
    let mut entries = split_item(key, item, &SourceLocation::Set, faults);
    tables.append(&mut entries.tables);
    entries.tables = tables;
    entries
}

/// The fault of an entry that does not exist, such as a plan. `None` if it exists or may be created.
fn unknown_entry(entry: &str, known: &[(String, SourceLocation)]) -> Option<Diagnostic> {
    let (above, name) = entry.rsplit_once('.')?;
    let table = NAMED.into_iter().find(|table| table.fits(above))?;
    if known.iter().any(|(exists, _)| exists == entry) {
        return None;
    }
    let names = || {
        known.iter().filter_map(|(exists, _)| {
            let name = exists.strip_prefix(above)?.strip_prefix('.')?;
            (!name.contains('.')).then_some(name)
        })
    };
    let near = nearest_name(name, names()).map(|near| format!("{above}.{near}"));
    let problem = format!("the scenario has no {} named {}", table.noun(), quoted(name));
    let fix = format!("it has: {}", listed(names()));
    Some(Diagnostic::new(&SourceLocation::Set, entry, problem, fix).near(near))
}

/// Replaces one value of the file; a single part of a spread is merged with the parts already there.
fn replace(entries: &mut Entries, entry: Entry) {
    let index = entries.values.iter().position(|old| old.key == entry.key);
    let RawValue::Parts(new) = &entry.raw else {
        match index {
            Some(index) => entries.values[index] = entry,
            None => entries.values.push(entry),
        }
        return;
    };
    let old = match index {
        Some(index) => Some(entries.values.remove(index)),
        None => key_of(&entry.key).and_then(|key| default_entry(&entry.key, key)),
    };
    let mut parts = match old {
        Some(Entry { raw: RawValue::Parts(parts), .. }) if new.len() == 1 => parts,
        _ => Vec::new(),
    };
    for part in new {
        parts.retain(|known| known.key != part.key);
        parts.push(part.clone());
    }
    entries.values.push(Entry { raw: RawValue::Parts(parts), ..entry });
}
