//! Halving an interval, the one numeric method that this room needs, and comparisons that keep not-a-number.

/// The larger of two; not a number if either is not.
pub(super) fn larger(one: f64, other: f64) -> f64 {
    if one.is_nan() || one > other { one } else { other }
}

/// The smaller of two; not a number if either is not.
pub(super) fn smaller(one: f64, other: f64) -> f64 {
    if one.is_nan() || one < other { one } else { other }
}

/// The last point between `low` and `high` at which `before` is true, to the last bit.
///
/// `before` is held to be true up to some point and false after it. If it is false throughout the answer is `low`.
pub(super) fn turning_point(low: f64, high: f64, before: impl Fn(f64) -> bool) -> f64 {
    let (mut low, mut high) = (low, high);
    for _ in 0..200 {
        let middle = low + (high - low) / 2.0;
        if !(low < middle && middle < high) {
            break;
        }
        if before(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}
