//! Starts a session, and calls the handler of each event.

use crate::engine::{Agenda, Observer, Process, Time};
use crate::fish::FishState;
use crate::session::event::Event;
use crate::session::world::{World, rank};

impl<W: Observer<Event>> World<'_, W> {
    /// Schedules the plan's phases, the first move of every fish and the end of the session.
    pub(in crate::session) fn start(&mut self) {
        self.schedule_phases();
        if self.waiting_times.is_some() {
            // With given waiting times fish rest until they are hooked; nothing else moves them.
            self.fish.iter_mut().for_each(|fish| fish.state = FishState::Resting);
        } else {
            self.set_fish_roaming();
        }
        self.agenda.schedule(self.end, rank::END, Event::SessionEnds);
    }
}

impl<W: Observer<Event>> Process for World<'_, W> {
    type Event = Event;

    #[inline]
    fn agenda(&mut self) -> &mut Agenda<Event> {
        &mut self.agenda
    }

    fn handle(&mut self, now: Time, event: Event) {
        self.now = now;
        match event {
            Event::PhaseBegins { phase } => self.phase_begins(phase),
            Event::PhaseEnds { phase } => self.phase_ends(phase),
            Event::AnglerTurns { turn } => self.angler_turns(turn),
            Event::LooseFeedDue { phase, feed } => self.loose_feed_due(phase, feed),
            Event::RigIsCast { cast, line } => self.rig_is_cast(cast, line),
            Event::FeederLands { cast } => self.feeder_lands(cast),
            Event::LoadOpens { cast } => self.load_opens(cast),
            Event::LoadIsDown { cast } => self.load_is_down(cast),
            Event::FeedReachesBed { line, throw } => self.feed_reaches_bed(line, throw),
            Event::BaitLeaches { line } => self.bait_leaches(line),
            Event::HookbaitGone { cast } => self.hookbait_gone(cast),
            Event::RigIsWoundIn { cast } => self.rig_is_wound_in(cast),
            Event::FishLooks { fish, mind } => self.fish_looks(fish, mind),
            Event::FishArrives { fish, mind } => self.fish_arrives(fish, mind),
            Event::FishFinds { fish, mind } => self.fish_finds(fish, mind),
            Event::FishGoesDown { fish, mind } => self.fish_goes_down(fish, mind),
            Event::FishGivesUp { fish, mind } => self.fish_gives_up(fish, mind),
            Event::FishRoams { fish, mind } => self.fish_roams(fish, mind),
            Event::FishIsNetted { fish } => self.fish_is_netted(fish),
            Event::FishIsLost { fish } => self.fish_is_lost(fish),
            Event::BiteComes { cast } => self.bite_comes(cast),
            Event::LineIsTouched { touch } => self.line_is_touched(touch),
            Event::AnglerLooks { look } => self.perception.look(look),
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
        self.follow_line_touches();
        if std::mem::take(&mut self.perception.is_new) {
            self.evaluate_rules();
        }
        if cfg!(debug_assertions) {
            self.check();
        }
    }
}
