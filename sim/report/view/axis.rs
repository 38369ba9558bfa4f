//! Settings along an axis: a number for each, read from the values as written.

/// A number for each setting, and the caption of the axis.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Axis {
    /// Where each setting stands along the axis.
    pub(crate) values: Vec<f64>,
    /// Caption with its unit.
    pub(crate) caption: String,
    /// Whether the values span a factor of ten or more, so that a logarithmic axis shows them better.
    pub(crate) is_logarithmic: bool,
}

/// Units of one kind, each with its size in the first of them, so that `90 s` and `2 min` share an axis.
const SCALES: [&[(&str, f64)]; 4] = [
    &[("min", 1.0), ("s", 1.0 / 60.0), ("h", 60.0)],
    &[("g", 1.0), ("kg", 1000.0), ("oz", 28.349_523_125), ("lb", 453.592_37)],
    &[("m", 1.0), ("cm", 0.01), ("mm", 0.001), ("yd", 0.9144), ("ft", 0.3048), ("in", 0.0254)],
    &[("m/s", 1.0), ("km/h", 1.0 / 3.6), ("mph", 0.447_04)],
];

/// The axis for the values of one key.
///
/// Settings are numbered from 1 if the values are not numbers or there are several keys.
pub(crate) fn axis(keys: &[String], settings: &[&[String]]) -> Axis {
    let numeric = match keys {
        [key] => {
            let written: Option<Vec<&str>> =
                settings.iter().map(|values| values.first().map(String::as_str)).collect();
            written.and_then(|written| numeric_axis(key, &written))
        }
        _ => None,
    };
    numeric.unwrap_or_else(|| Axis {
        values: (1_u32..).take(settings.len()).map(f64::from).collect(),
        caption: format!("setting of {}, in the order of the table", keys.join(", ")),
        is_logarithmic: false,
    })
}

/// The axis for values that are numbers with units of one kind; `None` for others.
fn numeric_axis(key: &str, written: &[&str]) -> Option<Axis> {
    let parts: Vec<(f64, &str)> =
        written.iter().map(|text| number_and_unit(text)).collect::<Option<_>>()?;
    let unit = parts.first()?.1;
    let (values, unit): (Vec<f64>, &str) = if parts.iter().all(|&(_, other)| other == unit) {
        (parts.iter().map(|&(number, _)| number).collect(), unit)
    } else {
        let scale_of = |scale: &[(&str, f64)], unit: &str| {
            scale.iter().find(|&&(name, _)| name == unit).map(|&(_, size)| size)
        };
        let scale = SCALES.into_iter().find(|scale| scale_of(scale, unit).is_some())?;
        let values = parts.iter().map(|&(number, unit)| Some(number * scale_of(scale, unit)?));
        (values.collect::<Option<_>>()?, scale.first()?.0)
    };
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    Some(Axis {
        caption: if unit.is_empty() { key.to_owned() } else { format!("{key} [{unit}]") },
        is_logarithmic: low > 0.0 && high >= 10.0 * low,
        values,
    })
}

/// A number and the unit after it; `None` if it is anything else.
fn number_and_unit(text: &str) -> Option<(f64, &str)> {
    let text = text.trim().trim_matches(['"', '\'']).trim();
    let end = text.find(|letter: char| !matches!(letter, '0'..='9' | '.' | '-' | '+' | '_'));
    let (number, unit) = text.split_at(end.unwrap_or(text.len()));
    let unit = unit.trim();
    let is_one_word =
        !unit.contains(|letter: char| letter.is_whitespace() || letter.is_ascii_digit());
    let number: f64 = number.replace('_', "").parse().ok()?;
    (is_one_word && number.is_finite()).then_some((number, unit))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn axis_for(written: &[&str]) -> Axis {
        let settings: Vec<Vec<String>> =
            written.iter().map(|value| vec![(*value).to_owned()]).collect();
        let settings: Vec<&[String]> = settings.iter().map(Vec::as_slice).collect();
        axis(&["plan.patient.recast".to_owned()], &settings)
    }

    #[test]
    fn seconds_and_minutes_share_an_axis() {
        let axis = axis_for(&["90 s", "2 min", "0.5 h"]);
        assert_eq!(axis.values, [1.5, 2.0, 30.0]);
        assert_eq!(axis.caption, "plan.patient.recast [min]");
        assert!(axis.is_logarithmic, "1.5 to 30 min span more than a factor of ten");
    }

    #[test]
    fn values_of_one_unit_keep_it() {
        let axis = axis_for(&["1.5 pint", "2pint"]);
        assert_eq!((axis.values.as_slice(), axis.is_logarithmic), (&[1.5, 2.0][..], false));
        assert_eq!(axis.caption, "plan.patient.recast [pint]");
    }

    #[test]
    fn settings_that_are_not_numbers_are_counted() {
        for written in [["pellet", "bread"], ["3 lb 4 oz", "4 lb"], ["1 min", "2 kg"]] {
            assert_eq!(axis_for(&written).values, [1.0, 2.0], "{written:?}");
        }
    }
}
