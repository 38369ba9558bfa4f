//! A shell script that makes the results of a run again, whatever has become of the scenario file since.

use std::fmt::Write as _;
use std::path::Path;

use clap::{Arg, ArgAction, CommandFactory};

use crate::cli::args::{CommandLine, UNITS_VARIABLE};
use crate::scenario::Scenario;
use crate::study::{MODEL_VERSION, Stamp};

/// Options that change no file, or only where the files go.
const LEFT_OUT: [&str; 6] = ["out", "threads", "quiet", "json", "repair", "status"];
/// Name of the file that holds the learned book.
const BOOK: &str = "learned-book.toml";
/// Names of the arguments that stand for scenario files.
const SCENARIOS: [&str; 2] = ["path", "others"];

/// The script for the arguments of this program. `None` if they are not those of a command.
pub(super) fn again_script(scenarios: &[&Scenario]) -> Option<String> {
    let given: Vec<String> =
        std::env::args_os().skip(1).map(|word| word.to_string_lossy().into_owned()).collect();
    script(&given, std::env::var(UNITS_VARIABLE).ok(), scenarios)
}

/// The script for some arguments; `units` are those of the environment.
fn script(given: &[String], units: Option<String>, scenarios: &[&Scenario]) -> Option<String> {
    let program = CommandLine::command();
    let (name, rest) = given.split_first()?;
    let command = program.find_subcommand(name)?;
    let is_wanted = |arg: &Arg| !LEFT_OUT.contains(&arg.get_id().as_str());
    let mut line = format!("\"${{SHOALWISE:-shoalwise}}\" {name}");
    let mut positionals = command.get_positionals().peekable();
    let mut written = scenarios.iter().enumerate();
    let mut words = rest.iter();
    while let Some(word) = words.next() {
        let option = word.strip_prefix("--").filter(|long| !long.is_empty());
        let Some(option) = option else {
            let arg = positionals.peek().copied();
            let is_scenario = arg.is_some_and(|arg| SCENARIOS.contains(&arg.get_id().as_str()));
            // An argument that takes many words takes all that follow.
            if !arg.is_some_and(|arg| matches!(arg.get_action(), ArgAction::Append)) {
                positionals.next();
            }
            let next = if is_scenario { written.next() } else { None };
            let shown = match next {
                Some((index, scenario)) => format!(
                    "\"$work\"/{}{}.toml",
                    folder_of(index, scenarios),
                    shell_quoted(&scenario.name)
                ),
                None => shell_quoted(word),
            };
            // Writing to a string does not fail.
            let _ = write!(line, " {shown}");
            continue;
        };
        let long = option.split_once('=').map_or(option, |(long, _)| long);
        let arg = command.get_arguments().find(|arg| arg.get_long() == Some(long));
        let takes_value =
            arg.is_some_and(|arg| matches!(arg.get_action(), ArgAction::Set | ArgAction::Append));
        let value = if takes_value && !option.contains('=') { words.next() } else { None };
        if long == "book" && book_of(scenarios).is_some() {
            let _ = write!(line, " --book \"$work\"/{BOOK}");
        } else if arg.is_none_or(is_wanted) {
            let _ = write!(line, " {}", shell_quoted(word));
            value.into_iter().for_each(|value| {
                let _ = write!(line, " {}", shell_quoted(value));
            });
        }
    }
    let has_units = given.iter().any(|word| word == "--units" || word.starts_with("--units="));
    if let Some(units) = units.filter(|_| !has_units) {
        let _ = write!(line, " --units {}", shell_quoted(&units));
    }
    Some(script_around(&format!("{line} --out \"$out\""), scenarios))
}

/// The folder of a scenario file, with a slash: one for each if there are several, since they may name weigh-ins alike.
fn folder_of(index: usize, scenarios: &[&Scenario]) -> String {
    if scenarios.len() > 1 { format!("{}/", index + 1) } else { String::new() }
}

/// The text of the learned book that was laid over the scenarios.
fn book_of<'a>(scenarios: &[&'a Scenario]) -> Option<&'a str> {
    let book = scenarios.first()?.learned.as_ref()?;
    Some(book.text.as_str()).filter(|text| !text.is_empty())
}

/// The script that writes the scenario files and then runs a line.
fn script_around(line: &str, scenarios: &[&Scenario]) -> String {
    let stamp = Stamp::new("", "", 0);
    let mut text = format!(
        "#!/bin/sh\n# Makes these files again in a new folder: sh again.sh FOLDER\n\
         # They were made by shoalwise {} ({}), version {MODEL_VERSION} of the model, for {}.\n\
         # To run a program that is not on the path: SHOALWISE=./shoalwise sh again.sh FOLDER\n\
         set -eu\nout=${{1:?name a new folder, as in: sh again.sh FOLDER}}\n",
        stamp.version, stamp.commit, stamp.target
    );
    if !scenarios.is_empty() {
        text.push_str("work=$(mktemp -d)\ntrap 'rm -rf \"$work\"' EXIT\n");
    }
    for (index, scenario) in scenarios.iter().enumerate() {
        let (name, written) = (&scenario.name, &scenario.written);
        let folder = folder_of(index, scenarios);
        if !folder.is_empty() {
            let _ = writeln!(text, "mkdir \"$work\"/{folder}");
        }
        let mut file = |name: &str, content: &str| {
            let (name, content) = (shell_quoted(name), single_quoted(content));
            let _ = writeln!(text, "printf %s {content} > \"$work\"/{folder}{name}");
        };
        if let Some((name, content)) = &written.weigh_ins {
            // A file elsewhere is read where it is.
            if Path::new(name).file_name().is_some_and(|plain| plain == name.as_str()) {
                file(name, content);
            }
        }
        file(&format!("{name}.toml"), &written.text);
    }
    if let Some(book) = book_of(scenarios) {
        let _ = writeln!(text, "printf %s {} > \"$work\"/{BOOK}", single_quoted(book));
    }
    let _ = writeln!(text, "{line}");
    text
}

/// A word quoted for a shell, if it needs quotes.
pub(in crate::cli) fn shell_quoted(word: &str) -> String {
    let is_plain = |c: char| c.is_ascii_alphanumeric() || "-_./=,:".contains(c);
    if !word.is_empty() && word.chars().all(is_plain) {
        return word.to_owned();
    }
    single_quoted(word)
}

fn single_quoted(text: &str) -> String {
    format!("'{}'", text.replace('\'', r"'\''"))
}
