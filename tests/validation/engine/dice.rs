//! The generator is the published one, streams are independent, and draws have their distributions.

use rand::{Rng, SeedableRng};
use rand_xoshiro::{SplitMix64, Xoshiro256PlusPlus};
use sim::engine::Dice;

use crate::evidence::{LargestScore, mean, mean_is, within_z};
use crate::measured::measured;

/// Fails unless values are uniform on 0 to 1 by the test of Kolmogorov and Smirnov.
///
/// P(D√n > 2.23) = 2 exp(−2 · 2.23²) = 9.6·10⁻⁵, near the false-alarm rate of a standard score of 4.
#[track_caller]
pub(crate) fn is_uniform(what: &str, mut values: Vec<f64>) -> f64 {
    values.sort_by(f64::total_cmp);
    let n = values.len() as f64;
    let furthest = values
        .iter()
        .enumerate()
        .map(|(i, x)| (x - i as f64 / n).abs().max((x - (i + 1) as f64 / n).abs()))
        .fold(0.0, f64::max);
    let scaled = furthest * n.sqrt();
    println!("{what}: D√n = {scaled:.2}");
    assert!(scaled < 2.23, "{what}: D√n = {scaled} of {n} values, allowed 2.23");
    scaled
}

/// V-09: first outputs of the reference programs for xoshiro256++ (state 1, 2, 3, 4; Blackman & Vigna) and
/// SplitMix64 (seed 1234567; Steele, Lea & Flood, reference program by Vigna).
#[test]
fn the_generators_produce_their_published_numbers() {
    let mut state = [0_u8; 32];
    for (i, word) in [1_u64, 2, 3, 4].iter().enumerate() {
        state[8 * i..8 * i + 8].copy_from_slice(&word.to_le_bytes());
    }
    let mut xoshiro = Xoshiro256PlusPlus::from_seed(state);
    for published in [
        41_943_041,
        58_720_359,
        3_588_806_011_781_223,
        3_591_011_842_654_386,
        9_228_616_714_210_784_205,
        9_973_669_472_204_895_162,
        14_011_001_112_246_962_877,
        12_406_186_145_184_390_807,
        15_849_039_046_786_891_736,
        10_450_023_813_501_588_000,
    ] {
        assert_eq!(xoshiro.next_u64(), published);
    }
    let mut split_mix = SplitMix64::seed_from_u64(1_234_567);
    for published in [
        6_457_827_717_110_365_317,
        3_203_168_211_198_807_973,
        9_817_491_932_198_370_423,
        4_593_380_528_125_082_431,
        16_408_922_859_458_223_821,
    ] {
        assert_eq!(split_mix.next_u64(), published);
    }
}

/// V-09: dice are xoshiro256++ seeded by words mixed with SplitMix64; the outputs are pinned (computed), so that a
/// seed gives the same session in every later version.
#[test]
fn a_key_gives_the_same_numbers_in_every_version() {
    let spread = |word: u64| SplitMix64::seed_from_u64(word).next_u64();
    for words in [&[1_u64, 1, 4, 0][..], &[7], &[u64::MAX, 0, 3, 1 << 40]] {
        let mixed = words.iter().fold(0, |so_far, &word| spread(so_far ^ spread(word)));
        let mut plain = Xoshiro256PlusPlus::seed_from_u64(mixed);
        let mut dice = Dice::from_key(words);
        for _ in 0..100 {
            assert_eq!(dice.next_u64(), plain.next_u64(), "key {words:?}");
        }
    }

    let mut dice = Dice::from_key(&[1, 1, 4, 0]);
    let first: Vec<u64> = (0..8).map(|_| dice.next_u64()).collect();
    assert_eq!(first, PINNED);
}

/// First outputs of the key (1, 1, 4, 0); a program of ours in another language gives the same.
const PINNED: [u64; 8] = [
    586_841_599_569_884_915,
    7_128_398_871_849_283_745,
    105_948_899_016_234_573,
    2_448_298_883_497_292_231,
    887_609_702_027_200_589,
    6_006_195_686_983_349_160,
    1_186_695_731_985_362_182,
    11_554_656_980_025_224_760,
];

/// V-10: streams whose keys differ by one in one word, or in the order of words, are not correlated, and their pairs
/// fill the square evenly.
#[test]
fn streams_of_neighbouring_keys_are_independent() {
    const DRAWS: usize = 50_000;
    const CELLS: usize = 16;
    let base = [1_u64, 7, 4, 12];
    let mut largest = LargestScore::default();
    for other in [[2, 7, 4, 12], [1, 8, 4, 12], [1, 7, 5, 12], [1, 7, 4, 13], [7, 1, 4, 12]] {
        let (mut one, mut two) = (Dice::from_key(&base), Dice::from_key(&other));
        let mut counts = [0_u32; CELLS * CELLS];
        let products: Vec<f64> = (0..DRAWS)
            .map(|_| {
                let (u, v) = (one.uniform(), two.uniform());
                counts[(u * 16.0) as usize * CELLS + (v * 16.0) as usize] += 1;
                12.0 * (u - 0.5) * (v - 0.5)
            })
            .collect();
        largest.add(mean_is(&format!("V-10 correlation with {other:?}"), &products, 0.0));

        let expected = DRAWS as f64 / (CELLS * CELLS) as f64;
        let chi_square: f64 =
            counts.iter().map(|&n| (f64::from(n) - expected).powi(2) / expected).sum();
        // Wilson & Hilferty: the cube root of χ²/k is nearly normal, mean 1 − 2/(9k), variance 2/(9k).
        let k = (CELLS * CELLS - 1) as f64;
        let cube_root = (chi_square / k).cbrt();
        let error = (2.0 / (9.0 * k)).sqrt();
        largest.add(within_z("V-10 cells", cube_root, 1.0 - 2.0 / (9.0 * k), error));
    }
    measured!("V-10", "{largest}");
}

