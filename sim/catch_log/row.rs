//! One row of a log, field by field.

use super::cast::{CastEnd, EndKind, LoggedCast, LoggedCatch};
use super::clock::read_clock_s;
use super::columns::{
    BAIT, BITE_AT, CAST_AT, DATE, FEEDER, HOOK, Header, LANDED, LINE, LINE_STRENGTH, LOG_COLUMNS,
    LOOSE_FEED, NOTE, RECAST_AT, SESSION, SPECIES, WEIGHT,
};
use crate::angler::{EndTackle, HookSize};
use crate::scenario::{
    Diagnostic, Diagnostics, SourceLocation, is_hidden, quoted, read_bait_kg, read_mass_kg,
};

/// Heaviest fish that is believed [kg].
const MAX_FISH_KG: f64 = 60.0;
/// Largest amount of bait of a cast that is believed [kg].
const MAX_BAIT_KG: f64 = 50.0;
/// Strengths of a fishing line that are believed [kg].
const LINE_STRENGTHS_KG: std::ops::RangeInclusive<f64> = 0.2..=30.0;
const DAY_S: f64 = 86_400.0;
/// A time earlier than the cast by more than this is one after midnight; a wait may not be longer [s].
const HALF_DAY_S: f64 = 43_200.0;

/// A row with the session that it belongs to.
pub(super) struct LogRow {
    pub(super) session: String,
    pub(super) date: Option<String>,
    pub(super) cast: LoggedCast,
}

/// Reads the fields of one row and collects what is wrong with them.
pub(super) struct RowReader<'a> {
    pub(super) header: &'a Header,
    pub(super) row: &'a csv::StringRecord,
    /// Row of the file, counted from 1.
    pub(super) number: usize,
    pub(super) faults: &'a mut Diagnostics,
}

