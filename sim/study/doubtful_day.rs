//! Days on which the number of fish of each shoal is in doubt too.

use crate::engine::Dice;
use crate::scenario::{Scenario, UnknownTarget};
use crate::session::Day;

/// Marks the random numbers of the factors of stock.
const STOCK_STREAM: u64 = 0x57_0C4;

/// Draws a day with weather and fish of day `number` and the unknowns of day `inputs_day`. The learned book says what it
/// knows of them; the number of fish of a shoal of which it says nothing is drawn from what is believed of it.
///
/// An angler who has a scenario has guessed how many fish there are; advice that took the guess for the truth would be too
/// sure. With fixed days, nothing is in doubt.
pub(super) fn doubtful_day(scenario: &Scenario, seed: u64, number: u32, inputs_day: u32) -> Day {
    if scenario.fixed_days {
        return Day::draw_mixed(scenario, seed, number, inputs_day, u64::from(number));
    }
    let known = Day::learned_draw(scenario, seed, inputs_day);
    let (mut targets, mut values) = known
        .map_or_else(Default::default, |(targets, values)| (targets.to_vec(), values.to_vec()));
    let mut dice = Dice::from_key(&[seed, u64::from(inputs_day), STOCK_STREAM]);
    for unknown in scenario.unknowns() {
        if !matches!(unknown.target, UnknownTarget::StockFactor(_)) {
            continue;
        }
        let factor = unknown.parameter.draw(&mut dice);
        if !targets.contains(&unknown.target) {
            targets.push(unknown.target);
            values.push(factor);
        }
    }
    Day::draw_with(scenario, seed, [number, inputs_day], 0, Some((&targets, &values)))
}
