//! What happens in the angler's head: something is perceived, a rule fires, and the plan goes on otherwise.

use super::day::{Day, Purpose};
use super::event::Event;
use super::world::{World, rank};
use crate::angler::{Mind, Phase, Plan, Seen};
use crate::engine::{Agenda, Dice, Time, Watch};
use crate::scenario::Scenario;

/// The angler's eyes on water and rod tip.
#[derive(Clone, Debug)]
pub(super) struct Eyes {
    pub(super) seen: Seen,
    pub(super) mind: Mind,
    /// Whether something was perceived since the last look round.
    perceived: bool,
    /// Counts looks that are due; an older one is ignored.
    look: u32,
    /// Looks that came due: events of the angler's own, which change nothing in the water.
    pub(super) looked: u64,
    guess_dice: Dice,
    touches: Touches,
}

/// Fish touching the line between rig and rod tip: a Poisson stream whose rate follows the fish at the rig.
#[derive(Clone, Debug)]
struct Touches {
    /// Fish up and on the bed at the rig, as counted last.
    fish: (usize, usize),
    rate_per_s: f64,
    /// What is left until the next, in mean waits.
    left: f64,
    since: Time,
    /// Counts changes; the touch of an older one is ignored.
    touch: u32,
    dice: Dice,
}

impl<W: Watch<Event>> World<'_, W> {
    /// Eyes before the session.
    pub(super) fn eyes_open(scenario: &Scenario, plan: &Plan, day: &Day) -> Eyes {
        let mut dice = day.stream(Purpose::Touch);
        Eyes {
            seen: Seen::nothing(scenario.session_s, scenario.lines.len()),
            mind: Mind::fresh(&plan.rules),
            perceived: false,
            look: 0,
            looked: 0,
            guess_dice: day.stream(Purpose::Guess),
            touches: Touches {
                fish: (0, 0),
                rate_per_s: 0.0,
                left: dice.exponential(1.0),
                since: Time::ZERO,
                touch: 0,
                dice,
            },
        }
    }

    /// Whether anything that is perceived could move the plan.
    pub(super) fn has_rules(&self) -> bool {
        !self.plan.rules.list.is_empty()
    }

    /// Of all that happens, takes in what can be perceived from the bank.
    pub(super) fn perceive(&mut self, event: Event) {
        let counts = self.fish_on_counts();
        let (now_s, seen) = (self.now.seconds(), &mut self.eyes.seen);
        match event {
            Event::FishTakes { .. } => seen.bite(now_s),
            Event::FishShows { line, .. } => seen.show(line, now_s),
            Event::LineIsTouched { .. } => seen.line_bite(now_s),
            Event::FishIsNetted { fish } if counts => {
                let mass_kg = self.fish[fish].mass_kg();
                let spread_ln = self.day.angler.guess_spread_ln;
                seen.netted(self.eyes.guess_dice.lognormal(mass_kg, spread_ln));
            }
            _ => return,
        }
        self.eyes.perceived = true;
    }

    /// After each event: the rate of touches follows the fish at the rig, and what was perceived is thought over.
    pub(super) fn after_event(&mut self, agenda: &mut Agenda<Event>) {
        self.follow_touches(agenda);
        if std::mem::take(&mut self.eyes.perceived) {
            self.look_round(agenda);
        }
    }

    fn follow_touches(&mut self, agenda: &mut Agenda<Event>) {
        let swim = &self.swims[self.rod.line];
        let there = self.rod.bait_in_water();
        let fish = if there { (swim.up.len(), swim.below.len()) } else { (0, 0) };
        let touches = &mut self.eyes.touches;
        if fish == touches.fish {
            return;
        }
        touches.left -= self.now.seconds_since(touches.since) * touches.rate_per_s;
        touches.left = touches.left.max(0.0);
        let angler = &self.day.angler;
        touches.fish = fish;
        touches.rate_per_s = (angler.touch_up_per_h * fish.0 as f64
            + angler.touch_below_per_h * fish.1 as f64)
            / 3600.0;
        self.next_touch(agenda);
    }

    fn next_touch(&mut self, agenda: &mut Agenda<Event>) {
        let touches = &mut self.eyes.touches;
        touches.since = self.now;
        touches.touch += 1;
        if touches.rate_per_s > 0.0 {
            let at = self.now.after(touches.left / touches.rate_per_s);
            agenda.enter(at, rank::FISH, Event::LineIsTouched { touch: touches.touch });
        }
    }

    /// A fish touches the line, and the rod tip shows it.
    pub(super) fn line_is_touched(&mut self, touch: u32, agenda: &mut Agenda<Event>) {
        if touch != self.eyes.touches.touch {
            return;
        }
        self.show(Event::LineIsTouched { touch });
        self.eyes.touches.left = self.eyes.touches.dice.exponential(1.0);
        self.next_touch(agenda);
        self.strikes_at(touch, agenda);
    }

    /// A time for which a rule waits is up.
    pub(super) fn angler_looks(&mut self, look: u32) {
        self.eyes.looked += 1;
        self.eyes.perceived |= look == self.eyes.look;
    }

    /// A phase of the plan is turned to; where the plan was written so, it drops what rules had chosen.
    pub(super) fn turn_to_phase(&mut self, phase: &Phase) {
        if !self.has_rules() {
            self.hands.chosen = Some(phase.clone());
            return;
        }
        let rules = &self.plan.rules;
        if rules.phase_starts(phase.from_s) {
            for rule in self.eyes.mind.phase_begins(rules) {
                self.show(Event::RuleEnds { rule });
            }
        }
        let chosen = self.eyes.mind.chosen(rules, phase);
        self.eyes.seen.takes_up(Some(chosen.line), self.now.seconds());
        self.eyes.perceived = true;
        self.hands.chosen = Some(chosen);
    }

    /// The plan has the rod out of the water; what rules had chosen is dropped when the next phase begins.
    pub(super) fn turn_away(&mut self) {
        self.hands.chosen = None;
        self.eyes.seen.takes_up(None, self.now.seconds());
    }

    /// Looks at what was perceived; rules fire, and what they choose is done from now on.
    fn look_round(&mut self, agenda: &mut Agenda<Event>) {
        // At the whistle nothing is left to change.
        let Some(number) = self.hands.phase.filter(|_| self.now < self.end) else { return };
        let (rules, phase) = (&self.plan.rules, &self.plan.phases[number]);
        let now_s = self.now.seconds();
        let looked = self.eyes.mind.look(rules, phase, &self.eyes.seen, now_s);
        for rule in looked.ended {
            self.show(Event::RuleEnds { rule });
        }
        for rule in looked.fired {
            let (seen, within_s) = (&self.eyes.seen, rules.list[rule].when.within_s);
            let lately = |at_s: &f64| now_s - at_s < within_s;
            let told = Event::RuleFires {
                rule,
                quiet_s: now_s - seen.quiet_since_s(),
                bites: seen.bites_s().filter(lately).count(),
                shows: seen.shows_s(rules.list[rule].when.over).filter(lately).count(),
                line_bites: seen.line_bites_s().filter(lately).count(),
                guessed_kg: seen.guessed_kg,
            };
            self.show(told);
        }
        self.eyes.look += 1;
        if looked.next_s.is_finite() {
            let event = Event::AnglerLooks { look: self.eyes.look };
            agenda.enter(Time::from_seconds(looked.next_s), rank::HANDS, event);
        }
        self.goes_on_with(looked.chosen, agenda);
    }

    /// Goes on with what is chosen now: feed keeps its rhythm, tackle changes with the next cast, the line at once.
    fn goes_on_with(&mut self, chosen: Phase, agenda: &mut Agenda<Event>) {
        let Some(before) = self.hands.chosen.replace(chosen) else { return };
        let Some(chosen) = self.hands.chosen.clone().filter(|chosen| *chosen != before) else {
            return;
        };
        self.eyes.seen.takes_up(Some(chosen.line), self.now.seconds());
        if chosen.loose_feed != before.loose_feed {
            self.feeds_otherwise(&chosen, agenda);
        }
        if self.rod.bait_in_water() {
            self.leave_other_line(agenda);
        }
    }

    /// Feed on a line that was fed before follows on its last throw after its new time; feed on another begins.
    fn feeds_otherwise(&mut self, chosen: &Phase, agenda: &mut Agenda<Event>) {
        let Some(number) = self.hands.phase else { return };
        let next = std::mem::take(&mut self.hands.next_feed);
        let waiting = std::mem::take(&mut self.hands.due);
        for (feed, &fed) in chosen.loose_feed.iter().enumerate() {
            let was = next.iter().find(|(old, _)| old.line == fed.line);
            let unthrown = waiting.iter().any(|due| due.line == fed.line);
            let at = match was {
                Some(&(old, at)) if !unthrown => {
                    Time::from_seconds(at.seconds() - old.every_s + fed.every_s).max(self.now)
                }
                _ => self.now,
            };
            self.hands.next_feed.push((fed, at));
            agenda.enter(at, rank::HANDS, Event::LooseFeedDue { phase: number, feed });
        }
    }
}
