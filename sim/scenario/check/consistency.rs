//! What is wrong between keys: missing ones, names of nothing, places outside the water.

use crate::params::Spread;
use crate::scenario::diagnose::{Fault, Faults, Place, listed, nearest, quoted};
use crate::scenario::ready::MOST_LINES;
use crate::scenario::schema::{Key, Kind, LeftOut, Thing, key_of, keys};
use crate::scenario::values::ValueTable;
use crate::water::{Chart, Point};

/// Most fish in all shoals together.
const MOST_FISH: f64 = 5000.0;
/// Most plans in one scenario.
const MOST_PLANS: usize = 50;

/// Checks what can be seen before anything is assembled.
pub(crate) fn check_keys(sheet: &ValueTable, faults: &mut Faults) {
    missing_tables(sheet, faults);
    missing_keys(sheet, faults);
    names_of_nothing(sheet, faults);
    soundings(sheet, faults);
    number_of_fish(sheet, faults);
    section(sheet, faults);
}

fn missing_tables(sheet: &ValueTable, faults: &mut Faults) {
    if sheet.names("line").is_empty() {
        let mend = "write [line.NAME] with its distance, such as distance = \"28 m\"";
        faults.add(Fault::new(&Place::File, "line", "there is no line to fish", mend));
    }
    let lines = sheet.names("line");
    if let Some(beyond) = lines.get(MOST_LINES) {
        let at = format!("line.{beyond}");
        let wrong = format!("{} lines", lines.len());
        let mend = format!("{MOST_LINES} lines at most can be fished from one peg");
        faults.add(Fault::new(&sheet.place(&at), at, wrong, mend));
    }
    let plans = sheet.names("plan");
    if plans.is_empty() {
        let mend = "write [plan.NAME]; every key below it may be left out";
        faults.add(Fault::new(&Place::File, "plan", "there is no plan to fish", mend));
    }
    if let Some(beyond) = plans.get(MOST_PLANS) {
        let at = format!("plan.{beyond}");
        let wrong = format!("{} plans", plans.len());
        let mend = format!("{MOST_PLANS} plans at most can be compared");
        faults.add(Fault::new(&sheet.place(&at), at, wrong, mend));
    }
}

/// Required keys of every table that was begun; those of bait classes may come from another bait.
fn missing_keys(sheet: &ValueTable, faults: &mut Faults) {
    let required = keys().iter().filter(|key| key.default == LeftOut::Required);
    for key in required.filter(|key| !key.pattern.starts_with("bait.")) {
        let Some((table, last)) = key.pattern.rsplit_once('.') else { continue };
        let above = table.trim_end_matches(".*");
        for name in sheet.names(above) {
            let dotted = format!("{above}.{name}.{last}");
            if !sheet.has(&dotted) {
                faults.add(missing(sheet, &format!("{above}.{name}"), &dotted));
            }
        }
    }
}

/// The fault of a key that is required and missing.
pub(crate) fn missing(sheet: &ValueTable, table: &str, dotted: &str) -> Fault {
    let such_as = key_of(dotted).map_or_else(String::new, Key::such_as);
    Fault::new(&sheet.place(table), dotted, "is missing", format!("write {such_as}"))
}

fn names_of_nothing(sheet: &ValueTable, faults: &mut Faults) {
    for (dotted, place) in sheet.keys() {
        if let Some(Kind::NameOf(thing)) = key_of(dotted).map(|key| key.kind)
            && let Some(name) = sheet.given_text(dotted)
        {
            check_name(sheet, thing, &name, dotted, place, faults);
        }
    }
    for plan in sheet.names("plan") {
        let plan = format!("plan.{plan}");
        let phases = sheet.names(&format!("{plan}.phase"));
        let phases = phases.iter().map(|phase| format!("{plan}.phase.{phase}"));
        let rules = sheet.names(&format!("{plan}.rule"));
        let rules = rules.iter().map(|rule| format!("{plan}.rule.{rule}"));
        for table in std::iter::once(plan.clone()).chain(phases).chain(rules) {
            let feed = format!("{table}.feed");
            for line in sheet.names(&feed) {
                let dotted = format!("{feed}.{line}");
                let place = sheet.place(&dotted);
                check_name(sheet, Thing::Line, line, &dotted, &place, faults);
            }
        }
    }
}

fn check_name(
    sheet: &ValueTable,
    thing: Thing,
    name: &str,
    dotted: &str,
    place: &Place,
    faults: &mut Faults,
) {
    let table = thing.table();
    let known = sheet.names(table);
    if !known.contains(&name) {
        let near = nearest(name, known.iter().copied());
        let wrong = format!("there is no {table} named {}", quoted(name));
        let mend = format!("known here: {}", listed(known));
        faults.add(Fault::new(place, dotted, wrong, mend).near(near));
    }
}

fn soundings(sheet: &ValueTable, faults: &mut Faults) {
    let names = sheet.names("water.sounding");
    if names.is_empty() {
        return;
    }
    if sheet.has("water.depth") {
        let mend = "take out either water.depth or the soundings";
        let wrong = "is not used where there are soundings";
        faults.add(Fault::new(&sheet.place("water.depth"), "water.depth", wrong, mend));
    }
    let mut seen: Vec<(f64, &str)> = Vec::new();
    for name in names {
        let dotted = format!("water.sounding.{name}.distance");
        let Some(distance_m) = sheet.given_number(&dotted) else { continue };
        if let Some((_, other)) = seen.iter().find(|(at_m, _)| (at_m - distance_m).abs() < 1e-9) {
            let wrong = format!("the sounding {} is at the same distance", quoted(other));
            let mend = "one depth a distance: take out one of the two";
            faults.add(Fault::new(&sheet.place(&dotted), &dotted, wrong, mend));
        }
        seen.push((distance_m, name));
    }
}

