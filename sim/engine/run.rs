//! The loop: take the next event, let it happen, until time is up.

use super::agenda::Agenda;
use super::time::Time;

/// Something that events happen to.
pub trait Process {
    /// Everything that can be put on the agenda.
    type Event: Copy;

    /// Lets one event happen; what follows from it is entered on the agenda.
    fn happen(&mut self, now: Time, event: Self::Event, agenda: &mut Agenda<Self::Event>);
}

/// Lets everything happen that is due up to and including `until`; returns how many events that was.
pub fn run<P: Process>(process: &mut P, agenda: &mut Agenda<P::Event>, until: Time) -> u64 {
    let mut happened = 0;
    while let Some((now, event)) = agenda.next_by(until) {
        process.happen(now, event, agenda);
        happened += 1;
    }
    happened
}
