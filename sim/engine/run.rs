//! The event loop: takes the next event and has it handled, until time is up.

use super::agenda::Agenda;
use super::time::Time;

/// A model driven by events.
pub trait Process {
    /// Everything that can be on the agenda.
    type Event: Copy;

    /// The agenda of pending events, which the model owns.
    fn agenda(&mut self) -> &mut Agenda<Self::Event>;

    /// Handles one event at its time, and puts what follows from it on the agenda.
    fn handle(&mut self, now: Time, event: Self::Event);
}

/// Handles every event that is due up to and including `until`, and returns their number.
pub fn run<P: Process>(process: &mut P, until: Time) -> u64 {
    let mut handled = 0;
    while let Some((now, event)) = process.agenda().pop_until(until) {
        process.handle(now, event);
        handled += 1;
    }
    handled
}
