//! A log to which casts are added on the bank, with undo. It works on text; the caller saves it.

use super::bank_entry::BankEntry;
use super::cast::EndKind;
use super::clock::clock_text;
use super::columns::{
    BAIT, BITE_AT, CAST_AT, DATE, FEEDER, Header, LANDED, LINE, LOG_COLUMNS, LOOSE_FEED, NOTE,
    RECAST_AT, SESSION, SPECIES, WEIGHT, catch_log_template, delimiter,
};
use super::read::{log_rows, read_catch_log, row_start, without_mark};
use crate::scenario::{Diagnostics, read_bait_kg, read_mass_kg};

/// A log while casts are added to it; its text can be read as a log after every entry.
#[derive(Clone, Debug)]
pub struct BankLog {
    /// The file's name in faults.
    shown: String,
    session: String,
    date: String,
    state: BankState,
    /// The states before each entry, the last one on top.
    history: Vec<BankState>,
}

/// What an entry changes.
#[derive(Clone, Debug, PartialEq, Eq)]
struct BankState {
    text: String,
    /// Where the last row of the session begins in the text. `None` before its first cast.
    last_row: Option<usize>,
    line: String,
    bait: String,
    feeder: String,
}

impl BankLog {
    /// Goes on with a log, or begins one if `text` is empty. New casts go to `session` on `date`, on the line and with the
    /// bait and feeder of the last row.
    ///
    /// # Errors
    ///
    /// Everything that is wrong with the text.
    pub fn open(text: &str, shown: &str, session: &str, date: &str) -> Result<Self, Diagnostics> {
        let mut text = if text.trim().is_empty() { catch_log_template() } else { text.to_owned() };
        if !text.ends_with('\n') {
            text.push('\n');
        }
        let mut faults = Diagnostics::default();
        let mut rows = log_rows(&text);
        let header = Header::read(&rows.headers().cloned().unwrap_or_default(), &mut faults);
        let has_rows = rows.records().next().is_some();
        if !faults.is_empty() {
            return Err(faults.in_file(shown));
        }
        let mut state = BankState {
            last_row: None,
            line: String::new(),
            bait: String::new(),
            feeder: String::new(),
            text,
        };
        if has_rows {
            read_catch_log(&state.text, "", shown)?;
            state.continue_last_row(&header, session);
        }
        let (shown, session, date) = (shown.to_owned(), session.to_owned(), date.to_owned());
        Ok(Self { shown, session, date, state, history: Vec::new() })
    }

