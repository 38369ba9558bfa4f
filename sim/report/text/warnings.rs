//! Warnings of a comparison in sentences.

use crate::report::format::{counted, grouped, weight, weight_limit};
use crate::scenario::Units;
use crate::study::Warning;

/// A warning in a sentence or two: what it is, and what to do about it.
pub fn warning_text(warning: &Warning, units: Units) -> String {
    match warning {
        Warning::FewDays { days, enough_days } => format!(
            "Only {days} days were simulated, so all ranges are rough, those of the worst and best days most. Simulate \
             {enough_days} or more before you trust a close result (--days)."
        ),
        Warning::Unclear { best, others, days_needed, loss_share } => {
            let advice = match days_needed {
                Some(days) => {
                    let days = grouped(days.round() as u64);
                    format!("If the lead stays as it is, about {days} days would decide (--days)")
                }
                None => "It would take too many days to decide".to_owned(),
            };
            let loss = if *loss_share < 0.001 {
                "under 0.1 %".to_owned()
            } else {
                format!("{:.1} %", 100.0 * loss_share)
            };
            format!(
                "{best} is not clearly better than {}. {advice}. Choosing it now costs {loss} of its weight on average, \
                 counting the chance that it is the wrong choice.",
                others.join(", ")
            )
        }
        Warning::RangeLimit { key, value, unit, range: [low, high] } => {
            let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
            format!(
                "{key} is fixed at {value}{unit}, a limit of its range ({low} to {high}); nothing is known beyond it. \
                 Check whether the verdict stays the same well inside the range."
            )
        }
        Warning::NoFish { plan } => format!(
            "{plan} landed no fish on any day. Check its line, hookbait and recast, or replay one of its days."
        ),
        Warning::SilentRules { plan, rules } => format!(
            "{plan} did not use {} {} on any day. Make it easier to trigger, or remove it.",
            if rules.len() == 1 { "its rule" } else { "its rules" },
            rules.join(", ")
        ),
        Warning::OverKeepnet { plan, weight_kg, is_average, nets, limit_kg } => {
            let often = if *is_average { "on an average day" } else { "or more on one day in ten" };
            let (lands, limit) = match units {
                Units::Imperial => (weight(*weight_kg, units), weight_limit(*limit_kg, units)),
                Units::Metric => (format!("{weight_kg:.1} kg"), format!("{limit_kg:.1} kg")),
            };
            let nets = if *nets == 1 { "1 net".to_owned() } else { format!("{nets} nets") };
            format!(
                "{plan} lands {lands} {often}, more than {nets} of {limit} each may hold. Take more nets, or weigh in \
                 during the match."
            )
        }
        Warning::BaitUsedUp { plan, limit_kg } => {
            let limit = match units {
                Units::Imperial => weight_limit(*limit_kg, units),
                Units::Metric => format!("{limit_kg:.2} kg"),
            };
            format!(
                "{plan} uses up its {limit} of bait on at least one day in ten, and then fishes without feed. Feed less, \
                 or less often."
            )
        }
        Warning::WarmWater { warm_days, days, limit_c, warmest_c } => format!(
            "On {} of {} the water is above {limit_c} °C (up to {warmest_c:.1} °C). In warm water, \
             being played and kept in a net harms fish most. Fish on such a day only if the fishery allows it, \
             and follow its rule on keepnets.",
            grouped(u64::from(*warm_days)),
            counted(*days, "day")
        ),
        Warning::LowOxygen { low_days, days, limit_mg_l, lowest_mg_l } => format!(
            "On {} of {} the water holds less than {limit_mg_l} mg/L of oxygen (down to \
             {lowest_mg_l:.1} mg/L), too little for fish. Do not fish on such a day, and tell the fishery.",
            grouped(u64::from(*low_days)),
            counted(*days, "day")
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn water_without_oxygen_allows_no_exception() {
        let low = Warning::LowOxygen { low_days: 3, days: 9, limit_mg_l: 5.0, lowest_mg_l: 2.0 };
        let words = warning_text(&low, Units::Metric);
        assert!(words.ends_with("Do not fish on such a day, and tell the fishery."), "{words}");
    }

    #[test]
    fn weights_are_in_the_units_of_the_scenario() {
        let keepnet = Warning::OverKeepnet {
            plan: "steady".to_owned(),
            weight_kg: 47.4,
            is_average: true,
            nets: 2,
            limit_kg: 50.0 * 0.453_592_37,
        };
        assert_eq!(
            warning_text(&keepnet, Units::Metric),
            "steady lands 47.4 kg on an average day, more than 2 nets of 22.7 kg each may hold. Take more nets, or \
             weigh in during the match."
        );
        assert_eq!(
            warning_text(&keepnet, Units::Imperial),
            "steady lands 104\u{a0}lb\u{a0}8\u{a0}oz on an average day, more than 2 nets of 50\u{a0}lb each may hold. \
             Take more nets, or weigh in during the match."
        );
        let bait = Warning::BaitUsedUp { plan: "steady".to_owned(), limit_kg: 2.0 };
        assert!(
            warning_text(&bait, Units::Metric).starts_with("steady uses up its 2.00 kg of bait")
        );
        let imperial = "steady uses up its 4\u{a0}lb\u{a0}7\u{a0}oz of bait";
        assert!(warning_text(&bait, Units::Imperial).starts_with(imperial));
    }
}
