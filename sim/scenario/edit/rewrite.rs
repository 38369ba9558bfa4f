//! A scenario's text with plans copied, values set and plans removed, as a person would edit it.

use toml_edit::{DocumentMut, InlineTable, Item, Table, TableLike, Value};

use crate::scenario::diagnose::{Diagnostic, Diagnostics, SourceLocation, quoted};
use crate::scenario::read::ScenarioSource;
use crate::scenario::schema::is_name;
use crate::scenario::values::{item_from_text, split_assignment};

/// Changes to a scenario's text: first the copies, then the values, then the removals.
#[derive(Clone, Copy, Debug, Default)]
pub struct ScenarioEdit<'a> {
    /// Plans to copy: the name of a plan and the name of its copy.
    pub copies: &'a [(String, String)],
    /// Values to set, as `KEY=VALUE`.
    pub sets: &'a [String],
    /// Plans to keep; all if empty.
    pub keep: &'a [String],
}

/// Writes changes into a scenario's text; comments stay in place.
///
/// ```
/// use sim::scenario::{ScenarioEdit, ScenarioSource, rewrite};
/// let text = "line.bar.distance = \"28 m\"\nshoal.all.count = 60\nplan.a.recast = \"2 min\" # as usual\n";
/// let sets = ["plan.a.recast=90 s".to_owned()];
/// let change = ScenarioEdit { sets: &sets, ..ScenarioEdit::default() };
/// let written = rewrite(&ScenarioSource::new(text, "pond"), change).expect("sound");
/// assert!(written.text.contains("plan.a.recast = \"90 s\" # as usual"));
/// ```
///
/// # Errors
///
/// Everything that is wrong with the text and with the values, and plans that do not exist.
pub fn rewrite(
    written: &ScenarioSource,
    change: ScenarioEdit<'_>,
) -> Result<ScenarioSource, Diagnostics> {
    let faults =
        |fault: Box<Diagnostic>| Diagnostics::from_fault(&format!("{}.toml", written.name), *fault);
    let Ok(mut document) = written.text.parse::<DocumentMut>() else {
        // Reading reports where and why; a text without faults is TOML.
        return Err(written.read(&[]).err().unwrap_or_default());
    };
    for (from, to) in change.copies {
        copy_plan(&mut document, from, to).map_err(faults)?;
    }
    // Faults of the values are reported as those of `--set`.
    written.with_text(document.to_string()).read(change.sets)?;
    for set in change.sets {
        write_value(&mut document, set);
    }
    remove_plans(&mut document, change.keep).map_err(faults)?;
    let written = written.with_text(document.to_string());
    written.read(&[])?;
    Ok(written)
}

fn plans(document: &mut DocumentMut) -> Option<&mut dyn TableLike> {
    document.get_mut("plan").and_then(Item::as_table_like_mut)
}

fn no_plan(name: &str) -> Box<Diagnostic> {
    let problem = format!("the scenario has no plan named {}", quoted(name));
    Box::new(Diagnostic::new(&SourceLocation::Set, "plan", problem, "name one of its plans"))
}

fn copy_plan(document: &mut DocumentMut, from: &str, to: &str) -> Result<(), Box<Diagnostic>> {
    let plans = plans(document).ok_or_else(|| no_plan(from))?;
    let item = plans.get(from).ok_or_else(|| no_plan(from))?.clone();
    if !is_name(to) || plans.contains_key(to) {
        let problem = format!("{} cannot be the name of a copy", quoted(to));
        let fix = "use a name that no plan has, of letters, digits, - and _";
        return Err(Box::new(Diagnostic::new(&SourceLocation::Set, "plan", problem, fix)));
    }
    plans.insert(to, item);
    Ok(())
}

/// Writes one value, already checked, into the text.
fn write_value(document: &mut DocumentMut, set: &str) {
    let Some((key, value)) = split_assignment(set) else { return };
    let item = item_from_text(key, value, false, &mut Diagnostics::default());
    let Some(Item::Value(mut new)) = item else { return };
    let mut words: Vec<&str> = key.split('.').collect();
    let Some(last) = words.pop() else { return };
    let mut table: &mut dyn TableLike = document.as_table_mut();
    let mut is_inline = false;
    for word in words {
        let missing = if is_inline {
            Item::Value(Value::InlineTable(InlineTable::new()))
        } else {
            let mut table = Table::new();
            table.set_implicit(true);
            Item::Table(table)
        };
        let item = table.entry(word).or_insert(missing);
        is_inline = item.is_inline_table();
        let Some(below) = item.as_table_like_mut() else { return };
        table = below;
    }
    match table.get_mut(last) {
        Some(Item::Value(old)) => {
            *new.decor_mut() = old.decor().clone();
            *old = new;
        }
        _ => {
            table.insert(last, Item::Value(new));
        }
    }
}

fn remove_plans(document: &mut DocumentMut, keep: &[String]) -> Result<(), Box<Diagnostic>> {
    let Some(plans) = plans(document) else { return Ok(()) };
    if let Some(unknown_key) = keep.iter().find(|name| !plans.contains_key(name)) {
        return Err(no_plan(unknown_key));
    }
    let names: Vec<String> = plans.iter().map(|(name, _)| name.to_owned()).collect();
    for name in names.iter().filter(|name| !keep.is_empty() && !keep.contains(name)) {
        plans.remove(name);
    }
    Ok(())
}
