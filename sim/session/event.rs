//! The events of a session.

use schemars::JsonSchema;
use serde::Serialize;

use crate::fish::FishId;
use crate::water::LineId;

/// Why a fish left a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[non_exhaustive]
pub enum LeaveReason {
    /// It found less food than it expects elsewhere.
    GaveUp,
    /// It is full.
    Full,
    /// It was startled.
    Startled,
    /// It was hooked.
    Hooked,
}

/// One event. Throws, fish and lines are counted from 0, casts from 1.
///
/// Some events are scheduled ahead of time; the rest follow at once from another event. An observer is shown each event
/// that took effect, except the angler's turns and looks, which show in what the angler does. The number `mind` is the
/// generation of a fish's event: only the latest is current.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, JsonSchema)]
#[serde(tag = "event", rename_all = "kebab-case")]
#[expect(missing_docs, reason = "each variant says what its numbers are")]
#[non_exhaustive]
pub enum Event {
    /// A phase of the plan begins.
    PhaseBegins { phase: usize },
    /// A phase ends and none follows at once.
    PhaseEnds { phase: usize },
    /// The angler has finished a task and turns to what is due.
    AnglerTurns { turn: u32 },
    /// Loose feed is due on a line.
    LooseFeedDue { phase: usize, feed: usize },
    /// Loose feed hits the water.
    LooseFeedThrown { line: LineId, mass_kg: f64 },
    /// The rig is cast.
    RigIsCast { cast: u32, line: LineId },
    /// The feeder reaches the bed.
    FeederLands { cast: u32 },
    /// The load starts to open.
    LoadOpens { cast: u32 },
    /// All of the load is down.
    LoadIsDown { cast: u32 },
    /// Feed reaches the bed.
    FeedReachesBed { line: LineId, throw: u32 },
    /// Bait on the bed finishes a puff of scent.
    BaitLeaches { line: LineId },
    /// The hookbait is robbed, knocked off or buried.
    HookbaitGone { cast: u32 },
    /// The rig is wound in.
    RigIsWoundIn { cast: u32 },
    /// A roaming fish looks round after a leg and a pause.
    FishLooks { fish: FishId, mind: u32 },
    /// A fish notices a line and swims towards it.
    FishNotices { fish: FishId, line: LineId },
    /// A fish arrives at the line that it approached.
    FishArrives { fish: FishId, mind: u32 },
    /// A fish finds a mouthful.
    FishFinds { fish: FishId, mind: u32 },
    /// A fish eats a mouthful of feed.
    FishEats { fish: FishId, line: LineId },
    /// A fish meets the hookbait and takes it.
    FishTakes { fish: FishId, cast: u32 },
    /// A fish meets the hookbait and refuses it.
    FishRefuses { fish: FishId, cast: u32 },
    /// A fish rises for falling feed.
    FishRises { fish: FishId, line: LineId },
    /// A fish that is up shows at the surface.
    FishShows { fish: FishId, line: LineId },
    /// A fish that was up goes down to the bed.
    FishGoesDown { fish: FishId, mind: u32 },
    /// A bite comes after a given waiting time, in a session without fish that find the hookbait.
    BiteComes { cast: u32 },
    /// A fish gives up a line.
    FishGivesUp { fish: FishId, mind: u32 },
    /// A fish leaves a line.
    FishLeaves { fish: FishId, line: LineId, why: LeaveReason },
    /// A fish that fled or was returned roams again.
    FishRoams { fish: FishId, mind: u32 },
    /// A fish is hooked outside the mouth.
    FishIsFoulHooked { fish: FishId },
    /// A fish is hooked.
    FishIsHooked { fish: FishId },
    /// A fish is netted.
    FishIsNetted { fish: FishId },
    /// A hooked fish is lost.
    FishIsLost { fish: FishId },
    /// A fish touches the line: a line bite.
    LineIsTouched { touch: u32 },
    /// The angler strikes at a line bite.
    AnglerStrikes { touch: u32 },
    /// The time that a rule waits for is over, and the rules are evaluated.
    AnglerLooks { look: u32 },
    /// A rule of the plan fires, with what the angler had perceived, as far as the rule counts it.
    RuleFires {
        rule: usize,
        quiet_s: f64,
        bites: u16,
        missed: u16,
        shows: u16,
        line_bites: u16,
        lost: u16,
        landed: u16,
        foul_hooked: u16,
        guessed_kg: f64,
    },
    /// The change of a rule ends.
    RuleEnds { rule: usize },
    /// The session ends.
    SessionEnds,
}
