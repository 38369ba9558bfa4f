//! One day of one plan as JSON, for drawing: whole numbers in small units, and events in words.

use schemars::JsonSchema;
use serde::Serialize;
use serde_json::Value;

use super::format::{EventNames, event_line};
use crate::angler::Plan;
use crate::fish::{FishId, FishState, Layer};
use crate::scenario::{Scenario, Units};
use crate::session::{
    Day, Event, FishMove, HookbaitState, LeaveReason, MoveReason, Recording, RigState, TackleState,
};
use crate::water::{Chart, LineId, Point};

/// Maximum number of depths along one side of the map.
const MAX_CELLS: f64 = 64.0;
/// Number of steps along the depth profile to a line.
const PROFILE_STEPS: u32 = 60;

/// A day of a plan for drawing. Rows are short: their numbers are whole, and their places say what they are.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct RecordingDocument {
    /// Name and version of the format.
    format: &'static str,
    /// Name of the plan.
    plan: String,
    /// Number of the day, from 1.
    day: u32,
    /// Length of the session [s].
    session_s: f64,
    /// The weather of the day.
    weather: WeatherEntry,
    /// Depths and features.
    water: WaterEntry,
    /// The lines, in the order of the scenario.
    lines: Vec<LineEntry>,
    /// Names of the shoals.
    shoals: Vec<String>,
    /// Each fish: number of its shoal, mass in grams, length in centimetres.
    fish: Vec<[u32; 3]>,
    /// Each move: start in tenths of a second, fish, from x and y in centimetres, to x and y in centimetres, end in tenths of a second, state (0 roaming,
    /// 1 on the way to a line, 2 feeding on the bed, 3 feeding above it, 4 fleeing, 5 hooked, 6 in the net, 7 resting, 8 out of
    /// reach), line or −1, reason (0 none, 1 scent, 2 company, 3 splash, 4 patter of feed, 5 a fight, 6 the hook, 7 gave up,
    /// 8 full, 9 startled, 10 a fish was hooked), chance of it in per cent, hunger in per cent.
    moves: Vec<[i64; 12]>,
    /// Rod and hands: time in tenths of a second, cast, line, x and y in centimetres, rig (0 ashore, 1 sinking, 2 on the bed, 3 playing a fish),
    /// hookbait (0 hidden, 1 on the pile, 2 among scattered feed, 3 bare), hands (0 casting, 1 waiting, 2 playing, 3 unhooking and
    /// loading, 4 feeding, 5 changing over).
    tackle: Vec<[i64; 8]>,
    /// Loose feed: time in tenths of a second, line, mass in grams, time to sink in tenths of a second.
    handfuls: Vec<[i64; 4]>,
    /// Mouthfuls: time in tenths of a second, fish.
    mouthfuls: Vec<[i64; 2]>,
    /// Events in words: time in tenths of a second, kind, fish or −1, words.
    events: Vec<(i64, Value, i64, String)>,
    /// Fish landed that count: time in tenths of a second, fish, mass in grams.
    catches: Vec<[i64; 3]>,
    /// Weight at the scales [g].
    weight_g: u64,
}

/// The weather of a day.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WeatherEntry {
    /// Temperature of the water [°C].
    temperature_c: f64,
    /// Speed of the wind at the water [m/s].
    wind_m_s: f64,
    /// Direction to which the wind blows [rad].
    wind_to_rad: f64,
}

/// The water: x runs along the bank from the peg, y away from it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct WaterEntry {
    /// Width, along the bank [m].
    width_m: f64,
    /// Length, away from the bank [m].
    length_m: f64,
    /// Side of a cell of the grid of depths [m].
    cell_m: f64,
    /// Number of cells along the bank.
    columns: u32,
    /// Number of cells away from the bank.
    rows: u32,
    /// Depth of each cell, along the bank first [cm].
    depths_cm: Vec<i64>,
    /// Features such as an island.
    features: Vec<FeatureEntry>,
}

/// A feature of the water.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct FeatureEntry {
    /// Its name.
    name: String,
    /// Its centre along the bank [m].
    x_m: f64,
    /// Its centre away from the bank [m].
    y_m: f64,
    /// Half its length [m].
    half_length_m: f64,
    /// Half its width [m].
    half_width_m: f64,
    /// Whether it is cover.
    cover: bool,
}

