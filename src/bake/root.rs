//! Where a function changes its sign.

/// The sign change of `f` between `low` and `high`, by halving until no
/// number lies between. The caller knows that `f` has opposite signs there;
/// an `f` of zero at `low` counts as the sign it has just above.
pub(crate) fn halve(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (low, high);
    let upper_sign = f(high) > 0.0;
    loop {
        let middle = low + (high - low) / 2.0;
        if middle <= low || middle >= high {
            return middle;
        }
        if (f(middle) > 0.0) == upper_sign {
            high = middle;
        } else {
            low = middle;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_finds_the_root_of_two_either_way_up() {
        assert!((halve(0.0, 2.0, |x| x * x - 2.0) - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((halve(0.0, 2.0, |x| 2.0 - x * x) - 2.0_f64.sqrt()).abs() < 1e-15);
    }
}
