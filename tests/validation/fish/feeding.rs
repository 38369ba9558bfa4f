//! Intake against density, handling time with other fish, and giving-up times.

use sim::engine::{Agenda, Dice, Process, Time, run};
use sim::fish::{
    FeedingMemory, FishParams, giving_up_time_s, handling_time_s, hookbait_found_per_s,
    hookbait_met_by_place, pile_found_per_s, search_rate_per_s, stands_out,
};

use crate::evidence::{LargestScore, as_printed, mean_is, near};
use crate::measured::measured;

/// Intake of a fish that searches and handles in turn: λ/(1 + λh) [1/s].
fn intake_per_s(density_m2: f64, handling_s: f64, params: &FishParams) -> f64 {
    let rate = search_rate_per_s(density_m2, params);
    rate / (1.0 + rate * handling_s)
}

/// V-23: type II, f = aN/(1 + ahN) with asymptote 1/h (Holling 1959, Canadian Entomologist 91:385-398), half of it
/// at N = 1/(ah). Michaelis' form of a fish's measured curve, 34.05 N/(105.7 + N) (walleye, Madenjian & Carpenter
/// 1991 from Swenson 1977, fitted by us), belongs to the same family.
#[test]
fn a_saturating_response_is_hollings_disc_equation() {
    let params = FishParams { search_exponent: 1.0, ..FishParams::central() };
    let (a, h) = (params.search_m2_s, 5.0);
    for density_m2 in [0.01, 0.5, 4.0, 10.0, 80.0, 1e4] {
        let disc = a * density_m2 / (1.0 + a * h * density_m2);
        near("V-23 disc [1/s]", intake_per_s(density_m2, h, &params), disc, 1e-12);
    }
    near("V-23 asymptote [1/s]", intake_per_s(1e12, h, &params), 1.0 / h, 1e-9);
    near("V-23 half of it [1/s]", intake_per_s(1.0 / (a * h), h, &params), 0.5 / h, 1e-12);

    let walleye = FishParams { search_m2_s: 34.05 / 105.7, ..params };
    for density in [5.0, 50.0, 105.7, 400.0] {
        let published = 34.05 * density / (105.7 + density);
        near("V-23 walleye", intake_per_s(density, 1.0 / 34.05, &walleye), published, 1e-12);
    }
    assert!(search_rate_per_s(0.0, &walleye) <= 0.0);
}

/// V-23: type III is sigmoid (five cyprinids, Winkler & Orellana 1992, Environmental Biology of Fishes 33:53-62):
/// intake grows with the square of a low density, has one inflection, and saturates at the same 1/h.
#[test]
fn a_sigmoid_response_has_one_inflection() {
    let params = FishParams::central();
    assert!((params.search_exponent - 2.0).abs() < 1e-12, "the default is type III");
    let h = 5.0;
    let low = 1e-4;
    let doubled = intake_per_s(2.0 * low, h, &params) / intake_per_s(low, h, &params);
    near("V-23 intake at twice a low density", doubled, 4.0, 1e-3);
    near("V-23 asymptote [1/s]", intake_per_s(1e12, h, &params), 1.0 / h, 1e-9);

    let step = 0.01;
    let curve: Vec<f64> =
        (0..6_000).map(|i| intake_per_s(step * f64::from(i), h, &params)).collect();
    let bends: Vec<bool> = curve.windows(3).map(|w| w[0] + w[2] > 2.0 * w[1]).collect();
    let inflections: Vec<usize> =
        bends.windows(2).enumerate().filter(|(_, w)| w[0] != w[1]).map(|(i, _)| i + 1).collect();
    assert!(bends[0], "V-23: convex at first");
    assert_eq!(
        inflections.len(),
        1,
        "V-23: inflections at {inflections:?} hundredths of a mouthful/m²"
    );
    measured!("V-23", "one inflection, at {:.1} mouthfuls/m²", step * inflections[0] as f64);
    assert!(curve.windows(2).all(|w| w[1] > w[0]), "V-23: intake grows with food");
    near(
        "V-23 search at the half density",
        search_rate_per_s(params.search_half_per_m2, &params),
        0.5 * params.search_m2_s * params.search_half_per_m2,
        1e-12,
    );
}

