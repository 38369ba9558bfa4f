//! `sweep`, and `compare --vary`: every plan at every point, kept as it is fished; tables, pictures and files.

use std::io::{Write as _, stdout};
use std::path::{Path, PathBuf};

use super::args::{CompareArgs, Read, Simulated, Strewn, SweepArgs, USUAL_DAYS};
use super::compare::{leave_picture, on_threads, say_where};
use super::door::tell;
use super::ended::Ended;
use super::interrupt;
use super::progress::Shown;
use super::reading::keep_plans;
use super::sweep_status::{best_so_far, cost, say_status, sessions};
use crate::report::{swept_pictures, swept_words};
use crate::scenario::{Scenario, Units, Written};
use crate::study::{
    Asked, Control, Design, Folder, Share, Spread, Stamp, Store, Sweep, Vary, swept,
};

/// What is asked of a sweep, by whichever command.
struct Job<'a> {
    command: &'static str,
    read: &'a Read,
    plans: &'a [String],
    vary: &'a [String],
    spread: Spread,
    simulated: &'a Simulated,
    days: u32,
    share: Share,
    threads: Option<usize>,
    status: bool,
    show: Show<'a>,
}

/// Where a result goes.
#[derive(Clone, Copy)]
pub(super) struct Show<'a> {
    pub(super) out: Option<&'a PathBuf>,
    pub(super) json: bool,
    pub(super) quiet: bool,
}

impl<'a> Show<'a> {
    /// Where the result of a comparison goes.
    pub(super) fn of(asked: &'a CompareArgs) -> Self {
        Self { out: asked.out.as_ref(), json: asked.json, quiet: asked.quiet }
    }
}

/// Fishes every plan at every point asked for, on the same days, into a store that keeps what is done; prints
/// tables and leaves pictures and files when all is.
///
/// # Errors
///
/// [`Ended`] as its variants say.
pub fn sweep(asked: &SweepArgs) -> Result<(), Ended> {
    let spread = match (asked.points, asked.design.unwrap_or_default()) {
        (None, _) => Spread::Grid,
        (Some(points), Strewn::Sobol) => Spread::Sobol(points),
        (Some(points), Strewn::Latin) => Spread::Latin(points),
    };
    run(&Job {
        command: "sweep",
        read: &asked.read,
        plans: &asked.plans,
        vary: &asked.vary,
        spread,
        simulated: &asked.simulated,
        days: asked.days.unwrap_or(USUAL_DAYS),
        share: asked.part.unwrap_or(Share::WHOLE),
        threads: asked.threads,
        status: asked.status,
        show: Show { out: asked.out.as_ref(), json: asked.json, quiet: asked.quiet },
    })
}

/// The same for `compare --vary`, which is a sweep over a grid.
pub(super) fn compare_varied(asked: &CompareArgs) -> Result<(), Ended> {
    run(&Job {
        command: "compare",
        read: &asked.read,
        plans: &asked.plans,
        vary: &asked.vary,
        spread: Spread::Grid,
        simulated: &asked.simulated,
        days: asked.days_of_each(),
        share: Share::WHOLE,
        threads: asked.threads,
        status: false,
        show: Show::of(asked),
    })
}

/// The same for one share of `compare`, whose days are its pieces of work.
pub(super) fn compare_share(asked: &CompareArgs, share: Share) -> Result<(), Ended> {
    run(&Job {
        command: "compare",
        read: &asked.read,
        plans: &asked.plans,
        vary: &[],
        spread: Spread::Grid,
        simulated: &asked.simulated,
        days: asked.days_of_each(),
        share,
        threads: asked.threads,
        status: false,
        show: Show::of(asked),
    })
}

fn run(job: &Job<'_>) -> Result<(), Ended> {
    let (sweep, base) = asked_of(job)?;
    // A share has a folder of its own, named so that another can be given for it.
    let of_share = (!job.share.is_whole()).then(|| {
        let Share { part, of } = job.share;
        Path::new("output").join(format!("{}-{}-part-{part}-of-{of}", base.name, job.command))
    });
    let out = job.show.out.or(of_share.as_ref());
    let (folder, store) = place(&sweep, job.command, &Show { out, ..job.show })?;
    if job.status {
        return say_status(&store, job.show.json, job.simulated.units(&base));
    }
    let stop = interrupt::listen()?;
    let mut store = Store::open(&store, sweep)?;
    on_threads(job.threads, || fish(&mut store, job, stop))??;
    if !job.share.is_whole() {
        let kept = store.path().display();
        if !job.show.quiet {
            tell(&format!(
                "share {} is whole in {kept}; `shoalwise merge` joins it with the others",
                job.share
            ));
        }
        return Ok(());
    }
    show(&store, folder, &job.show, job.simulated.units(&base))
}

