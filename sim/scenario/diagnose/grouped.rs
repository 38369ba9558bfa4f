//! Whole numbers as people read them.

/// A whole number with a comma between thousands: `54,000`.
#[must_use]
pub fn grouped(number: impl Into<u128>) -> String {
    let digits = number.into().to_string();
    let mut text = String::with_capacity(digits.len() + digits.len() / 3);
    for (at, digit) in digits.char_indices() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            text.push(',');
        }
        text.push(digit);
    }
    text
}
