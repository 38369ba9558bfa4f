//! Puts checked values together as a scenario ready to run.

use super::baits::{hookbaits, recipes};
use super::plans::plans;
use crate::fish::{Shoal, TraitPriors};
use crate::scenario::check::check_places;
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::ready::{Aims, Keepnet, RivalWeight, Scenario, Section};
use crate::scenario::schema::{
    Books, FoulHooked, MAX_SESSION_S, aim, session, shoal as shoal_keys, water,
};
use crate::scenario::values::{Names, ValueTable};
use crate::water::{Chart, Feature, Line, Point, Sounding, Weather};

/// Half the extent of a home range around a line, if the scenario leaves it out [m].
const HOME_AT_LINE_M: (f64, f64) = (8.0, 5.0);

/// Puts a scenario together; what is wrong between its parts is added to `faults`.
pub(super) fn assemble(
    table: &ValueTable,
    name: &str,
    sha256: String,
    past_kg: Option<Vec<f64>>,
    faults: &mut Diagnostics,
) -> Scenario {
    let chart = chart(table);
    let lines = lines(table);
    let shoals = shoals(table, &chart, &lines);
    check_places(table, &chart, &lines, &shoals, faults);
    let (recipes, hookbaits) = (recipes(table, faults), hookbaits(table, faults));
    // If the length could not be read, no time is reported as beyond it.
    let unread = table.failed(&session::LENGTH);
    let session_s = if unread { MAX_SESSION_S } else { table.value(&session::LENGTH) };
    let names = Names { lines: &lines, recipes: &recipes, hookbaits: &hookbaits, session_s };
    let plans = plans(table, &names, faults);
    let keepnet = table.has_table(&session::KEEPNET.at(&[])).then(|| Keepnet {
        limit_kg: table.value(&session::NET_LIMIT),
        nets: table.value(&session::NETS) as u32,
    });
    Scenario {
        name: name.to_owned(),
        title: table.given(&session::TITLE).unwrap_or_else(|| name.to_owned()),
        session_s,
        kind: table.value(&session::KIND),
        foul_hooked_counts: table.value(&session::FOUL_HOOKED) == FoulHooked::Counts,
        units: table.value(&session::UNITS),
        keepnet,
        weather: Weather {
            temperature_c: table.value(&water::TEMPERATURE),
            wind_m_s: table.value(&water::WIND),
            wind_to_deg: table.value(&water::WIND_TO),
            oxygen_mg_l: table.value(&water::OXYGEN),
        },
        shoals,
        chart,
        lines,
        recipes,
        hookbaits,
        plans,
        aims: Aims {
            margin_kg: table.given(&aim::MARGIN),
            target_kg: table.given(&aim::TARGET),
            worst_share: table.given(&aim::WORST_DAYS),
            section: section(table, past_kg),
        },
        books: books(table),
        fixed_days: false,
        sha256,
    }
}

/// The section. `None` if there is none, or if rivals' weights are missing, which is reported elsewhere.
fn section(table: &ValueTable, past_kg: Option<Vec<f64>>) -> Option<Section> {
    let distribution = || table.given(&aim::RIVAL_WEIGHT).map(RivalWeight::Distribution);
    table.has_table(&aim::SECTION.at(&[])).then_some(())?;
    Some(Section {
        rivals: table.value(&aim::RIVALS) as u32,
        places: table.value(&aim::PLACES) as u32,
        weight: past_kg.map(RivalWeight::PastWeighIns).or_else(distribution)?,
        shared: table.value(&aim::SHARED),
    })
}

