//! A resumable sweep, as `sweep`, `compare --vary` and `compare --part` run it.

use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use super::sweep_status::{best_in_units, cost_lines, print_status};
use crate::cli::args::{RunOptions, ScenarioArgs};
use crate::cli::exit_status::ExitError;
use crate::cli::interrupt;
use crate::cli::output::{Folder, RunOrigin, choose_sweep_folder, publish_sweep, refuse_no_folder};
use crate::cli::progress::ProgressDisplay;
use crate::cli::scenario::{completed, keep_plans, plan_names};
use crate::cli::terminal::{SlowNotice, notify};
use crate::cli::threads::on_threads;
use crate::report::{counted, grouped};
use crate::scenario::{Diagnostics, Scenario, Units, vary_range};
use crate::study::{Control, Design, Repair, Sampling, Shard, Stamp, Store, SweepDefinition};

/// A sweep to run, or to continue where it was interrupted.
pub(super) struct SweepJob<'a> {
    /// Name of the command that runs it.
    pub(super) command: &'static str,
    pub(super) scenario: &'a ScenarioArgs,
    pub(super) plans: &'a [String],
    pub(super) vary: &'a [String],
    pub(super) spread: Sampling,
    pub(super) days: u32,
    pub(super) share: Shard,
    /// Whether a damaged store is repaired first.
    pub(super) repair: bool,
    pub(super) options: &'a RunOptions,
}

/// A sweep that was checked, and where it is stored.
struct PreparedSweep {
    sweep: SweepDefinition,
    /// The scenario before anything is varied.
    base: Scenario,
    folder: Folder,
    store_path: PathBuf,
}

