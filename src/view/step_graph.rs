//! The steps of a method as bars along a minute line that counts from the
//! recipe's start: each as early as it can be, in the lanes of the board, the
//! tin's way first. Threads lead from a step to what waits for it.
//!
//! The line is stretched where a name needs more room than its minutes have, for
//! all lanes alike: what stands below one another happens at one time.

use std::fmt::Write;

use super::step_threads::{self, Thread};
use crate::words;

/// A step: how long, and how wide its words are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Usual minutes.
    pub minutes: f64,
    /// Least width of its bar.
    pub width: f32,
}

/// One step waits for another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wait {
    /// The earlier step.
    pub from: usize,
    /// The one that waits for it.
    pub to: usize,
    /// At least so many minutes lie between them.
    pub least: Option<f64>,
    /// It may wait no longer than so many minutes.
    pub longest: Option<f64>,
}

/// Lengths, in whatever unit the painter uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// Height of the minute line.
    pub head: f32,
    /// Height of a bar.
    pub height: f32,
    /// Least width of a minute.
    pub minute: f32,
    /// Between the end of a step and the start of the next, for threads.
    pub air: f32,
    /// Likewise where a longest wait is written.
    pub told: f32,
    /// Between lanes, for threads.
    pub between: f32,
    /// Between threads that run side by side.
    pub track: f32,
}

/// A step in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StepBar {
    /// Left edge.
    pub x: f32,
    /// Upper edge.
    pub y: f32,
    /// Width.
    pub width: f32,
    /// Height.
    pub height: f32,
    /// Its lane, from the top.
    pub lane: usize,
    /// The minute at which it starts at the earliest.
    pub from: f64,
    /// The minute at which it is done then.
    pub until: f64,
}

impl StepBar {
    /// Right edge.
    pub fn right(&self) -> f32 {
        self.x + self.width
    }

    /// Half way down.
    pub fn middle(&self) -> f32 {
        self.y + 0.5 * self.height
    }
}

/// The picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StepGraph {
    /// Of each step.
    pub bars: Vec<StepBar>,
    /// Of each wait; of a ring one is left out.
    pub threads: Vec<Thread>,
    /// Minutes at which something starts or ends, and where they are.
    pub ticks: Vec<(f64, f32)>,
    /// Width of it all.
    pub width: f32,
    /// Height of it all.
    pub height: f32,
}

impl StepGraph {
    /// How often a thread goes under a bar.
    pub fn passes(&self) -> usize {
        self.threads.iter().map(Thread::passes).sum()
    }
}

/// Shorter steps are drawn as long as this, in minutes.
const SHORTEST: f64 = 0.25;
/// With more steps than this, lanes are taken as they come.
const MOST_WEIGHED: usize = 40;

/// Lays out steps, of which one may be the bake.
pub fn lay_out(steps: &[Step], bake: Option<usize>, waits: &[Wait], sizes: Sizes) -> StepGraph {
    if steps.is_empty() {
        return StepGraph::default();
    }
    let waits = without_rings(steps.len(), waits);
    let times = times(steps, &waits);
    let columns = Columns::of(steps, &times, &waits, sizes);
    let mut bars: Vec<StepBar> = times
        .iter()
        .map(|&(from, until)| {
            let (x, right) = (columns.starts(from), columns.ends(until));
            let (y, height, lane) = (0.0, sizes.height, 0);
            StepBar { x, y, width: right - x, height, lane, from, until }
        })
        .collect();
    take_lanes(&mut bars, bake, &waits);
    let (threads, bottom) = step_threads::lay(&mut bars, &waits, sizes);
    StepGraph {
        width: bars.iter().map(StepBar::right).fold(0.0, f32::max),
        height: bottom,
        ticks: columns.ticks(),
        bars,
        threads,
    }
}

