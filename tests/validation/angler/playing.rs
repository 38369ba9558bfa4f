//! Hooking and landing, by the weight of the rig and of the fish.

use sim::angler::{AnglerParams, EndTackle, Fight, HookPosition, HookSize, hooks_share};
use sim::engine::Dice;

use crate::evidence::{LargestScore, Z_BOUND, mean_is, near, within_z};
use crate::measured::measured;

fn log_odds(p: f64) -> f64 {
    (p / (1.0 - p)).ln()
}

/// A fish on a rod of which neither line nor hook is stated.
fn on_ordinary_tackle(mass_kg: f64, hold: HookPosition) -> Fight {
    Fight { mass_kg, hold, end: EndTackle::default(), cover_m: f64::INFINITY }
}

/// Share of `n` fish of a mass that are landed.
fn landed_share(seed: u64, mass_kg: f64, hold: HookPosition, n: u32) -> f64 {
    let (params, mut dice) = (AnglerParams::central(), Dice::from_key(&[seed]));
    let fight = on_ordinary_tackle(mass_kg, hold);
    let landed = (0..n).filter(|_| fight.draw_landed(&params, &mut dice)).count();
    landed as f64 / f64::from(n)
}

/// V-171: a heavy fish is harder to land: each kilogram above the first lowers the log-odds by the book's amount.
///
/// A count of n has the variance n p (1 − p). The heaviest is also below the lightest by 4 standard errors, so that a
/// wrong sign fails whatever the book says.
#[test]
fn a_heavy_fish_is_harder_to_land() {
    let (params, n) = (AnglerParams::central(), 60_000_u32);
    assert!(params.loss_per_kg > 0.0, "V-171: the book lowers the odds");
    let error = |p: f64| (p * (1.0 - p) / f64::from(n)).sqrt();
    let mut largest = LargestScore::default();
    let shares = [(17_101, 1.0), (17_102, 4.0), (17_103, 12.0)].map(|(seed, mass_kg)| {
        let odds = log_odds(params.lands_share) - params.loss_per_kg * (mass_kg - 1.0);
        let p = 1.0 / (1.0 + (-odds).exp());
        let share = landed_share(seed, mass_kg, HookPosition::Mouth, n);
        largest.add(within_z(&format!("V-171 landed at {mass_kg} kg"), share, p, error(p)));
        let foul = landed_share(seed + 10, mass_kg, HookPosition::Outside, n);
        let p = p * params.foul_lands_share;
        let what = format!("V-171 foul-hooked at {mass_kg} kg");
        largest.add(within_z(&what, foul, p, error(p)));
        share
    });
    let apart = Z_BOUND * error(shares[0]).hypot(error(shares[2]));
    assert!(shares[0] - shares[2] > apart, "V-171: {shares:?}");
    measured!("V-171", "{largest}");
}

/// V-171: a fish is played for the book's time and more for each kilogram, in the median; longer if foul-hooked.
#[test]
fn a_heavy_fish_is_played_for_longer() {
    let params = AnglerParams::central();
    let mut dice = Dice::from_key(&[17_120]);
    let mut largest = LargestScore::default();
    for (hold, factor) in
        [(HookPosition::Mouth, 1.0), (HookPosition::Outside, params.foul_fight_times)]
    {
        for mass_kg in [0.5, 5.0] {
            let typical_s = factor * (params.fight_s + params.fight_s_kg * mass_kg);
            let fight = on_ordinary_tackle(mass_kg, hold);
            let logs: Vec<f64> = (0..20_000)
                .map(|_| (fight.draw_time_s(&params, &mut dice) / typical_s).ln())
                .collect();
            let what = format!("V-171 logarithm of the time at {mass_kg} kg");
            largest.add(mean_is(&what, &logs, 0.0));
        }
    }
    measured!("V-171", "{largest}");
}

