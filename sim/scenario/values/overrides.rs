//! Values from the command line, laid over those of the file: `--set KEY=VALUE`.

use toml_edit::Item;

use super::toml_text::{Entries, Entry, RawValue, split_item, unknown_key};
use super::value_table::default_entry;
use crate::scenario::diagnose::{Fault, Faults, Place, listed, nearest, quoted};
use crate::scenario::schema::{Kind, is_name, key_of};

/// Kinds of things that a value from the command line may change but not bring into being.
const NAMED: [&str; 7] =
    ["water.sounding", "water.feature", "line", "bait", "hookbait", "shoal", "plan"];

/// Lays `--set` values over the leaves of a file; `known` are the tables that exist.
pub(crate) fn overlay(
    leaves: &mut Entries,
    sets: &[String],
    known: &[(String, Place)],
    faults: &mut Faults,
) {
    for set in sets {
        if let Some(found) = read(set, faults) {
            let strange = found.tables.iter().find_map(|(table, _)| is_strange(table, known));
            match strange {
                Some(fault) => faults.add(fault),
                None => found.values.into_iter().for_each(|leaf| lay_over(leaves, leaf)),
            }
            for table in found.tables {
                if !leaves.tables.iter().any(|(name, _)| *name == table.0) {
                    leaves.tables.push(table);
                }
            }
        }
    }
}

/// Takes one `KEY=VALUE` apart; what is wrong with it is added to `faults`.
fn read(set: &str, faults: &mut Faults) -> Option<Entries> {
    let Some((key, value)) = split_assignment(set) else {
        let wrong = format!("{} is not KEY=VALUE", quoted(set));
        let mend = "write a dotted key and a value, such as plan.two-minutes.recast=90s";
        faults.add(Fault::new(&Place::Set, "", wrong, mend));
        return None;
    };
    if let Some(name) = key.split('.').find(|name| !is_name(name)) {
        let wrong = format!("{} cannot be a name in a key", quoted(name));
        let mend = "a dotted key has names of letters, digits, - and _, parted by dots";
        faults.add(Fault::new(&Place::Set, "", wrong, mend));
        return None;
    }
    let (spread, part) = match key.rsplit_once('.') {
        Some((above, part)) if key_of(above).is_some_and(|key| key.spreads) => (above, Some(part)),
        _ => (key, None),
    };
    let item = item_of(spread, value, part.is_some(), faults)?;
    let mut found = split_item_below(spread, &item, faults);
    if let (Some(part), Some(leaf)) = (part, found.values.first_mut()) {
        let written = std::mem::replace(&mut leaf.written, RawValue::List);
        let part = Entry { key: part.to_owned(), written, place: Place::Set };
        leaf.written = RawValue::Parts(vec![part]);
    }
    Some(found)
}

/// Key and value of `KEY=VALUE`, without the blanks around them.
pub(crate) fn split_assignment(set: &str) -> Option<(&str, &str)> {
    let (key, value) = set.split_once('=')?;
    let (key, value) = (key.trim(), value.trim());
    (!key.is_empty() && !value.is_empty()).then_some((key, value))
}

/// The value as TOML where it is that, else as text that needs no quotation marks here.
pub(crate) fn item_of(key: &str, value: &str, is_part: bool, faults: &mut Faults) -> Option<Item> {
    let textual = key_of(key)
        .is_some_and(|key| matches!(key.kind, Kind::Text | Kind::Choice(_) | Kind::NameOf(_)));
    let parsed = value.parse::<toml_edit::Value>();
    match parsed {
        Ok(value) if !textual || value.is_str() => Some(Item::Value(value)),
        Err(why) if value.starts_with(['{', '[', '"', '\'']) => {
            let reason = why.message().lines().collect::<Vec<_>>().join(", ");
            let wrong = format!("{} is no value", quoted(value));
            let mend = format!(
                "a spread is written {{ low = \"15 C\", high = \"20 C\" }}; the parser says: {reason}"
            );
            let key = if is_part { format!("{key}.…") } else { key.to_owned() };
            faults.add(Fault::new(&Place::Set, key, wrong, mend));
            None
        }
        _ => Some(Item::Value(value.into())),
    }
}

/// As [`split_item`], with the tables above the key mentioned too, and a key that nothing reads told.
fn split_item_below(key: &str, item: &Item, faults: &mut Faults) -> Entries {
    let mut tables = Vec::new();
    for (dot, _) in key.match_indices('.') {
        let above = &key[..dot];
        if key_of(above).is_some() {
            faults.add(unknown_key(key, &Place::Set));
            return Entries::default();
        }
        tables.push((above.to_owned(), Place::Set));
    }
    let mut found = split_item(key, item, &Place::Set, faults);
    tables.append(&mut found.tables);
    found.tables = tables;
    found
}

/// The fault of a table that names something which does not exist.
fn is_strange(table: &str, known: &[(String, Place)]) -> Option<Fault> {
    let (above, name) = table.rsplit_once('.')?;
    // A rule stands below its plan, whose name is the user's own.
    let is_named =
        NAMED.contains(&above) || (above.starts_with("plan.") && above.ends_with(".rule"));
    if !is_named || known.iter().any(|(exists, _)| exists == table) {
        return None;
    }
    let names = || {
        known.iter().filter_map(|(exists, _)| {
            let name = exists.strip_prefix(above)?.strip_prefix('.')?;
            (!name.contains('.')).then_some(name)
        })
    };
    let kind = above.rsplit('.').next().unwrap_or(above);
    let near = nearest(name, names()).map(|near| format!("{above}.{near}"));
    let wrong = format!("the scenario has no {kind} named {}", quoted(name));
    let mend = format!("it has: {}", listed(names()));
    Some(Fault::new(&Place::Set, table, wrong, mend).near(near))
}

/// Lays one value over those of the file; one part of a spread joins the parts that are there.
fn lay_over(leaves: &mut Entries, leaf: Entry) {
    let found = leaves.values.iter().position(|there| there.key == leaf.key);
    let RawValue::Parts(new) = &leaf.written else {
        match found {
            Some(at) => leaves.values[at] = leaf,
            None => leaves.values.push(leaf),
        }
        return;
    };
    let there = match found {
        Some(at) => Some(leaves.values.remove(at)),
        None => default_entry(&leaf.key),
    };
    let mut parts = match there {
        Some(Entry { written: RawValue::Parts(parts), .. }) if new.len() == 1 => parts,
        _ => Vec::new(),
    };
    for part in new {
        parts.retain(|known| known.key != part.key);
        parts.push(part.clone());
    }
    leaves.values.push(Entry { written: RawValue::Parts(parts), ..leaf });
}