/// Steps the bake waits for or that wait for it, which the tin or its mixture
/// goes through; all where nothing is baked.
pub fn tins_way(steps: usize, bake: Option<usize>, waits: &[Wait]) -> Vec<bool> {
    let Some(bake) = bake.filter(|&b| b < steps) else { return vec![true; steps] };
    let waits = without_rings(steps, waits);
    let mut way = vec![false; steps];
    for back in [true, false] {
        let mut open = vec![bake];
        while let Some(at) = open.pop() {
            way[at] = true;
            let ends = waits.iter().map(|w| if back { (w.to, w.from) } else { (w.from, w.to) });
            open.extend(ends.filter(|e| e.0 == at).map(|e| e.1));
        }
    }
    way
}

/// Each pair once, and none that would close a ring, the later ones going.
fn without_rings(steps: usize, waits: &[Wait]) -> Vec<Wait> {
    let mut kept: Vec<Wait> = Vec::new();
    for wait in waits.iter().filter(|w| w.from < steps && w.to < steps && w.from != w.to) {
        if let Some(there) = kept.iter_mut().find(|k| (k.from, k.to) == (wait.from, wait.to)) {
            there.longest = match (there.longest, wait.longest) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
            continue;
        }
        let mut seen = vec![false; steps];
        let mut open = vec![wait.to];
        while let Some(at) = open.pop() {
            if !std::mem::replace(&mut seen[at], true) {
                open.extend(kept.iter().filter(|k| k.from == at).map(|k| k.to));
            }
        }
        if !seen[wait.from] {
            kept.push(*wait);
        }
    }
    kept
}

