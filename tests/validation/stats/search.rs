//! The search for the best point: functions with known optima under noise, and the simulator's own weights.

use std::f64::consts::{PI, TAU};

use sim::engine::Dice;
use sim::stats::{GridAxis, SearchMethod, SearchSpace, Simulator, Trial, search};

use crate::evidence::{mean, standard_error};
use crate::measured::measured;

/// A function to be maximised, plus noise of a day that all points share and noise of their own.
struct Noisy<F> {
    of: F,
    seed: u64,
    own_sd: f64,
    shared_sd: f64,
    spent: u64,
}

impl<F: Fn(&[usize]) -> f64> Simulator for Noisy<F> {
    fn is_possible(&mut self, _: &[usize]) -> bool {
        true
    }

    fn simulate(&mut self, trials: &[Trial]) -> Option<Vec<Vec<f64>>> {
        let values = |trial: &Trial| -> Vec<f64> {
            let truth = (self.of)(&trial.point);
            let name: Vec<u64> = trial.point.iter().map(|&level| level as u64).collect();
            trial
                .days
                .clone()
                .map(|day| {
                    let shared = Dice::from_key(&[self.seed, u64::from(day)]).normal();
                    let key = [&[self.seed, u64::from(day), 1], name.as_slice()].concat();
                    let own = Dice::from_key(&key).normal();
                    truth + self.shared_sd * shared + self.own_sd * own
                })
                .collect()
        };
        self.spent += trials.iter().map(|trial| trial.days.len() as u64).sum::<u64>();
        Some(trials.iter().map(values).collect())
    }
}

/// The true value of the point that a search with a given number of trials returns.
fn chosen<F: Fn(&[usize]) -> f64>(
    space: &SearchSpace,
    trials: u32,
    seed: u64,
    (own_sd, shared_sd): (f64, f64),
    of: F,
) -> f64 {
    let mut noisy = Noisy { of, seed, own_sd, shared_sd, spent: 0 };
    let mut tried = Vec::new();
    let mut dice = Dice::from_key(&[21, seed]);
    let searched = search(space, trials, 1, |_| 0.05, &mut dice, &mut noisy, &mut tried)
        .expect("it is not stopped");
    assert_eq!(searched.method, SearchMethod::Race);
    assert!(noisy.spent <= u64::from(trials), "{} of {trials} trials", noisy.spent);
    (noisy.of)(&searched.finalists[0])
}

/// Evenly spaced levels from end to end.
fn at(level: usize, levels: usize, low: f64, high: f64) -> f64 {
    low + (high - low) * level as f64 / (levels - 1) as f64
}

const ORDERED: GridAxis = GridAxis { levels: 101, is_ordered: true };

/// Hartmann's function in six dimensions with the opposite sign: its largest value is 3.32237.
fn hartmann(x: [f64; 6]) -> f64 {
    const WEIGHT: [f64; 4] = [1.0, 1.2, 3.0, 3.2];
    const STEEP: [[f64; 6]; 4] = [
        [10.0, 3.0, 17.0, 3.5, 1.7, 8.0],
        [0.05, 10.0, 17.0, 0.1, 8.0, 14.0],
        [3.0, 3.5, 1.7, 10.0, 17.0, 8.0],
        [17.0, 8.0, 0.05, 10.0, 0.1, 14.0],
    ];
    const CENTRE: [[f64; 6]; 4] = [
        [0.1312, 0.1696, 0.5569, 0.0124, 0.8283, 0.5886],
        [0.2329, 0.4135, 0.8307, 0.3736, 0.1004, 0.9991],
        [0.2348, 0.1451, 0.3522, 0.2883, 0.3047, 0.6650],
        [0.4047, 0.8828, 0.8732, 0.5743, 0.1091, 0.0381],
    ];
    (0..4)
        .map(|i| {
            let off: f64 = (0..6).map(|j| STEEP[i][j] * (x[j] - CENTRE[i][j]).powi(2)).sum();
            WEIGHT[i] * (-off).exp()
        })
        .sum()
}

fn branin(x: f64, y: f64) -> f64 {
    let valley = y - 5.1 / (4.0 * PI * PI) * x * x + 5.0 / PI * x - 6.0;
    valley * valley + 10.0 * (1.0 - 1.0 / (4.0 * TAU)) * x.cos() + 10.0
}

/// V-94: the functions are the published ones.
#[test]
fn the_functions_have_their_published_optima() {
    let best = hartmann([0.20169, 0.150_01, 0.476_874, 0.275_332, 0.311_652, 0.6573]);
    assert!((best - 3.322_37).abs() < 1e-5, "{best}");
    for (x, y) in [(-PI, 12.275), (PI, 2.275), (9.424_78, 2.475)] {
        assert!((branin(x, y) - 0.397_887).abs() < 1e-6, "{}", branin(x, y));
    }
}

