//! The door itself: arguments in, exit code out, and nothing said twice.

use std::io::Write;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use clap::Parser;

use super::args::{Args, Command};
use super::ended::Ended;

/// Reads the command line, lets `answer` do what was asked, and says how it ended.
#[must_use]
pub fn open(answer: impl FnOnce(&Command) -> Result<(), Ended>) -> ExitCode {
    let args = match Args::try_parse() {
        Ok(args) => args,
        Err(asked) => return not_a_command(&asked),
    };
    match catch_unwind(AssertUnwindSafe(|| answer(&args.command))) {
        Ok(Ok(())) => ExitCode::SUCCESS,
        Ok(Err(ended)) if ended.is_unread() => ExitCode::SUCCESS,
        Ok(Err(ended)) => {
            tell(&ended.says());
            ended.exit_code()
        }
        // What broke has been told by the panic itself.
        Err(_) => {
            tell(
                "this is a fault of ours, not of your scenario; please report it with the lines above",
            );
            ExitCode::from(1)
        }
    }
}

/// Help and version go to standard output; wrong usage goes to standard error.
fn not_a_command(asked: &clap::Error) -> ExitCode {
    if asked.use_stderr() {
        let text = asked.render().to_string();
        tell(text.strip_prefix("error: ").unwrap_or(&text).trim_end());
        return ExitCode::from(2);
    }
    // A reader who has left does not miss the help.
    let _ = asked.print();
    ExitCode::SUCCESS
}

/// Says something on standard error.
pub(super) fn tell(text: &str) {
    // There is nowhere left to say that standard error is closed.
    let _ = writeln!(std::io::stderr(), "shoalwise: {text}");
}
