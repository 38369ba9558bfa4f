//! `merge`: the shares of a sweep or a comparison joined into the whole.

use std::path::PathBuf;

use super::args::{MergeArgs, units_of};
use super::compare::join_compared;
use super::door::tell;
use super::ended::Ended;
use super::sweep::{Show, place, show};
use crate::study::{Store, gather, join};

/// Joins the shares of a sweep or a comparison, prints what it came to and leaves the files that one machine would have left.
///
/// # Errors
///
/// [`Ended::WrongInput`] where shares are missing, twice, unfinished or of something else.
pub fn merge(asked: &MergeArgs) -> Result<(), Ended> {
    let store_in =
        |path: &PathBuf| if path.is_dir() { path.join(Store::FILE) } else { path.clone() };
    let paths: Vec<PathBuf> = asked.shares.iter().map(store_in).collect();
    let (shares, whole) = gather(&paths)?;
    let shown = Show { out: asked.out.as_ref(), json: asked.json, quiet: asked.quiet };
    let joined = || {
        if !asked.quiet {
            tell(&format!(
                "{} shares are joined; days of each, fished again here, came out the same",
                shares.len()
            ));
        }
    };
    if whole.is_comparison() {
        joined();
        return join_compared(&shares, &whole, asked.units, &shown);
    }
    let base = whole.written.read(&whole.sets)?;
    let (folder, path) = place(&whole, "sweep", &shown)?;
    let store = join(&shares, whole, &path)?;
    joined();
    show(&store, folder, &shown, units_of(asked.units, &base))
}
