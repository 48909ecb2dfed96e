//! The steps of a method as bars along a minute line that counts from the
//! recipe's start: each as early as it can be, in the band of what has it in
//! hand, the tin's way first.
//!
//! The line is stretched where a name needs more room than its minutes have, for
//! all bands alike: what stands below one another happens at one time.

use std::fmt::Write;

use super::area::Area;
use crate::words;

/// What has a step in hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Band {
    /// Pupils at their worktop.
    Hands,
    /// The oven, whose cabinet stands round each bake.
    Oven,
    /// Nobody: it proves, rests or cools.
    ByItself,
}

impl Band {
    /// All, from the top.
    pub const ALL: [Self; 3] = [Self::Hands, Self::Oven, Self::ByItself];

    /// In a word or two.
    pub fn words(self) -> &'static str {
        match self {
            Self::Hands => "hands",
            Self::Oven => "oven",
            Self::ByItself => "by itself",
        }
    }

    /// Room above and below bars of a height, for what they stand in or on.
    fn room(self, height: f32) -> (f32, f32) {
        match self {
            Self::Hands => (0.0, 0.0),
            Self::Oven => (HEADROOM, HEADROOM + height),
            Self::ByItself => (0.0, LEGS),
        }
    }
}

/// From the top of a cabinet to what stands in it.
const HEADROOM: f32 = 3.0;
/// From a side of a cabinet to what stands in it.
const SIDES: f32 = 6.0;
/// Height of a rack.
pub const LEGS: f32 = 4.0;

/// A step: how long, how wide its words are, and what has it in hand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Usual minutes.
    pub minutes: f64,
    /// Least width of its bar.
    pub width: f32,
    /// Where it lies.
    pub band: Band,
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
    /// Between the end of a step and the start of the next.
    pub air: f32,
    /// Between the lanes of a band.
    pub between: f32,
    /// Between bands.
    pub apart: f32,
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
    /// The band it lies in.
    pub band: Band,
    /// Its lane there, from the worktop up or else from the top down.
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

    /// The cabinet round a bake, on whose one shelf, half way up, it stands.
    pub fn cabinet(&self) -> Area {
        let (above, below) = Band::Oven.room(self.height);
        let (x, w) = (self.x - SIDES, self.width + 2.0 * SIDES);
        Area { x, y: self.y - above, w, h: above + self.height + below }
    }
}

/// The picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StepGraph {
    /// Of each step.
    pub bars: Vec<StepBar>,
    /// The bands that have steps, from the top: upper and lower edge.
    pub bands: Vec<(Band, f32, f32)>,
    /// Minutes at which something starts or ends, and where they are.
    pub ticks: Vec<(f64, f32)>,
    /// Width of it all.
    pub width: f32,
    /// Height of it all.
    pub height: f32,
}

/// Shorter steps are drawn as long as this, in minutes.
const SHORTEST: f64 = 0.25;

/// Lays out steps, of which one may be the bake.
pub fn lay_out(steps: &[Step], bake: Option<usize>, waits: &[Wait], sizes: Sizes) -> StepGraph {
    if steps.is_empty() {
        return StepGraph::default();
    }
    let waits = without_rings(steps.len(), waits);
    let times = times(steps, &waits);
    let columns = Columns::of(steps, &times, sizes);
    let mut bars: Vec<StepBar> = times
        .iter()
        .zip(steps)
        .map(|(&(from, until), step)| {
            let (x, right) = (columns.starts(from), columns.ends(until));
            let (y, height, band, lane) = (0.0, sizes.height, step.band, 0);
            StepBar { x, y, width: right - x, height, band, lane, from, until }
        })
        .collect();
    take_lanes(&mut bars, bake, &waits);
    let bands = stack(&mut bars, sizes);
    StepGraph {
        width: bars.iter().map(StepBar::right).fold(0.0, f32::max),
        height: bands.last().map_or(sizes.head, |band| band.2),
        ticks: columns.ticks(),
        bars,
        bands,
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
        let mut seen = vec![false; steps];
        while let Some(at) = open.pop() {
            if std::mem::replace(&mut seen[at], true) {
                continue;
            }
            way[at] = true;
            let ends = waits.iter().map(|w| if back { (w.to, w.from) } else { (w.from, w.to) });
            open.extend(ends.filter(|e| e.0 == at).map(|e| e.1));
        }
    }
    way
}

/// None that would close a ring, the later ones going.
fn without_rings(steps: usize, waits: &[Wait]) -> Vec<Wait> {
    let mut kept: Vec<Wait> = Vec::new();
    for wait in waits.iter().filter(|w| w.from < steps && w.to < steps && w.from != w.to) {
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
    fn of(steps: &[Step], times: &[(f64, f64)], sizes: Sizes) -> Self {
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
            let air = if columns.at.is_empty() { 0.0 } else { sizes.air };
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

/// Gives every step the first free lane of its band: those on the tin's way come
/// first, clearing last.
fn take_lanes(bars: &mut [StepBar], bake: Option<usize>, waits: &[Wait]) {
    let way = tins_way(bars.len(), bake, waits);
    let mut order: Vec<usize> = (0..bars.len()).collect();
    order.sort_by(|&a, &b| {
        (!way[a]).cmp(&!way[b]).then(bars[a].from.total_cmp(&bars[b].from)).then(a.cmp(&b))
    });
    let mut placed: Vec<StepBar> = Vec::new();
    for step in order {
        let bar = &mut bars[step];
        let meets = |at: &StepBar| at.until > bar.from + SAME && bar.until > at.from + SAME;
        let mut taken: Vec<usize> =
            placed.iter().filter(|p| p.band == bar.band && meets(p)).map(|p| p.lane).collect();
        taken.sort_unstable();
        taken.dedup();
        // The first lane whose number is not among those taken.
        bar.lane = taken.iter().enumerate().take_while(|&(i, &lane)| i == lane).count();
        placed.push(*bar);
    }
}

/// Sets the heights of the bars, band below band; also where the bands lie.
fn stack(bars: &mut [StepBar], sizes: Sizes) -> Vec<(Band, f32, f32)> {
    let mut bands = Vec::new();
    let mut y = sizes.head + sizes.between;
    for band in Band::ALL {
        let lanes = bars.iter().filter(|b| b.band == band).map(|b| b.lane + 1).max();
        let Some(lanes) = lanes else { continue };
        if !bands.is_empty() {
            y += sizes.apart;
        }
        let top = y;
        let (above, below) = band.room(sizes.height);
        for row in 0..lanes {
            if row > 0 {
                y += sizes.between;
            }
            // The first lane stands on the worktop, right above the oven.
            let lane = if band == Band::Hands { lanes - 1 - row } else { row };
            for bar in bars.iter_mut().filter(|b| (b.band, b.lane) == (band, lane)) {
                bar.y = y + above;
            }
            y += above + sizes.height + below;
        }
        bands.push((band, top, y));
    }
    bands
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
