//! Quantities as people write them, converted to SI units and back.

use crate::scenario::diagnose::{nearest_name, quoted};

/// Mass of one pint of bait [kg]: common practice for small pellets, no source.
const PINT_KG: f64 = 0.35;
/// Mass of one handful of bait [kg]: common practice for small pellets, no source.
pub const HANDFUL_KG: f64 = 0.05;
/// Mass of one pouch of bait, as a catapult throws it [kg]: common practice for small pellets, no source.
pub const POUCH_KG: f64 = 0.02;
/// Density of a soaked pellet [kg/m³], as of a class of a bait whose density is left out.
const PELLET_DENSITY_KG_M3: f64 = 1150.0;
/// Smallest and largest diameter of pellets that are counted [m].
const PELLET_DIAMETERS_M: [f64; 2] = [0.5e-3, 0.03];
/// Words for a number of pellets.
const PELLETS: [&str; 2] = ["pellets", "pellet"];

/// What a quantity measures, with its unit inside the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Dimension {
    /// In seconds.
    Time,
    /// In kilograms.
    Mass,
    /// In kilograms; may be written in pints, handfuls, pouches or as a number of pellets.
    Bait,
    /// In metres.
    Length,
    /// In degrees Celsius.
    Temperature,
    /// In degrees Celsius; 9 °F are 5 °C.
    TemperatureDifference,
    /// In metres per second.
    Speed,
    /// In kilograms per cubic metre.
    Density,
    /// In moles per kilogram.
    Attractant,
    /// In milligrams per litre.
    Oxygen,
    /// In degrees.
    Angle,
    /// In kilograms of fish per square metre of water.
    Stock,
}

/// A unit: its spellings, its factor to SI, and the offset added before the factor is applied.
struct UnitScale {
    names: &'static [&'static str],
    factor: f64,
    offset: f64,
}

const fn unit(names: &'static [&'static str], factor: f64) -> UnitScale {
    UnitScale { names, factor, offset: 0.0 }
}

const TIME: &[UnitScale] = &[
    unit(&["h", "hour", "hours", "hr", "hrs"], 3600.0),
    unit(&["min", "minute", "minutes", "mins"], 60.0),
    unit(&["s", "sec", "second", "seconds", "secs"], 1.0),
];
const MASS: &[UnitScale] = &[
    unit(&["kg"], 1.0),
    unit(&["lb", "lbs"], 0.453_592_37),
    unit(&["oz"], 0.453_592_37 / 16.0),
    unit(&["g", "gram", "grams"], 1e-3),
];
const BAIT: &[UnitScale] = &[
    unit(&["kg"], 1.0),
    unit(&["lb", "lbs"], 0.453_592_37),
    unit(&["pint", "pints"], PINT_KG),
    unit(&["handful", "handfuls"], HANDFUL_KG),
    unit(&["oz"], 0.453_592_37 / 16.0),
    unit(&["pouch", "pouches"], POUCH_KG),
    unit(&["g", "gram", "grams"], 1e-3),
];
const LENGTH: &[UnitScale] = &[
    unit(&["m", "metre", "metres"], 1.0),
    unit(&["yd", "yards"], 0.9144),
    unit(&["ft", "feet"], 0.3048),
    unit(&["in", "inches"], 0.0254),
    unit(&["cm"], 1e-2),
    unit(&["mm"], 1e-3),
];
const TEMPERATURE: &[UnitScale] =
    &[unit(&["C", "°C"], 1.0), UnitScale { names: &["F", "°F"], factor: 5.0 / 9.0, offset: -32.0 }];
const TEMPERATURE_DIFFERENCE: &[UnitScale] =
    &[unit(&["C", "°C"], 1.0), unit(&["F", "°F"], 5.0 / 9.0)];
const SPEED: &[UnitScale] =
    &[unit(&["m/s"], 1.0), unit(&["mph"], 0.447_04), unit(&["km/h"], 1.0 / 3.6)];
const DENSITY: &[UnitScale] = &[unit(&["kg/m3", "kg/m³"], 1.0), unit(&["g/cm3", "g/cm³"], 1000.0)];
const ATTRACTANT: &[UnitScale] = &[unit(&["mol/kg"], 1.0), unit(&["mmol/kg"], 1e-3)];
const OXYGEN: &[UnitScale] = &[unit(&["mg/L", "mg/l"], 1.0)];
const ANGLE: &[UnitScale] = &[unit(&["deg", "°"], 1.0)];
const STOCK: &[UnitScale] =
    &[unit(&["lb/acre"], 0.453_592_37 / 4_046.856_422_4), unit(&["kg/ha"], 1e-4)];

