//! Baits and hookbaits, built in and the scenario's own, each based on the one it is like.

use std::sync::LazyLock;

use crate::bait::{BaitValue, HookbaitPrior, ParticleClass, RecipePrior};
use crate::params::DailyDistribution;
use crate::scenario::check::missing_key;
use crate::scenario::diagnose::{Diagnostics, SourceLocation, quoted};
use crate::scenario::schema::{FullKey, Key, KeyPath, Table, bait as keys, tidy};
use crate::scenario::values::{ValueTable, split_text};

/// The baits and hookbaits that come with the program.
pub(super) fn built_in() -> &'static ValueTable {
    static BUILT_IN: LazyLock<ValueTable> = LazyLock::new(|| {
        let mut faults = Diagnostics::default();
        let mut entries = split_text(include_str!("built_in.toml"), &mut faults)
            .expect("the built-in baits are TOML");
        entries.values.iter_mut().for_each(|entry| entry.place = SourceLocation::BuiltIn);
        entries.tables.iter_mut().for_each(|(_, place)| *place = SourceLocation::BuiltIn);
        let mut table = ValueTable::default();
        table.read(entries, &mut faults);
        assert!(faults.is_empty(), "the built-in baits:\n{faults}");
        table
    });
    &BUILT_IN
}

/// The inheritance chain of a bait or hookbait, nearest first.
struct Chain<'a> {
    table: &'a ValueTable,
    names: Vec<String>,
}

impl<'a> Chain<'a> {
    /// Follows `like` from one item to the next; a cycle is a fault.
    fn new(
        table: &'a ValueTable,
        items: Table,
        like: Key<String>,
        name: &str,
        faults: &mut Diagnostics,
    ) -> Self {
        let mut names = vec![name.to_owned()];
        let own_like = like.at(&[name]);
        let is_built_in = built_in().has_table(&items.entry(&[name]));
        let place = table.place(own_like.dotted());
        if table.has(&own_like) && is_built_in && place != SourceLocation::BuiltIn {
            let noun = items.noun();
            let problem = format!("{} is built in and cannot be based on another", quoted(name));
            let fix = format!("give your own {noun} another name, and let that be like it");
            faults.add(table.fault(own_like.dotted(), problem, fix));
            return Self { table, names };
        }
        let mut last = name.to_owned();
        while let Some(base) = table.given(&like.at(&[&last])) {
            if names.contains(&base) {
                // A built-in one is in a cycle only through a `like` that was reported for another.
                if base == name && place != SourceLocation::BuiltIn {
                    let problem = "a cycle: it is like itself, directly or through others";
                    faults.add(table.fault(own_like.dotted(), problem, "remove one `like`"));
                }
                break;
            }
            if !table.has_table(&items.entry(&[&base])) {
                break;
            }
            names.push(base.clone());
            last = base;
        }
        Self { table, names }
    }

    /// The key of the first item in the chain that has it written, otherwise of the item itself.
    fn nearest<T>(&self, key_of: impl Fn(&str) -> KeyPath<T>) -> KeyPath<T> {
        let keys = self.names.iter().map(|name| key_of(name));
        let mut written = keys.filter(|key| self.table.has(key));
        written.next().unwrap_or_else(|| key_of(&self.names[0]))
    }

    /// Where the user wrote something of the item or of what it is based on, nearest first. `None` if all is built in.
    fn place(&self, dotted_of: impl Fn(&str) -> String) -> Option<SourceLocation> {
        let mut places = self.names.iter().map(|name| self.table.place(&dotted_of(name)));
        places.find(|place| !matches!(place, SourceLocation::BuiltIn | SourceLocation::File))
    }

    fn number(&self, key: Key<f64>) -> f64 {
        self.table.value(&self.nearest(|name| key.at(&[name])))
    }

    /// A value of the item, or of the item from which it inherits this value.
    fn spread(&self, key_of: impl Fn(&str) -> KeyPath<DailyDistribution>) -> BaitValue {
        let key = self.nearest(key_of);
        BaitValue { spread: self.table.value(&key), origin: key.dotted().to_owned() }
    }
}

/// Every bait, the built-in ones first.
pub(super) fn recipes(table: &ValueTable, faults: &mut Diagnostics) -> Vec<RecipePrior> {
    let recipe = |name: &str, faults: &mut Diagnostics| {
        let chain = Chain::new(table, keys::BAITS, keys::BAIT_LIKE, name, faults);
        RecipePrior {
            name: name.to_owned(),
            classes: classes(&chain, faults),
            mouthful_kg: chain.spread(|name| keys::MOUTHFUL.at(&[name])),
            attractant_mol_kg: attractant(&chain, faults),
            opens_after_s: chain.spread(|name| keys::OPENS_AFTER.at(&[name])),
        }
    };
    table.names(keys::BAITS, &[]).into_iter().map(|name| recipe(name, faults)).collect()
}