/// Mean, standard deviation and minimum of the true values that searches with `seeds` seeds return.
fn searched<F: Fn(&[usize]) -> f64 + Copy>(
    what: &str,
    (space, trials): (&SearchSpace, u32),
    seeds: u64,
    noise: (f64, f64),
    of: F,
) -> (f64, f64, f64) {
    let truths: Vec<f64> = (0..seeds).map(|seed| chosen(space, trials, seed, noise, of)).collect();
    let worst = truths.iter().copied().fold(f64::INFINITY, f64::min);
    let sd = standard_error(&truths) * (seeds as f64).sqrt();
    println!("{what}, {trials} trials: mean {:.3}, sd {sd:.3}, worst {worst:.3}", mean(&truths));
    (mean(&truths), sd, worst)
}

/// V-94: Hartmann's function with noise of standard deviation 1.
#[test]
fn a_race_finds_the_maximum_of_hartmanns_function_under_noise() {
    let space = SearchSpace::new(vec![ORDERED; 6]);
    let of = |point: &[usize]| {
        let mut x = [0.0; 6];
        x.iter_mut().zip(point).for_each(|(x, &level)| *x = at(level, 101, 0.0, 1.0));
        hartmann(x)
    };
    // Computed separately from this code with sixteen seeds: a race of 256 points and five rounds of 64, on points
    // that are not rounded to levels, has means 3.151 and 3.226; a Bayesian optimiser with the same trials 2.963 and
    // 3.212, and its worst are 2.000 and 2.780. Those are means of sixteen, ours of 64: the difference has a
    // standard error of sd √(1/16 + 1/64), and two of them are allowed. Our worst must not be worse than the
    // optimiser's.
    let mut results = Vec::new();
    for (trials, race, worst_allowed) in [(3000, 3.151, 2.000), (20_000, 3.226, 2.780)] {
        let (mean, sd, worst) = searched("Hartmann", (&space, trials), 64, (1.0, 0.0), of);
        let allowed = 2.0 * sd * (1.0_f64 / 16.0 + 1.0 / 64.0).sqrt();
        assert!(mean > race - allowed, "{trials} trials: mean {mean}, expected {race} ± {allowed}");
        assert!(worst > worst_allowed, "{trials} trials: worst {worst}");
        results.push(format!("{mean:.3} in {trials} trials (another race {race})"));
    }
    measured!("V-94", "of 3.322: {}", results.join(", "));
}

/// V-94: noise that all points of a day share has no effect; the search also works without an order of levels.
#[test]
fn a_race_finds_a_minimum_of_branins_function() {
    let of = |point: &[usize]| -branin(at(point[0], 101, -5.0, 10.0), at(point[1], 101, 0.0, 15.0));
    // Noise of 5 on a function with a range of 308; a hundred times that is shared by all points of a day, and
    // cancels in every comparison. The grid's own best is 0.40. A mean of 1000 days, about the number on which the
    // finalists are compared, has a standard error of 0.16; all must be within three of them of the minimum.
    let space = SearchSpace::new(vec![ORDERED; 2]);
    for noise in [(5.0, 0.0), (5.0, 500.0)] {
        let (_, _, worst) = searched("Branin", (&space, 20_000), 16, noise, of);
        assert!(worst > -0.398 - 0.5, "worst {worst}");
    }
    let mixed = SearchSpace::new(vec![ORDERED, GridAxis { levels: 101, is_ordered: false }]);
    let (mean, ..) =
        searched("Branin, one setting without order", (&mixed, 20_000), 16, (5.0, 0.0), of);
    // Of 300 random points at least one is almost certainly within 3 of the minimum, as a fortieth of all points
    // are.
    assert!(mean > -3.4, "mean {mean}");
    measured!("V-94", "{mean:.3} of -0.398 with one setting without order");
}

/// Weights of 64 plans on a thousand days [10 g]; the folder's README says how they were made.
const WEIGHTS: &str = include_str!("../../tables/sixty-four-plans.csv");

/// Days drawn from the table with replacement, all plans from the same row.
struct DrawnDays<'a> {
    rows: &'a [Vec<f64>],
    seed: u64,
    spent: u64,
}

impl Simulator for DrawnDays<'_> {
    fn is_possible(&mut self, _: &[usize]) -> bool {
        true
    }

    fn simulate(&mut self, trials: &[Trial]) -> Option<Vec<Vec<f64>>> {
        self.spent += trials.iter().map(|trial| trial.days.len() as u64).sum::<u64>();
        let row = |day: u32| {
            let dice = &mut Dice::from_key(&[22, self.seed, u64::from(day)]);
            (dice.uniform() * self.rows.len() as f64) as usize
        };
        let plan = |point: &[usize]| point.iter().fold(0, |so_far, level| 4 * so_far + level);
        let values = |trial: &Trial| {
            trial.days.clone().map(|day| self.rows[row(day)][plan(&trial.point)]).collect()
        };
        Some(trials.iter().map(values).collect())
    }
}

