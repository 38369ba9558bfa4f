//! One day of one plan as a document for drawing: whole numbers in small units, and events in words.

use serde::Serialize;
use serde_json::{Value, json};

use crate::angler::Plan;
use crate::fish::{Layer, State};
use crate::report::format::{TraceNames, trace_line};
use crate::scenario::{Scenario, Units};
use crate::session::{Day, Event, Film, Gone, Hands, Hook, Move, Rig, Tackle, Why};
use crate::water::{Chart, Point};

/// Maximum number of depths along one side of the map.
const MAX_CELLS: f64 = 64.0;
/// Number of steps along the depth profile to a line.
const PROFILE_STEPS: u32 = 60;

/// A day of a plan for drawing.
///
/// Times are in tenths of a second, positions in centimetres, masses in grams, shares in per cent.
#[derive(Clone, Debug, Serialize)]
pub struct SwimView {
    format: &'static str,
    plan: String,
    day: u32,
    session_s: f64,
    weather: Value,
    water: Value,
    lines: Vec<Value>,
    shoals: Vec<String>,
    /// Each fish: shoal, mass, length in centimetres.
    fish: Vec<[u32; 3]>,
    /// Each move: start, fish, from x and y, to x and y, end, state, line, reason, chance, hunger.
    moves: Vec<[i64; 12]>,
    /// Rod and hands: time, cast, line, x, y, rig, hook, hands.
    tackle: Vec<[i64; 8]>,
    /// Loose feed: time, line, mass, time to sink.
    handfuls: Vec<[i64; 4]>,
    /// Mouthfuls: time, fish.
    mouthfuls: Vec<[i64; 2]>,
    /// Events in words: time, kind, fish or −1, words.
    #[serde(rename = "told")]
    events: Vec<(i64, Value, i64, String)>,
    /// Fish landed: time, fish, mass.
    catches: Vec<[i64; 3]>,
    weight_g: u64,
}

/// A time in tenths of a second.
fn tenths(s: f64) -> i64 {
    (10.0 * s).round() as i64
}

/// A length in centimetres.
fn cm(m: f64) -> i64 {
    (100.0 * m).round() as i64
}

/// A mass in grams.
fn grams(kg: f64) -> i64 {
    (1000.0 * kg).round() as i64
}

/// A share in per cent.
fn percent(share: f64) -> i64 {
    (100.0 * share).round() as i64
}

/// Converts the recording of a day into its document.
#[must_use]
pub fn swim_view(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    film: &Film,
    units: Units,
) -> SwimView {
    let fish = day
        .stock
        .iter()
        .map(|fish| [fish.shoal as u32, fish.mass_g, (100.0 * fish.length_m).round() as u32]);
    SwimView {
        format: "shoalwise/film/1",
        plan: plan.name.clone(),
        day: day.number,
        session_s: scenario.session_s,
        weather: json!({
            "temperature_c": day.conditions.temperature_c,
            "wind_m_s": day.conditions.wind_m_s,
            "wind_to_rad": day.conditions.wind_to_rad,
        }),
        water: water(&scenario.chart),
        lines: (0..scenario.lines.len()).map(|line| line_view(scenario, day, film, line)).collect(),
        shoals: scenario.shoals.iter().map(|shoal| shoal.name.clone()).collect(),
        fish: fish.collect(),
        moves: film.moves.iter().map(move_row).collect(),
        tackle: film.tackle.iter().map(tackle_row).collect(),
        handfuls: film
            .handfuls
            .iter()
            .map(|throw| {
                let mass_g = grams(throw.mass_kg);
                [tenths(throw.at_s), throw.line as i64, mass_g, tenths(throw.fall_s)]
            })
            .collect(),
        mouthfuls: mouthfuls(film),
        events: events_in_words(film, &TraceNames::of(scenario, day, units)),
        catches: catches(film, day),
        weight_g: film.outcome.weight_g,
    }
}

/// The events that somebody who watches wants to know of, in words.
fn events_in_words(film: &Film, names: &TraceNames) -> Vec<(i64, Value, i64, String)> {
    let shown = film.events.iter().filter(|(_, event)| is_shown(event));
    shown
        .map(|(at_s, event)| {
            let line = trace_line(*at_s, event, names);
            let words = line.split_once("  ").map_or(line.as_str(), |(_, words)| words);
            let fish = fish_of(event).map_or(-1, |fish| fish as i64);
            (tenths(*at_s), kind(event), fish, words.to_owned())
        })
        .collect()
}