impl Dimension {
    /// Every dimension.
    pub(crate) const ALL: [Self; 12] = [
        Self::Time,
        Self::Mass,
        Self::Bait,
        Self::Length,
        Self::Temperature,
        Self::TemperatureDifference,
        Self::Speed,
        Self::Density,
        Self::Attractant,
        Self::Oxygen,
        Self::Angle,
        Self::Stock,
    ];

    /// Units from large to small.
    fn units(self) -> &'static [UnitScale] {
        match self {
            Self::Time => TIME,
            Self::Mass => MASS,
            Self::Bait => BAIT,
            Self::Length => LENGTH,
            Self::Temperature => TEMPERATURE,
            Self::TemperatureDifference => TEMPERATURE_DIFFERENCE,
            Self::Speed => SPEED,
            Self::Density => DENSITY,
            Self::Attractant => ATTRACTANT,
            Self::Oxygen => OXYGEN,
            Self::Angle => ANGLE,
            Self::Stock => STOCK,
        }
    }

    /// Every spelling of every unit, from large to small units.
    pub(crate) fn spellings(self) -> impl Iterator<Item = &'static str> {
        self.units().iter().flat_map(|unit| unit.names.iter().copied())
    }

    /// The first spelling of each unit, as a list for people.
    pub(crate) fn unit_list(self) -> String {
        let names: Vec<_> = self.units().iter().map(|unit| unit.names[0]).collect();
        names.join(", ")
    }

    /// Whether a quantity may have several terms, as in `2 min 30 s`.
    pub(crate) fn compounds(self) -> bool {
        matches!(self, Self::Time | Self::Mass | Self::Bait | Self::Length)
    }

    /// Its name with examples.
    pub(crate) fn such_as(self) -> &'static str {
        match self {
            Self::Time => r#"a time such as "2 min" or "90 s""#,
            Self::Mass => r#"a mass such as "25 g" or "3 lb 4 oz""#,
            Self::Bait => {
                r#"an amount of bait such as "25 g", "2 handfuls" or "20 pellets of 6 mm""#
            }
            Self::Length => r#"a length such as "28 m" or "4 mm""#,
            Self::Temperature => r#"a temperature such as "18 C" or "64 F""#,
            Self::TemperatureDifference => r#"a temperature difference such as "3 C" or "5 F""#,
            Self::Speed => r#"a speed such as "10 km/h" or "6 mph""#,
            Self::Density => r#"a density such as "1150 kg/m3""#,
            Self::Attractant => r#"an amount of attractant such as "90 mmol/kg""#,
            Self::Oxygen => r#"an oxygen content such as "8 mg/L""#,
            Self::Angle => r#"an angle such as "90 deg""#,
            Self::Stock => r#"a stock such as "400 kg/ha""#,
        }
    }

    /// Its SI unit as in column names: `s`, `m_s`.
    pub(crate) fn column_unit(self) -> &'static str {
        match self {
            Self::Time => "s",
            Self::Mass | Self::Bait => "kg",
            Self::Length => "m",
            Self::Temperature | Self::TemperatureDifference => "c",
            Self::Speed => "m_s",
            Self::Density => "kg_m3",
            Self::Attractant => "mol_kg",
            Self::Oxygen => "mg_l",
            Self::Angle => "deg",
            Self::Stock => "kg_m2",
        }
    }

    /// Its name with an article.
    pub(crate) fn word(self) -> &'static str {
        match self {
            Self::Time => "a time",
            Self::Mass => "a mass",
            Self::Bait => "an amount of bait",
            Self::Length => "a length",
            Self::Temperature => "a temperature",
            Self::TemperatureDifference => "a temperature difference",
            Self::Speed => "a speed",
            Self::Density => "a density",
            Self::Attractant => "an amount of attractant",
            Self::Oxygen => "an oxygen content",
            Self::Angle => "an angle",
            Self::Stock => "a stock",
        }
    }

    /// Its name without an article.
    pub(crate) fn noun(self) -> &'static str {
        let word = self.word();
        word.split_once(' ').map_or(word, |(_, noun)| noun)
    }

    /// An SI value as people write it.
    pub(crate) fn show(self, si: f64) -> String {
        let scaled = |name: &str, factor: f64| format!("{} {name}", tidy(si / factor));
        match self {
            Self::Time if si >= 3600.0 => scaled("h", 3600.0),
            Self::Time if si >= 60.0 => scaled("min", 60.0),
            Self::Time => scaled("s", 1.0),
            Self::Mass | Self::Bait if si >= 1.0 => scaled("kg", 1.0),
            Self::Mass | Self::Bait => scaled("g", 1e-3),
            Self::Length if si > 0.0 && si < 0.1 => scaled("mm", 1e-3),
            Self::Length => scaled("m", 1.0),
            Self::Temperature | Self::TemperatureDifference => scaled("C", 1.0),
            Self::Speed => scaled("km/h", 1.0 / 3.6),
            Self::Density => scaled("kg/m3", 1.0),
            Self::Attractant => scaled("mmol/kg", 1e-3),
            Self::Oxygen => scaled("mg/L", 1.0),
            Self::Angle => scaled("deg", 1.0),
            Self::Stock => scaled("kg/ha", 1e-4),
        }
    }
}

