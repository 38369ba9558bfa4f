//! The parameter books: every row is used by the code, in range, drawn about its value, and has a source.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use sim::angler::AnglerParams;
use sim::bait::BaitParams;
use sim::engine::Dice;
use sim::fish::FishParams;
use sim::params::{Book, Grade, Parameter, PinError, Prior, bibliography, parameters_markdown};
use sim::water::WaterParams;

/// The books in their printed order, each with the fields that the code reads.
fn books() -> [(Book, &'static [&'static str]); 4] {
    [
        (WaterParams::book(), WaterParams::FIELDS),
        (BaitParams::book(), BaitParams::FIELDS),
        (FishParams::book(), FishParams::FIELDS),
        (AnglerParams::book(), AnglerParams::FIELDS),
    ]
}

/// Fails with all rows that break a rule.
#[track_caller]
fn every_row(rule: &str, holds: impl Fn(&Parameter) -> bool) {
    let breaches: Vec<String> = books()
        .iter()
        .flat_map(|(book, _)| {
            let name = book.name;
            let outside = book.rows().iter().filter(|&row| !holds(row));
            outside.map(move |row| format!("book.{name}.{}", row.key)).collect::<Vec<_>>()
        })
        .collect();
    assert!(breaches.is_empty(), "{rule}: not so for {}", breaches.join(", "));
}

#[test]
fn rows_and_fields_are_one_to_one() {
    for (book, fields) in books() {
        let keys: Vec<&str> = book.rows().iter().map(|row| row.key.as_str()).collect();
        assert_eq!(keys, fields, "book {}", book.name);
        assert_eq!(keys.iter().collect::<BTreeSet<_>>().len(), keys.len(), "book {}", book.name);
    }
    // The order matters where a struct is filled from a list: a value must reach the field of its row.
    let values: Vec<f64> = (0..FishParams::FIELDS.len()).map(|i| i as f64).collect();
    let filled = FishParams::from_values(&values);
    let place = |key| FishParams::FIELDS.iter().position(|&field| field == key).map(|i| i as f64);
    assert_eq!(Some(filled.cruise_lengths_s), place("cruise_lengths_s"));
    assert_eq!(Some(filled.take_share), place("take_share"));
    assert_eq!(Some(filled.ashore_rest_s), place("ashore_rest_s"));
}

#[test]
fn a_row_that_no_code_reads_is_a_panic() {
    let text =
        "[known]\nsays = 'x'\nvalue = 1\nrange = [0, 2]\nprior = 'fixed'\ngrade = 'assumed'\n";
    let strange = format!("{text}{}", text.replace("known", "strange"));
    assert_eq!(Book::built_in("toy", text, &["known"]).rows().len(), 1);
    for (text, fields) in [(strange.as_str(), &["known"][..]), (text, &["known", "missing"][..])] {
        let read = std::panic::catch_unwind(|| Book::built_in("toy", text, fields));
        assert!(read.is_err(), "a book with other rows than fields was read");
    }
}

#[test]
fn values_lie_in_their_ranges() {
    every_row("lowest below highest", |row| row.range[0] < row.range[1]);
    every_row("value in range", |row| (row.range[0]..=row.range[1]).contains(&row.value));
    every_row("a lognormal row is positive", |row| {
        row.prior != Prior::LogNormal || (row.range[0] > 0.0 && row.value > 0.0)
    });
    every_row("says what it is, in words", |row| row.meaning.split_whitespace().count() >= 2);
}

#[test]
fn a_name_ends_in_its_unit() {
    for (ending, unit) in [
        ("_m", "m"),
        ("_s", "s"),
        ("_c", "°C"),
        ("_m_s", "m/s"),
        ("_m2_s", "m²/s"),
        ("_per_s", "1/s"),
        ("_per_h", "1/h"),
        ("_mg_l", "mg/L"),
        ("_mol_m3", "mol/m³"),
        ("_per_m2", "1/m²"),
        ("_per_m", "1/m"),
    ] {
        every_row(&format!("unit {unit} of a name in {ending}"), |row| {
            let longest =
                ["_lengths_s", "_s_kg", "_m_s", "_m2_s", "_per_s", "_per_c", "_per_m", "_s_per_m"]
                    .into_iter()
                    .filter(|other| other.len() > ending.len() && row.key.ends_with(other))
                    .count();
            !row.key.ends_with(ending) || longest > 0 || row.unit == unit
        });
    }
    every_row("a share has no unit", |row| !row.key.ends_with("_share") || row.unit.is_empty());
}

#[test]
fn every_source_is_in_the_bibliography_and_every_entry_is_used() {
    let entries: BTreeSet<String> = bibliography().into_keys().collect();
    let mut named: BTreeSet<String> = BTreeSet::new();
    for (book, _) in books() {
        for row in book.rows() {
            named.extend(row.source.split_whitespace().map(str::to_owned));
            // A note may name another source; only words that look like a key count.
            let keys = row.note.split(|c: char| !c.is_alphanumeric() && c != '-');
            named.extend(keys.filter(|word| looks_like_key(word)).map(str::to_owned));
        }
    }
    named.extend(keys_in_doc_comments());
    let unknown: Vec<_> = named.difference(&entries).collect();
    let unused: Vec<_> = entries.difference(&named).collect();
    assert!(unknown.is_empty(), "named but not in sim/params/sources.toml: {unknown:?}");
    assert!(unused.is_empty(), "in sim/params/sources.toml but named nowhere: {unused:?}");
}