fn chart(table: &ValueTable) -> Chart {
    let sounding = |name: &str| Sounding {
        distance_m: table.value(&water::SOUNDING_DISTANCE.at(&[name])),
        depth_m: table.value(&water::SOUNDING_DEPTH.at(&[name])),
    };
    let mut soundings: Vec<_> =
        table.names(water::SOUNDINGS, &[]).into_iter().map(sounding).collect();
    soundings.sort_by(|a, b| a.distance_m.total_cmp(&b.distance_m));
    if soundings.is_empty() {
        soundings.push(Sounding { distance_m: 0.0, depth_m: table.value(&water::DEPTH) });
    }
    let feature = |name: &str| Feature {
        name: name.to_owned(),
        centre: Point {
            x_m: table.value(&water::FEATURE_ACROSS.at(&[name])),
            y_m: table.value(&water::FEATURE_OUT.at(&[name])),
        },
        half_length_m: table.value(&water::FEATURE_HALF_LENGTH.at(&[name])),
        half_width_m: table.value(&water::FEATURE_HALF_WIDTH.at(&[name])),
        depth_m: table.given(&water::FEATURE_DEPTH.at(&[name])),
        is_cover: table.value(&water::FEATURE_COVER.at(&[name])),
    };
    Chart {
        width_m: table.value(&water::WIDTH),
        length_m: table.value(&water::LENGTH),
        soundings,
        features: table.names(water::FEATURES, &[]).into_iter().map(feature).collect(),
    }
}

fn lines(table: &ValueTable) -> Vec<Line> {
    let line = |name: &str| {
        let distance_m = table.value(&water::LINE_DISTANCE.at(&[name]));
        let bearing_rad = table.value(&water::LINE_BEARING.at(&[name])).to_radians();
        let at = Point { x_m: distance_m * bearing_rad.sin(), y_m: distance_m * bearing_rad.cos() };
        Line { name: name.to_owned(), at }
    };
    table.names(water::LINES, &[]).into_iter().map(line).collect()
}

fn shoals(table: &ValueTable, chart: &Chart, lines: &[Line]) -> Vec<Shoal> {
    let shoal = |name: &str| {
        let home = table.given(&shoal_keys::HOME.at(&[name]));
        let line = home.and_then(|home| lines.iter().find(|line| line.name == home));
        let (half_length_m, half_width_m) = match line {
            Some(_) => HOME_AT_LINE_M,
            None => (0.5 * chart.width_m, 0.5 * chart.length_m),
        };
        let position = || Point {
            x_m: table.given(&shoal_keys::HOME_ACROSS.at(&[name])).unwrap_or(0.0),
            y_m: table.given(&shoal_keys::HOME_OUT.at(&[name])).unwrap_or(0.5 * chart.length_m),
        };
        Shoal {
            name: name.to_owned(),
            count: table.value(&shoal_keys::COUNT.at(&[name])),
            mass_kg: table.value(&shoal_keys::WEIGHT.at(&[name])),
            mass_cv: table.value(&shoal_keys::WEIGHT_CV.at(&[name])),
            home: line.map_or_else(position, |line| line.at),
            home_half_length_m: table
                .given(&shoal_keys::HOME_HALF_LENGTH.at(&[name]))
                .unwrap_or(half_length_m),
            home_half_width_m: table
                .given(&shoal_keys::HOME_HALF_WIDTH.at(&[name]))
                .unwrap_or(half_width_m),
            home_shift_m: table.value(&shoal_keys::HOME_SHIFT.at(&[name])),
            traits: TraitPriors::from_fn(|of| table.given(&shoal_keys::of_trait(of).at(&[name]))),
        }
    };
    table.names(shoal_keys::SHOALS, &[]).into_iter().map(shoal).collect()
}

/// The built-in books with the rows fixed that the scenario sets.
fn books(table: &ValueTable) -> Books {
    let mut books = Books::default();
    for (dotted, value) in table.numbers() {
        let Some((book, row)) = dotted.strip_prefix("book.").and_then(|rest| rest.split_once('.'))
        else {
            continue;
        };
        if let Some(book) = books.book_mut(book) {
            book.set(row, value).expect("the table of keys has every row with its range");
        }
    }
    books
}
