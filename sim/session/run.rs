//! Fishes one plan on one day.

use super::day::Day;
use super::event::Event;
use super::lawful::{BiteLaw, Lawful};
use super::outcome::Outcome;
use super::world::World;
use crate::angler::Plan;
use crate::engine::{Agenda, Nobody, Process, Time, Watch, run};
use crate::scenario::Scenario;

/// Fishes one plan on one day.
#[must_use]
pub fn fish_session(scenario: &Scenario, plan: &Plan, day: &Day) -> Outcome {
    watch_session(scenario, plan, day, &mut Nobody)
}

/// Fishes one plan on one day while somebody watches.
pub fn watch_session<W: Watch<Event>>(
    scenario: &Scenario,
    plan: &Plan,
    day: &Day,
    watch: &mut W,
) -> Outcome {
    fished(World::new(scenario, plan, day, watch))
}

/// Fishes one plan on one day in a stationary swim: bites come by a law, whatever fish and bait do.
///
/// Angler, rod, hooking, playing and weighing are as ever; fish neither roam nor feed, and stand ready to be hooked in
/// the order of the stock. This is the limit in which waiting for bites is a renewal process with a known answer.
///
/// - **Checked by** V-106 to V-108.
#[must_use]
pub fn fish_by_law(scenario: &Scenario, plan: &Plan, day: &Day, law: &BiteLaw<'_>) -> Outcome {
    let mut nobody = Nobody;
    let mut world = World::new(scenario, plan, day, &mut nobody);
    world.law = Some(Lawful::new(law, day));
    fished(world)
}

/// Runs a session to its end.
fn fished<W: Watch<Event>>(mut world: World<'_, W>) -> Outcome {
    let mut agenda = Agenda::new();
    world.begin(&mut agenda);
    let end = world.end;
    let happened = run(&mut world, &mut agenda, end);
    let mut outcome = world.outcome;
    // What passes in the angler's head moves nothing in the water.
    outcome.swim.events = happened - world.eyes.looked;
    outcome.fired = world.eyes.mind.fired().to_vec();
    outcome
}

impl<W: Watch<Event>> Process for World<'_, W> {
    type Event = Event;

    fn happen(&mut self, now: Time, event: Event, agenda: &mut Agenda<Event>) {
        self.now = now;
        match event {
            Event::PhaseBegins { phase } => self.phase_begins(phase, agenda),
            Event::PhaseEnds { phase } => self.phase_ends(phase, agenda),
            Event::AnglerTurns { turn } => self.angler_turns(turn, agenda),
            Event::LooseFeedDue { phase, feed } => self.loose_feed_due(phase, feed, agenda),
            Event::RigIsCast { cast, line } => self.rig_is_cast(cast, line, agenda),
            Event::FeederLands { cast } => self.feeder_lands(cast, agenda),
            Event::LoadOpens { cast } => self.load_opens(cast, agenda),
            Event::LoadIsDown { cast } => self.load_is_down(cast, agenda),
            Event::FeedReachesBed { line, throw } => self.feed_reaches_bed(line, throw, agenda),
            Event::BaitLeaches { line } => self.bait_leaches(line, agenda),
            Event::HookbaitGone { cast } => self.hookbait_gone(cast),
            Event::RigIsWoundIn { cast } => self.rig_is_wound_in(cast, agenda),
            Event::FishLooks { fish, mind } => self.fish_looks(fish, mind, agenda),
            Event::FishArrives { fish, mind } => self.fish_arrives(fish, mind, agenda),
            Event::FishFinds { fish, mind } => self.fish_finds(fish, mind, agenda),
            Event::FishGoesDown { fish, mind } => self.fish_goes_down(fish, mind, agenda),
            Event::FishGivesUp { fish, mind } => self.fish_gives_up(fish, mind, agenda),
            Event::FishRoams { fish, mind } => self.fish_roams(fish, mind, agenda),
            Event::FishIsNetted { fish } => self.fish_is_netted(fish, agenda),
            Event::FishIsLost { fish } => self.fish_is_lost(fish, agenda),
            Event::BiteComes { cast } => self.bite_comes(cast, agenda),
            Event::LineIsTouched { touch } => self.line_is_touched(touch, agenda),
            Event::AnglerLooks { look } => self.angler_looks(look),
            Event::SessionEnds => self.session_ends(),
            // These follow at once from others and are never on the agenda.
            Event::LooseFeedThrown { .. }
            | Event::FishNotices { .. }
            | Event::FishEats { .. }
            | Event::FishTakes { .. }
            | Event::FishRefuses { .. }
            | Event::FishRises { .. }
            | Event::FishShows { .. }
            | Event::FishLeaves { .. }
            | Event::FishIsFoulHooked { .. }
            | Event::FishIsHooked { .. }
            | Event::AnglerStrikes { .. }
            | Event::RuleFires { .. }
            | Event::RuleEnds { .. } => {}
        }
        self.after_event(agenda);
        if cfg!(debug_assertions) {
            self.check();
        }
    }
}
