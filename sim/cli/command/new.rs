//! `new`: writes a first scenario of one's own.

use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use anyhow::anyhow;

use super::schema::schema_text;
use crate::cli::args::NewArgs;
use crate::cli::exit_status::ExitError;
use crate::cli::output::shell_quoted;
use crate::cli::terminal::notify;
use crate::scenario::{Diagnostic, Diagnostics, plain_name, read, system_fault};

/// Name of the schema, as the first line of a scenario names it.
const SCHEMA_FILE: &str = "scenario.schema.json";

/// Writes `NAME.toml` and, if there is none yet, the schema next to it.
///
/// # Errors
///
/// [`ExitError::WrongInput`] if a value has a fault or the file exists already; nothing is written then.
pub fn new(args: &NewArgs) -> Result<(), ExitError> {
    let path: PathBuf = match args.name.extension() {
        Some(end) if end == "toml" => args.name.clone(),
        _ => {
            let mut path = args.name.clone().into_os_string();
            path.push(".toml");
            path.into()
        }
    };
    let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
    let is_plain = |stem: &String| plain_name(stem) == *stem && !stem.starts_with(['.', '-']);
    let Some(name) = stem.filter(is_plain) else {
        return Err(ExitError::WrongInput(anyhow!(
            "{} cannot be the name of a scenario: use a plain name, such as my-water",
            args.name.display()
        )));
    };
    let text = scenario_text(&name, args);
    read(&text, &name, &[]).map_err(|faults| faults_of_options(&faults))?;
    write_new(&path, &text)?;
    let schema = path.with_file_name(SCHEMA_FILE);
    let has_schema = schema.exists();
    if !has_schema {
        write_new(&schema, &schema_text()?)?;
    }
    notify(&format!(
        "{} is a scenario of your own: change what is different on your water",
        path.display()
    ));
    notify(&format!("next: shoalwise compare {}", shell_quoted(&path.display().to_string())));
    Ok(())
}

/// The faults of a scenario that is not written yet, each with the option that its value came from.
fn faults_of_options(faults: &Diagnostics) -> ExitError {
    let line = |fault: &Diagnostic| {
        let option = match fault.key.as_str() {
            "session.length" => "--length",
            "line.far-bank.distance" => "--distance",
            "shoal.residents.count" => "--fish",
            "shoal.residents.weight" => "--weight",
            key => key,
        };
        format!("{option}: {}; {}", fault.problem, fault.fix)
    };
    let lines: Vec<String> = faults.list().iter().map(line).collect();
    ExitError::WrongInput(anyhow!("{}", lines.join("\n")))
}

fn scenario_text(name: &str, args: &NewArgs) -> String {
    let quoted = |text: &str| toml_edit::Value::from(text).to_string();
    let (title, length) = (quoted(&name.replace(['-', '_'], " ")), quoted(&args.length));
    let (distance, weight) = (quoted(&args.distance), quoted(&args.weight));
    // A count is a number; anything else is reported as a fault of the key.
    let fish = args.fish.parse::<u32>().map_or_else(|_| quoted(&args.fish), |n| n.to_string());
    let in_yards_or_pounds =
        |text: &str| ["yd", "ft", "lb", "oz"].iter().any(|unit| text.contains(unit));
    let is_imperial = in_yards_or_pounds(&args.distance) || in_yards_or_pounds(&args.weight);
    let units = if is_imperial { "units = \"imperial\"\n" } else { "" };
    format!(
        "#:schema {SCHEMA_FILE}\n\
         # Values are written with their units: \"2 min\", \"25 m\" or \"27 yd\", \"1.5 kg\" or \"3 lb 4 oz\".\n\
         # Everything left out has a default. `shoalwise check` finds every fault in this file.\n\
         title = {title}\n\
         {units}\n\
         [session]\nlength = {length}\n\n\
         # Where you cast to.\n[line.far-bank]\ndistance = {distance}\n\n\
         # The carp in reach, and where they are at home. What you do not know may be a range:\n\
         # count = {{ low = 30, high = 120 }}\n\
         [shoal.residents]\ncount = {fish}\nweight = {weight}\nhome = \"far-bank\"\n\n\
         # The plans to compare: how long you wait before you wind in and cast again, and how much bait the feeder holds.\n\
         [plan.every-two]\nrecast = \"2 min\"\nload = \"25 g\"\n\n\
         [plan.every-five]\nrecast = \"5 min\"\nload = \"25 g\"\n"
    )
}

/// Writes a file that does not exist yet.
fn write_new(path: &Path, text: &str) -> Result<(), ExitError> {
    let file = OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = file.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => ExitError::WrongInput(anyhow!(
            "{} exists already, and is left as it is: choose another name",
            path.display()
        )),
        ErrorKind::NotFound => ExitError::WrongInput(anyhow!(
            "there is no folder for {}: make it first",
            path.display()
        )),
        _ => {
            ExitError::Failed(anyhow!("cannot write {}: {}", path.display(), system_fault(&error)))
        }
    })?;
    Ok(file.write_all(text.as_bytes())?)
}
