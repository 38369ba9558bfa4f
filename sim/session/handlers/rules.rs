//! Rules of the plan: something is perceived, a rule fires, and the plan changes.

use crate::angler::Phase;
use crate::engine::{Observer, Time};
use crate::session::event::Event;
use crate::session::world::{World, rank};

impl<W: Observer<Event>> World<'_, W> {
    /// After each event: lets the rate of line touches follow the fish at the rig.
    pub(super) fn follow_line_touches(&mut self) {
        let swim = &self.swims[self.rod.tackle.line];
        let fish =
            if self.rod.bait_in_water() { (swim.up.len(), swim.below.len()) } else { (0, 0) };
        if self.perception.touches.set_fish(fish, self.now, &self.day.angler) {
            self.schedule_touch();
        }
    }

    fn schedule_touch(&mut self) {
        if let Some((touch, at)) = self.perception.touches.next(self.now) {
            self.agenda.schedule(at, rank::FISH, Event::LineIsTouched { touch });
        }
    }

    /// A fish touches the line, and the rod tip shows it.
    pub(super) fn line_is_touched(&mut self, touch: u32) {
        if !self.perception.touches.is_current(touch) {
            return;
        }
        self.announce(Event::LineIsTouched { touch });
        self.perception.touches.draw_next();
        self.schedule_touch();
        self.strike_at_touch(touch);
    }

    /// Turns to a phase of the plan and returns it with the changes of the rules in force.
    ///
    /// Changes that last for a phase end if the phase begins as written in the plan.
    pub(super) fn choose_phase(&mut self, phase: &Phase) -> Phase {
        let chosen = if self.has_rules() {
            let rules = &self.plan.rules;
            if rules.is_phase_start(phase.from_s) {
                for rule in self.perception.rules.phase_begins(rules) {
                    self.announce(Event::RuleEnds { rule });
                }
            }
            let chosen = self.perception.rules.chosen(rules, phase);
            self.perception.seen.turn_to_line(Some(chosen.tackle.line), self.now.seconds());
            self.perception.is_new = true;
            chosen
        } else {
            phase.clone()
        };
        self.take_in_lines(&chosen);
        self.angler.chosen = Some(chosen.clone());
        chosen
    }

    /// The plan takes the rod out of the water; changes by rules end when the next phase begins.
    pub(super) fn choose_nothing(&mut self) {
        self.angler.chosen = None;
        self.perception.seen.turn_to_line(None, self.now.seconds());
    }

    /// Evaluates all rules against what was perceived; what they choose applies from now on.
    pub(super) fn evaluate_rules(&mut self) {
        // At the end of the session nothing is left to change.
        let Some(phase) = self.angler.phase.filter(|_| self.now < self.end) else { return };
        let (rules, phase) = (&self.plan.rules, &self.plan.phases[phase]);
        let (perception, now_s) = (&mut self.perception, self.now.seconds());
        let looked = perception.rules.evaluate(rules, phase, &perception.seen, now_s);
        for rule in looked.ended {
            self.announce(Event::RuleEnds { rule });
        }
        for rule in looked.fired {
            self.announce(self.rule_fires(rule));
        }
        let look = self.perception.next_look();
        if looked.next_s.is_finite() {
            let at = Time::from_seconds(looked.next_s);
            self.agenda.schedule(at, rank::ANGLER, Event::AnglerLooks { look });
        }
        self.apply_choice(looked.chosen);
    }

    /// The event of a rule that fires, with what was perceived, as far as the rule counts it.
    fn rule_fires(&self, rule: usize) -> Event {
        let (seen, when) = (&self.perception.seen, &self.plan.rules.list[rule].condition);
        let now_s = self.now.seconds();
        let is_recent = |at_s: &f64| now_s - at_s < when.within_s;
        let among = |times_s: &[f64]| as_count(times_s.iter().copied().filter(is_recent));
        Event::RuleFires {
            rule,
            quiet_s: now_s - seen.quiet_since_s(),
            bites: as_count(seen.bites_s().filter(is_recent)),
            missed: as_count(seen.missed_s().filter(is_recent)),
            shows: as_count(seen.shows_s(when.show_line).filter(is_recent)),
            line_bites: as_count(seen.line_bites_s().filter(is_recent)),
            lost: among(seen.lost_s()),
            landed: among(seen.landed_s()),
            foul_hooked: among(seen.foul_hooked_s()),
            guessed_kg: seen.guessed_kg,
        }
    }

    /// Applies what is chosen now: feed keeps its rhythm, tackle changes with the next cast, the line at once.
    fn apply_choice(&mut self, chosen: Phase) {
        let Some(before) = self.angler.chosen.replace(chosen.clone()) else { return };
        if chosen == before {
            return;
        }
        self.take_in_lines(&chosen);
        self.perception.seen.turn_to_line(Some(chosen.tackle.line), self.now.seconds());
        if chosen.loose_feed != before.loose_feed {
            self.reschedule_feed(&chosen);
        }
        if self.rod.bait_in_water() {
            self.leave_other_line();
        }
    }

    /// Schedules changed feed: on a line that was fed before, after its last throw; on another line, now.
    fn reschedule_feed(&mut self, chosen: &Phase) {
        let Some(phase) = self.angler.phase else { return };
        let previous = std::mem::take(&mut self.angler.feed_times);
        let due = std::mem::take(&mut self.angler.feed_due);
        for (feed, &current) in chosen.loose_feed.iter().enumerate() {
            let before = previous.iter().find(|(old, _)| old.line == current.line);
            let is_due = due.iter().any(|due| due.line == current.line);
            let at = match before {
                Some(&(old, at)) if !is_due => {
                    Time::from_seconds(at.seconds() - old.every_s + current.every_s).max(self.now)
                }
                _ => self.now,
            };
            self.schedule_feed(phase, feed, current, at);
        }
    }
}

/// Number of times, as an event counts them.
fn as_count(times_s: impl Iterator<Item = f64>) -> u16 {
    u16::try_from(times_s.count()).unwrap_or(u16::MAX)
}
