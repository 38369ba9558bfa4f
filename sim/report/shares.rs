//! The five measured parts whose product is a plan's mean weight.

use crate::study::PlanResult;

/// Which part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Of {
    /// Bites an hour of bait in the water [1/h].
    BitesPerHour,
    /// Hours a session with bait in the water [h].
    HoursInWater,
    /// Share of bites that were landed.
    Landed,
    /// Mean mass of a landed fish [kg].
    FishKg,
    /// Weight at the scales as a share of the weight landed.
    Counted,
}

/// One part of two plans.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    /// Which.
    pub(super) of: Of,
    /// Its values with the one plan and the other.
    pub(super) values: (f64, f64),
    /// Logarithm of their ratio.
    pub(super) ln_ratio: f64,
    /// A smaller logarithm may be chance.
    pub(super) noise_ln: f64,
}

/// The least logarithm worth a sentence, whatever the number of days: two per cent.
const LEAST_LN: f64 = 0.02;

/// The parts of two plans that were both measured.
pub(super) fn parts(one: &PlanResult, other: &PlanResult, days: u32) -> Vec<Part> {
    let values = |of| value(one, of).zip(value(other, of));
    // Means over days of counts vary at least about as counts do: with n in all, a logarithm by 1/√n. Twice
    // that for the difference of the two is taken as what chance can do. The mass of a fish varies by less
    // than its mean, so the same bound serves; a share landed, p, by √((1 − p)/(p n)).
    let total = |mean: f64| (mean * f64::from(days)).max(1.0);
    let counts = 2.0 * (1.0 / total(one.bites.mean) + 1.0 / total(other.bites.mean)).sqrt();
    [
        (Of::BitesPerHour, counts),
        (Of::HoursInWater, 0.0),
        (
            Of::Landed,
            values(Of::Landed).map_or(0.0, |(p, q)| {
                counts * ((1.0 - p.min(q)) / p.min(q).max(0.01)).max(0.0).sqrt()
            }),
        ),
        (Of::FishKg, counts),
        (Of::Counted, 0.0),
    ]
    .into_iter()
    .filter_map(|(of, noise_ln)| {
        let (x, y) = values(of)?;
        (x > 0.0 || y > 0.0).then(|| Part {
            of,
            values: (x, y),
            ln_ratio: (x / y).ln(),
            noise_ln: noise_ln.max(LEAST_LN),
        })
    })
    .collect()
}

/// One part of one plan, if it was measured.
fn value(plan: &PlanResult, of: Of) -> Option<f64> {
    let rate_per_h = plan.swim.bites_per_hour_in_water;
    let value = match of {
        Of::BitesPerHour => rate_per_h,
        Of::HoursInWater if rate_per_h > 0.0 => plan.bites.mean / rate_per_h,
        Of::HoursInWater => plan.time_share.waiting * plan.curve.last()?.minute / 60.0,
        Of::Landed => plan.fish.mean / plan.bites.mean,
        Of::FishKg if plan.fish.mean > 0.0 => plan.swim.fish_kg,
        Of::FishKg => f64::NAN,
        Of::Counted => plan.weight_kg.mean / (plan.fish.mean * plan.swim.fish_kg),
    };
    value.is_finite().then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::{BaitKg, Count, CurvePoint, Mean, Swim, TimeShare, WeightKg};

    /// A plan of which nothing is known but what its weight is made of.
    fn plan(bites: f64, per_h: f64, fish: f64, fish_kg: f64, kg: f64) -> PlanResult {
        let count = |mean| Count { mean, p10: 0.0, p50: mean, p90: mean };
        PlanResult {
            name: String::new(),
            weight_kg: WeightKg { mean: kg, se: 0.1, p10: kg, p50: kg, p90: kg },
            fish: count(fish),
            bites: Mean { mean: bites },
            lost: Mean { mean: bites - fish },
            casts: Mean { mean: 50.0 },
            bait_kg: BaitKg { mean: 1.0, p90: 1.0 },
            by_shoal: Vec::new(),
            time_share: TimeShare {
                casting: 0.3,
                waiting: 0.7,
                playing: 0.0,
                rebaiting: 0.0,
                feeding: 0.0,
                other: 0.0,
            },
            best_share: 0.5,
            swim: Swim {
                fish_on_line: 1.0,
                fish_up: 0.0,
                hookbait_share_of_mouthfuls: 0.1,
                taken_share: 0.5,
                hookbait_there_share: 0.9,
                bites_per_hour_in_water: per_h,
                fish_kg,
                scared: 1.0,
                arrived: 9.0,
                snags: 0.0,
                events: 99.0,
            },
            rules: Vec::new(),
            curve: vec![CurvePoint { minute: 300.0, mean_kg: kg, p10_kg: kg, p90_kg: kg }],
        }
    }

    #[test]
    fn the_parts_make_up_the_whole_difference() {
        // Nothing in common: also the share that counted differs, 40 of 41.25 kg and all of 9.1 kg.
        let one = plan(30.0, 10.0, 27.5, 1.5, 40.0);
        let other = plan(9.0, 2.1, 7.0, 1.3, 9.1);
        let found = parts(&one, &other, 100);
        assert_eq!(found.len(), 5);
        let sum: f64 = found.iter().map(|part| part.ln_ratio).sum();
        let whole = (40.0_f64 / 9.1).ln();
        assert!((sum - whole).abs() < 1e-12, "{sum} is not {whole}");
    }

    #[test]
    fn a_plan_against_itself_has_no_parts_that_differ() {
        let one = plan(30.0, 10.0, 27.5, 1.5, 40.0);
        for part in parts(&one, &one, 100) {
            assert!(part.ln_ratio.abs() < 1e-15 && part.noise_ln > part.ln_ratio, "{part:?}");
        }
    }
}
