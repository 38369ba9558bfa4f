//! How inputs are drawn and counted, and how long each may take.

use std::cell::Cell;
use std::fmt::Debug;
use std::time::{Duration, Instant};

use proptest::prelude::{ProptestConfig, any, prop};
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;

/// Time in which the program must be done with any input; a debug build on a busy machine is slower.
const MAX_TIME: Duration = Duration::from_secs(if cfg!(debug_assertions) { 20 } else { 5 });

/// Memory that the process of a long run may take [kB].
const MAX_MEMORY_KB: u64 = 500_000;

/// A whole number from the environment. `None` if it is not set.
fn setting(name: &str) -> Option<u64> {
    let value = std::env::var(name).ok()?;
    Some(value.parse().unwrap_or_else(|_| panic!("{name} is a whole number, not {value}")))
}

/// Peak memory of a process, or of this one as `self` [kB]. `None` where the system does not report it.
pub(crate) fn peak_memory_kb(process: &str) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}

/// Draws inputs and tries each; fails with the simplest input for which `try_one` panics or takes too long. Returns and
/// prints how many there were.
///
/// There are `ordinary` of them in an ordinary run, and in a long one as many as `SHOALWISE_ATTACK` says, or as many as can
/// be tried in `SHOALWISE_ATTACK_S` seconds if that is less.
pub(crate) fn attack<S: Strategy>(
    name: &str,
    ordinary: u32,
    inputs: S,
    try_one: impl Fn(S::Value),
) -> u64
where
    S::Value: Debug,
{
    let long_run = setting("SHOALWISE_ATTACK");
    let wanted = long_run.unwrap_or_else(|| u64::from(ordinary));
    let max_time = Duration::from_secs(setting("SHOALWISE_ATTACK_S").unwrap_or(u64::MAX));
    let (tried, slowest) = (Cell::new(0_u64), Cell::new(Duration::ZERO));
    let started = Instant::now();
    let mut result = Ok(());
    while result.is_ok() && tried.get() < wanted && started.elapsed() < max_time {
        let left = u32::try_from(wanted - tried.get()).unwrap_or(u32::MAX);
        let config = ProptestConfig {
            cases: left.min(ordinary),
            failure_persistence: None,
            max_shrink_time: 15_000,
            ..ProptestConfig::default()
        };
        result = TestRunner::new(config).run(&inputs, |input| {
            let began = Instant::now();
            try_one(input);
            let took = began.elapsed();
            assert!(took < MAX_TIME, "it took {took:?}");
            tried.set(tried.get() + 1);
            slowest.set(slowest.get().max(took));
            Ok(())
        });
    }
    let (tried, slowest_ms) = (tried.get(), slowest.get().as_secs_f64() * 1000.0);
    let spent_s = started.elapsed().as_secs_f64();
    let memory_kb = peak_memory_kb("self").unwrap_or(0);
    println!(
        "{name}: {tried} inputs in {spent_s:.1} s, the slowest in {slowest_ms:.0} ms; peak memory {} MB",
        memory_kb / 1000
    );
    if let Err(failure) = result {
        panic!("{name}: {failure}");
    }
    // In an ordinary run other tests use memory of the same process.
    assert!(long_run.is_none() || memory_kb < MAX_MEMORY_KB, "{memory_kb} kB");
    tried
}

/// Whether a character changes what a terminal or a browser shows.
pub(super) fn is_hidden(letter: char) -> bool {
    letter.is_control()
        || matches!(letter, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// Random numbers, from which an input is made; at the end of the tape all are zero, so that a short tape makes a simple
/// input.
#[derive(Clone, Debug)]
pub(crate) struct Tape {
    numbers: Vec<u32>,
    at: usize,
}

/// Tapes of at most `max` numbers.
pub(crate) fn tape(max: usize) -> impl Strategy<Value = Tape> {
    prop::collection::vec(any::<u32>(), 0..max).prop_map(|numbers| Tape { numbers, at: 0 })
}

impl Tape {
    /// The next number.
    pub(crate) fn number(&mut self) -> u32 {
        let number = self.numbers.get(self.at).copied().unwrap_or(0);
        self.at += 1;
        number
    }

    /// A number below `end`, which is not zero.
    pub(crate) fn below(&mut self, end: usize) -> usize {
        self.number() as usize % end
    }

    /// Something that happens `one` time in `of`; never at the end of the tape.
    pub(crate) fn is_hit(&mut self, of: usize) -> bool {
        self.below(of) == of - 1
    }

    /// A number from 0 to 1.
    pub(crate) fn share(&mut self) -> f64 {
        f64::from(self.number()) / f64::from(u32::MAX)
    }

    /// One of some things.
    pub(crate) fn pick<'a, T>(&mut self, from: &'a [T]) -> &'a T {
        &from[self.below(from.len())]
    }
}

#[test]
fn an_attack_finds_a_fault_and_shows_the_simplest_input() {
    let caught = std::panic::catch_unwind(|| {
        attack("a planted fault", 200, 0..100_000_u32, |number| assert!(number < 512));
    });
    let message = caught.expect_err("few of the numbers are below 512");
    let message = message.downcast_ref::<String>().expect("a text");
    assert!(message.contains("minimal failing input: 512"), "{message}");
}

#[test]
fn a_tape_that_has_ended_makes_the_simplest_choices() {
    let mut runner = TestRunner::deterministic();
    let mut full = tape(9).new_tree(&mut runner).expect("a tape").current();
    full.at = full.numbers.len();
    assert_eq!((full.below(7), full.is_hit(2), *full.pick(&["a", "b"])), (0, false, "a"));
    assert!(full.share() < 1e-9);
}