fn number_of_fish(sheet: &ValueTable, faults: &mut Faults) {
    let most = |name: &&str| match sheet.spread(&format!("shoal.{name}.count")) {
        Spread::Between { high, .. } => high,
        other => other.mean(),
    };
    let shoals = sheet.names("shoal");
    let total: f64 = shoals.iter().map(most).sum();
    if total > MOST_FISH
        && let Some(last) = shoals.last()
    {
        let at = format!("shoal.{last}.count");
        let wrong = format!("all shoals together have {total} fish");
        let mend = format!("{MOST_FISH} fish at most; count those within reach of the peg");
        faults.add(Fault::new(&sheet.place(&at), at, wrong, mend));
    }
}

/// A section has the weights of its rivals from one place, and no more places than rivals.
fn section(sheet: &ValueTable, faults: &mut Faults) {
    if !sheet.has_table("section") {
        return;
    }
    let (weight, past) = ("section.weight", "section.weigh_ins");
    if sheet.has(weight) == sheet.has(past) {
        let (at, wrong) = match sheet.has(past) {
            true => (past, "stands beside section.weight, which already says what rivals weigh in"),
            false => ("section", "does not say what rivals weigh in"),
        };
        let mend = "write either weight = { mean = \"40 lb\", cv = 0.5 } or weigh_ins = \"FILE.csv\" below \
                    [section]";
        faults.add(Fault::new(&sheet.place(at), at, wrong, mend));
    }
    let (places, rivals) = (sheet.number("section.places"), sheet.number("section.rivals"));
    let unread = sheet.failed("section.places") || sheet.failed("section.rivals");
    if places > rivals && !unread {
        let at = if sheet.has("section.places") { "section.places" } else { "section.rivals" };
        let wrong = format!("{places} places frame among {rivals} rivals, so that everybody does");
        let mend = "have fewer places than anglers in the section";
        faults.add(Fault::new(&sheet.place(at), at, wrong, mend));
    }
}

/// Checks that lines, features and homes lie in the water.
pub(crate) fn check_places(sheet: &ValueTable, chart: &Chart, faults: &mut Faults) {
    if sheet.failed("water.width") || sheet.failed("water.length") {
        return;
    }
    let extent = format!("{} m wide and {} m long", chart.width_m, chart.length_m);
    for name in sheet.names("line") {
        let dotted = format!("line.{name}.distance");
        let Some(distance_m) = sheet.given_number(&dotted) else { continue };
        let at = line_at(distance_m, sheet.number(&format!("line.{name}.bearing")));
        if !chart.holds(at) {
            let wrong = format!("the line lies outside the water, which is {extent}");
            let mend = "bring it nearer or make the water larger";
            faults.add(Fault::new(&sheet.place(&dotted), &dotted, wrong, mend));
        }
    }
    for feature in &chart.features {
        let near_m = chart.clamp(feature.centre).distance_m(feature.centre);
        if near_m > feature.half_length_m.max(feature.half_width_m) {
            let at = format!("water.feature.{}", feature.name);
            let wrong = format!("the feature lies outside the water, which is {extent}");
            let mend = "change its across or out, or make the water larger";
            faults.add(Fault::new(&sheet.place(&at), at, wrong, mend));
        }
    }
    for name in sheet.names("shoal") {
        homes(sheet, &format!("shoal.{name}"), chart, &extent, faults);
    }
}

fn homes(sheet: &ValueTable, shoal: &str, chart: &Chart, extent: &str, faults: &mut Faults) {
    let home = format!("{shoal}.home");
    let given = ["home_across", "home_out"].map(|word| format!("{shoal}.{word}"));
    let Some(first) = given.iter().find(|dotted| sheet.has(dotted)) else { return };
    if sheet.has(&home) {
        let wrong = "stands beside home, which already says where the home range is";
        let mend = "write either home, or home_across and home_out";
        faults.add(Fault::new(&sheet.place(first), first, wrong, mend));
        return;
    }
    if !chart.holds(home_at(sheet, shoal, chart)) {
        let wrong = format!("the home range lies outside the water, which is {extent}");
        let mend = "change home_across or home_out, or make the water larger";
        faults.add(Fault::new(&sheet.place(first), first, wrong, mend));
    }
}

/// Centre of a home range that is given by its own place.
pub(crate) fn home_at(sheet: &ValueTable, shoal: &str, chart: &Chart) -> Point {
    let given = |word: &str| sheet.given_number(&format!("{shoal}.{word}"));
    Point {
        x_m: given("home_across").unwrap_or(0.0),
        y_m: given("home_out").unwrap_or(0.5 * chart.length_m),
    }
}

/// A place at a distance and a bearing from the peg.
pub(crate) fn line_at(distance_m: f64, bearing_deg: f64) -> Point {
    let bearing_rad = bearing_deg.to_radians();
    Point { x_m: distance_m * bearing_rad.sin(), y_m: distance_m * bearing_rad.cos() }
}
