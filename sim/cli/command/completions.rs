//! `completions` and `man`: what shells and manuals need to know of the program.

use std::fs;
use std::io::{Write, stdout};

use anyhow::anyhow;
use clap::CommandFactory;
use clap_complete::env::Shells;
use clap_mangen::Man;

use crate::cli::args::{CommandLine, CompletionsArgs, ManArgs};
use crate::cli::entry::COMPLETION_VARIABLE;
use crate::cli::exit_status::ExitError;
use crate::scenario::system_fault;

/// Name of the program.
const PROGRAM: &str = "shoalwise";

/// Prints the script of a shell, which asks the program itself for completions.
pub fn completions(args: &CompletionsArgs) -> Result<(), ExitError> {
    let mut text = Vec::new();
    if let Some(shell) = Shells::builtins().completer(args.shell.name()) {
        shell.write_registration(COMPLETION_VARIABLE, PROGRAM, PROGRAM, PROGRAM, &mut text)?;
    }
    Ok(stdout().write_all(&text)?)
}

/// Writes a manual page for the program and one for each command.
pub fn man(args: &ManArgs) -> Result<(), ExitError> {
    let mut program = CommandLine::command();
    program.build();
    let whole = std::iter::once((PROGRAM.to_owned(), program.clone()));
    let commands = program.get_subcommands().filter(|command| command.get_name() != "help");
    let pages = whole.chain(
        commands.map(|command| (format!("{PROGRAM}-{}", command.get_name()), command.clone())),
    );
    fs::create_dir_all(&args.folder).map_err(|error| failed(args, &error))?;
    for (name, command) in pages {
        let mut text = Vec::new();
        let command = command.display_name(&name).bin_name(name.replacen('-', " ", 1));
        Man::new(command).title(&name).render(&mut text)?;
        let path = args.folder.join(format!("{name}.1"));
        fs::write(path, text).map_err(|error| failed(args, &error))?;
    }
    Ok(())
}

fn failed(args: &ManArgs, error: &std::io::Error) -> ExitError {
    ExitError::Failed(anyhow!("cannot write {}: {}", args.folder.display(), system_fault(error)))
}
