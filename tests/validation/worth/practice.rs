//! V-360: the practice that `learn --next` recommends on waters of all three kinds, with the number of fish in doubt.

use sim::study::{Control, NextSpec, PracticeKind, PracticeWorth, what_to_try_next};

use super::choices::{Effort, fitted_leads_kg, true_leads_kg};
use super::practised::{PractisedWaters, compared_lead_kg};
use super::tally::Tally;
use super::waters::{FAMILY, SESSION_S, scenario};

/// Practices on each water.
const PRACTICES: usize = 2;

/// The practice that is recommended, both plans for half the time each, and the favourite plan.
const TRIED: [&str; 3] = ["recommended", "both plans", "favourite"];

/// V-360.
#[test]
#[ignore = "three hundred thousand sessions: five minutes of two cores"]
fn recommended_practice_is_no_worse_than_the_favourite_on_any_kind_of_water() {
    let effort = Effort { logs: 1200, waters: 100, days: 120, true_days: 120 };
    let mut all: [Tally; 2] = Default::default();
    for (name, text) in FAMILY {
        let scenario = scenario(name, text);
        let spec = NextSpec {
            scenario: &scenario,
            seed: 1,
            waters: 300,
            practice_s: SESSION_S,
            intervals_s: &[120.0, 300.0, 600.0],
        };
        let next = what_to_try_next(&spec, Control::default()).expect("two plans");
        let of_kind = |kind| {
            let mut worths = next.practices.iter();
            worths.find(|worth| worth.practice.kind == kind).expect("it is always weighed")
        };
        let tried: [&PracticeWorth; 3] = [
            &next.practices[0],
            of_kind(PracticeKind::BothPlans),
            of_kind(PracticeKind::Favourite),
        ];
        for (what, worth) in TRIED.iter().zip(tried) {
            println!(
                "{name}, {what}: {:?} {} every {} s settles {:.0} ± {:.0} %",
                worth.practice.kind,
                worth.practice.lines.join(", then "),
                worth.practice.recast_s,
                100.0 * worth.settled_share,
                100.0 * worth.settled_se,
            );
        }
        let unfitted_kg = compared_lead_kg(&scenario, 400);
        let mut truth_kg: Vec<f64> = Vec::new();
        let leads_kg = tried.map(|worth| {
            let practice = vec![worth.practice.plan.clone(); PRACTICES];
            let waters = PractisedWaters::new(&scenario, &practice, 360, effort.logs);
            if truth_kg.is_empty() {
                truth_kg = true_leads_kg(&waters, &effort);
            }
            fitted_leads_kg(&waters, PRACTICES, unfitted_kg, &effort)
        });
        println!("{name}: {}", Tally::described(&truth_kg, unfitted_kg));
        for (place, all) in all.iter_mut().enumerate() {
            let mut here = Tally::default();
            for (water, &truth_kg) in truth_kg.iter().enumerate() {
                here.add(truth_kg, leads_kg[place][water], leads_kg[2][water]);
                all.add(truth_kg, leads_kg[place][water], leads_kg[2][water]);
            }
            println!("{name}, {} against favourite: {}", TRIED[place], here.sentence());
            let [saved_kg, error_kg] = here.saved_kg();
            // Chance alone exceeds three standard errors once in 700.
            assert!(saved_kg > -3.0 * error_kg, "{name}: {saved_kg} kg ± {error_kg}");
        }
    }
    for (all, what) in all.iter().zip(TRIED) {
        println!("all, {what} against favourite: {}", all.sentence());
    }
    let [saved_kg, error_kg] = all[0].saved_kg();
    assert!(saved_kg > 2.0 * error_kg, "{saved_kg} kg ± {error_kg}");
}