/// V-23: an exponent between the two gives a response between the two, with no jump at either end.
#[test]
fn intermediate_exponents_give_intermediate_responses() {
    let of = |search_exponent: f64| FishParams { search_exponent, ..FishParams::central() };
    for density_m2 in [0.2, 3.9, 4.1, 50.0] {
        let rate = |exponent: f64| search_rate_per_s(density_m2, &of(exponent));
        near("V-23 near type III [1/s]", rate(2.0 - 1e-9), rate(2.0), 1e-7);
        let factor = density_m2.powf(0.5) / (density_m2.powf(0.5) + 2.0);
        near("V-23 halfway [1/s]", rate(1.5), 0.02 * density_m2 * factor, 1e-12);
        assert!(rate(1.0) > rate(1.5), "V-23: motivated search is a share of all search");
    }
}

/// One fish on unlimited food, searching and handling in turn.
struct Forager {
    agenda: Agenda<Step>,
    rate_per_s: f64,
    handling_s: f64,
    dice: Dice,
    eaten: u32,
}

#[derive(Clone, Copy)]
enum Step {
    Finds,
    Swallows,
}

impl Process for Forager {
    type Event = Step;

    fn agenda(&mut self) -> &mut Agenda<Step> {
        &mut self.agenda
    }

    fn handle(&mut self, now: Time, step: Step) {
        match step {
            Step::Finds => self.agenda.schedule(now.after(self.handling_s), 0, Step::Swallows),
            Step::Swallows => {
                self.eaten += 1;
                let search_s = self.dice.exponential(1.0 / self.rate_per_s);
                self.agenda.schedule(now.after(search_s), 0, Step::Finds);
            }
        }
    }
}

/// V-23: the real agenda and dice give that intake. Searches of mean 1/λ and handling times h in turn are renewals
/// of mean 1/λ + h; a tenth of the time is left out for the start.
#[test]
fn alternating_search_and_handling_give_the_predicted_intake() {
    let mut largest = LargestScore::default();
    for (seed, search_exponent) in [(2301, 1.0), (2302, 2.0)] {
        let params = FishParams { search_exponent, ..FishParams::central() };
        for density_m2 in [1.0, 10.0, 100.0] {
            let rates: Vec<f64> = (0..200)
                .map(|fish| {
                    let mut forager = Forager {
                        agenda: Agenda::new(),
                        rate_per_s: search_rate_per_s(density_m2, &params),
                        handling_s: 5.0,
                        dice: Dice::from_key(&[seed, density_m2 as u64, fish]),
                        eaten: 0,
                    };
                    let first_s = forager.dice.exponential(1.0 / forager.rate_per_s);
                    forager.agenda.schedule(Time::from_seconds(first_s), 0, Step::Finds);
                    run(&mut forager, Time::from_seconds(20_000.0));
                    let before = forager.eaten;
                    run(&mut forager, Time::from_seconds(200_000.0));
                    f64::from(forager.eaten - before) / 180_000.0
                })
                .collect();
            let what = format!("V-23 type {} at {density_m2}/m² [1/s]", 1.0 + search_exponent);
            largest.add(mean_is(&what, &rates, intake_per_s(density_m2, 5.0, &params)));
        }
    }
    measured!("V-23", "{largest}");
}

