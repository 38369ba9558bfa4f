//! Identity of a sweep: the properties on which two stores of the same sweep must agree.

use super::definition::SweepDefinition;

/// A property of a sweep and its value, in words.
pub(super) type Property = (&'static str, String);

/// Length at which a hash is cut in a message [characters].
const HASH_CHARACTERS: usize = 12;

/// Properties on which all stores of one sweep must agree.
pub(super) fn identity(sweep: &SweepDefinition) -> Vec<Property> {
    let stamp = &sweep.stamp;
    vec![
        ("version", stamp.version.clone()),
        ("commit", stamp.commit.clone()),
        ("machine kind", stamp.target.clone()),
        ("seed", stamp.seed.to_string()),
        ("scenario", stamp.scenario.clone()),
        ("learned book's SHA-256", stamp.book_sha256.clone().unwrap_or_else(|| "none".to_owned())),
        ("scenario's SHA-256", stamp.scenario_sha256.clone()),
        ("plans", sweep.plans.join(", ")),
        ("keys", sweep.design.keys.join(", ")),
    ]
}

/// Name of the first property that differs, with its two values as a message shows them: hashes are cut. `None` if all
/// are equal.
pub(super) fn first_difference(
    a: Vec<Property>,
    b: Vec<Property>,
) -> Option<(&'static str, String, String)> {
    let ((name, mut a), (_, mut b)) = a.into_iter().zip(b).find(|(a, b)| a != b)?;
    if name.ends_with("SHA-256") {
        a.truncate(HASH_CHARACTERS);
        b.truncate(HASH_CHARACTERS);
    }
    Some((name, a, b))
}
