//! `card`: one plan on one page for the bank.

use std::convert::Infallible;
use std::io::{Write as _, stdout};

use super::args::CardArgs;
use super::compare::{on_threads, say_where};
use super::ended::Ended;
use super::interrupt;
use super::progress::Shown;
use super::reading::{keep_plans, read};
use crate::report::{card_html, card_pdf, card_svg};
use crate::scenario::Scenario;
use crate::study::{Asked, Comparison, Control, Folder, Stamp, Stopped};

/// Fishes one plan for what to expect of it, and leaves its card as a page for a phone and one for paper.
///
/// # Errors
///
/// [`Ended`] as its variants say.
pub fn card(asked: &CardArgs) -> Result<(), Ended> {
    let mut scenario = read(&asked.read, &[])?;
    keep_plans(&mut scenario, std::slice::from_ref(&asked.plan))?;
    let mut folder = folder_for(asked, &scenario)?;
    let stop = interrupt::listen()?;
    let progress = Shown::new(u64::from(asked.days), asked.quiet);
    let control = Control { progress: &progress, stop };
    let fished = on_threads(asked.threads, || {
        let nobody = |_: &_| Ok::<(), Infallible>(());
        let seed = asked.simulated.seed;
        let Ok(found) =
            crate::study::compare(&scenario, seed, asked.days, Stopped::Asked, control, nobody);
        found
    });
    progress.finish();
    let comparison = fished?;
    if comparison.days < asked.days {
        let so_far = format!("interrupted after {} of {} days", comparison.days, asked.days);
        return Err(Ended::Interrupted(format!("{so_far}; nothing was written")));
    }
    let document = format!("{}\n", serde_json::to_string_pretty(&comparison)?);
    leave(&mut folder, asked, &comparison, &scenario, &document)?;
    if asked.json {
        stdout().write_all(document.as_bytes())?;
    }
    say_where(&folder, asked.json, asked.quiet)
}

/// Where the files will go.
fn folder_for(asked: &CardArgs, scenario: &Scenario) -> Result<Folder, Ended> {
    let what = Asked {
        command: "card",
        stamp: Stamp::new(&scenario.name, &scenario.sha256, asked.simulated.seed),
        plans: vec![asked.plan.clone()],
        vary: Vec::new(),
        days: asked.days,
    };
    Ok(Folder::choose(asked.out.as_deref(), what)?)
}

fn leave(
    folder: &mut Folder,
    asked: &CardArgs,
    comparison: &Comparison,
    scenario: &Scenario,
    document: &str,
) -> Result<(), Ended> {
    let units = asked.simulated.units(scenario);
    let Some(card) = crate::report::card(comparison, scenario, &asked.plan, units) else {
        return Ok(());
    };
    let pdf = card_pdf(&card).map_err(|why| Ended::Failed(why.into()))?;
    folder.write("card.html", None, card_html(&card).as_bytes())?;
    folder.write("card.pdf", None, &pdf)?;
    folder.write("card.svg", None, card_svg(&card).as_bytes())?;
    folder.write("summary.json", Some(Comparison::FORMAT), document.as_bytes())?;
    Ok(folder.write_stamp(comparison.days)?)
}
