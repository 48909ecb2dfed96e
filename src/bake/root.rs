//! Where a function changes its sign.

/// More steps than halving needs to get from any two numbers to neighbours.
const MOST_STEPS: u32 = 2200;

/// The sign change of `f` between `low` and `high`, to the last digits of a
/// double. The caller knows that `f` has opposite signs there; an `f` of zero
/// at `low` counts as the sign it has just above.
///
/// Inverse quadratic interpolation where three points allow it, else halving:
/// Chandrupatla, Advances in Engineering Software 28 (1997), 145–149.
pub(crate) fn sign_change(low: f64, high: f64, f: impl Fn(f64) -> f64) -> f64 {
    // `a` is the newest point, `b` lies across the root, `c` is the one before.
    let (mut a, mut f_a) = (high, f(high));
    let (mut b, mut f_b) = (low, f(low));
    if (f_b > 0.0) == (f_a > 0.0) {
        f_b = -f_a;
    }
    let mut share = 0.5;
    for _ in 0..MOST_STEPS {
        let x = a + share * (b - a);
        let f_x = f(x);
        let (c, f_c) = if (f_x > 0.0) == (f_a > 0.0) {
            (a, f_a)
        } else {
            let across = (b, f_b);
            (b, f_b) = (a, f_a);
            across
        };
        (a, f_a) = (x, f_x);
        let best = if f_b.abs() < f_a.abs() { b } else { a };
        let least = 2.0 * f64::EPSILON * best.abs() / (b - a).abs();
        if f_a == 0.0 || least > 0.5 {
            return best;
        }
        let xi = (a - b) / (c - b);
        let phi = (f_a - f_b) / (f_c - f_b);
        let smooth = phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi;
        let next = if smooth {
            f_a / (f_b - f_a) * f_c / (f_b - f_c)
                + (c - a) / (b - a) * f_a / (f_c - f_a) * f_b / (f_c - f_b)
        } else {
            0.5
        };
        share = next.max(least).min(1.0 - least);
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_finds_the_root_of_two_either_way_up() {
        assert!((sign_change(0.0, 2.0, |x| x * x - 2.0) - 2.0_f64.sqrt()).abs() < 1e-15);
        assert!((sign_change(0.0, 2.0, |x| 2.0 - x * x) - 2.0_f64.sqrt()).abs() < 1e-15);
    }

    #[test]
    fn flat_and_steep_functions_and_a_nought_at_the_lower_end() {
        assert!((sign_change(0.0, 3.0, |x| (x - 1.0).powi(9)) - 1.0).abs() < 1e-3);
        assert!((sign_change(-4.0, 9.0, |x| (x - 1.0).cbrt()) - 1.0).abs() < 1e-12);
        assert!((sign_change(1e-3, 1e9, |x| x.ln() - 3.0) / 3.0_f64.exp() - 1.0).abs() < 1e-14);
        // −x·(1 − x): nought at 0, negative above it, positive beyond 1.
        assert!((sign_change(0.0, 1.5, |x| x * (x - 1.0)) - 1.0).abs() < 1e-14);
    }

    #[test]
    fn it_takes_few_steps() {
        let steps = std::cell::Cell::new(0);
        sign_change(0.0, std::f64::consts::FRAC_PI_2, |x| {
            steps.set(steps.get() + 1);
            x * x.sin() - x.cos()
        });
        assert!(steps.get() <= 16, "{}", steps.get());
    }
}
