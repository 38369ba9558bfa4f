//! Puts checked values together as a scenario ready to run.

use super::baits::{hookbaits, recipes};
use super::bed::{chart, lines, lines_of_file};
use super::clock::clock;
use super::homes::Homes;
use super::plans::plans;
use super::shoals::shoals;
use crate::angler::EndTackle;
use crate::params::DailyDistribution;
use crate::scenario::check::{check_fish_numbers, check_places};
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::ready::{Aims, Keepnet, RivalWeight, Scenario, Section, WrittenScenario};
use crate::scenario::schema::{Books, FoulHooked, MAX_SESSION_S, aim, session, water};
use crate::scenario::values::{Names, ValueTable};
use crate::water::Weather;

/// Puts a scenario together; what is wrong between its parts is added to `faults`.
pub(super) fn assemble(
    table: &ValueTable,
    name: &str,
    sha256: String,
    past_kg: Option<Vec<f64>>,
    faults: &mut Diagnostics,
) -> Scenario {
    let lines = lines(table);
    let chart = chart(table, &lines);
    let clock = clock(table, faults);
    let (recipes, hookbaits) = (recipes(table, faults), hookbaits(table, faults));
    // If the length could not be read, no time is reported as beyond it.
    let unread = table.failed(&session::LENGTH);
    let session_s = if unread { MAX_SESSION_S } else { table.value(&session::LENGTH) };
    let homes = Homes { chart: &chart, lines: &lines_of_file(table, &lines), session_s };
    let shoals = shoals(table, &homes, faults);
    check_places(table, &chart, &lines, &shoals, faults);
    check_fish_numbers(table, &shoals, faults);
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
        weather: weather(table),
        clarity: table.value(&water::CLARITY),
        clock,
        shoals,
        chart,
        end_tackle: lines.iter().map(|line| end_tackle(table, &line.name)).collect(),
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
        learned: None,
        fixed_days: false,
        sha256,
        written: WrittenScenario::default(),
    }
}

/// Line and hook that the scenario states for a place.
fn end_tackle(table: &ValueTable, line: &str) -> EndTackle {
    EndTackle {
        line_strength_kg: table.given(&water::LINE_STRENGTH.at(&[line])),
        hook: table.given(&water::LINE_HOOK.at(&[line])),
    }
}

fn weather(table: &ValueTable) -> Weather {
    Weather {
        temperature_c: table.value(&water::TEMPERATURE),
        wind_m_s: table.value(&water::WIND),
        wind_to_deg: wind_to_deg(table),
        oxygen_mg_l: table.value(&water::OXYGEN),
        cloud_share: table.value(&water::CLOUD),
    }
}

/// The direction that the wind blows to, as an angle or as where it comes from [°].
fn wind_to_deg(table: &ValueTable) -> DailyDistribution {
    let from = table.given(&water::WIND_FROM);
    let to = from.map(|from| DailyDistribution::Fixed(from.blows_to_deg()));
    to.unwrap_or_else(|| table.value(&water::WIND_TO))
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
