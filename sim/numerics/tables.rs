//! Tables for `exp` and `ln`, computed by the compiler with twice the usual number of digits.

/// A number as the sum of two, the second far below the last bit of the first.
#[derive(Clone, Copy)]
struct Double(f64, f64);

/// The exact sum of two numbers.
const fn sum(a: f64, b: f64) -> Double {
    let high = a + b;
    let of_b = high - a;
    Double(high, (a - (high - of_b)) + (b - of_b))
}

/// The upper half of a number's digits.
const fn upper_half(a: f64) -> f64 {
    let shifted = a * 134_217_729.0;
    shifted - (shifted - a)
}

/// The exact product of two numbers.
const fn product(a: f64, b: f64) -> Double {
    let high = a * b;
    let (a_high, b_high) = (upper_half(a), upper_half(b));
    let (a_low, b_low) = (a - a_high, b - b_high);
    Double(high, ((a_high * b_high - high) + a_high * b_low + a_low * b_high) + a_low * b_low)
}

impl Double {
    const fn plus(self, other: Self) -> Self {
        let Self(high, low) = sum(self.0, other.0);
        sum(high, low + (self.1 + other.1))
    }

    const fn times(self, other: Self) -> Self {
        let Self(high, low) = product(self.0, other.0);
        sum(high, low + (self.0 * other.1 + self.1 * other.0))
    }

    const fn over(self, divisor: f64) -> Self {
        let first = self.0 / divisor;
        let Self(high, low) = product(first, divisor);
        sum(first, ((self.0 - high) - low + self.1) / divisor)
    }
}

/// Steps between one power of two and the next.
pub(super) const STEPS: usize = 128;

/// ln 2 as the sum of two numbers; the first has so few digits that its multiples up to 2¹⁷ are exact.
pub(super) const LN_2_HIGH: f64 = f64::from_bits(LN_2.0.to_bits() & !0x1f_ffff);
/// The rest of ln 2.
pub(super) const LN_2_LOW: f64 = (LN_2.0 - LN_2_HIGH) + LN_2.1;

/// ln 2 = 2 artanh(1/3).
const LN_2: Double = twice_artanh(Double(1.0, 0.0).over(3.0));

/// 2 artanh(x) = 2 (x + x³/3 + x⁵/5 + …), for |x| of at most 1/3.
const fn twice_artanh(x: Double) -> Double {
    let squared = x.times(x);
    let (mut power, mut total, mut n) = (x, x, 3);
    while n < 75 {
        power = power.times(squared);
        total = total.plus(power.over(n as f64));
        n += 2;
    }
    Double(2.0 * total.0, 2.0 * total.1)
}

/// 2 to the power of k/128, and what that number lacks, as a share of it.
pub(super) static POWERS: [(f64, f64); STEPS] = {
    let mut powers = [(1.0, 0.0); STEPS];
    let mut k = 1;
    while k < STEPS {
        let exponent = LN_2.times(Double(k as f64 / STEPS as f64, 0.0));
        let (mut term, mut total, mut n) = (exponent, Double(1.0, 0.0).plus(exponent), 2);
        while n < 28 {
            term = term.times(exponent).over(n as f64);
            total = total.plus(term);
            n += 1;
        }
        powers[k] = (total.0, total.1 / total.0);
        k += 1;
    }
    powers
};

/// The lowest of the numbers in [`LOGARITHMS`], in 128ths.
pub(super) const LOWEST: i32 = 90;

/// 1/c and ln c for c = 90/128 and up, of which those up to 181/128 are used.
///
/// The logarithm is the sum of two numbers. The first is a multiple of 2⁻⁴², so that adding a multiple of ln 2 is exact.
pub(super) static LOGARITHMS: [(f64, f64, f64); STEPS] = {
    let mut logarithms = [(1.0, 0.0, 0.0); STEPS];
    let mut index = 0;
    while index < logarithms.len() {
        let of_128 = (LOWEST + index as i32) as f64;
        let ln = twice_artanh(Double(of_128 - 128.0, 0.0).over(of_128 + 128.0));
        let high = (ln.0 + 1536.0) - 1536.0;
        logarithms[index] = (128.0 / of_128, high, (ln.0 - high) + ln.1);
        index += 1;
    }
    logarithms
};