    /// The log as text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.state.text
    }

    /// Whether a bait is out: cast, and neither bitten nor wound in.
    #[must_use]
    pub fn is_bait_out(&self) -> bool {
        self.state.last_row.is_some() && self.state.is_bait_out()
    }

    /// Whether the last cast had a bite of which it is not yet said how it ended.
    #[must_use]
    pub fn awaits_end(&self) -> bool {
        let state = &self.state;
        state.needs_bite().is_ok() && state.field(LANDED).is_empty()
    }

    /// Line, bait and feeder of the next cast.
    #[must_use]
    pub fn next_cast(&self) -> [&str; 3] {
        [&self.state.line, &self.state.bait, &self.state.feeder]
    }

    /// Records an entry that happened at `time_s` [s since midnight]; returns what is recorded now, in words.
    ///
    /// # Errors
    ///
    /// A message that says why nothing was recorded.
    pub fn record(&mut self, entry: &BankEntry, time_s: f64) -> Result<String, String> {
        if *entry == BankEntry::Undo {
            let before = self.history.pop().ok_or("there is nothing to undo")?;
            self.state = before;
            return Ok("undone".to_owned());
        }
        let mut next = self.state.clone();
        let words = self.change(&mut next, entry, &clock_text(time_s))?;
        if next.text != self.state.text {
            read_catch_log(&next.text, "", &self.shown).map_err(|faults| faults.to_string())?;
        }
        self.history.push(std::mem::replace(&mut self.state, next));
        Ok(words)
    }

    fn change(&self, next: &mut BankState, entry: &BankEntry, at: &str) -> Result<String, String> {
        match entry {
            BankEntry::Cast => return self.cast(next, at),
            BankEntry::Bite => {
                next.needs_bait_out()?;
                next.set(BITE_AT, at)?;
                return Ok(format!("{at} bite; y 3 lb 4 oz if you land it, n if it gets off"));
            }
            BankEntry::Landed(details) => return next.landed(details),
            BankEntry::Lost => {
                next.needs_bite()?;
                next.set(LANDED, "no")?;
                return Ok("lost".to_owned());
            }
            BankEntry::WoundIn(kind) => {
                next.needs_bait_out()?;
                next.set(RECAST_AT, at)?;
                if *kind != EndKind::WoundIn {
                    let note = next.field(NOTE);
                    next.set(NOTE, format!("{} {note}", kind.word()).trim())?;
                }
                return Ok(format!("{at} {}, no bite", kind.word()));
            }
            BankEntry::Line(line) => next.line.clone_from(line),
            BankEntry::Bait(bait) => next.bait.clone_from(bait),
            BankEntry::Feeder(feeder) => {
                if !feeder.is_empty() {
                    read_bait_kg(feeder)?;
                }
                next.feeder.clone_from(feeder);
            }
            BankEntry::LooseFeed(amount) => {
                next.set(LOOSE_FEED, amount)?;
                return Ok(format!("{amount} thrown in with the last cast"));
            }
            BankEntry::Note(remark) => {
                let note = next.field(NOTE);
                next.set(NOTE, format!("{note} {remark}").trim())?;
                return Ok("noted".to_owned());
            }
            BankEntry::Undo | BankEntry::Help | BankEntry::Quit => return Ok(String::new()),
        }
        Ok(format!("next casts: {}", next.settings()))
    }

    /// Adds a row for a new cast.
    fn cast(&self, next: &mut BankState, at: &str) -> Result<String, String> {
        if next.line.is_empty() {
            return Err("write first where you cast to, as in l far-bank".to_owned());
        }
        let mut before = "";
        if next.last_row.is_some() && next.is_bait_out() {
            next.set(RECAST_AT, at)?;
            before = "wound in without a bite; ";
        }
        let (line, bait, feeder) = (next.line.clone(), next.bait.clone(), next.feeder.clone());
        let fields = [
            (SESSION, self.session.as_str()),
            (DATE, &self.date),
            (CAST_AT, at),
            (LINE, &line),
            (BAIT, &bait),
            (FEEDER, &feeder),
        ];
        next.add_row(&fields)?;
        Ok(format!("{at} {before}cast to {}", next.settings()))
    }
}

impl BankState {
    /// Where new casts go and what they carry.
    fn settings(&self) -> String {
        let parts = [&self.line, &self.bait, &self.feeder];
        let named: Vec<&str> =
            parts.into_iter().map(String::as_str).filter(|part| !part.is_empty()).collect();
        named.join(", ")
    }

    /// Takes line, bait and feeder from the last row of the text, and the row itself if it is of the session.
    fn continue_last_row(&mut self, header: &Header, session: &str) {
        let text = self.text.clone();
        let mut rows = log_rows(&text);
        let is_cast = |row: &csv::StringRecord| !row.iter().all(str::is_empty);
        let Some(row) = rows.records().filter_map(Result::ok).filter(is_cast).last() else {
            return;
        };
        header.field(&row, LINE).clone_into(&mut self.line);
        header.field(&row, BAIT).clone_into(&mut self.bait);
        header.field(&row, FEEDER).clone_into(&mut self.feeder);
        if header.field(&row, SESSION) == session {
            let rows = without_mark(&text);
            let mark = text.len() - rows.len();
            self.last_row = row.position().map(|position| mark + row_start(rows, position).0);
        }
    }

    fn header(&self) -> Header {
        let heads = log_rows(&self.text).headers().cloned().unwrap_or_default();
        Header::read(&heads, &mut Diagnostics::default())
    }