/// V-95: on the simulator's own weights, whose best is known, the choice is within 2 % of the best.
#[test]
fn of_64_plans_one_within_two_per_cent_of_the_best_is_chosen() {
    let rows: Vec<Vec<f64>> = WEIGHTS
        .lines()
        .skip(1)
        .map(|line| line.split(',').map(|weight| weight.parse().expect("a number")).collect())
        .collect();
    assert_eq!((rows.len(), rows[0].len()), (1000, 64));
    // Where days are drawn from the table, its means are the exact truth.
    let truths: Vec<f64> =
        (0..64).map(|plan| mean(&rows.iter().map(|row| row[plan]).collect::<Vec<_>>())).collect();
    let best = truths.iter().copied().fold(0.0, f64::max);
    let good = truths.iter().filter(|&&truth| truth >= 0.98 * best).count();
    let space = SearchSpace::new(vec![GridAxis { levels: 4, is_ordered: true }; 3]);
    // A fifth of what the command uses by default. The stated chance is 0.95; the share of 400 runs has a standard
    // error of 0.011 there.
    let (trials, runs) = (8000, 400);
    let hits = (0..runs)
        .filter(|&seed| {
            let mut days = DrawnDays { rows: &rows, seed, spent: 0 };
            let (mut dice, mut tried) = (Dice::from_key(&[23, seed]), Vec::new());
            let result = search(&space, trials, 1, |_| 0.0, &mut dice, &mut days, &mut tried)
                .expect("it is not stopped");
            assert_eq!(result.method, SearchMethod::SequentialHalving);
            assert!(days.spent <= u64::from(trials), "{} trials", days.spent);
            let plan = result.finalists[0].iter().fold(0, |so_far, level| 4 * so_far + level);
            truths[plan] >= 0.98 * best
        })
        .count();
    println!("{good} of 64 plans are within 2 % of the best; chosen in {hits} of {runs} runs");
    assert!(good < 6, "with {good} good plans the choice is too easy for this test");
    assert!(hits as f64 >= 0.95 * runs as f64, "chosen in {hits} of {runs} runs");
    measured!("V-95", "{hits} of {runs}");
}

/// V-95: with twelve plans both procedures for few plans choose well, and the one with a guarantee keeps it.
#[test]
fn of_twelve_plans_a_good_one_is_chosen_by_both_procedures() {
    let rows: Vec<Vec<f64>> = WEIGHTS
        .lines()
        .skip(1)
        .map(|line| line.split(',').map(|weight| weight.parse().expect("a number")).collect())
        .collect();
    // The first quarter of the table: one recast interval, four loads, three of the four rates of loose feed.
    let plan = |point: &[usize]| 4 * point[0] + point[1];
    let truth = |at: usize| mean(&rows.iter().map(|row| row[at]).collect::<Vec<_>>());
    let space = SearchSpace::new(vec![
        GridAxis { levels: 4, is_ordered: true },
        GridAxis { levels: 3, is_ordered: true },
    ]);
    let best = space.points().iter().map(|point| truth(plan(point))).fold(0.0, f64::max);
    struct Quarter<'a>(DrawnDays<'a>);
    impl Simulator for Quarter<'_> {
        fn is_possible(&mut self, _: &[usize]) -> bool {
            true
        }
        fn simulate(&mut self, trials: &[Trial]) -> Option<Vec<Vec<f64>>> {
            let whole = |trial: &Trial| Trial {
                point: [&[0], trial.point.as_slice()].concat(),
                days: trial.days.clone(),
            };
            self.0.simulate(&trials.iter().map(whole).collect::<Vec<_>>())
        }
    }
    // 20 000 trials let Kim and Nelson's procedure run to its end; 1 200 do not. It guarantees 0.95 for 4 %, and its
    // share of 200 runs has a standard error of 0.015. Optimal allocation guarantees nothing; five standard errors
    // less are required of it.
    for (trials, method, least) in
        [(20_000, SearchMethod::KimNelson, 0.95), (1200, SearchMethod::Ocba, 0.875)]
    {
        let mut spent = 0;
        let hits = (0..200)
            .filter(|&seed| {
                let mut days = Quarter(DrawnDays { rows: &rows, seed, spent: 0 });
                let (mut dice, mut tried) = (Dice::from_key(&[24, seed]), Vec::new());
                let result =
                    search(&space, trials, 1, |best| 0.04 * best, &mut dice, &mut days, &mut tried)
                        .expect("it is not stopped");
                assert_eq!(result.method, method);
                spent += days.0.spent;
                truth(plan(&result.finalists[0])) >= 0.96 * best
            })
            .count();
        println!("{method:?}: good in {hits} of 200 runs, {} trials a run", spent / 200);
        assert!(hits as f64 >= 200.0 * least, "{method:?}: good in {hits} of 200 runs");
        assert!(spent / 200 <= u64::from(trials), "{method:?}: {spent} trials in 200 runs");
    }
}
