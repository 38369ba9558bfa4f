//! Values as written, put on an axis.

/// Where settings stand along an axis, and what is written at it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Axis {
    /// A place for each setting.
    pub(super) values: Vec<f64>,
    /// What the axis says, with its unit.
    pub(super) says: String,
    /// Whether the values span so much that a logarithm shows them better.
    pub(super) is_logarithmic: bool,
}

/// Units of one kind and how many of the first each is, so that `90 s` and `2 min` share an axis.
const SCALES: [&[(&str, f64)]; 4] = [
    &[("min", 1.0), ("s", 1.0 / 60.0), ("h", 60.0)],
    &[("g", 1.0), ("kg", 1000.0), ("oz", 28.349_523_125), ("lb", 453.592_37)],
    &[("m", 1.0), ("cm", 0.01), ("mm", 0.001), ("yd", 0.9144), ("ft", 0.3048), ("in", 0.0254)],
    &[("m/s", 1.0), ("km/h", 1.0 / 3.6), ("mph", 0.447_04)],
];

/// The axis of one key's values; the numbers of the settings where they are no numbers or there are several
/// keys.
pub(super) fn axis(keys: &[String], settings: &[&[String]]) -> Axis {
    let along = match keys {
        [key] => {
            let written: Option<Vec<&str>> =
                settings.iter().map(|values| values.first().map(String::as_str)).collect();
            written.and_then(|written| along(key, &written))
        }
        _ => None,
    };
    along.unwrap_or_else(|| Axis {
        values: (1_u32..).take(settings.len()).map(f64::from).collect(),
        says: format!("setting of {}, in the order of the table", keys.join(", ")),
        is_logarithmic: false,
    })
}

fn along(key: &str, written: &[&str]) -> Option<Axis> {
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
        says: if unit.is_empty() { key.to_owned() } else { format!("{key} [{unit}]") },
        is_logarithmic: low > 0.0 && high >= 10.0 * low,
        values,
    })
}

/// A number and the unit after it, if it is one number and one word.
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

    fn axis_of(written: &[&str]) -> Axis {
        let settings: Vec<Vec<String>> =
            written.iter().map(|value| vec![(*value).to_owned()]).collect();
        let settings: Vec<&[String]> = settings.iter().map(Vec::as_slice).collect();
        axis(&["plan.patient.recast".to_owned()], &settings)
    }

    #[test]
    fn seconds_and_minutes_share_an_axis() {
        let axis = axis_of(&["90 s", "2 min", "0.5 h"]);
        assert_eq!(axis.values, [1.5, 2.0, 30.0]);
        assert_eq!(axis.says, "plan.patient.recast [min]");
        assert!(axis.is_logarithmic, "1.5 to 30 min span more than a factor of ten");
    }

    #[test]
    fn values_of_one_unit_keep_it() {
        let axis = axis_of(&["1.5 pint", "2pint"]);
        assert_eq!((axis.values.as_slice(), axis.is_logarithmic), (&[1.5, 2.0][..], false));
        assert_eq!(axis.says, "plan.patient.recast [pint]");
    }

    #[test]
    fn what_is_no_number_is_counted() {
        for written in [["pellet", "bread"], ["3 lb 4 oz", "4 lb"], ["1 min", "2 kg"]] {
            assert_eq!(axis_of(&written).values, [1.0, 2.0], "{written:?}");
        }
    }
}
