//! Tables, verdicts, reasons and the way numbers are written.

use sim::report::{
    clock, comparison_table, duration, length, percent, reasons, vary_table, verdict, weight,
    weight_range,
};
use sim::scenario::Units::{Imperial, Metric};
use sim::study::Comparison;

use super::sample::{comparison, curve, four, plan, two};

/// Kilograms in an ounce.
const OZ_KG: f64 = 0.453_592_37 / 16.0;

#[test]
fn sixteen_ounces_are_carried_into_a_pound() {
    for (ounces, words) in [
        (0.0, "0 lb"),
        (0.4, "0 lb"),
        (9.0, "9 oz"),
        (15.4, "15 oz"),
        (15.6, "1 lb 0 oz"),
        (16.0, "1 lb 0 oz"),
        (62.0 * 16.0 + 5.0, "62 lb 5 oz"),
        (62.0 * 16.0 + 15.7, "63 lb 0 oz"),
        (-(2.0 * 16.0 + 1.0), "−2 lb 1 oz"),
        (-0.3, "0 lb"),
    ] {
        assert_eq!(weight(ounces * OZ_KG, Imperial), words, "{ounces} oz");
    }
    for ounces in 0..4000 {
        let words = weight(f64::from(ounces) * OZ_KG, Imperial);
        assert!(!words.contains("16 oz"), "{ounces} oz became {words}");
    }
}

#[test]
fn kilograms_keep_three_figures_or_so() {
    for (kg, words) in [
        (28.26, "28.3 kg"),
        (9.994, "9.99 kg"),
        (9.996, "10.0 kg"),
        (1.416, "1.42 kg"),
        (-0.5, "−0.50 kg"),
        (-0.001, "0 kg"),
        (f64::NAN, "–"),
        (f64::INFINITY, "–"),
    ] {
        assert_eq!(weight(kg, Metric), words, "{kg} kg");
    }
    assert_eq!(weight_range(18.6, 38.14, Metric), "18.6–38.1 kg");
    assert_eq!(weight_range(18.6, 38.14, Imperial), "41–84 lb");
    assert_eq!(
        weight_range(1.0, 3.0, Imperial),
        "2 lb 3 oz–6 lb 10 oz",
        "small weights keep their ounces"
    );
}

#[test]
fn times_and_lengths_read_as_they_are_said() {
    for (s, words) in [
        (45.0, "45 s"),
        (120.0, "2 min"),
        (150.0, "2 min 30 s"),
        (3599.6, "1 h"),
        (5400.0, "1 h 30 min"),
        (18_000.0, "5 h"),
        (7199.0, "2 h"),
    ] {
        assert_eq!(duration(s), words, "{s} s");
    }
    for (t_s, words) in
        [(0.0, "0:00:00"), (59.999, "0:00:59"), (3_729.2, "1:02:09"), (36_000.0, "10:00:00")]
    {
        assert_eq!(clock(t_s), words, "{t_s} s");
    }
    assert_eq!(length(28.0, Metric), "28 m");
    assert_eq!(length(1.42, Metric), "1.4 m");
    assert_eq!(length(28.0, Imperial), "31 yd");
    assert_eq!(percent(0.78), "78 %");
    assert_eq!(percent(0.001), "under 1 %");
    assert_eq!(percent(0.999), "over 99 %");
    assert_eq!((percent(0.0), percent(1.0)), ("0 %".into(), "100 %".into()));
}

#[test]
fn the_table_ranks_plans_and_says_in_words_which_are_too_close() {
    let table = comparison_table(&four(), Imperial);
    let row = |name: &str| {
        let line = table.lines().find(|line| line.contains(name));
        line.map(str::to_owned).unwrap_or_default()
    };
    let at = |name: &str| table.find(name);
    // 28.5 kg, 28.2 kg, 21.0 kg, 20.9 kg, each difference ± 1.1 kg.
    assert!(
        at("two-minutes") < at("four-minutes") && at("four-minutes") < at("one-minute"),
        "heaviest first:\n{table}"
    );
    assert!(row("two-minutes").contains("62 lb 13 oz"), "{table}");
    assert!(row("two-minutes").contains("best mean"), "{table}");
    assert!(row("four-minutes").contains("too close"), "{table}");
    assert!(row("ten-minutes").contains("behind"), "{table}");
    assert!(table.contains("400 days"), "{table}");
}

#[test]
fn no_line_of_a_table_is_longer_than_a_hundred_characters() {
    let long = "a-plan-with-a-name-that-goes-on-and-on-until-nobody-reads-on";
    let comparisons = [
        four(),
        comparison(vec![plan(long, 7.0, 0.7, 11.3), plan("b", 700.0, 0.7, 9.0)], 1.0),
        comparison(Vec::new(), 1.0),
        comparison(vec![plan("żółw <&> 鯉", 0.0, 0.7, 1.0)], 1.0),
    ];
    for comparison in &comparisons {
        for units in [Imperial, Metric] {
            let table = comparison_table(comparison, units);
            for line in table.lines() {
                let wide = line.chars().count();
                assert!(wide <= 100, "{wide} characters: {line}\n{table}");
            }
        }
    }
    let table = comparison_table(&comparisons[1], Imperial);
    assert!(table.contains(" 549 lb 5 oz "), "only names are folded:\n{table}");
    for line in vary_table(&curve(true), Imperial).lines() {
        assert!(line.chars().count() <= 100, "{line}");
    }
}

