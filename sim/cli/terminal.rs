//! What the terminal needs: messages on standard error, its width, and text wrapped to that width.

use std::env;
use std::fs;
use std::io::Write;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread;
use std::time::Duration;

use clap::ColorChoice;
use textwrap::WordSplitter;

use super::excerpt::{ExcerptStyle, faults_with_excerpts};
use crate::report;
use crate::scenario::{Diagnostics, shown_plainly};

/// Widths between which text is wrapped [columns].
const TEXT_WIDTH: (usize, usize) = (40, 100);

/// Prints a message on standard error. What came from outside cannot control the terminal.
pub(super) fn notify(text: &str) {
    let mut message = format!("shoalwise: {}", shown_plainly(text));
    if let Some((_, columns)) = console::Term::stderr().size_checked() {
        let options = textwrap::Options::new(usize::from(columns).max(TEXT_WIDTH.0));
        let options = options.subsequent_indent("  ").word_splitter(WordSplitter::NoHyphenation);
        message = textwrap::fill(&message, options);
    }
    // If standard error is closed, there is no other place to report it.
    let _ = writeln!(std::io::stderr(), "{message}");
}

/// Prints faults on standard error: on a terminal with an excerpt of the line that each is on; elsewhere a line a fault
/// that begins with file and line, as editors and scripts expect it. What came from outside cannot control the terminal.
///
/// `colour` is what `--color` asks for; with always, what does not go to a terminal has excerpts too.
pub(super) fn print_faults(faults: &Diagnostics, colour: ColorChoice) {
    let terminal = console::Term::stderr();
    let text = if colour == ColorChoice::Always || (terminal.is_term() && !is_dumb()) {
        let columns = usize::from(terminal.size().1).max(TEXT_WIDTH.0);
        let has_colour = match colour {
            ColorChoice::Auto => console::colors_enabled_stderr(),
            ColorChoice::Always => true,
            ColorChoice::Never => false,
        };
        let style = ExcerptStyle { has_colour, columns };
        faults_with_excerpts(faults, style, |file| fs::read_to_string(file).ok())
    } else {
        shown_plainly(&faults.to_string())
    };
    // If standard error is closed, there is no other place to report it.
    let _ = writeln!(std::io::stderr(), "{text}");
}

/// Whether the terminal can only print one character after the other.
pub(super) fn is_dumb() -> bool {
    env::var_os("TERM").is_some_and(|term| term == "dumb")
}

/// Time after which something slow is announced.
const SLOW: Duration = Duration::from_millis(500);

/// Announces something slow, unless it is done before anybody would wonder.
#[derive(Debug)]
pub(super) struct SlowNotice {
    _until_dropped: Sender<()>,
}

impl SlowNotice {
    /// Prints `text` on standard error if this still exists after half a second.
    pub(super) fn new(text: String) -> Self {
        let (sender, receiver) = mpsc::channel();
        thread::spawn(move || {
            if receiver.recv_timeout(SLOW) == Err(RecvTimeoutError::Timeout) {
                notify(&text);
            }
        });
        Self { _until_dropped: sender }
    }
}

/// Width of the terminal [columns]; 100, the widest that a table uses, if there is no terminal.
pub(super) fn columns() -> usize {
    console::Term::stdout().size_checked().map_or(TEXT_WIDTH.1, |(_, columns)| usize::from(columns))
}

/// Width of running text [columns].
pub(super) fn text_width() -> usize {
    columns().clamp(TEXT_WIDTH.0, TEXT_WIDTH.1)
}

/// A sentence wrapped to the terminal.
pub(super) fn wrapped(sentence: &str) -> String {
    report::wrapped(sentence, text_width())
}

/// A sentence wrapped to the terminal as an item of a list.
pub(super) fn wrapped_item(sentence: &str) -> String {
    report::wrapped_item(sentence, text_width())
}