/// V-36: handling is shorter in company, down to the book's factor for fifteen fish over two, and longer on a full gut: the form of
/// MODEL.md. The factor is that of goldfish on pellets (0.8; Street, Magurran & Pitcher 1984, J. Fish Biology 25:561-566); the
/// direction of fullness is that of Wanzenböck 1995 and Asaeda et al. 2001.
#[test]
fn other_fish_shorten_handling_and_fullness_lengthens_it() {
    let params = FishParams::central();
    let of = |hunger: f64, feeding: usize| handling_time_s(1.0, 1.0, hunger, feeding, &params);
    let factor = params.handling_company_factor;
    near("V-36 fifteen over two", of(1.0, 15) / of(1.0, 2), factor, 1e-12);
    // Half-way between two and fifteen fish lies eight and a half: the mean of eight and nine.
    let middle = 0.5 * (of(1.0, 8) + of(1.0, 9)) / of(1.0, 2);
    near("V-36 half-way", middle, 0.5 * (1.0 + factor), 1e-12);
    near("V-36 alone as in a pair [s]", of(1.0, 0), of(1.0, 2), 1e-12);
    near("V-36 no shorter in a crowd [s]", of(1.0, 200), of(1.0, 15), 1e-12);
    near("V-36 full over empty", of(0.0, 2) / of(1.0, 2), params.handling_full_factor, 1e-12);
    near("V-36 ordinary fish [s]", of(1.0, 2), params.handling_s, 1e-12);
    near(
        "V-36 eight times the mass",
        handling_time_s(8.0_f64.cbrt(), 1.0, 1.0, 2, &params),
        0.5 * of(1.0, 2),
        1e-12,
    );
    let filled = |share: f64| handling_time_s(1.0, share, 1.0, 2, &params);
    near(
        "V-36 next to nothing in the mouth",
        filled(0.0),
        params.small_suck_factor * of(1.0, 2),
        1e-12,
    );
    near("V-36 half a mouthful [s]", filled(0.5), 0.5 * (filled(0.0) + filled(1.0)), 1e-12);
    // An item that is larger than a mouthful takes longer in proportion to what it adds.
    near("V-36 twice a mouthful [s]", filled(2.0) - filled(1.0), filled(1.0) - filled(0.0), 1e-12);
    let steps: Vec<f64> = (0..20).map(|feeding| of(0.5, feeding)).collect();
    assert!(steps.windows(2).all(|w| w[1] <= w[0]), "V-36: other fish never make handling slower");
}

/// V-165: a pile without food is found as often as the lone hookbait on it; food adds to that without a step, and never
/// takes away. Without food and hookbait nothing is found.
///
/// A find needs the fish to pass: the area it searches in a second, a, is a strip of twice the glance g. A hookbait is
/// noticed in k such strips. A rich pile of radius r that smells to a distance s is noticed in a strip wider by (r + s)
/// to each side, hence 1 + (r + s)/g strips. So the rate of a rich pile is at most a/A · (k + 1 + (r + s)/g).
#[test]
fn a_pile_is_found_as_its_hookbait_is_and_sooner_with_food() {
    let params = FishParams::central();
    let (radius_m, area_m2) = (0.12, 8.0);
    let rate =
        |mouthfuls: f64, hook: bool| pile_found_per_s(mouthfuls, radius_m, hook, area_m2, &params);
    let lone = hookbait_found_per_s(area_m2, &params);
    near(
        "V-165 lone hookbait [1/s]",
        lone,
        params.search_m2_s * params.hookbait_notice / area_m2,
        1e-12,
    );
    near("V-165 no food [1/s]", rate(0.0, true), lone, 1e-12);
    near("V-165 a ten-thousandth of a mouthful [1/s]", rate(1e-4, true), lone, 2e-3);
    assert!(rate(0.0, false).abs() < 1e-15, "V-165: nothing to find");
    let strips = 1.0 + (radius_m + params.pile_smell_m) / params.glance_m;
    let richest = params.search_m2_s / area_m2 * (params.hookbait_notice + strips);
    near("V-165 a very rich pile [1/s]", rate(1e9, true), richest, 1e-6);
    let curve: Vec<f64> = (0..4_000).map(|i| rate(0.01 * f64::from(i), true)).collect();
    // The steepest slope is that at the start: strips/half for each mouthful, here over a hundredth of one.
    let steepest = curve[1] - curve[0];
    assert!(curve.windows(2).all(|w| w[1] > w[0] && w[1] - w[0] <= steepest * 1.000_001), "V-165");
    for mouthfuls in [0.0, 0.5, 20.0] {
        for hook in [false, true] {
            let wide = |area_m2: f64| pile_found_per_s(mouthfuls, radius_m, hook, area_m2, &params);
            assert!((2.0 * wide(2.0 * area_m2) - wide(area_m2)).abs() < 1e-15, "V-165: area");
            let broad = pile_found_per_s(mouthfuls, 2.0 * radius_m, hook, area_m2, &params);
            assert!(broad >= rate(mouthfuls, hook), "V-165: a broader pile is found no later");
        }
    }
}