/// The mouthfuls that fish ate.
fn mouthfuls(film: &Film) -> Vec<[i64; 2]> {
    let eaten = film.events.iter().filter_map(|(at_s, event)| match *event {
        Event::FishEats { fish, .. } => Some([tenths(*at_s), fish as i64]),
        _ => None,
    });
    eaten.collect()
}

/// The fish landed that count.
fn catches(film: &Film, day: &Day) -> Vec<[i64; 3]> {
    // A fish that goes straight back by the rules of the water is netted but not counted as caught.
    let counts =
        |at_s: f64| film.outcome.catches.iter().any(|caught| tenths(caught.at_s) == tenths(at_s));
    let netted = film.events.iter().filter_map(|(at_s, event)| match *event {
        Event::FishIsNetted { fish } if counts(*at_s) => {
            Some([tenths(*at_s), fish as i64, i64::from(day.stock[fish].mass_g)])
        }
        _ => None,
    });
    netted.collect()
}

/// The depths on a grid, and the features.
fn water(chart: &Chart) -> Value {
    let cell_m = (chart.width_m.max(chart.length_m) / MAX_CELLS).max(0.5);
    let columns = (chart.width_m / cell_m).ceil() as u32;
    let rows = (chart.length_m / cell_m).ceil() as u32;
    let depth = |cell: u32| {
        let (column, row) = (f64::from(cell % columns), f64::from(cell / columns));
        let x_m = (column + 0.5) * cell_m - 0.5 * chart.width_m;
        cm(chart.depth_m(Point { x_m, y_m: (row + 0.5) * cell_m }))
    };
    let features = chart.features.iter().map(|feature| {
        json!({
            "name": feature.name,
            "x_m": feature.centre.x_m,
            "y_m": feature.centre.y_m,
            "half_length_m": feature.half_length_m,
            "half_width_m": feature.half_width_m,
            "cover": feature.cover,
        })
    });
    json!({
        "width_m": chart.width_m,
        "length_m": chart.length_m,
        "cell_m": cell_m,
        "columns": columns,
        "rows": rows,
        "depths_cm": (0..columns * rows).map(depth).collect::<Vec<_>>(),
        "features": features.collect::<Vec<_>>(),
    })
}

/// One line: its position, the depths on the way to it and beyond, its bait and its scent.
fn line_view(scenario: &Scenario, day: &Day, film: &Film, line: usize) -> Value {
    let (named, filmed) = (&scenario.lines[line], &film.lines[line]);
    let distance_m = named.at.distance_m(Point::default());
    let reach_m = distance_m * 1.25;
    let depth = |step: u32| {
        let share = 1.25 * f64::from(step) / f64::from(PROFILE_STEPS);
        let point = Point::default().towards(named.at, share);
        cm(scenario.chart.depth_m(scenario.chart.clamp(point)))
    };
    let lying = filmed.lying.iter().map(|row| {
        let tenth_g = |kg: f64| (1e4 * kg).round() as i64;
        [tenths(row.at_s), tenth_g(row.pile_kg), tenth_g(row.scatter_kg), tenth_g(row.hanging_kg)]
    });
    let releases = filmed.releases.iter().map(|puff| {
        [tenths(puff.from_s), tenths(puff.at_s), (1e8 * puff.amount_mol).round() as i64]
    });
    json!({
        "name": named.name,
        "x_m": named.at.x_m,
        "y_m": named.at.y_m,
        "depth_m": scenario.chart.depth_m(named.at),
        "reach_m": reach_m,
        "profile_cm": (0..=PROFILE_STEPS).map(depth).collect::<Vec<_>>(),
        "lying": lying.collect::<Vec<_>>(),
        "scent": {
            "releases": releases.collect::<Vec<_>>(),
            "flow_m_s": filmed.flow_m_s,
            "diffusivity_m2_s": filmed.diffusivity_m2_s,
            "loss_per_s": filmed.loss_per_s,
            "layer_m": filmed.layer_m,
            "start_m": day.bait.puff_radius_m,
            "noticed_mol_m3": day.fish.odour_half_mol_m3,
        },
        "cloud_loss_per_s": day.bait.cloud_loss_per_s,
    })
}

