//! Which plans a varied key touches.

/// The plan that a key belongs to. `None` for keys of the water, the fish, the baits or a parameter book.
#[must_use]
pub fn plan_of_key(key: &str) -> Option<&str> {
    key.strip_prefix("plan.")?.split('.').next()
}

/// Whether every key belongs to some other plan, so that a plan is the same at every point.
#[must_use]
pub fn is_untouched(plan: &str, keys: &[String]) -> bool {
    keys.iter().all(|key| plan_of_key(key).is_some_and(|other| other != plan))
}
