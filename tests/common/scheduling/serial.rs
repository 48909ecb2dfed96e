//! Good schedules without proof, for problems whose lags run one way: each
//! activity in turn as early as lags and resources let it, then all pushed to
//! the end and back again, over many orders.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use super::problem::{Schedule, Scheduling};
use ovenbell::planner::exact::Limits;

/// Length of the list of past finishes an order is compared with.
const HISTORY: usize = 40;

/// The best schedule of so many orders, or until one ends by `enough` or a
/// limit is reached. `None` if lags run in circles or windows stand in the
/// way.
pub fn serial(
    problem: &Scheduling,
    orders: u32,
    enough: i32,
    seed: u64,
    limits: Limits<'_>,
) -> Option<Schedule> {
    let forwards = Project::new(problem)?;
    let backwards = Project::new(&forwards.mirrored(problem))?;
    let mut try_all = Orders {
        forwards,
        backwards,
        rng: Pcg64Mcg::seed_from_u64(seed),
        best: None,
        priorities: Vec::new(),
    };
    try_all.run(orders, enough, limits);
    let starts = try_all.best?;
    problem.keeps(&starts).then(|| Schedule { finish: problem.finish(&starts), starts })
}

/// One direction of a problem, in the form the generation of schedules wants.
struct Project {
    minutes: Vec<i32>,
    earliest: Vec<i32>,
    /// For each activity those it waits for, and how long after their start.
    before: Vec<Vec<(usize, i32)>>,
    after: Vec<Vec<usize>>,
    takes: Vec<Vec<(usize, i32)>>,
    capacity: Vec<i32>,
    /// Longest way from the start of each to the finish.
    tail: Vec<i32>,
    horizon: usize,
    /// Free of each resource in each minute.
    free: Vec<Vec<i32>>,
}

impl Project {
    fn new(problem: &Scheduling) -> Option<Self> {
        let n = problem.activities.len();
        let mut before = vec![Vec::new(); n];
        let mut after = vec![Vec::new(); n];
        for lag in &problem.lags {
            before[lag.to].push((lag.from, lag.least));
            after[lag.from].push(lag.to);
        }
        let mut takes = vec![Vec::new(); n];
        for (r, resource) in problem.resources.iter().enumerate() {
            for &(a, takes_of) in &resource.demands {
                if takes_of > resource.capacity {
                    return None;
                }
                takes[a].push((r, takes_of));
            }
        }
        let minutes: Vec<i32> = problem.activities.iter().map(|a| a.minutes).collect();
        let capacity: Vec<i32> = problem.resources.iter().map(|r| r.capacity).collect();
        let order = in_order(&before, &after)?;
        let mut tail = minutes.clone();
        for &a in order.iter().rev() {
            for &(b, least) in &before[a] {
                tail[b] = tail[b].max(least + tail[a]);
            }
        }
        let horizon = usize::try_from(problem.horizon()).ok()?;
        if !problem.apart.is_empty() || horizon > 100_000 {
            return None;
        }
        Some(Self {
            minutes,
            earliest: problem.activities.iter().map(|a| a.earliest).collect(),
            before,
            after,
            takes,
            free: capacity.iter().map(|&c| vec![c; horizon + 1]).collect(),
            capacity,
            tail,
            horizon,
        })
    }

    /// The same seen from the end.
    fn mirrored(&self, problem: &Scheduling) -> Scheduling {
        let mut mirrored = problem.clone();
        for lag in &mut mirrored.lags {
            lag.least += self.minutes[lag.to] - self.minutes[lag.from];
            std::mem::swap(&mut lag.from, &mut lag.to);
        }
        for activity in &mut mirrored.activities {
            activity.earliest = 0;
            activity.latest = None;
        }
        mirrored
    }

    /// Each activity, of those whose turn has come the one with the greatest
    /// priority, as early as it goes; `None` if the horizon is not enough.
    fn schedule(&mut self, priorities: &[i64], starts: &mut Vec<i32>) -> Option<i32> {
        let n = self.minutes.len();
        for (free, &capacity) in self.free.iter_mut().zip(&self.capacity) {
            free.fill(capacity);
        }
        starts.clear();
        starts.resize(n, 0);
        let mut waits: Vec<usize> = self.before.iter().map(Vec::len).collect();
        let mut open: Vec<usize> = (0..n).filter(|&a| waits[a] == 0).collect();
        let mut finish = 0;
        while !open.is_empty() {
            let next = (0..open.len()).max_by_key(|&i| (priorities[open[i]], open[i]))?;
            let a = open.swap_remove(next);
            let lags = self.before[a].iter().map(|&(b, least)| starts[b] + least);
            let earliest = lags.fold(self.earliest[a].max(0), i32::max);
            starts[a] = self.place(a, earliest)?;
            finish = finish.max(starts[a] + self.minutes[a]);
            for &b in &self.after[a] {
                waits[b] -= 1;
                if waits[b] == 0 {
                    open.push(b);
                }
            }
        }
        Some(finish)
    }