/// Whether a word looks like a key of the bibliography: names, then a year.
fn looks_like_key(word: &str) -> bool {
    let Some((names, year)) = word.rsplit_once('-') else { return false };
    year.len() == 4
        && year.starts_with(['1', '2'])
        && year.chars().all(|c| c.is_ascii_digit())
        && names.chars().all(|c| c.is_ascii_lowercase() || c == '-')
        && !names.is_empty()
}

/// Keys in the `- **Source** …` lines of the code.
fn keys_in_doc_comments() -> BTreeSet<String> {
    fn walk(folder: &Path, keys: &mut BTreeSet<String>) {
        let entries =
            fs::read_dir(folder).unwrap_or_else(|why| panic!("{}: {why}", folder.display()));
        for entry in entries {
            let path = entry.expect("an entry of a folder that can be listed").path();
            if path.is_dir() {
                walk(&path, keys);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = fs::read_to_string(&path)
                    .unwrap_or_else(|why| panic!("{}: {why}", path.display()));
                for line in text.lines().filter(|line| line.contains("**Source**")) {
                    keys.extend(line.split('`').skip(1).step_by(2).map(str::to_owned));
                }
            }
        }
    }
    let mut keys = BTreeSet::new();
    walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("sim"), &mut keys);
    assert!(
        keys.contains("ferguson-church-2004"),
        "the source lines of the code were not read: {keys:?}"
    );
    keys
}

#[test]
fn known_values_name_their_source() {
    every_row("a published grade names a source", |row| {
        !matches!(row.grade, Grade::Carp | Grade::General) || !row.source.is_empty()
    });
    every_row("a remembered value names a source or says what is remembered", |row| {
        row.grade != Grade::Memory || !row.source.is_empty() || !row.note.is_empty()
    });
    every_row("a fixed row that nobody measured is no prior in disguise", |row| {
        row.prior == Prior::Fixed || row.range[1] > row.range[0]
    });
}

/// Drawn values stay in range, with as many above the central value as below.
///
/// Of n draws of a continuous distribution, the number above the median is binomial: n/2 with a standard deviation
/// of √n/2. Clipping to the range moves no draw across the median. Bound: four standard deviations.
#[test]
fn draws_stay_in_range_with_the_central_value_as_median() {
    const DAYS: u64 = 4_000;
    for (book, _) in books() {
        let days: Vec<Vec<f64>> =
            (0..DAYS).map(|day| book.draw(&mut Dice::from_key(&[7, day]))).collect();
        for (i, row) in book.rows().iter().enumerate() {
            let [low, high] = row.range;
            let drawn: Vec<f64> = days.iter().map(|day| day[i]).collect();
            assert!(drawn.iter().all(|x| (low..=high).contains(x)), "{}: out of range", row.key);
            let above = drawn.iter().filter(|&&x| x > row.value).count() as f64;
            if row.prior == Prior::Fixed {
                assert!(above <= 0.0 && drawn.iter().all(|&x| x >= row.value), "{}", row.key);
            } else if row.value > low && row.value < high {
                let half = 0.5 * DAYS as f64;
                let z = (above - half) / (0.5 * (DAYS as f64).sqrt());
                assert!(z.abs() < 4.0, "{}: {above} of {DAYS} draws above {}", row.key, row.value);
            }
        }
    }
}

#[test]
fn a_pinned_row_is_the_same_every_day_and_stays_in_range() {
    let mut book = FishParams::book();
    book.set("memory_s", 120.0).expect("in range");
    let place = FishParams::FIELDS.iter().position(|&field| field == "memory_s").expect("a row");
    for day in 0..20 {
        let values = book.draw(&mut Dice::from_key(&[7, day]));
        assert!((values[place] - 120.0).abs() < 1e-12);
    }
    assert_eq!(book.set("memory", 120.0), Err(PinError::UnknownRow));
    assert!(matches!(book.set("memory_s", 1e6), Err(PinError::OutOfRange { .. })));
    assert!(matches!(book.set("memory_s", f64::NAN), Err(PinError::OutOfRange { .. })));

    let mut book = FishParams::book();
    book.fix_all();
    assert_eq!(book.draw(&mut Dice::from_key(&[1])), FishParams::book().central());
}

/// Run with `SHOALWISE_BLESS=1` to write the page again.
#[test]
fn the_page_of_parameters_is_up_to_date() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("sim/PARAMETERS.md");
    let books = books();
    let page = parameters_markdown(&books.each_ref().map(|(book, _)| book));
    if std::env::var_os("SHOALWISE_BLESS").is_some() {
        fs::write(&path, &page).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
    }
    let written = fs::read_to_string(&path).unwrap_or_default();
    let first = written.lines().zip(page.lines()).position(|(old, new)| old != new);
    assert!(
        written == page,
        "sim/PARAMETERS.md is stale from line {}: run the tests once with SHOALWISE_BLESS=1",
        first.unwrap_or_else(|| written.lines().count().min(page.lines().count())) + 1
    );
}