    /// The fields of the last row.
    fn last_fields(&self) -> Option<Vec<String>> {
        let row = self.text.get(self.last_row?..)?;
        let mut rows = csv::ReaderBuilder::new()
            .has_headers(false)
            .trim(csv::Trim::All)
            .delimiter(delimiter(&self.text))
            .from_reader(row.as_bytes());
        let fields = rows.records().next()?.ok()?;
        Some(fields.iter().map(str::to_owned).collect())
    }

    /// A field of the last row; empty if there is none.
    fn field(&self, column: usize) -> String {
        let position = self.header().position(column);
        let field = self.last_fields().zip(position).and_then(|(row, at)| row.get(at).cloned());
        field.unwrap_or_default()
    }

    fn is_bait_out(&self) -> bool {
        self.field(BITE_AT).is_empty() && self.field(RECAST_AT).is_empty()
    }

    fn needs_bait_out(&self) -> Result<(), String> {
        let is_out = self.last_row.is_some() && self.is_bait_out();
        if is_out { Ok(()) } else { Err("no bait is out; c records a cast".to_owned()) }
    }

    fn needs_bite(&self) -> Result<(), String> {
        let has_bite = self.last_row.is_some() && !self.field(BITE_AT).is_empty();
        if has_bite { Ok(()) } else { Err("the last cast has no bite; b records one".to_owned()) }
    }

    /// Records that the fish of the last bite was landed, with what is known of it.
    fn landed(&mut self, details: &str) -> Result<String, String> {
        self.needs_bite()?;
        let words: Vec<&str> = details.split_whitespace().collect();
        // The weight is the longest beginning that can be read as one.
        let weighed =
            (1..=words.len()).rev().find(|&count| read_mass_kg(&words[..count].join(" ")).is_ok());
        let (weight, species) = words.split_at(weighed.unwrap_or(0));
        let begins_with_number = details.starts_with(|c: char| c.is_ascii_digit());
        if weighed.is_none() && begins_with_number {
            return Err(read_mass_kg(details).err().unwrap_or_default());
        }
        self.set(LANDED, "yes")?;
        for (column, words) in [(WEIGHT, weight), (SPECIES, species)] {
            if !words.is_empty() {
                self.set(column, &words.join(" "))?;
            }
        }
        Ok(format!("landed {details}").trim().to_owned())
    }

    /// Writes a field of the last row.
    fn set(&mut self, column: usize, value: &str) -> Result<(), String> {
        let (start, mut fields) = self
            .last_row
            .zip(self.last_fields())
            .ok_or("there is no cast in this session yet; c records one")?;
        let at = self.position(column)?;
        if let Some(field) = fields.get_mut(at) {
            value.clone_into(field);
        }
        let row = self.row_text(&fields)?;
        self.text.truncate(start);
        self.text.push_str(&row);
        Ok(())
    }

    fn add_row(&mut self, values: &[(usize, &str)]) -> Result<(), String> {
        let mut fields = vec![String::new(); self.header().width];
        for (column, value) in values.iter().filter(|(_, value)| !value.is_empty()) {
            let at = self.position(*column)?;
            (*value).clone_into(&mut fields[at]);
        }
        let row = self.row_text(&fields)?;
        self.last_row = Some(self.text.len());
        self.text.push_str(&row);
        Ok(())
    }

    fn position(&self, column: usize) -> Result<usize, String> {
        self.header().position(column).ok_or_else(|| {
            let name = LOG_COLUMNS[column].name;
            format!("the log has no column {name}: add it to the first line and to every row")
        })
    }

    /// A row as text with its line break.
    fn row_text(&self, fields: &[String]) -> Result<String, String> {
        let mut writer =
            csv::WriterBuilder::new().delimiter(delimiter(&self.text)).from_writer(Vec::new());
        writer.write_record(fields).map_err(|error| error.to_string())?;
        let bytes = writer.into_inner().map_err(|error| error.to_string())?;
        String::from_utf8(bytes).map_err(|error| error.to_string())
    }
}
