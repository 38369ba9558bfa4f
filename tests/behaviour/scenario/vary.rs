//! Lists and ranges of values to vary.

use sim::scenario::vary_values;

use super::reading::{SMALL, contains_all, read_valid};

fn texts(vary: &str) -> Vec<String> {
    vary_values(vary).unwrap_or_else(|faults| panic!("{faults}")).1
}

fn error_of(vary: &str) -> String {
    vary_values(vary).expect_err("faulty").to_string()
}

#[test]
fn lists_are_taken_as_written() {
    let (key, list) = vary_values("plan.patient.recast=1min, 2 min,90s").expect("well formed");
    assert_eq!(key, "plan.patient.recast");
    assert_eq!(list, ["1min", "2 min", "90s"]);
    assert_eq!(texts("plan.a.line=near,far"), ["near", "far"]);
    let spreads = "water.wind={ low = \"1 m/s\", high = \"2 m/s\" },\"3 m/s\"";
    assert_eq!(texts(spreads), ["{ low = \"1 m/s\", high = \"2 m/s\" }", "\"3 m/s\""]);
}

#[test]
fn ranges_are_written_out_with_both_ends() {
    assert_eq!(texts("shoal.a.count=50..90/5"), ["50", "60", "70", "80", "90"]);
    assert_eq!(texts("plan.a.load=10 g..40 g/4"), ["10 g", "20 g", "30 g", "40 g"]);
    assert_eq!(texts("plan.a.load=10..40g/4"), ["10 g", "20 g", "30 g", "40 g"]);
    assert_eq!(texts("plan.a.recast=\"30 s\"..\"20 min\"/3"), ["30 s", "615 s", "1200 s"]);
    assert_eq!(texts("plan.a.recast=0.5..1.5/3 min"), ["0.5 min", "1 min", "1.5 min"]);
    assert_eq!(texts("plan.a.squeeze=0.1..0.7/7")[2], "0.3");
    assert_eq!(texts("water.temperature=50..68/3 F"), ["50 F", "59 F", "68 F"]);
    assert_eq!(texts("water.temperature.low=5..15/3 C"), ["5 C", "10 C", "15 C"]);
    assert_eq!(texts("shoal.a.count.cv=0.1..0.3/3"), ["0.1", "0.2", "0.3"]);
    assert_eq!(texts("book.fish.hearing_m=5..15/3"), ["5", "10", "15"]);
    assert_eq!(texts("water.wind=5 km/h..15 km/h/3"), ["5 km/h", "10 km/h", "15 km/h"]);
    assert_eq!(texts("water.wind=5..15/3 km/h")[1], "10 km/h");
}

#[test]
fn logarithmic_ranges_multiply() {
    assert_eq!(
        texts("plan.a.recast=1..16/5 min log"),
        ["1 min", "2 min", "4 min", "8 min", "16 min"]
    );
    assert_eq!(texts("plan.a.recast=1 min..16 min/3 log"), ["1 min", "4 min", "16 min"]);
    assert_eq!(texts("shoal.a.count=1..4/5 log"), ["1", "2", "3", "4"]);
}

#[test]
fn every_written_value_can_be_set() {
    let (key, list) = vary_values("plan.patient.recast=30 s..20 min/7 log").expect("well formed");
    for value in list {
        read_valid(SMALL, &[&format!("{key}={value}")]);
    }
}

#[test]
fn errors_in_lists_of_values_are_explained() {
    contains_all(&error_of("plan.a.recast"), &["--vary", "is not KEY=VALUES"]);
    contains_all(&error_of("plan.a.recats=1,2"), &["--vary: plan.a.recats", "`plan.a.recast`"]);
    contains_all(&error_of("plan.a.recast=1min,,2min"), &["--vary: plan.a.recast", "empty value"]);
    contains_all(&error_of("plan.a.recast=1min,1min"), &["\"1min\" is there twice"]);
    contains_all(&error_of("plan.a.recast=1..9/3"), &["has no unit", "\"2 min\""]);
    contains_all(&error_of("plan.a.recast=1..9/3 g"), &["is a mass; a time is needed"]);
    contains_all(&error_of("plan.a.recast=9..1/3 min"), &["does not go upwards"]);
    contains_all(&error_of("plan.a.recast=1..9 min"), &["is not LOW..HIGH/COUNT"]);
    contains_all(&error_of("plan.a.recast=1..9/1 min"), &["1 values", "2 to 1000"]);
    contains_all(&error_of("plan.a.recast=1..9/999999 min"), &["2 to 1000"]);
    contains_all(&error_of("plan.a.recast=0..9/3 min log"), &["above zero"]);
    contains_all(&error_of("shoal.a.count=1..9/3 min"), &["takes bare numbers"]);
    contains_all(&error_of("plan.a.line=near..far/3"), &["takes no number"]);
}
