//! The aims of a plan in their order, as a score that sorts.

/// How good a plan is; fields in the order in which they count.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Score {
    /// Groups that are to be served before all others and are not.
    pub before_all_left: u32,
    /// Groups that take part and are not served.
    pub not_served: u32,
    /// Departures from the teacher's first choices.
    pub departures: u64,
    /// Shortfall of the wanted spare of the worst group, in minutes.
    pub shortfall: i32,
    /// Oven calls.
    pub calls: u32,
    /// Latest ready, in minutes from its period's start bell.
    pub latest: i32,
    /// Sum of ready times, in minutes.
    pub sum: i64,
    /// Groups that bake at another temperature than their tin's own. No aim,
    /// but nobody wants an odd temperature that gains nothing.
    pub off_heat: u32,
}

/// The least number of stretches of `call` minutes that cover all minutes of
/// loading. `loading` is sorted here.
pub fn oven_calls(loading: &mut [i32], call: i32) -> u32 {
    loading.sort_unstable();
    let mut calls = 0;
    let mut covered_until = i32::MIN;
    for &minute in loading.iter() {
        if minute >= covered_until {
            calls += 1;
            covered_until = minute.saturating_add(call);
        }
    }
    calls
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn calls_cover_minutes_greedily() {
        assert_eq!(oven_calls(&mut [], 3), 0);
        assert_eq!(oven_calls(&mut [22, 22, 24, 23], 3), 1);
        assert_eq!(oven_calls(&mut [22, 25], 3), 2);
        assert_eq!(oven_calls(&mut [30, 22, 24, 26], 3), 3);
    }

    #[test]
    fn fields_count_in_order() {
        let base = Score {
            before_all_left: 0,
            not_served: 0,
            departures: 5,
            shortfall: 9,
            calls: 9,
            latest: 9,
            sum: 9,
            off_heat: 0,
        };
        let served_less = Score { not_served: 1, departures: 0, ..base };
        assert!(base < served_less);
        assert!(Score { departures: 4, shortfall: 99, ..base } < base);
    }
}