/// V-24: t = T ln(r/g), the marginal value theorem (Charnov 1976, Theoretical Population Biology 9:129-136) for a
/// memory that fades with time constant T; a fish that expects no more than elsewhere leaves at once.
#[test]
fn a_fish_gives_up_when_its_expected_intake_falls_to_that_elsewhere() {
    let params = FishParams::central();
    let (memory_s, elsewhere) = (params.memory_s, params.elsewhere_per_s);
    near(
        "V-24 at e times [s]",
        giving_up_time_s(elsewhere * 1_f64.exp(), &params),
        memory_s,
        1e-12,
    );
    for times in [1.5, 2.0, 10.0] {
        let result = giving_up_time_s(times * elsewhere, &params);
        near("V-24 closed form [s]", result, memory_s * f64::ln(times), 1e-12);
        let faded = times * elsewhere * (-result / memory_s).exp();
        near("V-24 what it remembers then [1/s]", faded, elsewhere, 1e-12);
    }
    assert!(giving_up_time_s(elsewhere, &params) <= 0.0);
    assert!(
        giving_up_time_s(0.0, &params) <= 0.0,
        "V-24: a fish that remembers nothing has no patience"
    );

    let arrives = Time::from_seconds(600.0);
    let patience_s = memory_s * params.arrival_optimism.ln();
    let forage = arriving(arrives, &params);
    assert_eq!(
        forage.gives_up_at(0.0, 0.0, &params),
        arrives.after(patience_s),
        "V-24: on arrival"
    );
    // Giving-up densities rise with risk (Brown 1988): at a risk ρ it asks for 1 + wρ times what it finds elsewhere, so
    // that it leaves T ln(1 + wρ) earlier, and at once if it expected less than that.
    for risk in [0.3, 1.0, 1.0 / params.risk_price] {
        let earlier_s = memory_s * (params.risk_price * risk).ln_1p();
        let left = forage.gives_up_at(risk, 0.0, &params).seconds_since(arrives);
        assert!((left - (patience_s - earlier_s)).abs() < 1e-5, "V-24: {left} s at risk {risk}");
    }
    assert_eq!(forage.gives_up_at(1e3, 0.0, &params), arrives, "V-24: where it is dangerous");
    // Where it smells food it is content with less, and stays T ln(1 + a s) longer.
    for scent in [0.2, 1.0] {
        let later_s = memory_s * (params.scent_arousal * scent).ln_1p();
        let left = forage.gives_up_at(0.0, scent, &params).seconds_since(arrives);
        assert!((left - (patience_s + later_s)).abs() < 1e-5, "V-24: {left} s at scent {scent}");
    }
}

