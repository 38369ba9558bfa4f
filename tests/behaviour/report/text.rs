//! Tables, verdicts, reasons and formatted numbers.

use sim::report::{
    aims_table, clock, comparison_table, comparison_table_within, duration, length, percent,
    reasons, response_table, superiority_table, verdict, weight, weight_range,
};
use sim::scenario::Units::{Imperial, Metric};
use sim::study::Comparison;
use unicode_width::UnicodeWidthStr;

use super::sample::{comparison, curve, four, plan, two, unbroken};

/// Kilograms in an ounce.
const OZ_KG: f64 = 0.453_592_37 / 16.0;

#[test]
fn sixteen_ounces_become_a_pound() {
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
        assert_eq!(weight(ounces * OZ_KG, Imperial), unbroken(words), "{ounces} oz");
    }
    for ounces in 0..4000 {
        let words = weight(f64::from(ounces) * OZ_KG, Imperial);
        assert!(!words.contains(&unbroken("16 oz")), "{ounces} oz became {words}");
    }
}

#[test]
fn kilograms_keep_about_three_figures() {
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
        assert_eq!(weight(kg, Metric), unbroken(words), "{kg} kg");
    }
    assert_eq!(weight_range(18.6, 38.14, Metric), unbroken("18.6–38.1 kg"));
    assert_eq!(weight_range(18.6, 38.14, Imperial), unbroken("41–84 lb"));
    assert_eq!(
        weight_range(1.0, 3.0, Imperial),
        "2\u{a0}lb\u{a0}3\u{a0}oz–6\u{a0}lb\u{a0}10\u{a0}oz",
        "small weights keep their ounces"
    );
}

#[test]
fn times_and_lengths_are_written_as_people_say_them() {
    for (s, words) in [
        (45.0, "45 s"),
        (120.0, "2 min"),
        (150.0, "2 min 30 s"),
        (3599.6, "1 h"),
        (5400.0, "1 h 30 min"),
        (18_000.0, "5 h"),
        (7199.0, "2 h"),
    ] {
        assert_eq!(duration(s), unbroken(words), "{s} s");
    }
    for (t_s, words) in
        [(0.0, "0:00:00"), (59.999, "0:00:59"), (3_729.2, "1:02:09"), (36_000.0, "10:00:00")]
    {
        assert_eq!(clock(t_s), words, "{t_s} s");
    }
    assert_eq!(length(28.0, Metric), unbroken("28 m"));
    assert_eq!(length(1.42, Metric), unbroken("1.4 m"));
    assert_eq!(length(28.0, Imperial), unbroken("31 yd"));
    assert_eq!(percent(0.78), unbroken("78 %"));
    assert_eq!(percent(0.001), unbroken("under 1 %"));
    assert_eq!(percent(0.999), unbroken("over 99 %"));
    assert_eq!((percent(0.0), percent(1.0)), (unbroken("0 %"), unbroken("100 %")));
}

#[test]
fn the_table_has_the_expected_layout_with_the_heaviest_plan_first() {
    // 28.5, 28.2, 21.0 and 20.9 kg; the last two differ by 0.1 kg.
    let imperial = "\
plan               weight     range  fish   avg fish  casts       bait  best on
───────────────────────────────────────────────────────────────────────────────
two-minutes   62 lb 13 oz  35–94 lb  20.6  3 lb 1 oz     60  4 lb 3 oz     50 %
four-minutes   62 lb 3 oz  34–93 lb  20.6  3 lb 0 oz     60  4 lb 3 oz     50 %
one-minute     46 lb 5 oz  25–69 lb  15.4  3 lb 0 oz     60  4 lb 3 oz     50 %
ten-minutes    46 lb 1 oz  25–69 lb  15.5  3 lb 0 oz     60  4 lb 3 oz     50 %
Means of 400 days, heaviest first.
Range: eight days in ten, unknowns about fish included.
Best on: share of days with the heaviest net.";
    let table = comparison_table_within(&four(), Imperial, 80);
    assert_eq!(table, unbroken(imperial), "got:\n{table}");
    let small = comparison(vec![plan("a", 1.0, 0.7, 1.0), plan("b", 0.03, 0.7, 1.0)], 1.0);
    let metric = "\
plan   weight      range  fish  avg fish  casts     bait  best on
─────────────────────────────────────────────────────────────────
a     3.15 kg  1.73–4.72   3.1   1.00 kg     60  1.90 kg     50 %
b     0.09 kg  0.05–0.14  0.09   1.00 kg     60  1.90 kg     50 %
Means of 400 days, heaviest first.
Range: eight days in ten, unknowns about fish included.
Best on: share of days with the heaviest net.";
    let table = comparison_table_within(&small, Metric, 66);
    assert_eq!(table, unbroken(metric), "got:\n{table}");
}

