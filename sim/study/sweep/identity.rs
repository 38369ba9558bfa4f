//! Identity of a sweep: the properties on which two stores of the same sweep must agree.

use super::definition::SweepDefinition;

/// A property of a sweep and its value, in words.
pub(super) type Property = (&'static str, String);

/// Maximum length of a value in a message [characters].
const MAX_CHARACTERS: usize = 40;

/// Properties on which all stores of one sweep must agree.
pub(super) fn identity(sweep: &SweepDefinition) -> Vec<Property> {
    let stamp = &sweep.stamp;
    vec![
        ("version", stamp.version.clone()),
        ("commit", stamp.commit.clone()),
        ("machine kind", stamp.target.clone()),
        ("seed", stamp.seed.to_string()),
        ("scenario", stamp.scenario.clone()),
        ("scenario's SHA-256", stamp.scenario_sha256.clone()),
        ("plans", sweep.plans.join(", ")),
        ("keys", sweep.design.keys.join(", ")),
    ]
}

/// Name of the first property that differs, with its two values shortened for a message. `None` if all are equal.
pub(super) fn first_difference(
    a: Vec<Property>,
    b: Vec<Property>,
) -> Option<(&'static str, String, String)> {
    let short = |value: &str| value.chars().take(MAX_CHARACTERS).collect::<String>();
    let ((name, a), (_, b)) = a.into_iter().zip(b).find(|(a, b)| a != b)?;
    Some((name, short(&a), short(&b)))
}
