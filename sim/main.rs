//! Start here: which command?

use std::process::ExitCode;

use sim::cli::{self, Command, PageAsked};
use sim::web::{self, Page};

fn main() -> ExitCode {
    cli::open(|command| match command {
        Command::Compare(asked) => cli::compare(asked),
        Command::Best(asked) => cli::best(asked),
        Command::Check(asked) => cli::check(asked),
        Command::Replay(asked) => cli::replay(asked),
        Command::Sweep(asked) => cli::sweep(asked),
        Command::Merge(asked) => cli::merge(asked),
        Command::Card(asked) => cli::card(asked),
        Command::Page(asked) => cli::page(asked, |page, stop, ready| {
            let PageAsked { folder, first, at } = page.clone();
            web::serve(&Page { folder, first, at }, stop, ready)
        }),
        Command::Params(asked) => cli::params(asked),
    })
}