#[test]
fn small_weights_keep_their_ounces_and_never_become_zero() {
    let small = comparison(vec![plan("a", 1.0, 0.7, 1.0)], 1.0);
    // 3.15 kg; eight days in ten are between 1.73 and 4.72 kg.
    let table = comparison_table(&small, Imperial);
    assert!(
        table.contains(
            "6\u{a0}lb\u{a0}15\u{a0}oz  3\u{a0}lb\u{a0}13\u{a0}oz–10\u{a0}lb\u{a0}7\u{a0}oz"
        ),
        "{table}"
    );
    let beside = comparison(vec![plan("a", 9.0, 0.7, 1.0), plan("b", 0.05, 0.7, 1.0)], 1.0);
    let table = comparison_table(&beside, Imperial);
    assert!(
        table.contains(&unbroken("62 lb 8 oz")) && table.contains(&unbroken(" 6 oz ")),
        "0.16 kg is not 0 lb:\n{table}"
    );
}

#[test]
fn a_table_never_breaks_a_number_and_breaks_a_name_only_if_it_does_not_fit() {
    let thirty = ["island-first-then-the-open-bar", "a-plan-of-thirty-characters-ab"];
    let long = "a-plan-with-a-name-that-goes-on-and-on-until-nobody-reads-on";
    let comparisons = [
        four(),
        comparison(vec![plan(thirty[0], 7.0, 0.7, 1.3), plan(thirty[1], 6.0, 0.7, 1.3)], 1.0),
        comparison(vec![plan(long, 7.0, 0.7, 11.3), plan("b", 700.0, 0.7, 9.0)], 1.0),
        comparison(Vec::new(), 1.0),
        comparison(vec![plan("żółw <&> 鯉鯉鯉", 0.0, 0.7, 1.0)], 1.0),
        comparison((0..8).map(|k| plan(&format!("same-{k}"), 7.0, 0.7, 1.3)).collect(), 0.0),
    ];
    for comparison in &comparisons {
        for units in [Imperial, Metric] {
            for columns in [60, 80, 100] {
                let table = comparison_table_within(comparison, units, columns);
                for line in table.lines() {
                    let wide = line.width();
                    assert!(wide <= columns, "{wide} columns of {columns}: {line}\n{table}");
                }
            }
        }
    }
    for (units, columns) in [(Imperial, 80), (Imperial, 100), (Metric, 80), (Metric, 100)] {
        let table = comparison_table_within(&comparisons[1], units, columns);
        for name in thirty {
            assert!(table.contains(name), "{name} is broken at {columns}:\n{table}");
        }
        assert_eq!(table.contains("casts"), columns == 100, "{table}");
    }
    let table = comparison_table(&comparisons[2], Imperial);
    assert!(
        table.contains(&unbroken("  43750 lb 12 oz  24063–65626 lb  ")),
        "only names are folded:\n{table}"
    );
    assert!(
        table.lines().any(|line| line.starts_with("a-plan-with-a-name-that-")),
        "names are folded after a hyphen, and keep it:\n{table}"
    );
}

#[test]
fn a_verdict_gives_difference_interval_and_days() {
    let texts = verdict(&two(), Metric);
    // 7.4 × 0.62 × 5 × 0.9 × 1.38 − 4.4 × 0.86 × 5 × 0.9 × 1.35 = 28.49 − 22.99 kg.
    assert_eq!(
        texts,
        [unbroken(
            "two-minutes beats ten-minutes by 5.50 kg a session (95 % sure: 4.10 kg to 6.90 kg); \
             ahead on 78 % of the same 400 days, level on 2 %."
        )]
    );
}

#[test]
fn an_interval_that_holds_zero_is_too_close_to_call() {
    let texts = verdict(&comparison(two().plans, 5.6), Metric);
    assert_eq!(texts.len(), 1);
    assert!(texts[0].starts_with("Too close to call: "), "{}", texts[0]);
    assert!(texts[0].contains(&unbroken("−0.10 kg to 11.1 kg")), "{}", texts[0]);
    assert!(!texts[0].contains("beats"), "{}", texts[0]);
}

