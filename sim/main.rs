//! The program's entry point: calls the function of the command that was given.

use std::process::ExitCode;

use sim::cli::{self, Command};
use sim::web::{self, Catalogue};

fn main() -> ExitCode {
    cli::run(|command| match command {
        Command::Compare(args) => cli::compare(args),
        Command::Best(args) => cli::best(args),
        Command::Check(args) => cli::check(args),
        Command::Replay(args) => cli::replay(args),
        Command::Sweep(args) => cli::sweep(args),
        Command::Merge(args) => cli::merge(args),
        Command::Card(args) => cli::card(args),
        Command::Learn(args) => cli::learn(args),
        Command::Log(args) => cli::log(args),
        Command::Now(args) => cli::now(args),
        Command::Page(args) => cli::page(
            args,
            &|folder, first| {
                let catalogue = Catalogue::new(folder, first);
                web::page_in_one_file(&catalogue).map_err(|error| error.to_string())
            },
            |folder, first, address, stop, ready| {
                web::serve(Catalogue::new(folder, first), address, stop, ready)
            },
        ),
        Command::Params(args) => cli::params(args),
        Command::New(args) => cli::new(args),
        Command::Schema(args) => cli::schema(args),
        Command::Completions(args) => cli::completions(args),
        Command::Man(args) => cli::man(args),
    })
}
