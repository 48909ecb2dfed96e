//! Threads between the steps of a method: out of a step's end, along between two
//! lanes, and into what waits for it. Where a bar is in the way a thread goes
//! under it, and is seen again on the other side.

use super::step_graph::{Sizes, StepBar, Wait};

/// A wait in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Thread {
    /// The earlier step.
    pub from: usize,
    /// The one that waits for it.
    pub to: usize,
    /// From the right edge of the one to the left edge of the other, in the
    /// pieces that are seen.
    pub pieces: Vec<Vec<(f32, f32)>>,
    /// The longest wait, where there is one: the thread is dashed.
    pub longest: Option<f64>,
}

impl Thread {
    /// How many bars it goes under.
    pub fn passes(&self) -> usize {
        self.pieces.len().saturating_sub(1)
    }
}

/// How far into the air threads go out, and from how far they come in.
const OUT: f32 = 3.0;
const IN: f32 = 7.0;

/// How a thread goes.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Way {
    /// Straight on in its lane.
    Straight,
    /// Along above the lane of this number, or below all for the number after
    /// the last.
    Along(usize),
}

/// Where bars go out and in, before heights are known: all that matters for
/// what is in the way.
struct Ends {
    out: f32,
    into: f32,
}

fn ends(bars: &[StepBar], wait: &Wait) -> Ends {
    // What starts at the same minute starts at one place.
    let air = bars[wait.to].x - gap_before(bars, wait.to);
    Ends { out: bars[wait.from].right() + OUT, into: air + IN }
}

/// Width of the air before a step: back to the latest end by then.
fn gap_before(bars: &[StepBar], step: usize) -> f32 {
    let x = bars[step].x;
    let ends = bars.iter().map(StepBar::right).filter(|&right| right < x);
    x - ends.fold(0.0, f32::max)
}

/// Bars of a lane that are in the way at a place.
fn in_the_way(bars: &[StepBar], among: &[usize], lane: usize, x: f32) -> Vec<usize> {
    let there = |&i: &usize| bars[i].lane == lane && bars[i].x < x && x < bars[i].right();
    among.iter().copied().filter(there).collect()
}

/// Lanes between one and the space above the lane `along`.
fn between(lane: usize, along: usize) -> std::ops::Range<usize> {
    if along <= lane { along..lane } else { lane + 1..along }
}

/// The best way of a thread, and how many bars it goes under.
fn best_way(bars: &[StepBar], among: &[usize], wait: &Wait) -> (Way, usize) {
    let (from, to) = (&bars[wait.from], &bars[wait.to]);
    let lies_between = |&i: &usize| {
        bars[i].lane == from.lane && bars[i].x >= from.right() && bars[i].right() <= to.x
    };
    if from.lane == to.lane && !among.iter().any(lies_between) {
        return (Way::Straight, 0);
    }
    let ends = ends(bars, wait);
    let lanes = among.iter().map(|&i| bars[i].lane + 1).max().unwrap_or(0);
    let under = |along: usize| {
        let under = |lane, x| {
            between(lane, along).map(|l| in_the_way(bars, among, l, x).len()).sum::<usize>()
        };
        under(from.lane, ends.out) + under(to.lane, ends.into)
    };
    let far = |along: usize| {
        let far = |lane: usize| between(lane, along).len();
        far(from.lane) + far(to.lane)
    };
    let ways = (0..=lanes).map(|along| (under(along), far(along), along));
    let (under, _, along) = ways.min().unwrap_or((0, 0, 0));
    (Way::Along(along), under)
}

/// How many bars all threads between some steps go under.
pub(super) fn hidden(bars: &[StepBar], among: &[usize], waits: &[Wait]) -> usize {
    let all = waits.iter().filter(|w| among.contains(&w.from) && among.contains(&w.to));
    all.map(|wait| best_way(bars, among, wait).1).sum()
}