/// From when until when each step lasts, if all start as early as they can.
fn times(steps: &[Step], waits: &[Wait]) -> Vec<(f64, f64)> {
    let lasts = |i: usize| steps[i].minutes.max(SHORTEST);
    let mut starts = vec![0.0_f64; steps.len()];
    // Without rings no chain is longer than the steps.
    for _ in 0..steps.len() {
        let mut moved = false;
        for wait in waits {
            let soonest = starts[wait.from] + lasts(wait.from) + wait.least.unwrap_or(0.0);
            if starts[wait.to] < soonest {
                starts[wait.to] = soonest;
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
    (0..steps.len()).map(|i| (starts[i], starts[i] + lasts(i))).collect()
}

/// Where minutes are: what ends at one, and what starts at it.
struct Columns {
    /// Minutes, where what ends then ends, and where what starts then starts.
    at: Vec<(f64, f32, f32)>,
}

/// Minutes closer than this are one.
const SAME: f64 = 1e-6;

impl Columns {
    fn of(steps: &[Step], times: &[(f64, f64)], waits: &[Wait], sizes: Sizes) -> Self {
        let mut minutes: Vec<f64> = times.iter().flat_map(|t| [t.0, t.1]).collect();
        minutes.sort_by(f64::total_cmp);
        minutes.dedup_by(|a, b| (*a - *b).abs() < SAME);
        let mut columns = Self { at: Vec::new() };
        for minute in minutes {
            let ends = times.iter().zip(steps).filter(|(t, _)| (t.1 - minute).abs() < SAME);
            let named = ends.map(|(t, step)| columns.starts(t.0) + step.width);
            #[allow(clippy::cast_possible_truncation)] // minutes of a lesson
            let run = columns.at.last().map(|l| l.2 + sizes.minute * (minute - l.0) as f32);
            let end = named.chain(run).fold(0.0, f32::max);
            let told =
                waits.iter().any(|w| w.longest.is_some() && (times[w.to].0 - minute).abs() < SAME);
            let air = match (columns.at.is_empty(), told) {
                (true, _) => 0.0,
                (false, true) => sizes.told,
                (false, false) => sizes.air,
            };
            columns.at.push((minute, end, end + air));
        }
        columns
    }

    fn place(&self, minute: f64) -> Option<&(f64, f32, f32)> {
        self.at.iter().find(|at| (at.0 - minute).abs() < SAME)
    }

    fn starts(&self, minute: f64) -> f32 {
        self.place(minute).map_or(0.0, |at| at.2)
    }

    fn ends(&self, minute: f64) -> f32 {
        self.place(minute).map_or(0.0, |at| at.1)
    }

    fn ticks(&self) -> Vec<(f64, f32)> {
        self.at.iter().map(|&(minute, end, start)| (minute, 0.5 * (end + start))).collect()
    }
}

/// Gives every step a lane: the longest way to and from the bake the first, the
/// others the free one that leaves most threads in sight, clearing last.
fn take_lanes(bars: &mut [StepBar], bake: Option<usize>, waits: &[Wait]) {
    let way = tins_way(bars.len(), bake, waits);
    let first = longest_way(bars, bake, waits);
    let mut order: Vec<usize> = (0..bars.len()).filter(|i| !first.contains(i)).collect();
    order.sort_by(|&a, &b| {
        (!way[a]).cmp(&!way[b]).then(bars[a].from.total_cmp(&bars[b].from)).then(a.cmp(&b))
    });
    let mut placed = first;
    for step in order {
        let most = placed.iter().map(|&p| bars[p].lane).max().unwrap_or(0);
        let apart = |a: &StepBar, b: &StepBar| a.until <= b.from + SAME || b.until <= a.from + SAME;
        let free = |lane: usize| {
            placed.iter().all(|&p| bars[p].lane != lane || apart(&bars[p], &bars[step]))
        };
        let open: Vec<usize> = (1..=most + 1).filter(|&lane| free(lane)).collect();
        placed.push(step);
        let best = if bars.len() > MOST_WEIGHED {
            open.first().copied()
        } else {
            open.into_iter().min_by_key(|&lane| {
                bars[step].lane = lane;
                (step_threads::hidden(bars, &placed, waits), lane)
            })
        };
        bars[step].lane = best.unwrap_or(most + 1);
    }
}

/// The way through the bake that takes longest, or the longest of all.
fn longest_way(bars: &[StepBar], bake: Option<usize>, waits: &[Wait]) -> Vec<usize> {
    let last = |of: &usize| bars[*of].until;
    let later = |a: &usize, b: &usize| last(a).total_cmp(&last(b)).then(b.cmp(a));
    let Some(middle) = bake.filter(|&b| b < bars.len()).or((0..bars.len()).max_by(later)) else {
        return Vec::new();
    };
    let mut way = vec![middle];
    let mut at = middle;
    while let Some(before) = waits.iter().filter(|w| w.to == at).map(|w| w.from).max_by(later) {
        way.push(before);
        at = before;
    }
    // What comes after it and ends last, and before that what that waits for.
    let after = tins_way(bars.len(), Some(middle), waits);
    let goes_on = |i: &usize| after[*i] && bars[*i].from + SAME >= bars[middle].until;
    let Some(mut at) = (0..bars.len()).filter(goes_on).max_by(later) else { return way };
    while at != middle {
        way.push(at);
        let before = waits.iter().filter(|w| w.to == at).map(|w| w.from);
        let Some(next) = before.filter(|&b| b == middle || goes_on(&b)).max_by(later) else {
            break;
        };
        at = next;
    }
    way
}

/// A step as it is spoken: "beat, 3 minutes, waits for collect tray, before
/// fill within 15 minutes".
pub fn spoken(step: usize, names: &[String], minutes: &str, waits: &[Wait]) -> String {
    let name = |i: usize| names.get(i).cloned().unwrap_or_default();
    let within = |longest: Option<f64>| match longest {
        Some(longest) if longest <= 0.0 => " at once".to_owned(),
        Some(1.0) => " within 1 minute".to_owned(),
        Some(longest) => format!(" within {} minutes", crate::units::plain_number(longest)),
        None => String::new(),
    };
    let mut text = name(step);
    if !minutes.is_empty() {
        let _ = write!(text, ", {minutes}");
    }
    let after: Vec<String> = waits.iter().filter(|w| w.to == step).map(|w| name(w.from)).collect();
    if !after.is_empty() {
        let _ = write!(text, ", waits for {}", words::list(&after));
    }
    let before: Vec<String> = waits
        .iter()
        .filter(|w| w.from == step)
        .map(|w| format!("{}{}", name(w.to), within(w.longest)))
        .collect();
    if !before.is_empty() {
        let _ = write!(text, ", before {}", words::list(&before));
    }
    text
}