#[test]
fn a_verdict_states_difference_interval_and_days() {
    let says = verdict(&two(), Metric);
    // 7.4 × 0.62 × 5 × 0.9 × 1.38 − 4.4 × 0.86 × 5 × 0.9 × 1.35 = 28.49 − 22.99 kg.
    assert_eq!(
        says,
        ["two-minutes beats ten-minutes by 5.50 kg a session (95 % interval 4.10 kg to 6.90 kg); \
             ahead on 78 % of the same 400 days, level on 2 %."]
    );
}

#[test]
fn an_interval_that_holds_zero_is_too_close_to_call() {
    let says = verdict(&comparison(two().plans, 5.6), Metric);
    assert_eq!(says.len(), 1);
    assert!(says[0].starts_with("Too close to call: "), "{}", says[0]);
    assert!(says[0].contains("−0.10 kg to 11.1 kg"), "{}", says[0]);
    assert!(!says[0].contains("beats"), "{}", says[0]);
}

#[test]
fn a_plan_that_wins_in_the_mean_but_on_few_days_is_not_flattered() {
    let mut compared = two();
    compared.pairs[0].a_ahead_share = 0.55;
    let says = verdict(&compared, Metric);
    assert!(says[0].contains("yet ahead on only 43 %"), "{}", says[0]);
}

#[test]
fn plans_that_never_differ_are_said_to_be_the_same() {
    let mut compared = comparison(vec![plan("a", 7.0, 0.7, 1.0), plan("b", 7.0, 0.7, 1.0)], 0.0);
    compared.pairs[0].tie_share = 1.0;
    compared.pairs[0].a_ahead_share = 0.0;
    assert_eq!(
        verdict(&compared, Metric),
        ["No difference: a and b weighed the same on every one of the same 400 days."]
    );
    assert_eq!(reasons(&compared, Metric).len(), 1);
}

#[test]
fn nothing_is_claimed_without_an_interval() {
    let mut compared = two();
    compared.pairs[0].difference_kg.low95 = f64::NEG_INFINITY;
    compared.pairs[0].difference_kg.high95 = f64::INFINITY;
    let says = verdict(&compared, Metric);
    assert!(says[0].contains("too few days for an interval"), "{}", says[0]);
    assert!(says[0].starts_with("Too close"), "{}", says[0]);
}

#[test]
fn reasons_name_what_differs_most_and_what_speaks_against() {
    let says = reasons(&two(), Imperial);
    // Weight 28.49 : 22.99; bites an hour 7.4 : 4.4 (+ 68 %), hours in the water 3.1 : 4.3 (− 28 %), landed
    // and mass of fish about the same.
    assert_eq!(
        says,
        [
            "two-minutes had 7.4 bites for each hour with bait in the water, ten-minutes 4.4: by itself \
             68 % more weight. In its swim: fish feeding on the line 3.0 against 1.8.",
            "Against that, two-minutes had bait in the water for 3 h 6 min of the session, ten-minutes \
             for 4 h 18 min: by itself 28 % less weight."
        ]
    );
}

#[test]
fn a_difference_that_chance_could_make_is_not_a_reason() {
    // Fish 3 % heavier on 2 days with some 25 bites each: chance alone makes √(2/50) = 20 %.
    let mut few = comparison(vec![plan("a", 7.0, 0.7, 1.03), plan("b", 7.0, 0.7, 1.0)], 0.1);
    few.days = 2;
    let says = reasons(&few, Metric);
    assert!(says[0].contains("no one part"), "{says:?}");
    // On 40,000 days it makes a tenth of a per cent.
    few.days = 40_000;
    let says = reasons(&few, Metric);
    assert!(says[0].contains("1.03 kg with a, 1.00 kg with b"), "{says:?}");
}

#[test]
fn there_are_no_reasons_where_nothing_is_clear() {
    let says = reasons(&comparison(two().plans, 9.0), Metric);
    assert_eq!(says.len(), 1);
    assert!(says[0].contains("no difference to give reasons for"));
}

#[test]
fn a_plan_without_a_bite_breaks_no_sentence() {
    let none = comparison(vec![plan("a", 7.0, 0.7, 1.0), plan("b", 0.0, 0.7, 1.0)], 0.1);
    let all: Vec<String> = [verdict(&none, Imperial), reasons(&none, Imperial)].concat();
    assert!(all.len() >= 2, "{all:?}");
    for says in &all {
        assert!(!says.contains("NaN") && !says.contains("inf"), "not a number in: {says}");
    }
    assert!(all.iter().any(|says| says.contains("a had 7.0 bites")), "{all:?}");
}

#[test]
fn an_empty_comparison_says_nothing() {
    let empty: Comparison = comparison(Vec::new(), 1.0);
    assert!(verdict(&empty, Metric).is_empty());
    assert!(reasons(&empty, Metric).is_empty());
    let one = comparison(vec![plan("alone", 5.0, 0.7, 1.0)], 1.0);
    assert!(verdict(&one, Metric).is_empty());
    assert!(reasons(&one, Metric).is_empty());
}

#[test]
fn a_swept_table_marks_the_best_and_its_equals_in_words() {
    let table = vary_table(&curve(true), Metric);
    let row = |label: &str| {
        let line = table.lines().find(|line| line.trim_start().starts_with(label));
        line.map(str::to_owned).unwrap_or_default()
    };
    assert!(row("2 min 30 s").contains("best mean"), "{table}");
    assert!(row("3 min").contains("within 2 %"), "{table}");
    assert!(!row("5 min").contains("within"), "{table}");
}

#[test]
fn a_value_without_effect_has_no_best() {
    let mut flat = curve(true);
    for point in &mut flat.points {
        point.mean_kg = 20.0;
    }
    let table = vary_table(&flat, Metric);
    assert!(!table.contains("best mean"), "{table}");
    assert!(table.contains("makes no difference to this plan"), "{table}");
}