#[test]
fn the_wording_of_a_verdict_depends_on_its_interval() {
    // The interval is symmetric; it holds zero once its half-width is the difference itself.
    let gap_kg = two().pairs[0].difference_kg.value.abs();
    for half_kg in [0.0, 0.1, 3.0, gap_kg - 1e-3, gap_kg, gap_kg + 1e-3, 20.0, 1e6] {
        let compared = comparison(two().plans, half_kg);
        let difference = &compared.pairs[0].difference_kg;
        let interval_kg = difference.interval.expect("an interval");
        let clear = interval_kg.low > 0.0 || interval_kg.high < 0.0;
        assert_eq!(clear, half_kg < gap_kg, "± {half_kg} kg");
        for units in [Imperial, Metric] {
            let texts = verdict(&compared, units).concat();
            assert_eq!(texts.contains(" beats "), clear, "± {half_kg} kg: {texts}");
            assert_eq!(texts.contains("Too close to call"), !clear, "± {half_kg} kg: {texts}");
        }
    }
}

#[test]
fn an_interval_that_ends_near_zero_says_on_which_side() {
    let gap_kg = two().pairs[0].difference_kg.value.abs();
    let above = verdict(&comparison(two().plans, gap_kg - 1e-3), Metric);
    assert!(above[0].contains(&unbroken("(95 % sure: just above 0 to ")), "{above:?}");
    let below = verdict(&comparison(two().plans, gap_kg + 1e-3), Metric);
    assert!(below[0].contains(&unbroken("(95 % sure: just below 0 to ")), "{below:?}");
}

#[test]
fn neighbouring_plans_are_compared_only_where_that_adds_information() {
    let plans = |third: f64| {
        vec![plan("a", 9.0, 0.7, 1.0), plan("b", 6.0, 0.7, 1.0), plan("c", third, 0.7, 1.0)]
    };
    // 9 and 6 bites an hour give 28.3 and 18.9 kg, 5.6 give 17.6 kg, each difference ± 1 kg. The intervals against
    // a, 8.4 to 10.4 kg and 9.7 to 11.7 kg, overlap, yet b is clearly ahead of c.
    let near = verdict(&comparison(plans(5.6), 1.0), Metric);
    assert_eq!(near.len(), 3, "{near:#?}");
    assert!(near[2].starts_with("b beats c by "), "{near:#?}");
    // 3 bites an hour give 9.4 kg, so it is already clear that b is far ahead of c.
    let far = verdict(&comparison(plans(3.0), 1.0), Metric);
    assert_eq!(far.len(), 2, "{far:#?}");
}

#[test]
fn a_plan_that_wins_on_average_but_on_few_days_is_described_so() {
    let mut compared = two();
    compared.pairs[0].a_ahead_share = 0.55;
    let texts = verdict(&compared, Metric);
    assert!(texts[0].contains(&unbroken("but ahead on only 43 %")), "{}", texts[0]);
}

#[test]
fn plans_that_never_differ_are_called_the_same() {
    let mut compared = comparison(vec![plan("a", 7.0, 0.7, 1.0), plan("b", 7.0, 0.7, 1.0)], 0.0);
    compared.pairs[0].tie_share = 1.0;
    compared.pairs[0].a_ahead_share = 0.0;
    assert_eq!(
        verdict(&compared, Metric),
        ["a and b are exactly level: the same weight on every one of the same 400 days."]
    );
    assert_eq!(reasons(&compared, Metric).len(), 1);
}

#[test]
fn plans_that_are_certainly_within_the_margin_are_level() {
    let near = vec![plan("a", 7.0, 0.7, 1.0), plan("b", 6.99, 0.7, 1.0)];
    // 22.050 and 22.019 kg, with an interval of ± 0.3 kg: within the margin of 0.5 kg.
    let texts = verdict(&comparison(near, 0.3), Metric);
    assert!(
        texts[0]
            .starts_with(&unbroken("a and b are level: their means differ by less than 0.50 kg")),
        "{texts:?}"
    );
}

#[test]
fn three_kinds_of_superiority_are_shown_together() {
    let (table, notes) = superiority_table(&two(), 80).expect("two plans");
    for words in [
        "two-minutes beats",
        "same day",
        "different days",
        "on average",
        &unbroken("78 % ("),
        "2.5×",
    ] {
        assert!(table.contains(words), "{words} is missing:\n{table}");
    }
    assert!(table.lines().all(|line| line.width() <= 80), "{table}");
    assert_eq!(notes.len(), 5);
    assert!(superiority_table(&comparison(vec![plan("a", 7.0, 0.7, 1.0)], 1.0), 80).is_none());
}

#[test]
fn nothing_is_claimed_without_an_interval() {
    let mut compared = two();
    compared.pairs[0].difference_kg.interval = None;
    compared.pairs[0].verdict = sim::stats::Verdict::Inconclusive;
    let texts = verdict(&compared, Metric);
    assert!(texts[0].contains("too few days to say how sure"), "{}", texts[0]);
    assert!(texts[0].starts_with("Too close"), "{}", texts[0]);
}

