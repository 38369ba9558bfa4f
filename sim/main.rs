//! Start here: which command?

use std::process::ExitCode;

use sim::cli::{self, Command};

fn main() -> ExitCode {
    cli::open(|command| match command {
        Command::Compare(asked) => cli::compare(asked),
        Command::Best(asked) => cli::best(asked),
        Command::Check(asked) => cli::check(asked),
        Command::Replay(asked) => cli::replay(asked),
        Command::Card(asked) => cli::card(asked),
        Command::Params(asked) => cli::params(asked),
    })
}