/// What the sweep is, with all that is wrong with it found; and the scenario before anything is varied.
fn asked_of(job: &Job<'_>) -> Result<(Sweep, Scenario), Ended> {
    let written = Written::open(&job.read.scenario)?.with_weigh_ins(&job.read.sets)?;
    let mut base = written.read(&job.read.sets)?;
    if job.read.fixed_days {
        base.fix_days();
    }
    keep_plans(&mut base, job.plans)?;
    let sweep = Sweep {
        stamp: Stamp::new(&base.name, &base.sha256, job.simulated.seed),
        written,
        sets: job.read.sets.clone(),
        fixed_days: job.read.fixed_days,
        plans: base.plans.iter().map(|plan| plan.name.clone()).collect(),
        design: Design::new(job.vary, job.spread)?,
        days: job.days,
        share: job.share,
    };
    sweep.check()?;
    Ok((sweep, base))
}

/// The folder and the store in it.
pub(super) fn place(
    sweep: &Sweep,
    command: &'static str,
    show: &Show<'_>,
) -> Result<(Folder, PathBuf), Ended> {
    let asked = Asked {
        command,
        stamp: sweep.stamp.clone(),
        plans: sweep.plans.clone(),
        vary: sweep.design.keys.clone(),
        days: sweep.days,
    };
    let out = show.out.map(PathBuf::as_path);
    let store = |path: &Path| Store::examine(path, sweep);
    let (folder, passed) = Folder::choose_with_store(out, asked, store)?;
    if !show.quiet {
        let place = folder.path().display();
        passed.iter().for_each(|holds| tell(&format!("{holds}; so this goes to {place}")));
    }
    let store = folder.path().join(Store::FILE);
    Ok((folder, store))
}

/// Fishes what is still to do.
fn fish(
    store: &mut Store,
    job: &Job<'_>,
    stop: &std::sync::atomic::AtomicBool,
) -> Result<(), Ended> {
    let (all, to_do) = (store.sweep().sessions(), store.sessions_to_do());
    if to_do == 0 {
        return Ok(());
    }
    if !job.show.quiet {
        cost(store, to_do).iter().for_each(|line| tell(line));
    }
    let progress = Shown::from(all - to_do, all, job.show.quiet);
    let control = Control { progress: &progress, stop };
    let sweep = store.sweep().clone();
    let whole = crate::study::sweep(store, control, |standing| {
        let best = standing.best().map(|best| best_so_far(&sweep, &best));
        progress.says(best.map_or_else(String::new, |best| format!("; best so far {best}")));
    });
    progress.finish();
    if whole? {
        return Ok(());
    }
    let done = all - store.sessions_to_do();
    Err(Ended::Interrupted(format!(
        "interrupted after {done} of {}, which are kept in {}; the same command goes on from there",
        sessions(all),
        store.path().display()
    )))
}

/// Prints what a whole sweep came to and leaves its files.
pub(super) fn show(
    store: &Store,
    mut folder: Folder,
    show: &Show<'_>,
    units: Units,
) -> Result<(), Ended> {
    let found = swept(store)?;
    let document = format!("{}\n", serde_json::to_string_pretty(&found)?);
    let left = leave(&mut folder, &found, &document, units);
    if show.json {
        stdout().write_all(document.as_bytes())?;
    } else {
        writeln!(stdout(), "{}", swept_words(&found, units))?;
    }
    left?;
    say_where(&folder, show.json, show.quiet)
}

/// Leaves all files, a picture a plan.
fn leave(folder: &mut Folder, found: &Vary, document: &str, units: Units) -> Result<(), Ended> {
    folder.write("vary.csv", Some(Vary::FORMAT), &found.to_csv()?)?;
    for (name, svg) in swept_pictures(found, units) {
        leave_picture(folder, &name, &svg)?;
    }
    folder.write("vary.json", Some(Vary::FORMAT), document.as_bytes())?;
    Ok(folder.write_stamp(found.days)?)
}
