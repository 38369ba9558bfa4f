//! A stationary swim: bites that come by a given law instead of from fish that find the hookbait.

use super::day::{Day, Purpose};
use super::event::Event;
use super::world::{World, rank};
use crate::engine::{Agenda, Dice, Watch};
use crate::fish::State;

/// How long after the feeder has landed a fish bites [s]; infinite where none would, however long the wait.
pub type BiteLaw<'a> = dyn Fn(&mut Dice) -> f64 + Sync + 'a;

/// A law of bites, and its stream.
pub(super) struct Lawful<'a> {
    law: &'a BiteLaw<'a>,
    dice: Dice,
}

impl<'a> Lawful<'a> {
    pub(super) fn new(law: &'a BiteLaw<'a>, day: &Day) -> Self {
        Self { law, dice: day.stream(Purpose::Law) }
    }
}

impl<W: Watch<Event>> World<'_, W> {
    /// The bait is on the bed: under a law of bites, the next bite is entered.
    pub(super) fn awaits_bite(&mut self, cast: u32, agenda: &mut Agenda<Event>) {
        let Some(lawful) = &mut self.law else { return };
        let wait_s = (lawful.law)(&mut lawful.dice);
        if wait_s.is_finite() {
            agenda.enter(self.now.after(wait_s), rank::FISH, Event::BiteComes { cast });
        }
    }

    /// A bite comes by the law: the next fish of the stock that is still in the water takes the hookbait.
    ///
    /// Under a law nothing is left of where fish are: one that fled or went back may be the next.
    pub(super) fn bite_comes(&mut self, cast: u32, agenda: &mut Agenda<Event>) {
        if !self.rod.fishes(cast) {
            return;
        }
        let after = self.outcome.bites as usize;
        let stock = self.fish.len();
        let mut next = (0..stock).map(|step| (after + step) % stock);
        if let Some(fish) = next.find(|&fish| self.fish[fish].state != State::Kept) {
            self.fish_takes(fish, agenda);
        }
    }
}
