//! A fish that plans its way knows where scent that is yet to be released cannot reach it.

use sim::bait::{Plume, Puff};
use sim::engine::{Dice, Time};
use sim::water::Point;

const VARIANCE_M2: f64 = 0.09;
const HERE: Point = Point { x_m: 3.0, y_m: 20.0 };

/// A plume in water that flows somewhere, after `puffs` puffs at random times; returns it with the time of the last one.
fn fed_plume(puffs: usize, dice: &mut Dice) -> (Plume, Time) {
    let mut flow_m_s = || dice.uniform_between(-0.02, 0.02);
    let flow_m_s = (flow_m_s(), flow_m_s());
    let mut plume = Plume::new(0.7, dice.uniform_between(2e-4, 5e-3), flow_m_s, 1e-4);
    let now = feed(&mut plume, Time::ZERO, puffs, dice);
    (plume, now)
}

/// Releases puffs, at once and steadily in turn, from a time on; returns the time of the last one.
fn feed(plume: &mut Plume, from: Time, puffs: usize, dice: &mut Dice) -> Time {
    let mut now = from;
    for puff in 0..puffs {
        now = now.after(dice.exponential(60.0));
        if puff % 2 == 0 {
            plume.release(Puff::round(dice.uniform(), HERE, VARIANCE_M2, now));
        } else {
            plume.finish_puff(now);
            plume.release_steadily(HERE, VARIANCE_M2, 0.0, dice.uniform() / 60.0, now);
        }
    }
    now
}

/// As long as no puffs are merged, the concentration outside the reach of fresh scent is that of the finished puffs, as it
/// was foreseen before the fresh scent was released.
#[test]
fn beyond_its_reach_fresh_scent_changes_nothing() {
    let mut dice = Dice::from_key(&[13, 5]);
    let (mut beyond, mut within) = (0, 0);
    for _ in 0..4_000 {
        let (mut plume, now) = fed_plume(5, &mut dice);
        let foreseen = plume.clone();
        let later = feed(&mut plume, now, 4, &mut dice).after(dice.exponential(60.0));
        for _ in 0..40 {
            let place = Point {
                x_m: HERE.x_m + dice.uniform_between(-40.0, 40.0),
                y_m: HERE.y_m + dice.uniform_between(-40.0, 40.0),
            };
            let is_mol_m3 = plume.concentration_mol_m3(place, later);
            let was_mol_m3 = foreseen.finished_mol_m3(place, later);
            if foreseen.fresh_scent_reaches(place, HERE, VARIANCE_M2, (now, later)) {
                within += u32::from(is_mol_m3 > was_mol_m3);
            } else {
                beyond += u32::from(was_mol_m3 > 0.0);
                // The same puffs aged in one step or in several: rounding, of exponents up to 12.5, remains.
                let apart = (is_mol_m3 - was_mol_m3).abs();
                assert!(
                    apart <= 1e-9 * was_mol_m3,
                    "{was_mol_m3} foreseen, {is_mol_m3} found at {place:?}"
                );
            }
        }
    }
    assert!(beyond > 200, "{beyond} places beyond the reach smell of older puffs: too few to try");
    assert!(within > 200, "{within} places within it smell of fresh scent: too few to try");
}