#[test]
fn reasons_name_the_largest_factors_for_and_against() {
    let texts = reasons(&two(), Imperial);
    // Weight 28.49 − 22.99 kg = 5.50 kg = 12 lb 2 oz; their logarithmic mean is 5.50 / ln(28.49 / 22.99) = 25.64 kg.
    // The ratios are 7.4 : 4.4 for bites an hour, 3.1 : 4.3 for hours in the water, 1.38 : 1.35 for the weight of a
    // fish, and equal for the landed share: 25.64 × (0.5199, −0.3272, 0.0220) = 13.33, −8.39 and 0.56 kg. The last
    // ratio, 2.2 %, is within chance: 2 √(1/9176 + 1/7568) = 3.1 % with that many bites in 400 days.
    assert_eq!(
        texts,
        [
            unbroken(
                "Of the 12 lb 2 oz by which two-minutes outweighs ten-minutes, more bites added 29 lb 6 oz \
                 (7.4 for each hour its bait was in the water against 4.4); less time with a bait in the \
                 water cost 18 lb 8 oz (3 h 6 min against 4 h 18 min); the remaining 1 lb 4 oz is within \
                 chance."
            ),
            unbroken(
                "While the bait of two-minutes was in the water, 3.0 fish at a time fed on its line (1.8 \
                 with ten-minutes)."
            )
        ]
    );
}

#[test]
fn a_hookbait_with_nothing_around_it_is_no_reason() {
    let mut comparison = two();
    for plan in comparison.plans.iter_mut().filter(|plan| plan.name == "two-minutes") {
        plan.swim.hookbait_share_of_mouthfuls = 1.0;
    }
    let texts = reasons(&comparison, Imperial);
    assert!(!texts.concat().contains("mouthfuls"), "{texts:?}");
}

#[test]
fn the_stated_parts_add_up_to_the_whole_difference() {
    // Ounces gained less ounces lost, the rest included, are the ounces of the whole difference, except for
    // rounding: half an ounce for each of at most six weights.
    let ounces = |texts: &str| -> i64 {
        let words: Vec<&str> =
            texts.split([' ', '\u{a0}', ',', ';', '.']).filter(|w| !w.is_empty()).collect();
        let number = |at: usize| words.get(at).and_then(|word| word.parse::<i64>().ok());
        match (number(0), words.get(1), number(2), words.get(3)) {
            (Some(lb), Some(&"lb"), Some(oz), Some(&"oz")) => 16 * lb + oz,
            (Some(oz), Some(&"oz"), ..) => oz,
            _ => panic!("no weight begins {texts:?}"),
        }
    };
    for compared in [two(), four()] {
        for texts in reasons(&compared, Imperial).iter().filter(|texts| texts.contains("outweighs"))
        {
            let whole =
                ounces(texts.strip_prefix("Of the ").expect("the sentence starts like this"));
            let all = |word: &str, sign: i64| -> i64 {
                texts
                    .match_indices(word)
                    .map(|(at, _)| sign * ounces(&texts[at + word.len()..]))
                    .sum()
            };
            let way = if texts.contains("in the other plan's favour") { -1 } else { 1 };
            let sum = all(" added ", 1) + all(" cost ", -1) + all("the remaining ", way);
            assert!((sum - whole).abs() <= 3, "{sum} oz is not {whole} oz: {texts}");
        }
    }
}

#[test]
fn at_most_three_reasons_are_given_for_four_plans() {
    let mut compared = four();
    // The bites of ten-minutes are fewest, but one-minute catches the smallest fish by far.
    compared.plans[0] = plan("one-minute", 7.8, 0.44, 0.5);
    let compared = comparison(compared.plans, 0.1);
    let texts = reasons(&compared, Metric);
    assert!(texts.len() <= 3, "{texts:#?}");
    assert!(texts[0].contains("four-minutes"), "the closest plan is first: {texts:#?}");
    // 1.38 : 0.5 is the largest ratio of all.
    let last = texts.last().expect("there are reasons");
    let figures = "bigger fish added";
    assert!(last.contains(figures), "the most different plan is last: {texts:#?}");
    assert!(last.contains(&unbroken("(1.38 kg against 0.50 kg)")), "{texts:#?}");
}