    fn place(&mut self, a: usize, earliest: i32) -> Option<i32> {
        let minutes = usize::try_from(self.minutes[a]).ok()?;
        let mut start = usize::try_from(earliest).ok()?;
        'later: loop {
            if start + minutes > self.horizon {
                return None;
            }
            for &(r, takes) in &self.takes[a] {
                let short = self.free[r][start..start + minutes].iter().rposition(|&f| f < takes);
                if let Some(short) = short {
                    start += short + 1;
                    continue 'later;
                }
            }
            break;
        }
        for &(r, takes) in &self.takes[a] {
            for free in &mut self.free[r][start..start + minutes] {
                *free -= takes;
            }
        }
        i32::try_from(start).ok()
    }
}

/// The activities, each after those it waits for; `None` if they run in a
/// circle.
fn in_order(before: &[Vec<(usize, i32)>], after: &[Vec<usize>]) -> Option<Vec<usize>> {
    let mut waits: Vec<usize> = before.iter().map(Vec::len).collect();
    let mut order: Vec<usize> = (0..before.len()).filter(|&a| waits[a] == 0).collect();
    let mut next = 0;
    while next < order.len() {
        for &b in &after[order[next]] {
            waits[b] -= 1;
            if waits[b] == 0 {
                order.push(b);
            }
        }
        next += 1;
    }
    (order.len() == before.len()).then_some(order)
}

struct Orders {
    forwards: Project,
    backwards: Project,
    rng: Pcg64Mcg,
    best: Option<Vec<i32>>,
    priorities: Vec<i64>,
}

impl Orders {
    fn run(&mut self, orders: u32, enough: i32, limits: Limits<'_>) {
        self.priorities = self.forwards.tail.iter().map(|&t| i64::from(t)).collect();
        let Some((mut best, starts)) = self.decode() else { return };
        self.best = Some(starts);
        let mut current = (best, self.priorities.clone());
        let mut history = [best; HISTORY];
        for i in 0..usize::try_from(orders).unwrap_or(usize::MAX) {
            if best <= enough || limits.over() {
                return;
            }
            self.priorities.clone_from(&current.1);
            self.change();
            let Some((finish, starts)) = self.decode() else { continue };
            let slot = i % HISTORY;
            if finish > current.0 && finish > history[slot] {
                continue;
            }
            history[slot] = finish;
            // The order in which things now start is the order to go on from.
            current = (finish, starts.iter().map(|&s| -i64::from(s)).collect());
            if finish < best {
                best = finish;
                self.best = Some(starts);
            }
        }
    }

    /// Two to four activities change their turns.
    fn change(&mut self) {
        let n = self.priorities.len();
        for _ in 0..self.rng.random_range(1..=2) {
            let (a, b) = (self.rng.random_range(0..n), self.rng.random_range(0..n));
            if self.rng.random_bool(0.5) {
                self.priorities.swap(a, b);
            } else {
                self.priorities[a] = self.priorities[b] + self.rng.random_range(-1..=1);
            }
        }
    }

    /// Forwards, pushed to the end, and back.
    fn decode(&mut self) -> Option<(i32, Vec<i32>)> {
        let mut starts = Vec::new();
        let mut finish = self.forwards.schedule(&self.priorities, &mut starts)?;
        let mut mirrored = Vec::new();
        for _ in 0..2 {
            let minutes = &self.forwards.minutes;
            let last_first: Vec<i64> =
                starts.iter().zip(minutes).map(|(&s, &m)| i64::from(s + m)).collect();
            let Some(length) = self.backwards.schedule(&last_first, &mut mirrored) else { break };
            let first_first: Vec<i64> =
                mirrored.iter().zip(minutes).map(|(&s, &m)| i64::from(s + m - length)).collect();
            let mut pushed = Vec::new();
            let Some(sooner) = self.forwards.schedule(&first_first, &mut pushed) else { break };
            if sooner >= finish {
                if sooner == finish {
                    starts = pushed;
                }
                break;
            }
            (finish, starts) = (sooner, pushed);
        }
        Some((finish, starts))
    }
}
