//! Baits and hookbaits, built in and the scenario's own, each on the base that it names.

use std::sync::LazyLock;

use crate::bait::{Class, Hookbait, Recipe, Shape};
use crate::scenario::check::missing;
use crate::scenario::diagnose::{Fault, Faults, Place, quoted};
use crate::scenario::schema::tidy;
use crate::scenario::values::{ValueTable, split_text};

/// The baits and hookbaits that come with the program.
pub(crate) fn built_in() -> &'static ValueTable {
    static BUILT_IN: LazyLock<ValueTable> = LazyLock::new(|| {
        let mut faults = Faults::default();
        let mut leaves = split_text(include_str!("built_in.toml"), &mut faults)
            .expect("the built-in baits are TOML");
        leaves.values.iter_mut().for_each(|leaf| leaf.place = Place::BuiltIn);
        leaves.tables.iter_mut().for_each(|(_, place)| *place = Place::BuiltIn);
        let mut sheet = ValueTable::default();
        sheet.take(leaves, &mut faults);
        assert!(faults.is_empty(), "the built-in baits:\n{faults}");
        sheet
    });
    &BUILT_IN
}

/// A thing and those that it is like, nearest first; a circle of them is a fault.
fn chain(sheet: &ValueTable, table: &str, name: &str, faults: &mut Faults) -> Vec<String> {
    let own = format!("{table}.{name}");
    let like = format!("{own}.like");
    if sheet.has(&like) && built_in().has_table(&own) && sheet.place(&like) != Place::BuiltIn {
        let wrong = format!("{} is built in and stands on its own", quoted(name));
        let mend = format!("give a {table} of your own another name, and let that be like it");
        faults.add(Fault::new(&sheet.place(&like), like, wrong, mend));
        return vec![own];
    }
    let mut chain = vec![own];
    let mut last = name.to_owned();
    while let Some(base) = sheet.given_text(&format!("{table}.{last}.like")) {
        let link = format!("{table}.{base}");
        if chain.contains(&link) {
            if base == name {
                let wrong = "a circle: it is like itself, directly or through others";
                faults.add(Fault::new(&sheet.place(&like), like, wrong, "take out one `like`"));
            }
            break;
        }
        if !sheet.has_table(&link) {
            break;
        }
        chain.push(link);
        last = base;
    }
    chain
}

/// The dotted key below the first of a chain that has it written, else below the thing itself.
fn first_written(sheet: &ValueTable, chain: &[String], key: &str) -> String {
    let dotted = |table: &String| format!("{table}.{key}");
    let written = chain.iter().map(dotted).find(|dotted| sheet.has(dotted));
    written.unwrap_or_else(|| format!("{}.{key}", chain[0]))
}

/// Every bait, those built in first.
pub(crate) fn recipes(sheet: &ValueTable, faults: &mut Faults) -> Vec<Recipe> {
    let recipe = |name: &str, faults: &mut Faults| {
        let chain = chain(sheet, "bait", name, faults);
        let number = |key: &str| sheet.number(&first_written(sheet, &chain, key));
        Recipe {
            name: name.to_owned(),
            classes: classes(sheet, &chain, faults),
            mouthful_kg: number("mouthful"),
            attractant_mol_kg: number("attractant"),
            opens_after_s: number("opens_after"),
        }
    };
    sheet.names("bait").into_iter().map(|name| recipe(name, faults)).collect()
}

/// Particle classes of a bait: those of its bases, changed and added to by its own.
fn classes(sheet: &ValueTable, chain: &[String], faults: &mut Faults) -> Vec<Class> {
    let bait = &chain[0];
    let mut names: Vec<&str> = Vec::new();
    for table in chain.iter().rev() {
        for name in sheet.names(&format!("{table}.class")) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    if names.is_empty() {
        let wrong = "has no particles";
        let mend =
            format!("write [{bait}.class.NAME] with diameter and share, or like = \"groundbait\"");
        faults.add(Fault::new(&sheet.place(bait), bait, wrong, mend));
        return Vec::new();
    }
    let mut classes = Vec::new();
    let mut readable = true;
    for name in names {
        let at = |word: &str| first_written(sheet, chain, &format!("class.{name}.{word}"));
        for word in ["diameter", "share"] {
            if !sheet.has(&at(word)) {
                let table = format!("{bait}.class.{name}");
                faults.add(missing(sheet, &table, &format!("{table}.{word}")));
                readable = false;
            }
        }
        readable &= !sheet.failed(&at("share"));
        classes.push(Class {
            name: name.to_owned(),
            diameter_m: sheet.number(&at("diameter")),
            density_kg_m3: sheet.number(&at("density")),
            share: sheet.number(&at("share")),
            edible_share: sheet.number(&at("edible")),
            shape: match sheet.text(&at("shape")).as_str() {
                "sphere" => Shape::Sphere,
                _ => Shape::Grain,
            },
        });
    }
    let sum: f64 = classes.iter().map(|class| class.share).sum();
    if readable && (sum - 1.0).abs() > 1e-6 {
        let shares: Vec<_> =
            classes.iter().map(|class| format!("{} {}", class.name, class.share)).collect();
        let wrong =
            format!("the shares of its classes add up to {} ({})", tidy(sum), shares.join(", "));
        let mend = "they must add up to 1; a share of 0 takes a class of its base out";
        faults.add(Fault::new(&place_of_shares(sheet, bait), format!("{bait}.class"), wrong, mend));
    }
    classes.retain(|class| class.share > 0.0);
    classes
}

/// Where the user last touched the shares of a bait.
fn place_of_shares(sheet: &ValueTable, bait: &str) -> Place {
    let prefix = format!("{bait}.class.");
    sheet
        .keys()
        .filter(|(dotted, place)| {
            dotted.starts_with(&prefix) && dotted.ends_with(".share") && **place != Place::BuiltIn
        })
        .map(|(_, place)| place.clone())
        .max()
        .unwrap_or_else(|| sheet.place(bait))
}

/// Every hookbait, those built in first.
pub(crate) fn hookbaits(sheet: &ValueTable, faults: &mut Faults) -> Vec<Hookbait> {
    let hookbait = |name: &str, faults: &mut Faults| {
        let chain = chain(sheet, "hookbait", name, faults);
        let number = |key: &str| sheet.number(&first_written(sheet, &chain, key));
        Hookbait {
            name: name.to_owned(),
            lasts_s: number("lasts"),
            displaced_share: number("displaced"),
            tempting: number("tempting"),
        }
    };
    sheet.names("hookbait").into_iter().map(|name| hookbait(name, faults)).collect()
}
