//! The page's replay of one day of one plan as JSON: whole numbers in small units, and events in words.

use serde::Serialize;
use serde_json::{Value, json};

use crate::angler::Plan;
use crate::fish::{FishId, FishState, Layer};
use crate::report::{EventNames, event_line};
use crate::scenario::{Scenario, Units};
use crate::session::{
    Day, Event, FishMove, HookbaitState, LeaveReason, MoveReason, Recording, RigState, TackleState,
};
use crate::water::{Chart, LineId, Point};

/// Maximum number of depths along one side of the map.
const MAX_CELLS: f64 = 64.0;
/// Number of steps along the depth profile to a line.
const PROFILE_STEPS: u32 = 60;

/// A day of a plan for drawing.
///
/// Times are in tenths of a second, positions in centimetres, masses in grams, shares in per cent.
#[derive(Clone, Debug, Serialize)]
pub(super) struct ReplayDocument {
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
pub(super) fn replay_document(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    recording: &Recording,
    units: Units,
) -> ReplayDocument {
    let fish = day
        .stock
        .iter()
        .map(|fish| [fish.shoal as u32, fish.mass_g, (100.0 * fish.length_m).round() as u32]);
    ReplayDocument {
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
        lines: LineId::all(scenario.lines.len())
            .map(|line| line_view(scenario, day, recording, line))
            .collect(),
        shoals: scenario.shoals.iter().map(|shoal| shoal.name.clone()).collect(),
        fish: fish.collect(),
        moves: recording.moves.iter().map(move_row).collect(),
        tackle: recording.tackle.iter().map(tackle_row).collect(),
        handfuls: recording
            .handfuls
            .iter()
            .map(|throw| {
                let mass_g = grams(throw.mass_kg);
                [tenths(throw.at_s), throw.line.0 as i64, mass_g, tenths(throw.fall_s)]
            })
            .collect(),
        mouthfuls: mouthfuls(recording),
        events: events_in_words(recording, &EventNames::new(scenario, day, units)),
        catches: catches(recording, day),
        weight_g: recording.outcome.weight_g,
    }
}

/// The events that the page shows, in words.
fn events_in_words(recording: &Recording, names: &EventNames) -> Vec<(i64, Value, i64, String)> {
    let shown = recording.events.iter().filter(|(_, event)| is_shown(event));
    shown
        .map(|(at_s, event)| {
            let line = event_line(*at_s, event, names);
            let words = line.split_once("  ").map_or(line.as_str(), |(_, words)| words);
            let fish = fish_of(event).map_or(-1, |fish| fish.0 as i64);
            (tenths(*at_s), kind(event), fish, words.to_owned())
        })
        .collect()
}

/// The mouthfuls that fish ate.
fn mouthfuls(recording: &Recording) -> Vec<[i64; 2]> {
    let eaten = recording.events.iter().filter_map(|(at_s, event)| match *event {
        Event::FishEats { fish, .. } => Some([tenths(*at_s), fish.0 as i64]),
        _ => None,
    });
    eaten.collect()
}

/// The fish landed that count.
fn catches(recording: &Recording, day: &Day) -> Vec<[i64; 3]> {
    // A fish that goes straight back by the rules of the water is netted but not counted as caught.
    let counts = |at_s: f64| {
        recording.outcome.catches.iter().any(|caught| tenths(caught.at_s) == tenths(at_s))
    };
    let netted = recording.events.iter().filter_map(|(at_s, event)| match *event {
        Event::FishIsNetted { fish } if counts(*at_s) => {
            Some([tenths(*at_s), fish.0 as i64, i64::from(day.stock[fish].mass_g)])
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
            "cover": feature.is_cover,
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
fn line_view(scenario: &Scenario, day: &Day, recording: &Recording, line: LineId) -> Value {
    let (named, recorded_line) = (&scenario.lines[line], &recording.lines[line.0]);
    let distance_m = named.at.distance_m(Point::default());
    let reach_m = distance_m * 1.25;
    let depth = |step: u32| {
        let share = 1.25 * f64::from(step) / f64::from(PROFILE_STEPS);
        let point = Point::default().towards(named.at, share);
        cm(scenario.chart.depth_m(scenario.chart.clamp(point)))
    };
    let lying = recorded_line.bait.iter().map(|row| {
        let tenth_g = |kg: f64| (1e4 * kg).round() as i64;
        [tenths(row.at_s), tenth_g(row.pile_kg), tenth_g(row.scatter_kg), tenth_g(row.hanging_kg)]
    });
    let releases = recorded_line.releases.iter().map(|puff| {
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
            "flow_m_s": recorded_line.flow_m_s,
            "diffusivity_m2_s": recorded_line.diffusivity_m2_s,
            "loss_per_s": recorded_line.loss_per_s,
            "layer_m": recorded_line.layer_m,
            "start_m": day.bait.puff_radius_m,
            "noticed_mol_m3": day.fish.odour_half_mol_m3,
        },
        "cloud_loss_per_s": day.bait.cloud_loss_per_s,
    })
}

fn move_row(fish_move: &FishMove) -> [i64; 12] {
    let (state, line) = match fish_move.state {
        FishState::Roaming => (0, -1),
        FishState::Approaching(line) => (1, line.0 as i64),
        FishState::Feeding(line, Layer::Bottom) => (2, line.0 as i64),
        FishState::Feeding(line, Layer::Up) => (3, line.0 as i64),
        FishState::Fled => (4, -1),
        FishState::Hooked => (5, -1),
        FishState::Kept => (6, -1),
        FishState::Resting => (7, -1),
        FishState::Away => (8, -1),
    };
    let (why, chance) = match fish_move.reason {
        MoveReason::OwnWay => (0, 0.0),
        MoveReason::Scent(chance) => (1, chance),
        MoveReason::Company(chance) => (2, chance),
        MoveReason::Splash => (3, 0.0),
        MoveReason::Patter => (4, 0.0),
        MoveReason::Fight => (5, 0.0),
        MoveReason::Hook => (6, 0.0),
        MoveReason::Left(LeaveReason::GaveUp) => (7, 0.0),
        MoveReason::Left(LeaveReason::Full) => (8, 0.0),
        MoveReason::Left(LeaveReason::Startled) => (9, 0.0),
        MoveReason::Left(LeaveReason::Hooked) => (10, 0.0),
    };
    [
        tenths(fish_move.at_s),
        fish_move.fish.0 as i64,
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
fn tackle_row(tackle: &TackleState) -> [i64; 8] {
    let rig = match tackle.rig {
        RigState::Ashore => 0,
        RigState::Sinking => 1,
        RigState::Bed => 2,
        RigState::Playing => 3,
    };
    let hook = match tackle.hook {
        HookbaitState::Hidden => 0,
        HookbaitState::OnPile => 1,
        HookbaitState::InScatter => 2,
        HookbaitState::Bare => 3,
    };
    [
        tenths(tackle.at_s),
        i64::from(tackle.cast),
        tackle.line.0 as i64,
        cm(tackle.place.x_m),
        cm(tackle.place.y_m),
        rig,
        hook,
        tackle.activity as i64,
    ]
}

/// Whether an event is shown in words on the page.
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
fn fish_of(event: &Event) -> Option<FishId> {
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