/// A number rounded to nine significant digits, which hides binary rounding.
pub(crate) fn tidy(value: f64) -> f64 {
    format!("{value:.8e}").parse().unwrap_or(value)
}

/// Why a text is not a quantity, and how to fix it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct QuantityError {
    pub(crate) problem: String,
    pub(crate) fix: String,
    pub(crate) nearest: Option<String>,
}

/// Reads a quantity into SI units; the result is finite.
pub(crate) fn read_quantity(text: &str, dimension: Dimension) -> Result<f64, QuantityError> {
    let error = |problem: String, nearest: Option<String>| QuantityError {
        problem,
        fix: format!("write {}", dimension.such_as()),
        nearest,
    };
    if dimension == Dimension::Bait
        && let Some(kg) = counted_pellets_kg(text)
    {
        return kg;
    }
    let terms = split_quantity(text)
        .ok_or_else(|| error(format!("{} is not a quantity", quoted(text)), None))?;
    if let Some(term) = terms.iter().find(|term| term.unit == ",") {
        let problem = format!("{} has a comma after {}", quoted(text), term.number);
        let fix = format!("write a decimal point: {}", quoted(&text.replace(',', ".")));
        return Err(QuantityError { problem, fix, nearest: None });
    }
    if terms.len() > 1 && !dimension.compounds() {
        return Err(error(format!("{} is more than one quantity", quoted(text)), None));
    }
    let (mut sum, mut last_factor) = (0.0, f64::INFINITY);
    for term in &terms {
        if term.unit.is_empty() {
            return Err(error(format!("{} has no unit", quoted(text)), None));
        }
        let Some(unit) =
            dimension.units().iter().find(|unit| unit.names.contains(&term.unit.as_str()))
        else {
            return Err(unknown_unit(text, &term.unit, dimension));
        };
        if unit.factor >= last_factor || (terms.len() > 1 && term.number < 0.0) {
            return Err(error(
                format!("the parts of {} do not go from large to small", quoted(text)),
                None,
            ));
        }
        last_factor = unit.factor;
        sum += (term.number + unit.offset) * unit.factor;
    }
    if !sum.is_finite() {
        return Err(error(format!("{} is too large a number", quoted(text)), None));
    }
    Ok(sum)
}

/// The mass of a number of pellets, as in `20 pellets of 6 mm` [kg]. `None` if the text is not about pellets.
///
/// A pellet is a sphere of the density of soaked pellets: π/6 d³ ρ, 0.13 g at 6 mm.
fn counted_pellets_kg(text: &str) -> Option<Result<f64, QuantityError>> {
    let (count, size) = match text.split_once(" of ") {
        Some((count, size)) => (count, Some(size)),
        None => (text, None),
    };
    let terms = split_quantity(count)?;
    let [Term { number, unit }] = terms.as_slice() else { return None };
    if !PELLETS.contains(&unit.as_str()) {
        return None;
    }
    let error = |problem: String| QuantityError {
        problem,
        fix: "write a number and a diameter, as in \"20 pellets of 6 mm\"".to_owned(),
        nearest: None,
    };
    let Some(size) = size else {
        return Some(Err(error(format!("{} does not say how large they are", quoted(text)))));
    };
    let [smallest_m, largest_m] = PELLET_DIAMETERS_M;
    let diameter_m = match read_quantity(size, Dimension::Length) {
        Ok(diameter_m) if (smallest_m..=largest_m).contains(&diameter_m) => diameter_m,
        Ok(_) => {
            return Some(Err(error(format!("{} are no pellets of 0.5 to 30 mm", quoted(text)))));
        }
        Err(why) => return Some(Err(error(why.problem))),
    };
    let volume_m3 = std::f64::consts::PI / 6.0 * crate::numerics::cube(diameter_m);
    Some(Ok(number * PELLET_DENSITY_KG_M3 * volume_m3))
}

