//! When to recast: renewal–reward against closed-form optima and on synthetic logs.

use sim::engine::Dice;
use sim::stats::{CompetingTime, CycleCosts, RenewalCurve, WeibullModel};

fn near(what: &str, got: f64, expected: f64, tolerance: f64) {
    assert!(
        (got - expected).abs() <= tolerance,
        "{what}: got {got}, expected {expected} within {tolerance}"
    );
}

fn weibull(never_share: f64, shape: f64, scale: f64) -> WeibullModel {
    WeibullModel { never_share, shape, scale }
}

/// Bites per minute when recasting at `age`.
fn rate(model: &WeibullModel, age: f64, costs: CycleCosts) -> f64 {
    let share = 1.0 - model.survival(age);
    share / (model.mean_until(age) + costs.start + costs.event * share)
}

/// V-312: optima in closed form, solved separately.
#[test]
fn the_best_age_has_its_closed_form() {
    let mix = weibull(0.4, 1.0, 4.0);
    let rows = [
        (weibull(0.0, 0.7, 8.0), 0.75, 1.945_230, 0.133_735, 0.095_443),
        (mix, 0.75, 3.336_736, 0.098_608, 0.076_097),
        (mix, 1.5, 4.465_716, 0.082_346, 0.066_034),
    ];
    for (model, start, age, free, with_bite) in rows {
        let best = model.best_age(start).expect("giving up pays");
        near("age", best, age, 5e-7);
        near("rate", rate(&model, best, CycleCosts { start, event: 0.0 }), free, 5e-7);
        let costs = CycleCosts { start, event: 3.0 };
        near("rate with the time of a bite", rate(&model, best, costs), with_bite, 5e-7);
        // The time of a bite does not move the optimum.
        for other in [0.98 * best, 1.02 * best] {
            assert!(rate(&model, other, costs) < rate(&model, best, costs));
        }
    }
    for never in [weibull(0.0, 1.0, 8.0), weibull(0.0, 1.5, 8.0)] {
        assert_eq!(never.best_age(0.75), None, "it never pays to give up on {never:?}");
    }
    let costs = CycleCosts { start: 0.75, event: 3.0 };
    near("every two minutes", rate(&mix, 2.0, costs), 0.073_716, 5e-7);
    near("every ten minutes", rate(&mix, 10.0, costs), 0.064_002, 5e-7);
}

/// Waits of a model, cut off at `limit`, in ascending order.
fn log(model: &WeibullModel, limit: f64, count: usize, key: u64) -> Vec<CompetingTime> {
    let mut dice = Dice::from_key(&[312, key]);
    let mut times: Vec<_> = (0..count)
        .map(|_| {
            let comes = dice.uniform() >= model.never_share;
            let time = model.scale * dice.exponential(1.0).powf(1.0 / model.shape);
            let is_bite = comes && time <= limit;
            CompetingTime { time: if is_bite { time } else { limit }, cause: is_bite.then_some(0) }
        })
        .collect();
    times.sort_by(|a, b| a.time.total_cmp(&b.time));
    times
}

/// V-312: on large synthetic logs the estimate agrees with the closed forms.
#[test]
fn the_best_age_of_a_log_agrees_with_its_closed_form() {
    let count = 40_000_u32;
    for (model, start) in [
        (weibull(0.0, 0.7, 8.0), 0.75),
        (weibull(0.4, 1.0, 4.0), 0.75),
        (weibull(0.4, 1.0, 4.0), 1.5),
    ] {
        let costs = CycleCosts { start, event: 3.0 };
        let best = model.best_age(start).expect("giving up pays");
        let highest = rate(&model, best, costs);
        // F has the error √(F (1 − F)/n), and M at most T times that.
        let bound = |age: f64| {
            let share = 1.0 - model.survival(age);
            let error = (share * (1.0 - share) / f64::from(count)).sqrt();
            4.0 * error * (1.0 / share + age / (model.mean_until(age) + start))
        };
        for key in 0..10 {
            let times = log(&model, 12.0, count as usize, key);
            let curve = RenewalCurve::from_sorted(&times, |_| 1, 12.0, costs).expect("bites");
            // Over the few minutes in which the true rate is within 2 % of its highest, the difference of two estimated
            // rates has an error of less than half a hundredth.
            let chosen = rate(&model, curve.best().age, costs);
            assert!(
                chosen > 0.98 * highest,
                "{chosen} at {}, {highest} at {best}",
                curve.best().age
            );
            let near_best = curve.near_best(0.98, costs);
            assert!(near_best.contains(curve.best().age), "{near_best:?}");
            for point in curve.points().iter().filter(|point| point.age > 0.5) {
                let truth = rate(&model, point.age, costs);
                near("rate at an age", point.rate, truth, bound(point.age) * truth);
            }
        }
    }
}

/// V-312: where giving up never pays, neither does it on a log.
#[test]
fn a_log_without_a_reason_to_recast_shows_none() {
    for model in [weibull(0.0, 1.0, 8.0), weibull(0.0, 1.5, 8.0)] {
        let costs = CycleCosts { start: 0.75, event: 3.0 };
        for key in 0..10 {
            let times = log(&model, 12.0, 40_000, 100 + key);
            let curve = RenewalCurve::from_sorted(&times, |_| 1, 12.0, costs).expect("bites");
            let (last, best) = (curve.last(), curve.best());
            near("the horizon", last.age, 12.0, 0.0);
            assert!(last.rate > 0.98 * best.rate, "{last:?} {best:?}");
        }
    }
}

/// V-312: weights stand for repeated waits, and competing ends stop a wait without a bite.
#[test]
fn weights_repeat_waits_and_other_ends_stop_them() {
    let costs = CycleCosts { start: 1.0, event: 2.0 };
    let wait = |time: f64, cause: Option<usize>| CompetingTime { time, cause };
    let times = [wait(1.0, Some(0)), wait(2.0, Some(1)), wait(3.0, Some(0)), wait(4.0, None)];
    let curve = RenewalCurve::from_sorted(&times, |_| 1, 4.0, costs).expect("bites");
    let ages: Vec<f64> = curve.points().iter().map(|point| point.age).collect();
    assert_eq!(ages, [1.0, 3.0, 4.0]);
    let last = curve.last();
    // Two bites in four waits of 1 + 2 + 3 + 4 minutes, four starts and two bites.
    near("share", last.share, 0.5, 1e-12);
    near("mean wait", last.mean_wait, 2.5, 1e-12);
    near("rate", last.rate, 2.0 / (10.0 + 4.0 + 4.0), 1e-12);
    let doubled: Vec<_> = times.iter().flat_map(|&time| [time, time]).collect();
    let twice = RenewalCurve::from_sorted(&doubled, |_| 1, 4.0, costs).expect("bites");
    let weighted = RenewalCurve::from_sorted(&times, |_| 2, 4.0, costs).expect("bites");
    assert_eq!(twice, weighted);
    let none = RenewalCurve::from_sorted(&times, |index| u32::from(index == 3), 4.0, costs);
    assert_eq!(none, None, "a sample without a bite");
}