/// V-24: mouthfuls at equal intervals d leave a memory of (1/T)/(1 − e^(−d/T)) after each, a geometric series; so
/// the giving-up time after the last is known.
#[test]
fn a_fish_that_fed_well_stays_longer() {
    let params = FishParams::central();
    let memory_s = params.memory_s;
    for every_s in [5.0, 20.0, 60.0] {
        let mut forage = arriving(Time::ZERO, &params);
        let mut last = Time::ZERO;
        for i in 1..=400 {
            last = Time::from_seconds(every_s * f64::from(i));
            forage.add_mouthfuls(last, 1.0, &params);
        }
        let remembered = 1.0 / memory_s / (1.0 - (-every_s / memory_s).exp());
        let patience_s = memory_s * (remembered / params.elsewhere_per_s).ln();
        let found_s = forage.gives_up_at(0.0, 0.0, &params).seconds_since(last);
        assert!((found_s - patience_s).abs() < 1e-5, "V-24: {found_s} s against {patience_s} s");
    }

    let mut forage = arriving(Time::ZERO, &params);
    let later = Time::from_seconds(200.0);
    forage.encourage(later, 0.0, &params);
    assert_eq!(forage.gives_up_at(0.0, 0.0, &params), later, "V-24: nothing raises no hope");
    forage.encourage(later, params.rich_mouthfuls, &params);
    let half = 0.5 * (1.0 + params.arrival_optimism);
    let hopes_s = forage.gives_up_at(0.0, 0.0, &params).seconds_since(later);
    near("V-24 hope by half of plenty [s]", hopes_s, memory_s * half.ln(), 1e-7);
    forage.encourage(later, 1e15, &params);
    let fresh = arriving(later, &params);
    assert_eq!(
        forage.gives_up_at(0.0, 0.0, &params),
        fresh.gives_up_at(0.0, 0.0, &params),
        "V-24: fresh feed"
    );
}

/// A fish that arrives and has not fed here before.
fn arriving(now: Time, params: &FishParams) -> FeedingMemory {
    let mut forage = FeedingMemory::new(params);
    forage.arrive(now, params);
    forage
}

/// V-44: the expected value of a feeding signal follows the rule of Rescorla and Wagner (1972, from memory), V ← V +
/// (1 − e^(−t/τ))(λ − V): without reward it decays as e^(−t/τ), for any time steps; rewarded at a steady rate it
/// tends to that rate.
#[test]
fn the_expected_value_of_a_signal_is_learned_by_the_published_rule() {
    let params = FishParams::central();
    let tau_s = params.learning_time_s;
    let after = |cuts: u32| {
        let mut forage = arriving(Time::ZERO, &params);
        for cut in 1..=cuts {
            forage.learn(Time::from_seconds(tau_s * f64::from(cut) / f64::from(cuts)), &params);
        }
        forage.responsiveness_to_signal(&params)
    };
    near("V-44 unrewarded", after(1), (-1.0_f64).exp(), 1e-9);
    near("V-44 in ten cuts", after(10), (-1.0_f64).exp(), 1e-9);

    let mut forage = arriving(Time::ZERO, &params);
    for minute in 1..=600 {
        let now = Time::from_seconds(60.0 * f64::from(minute));
        forage.add_mouthfuls(now, 3.0, &params);
        forage.learn(now, &params);
    }
    let worth = 3.0 / 60.0 / params.elsewhere_per_s / params.arrival_optimism;
    near("V-44 rewarded", forage.responsiveness_to_signal(&params), worth, 1e-9);
}

/// Tadpoles of a reed frog offered to a predator, and killed (Vonesh & Bolker 2005, Ecology 86:1580, as in the
/// package `emdbook` of Bolker 2008).
const REED_FROGS: [[f64; 2]; 16] = [
    [5.0, 1.0],
    [5.0, 2.0],
    [10.0, 5.0],
    [10.0, 6.0],
    [15.0, 10.0],
    [15.0, 9.0],
    [20.0, 7.0],
    [20.0, 10.0],
    [30.0, 11.0],
    [30.0, 15.0],
    [50.0, 5.0],
    [50.0, 21.0],
    [75.0, 32.0],
    [75.0, 18.0],
    [100.0, 25.0],
    [100.0, 35.0],
];

