//! A scenario's text with plans copied, values set and plans left out, as one would write it by hand.

use crate::scenario::diagnose::{Fault, Faults, Place, quoted};
use crate::scenario::read::Written;
use crate::scenario::schema::is_name;
use crate::scenario::values::{item_of, split_assignment};
use toml_edit::{DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// What is changed in a scenario's text; copies first, then values, then what is left out.
#[derive(Clone, Copy, Debug, Default)]
pub struct Change<'a> {
    /// Plans copied: the name of one, and a new name.
    pub copies: &'a [(String, String)],
    /// Values, as `KEY=VALUE`.
    pub sets: &'a [String],
    /// Plans that stay; all where none is named.
    pub keep: &'a [String],
}

/// A scenario with a change written into its text; comments stay where they stood.
///
/// ```
/// use sim::scenario::{Change, Written, rewrite};
/// let text = "line.bar.distance = \"28 m\"\nshoal.all.count = 60\nplan.a.recast = \"2 min\" # as usual\n";
/// let sets = ["plan.a.recast=90 s".to_owned()];
/// let change = Change { sets: &sets, ..Change::default() };
/// let written = rewrite(&Written::new(text, "pond"), change).expect("sound");
/// assert!(written.text.contains("plan.a.recast = \"90 s\" # as usual"));
/// ```
///
/// # Errors
///
/// Everything that is wrong with the text and with what is set, and plans that do not exist.
pub fn rewrite(written: &Written, change: Change<'_>) -> Result<Written, Faults> {
    let told = |fault| Faults::one(&format!("{}.toml", written.name), fault);
    let Ok(mut document) = written.text.parse::<DocumentMut>() else {
        // Reading says where and why; what it lets pass is TOML.
        return Err(written.read(&[]).err().unwrap_or_default());
    };
    for (from, to) in change.copies {
        copy_plan(&mut document, from, to).map_err(|fault| told(*fault))?;
    }
    // Faults of what is set are told as those of `--set` are.
    written.with_text(document.to_string()).read(change.sets)?;
    for set in change.sets {
        write(&mut document, set);
    }
    leave_out(&mut document, change.keep).map_err(|fault| told(*fault))?;
    let written = written.with_text(document.to_string());
    written.read(&[])?;
    Ok(written)
}

fn plans(document: &mut DocumentMut) -> Option<&mut dyn TableLike> {
    document.get_mut("plan").and_then(Item::as_table_like_mut)
}

fn no_plan(name: &str) -> Box<Fault> {
    let wrong = format!("the scenario has no plan named {}", quoted(name));
    Box::new(Fault::new(&Place::Set, "plan", wrong, "name one of its plans"))
}

fn copy_plan(document: &mut DocumentMut, from: &str, to: &str) -> Result<(), Box<Fault>> {
    let plans = plans(document).ok_or_else(|| no_plan(from))?;
    let item = plans.get(from).ok_or_else(|| no_plan(from))?.clone();
    if !is_name(to) || plans.contains_key(to) {
        let wrong = format!("{} cannot be the name of a copy", quoted(to));
        let mend = "give a name that no plan has, of letters, digits, - and _";
        return Err(Box::new(Fault::new(&Place::Set, "plan", wrong, mend)));
    }
    plans.insert(to, item);
    Ok(())
}

/// Writes one value that was found sound into the text.
fn write(document: &mut DocumentMut, set: &str) {
    let Some((key, value)) = split_assignment(set) else { return };
    let Some(Item::Value(mut new)) = item_of(key, value, false, &mut Faults::default()) else {
        return;
    };
    let mut words: Vec<&str> = key.split('.').collect();
    let Some(last) = words.pop() else { return };
    let mut table: &mut dyn TableLike = document.as_table_mut();
    let mut inline = false;
    for word in words {
        let missing = match inline {
            true => Item::Value(Value::InlineTable(InlineTable::new())),
            false => {
                let mut table = Table::new();
                table.set_implicit(true);
                Item::Table(table)
            }
        };
        let item = table.entry(word).or_insert(missing);
        inline = item.is_inline_table();
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

fn leave_out(document: &mut DocumentMut, keep: &[String]) -> Result<(), Box<Fault>> {
    let Some(plans) = plans(document) else { return Ok(()) };
    if let Some(strange) = keep.iter().find(|name| !plans.contains_key(name)) {
        return Err(no_plan(strange));
    }
    let names: Vec<String> = plans.iter().map(|(name, _)| name.to_owned()).collect();
    for name in names.iter().filter(|name| !keep.is_empty() && !keep.contains(name)) {
        plans.remove(name);
    }
    Ok(())
}