impl RowReader<'_> {
    /// The cast of the row. `None` if its time or place cannot be read; the faults say why.
    pub(super) fn read(&mut self) -> Option<LogRow> {
        self.check_names();
        let session = self.required(SESSION, "write a name for the session");
        let date = self.date();
        let line = self.required(LINE, "write where you cast to");
        let cast_s = self.time(CAST_AT);
        if cast_s.is_none() && self.field(CAST_AT).is_empty() {
            self.missing(CAST_AT, "write when you cast: h:mm:ss or h:mm");
        }
        let wound_in_s = self.time(RECAST_AT);
        let bite_s = self.time(BITE_AT);
        let catch = self.catch();
        let feeder_kg = self.bait_kg(FEEDER);
        let loose_feed_kg = self.bait_kg(LOOSE_FEED);
        let end_tackle = EndTackle { line_strength_kg: self.line_strength_kg(), hook: self.hook() };
        let cast_s = cast_s?;
        let wound_in_s = self.after(RECAST_AT, wound_in_s, CAST_AT, cast_s);
        let bite_s = self.after(BITE_AT, bite_s, CAST_AT, cast_s);
        let end = self.end(bite_s, wound_in_s, catch);
        let cast = LoggedCast {
            row: self.number,
            cast_s,
            line: line?,
            bait: self.field(BAIT).to_owned(),
            feeder_kg,
            loose_feed_kg,
            end_tackle,
            end,
            note: self.field(NOTE).to_owned(),
        };
        Some(LogRow { session: session?, date, cast })
    }

    /// Refuses names that could control a terminal or deceive a reader; they are shown as they are.
    fn check_names(&mut self) {
        for column in [SESSION, LINE, BAIT, SPECIES] {
            if self.field(column).contains(is_hidden) {
                let problem = format!("{} has hidden characters", quoted(self.field(column)));
                self.fault(column, problem, "write it again on one line, with letters and digits");
            }
        }
    }

    fn field(&self, column: usize) -> &str {
        self.header.field(self.row, column)
    }

    fn fault(&mut self, column: usize, problem: impl Into<String>, fix: impl Into<String>) {
        let place = SourceLocation::Line(self.number);
        self.faults.add(Diagnostic::new(&place, LOG_COLUMNS[column].name, problem, fix));
    }

    /// A field is empty that may not be. If the whole column is missing, the header has said so.
    fn missing(&mut self, column: usize, fix: &str) {
        if self.header.position(column).is_some() {
            self.fault(column, "is empty", fix);
        }
    }

    /// A field that may not be empty.
    fn required(&mut self, column: usize, fix: &str) -> Option<String> {
        let text = self.field(column).to_owned();
        if text.is_empty() {
            self.missing(column, fix);
        }
        Some(text).filter(|text| !text.is_empty())
    }

    /// A time [s]. `None` if the field is empty or is not one.
    fn time(&mut self, column: usize) -> Option<f64> {
        let text = self.field(column);
        let time_s = read_clock_s(text);
        if time_s.is_none() && !text.is_empty() {
            let problem = format!("{} is not a time", quoted(text));
            self.fault(column, problem, "write h:mm:ss or h:mm, as in 9:05:30");
        }
        time_s
    }

    /// A time that comes after another one of the row, counted on past midnight.
    fn after(
        &mut self,
        column: usize,
        time_s: Option<f64>,
        earlier: usize,
        earlier_s: f64,
    ) -> Option<f64> {
        let time_s = time_s?;
        let past_midnight = if time_s < earlier_s - HALF_DAY_S { DAY_S } else { 0.0 };
        let time_s = time_s + past_midnight;
        let (name, written) = (LOG_COLUMNS[earlier].name, self.field(earlier).to_owned());
        if time_s < earlier_s {
            let problem = format!("is before {name}, {written}");
            self.fault(column, problem, "correct one of the two times");
        } else if time_s > earlier_s + HALF_DAY_S {
            let problem = format!("is more than 12 h after {name}, {written}");
            self.fault(column, problem, "correct one of the two times");
        }
        Some(time_s)
    }

    /// How the cast ended. `None` if it has neither a bite nor a time of winding in.
    fn end(
        &mut self,
        bite_s: Option<f64>,
        wound_in_s: Option<f64>,
        catch: Option<LoggedCatch>,
    ) -> Option<CastEnd> {
        if let Some(bite_s) = bite_s {
            if wound_in_s.is_some_and(|wound_in_s| wound_in_s < bite_s) {
                let fix = "write when the bite came, and after it when the line was in again";
                self.fault(RECAST_AT, "is before bite_at", fix);
            }
            let none = LoggedCatch { landed: None, weight_kg: None, species: String::new() };
            let catch = Some(catch.unwrap_or(none));
            return Some(CastEnd { kind: EndKind::Bite, at_s: bite_s, wound_in_s, catch });
        }
        if !self.field(BITE_AT).is_empty() {
            return None;
        }
        if catch.is_some() {
            let column = [LANDED, WEIGHT, SPECIES].into_iter().find(|&column| {
                !(self.field(column).is_empty() || column == LANDED && self.is_no())
            });
            if let Some(column) = column {
                let fix = "write when the bite came, or leave this field empty";
                self.fault(column, "is given, but bite_at is empty", fix);
            }
        }
        let at_s = wound_in_s?;
        Some(CastEnd { kind: self.reason(), at_s, wound_in_s, catch: None })
    }

    /// Why a cast without a bite ended, by the first word of its note.
    fn reason(&self) -> EndKind {
        let first = self.field(NOTE).split(|c: char| !c.is_alphabetic()).next().unwrap_or_default();
        [EndKind::Snag, EndKind::Robbed, EndKind::Moved]
            .into_iter()
            .find(|kind| first.eq_ignore_ascii_case(kind.word()))
            .unwrap_or(EndKind::WoundIn)
    }

    fn is_no(&self) -> bool {
        ["no", "n", "0"].iter().any(|word| self.field(LANDED).eq_ignore_ascii_case(word))
    }

    /// What is written of a fish. `None` if nothing is.
    fn catch(&mut self) -> Option<LoggedCatch> {
        let landed = match self.field(LANDED) {
            "" => None,
            _ if self.is_no() => Some(false),
            text if ["yes", "y", "1"].iter().any(|word| text.eq_ignore_ascii_case(word)) => {
                Some(true)
            }
            text => {
                let problem = format!("{} is neither yes nor no", quoted(text));
                self.fault(LANDED, problem, "write yes, no, or nothing");
                None
            }
        };
        let weight_kg = self.weight_kg();
        if weight_kg.is_some() && landed == Some(false) {
            let fix = "write yes if the fish was landed, or leave its weight empty";
            self.fault(LANDED, "says no, but the fish has a weight", fix);
        }
        let landed = landed.or(weight_kg.map(|_| true));
        let species = self.field(SPECIES).to_owned();
        let is_empty = landed.is_none() && species.is_empty();
        (!is_empty).then_some(LoggedCatch { landed, weight_kg, species })
    }

    fn weight_kg(&mut self) -> Option<f64> {
        let text = self.field(WEIGHT).to_owned();
        let weight_kg = self.quantity(WEIGHT, &text, read_mass_kg)?;
        if weight_kg > 0.0 && weight_kg <= MAX_FISH_KG {
            return Some(weight_kg);
        }
        let problem = format!("{} is not the weight of a fish", quoted(&text));
        self.fault(
            WEIGHT,
            problem,
            format!("a fish weighs more than nothing and at most {MAX_FISH_KG} kg"),
        );
        None
    }

    fn bait_kg(&mut self, column: usize) -> Option<f64> {
        let text = self.field(column).to_owned();
        let bait_kg = self.quantity(column, &text, read_bait_kg)?;
        if (0.0..=MAX_BAIT_KG).contains(&bait_kg) {
            return Some(bait_kg);
        }
        let problem = format!("{} is not an amount of bait for a cast", quoted(&text));
        self.fault(column, problem, format!("write 0 g to {MAX_BAIT_KG} kg"));
        None
    }

    fn line_strength_kg(&mut self) -> Option<f64> {
        let text = self.field(LINE_STRENGTH).to_owned();
        let strength_kg = self.quantity(LINE_STRENGTH, &text, read_mass_kg)?;
        if LINE_STRENGTHS_KG.contains(&strength_kg) {
            return Some(strength_kg);
        }
        let problem = format!("{} is not the strength of a fishing line", quoted(&text));
        self.fault(LINE_STRENGTH, problem, "write the load at which it breaks, 0.2 kg to 30 kg");
        None
    }

    fn hook(&mut self) -> Option<HookSize> {
        let text = self.field(HOOK);
        let hook = HookSize::ALL.into_iter().find(|hook| text.eq_ignore_ascii_case(hook.word()));
        if hook.is_none() && !text.is_empty() {
            let problem = format!("{} is not a size of hook", quoted(text));
            self.fault(HOOK, problem, "write small, middling, strong, or nothing");
        }
        hook
    }

    fn quantity(
        &mut self,
        column: usize,
        text: &str,
        read: fn(&str) -> Result<f64, String>,
    ) -> Option<f64> {
        if text.is_empty() {
            return None;
        }
        read(text).map_err(|message| self.fault(column, message, "")).ok()
    }

    /// A date, `YYYY-MM-DD`. `None` if the field is empty or is not one.
    fn date(&mut self) -> Option<String> {
        let text = self.field(DATE).to_owned();
        if text.is_empty() {
            return None;
        }
        let number = |part: &str, digits: usize, range: std::ops::RangeInclusive<u32>| {
            let is_number = part.len() == digits && part.bytes().all(|byte| byte.is_ascii_digit());
            is_number && part.parse().is_ok_and(|number| range.contains(&number))
        };
        let parts: Vec<&str> = text.split('-').collect();
        let is_date = matches!(parts[..], [year, month, day]
            if number(year, 4, 1900..=2999) && number(month, 2, 1..=12) && number(day, 2, 1..=31));
        if !is_date {
            let problem = format!("{} is not a date", quoted(&text));
            self.fault(DATE, problem, "write YYYY-MM-DD, as in 2026-06-21");
        }
        Some(text).filter(|_| is_date)
    }
}