/// V-119: the model's own saturating intake, fitted to these data by binomial likelihood, gives the published
/// estimates of Holling's disc equation: a = 0.526, h = 0.0166 and a minimum −ln L of 46.721. One other program
/// prints 0.52593 and 0.016605, where its search stopped, another 0.52630 and 0.016644: the likelihood is flat
/// there. So the relative tolerances of a and h are 10⁻³ and 4·10⁻³, at least half of what those two differ by, and
/// −ln L must agree to the digits printed.
#[test]
fn a_fit_of_the_models_intake_to_reed_frogs_gives_the_published_estimates() {
    let ln_factorial = |n: f64| (1..=n as u32).map(|i| f64::from(i).ln()).sum::<f64>();
    let minus_log_likelihood = |a: f64, h: f64| -> f64 {
        let params = FishParams { search_exponent: 1.0, search_m2_s: a, ..FishParams::central() };
        REED_FROGS
            .iter()
            .map(|&[offered, killed]| {
                let share = intake_per_s(offered, h, &params) / offered;
                let ways = ln_factorial(offered) - ln_factorial(killed);
                let ways = ways - ln_factorial(offered - killed);
                -(ways + killed * share.ln() + (offered - killed) * (1.0 - share).ln())
            })
            .sum()
    };
    // A pattern search that halves its steps: simple, and reliable for a convex function of two variables.
    let (mut at, mut step) = ([0.4, 0.02], [0.1, 0.01]);
    let mut best = minus_log_likelihood(at[0], at[1]);
    while step[0] > 1e-9 {
        let moves = [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0), (1.0, 1.0), (-1.0, -1.0)];
        let better = moves.iter().find_map(|&(da, dh)| {
            let next = [at[0] + da * step[0], (at[1] + dh * step[1]).max(0.0)];
            let value = minus_log_likelihood(next[0], next[1]);
            (value < best).then_some((next, value))
        });
        if let Some((next, value)) = better {
            (at, best) = (next, value);
        } else {
            step = step.map(|size| 0.5 * size);
        }
    }
    println!("V-119 a = {:.5}, h = {:.6}, −ln L = {best:.4}", at[0], at[1]);
    near("V-119 a", at[0], 0.5263, 1e-3);
    near("V-119 h", at[1], 0.016_63, 4e-3);
    as_printed("V-119 least −ln L", best, 46.721, 3);
    measured!("V-119", "{:.5}, {:.6}, {best:.4}", at[0], at[1]);
}

/// V-174: among dust a hookbait keeps all of its notice, among items of its own size 1/(1 + w), and the less the larger
/// the items; a larger hookbait stands out more.
#[test]
fn a_hookbait_stands_out_among_small_feed() {
    let params = FishParams::central();
    near("V-174 among dust", stands_out(8e-3, 1e-6, &params), 1.0, 1e-6);
    let like = 1.0 / (1.0 + params.feed_masks);
    near("V-174 among its like", stands_out(8e-3, 8e-3, &params), like, 1e-12);
    let sizes: Vec<f64> = (0..40).map(|step| 5e-4 * f64::from(step)).collect();
    let shares: Vec<f64> = sizes.iter().map(|item| stands_out(8e-3, *item, &params)).collect();
    assert!(shares.windows(2).all(|pair| pair[1] < pair[0]), "V-174: {shares:?}");
    assert!(stands_out(14e-3, 4e-3, &params) > stands_out(6e-3, 4e-3, &params), "V-174");
}

/// V-345: searched place by place, a pile yields the hookbait in one suck with the share of its area that the suck covers,
/// times its notice, and at most for certain.
#[test]
fn a_pile_searched_place_by_place_yields_the_hookbait_by_its_area() {
    near("V-345 a tenth of the area", hookbait_met_by_place(1.0, 0.01, 0.1), 0.1, 1e-12);
    near("V-345 by notice", hookbait_met_by_place(2.5, 0.01, 0.1), 0.25, 1e-12);
    near("V-345 a small pile", hookbait_met_by_place(2.5, 0.01, 0.001), 1.0, 1e-12);
}