/// A line, and what is in the water there.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct LineEntry {
    /// Its name.
    name: String,
    /// Its place along the bank [m].
    x_m: f64,
    /// Its place away from the bank [m].
    y_m: f64,
    /// Depth there [m].
    depth_m: f64,
    /// Length of the profile of depths [m].
    reach_m: f64,
    /// Depths from the peg through the line to the end of the profile, at equal steps [cm].
    profile_cm: Vec<i64>,
    /// Bait in the water: time in tenths of a second, piled, scattered and hanging in tenths of a gram.
    lying: Vec<[i64; 4]>,
    /// Scent of the bait.
    scent: ScentEntry,
    /// Share of hanging bait that sinks out of a cloud in a second [1/s].
    cloud_loss_per_s: f64,
}

/// The scent of the bait on a line.
#[derive(Clone, Debug, Serialize, JsonSchema)]
struct ScentEntry {
    /// Puffs: released from, until in tenths of a second, amount in hundred-millionths of a mole.
    releases: Vec<[i64; 3]>,
    /// Speed of the water near the bed, along the bank and away from it [m/s].
    flow_m_s: [f64; 2],
    /// Spread of scent by mixing [m²/s].
    diffusivity_m2_s: f64,
    /// Share that is lost in a second [1/s].
    loss_per_s: f64,
    /// Height of the layer of water that holds it [m].
    layer_m: f64,
    /// Radius of a new puff [m].
    start_m: f64,
    /// Concentration that half of the fish notice [mol/m³].
    noticed_mol_m3: f64,
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

impl RecordingDocument {
    /// Name and version of the format.
    pub const FORMAT: &'static str = "shoalwise/film/1";
}

/// Converts the recording of a day into its document.
pub fn recording_document(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    recording: &Recording,
    units: Units,
) -> RecordingDocument {
    let fish = day
        .stock
        .iter()
        .map(|fish| [fish.shoal as u32, fish.mass_g, (100.0 * fish.length_m).round() as u32]);
    RecordingDocument {
        format: RecordingDocument::FORMAT,
        plan: plan.name.clone(),
        day: day.number,
        session_s: scenario.session_s,
        weather: WeatherEntry {
            temperature_c: day.conditions.temperature_c,
            wind_m_s: day.conditions.wind_m_s,
            wind_to_rad: day.conditions.wind_to_rad,
        },
        water: water(&scenario.chart),
        lines: LineId::all(scenario.lines.len())
            .map(|line| line_entry(scenario, day, recording, line))
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
fn water(chart: &Chart) -> WaterEntry {
    let cell_m = (chart.width_m.max(chart.length_m) / MAX_CELLS).max(0.5);
    let columns = (chart.width_m / cell_m).ceil() as u32;
    let rows = (chart.length_m / cell_m).ceil() as u32;
    let depth = |cell: u32| {
        let (column, row) = (f64::from(cell % columns), f64::from(cell / columns));
        let x_m = (column + 0.5) * cell_m - 0.5 * chart.width_m;
        cm(chart.depth_m(Point { x_m, y_m: (row + 0.5) * cell_m }))
    };
    let features = chart.features.iter().map(|feature| FeatureEntry {
        name: feature.name.clone(),
        x_m: feature.centre.x_m,
        y_m: feature.centre.y_m,
        half_length_m: feature.half_length_m,
        half_width_m: feature.half_width_m,
        cover: feature.is_cover,
    });
    WaterEntry {
        width_m: chart.width_m,
        length_m: chart.length_m,
        cell_m,
        columns,
        rows,
        depths_cm: (0..columns * rows).map(depth).collect(),
        features: features.collect(),
    }
}

/// One line: its position, the depths on the way to it and beyond, its bait and its scent.
fn line_entry(scenario: &Scenario, day: &Day, recording: &Recording, line: LineId) -> LineEntry {
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
    LineEntry {
        name: named.name.clone(),
        x_m: named.at.x_m,
        y_m: named.at.y_m,
        depth_m: scenario.chart.depth_m(named.at),
        reach_m,
        profile_cm: (0..=PROFILE_STEPS).map(depth).collect(),
        lying: lying.collect(),
        scent: ScentEntry {
            releases: releases.collect(),
            flow_m_s: recorded_line.flow_m_s.into(),
            diffusivity_m2_s: recorded_line.diffusivity_m2_s,
            loss_per_s: recorded_line.loss_per_s,
            layer_m: recorded_line.layer_m,
            start_m: day.bait.puff_radius_m,
            noticed_mol_m3: day.fish.odour_half_mol_m3,
        },
        cloud_loss_per_s: day.bait.cloud_loss_per_s,
    }
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