impl SweepJob<'_> {
    /// Fishes what is still to do; then prints the result and writes its files, unless it is only a share.
    pub(super) fn run(&self) -> Result<(), ExitError> {
        let output = &self.options.output;
        let notice = (!output.quiet).then(|| {
            SlowNotice::new("reading the points of the sweep; this takes a moment".to_owned())
        });
        let PreparedSweep { sweep, base, folder, store_path } = self.prepare()?;
        // No store is created before all points were read without a fault.
        if !store_path.exists() {
            let checked = on_threads(self.options.threads, || sweep.check_every_point())?;
            checked.or_else(|faults| self.report(&sweep, faults))?;
        }
        let stop = interrupt::listen()?;
        if self.repair {
            self.repair_store(&store_path, &sweep)?;
        }
        let mut store = Store::open(&store_path, sweep)?;
        drop(notice);
        let units = self.options.simulation.units(&base);
        on_threads(self.options.threads, || self.fish(&mut store, units, stop))??;
        if self.share.is_whole() {
            return publish_sweep(&store, folder, output, units);
        }
        if !output.quiet {
            notify(&format!(
                "share {} is complete in {}; `shoalwise merge` joins it with the others",
                self.share,
                store.path().display()
            ));
        }
        Ok(())
    }

    /// Keeps the whole blocks of a damaged store; the others are fished again afterwards.
    fn repair_store(&self, path: &Path, sweep: &SweepDefinition) -> Result<(), ExitError> {
        let repair = Store::repair(path, sweep)?;
        if self.options.output.quiet {
            return Ok(());
        }
        notify(&match repair {
            None => format!("{} needs no repair", path.display()),
            Some(Repair { kept, damaged }) => format!(
                "{} of {} are whole and kept; the damaged file is now {}",
                counted(kept, "block"),
                path.display(),
                damaged.display()
            ),
        });
        Ok(())
    }

    /// Prints how far the sweep is.
    pub(super) fn print_status(&self) -> Result<(), ExitError> {
        let prepared = self.prepare()?;
        let units = self.options.simulation.units(&prepared.base);
        print_status(&prepared.store_path, self.options.output.json, units)
    }

    /// Checks the whole sweep and chooses its folder.
    fn prepare(&self) -> Result<PreparedSweep, ExitError> {
        refuse_no_folder(&self.options.output, "a sweep keeps its finished sessions in a store")?;
        let (sweep, base) = self.checked_sweep()?;
        // A share has a folder of its own, whose name leaves room for the other shares.
        let share_folder = (!self.share.is_whole()).then(|| {
            let Shard { number: part, count: of } = self.share;
            Path::new("output").join(format!("{}-{}-part-{part}-of-{of}", base.name, self.command))
        });
        let output = &self.options.output;
        let out = output.folder().or(share_folder.as_deref());
        let origin = RunOrigin::new(&base, self.options.simulation.units(&base));
        let (folder, store_path) =
            choose_sweep_folder(&sweep, self.command, out, output.quiet, origin)?;
        Ok(PreparedSweep { sweep, base, folder, store_path })
    }

    /// The sweep, after all its points were checked, and the scenario before anything is varied.
    fn checked_sweep(&self) -> Result<(SweepDefinition, Scenario), ExitError> {
        let sets = &self.scenario.sets;
        let written = self.scenario.source()?.clone().with_stored_weigh_ins(sets)?;
        let mut base = completed(written.read(sets)?, self.scenario)?;
        keep_plans(&mut base, self.plans)?;
        let sweep = SweepDefinition {
            stamp: Stamp::from_scenario(&base, self.options.simulation.seed),
            source: written,
            overrides: sets.clone(),
            book: base.learned.as_ref().map(|book| book.text.clone()),
            fixed_days: self.scenario.fixed_days,
            plans: plan_names(&base),
            design: Design::new(self.vary, self.spread)?,
            days: self.days,
            shard: self.share,
        };
        sweep.check().or_else(|faults| self.report(&sweep, faults))?;
        Ok((sweep, base))
    }

    /// The error of a sweep with faults at a point.
    fn report(&self, sweep: &SweepDefinition, faults: Diagnostics) -> Result<(), ExitError> {
        self.check_ends(sweep)?;
        Err(faults.into())
    }

    /// Reads the scenario at both ends of each sampled range, so that a fault names what was written and not a number that
    /// was drawn.
    fn check_ends(&self, sweep: &SweepDefinition) -> Result<(), ExitError> {
        if sweep.design.sampling == Sampling::Grid {
            return Ok(());
        }
        for vary in self.vary {
            let range = vary_range(vary)?;
            for share in [0.0, 1.0] {
                let end = format!("{}={}", range.key, range.value_at(share));
                let sets: Vec<String> = self.scenario.sets.iter().cloned().chain([end]).collect();
                let read = sweep.source.read(&sets);
                read.map_err(|faults| faults.attributed_to_vary(std::slice::from_ref(&range.key)))?;
            }
        }
        Ok(())
    }

    /// Fishes what is still to do, and shows the best so far in these units.
    fn fish(&self, store: &mut Store, units: Units, stop: &AtomicBool) -> Result<(), ExitError> {
        let (sessions, to_do) = (store.sweep().sessions(), store.sessions_to_do());
        if to_do == 0 {
            return Ok(());
        }
        let quiet = self.options.output.quiet;
        if !quiet {
            cost_lines(store, to_do).iter().for_each(|line| notify(line));
        }
        let progress = ProgressDisplay::resumed(sessions.saturating_sub(to_do), sessions, quiet);
        let control = Control { progress: &progress, stop };
        let sweep = store.sweep().clone();
        let is_complete = crate::study::run_sweep(store, control, |standing| {
            let best = standing.best().map(|best| best_in_units(&sweep, &best, units));
            progress
                .set_remark(best.map_or_else(String::new, |best| format!("; best so far {best}")));
        });
        progress.finish();
        if is_complete? {
            return Ok(());
        }
        let done = sessions.saturating_sub(store.sessions_to_do());
        Err(ExitError::Interrupted(format!(
            "interrupted after {} of {}, which are kept in {}; the same command goes on from there",
            grouped(done),
            counted(sessions, "session"),
            store.path().display()
        )))
    }
}