/// Sets the heights of the bars and lays the threads; also how high it all is.
pub(super) fn lay(bars: &mut [StepBar], waits: &[Wait], sizes: Sizes) -> (Vec<Thread>, f32) {
    let among: Vec<usize> = (0..bars.len()).collect();
    let ways: Vec<Way> = waits.iter().map(|wait| best_way(bars, &among, wait).0).collect();
    let lanes = bars.iter().map(|b| b.lane + 1).max().unwrap_or(0);
    let (tracks, counts) = tracks(bars, waits, &ways, lanes);
    let mut spaces = Vec::new();
    let mut y = sizes.head;
    #[allow(clippy::cast_precision_loss)] // threads side by side
    for (lane, &count) in counts.iter().enumerate() {
        spaces.push(y + 0.5 * sizes.between);
        // The last space is there only for threads.
        let more = count.saturating_sub(1) as f32 * sizes.track;
        y += if lane == lanes && count == 0 { 0.0 } else { sizes.between + more };
        for bar in bars.iter_mut().filter(|b| b.lane == lane) {
            bar.y = y;
        }
        y += if lane < lanes { sizes.height } else { 0.0 };
    }
    let threads = waits.iter().zip(&ways).zip(&tracks).map(|((wait, way), &track)| {
        let (from, to) = (bars[wait.from], bars[wait.to]);
        let start = (from.right(), from.middle());
        let end = (to.x, to.middle());
        #[allow(clippy::cast_precision_loss)] // threads side by side
        let pieces = match *way {
            Way::Straight => vec![vec![start, end]],
            Way::Along(along) => {
                let height = spaces[along] + track as f32 * sizes.track;
                bent(bars, &ends(bars, wait), (start, end), height)
            }
        };
        Thread { from: wait.from, to: wait.to, pieces, longest: wait.longest }
    });
    let threads = threads.collect();
    (threads, y)
}

/// Of each thread: its track among those that run in the same space; of each
/// space: how many tracks it has.
fn tracks(
    bars: &[StepBar],
    waits: &[Wait],
    ways: &[Way],
    lanes: usize,
) -> (Vec<usize>, Vec<usize>) {
    let mut taken: Vec<Vec<Vec<(f32, f32)>>> = vec![Vec::new(); lanes + 1];
    let mut tracks = Vec::new();
    for (wait, way) in waits.iter().zip(ways) {
        let Way::Along(along) = *way else {
            tracks.push(0);
            continue;
        };
        let ends = ends(bars, wait);
        let here = &mut taken[along];
        let free = |track: &Vec<(f32, f32)>| {
            track.iter().all(|&(from, to)| ends.into + OUT < from || to + OUT < ends.out)
        };
        let track = here.iter().position(free).unwrap_or_else(|| {
            here.push(Vec::new());
            here.len() - 1
        });
        here[track].push((ends.out, ends.into));
        tracks.push(track);
    }
    (tracks, taken.iter().map(Vec::len).collect())
}

/// A thread with its two corners, cut where it goes under bars.
fn bent(
    bars: &[StepBar],
    ends: &Ends,
    (start, end): ((f32, f32), (f32, f32)),
    height: f32,
) -> Vec<Vec<(f32, f32)>> {
    let mut done = Vec::new();
    let mut piece = vec![start];
    upright(bars, &mut done, &mut piece, (ends.out, start.1, height));
    upright(bars, &mut done, &mut piece, (ends.into, height, end.1));
    piece.push(end);
    done.push(piece);
    done
}

/// Goes on from one height to another at a place, in several pieces where bars
/// are in the way.
fn upright(
    bars: &[StepBar],
    done: &mut Vec<Vec<(f32, f32)>>,
    piece: &mut Vec<(f32, f32)>,
    (x, from, until): (f32, f32, f32),
) {
    piece.push((x, from));
    let (top, bottom) = (from.min(until), from.max(until));
    let is_under = |b: &&StepBar| b.x < x && x < b.right() && b.y > top && b.y + b.height < bottom;
    let mut under: Vec<(f32, f32)> =
        bars.iter().filter(is_under).map(|b| (b.y, b.y + b.height)).collect();
    under.sort_by(|a, b| a.0.total_cmp(&b.0));
    if until < from {
        under = under.into_iter().rev().map(|(near, far)| (far, near)).collect();
    }
    for (near, far) in under {
        piece.push((x, near));
        done.push(std::mem::replace(piece, vec![(x, far)]));
    }
    piece.push((x, until));
}
