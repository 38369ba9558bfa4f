//! The tackle of a plan, of a phase or of a rule, as far as it is written.

use crate::angler::{EndTackle, Tackle, TackleChange};
use crate::bait::LoadStyle;
use crate::scenario::schema::{ChoiceKeys, Key, plan as keys};
use crate::scenario::values::{Names, ValueTable, default_of};

/// The tackle of a plan that says nothing of it.
pub(super) fn default_tackle(names: &Names<'_>) -> Tackle {
    let keys = keys::CHOICES;
    Tackle {
        line: names.line(&default_of(keys.line)).unwrap_or_default(),
        recast_s: default_of(keys.recast),
        load_kg: default_of(keys.load),
        feeder_kg: default_of(keys.feeder),
        recipe: names.recipe(&default_of(keys.bait)).unwrap_or_default(),
        buried: default_of(keys.load_style) == LoadStyle::Buried,
        compression: default_of(keys.squeeze),
        hookbait: names.hookbait(&default_of(keys.hookbait)).unwrap_or_default(),
        end: EndTackle::default(),
    }
}

/// What the table of a plan, phase or rule says of the tackle; `path` are the names in the path of the table. Names that
/// are unknown were reported earlier.
pub(super) fn written_tackle(
    table: &ValueTable,
    names: &Names<'_>,
    keys: &ChoiceKeys,
    path: &[&str],
) -> TackleChange {
    let number = |key: Key<f64>| table.given(&key.at(path));
    let name = |key: Key<String>| table.given(&key.at(path));
    TackleChange {
        line: name(keys.line).and_then(|line| names.line(&line)),
        recast_s: number(keys.recast),
        load_kg: number(keys.load),
        feeder_kg: number(keys.feeder),
        recipe: name(keys.bait).and_then(|bait| names.recipe(&bait)),
        buried: table.given(&keys.load_style.at(path)).map(|style| style == LoadStyle::Buried),
        compression: number(keys.squeeze),
        hookbait: name(keys.hookbait).and_then(|hookbait| names.hookbait(&hookbait)),
        end: EndTackle {
            line_strength_kg: number(keys.line_strength),
            hook: table.given(&keys.hook.at(path)),
        },
    }
}
