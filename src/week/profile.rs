//! How many of something are wanted from minute to minute.

use std::collections::BTreeMap;

use crate::units::{ClockTime, Minutes};

/// A stretch of a day through which a number stays the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Span {
    /// From, in minutes since midnight.
    pub from: Minutes,
    /// Until, likewise.
    pub until: Minutes,
    /// The number.
    pub count: u32,
}

impl Span {
    /// From when, by the clock.
    pub fn from_clock(&self) -> ClockTime {
        ClockTime::MIDNIGHT.after(self.from)
    }

    /// Until when, by the clock.
    pub fn until_clock(&self) -> ClockTime {
        ClockTime::MIDNIGHT.after(self.until)
    }

    /// How long it is.
    pub fn length(&self) -> Minutes {
        self.until - self.from
    }
}

/// A number over a day.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Profile(BTreeMap<Minutes, i64>);

impl Profile {
    /// So many more from one minute until another.
    pub fn add(&mut self, from: Minutes, until: Minutes, count: u32) {
        if from < until && count > 0 {
            *self.0.entry(from).or_default() += i64::from(count);
            *self.0.entry(until).or_default() -= i64::from(count);
        }
    }

    /// All of another beside this one.
    pub fn join(&mut self, other: &Profile) {
        other.0.iter().for_each(|(minute, change)| *self.0.entry(*minute).or_default() += change);
    }

    /// Stretches with more than none, in order, each as long as can be.
    pub fn spans(&self) -> Vec<Span> {
        let mut spans: Vec<Span> = Vec::new();
        let mut now = 0;
        let mut changes = self.0.iter().peekable();
        while let Some((&from, change)) = changes.next() {
            now += change;
            let count = u32::try_from(now.max(0)).unwrap_or(u32::MAX);
            let Some(&(&until, _)) = changes.peek() else { break };
            match spans.last_mut() {
                Some(last) if last.until == from && last.count == count => last.until = until,
                _ if count > 0 => spans.push(Span { from, until, count }),
                _ => {}
            }
        }
        spans
    }

    /// The number in a minute.
    pub fn at(&self, minute: Minutes) -> u32 {
        let sum: i64 = self.0.range(..=minute).map(|(_, change)| change).sum();
        u32::try_from(sum.max(0)).unwrap_or(u32::MAX)
    }

    /// What is above a number.
    #[must_use]
    pub fn above(&self, level: u32) -> Profile {
        self.with(|count| count.saturating_sub(level))
    }

    /// One wherever there is some.
    #[must_use]
    pub fn once(&self) -> Profile {
        self.with(|count| count.min(1))
    }

    fn with(&self, of: impl Fn(u32) -> u32) -> Profile {
        let mut all = Profile::default();
        self.spans().iter().for_each(|span| all.add(span.from, span.until, of(span.count)));
        all
    }

    /// All minutes, each times its number.
    pub fn minutes(&self) -> i64 {
        let of = |s: &Span| i64::from(s.length().get()) * i64::from(s.count);
        self.spans().iter().map(of).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn spans(profile: &Profile) -> Vec<(i32, i32, u32)> {
        profile.spans().iter().map(|s| (s.from.get(), s.until.get(), s.count)).collect()
    }

    fn profile(of: &[(i32, i32, u32)]) -> Profile {
        let mut all = Profile::default();
        of.iter().for_each(|&(a, b, n)| all.add(Minutes::new(a), Minutes::new(b), n));
        all
    }

    #[test]
    fn numbers_add_up_minute_by_minute() {
        let all = profile(&[(600, 610, 10), (605, 615, 8), (620, 630, 1), (630, 640, 1)]);
        let expected = [(600, 605, 10), (605, 610, 18), (610, 615, 8), (620, 640, 1)];
        assert_eq!(spans(&all), expected);
        assert_eq!(spans(&all.above(10)), [(605, 610, 8)]);
        assert_eq!(spans(&all.once()), [(600, 615, 1), (620, 640, 1)]);
        assert_eq!((all.at(Minutes::new(609)), all.at(Minutes::new(615))), (18, 0));
        assert_eq!(all.minutes(), 50 + 90 + 40 + 20);
        let mut twice = all.clone();
        twice.join(&all);
        assert_eq!(twice.minutes(), 2 * all.minutes());
        assert_eq!(spans(&profile(&[(5, 5, 3), (7, 6, 1), (1, 2, 0)])), []);
    }
}
