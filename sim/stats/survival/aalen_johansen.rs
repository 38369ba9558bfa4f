//! The estimate of Aalen & Johansen: the share in each of several states as time goes on.

/// A stretch of time that one subject spent in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spell {
    /// When observation of it began; at risk just after this time.
    pub entry: f64,
    /// When observation of it ended.
    pub exit: f64,
    /// The state, counted from 0.
    pub from: usize,
    /// The state that followed. `None` if observation ended instead.
    pub to: Option<usize>,
}

/// The shares in each state just after a time.
#[derive(Clone, Debug, PartialEq)]
pub struct Occupation {
    /// A time at which at least one subject changed state.
    pub time: f64,
    /// Share in each state; they add up to 1.
    pub shares: Vec<f64>,
}

/// Shares in each state after every time of a change, from the shares `start` at time 0.
///
/// P(t) = P(0) Π (I + dA), where the entry of dA for a change from g to h is the number of these changes at a time over
/// the number that were in g just before it.
///
/// - **Source** Aalen & Johansen 1978 (textbook form).
/// - **Checked by** V-304 (worked example with late entry and returns).
///
/// # Panics
///
/// If a spell names a state that `start` does not have.
pub fn state_occupation(spells: &[Spell], start: &[f64]) -> Vec<Occupation> {
    let mut by_entry: Vec<&Spell> = spells.iter().collect();
    let mut by_exit = by_entry.clone();
    by_entry.sort_by(|a, b| a.entry.total_cmp(&b.entry));
    by_exit.sort_by(|a, b| a.exit.total_cmp(&b.exit));
    let mut entering = by_entry.into_iter().peekable();
    let mut at_risk = vec![0_u64; start.len()];
    let mut shares = start.to_vec();
    let mut occupations = Vec::new();
    for tied in by_exit.chunk_by(|a, b| a.exit.total_cmp(&b.exit).is_eq()) {
        let time = tied[0].exit;
        while let Some(spell) = entering.next_if(|spell| spell.entry < time) {
            at_risk[spell.from] += 1;
        }
        let before = shares.clone();
        for spell in tied {
            if let Some(to) = spell.to {
                let moved = before[spell.from] / at_risk[spell.from] as f64;
                shares[spell.from] -= moved;
                shares[to] += moved;
            }
        }
        if tied.iter().any(|spell| spell.to.is_some()) {
            occupations.push(Occupation { time, shares: shares.clone() });
        }
        // A spell without length was never counted as entered before this time.
        tied.iter().filter(|spell| spell.entry < time).for_each(|spell| at_risk[spell.from] -= 1);
    }
    occupations
}