/// V-10: the first number of each of many streams is uniform over the streams, along every word of the key.
#[test]
fn first_numbers_are_uniform_over_streams() {
    let mut largest = 0.0_f64;
    for (word, what) in ["seed", "day", "purpose", "agent"].iter().enumerate() {
        let firsts = (0..20_000)
            .map(|i| {
                let mut key = [1, 1, 4, 0];
                key[word] += i;
                Dice::from_key(&key).uniform()
            })
            .collect();
        largest = largest.max(is_uniform(&format!("V-10 first numbers along {what}"), firsts));
    }
    measured!("V-10", "largest D√n = {largest:.2}");
}

const DRAWS: usize = 200_000;

fn drawn(seed: u64, mut draw: impl FnMut(&mut Dice) -> f64) -> Vec<f64> {
    let mut dice = Dice::from_key(&[seed]);
    (0..DRAWS).map(|_| draw(&mut dice)).collect()
}

/// Fails unless the k-th power of the values has the given mean; returns the standard score.
#[track_caller]
fn moment_is(what: &str, values: &[f64], power: i32, truth: f64) -> f64 {
    let powers: Vec<f64> = values.iter().map(|x| x.powi(power)).collect();
    mean_is(&format!("{what}, moment {power}"), &powers, truth)
}

/// V-25: moments of each distribution (textbook formulas).
#[test]
fn draws_have_the_moments_of_their_distributions() {
    let mut largest = LargestScore::default();
    let uniform = drawn(2501, Dice::uniform);
    assert!(uniform.iter().all(|u| (0.0..1.0).contains(u)));
    largest.add(moment_is("V-25 uniform", &uniform, 1, 1.0 / 2.0));
    largest.add(moment_is("V-25 uniform", &uniform, 2, 1.0 / 3.0));
    let from_uniform = is_uniform("V-25 uniform", uniform);

    let exponential = drawn(2502, |dice| dice.exponential(3.0));
    largest.add(moment_is("V-25 exponential", &exponential, 1, 3.0));
    largest.add(moment_is("V-25 exponential", &exponential, 2, 18.0));
    let shares = exponential.iter().map(|x| 1.0 - (-x / 3.0).exp()).collect();
    let from_exponential = is_uniform("V-25 exponential", shares);

    let normal = drawn(2503, Dice::normal);
    for (power, truth) in [(1, 0.0), (2, 1.0), (3, 0.0), (4, 3.0)] {
        largest.add(moment_is("V-25 normal", &normal, power, truth));
    }

    let lognormal = drawn(2504, |dice| dice.lognormal(2.0, 0.4));
    largest.add(moment_is("V-25 lognormal", &lognormal, 1, 2.0 * (0.5 * 0.16_f64).exp()));
    let logs: Vec<f64> = lognormal.iter().map(|x| x.ln() - 2.0_f64.ln()).collect();
    largest.add(moment_is("V-25 lognormal's logarithm", &logs, 1, 0.0));
    largest.add(moment_is("V-25 lognormal's logarithm", &logs, 2, 0.16));

    for (seed, cv) in [(2505, 0.5), (2506, 1.0), (2507, 1.5)] {
        let gamma = drawn(seed, |dice| dice.unit_mean_gamma(cv));
        largest.add(moment_is(&format!("V-25 gamma, cv {cv}"), &gamma, 1, 1.0));
        largest.add(moment_is(&format!("V-25 gamma, cv {cv}"), &gamma, 2, 1.0 + cv * cv));
    }
    let certain = drawn(2508, |dice| dice.unit_mean_gamma(0.0));
    assert!(certain.iter().all(|x| x.to_bits() == 1.0_f64.to_bits()));

    let between = drawn(2509, |dice| dice.uniform_between(-2.0, 4.0));
    assert!((-2.0..4.0).contains(&mean(&between)));
    largest.add(moment_is("V-25 between", &between, 1, 1.0));
    let chances = drawn(2510, |dice| f64::from(u8::from(dice.bernoulli(0.2))));
    largest.add(moment_is("V-25 chance", &chances, 1, 0.2));
    let largest_d = from_uniform.max(from_exponential);
    measured!("V-25", "{largest}, largest D√n = {largest_d:.2}");
}