/// The attractant of a bait: stated as a number or as a word by the nearest of the baits that it is like.
fn attractant(chain: &Chain<'_>, faults: &mut Diagnostics) -> BaitValue {
    let table = chain.table;
    for name in &chain.names {
        let (exact, word) = (keys::ATTRACTANT.at(&[name]), keys::SMELL.at(&[name]));
        let (is_exact, is_word) = (table.has(&exact), table.has(&word));
        if !is_exact && !is_word {
            continue;
        }
        let of_exact = table.place(exact.dotted());
        let is_changed = matches!(of_exact, SourceLocation::Set | SourceLocation::Vary);
        let is_built_in = of_exact == SourceLocation::BuiltIn;
        if is_exact && is_word && !is_changed && !is_built_in && *name == chain.names[0] {
            let problem = "says again, in a word, what `attractant` says as a number";
            faults.add(table.fault(word.dotted(), problem, "write one of the two"));
        }
        if is_word && (!is_exact || is_built_in) {
            let spread = table.value(&word).attractant_mol_kg();
            return BaitValue { spread, origin: exact.dotted().to_owned() };
        }
        break;
    }
    chain.spread(|name| keys::ATTRACTANT.at(&[name]))
}

/// The particle classes of a bait: those of its bases with its own changes and additions.
fn classes(chain: &Chain<'_>, faults: &mut Diagnostics) -> Vec<ParticleClass<BaitValue>> {
    let table = chain.table;
    let bait = chain.names[0].as_str();
    let dotted_bait = keys::BAITS.entry(&[bait]);
    let mut names: Vec<&str> = Vec::new();
    for base in chain.names.iter().rev() {
        for name in table.names(keys::CLASSES, &[base]) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    if names.is_empty() {
        let fix = format!(
            "write [{dotted_bait}.class.NAME] with diameter and share, or like = \"groundbait\""
        );
        faults.add(table.fault(&dotted_bait, "has no particles", fix));
        return Vec::new();
    }
    let mut classes = Vec::new();
    let mut readable = true;
    for name in names {
        let nearest = |key: Key<f64>| chain.nearest(|bait| key.at(&[bait, name]));
        for key in [keys::CLASS_DIAMETER, keys::CLASS_SHARE] {
            if !table.has(&nearest(key)) {
                let entry = keys::CLASSES.entry(&[bait, name]);
                let mut fault = missing_key(table, &entry, &key.at(&[bait, name]));
                // A class that is built in lacks something only because of a `like` that was reported.
                if let Some(place) = chain.place(|bait| keys::CLASSES.entry(&[bait, name])) {
                    fault.location = place;
                    faults.add(fault);
                }
                readable = false;
            }
        }
        readable &= !table.failed(&nearest(keys::CLASS_SHARE));
        let number = |key: Key<f64>| table.value(&nearest(key));
        classes.push(ParticleClass {
            name: name.to_owned(),
            diameter_m: number(keys::CLASS_DIAMETER),
            density_kg_m3: number(keys::CLASS_DENSITY),
            share: number(keys::CLASS_SHARE),
            edible_share: chain.spread(|bait| keys::CLASS_EDIBLE.at(&[bait, name])),
            shape: table.value(&chain.nearest(|bait| keys::CLASS_SHAPE.at(&[bait, name]))),
        });
    }
    if readable {
        check_shares(chain, &classes, faults);
    }
    classes.retain(|class| class.share > 0.0);
    classes
}

/// Checks that the shares of a bait's classes add up to 1.
fn check_shares(chain: &Chain<'_>, classes: &[ParticleClass<BaitValue>], faults: &mut Diagnostics) {
    let (table, bait) = (chain.table, chain.names[0].as_str());
    let sum: f64 = classes.iter().map(|class| class.share).sum();
    if (sum - 1.0).abs() <= 1e-6 {
        return;
    }
    let shares: Vec<_> =
        classes.iter().map(|class| format!("{} {}", class.name, class.share)).collect();
    let problem =
        format!("the shares of its classes add up to {} ({})", tidy(sum), shares.join(", "));
    let fix = "they must add up to 1; a share of 0 removes a class of its base";
    let mut fault = table.fault(&keys::CLASSES.at(&[bait]), problem, fix);
    fault.location = place_of_shares(chain, classes).unwrap_or(fault.location);
    faults.add(fault);
}

/// The last place where the user wrote a share of a bait or of one that it is based on.
fn place_of_shares(
    chain: &Chain<'_>,
    classes: &[ParticleClass<BaitValue>],
) -> Option<SourceLocation> {
    let share_of = |bait: &str, class: &str| {
        let key = keys::CLASS_SHARE.at(&[bait, class]);
        key.dotted().to_owned()
    };
    classes
        .iter()
        .filter_map(|class| chain.place(|bait| share_of(bait, &class.name)))
        .max()
        .or_else(|| chain.place(|bait| keys::BAITS.entry(&[bait])))
}

/// Every hookbait, the built-in ones first.
pub(super) fn hookbaits(table: &ValueTable, faults: &mut Diagnostics) -> Vec<HookbaitPrior> {
    let hookbait = |name: &str, faults: &mut Diagnostics| {
        let chain = Chain::new(table, keys::HOOKBAITS, keys::HOOKBAIT_LIKE, name, faults);
        HookbaitPrior {
            name: name.to_owned(),
            lasts_s: chain.number(keys::LASTS),
            displaced_share: chain.spread(|name| keys::DISPLACED.at(&[name])),
            temptation: chain.spread(|name| keys::TEMPTING.at(&[name])),
            diameter_m: chain.number(keys::HOOKBAIT_SIZE),
        }
    };
    table.names(keys::HOOKBAITS, &[]).into_iter().map(|name| hookbait(name, faults)).collect()
}