/// V-173: the odds that a fish that takes is hooked grow with a power of the weight of the rig, from the book's chance
/// at 30 g; throwing feed lowers the chance at that weight by the book's factor.
#[test]
fn a_heavy_rig_pricks_better() {
    let params = AnglerParams::central();
    near("V-173 at 30 g", hooks_share(0.03, false, &params), params.hooks_share, 1e-12);
    let throwing = params.hooks_share * params.hooks_share_feeding;
    near("V-173 at 30 g, throwing", hooks_share(0.03, true, &params), throwing, 1e-12);
    for times in [0.25, 2.0, 8.0] {
        let raised =
            log_odds(hooks_share(0.03 * times, false, &params)) - log_odds(params.hooks_share);
        near("V-173 log-odds", raised, params.prick_exponent * f64::ln(times), 1e-9);
    }
    // A share of all or none stays so, whatever the rig.
    for share in [0.0, 1.0] {
        let params = AnglerParams { hooks_share: share, ..AnglerParams::central() };
        let hooked = hooks_share(0.06, false, &params);
        assert!((hooked - share).abs() < 1e-12, "V-173: {hooked} at a share of {share}");
    }
    assert!(params.prick_exponent > 0.0, "V-173: heavier pricks better in the book");
}

/// V-340: a line or hook that is stated changes the log-odds of landing by
/// −m (1 + w·exp(−c/c₀)) (kₗ (s₀/s − 1) + kₕ (1/h − 1)), worked out here from the book; ordinary tackle, stated or not,
/// changes nothing; a line of half the strength is played longer by two to the book's power.
#[test]
fn weak_tackle_lowers_the_odds_of_landing_by_the_books_amounts() {
    let params = AnglerParams::central();
    let fight = |mass_kg: f64, times: f64, hook: Option<HookSize>, cover_m: f64| Fight {
        mass_kg,
        hold: HookPosition::Mouth,
        end: EndTackle { line_strength_kg: Some(times * params.ordinary_line_kg), hook },
        cover_m,
    };
    let lowered = |fight: Fight| {
        let ordinary = Fight { end: EndTackle::default(), ..fight };
        log_odds(ordinary.landing_chance(&params)) - log_odds(fight.landing_chance(&params))
    };
    for mass_kg in [0.3, 2.0, 6.0] {
        for cover_m in [0.0, 3.0, f64::INFINITY] {
            let at_cover = 1.0 + params.cover_strain * (-cover_m / params.cover_strain_m).exp();
            let none = lowered(fight(mass_kg, 1.0, Some(HookSize::Middling), cover_m));
            near("V-340 ordinary tackle", none, 0.0, 1e-9);
            for times in [0.5, 2.0] {
                let expected = mass_kg * at_cover * params.line_strain_per_kg * (1.0 / times - 1.0);
                near("V-340 line", lowered(fight(mass_kg, times, None, cover_m)), expected, 1e-9);
            }
            let small = lowered(fight(mass_kg, 1.0, Some(HookSize::Small), cover_m));
            let expected = mass_kg * at_cover * params.hook_strain_per_kg * (1.0 / 0.7 - 1.0);
            near("V-340 hook", small, expected, 1e-9);
        }
    }
    let lost_more = |fight: Fight| lowered(fight) > 0.1;
    assert!(lost_more(fight(3.0, 0.5, None, 0.0)), "V-340: weaker is worse in the book");
    assert!(
        lowered(fight(3.0, 2.0, Some(HookSize::Strong), 0.0)) < -0.1,
        "V-340: stronger is better"
    );
    let logs = |times: f64| {
        let mut dice = Dice::from_key(&[17_340]);
        let fight = fight(2.0, times, None, 5.0);
        (0..2_000).map(|_| fight.draw_time_s(&params, &mut dice).ln()).sum::<f64>() / 2_000.0
    };
    let longer = logs(0.5) - logs(1.0);
    near("V-340 log of the time", longer, params.fight_line_power * std::f64::consts::LN_2, 1e-9);
}
