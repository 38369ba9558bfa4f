//! When a shoal's home range moves and where to, from its keys.

use super::clock::clock_time_s;
use super::homes::Homes;
use crate::fish::HomeMove;
use crate::scenario::diagnose::{Diagnostics, quoted};
use crate::scenario::schema::{Dimension, FullKey, session, shoal};
use crate::scenario::values::ValueTable;
use crate::water::Point;

/// The moves of a shoal, in the order of time; what is wrong with them is added to `faults`.
pub(super) fn moves(
    table: &ValueTable,
    shoal: &str,
    homes: &Homes<'_>,
    faults: &mut Diagnostics,
) -> Vec<HomeMove> {
    let reader = MoveReader { table, homes };
    let mut moves = Vec::new();
    for name in table.names(shoal::MOVES, &[shoal]) {
        let names = [shoal, name];
        let (after_s, to) = (reader.after_s(&names, faults), reader.place(&names, faults));
        if let (Some(after_s), Some(to)) = (after_s, to) {
            moves.push(HomeMove { after_s, to });
        }
    }
    moves.sort_by(|a, b| a.after_s.total_cmp(&b.after_s));
    moves
}

/// Reads one move; `names` are those of the shoal and of the move.
struct MoveReader<'a> {
    table: &'a ValueTable,
    homes: &'a Homes<'a>,
}

impl MoveReader<'_> {
    /// When it happens, from the start of the session [s].
    fn after_s(&self, names: &[&str], faults: &mut Diagnostics) -> Option<f64> {
        let (at, after) = (shoal::MOVE_AT.at(names), shoal::MOVE_AFTER.at(names));
        let mut fault = |dotted: &str, problem: &str| {
            let fix = "write either at = \"18:30\" or after = \"3 h\"";
            faults.add(self.table.fault(dotted, problem, fix));
            None
        };
        match (self.table.has(&at), self.table.has(&after)) {
            (true, true) => {
                fault(at.dotted(), "cannot be used together with after, which also says when")
            }
            (false, false) => {
                fault(&shoal::MOVES.entry(names), "does not say when the shoal moves")
            }
            (true, false) => self.clock_s(names, faults),
            (false, true) => {
                let after_s = self.table.given(&after)?;
                if after_s >= self.homes.session_s {
                    return fault(after.dotted(), "is not before the end of the session");
                }
                Some(after_s)
            }
        }
    }

    /// When it happens if it has a clock time, from the start of the session [s].
    fn clock_s(&self, names: &[&str], faults: &mut Diagnostics) -> Option<f64> {
        let at = shoal::MOVE_AT.at(names);
        let written = self.table.given(&at)?;
        let mut fault = |problem: String, fix: &str| {
            faults.add(self.table.fault(at.dotted(), problem, fix));
            None
        };
        let Some(clock_s) = clock_time_s(&written) else {
            let problem = format!("{} is not a clock time", quoted(&written));
            return fault(problem, "write hours and minutes, such as \"18:30\"");
        };
        if !self.table.has(&session::START) && !self.table.has(&session::DATE) {
            let problem = "needs the clock time of the start of the session".to_owned();
            return fault(
                problem,
                "write session.start, such as \"10:00\", or use after = \"3 h\"",
            );
        }
        let start = self.table.value(&session::START);
        let since_s = (clock_s - clock_time_s(&start)?).rem_euclid(86_400.0);
        if since_s >= self.homes.session_s {
            let length = Dimension::Time.show(self.homes.session_s);
            let problem = format!("is not within the session, which lasts {length} from {start}");
            return fault(problem, "change it, or session.start, or session.length");
        }
        Some(since_s)
    }

    /// The place to which the move leads. `None` after a fault.
    fn place(&self, names: &[&str], faults: &mut Diagnostics) -> Option<Point> {
        let to = shoal::MOVE_TO.at(names);
        let position = [shoal::MOVE_TO_ACROSS, shoal::MOVE_TO_OUT].map(|key| key.at(names));
        let first = position.iter().find(|key| self.table.has(*key));
        let mut fault = |dotted: &str, problem: &str, fix: &str| {
            faults.add(self.table.fault(dotted, problem, fix));
            None
        };
        let either = "write either to = \"LINE\", or to_across and to_out";
        match (self.table.given(&to), first) {
            (Some(_), Some(first)) => {
                let problem = "cannot be used together with to, which also says where";
                fault(first.dotted(), problem, either)
            }
            (Some(name), None) => self.homes.named(&name).map(|(centre, _)| centre),
            (None, Some(first)) => {
                let [across_m, out_m] = [0, 1].map(|index| self.table.given(&position[index]));
                let place = self.homes.place(across_m, out_m);
                if !self.homes.chart.contains(place) {
                    let fix = "change to_across or to_out, or make the water larger";
                    return fault(first.dotted(), "the place is outside the water", fix);
                }
                Some(place)
            }
            (None, None) if self.table.has(&to) => None,
            (None, None) => {
                let problem = "does not say where the shoal moves to";
                fault(&shoal::MOVES.entry(names), problem, either)
            }
        }
    }
}
