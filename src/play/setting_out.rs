//! Setting out for several lessons by one pair of hands.
//!
//! It can be done at any minute before its lesson's bell, so it is laid as late as
//! can be, the latest lesson's last. With the hours of one adult and no other claims
//! that is exact: if it does not fit so, it fits in no way.

use crate::units::{ClockTime, Minutes};

/// Setting out that is to be laid.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ToSetOut {
    /// How long it takes.
    pub minutes: Minutes,
    /// The bell by which it must be done, in minutes since midnight.
    pub until: Minutes,
}

/// When something is set out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SetOut {
    /// How long it takes.
    pub minutes: Minutes,
    /// For so many of these minutes there is time.
    pub there: Minutes,
    /// When it begins, laid as late as can be, or as much of it as there is time for;
    /// `None` if there is time for nothing.
    pub begins: Option<ClockTime>,
    /// The bell by which it must be done.
    pub until: ClockTime,
}

impl SetOut {
    /// When it must have begun; `None` if there is no time for some of it.
    pub fn start_by(&self) -> Option<ClockTime> {
        self.begins.filter(|_| self.there == self.minutes)
    }

    /// When it begins; where there is time for nothing, when it would have to.
    pub fn at_the_latest(&self) -> ClockTime {
        let latest = self.until.minutes_since(ClockTime::MIDNIGHT) - self.minutes;
        self.begins.unwrap_or_else(|| ClockTime::MIDNIGHT.after(latest))
    }
}

const MINUTE: Minutes = Minutes::new(1);

/// Setting out laid as late as can be, in the order of its bells, in the minutes in
/// which hands are free for it; what comes first of a bell is done first.
pub fn set_out(work: &[ToSetOut], is_free: &dyn Fn(usize, Minutes) -> bool) -> Vec<SetOut> {
    let mut left: Vec<Minutes> = work.iter().map(|of| of.minutes).collect();
    let mut begun: Vec<Option<Minutes>> = vec![None; work.len()];
    let mut minute = work.iter().map(|of| of.until).max().unwrap_or_default();
    while minute > Minutes::ZERO && left.iter().any(|l| *l > Minutes::ZERO) {
        minute = minute - MINUTE;
        let may =
            |&i: &usize| work[i].until > minute && left[i] > Minutes::ZERO && is_free(i, minute);
        if let Some(i) = (0..work.len()).rev().find(may) {
            left[i] = left[i] - MINUTE;
            begun[i] = Some(minute);
        }
    }
    let clock = |minute| ClockTime::MIDNIGHT.after(minute);
    let laid = work.iter().enumerate().map(|(i, of)| SetOut {
        minutes: of.minutes,
        there: of.minutes - left[i],
        begins: begun[i].map(clock),
        until: clock(of.until),
    });
    laid.collect()
}
