//! Stretches of time, and sweeps over them. A plan may hold any number a
//! minute can be, so sums are done in 64 bits and no loop runs over minutes.

use crate::units::{Minute, Minutes};

/// A point in time as a wide number, in minutes from the first start bell.
pub(super) fn wide(minute: Minute) -> i64 {
    i64::from(minute.get())
}

/// Back from a wide number; what a `Minute` cannot hold is cut.
pub(super) fn to_minute(minute: i64) -> Minute {
    Minute::new(to_i32(minute))
}

/// A length of time in a number as wide; what `Minutes` cannot hold is cut.
pub(super) fn to_minutes(length: i64) -> Minutes {
    Minutes::new(to_i32(length))
}

/// The nearest number of 32 bits.
pub(super) fn to_i32(number: i64) -> i32 {
    i32::try_from(number).unwrap_or(if number < 0 { i32::MIN } else { i32::MAX })
}

/// From `start` (inclusive) to `end` (exclusive), in minutes from the first
/// start bell. Empty if it ends at or before its start.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Span {
    pub(super) start: i64,
    pub(super) end: i64,
}

impl Span {
    /// Its first minute.
    pub fn first(self) -> Minute {
        to_minute(self.start)
    }

    /// The minute after its last.
    pub fn over(self) -> Minute {
        to_minute(self.end)
    }

    pub(super) fn of(start: Minute, end: Minute) -> Self {
        Self { start: wide(start), end: wide(end) }
    }

    /// How many minutes; below nought if it ends before it starts.
    pub(super) fn length(self) -> i64 {
        self.end - self.start
    }

    /// The same as a length of time.
    pub(super) fn minutes(self) -> Minutes {
        to_minutes(self.length())
    }

    pub(super) fn is_empty(self) -> bool {
        self.end <= self.start
    }

    /// Whether the two share a minute.
    pub(super) fn meets(self, other: Span) -> bool {
        self.start.max(other.start) < self.end.min(other.end)
    }

    /// Whether this one lies within the other.
    pub(super) fn within(self, other: Span) -> bool {
        other.start <= self.start && self.end <= other.end
    }
}

/// One thing in use, by what is busy with it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Busy<K, W> {
    /// The thing of which there is only one.
    pub(super) thing: K,
    /// When.
    pub(super) span: Span,
    /// By what.
    pub(super) by: W,
}

/// Calls `found` with two uses of one thing in one minute: for every use that
/// begins before an earlier one is over, once.
pub(super) fn clashes<K: Ord + Copy, W: Copy>(
    mut busy: Vec<Busy<K, W>>,
    mut found: impl FnMut(Busy<K, W>, Busy<K, W>),
) {
    busy.retain(|b| !b.span.is_empty());
    busy.sort_by_key(|b| (b.thing, b.span));
    let mut last: Option<Busy<K, W>> = None;
    for next in busy {
        if let Some(held) = last.filter(|l| l.thing == next.thing) {
            if next.span.start < held.span.end {
                found(held, next);
            }
            if held.span.end > next.span.end {
                continue; // the earlier one is still the last to end
            }
        }
        last = Some(next);
    }
}

/// The first minute of `span` that none of `stretches` covers. They must be
/// sorted by their start.
pub(super) fn first_uncovered(span: Span, stretches: &[Span]) -> Option<i64> {
    let mut covered_to = span.start;
    for stretch in stretches {
        if stretch.start > covered_to {
            break;
        }
        covered_to = covered_to.max(stretch.end);
    }
    (covered_to < span.end).then_some(covered_to)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn span(start: i64, end: i64) -> Span {
        Span { start, end }
    }

    #[test]
    fn empty_spans_meet_nothing() {
        assert!(span(0, 5).meets(span(4, 9)));
        assert!(!span(0, 5).meets(span(5, 9)));
        assert!(!span(3, 3).meets(span(0, 9)));
        assert!(!span(6, 2).meets(span(0, 9)));
    }

    #[test]
    fn cover_is_joined_from_several_stretches() {
        let hours = [span(0, 10), span(5, 8), span(10, 20), span(25, 30)];
        assert_eq!(first_uncovered(span(2, 20), &hours), None);
        assert_eq!(first_uncovered(span(2, 26), &hours), Some(20));
        assert_eq!(first_uncovered(span(-1, 3), &hours), Some(-1));
        assert_eq!(first_uncovered(span(4, 4), &[]), None);
    }

    #[test]
    fn a_long_use_clashes_with_every_later_one_it_outlasts() {
        let uses = [(1, 0, 100), (1, 10, 20), (1, 30, 40), (2, 0, 10), (1, 100, 110)];
        let busy = uses
            .iter()
            .map(|&(thing, start, end)| Busy { thing, span: span(start, end), by: start })
            .collect();
        let mut seen = Vec::new();
        clashes(busy, |a, b| seen.push((a.by, b.by)));
        assert_eq!(seen, [(0, 10), (0, 30)]);
    }

    fn any_spans() -> impl Strategy<Value = Vec<Span>> {
        prop::collection::vec((0..20_i64, -2..8_i64), 0..8)
            .prop_map(|spans| spans.iter().map(|&(s, d)| span(s, s + d)).collect())
    }

    proptest! {
        #[test]
        fn sweeps_agree_with_looking_at_every_minute(spans in any_spans(), over in (0..20_i64, 0..8_i64)) {
            let holding = |m: i64| spans.iter().filter(|s| s.start <= m && m < s.end).count();
            let busy = spans.iter().map(|&span| Busy { thing: 0, span, by: () }).collect();
            let mut found = Vec::new();
            clashes(busy, |_, b| found.push(b.span.start));
            let first = (0..40).find(|&m| holding(m) > 1);
            prop_assert_eq!(found.first().copied(), first);

            let over = span(over.0, over.0 + over.1);
            let mut sorted = spans.clone();
            sorted.sort_unstable();
            let uncovered = (over.start..over.end).find(|&m| holding(m) == 0);
            prop_assert_eq!(first_uncovered(over, &sorted), uncovered);
        }
    }
}
