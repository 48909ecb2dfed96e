//! The standard scheduling problem: activities of fixed length with lags
//! between their starts, resources of which each takes a fixed amount, and the
//! earliest finish wanted.

use ovenbell::graph::closure::Closure;

/// Something that takes time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Activity {
    /// How long it takes; 0 or more.
    pub minutes: i32,
    /// It starts no earlier.
    pub earliest: i32,
    /// It starts no later, if given.
    pub latest: Option<i32>,
}

impl Activity {
    /// An activity that may start at 0 or any time later.
    pub fn lasting(minutes: i32) -> Self {
        Self { minutes, earliest: 0, latest: None }
    }
}

/// `start(to) ≥ start(from) + least`. A negative `least` is a longest lag:
/// `start(from) ≤ start(to) - least`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Lag {
    /// Position of the one activity.
    pub from: usize,
    /// Position of the other.
    pub to: usize,
    /// Least time from start to start.
    pub least: i32,
}

/// Something of which there is so much at any time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Resource {
    /// How much there is.
    pub capacity: i32,
    /// Which activities take how much of it while they last.
    pub demands: Vec<(usize, i32)>,
}

/// A problem. Lags may form cycles.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Scheduling {
    /// The activities.
    pub activities: Vec<Activity>,
    /// The lags between them.
    pub lags: Vec<Lag>,
    /// The resources.
    pub resources: Vec<Resource>,
    /// Pairs of activities that must not overlap. What takes no time overlaps
    /// nothing.
    pub apart: Vec<(usize, usize)>,
}

/// A start for every activity.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Schedule {
    /// Start of each activity.
    pub starts: Vec<i32>,
    /// When the last one ends.
    pub finish: i32,
}

impl Scheduling {
    /// When the last activity ends.
    pub fn finish(&self, starts: &[i32]) -> i32 {
        self.activities.iter().zip(starts).map(|(a, &s)| s + a.minutes).max().unwrap_or(0)
    }

    /// Whether starts keep every window, lag, resource and pair. Independent
    /// of how they were found: nothing is handed out before it passed this.
    pub fn keeps(&self, starts: &[i32]) -> bool {
        starts.len() == self.activities.len()
            && self
                .activities
                .iter()
                .zip(starts)
                .all(|(a, &s)| a.earliest <= s && a.latest.is_none_or(|latest| s <= latest))
            && self.lags.iter().all(|l| starts[l.to] >= starts[l.from] + l.least)
            && self.resources.iter().all(|r| self.keeps_resource(r, starts))
            && self.apart.iter().all(|&(a, b)| {
                let (x, y) = (self.activities[a].minutes, self.activities[b].minutes);
                x == 0 || y == 0 || starts[a] + x <= starts[b] || starts[b] + y <= starts[a]
            })
    }

    fn keeps_resource(&self, resource: &Resource, starts: &[i32]) -> bool {
        // Most is in use at the start of some activity.
        resource.demands.iter().filter(|&&(a, _)| self.activities[a].minutes > 0).all(|&(at, _)| {
            let now = starts[at];
            let running = |&&(a, _): &&(usize, i32)| {
                starts[a] <= now && now < starts[a] + self.activities[a].minutes
            };
            let in_use = resource.demands.iter().filter(running).map(|d| d.1);
            in_use.fold(0, i32::saturating_add) <= resource.capacity
        })
    }

    /// No schedule that ends as early as can be ends later: every activity is
    /// put after all before it by the longest lag that binds them.
    pub(super) fn horizon(&self) -> i32 {
        let longest = |i: usize| {
            let lags = self.lags.iter().filter(|l| l.from == i).map(|l| l.least);
            lags.fold(self.activities[i].minutes, i32::max).max(0)
        };
        let first = self.activities.iter().map(|a| a.earliest).max().unwrap_or(0).max(0);
        (0..self.activities.len()).map(longest).fold(first, i32::saturating_add)
    }

    /// The lags and windows of all, closed.
    pub(super) fn closure(&self, finish_by: i32) -> Closure {
        let mut closure = Closure::new(self.activities.len());
        for lag in &self.lags {
            closure.bound(lag.from, lag.to, lag.least);
        }
        for (i, activity) in self.activities.iter().enumerate() {
            closure.not_before(i, activity.earliest);
            let latest = activity.latest.unwrap_or(i32::MAX).min(finish_by - activity.minutes);
            closure.not_after(i, latest);
        }
        closure
    }
}