#[test]
fn a_difference_within_chance_is_not_a_reason() {
    // Fish are 3 % heavier on 2 days with about 25 bites each; chance alone gives √(2/50) = 20 %.
    let mut few = comparison(vec![plan("a", 7.0, 0.7, 1.03), plan("b", 7.0, 0.7, 1.0)], 0.1);
    few.days = 2;
    let texts = reasons(&few, Metric);
    assert!(texts[0].contains("no one part"), "{texts:?}");
    // On 40,000 days chance gives a tenth of a per cent.
    few.days = 40_000;
    let texts = reasons(&few, Metric);
    assert!(
        texts[0].contains("bigger fish added")
            && texts[0].contains(&unbroken("1.03 kg against 1.00 kg"))
    );
}

#[test]
fn there_are_no_reasons_where_nothing_is_clear() {
    let texts = reasons(&comparison(two().plans, 9.0), Metric);
    assert_eq!(texts.len(), 1);
    assert!(texts[0].contains("no difference to give reasons for"));
}

#[test]
fn a_plan_without_a_bite_gives_complete_sentences() {
    let none = comparison(vec![plan("a", 7.0, 0.7, 1.0), plan("b", 0.0, 0.7, 1.0)], 0.1);
    let all: Vec<String> = [verdict(&none, Imperial), reasons(&none, Imperial)].concat();
    assert!(all.len() >= 2, "{all:?}");
    for texts in &all {
        assert!(!texts.contains("NaN") && !texts.contains("inf"), "not a number in: {texts}");
    }
    assert!(all.iter().any(|texts| texts.contains("7.0 for each hour")), "{all:?}");
}

#[test]
fn an_empty_comparison_gives_no_sentences() {
    let empty: Comparison = comparison(Vec::new(), 1.0);
    assert!(verdict(&empty, Metric).is_empty());
    assert!(reasons(&empty, Metric).is_empty());
    let one = comparison(vec![plan("alone", 5.0, 0.7, 1.0)], 1.0);
    assert!(verdict(&one, Metric).is_empty());
    assert!(reasons(&one, Metric).is_empty());
}

#[test]
fn a_table_of_varied_values_marks_the_best_and_those_as_good() {
    let table = response_table(&curve(true), Metric);
    let row = |label: &str| {
        let line = table.lines().find(|line| line.trim_start().starts_with(label));
        line.map(str::to_owned).unwrap_or_default()
    };
    assert!(row(&unbroken("2 min 30 s")).contains("best mean"), "{table}");
    assert!(row(&unbroken("3 min")).contains(&unbroken("within 2 %")), "{table}");
    assert!(!row(&unbroken("5 min")).contains("within"), "{table}");
}

#[test]
fn varied_values_are_shown_short_and_without_the_plan() {
    let mut odd = curve(true);
    odd.points[0].label = "44.9283751 s".to_owned();
    odd.points[1].label = "61.2 s".to_owned();
    let table = response_table(&odd, Metric);
    assert!(table.starts_with("recast "), "{table}");
    assert!(
        table.contains(&unbroken("\n45 s ")) && table.contains(&unbroken("\n1 min 1 s ")),
        "{table}"
    );
    for line in table.lines() {
        assert!(line.width() <= 80, "{line}");
        assert_eq!(line, line.trim_end());
    }
}

#[test]
fn a_sweep_without_a_catch_says_so() {
    let mut none = curve(true);
    for point in &mut none.points {
        point.mean_kg = 0.0;
    }
    assert!(response_table(&none, Metric).contains("Nothing was caught at any value."));
    none.points.clear();
    assert!(response_table(&none, Metric).contains("No value was fished."));
}

#[test]
fn a_setting_without_effect_has_no_best_value() {
    let mut flat = curve(true);
    for point in &mut flat.points {
        point.mean_kg = 20.0;
    }
    let table = response_table(&flat, Metric);
    assert!(!table.contains("best mean"), "{table}");
    assert!(table.contains("makes no difference to this plan"), "{table}");
}

#[test]
fn a_long_list_of_plans_leaves_room_for_the_names_of_aims() {
    // Six copies of a plan may be as good as each other, the seventh plan hardly fishes.
    let mut scenario = crate::pond::pond();
    let copies = ["a", "b", "c", "d", "e", "f"];
    let name = |copy| format!("quite-a-long-name-{copy}");
    scenario.plans = copies.map(|copy| crate::pond::plan(&name(copy), 240.0)).to_vec();
    scenario.plans.push(crate::pond::plan("seldom", 1700.0));
    let found = crate::pond::compared(&scenario, 1, 40);
    let table = aims_table(&found, Metric, 100).expect("a table");
    assert!(table.lines().any(|line| line.starts_with("mean weight ")), "{table}");
    assert!(copies.iter().filter(|copy| table.contains(&name(copy))).count() == 6, "{table}");
    assert!(table.lines().all(|line| line.chars().count() <= 100), "{table}");
}