/// Whether a text measures bait in something other than weights, so that it is worth saying what it was taken to weigh.
fn is_measured(text: &str) -> bool {
    let words = ["pint", "handful", "pouch", "pellet"];
    words.iter().any(|word| text.contains(word))
}

/// Every amount of bait in a text that is written in pints, handfuls, pouches or pellets, once each in order, with what it
/// was taken to weigh [kg].
#[must_use]
pub fn measured_baits_kg(text: &str) -> Vec<(String, f64)> {
    let mut measured: Vec<(String, f64)> = Vec::new();
    for line in text.lines() {
        for written in line.split(['"', '\'']).skip(1).step_by(2).filter(|part| is_measured(part)) {
            let is_known = measured.iter().any(|(known, _)| known == written);
            if let (Ok(kg), false) = (read_quantity(written, Dimension::Bait), is_known) {
                measured.push((written.to_owned(), kg));
            }
        }
    }
    measured
}

/// Reads a weight such as `80 lb` or `36 kg` [kg].
///
/// # Errors
///
/// A message that says what is wrong and how to fix it.
pub fn read_mass_kg(text: &str) -> Result<f64, String> {
    read_quantity(text, Dimension::Mass).map_err(|why| format!("{}; {}", why.problem, why.fix))
}

/// Reads an amount of bait such as `25 g` or `1 pint` [kg].
///
/// # Errors
///
/// A message that says what is wrong and how to fix it.
pub fn read_bait_kg(text: &str) -> Result<f64, String> {
    read_quantity(text, Dimension::Bait).map_err(|why| format!("{}; {}", why.problem, why.fix))
}

/// Reads a span of time such as `45 s` or `2 min` [s].
///
/// # Errors
///
/// A message that says what is wrong and how to fix it.
pub fn read_duration_s(text: &str) -> Result<f64, String> {
    read_quantity(text, Dimension::Time).map_err(|why| format!("{}; {}", why.problem, why.fix))
}

fn unknown_unit(text: &str, unit: &str, dimension: Dimension) -> QuantityError {
    let other = Dimension::ALL
        .into_iter()
        .find(|other| other.units().iter().any(|known| known.names.contains(&unit)));
    match other {
        Some(other) => QuantityError {
            problem: format!(
                "{} is {}; {} is needed here",
                quoted(text),
                other.word(),
                dimension.word()
            ),
            fix: format!("write {}", dimension.such_as()),
            nearest: None,
        },
        None => QuantityError {
            problem: format!("{} is not a unit of {}", quoted(unit), dimension.noun()),
            fix: format!("units here: {}", dimension.unit_list()),
            nearest: nearest_name(unit, dimension.spellings()),
        },
    }
}

/// A number with the unit written after it.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Term {
    pub(crate) number: f64,
    pub(crate) unit: String,
}

/// Splits a text into numbers with units. `None` if it does not begin with a number.
pub(crate) fn split_quantity(text: &str) -> Option<Vec<Term>> {
    let mut rest = text.trim();
    let mut terms = Vec::new();
    while !rest.is_empty() {
        let end = number_end(rest)?;
        let number = rest[..end].parse().ok()?;
        rest = rest[end..].trim_start();
        let end = unit_end(rest);
        terms.push(Term { number, unit: rest[..end].to_owned() });
        rest = rest[end..].trim_start();
    }
    (!terms.is_empty()).then_some(terms)
}

/// Where the number at the start of a text ends. `None` if there is no number.
fn number_end(text: &str) -> Option<usize> {
    let bytes = text.as_bytes();
    let digits_from = |mut at: usize| {
        while bytes.get(at).is_some_and(u8::is_ascii_digit) {
            at += 1;
        }
        at
    };
    let start = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    let mut end = digits_from(start);
    if end == start {
        return None;
    }
    if bytes.get(end) == Some(&b'.') && bytes.get(end + 1).is_some_and(u8::is_ascii_digit) {
        end = digits_from(end + 1);
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let exponent = end + 1 + usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let beyond = digits_from(exponent);
        if beyond > exponent {
            end = beyond;
        }
    }
    Some(end)
}

/// Where the unit at the start of a text ends: at a space, or at a digit if the text up to the space is no unit.
fn unit_end(text: &str) -> usize {
    let blank = text.find(char::is_whitespace).unwrap_or(text.len());
    let word = &text[..blank];
    let known =
        Dimension::ALL.into_iter().any(|dimension| dimension.spellings().any(|name| name == word));
    if known {
        return blank;
    }
    word.find(|c: char| c.is_ascii_digit() || c == '-').unwrap_or(blank)
}
