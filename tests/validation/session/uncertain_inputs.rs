//! Uncertain inputs of a day: what nobody knows, apart from the weather.

use sim::scenario::{Scenario, read};
use sim::session::Day;

/// One line under any weather.
const WATER: &str = r#"
    title = "An invented water under any weather"
    [water]
    temperature = { low = "8 C", high = "24 C" }
    wind = { low = "0 km/h", high = "30 km/h" }
    oxygen = { low = "2 mg/L", high = "10 mg/L" }
    [line.only]
    distance = "20 m"
    [shoal.some]
    count = 5
    home = "only"
    [plan.only]
    recast = "5 min"
"#;

fn water(stated_trait: &str) -> Scenario {
    let sets: Vec<String> =
        (!stated_trait.is_empty()).then(|| stated_trait.to_owned()).into_iter().collect();
    read(WATER, "invented", &sets).expect("a valid scenario")
}

fn uncertain_inputs(scenario: &Scenario) -> Vec<Vec<f64>> {
    (1..=30).map(|number| Day::draw(scenario, 3, number).uncertain_inputs(scenario)).collect()
}

/// V-169: weather is no uncertain input. With every row and trait pinned, the list of uncertain inputs is the same on
/// days of 8 to 24 °C, of any wind and oxygen; without pins, each row that has a spread differs between days.
#[test]
fn weather_is_not_an_uncertain_input() {
    let mut pinned = water("shoal.some.comes_to_splash=0.3");
    let books = &mut pinned.books;
    for book in [&mut books.water, &mut books.bait, &mut books.fish, &mut books.angler] {
        book.fix_all();
    }
    let of_days = uncertain_inputs(&pinned);
    let rows: usize = pinned.books.all().iter().map(|book| book.rows().len()).sum();
    assert_eq!(of_days[0].len(), rows + 1, "V-169: every row and the stated trait");
    let temperatures: Vec<f64> =
        (1..=30).map(|number| Day::draw(&pinned, 3, number).conditions.temperature_c).collect();
    let span = |values: &[f64]| {
        values
            .iter()
            .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], &x| [low.min(x), high.max(x)])
    };
    let [low, high] = span(&temperatures);
    println!("V-169: {low:.1} to {high:.1} °C");
    assert!(high - low > 10.0, "V-169: the days differ");
    for (number, of_day) in of_days.iter().enumerate() {
        assert_eq!(of_day, &of_days[0], "V-169: day {}", number + 1);
    }

    let free = water("shoal.some.comes_to_splash={ low = 0.1, high = 0.5 }");
    let of_days = uncertain_inputs(&free);
    let differ = (0..of_days[0].len())
        .filter(|&row| of_days.iter().any(|day| day[row].to_bits() != of_days[0][row].to_bits()));
    let books = free.books.all();
    let drawn = books
        .iter()
        .flat_map(|book| book.rows())
        .filter(|row| row.quantile(0.1).to_bits() != row.quantile(0.9).to_bits());
    assert_eq!(differ.count(), drawn.count() + 1, "V-169: rows with a spread and the trait differ");
}