/// A move as a row of numbers.
fn move_row(fish_move: &Move) -> [i64; 12] {
    let (state, line) = match fish_move.state {
        State::Roaming => (0, -1),
        State::Approaching(line) => (1, line as i64),
        State::Feeding(line, Layer::Bottom) => (2, line as i64),
        State::Feeding(line, Layer::Up) => (3, line as i64),
        State::Fled => (4, -1),
        State::Hooked => (5, -1),
        State::Kept | State::Away => (6, -1),
        State::Resting => (7, -1),
    };
    let (why, chance) = match fish_move.why {
        Why::OwnWay => (0, 0.0),
        Why::Scent(chance) => (1, chance),
        Why::Company(chance) => (2, chance),
        Why::Splash => (3, 0.0),
        Why::Patter => (4, 0.0),
        Why::Fight => (5, 0.0),
        Why::Hook => (6, 0.0),
        Why::Left(Gone::GaveUp) => (7, 0.0),
        Why::Left(Gone::Full) => (8, 0.0),
        Why::Left(Gone::Startled) => (9, 0.0),
        Why::Left(Gone::Hooked) => (10, 0.0),
    };
    [
        tenths(fish_move.at_s),
        fish_move.fish as i64,
        cm(fish_move.from.x_m),
        cm(fish_move.from.y_m),
        cm(fish_move.to.x_m),
        cm(fish_move.to.y_m),
        tenths(fish_move.ends_s),
        state,
        line,
        why,
        percent(chance),
        percent(fish_move.hunger),
    ]
}

/// A state of rod and hands as a row of numbers.
fn tackle_row(tackle: &Tackle) -> [i64; 8] {
    let rig = match tackle.rig {
        Rig::Ashore => 0,
        Rig::Sinking => 1,
        Rig::Bed => 2,
        Rig::Playing => 3,
    };
    let hook = match tackle.hook {
        Hook::Hidden => 0,
        Hook::OnPile => 1,
        Hook::InScatter => 2,
        Hook::Bare => 3,
    };
    let hands = match tackle.hands {
        Hands::Casting => 0,
        Hands::Waiting => 1,
        Hands::Playing => 2,
        Hands::Rebaiting => 3,
        Hands::Feeding => 4,
        Hands::Other => 5,
    };
    [
        tenths(tackle.at_s),
        i64::from(tackle.cast),
        tackle.line as i64,
        cm(tackle.place.x_m),
        cm(tackle.place.y_m),
        rig,
        hook,
        hands,
    ]
}

/// Whether an event is shown in words to somebody who watches.
fn is_shown(event: &Event) -> bool {
    !matches!(
        event,
        Event::AnglerTurns { .. }
            | Event::LooseFeedDue { .. }
            | Event::BaitLeaches { .. }
            | Event::FishLooks { .. }
            | Event::FishFinds { .. }
            | Event::FishEats { .. }
            | Event::FishRoams { .. }
            | Event::FishGivesUp { .. }
            | Event::FeedReachesBed { .. }
    )
}

/// The event's name in JSON.
fn kind(event: &Event) -> Value {
    serde_json::to_value(event)
        .ok()
        .and_then(|event| event.get("event").cloned())
        .unwrap_or_default()
}

/// The fish that an event is about; `None` if it is about none.
fn fish_of(event: &Event) -> Option<usize> {
    match *event {
        Event::FishNotices { fish, .. }
        | Event::FishArrives { fish, .. }
        | Event::FishTakes { fish, .. }
        | Event::FishRefuses { fish, .. }
        | Event::FishRises { fish, .. }
        | Event::FishShows { fish, .. }
        | Event::FishGoesDown { fish, .. }
        | Event::FishLeaves { fish, .. }
        | Event::FishIsFoulHooked { fish }
        | Event::FishIsHooked { fish }
        | Event::FishIsNetted { fish }
        | Event::FishIsLost { fish } => Some(fish),
        _ => None,
    }
}
