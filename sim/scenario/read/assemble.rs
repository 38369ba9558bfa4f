//! A sheet of checked values put together as a scenario ready to run.

use super::built_in_baits::{hookbaits, recipes};
use super::plans::plans;
use crate::fish::{Shoal, TraitSpreads};
use crate::scenario::check::{check_places, home_at, line_at};
use crate::scenario::diagnose::Faults;
use crate::scenario::ready::{
    Aims, Books, Keepnet, RivalWeight, Scenario, Section, SessionKind, Units,
};
use crate::scenario::schema::MAX_SESSION_S;
use crate::scenario::values::{Names, ValueTable};
use crate::water::{Chart, Feature, Line, Point, Sounding, Weather};

/// Half the extent of a home range about a line, where the scenario leaves it out [m].
const HOME_AT_LINE_M: (f64, f64) = (8.0, 5.0);

/// Puts a scenario together; what is wrong between its parts is added to `faults`.
pub(crate) fn assemble(
    sheet: &ValueTable,
    name: &str,
    sha256: String,
    past_kg: Option<Vec<f64>>,
    faults: &mut Faults,
) -> Scenario {
    let chart = chart(sheet);
    check_places(sheet, &chart, faults);
    let lines = lines(sheet);
    let (recipes, hookbaits) = (recipes(sheet, faults), hookbaits(sheet, faults));
    // Where the length could not be read, no time is told to lie beyond it.
    let unread = sheet.failed("session.length");
    let session_s = if unread { MAX_SESSION_S } else { sheet.number("session.length") };
    let tackle = Names { lines: &lines, recipes: &recipes, hookbaits: &hookbaits, session_s };
    let plans = plans(sheet, &tackle, faults);
    let keepnet = sheet.has_table("keepnet").then(|| Keepnet {
        limit_kg: sheet.number("keepnet.limit"),
        nets: sheet.number("keepnet.nets") as u32,
    });
    Scenario {
        name: name.to_owned(),
        title: sheet.given_text("title").unwrap_or_else(|| name.to_owned()),
        session_s,
        kind: match sheet.text("session.kind").as_str() {
            "pleasure" => SessionKind::Pleasure,
            _ => SessionKind::Match,
        },
        foul_hooked_counts: sheet.text("session.foul_hooked") != "goes-back",
        units: match sheet.text("units").as_str() {
            "imperial" => Units::Imperial,
            _ => Units::Metric,
        },
        keepnet,
        weather: Weather {
            temperature_c: sheet.spread("water.temperature"),
            wind_m_s: sheet.spread("water.wind"),
            wind_to_deg: sheet.spread("water.wind_to"),
            oxygen_mg_l: sheet.spread("water.oxygen"),
        },
        shoals: shoals(sheet, &chart, &lines),
        chart,
        lines,
        recipes,
        hookbaits,
        plans,
        aims: Aims {
            margin_kg: sheet.given_number("aim.margin"),
            target_kg: sheet.given_number("aim.target"),
            worst_share: sheet.given_number("aim.worst_days"),
            section: section(sheet, past_kg),
        },
        books: books(sheet),
        fixed_days: false,
        sha256,
    }
}

/// The section, where there is one; without weights of rivals, which is a fault told elsewhere, none.
fn section(sheet: &ValueTable, past_kg: Option<Vec<f64>>) -> Option<Section> {
    let law = || sheet.given_spread("section.weight").map(RivalWeight::Law);
    sheet.has_table("section").then_some(())?;
    Some(Section {
        rivals: sheet.number("section.rivals") as u32,
        places: sheet.number("section.places") as u32,
        weight: past_kg.map(RivalWeight::Past).or_else(law)?,
        shared: sheet.number("section.shared"),
    })
}

fn chart(sheet: &ValueTable) -> Chart {
    let sounding = |name: &str| Sounding {
        distance_m: sheet.number(&format!("water.sounding.{name}.distance")),
        depth_m: sheet.number(&format!("water.sounding.{name}.depth")),
    };
    let mut soundings: Vec<_> = sheet.names("water.sounding").into_iter().map(sounding).collect();
    soundings.sort_by(|a, b| a.distance_m.total_cmp(&b.distance_m));
    if soundings.is_empty() {
        soundings.push(Sounding { distance_m: 0.0, depth_m: sheet.number("water.depth") });
    }
    let feature = |name: &str| {
        let at = |word: &str| format!("water.feature.{name}.{word}");
        Feature {
            name: name.to_owned(),
            centre: Point { x_m: sheet.number(&at("across")), y_m: sheet.number(&at("out")) },
            half_length_m: sheet.number(&at("half_length")),
            half_width_m: sheet.number(&at("half_width")),
            depth_m: sheet.given_number(&at("depth")),
            cover: sheet.flag(&at("cover")),
        }
    };
    Chart {
        width_m: sheet.number("water.width"),
        length_m: sheet.number("water.length"),
        soundings,
        features: sheet.names("water.feature").into_iter().map(feature).collect(),
    }
}

fn lines(sheet: &ValueTable) -> Vec<Line> {
    let line = |name: &str| Line {
        name: name.to_owned(),
        at: line_at(
            sheet.number(&format!("line.{name}.distance")),
            sheet.number(&format!("line.{name}.bearing")),
        ),
    };
    sheet.names("line").into_iter().map(line).collect()
}

fn shoals(sheet: &ValueTable, chart: &Chart, lines: &[Line]) -> Vec<Shoal> {
    let shoal = |name: &str| {
        let table = format!("shoal.{name}");
        let at = |word: &str| format!("{table}.{word}");
        let home = sheet.given_text(&at("home"));
        let line = home.and_then(|home| lines.iter().find(|line| line.name == home));
        let (half_length_m, half_width_m) = match line {
            Some(_) => HOME_AT_LINE_M,
            None => (0.5 * chart.width_m, 0.5 * chart.length_m),
        };
        Shoal {
            name: name.to_owned(),
            count: sheet.spread(&at("count")),
            mass_kg: sheet.spread(&at("weight")),
            mass_cv: sheet.number(&at("weight_cv")),
            home: line.map_or_else(|| home_at(sheet, &table, chart), |line| line.at),
            home_half_length_m: sheet
                .given_number(&at("home_half_length"))
                .unwrap_or(half_length_m),
            home_half_width_m: sheet.given_number(&at("home_half_width")).unwrap_or(half_width_m),
            home_shift_m: sheet.number(&at("home_shift")),
            traits: TraitSpreads {
                comes_to_splash: sheet.given_spread(&at("comes_to_splash")),
                startles_at_splash: sheet.given_spread(&at("startles_at_splash")),
                comes_to_patter: sheet.given_spread(&at("comes_to_patter")),
                startles_at_patter: sheet.given_spread(&at("startles_at_patter")),
                startles_at_fight: sheet.given_spread(&at("startles_at_fight")),
                rises: sheet.given_spread(&at("rises")),
                boldness: sheet.given_spread(&at("boldness")),
            },
        }
    };
    sheet.names("shoal").into_iter().map(shoal).collect()
}

/// The built-in books with the scenario's own values pinned.
fn books(sheet: &ValueTable) -> Books {
    let mut books = Books::default();
    for (dotted, _) in sheet.keys() {
        let Some((book, row)) = dotted.strip_prefix("book.").and_then(|rest| rest.split_once('.'))
        else {
            continue;
        };
        if let (Some(book), Some(value)) = (books.named(book), sheet.given_number(dotted)) {
            book.pin(row, value).expect("the table of keys has every row with its range");
        }
    }
    books
}
