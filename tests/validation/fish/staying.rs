//! How long a fish stays where it feeds, and whether it turns back to it.

use sim::engine::Time;
use sim::fish::{FeedingMemory, FishParams};

use crate::evidence::near;

/// V-386: a fish gives up after T ln(r (1 + a s)/(g (1 + w ρ))): sooner the greater the risk ρ of the place, later the more surely
/// it smells food there, s.
///
/// The form by hand, from a remembered intake r of five times that elsewhere, g. Times of the clock are whole microseconds.
#[test]
fn danger_shortens_a_visit_and_scent_lengthens_it() {
    let params = FishParams { arrival_optimism: 5.0, ..FishParams::central() };
    assert!(params.risk_price > 0.0 && params.scent_arousal > 0.0, "V-386: both count in the book");
    let arrived = Time::from_seconds(900.0);
    let mut forage = FeedingMemory::new(&params);
    forage.arrive(arrived, &params);
    let stays_s = |risk, scent| forage.gives_up_at(risk, scent, &params).seconds_since(arrived);
    for (risk, scent) in [(0.0, 0.0), (0.4, 0.0), (0.0, 0.5), (0.7, 1.0), (0.2, 0.1)] {
        let (price, arousal) = (params.risk_price * risk, params.scent_arousal * scent);
        let form = params.memory_s * f64::ln(5.0 * (1.0 + arousal) / (1.0 + price));
        near(&format!("V-386 stays at {risk}, {scent} [s]"), stays_s(risk, scent), form, 1e-6);
    }
    assert!(stays_s(0.5, 0.0) < stays_s(0.0, 0.0), "V-386: danger shortens");
    assert!(stays_s(0.0, 0.5) > stays_s(0.0, 0.0), "V-386: scent lengthens");
}

/// V-387: a fish turns back to the line where it fed with chance p (1 − 1/V), V what it expects there over what it expects
/// elsewhere; never where it expects no more than elsewhere.
///
/// A fish that has learned nothing expects the book's optimism on arrival; one that found nothing for long expects nothing.
#[test]
fn fish_turn_back_where_they_expect_more_than_elsewhere() {
    for optimism in [1.0, 2.0, 6.0] {
        let params =
            FishParams { arrival_optimism: optimism, return_share: 0.6, ..FishParams::central() };
        let mut forage = FeedingMemory::new(&params);
        let chance = 0.6 * (1.0 - 1.0 / optimism);
        assert!((forage.return_chance(&params) - chance).abs() < 1e-12, "V-387 at {optimism}");
        forage.arrive(Time::ZERO, &params);
        forage.learn(Time::from_seconds(100.0 * params.learning_time_s), &params);
        assert!(forage.return_chance(&params) <= 0.0, "V-387: it found nothing, at {optimism}");
    }
}
