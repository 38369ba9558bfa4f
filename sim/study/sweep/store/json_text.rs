//! Values as JSON texts, as a store keeps them.

/// A value that is always valid JSON.
pub(super) fn json<T: serde::Serialize + ?Sized>(value: &T) -> String {
    serde_json::to_string(value).expect("texts and numbers can be written as JSON")
}
