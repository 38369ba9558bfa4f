//! Checks how the numbers of fish are written, and that they are not too large.

use crate::fish::Shoal;
use crate::params::DailyDistribution;
use crate::scenario::diagnose::Diagnostics;
use crate::scenario::schema::{FullKey, MAX_IN_SHOAL, shoal};
use crate::scenario::values::ValueTable;

/// Largest number of fish in all shoals together.
const MAX_FISH: f64 = 5000.0;

/// Checks the number of fish in each shoal and in all of them.
pub(crate) fn check_fish_numbers(table: &ValueTable, shoals: &[Shoal], faults: &mut Diagnostics) {
    for shoal in shoals {
        check_stock(table, shoal, faults);
    }
    let total: f64 = shoals.iter().map(largest_number).sum();
    if total > MAX_FISH
        && let Some(last) = shoals.last()
    {
        let key = if last.stock.is_some() { shoal::STOCK } else { shoal::COUNT };
        let problem = format!("all shoals together have {} fish", total.round());
        let fix = format!("{MAX_FISH} fish at most; count only those within reach of the peg");
        faults.add(table.fault(key.at(&[&last.name]).dotted(), problem, fix));
    }
}

/// Checks that a shoal has a count or a stock, and that its stock is not too many fish.
fn check_stock(table: &ValueTable, shoal: &Shoal, faults: &mut Diagnostics) {
    let stock = shoal::STOCK.at(&[&shoal.name]);
    let share = shoal::STOCK_SHARE.at(&[&shoal.name]);
    if !table.has(&stock) {
        if table.has(&share) {
            let problem = "only counts together with stock";
            let fix = "write stock = \"400 kg/ha\", or remove it";
            faults.add(table.fault(share.dotted(), problem, fix));
        }
    } else if table.has(&shoal::COUNT.at(&[&shoal.name])) {
        let problem = "cannot be used together with count, which also says how many fish there are";
        let fix = "write either count = 60 or stock = \"400 kg/ha\"";
        faults.add(table.fault(stock.dotted(), problem, fix));
    } else if largest_number(shoal) > MAX_IN_SHOAL {
        let number = largest_number(shoal).round();
        let problem = format!("makes {number} fish in the home range");
        let fix = format!("{MAX_IN_SHOAL} fish at most; make the home range or the stock smaller");
        faults.add(table.fault(stock.dotted(), problem, fix));
    }
}

/// Largest number of fish of a shoal on days with fish of their mean weight; the mean if there is no largest.
fn largest_number(shoal: &Shoal) -> f64 {
    let spread = shoal.stock.map_or(shoal.count, |stock| stock.kg_m2);
    match spread {
        DailyDistribution::Uniform { .. } => shoal.number(1.0, shoal.mass_kg.mean()),
        DailyDistribution::Fixed(_) | DailyDistribution::LogNormal { .. } => shoal.mean_number(),
    }
}
