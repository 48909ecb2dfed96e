//! The steps of a method as small boxes in columns, each to the right of those
//! it comes after, with arrows between that cross no box.
//!
//! Columns by longest path; an arrow over several columns has a place of its
//! own in each; places within columns by the mean of the neighbours' (the
//! barycentre), up and down a few times, the order with the fewest crossings
//! kept; heights by least squares within that order.

use std::fmt::Write;

use crate::words;

/// One step comes after another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arrow {
    /// The earlier step.
    pub from: usize,
    /// The later one.
    pub to: usize,
    /// It may wait no longer than so many minutes.
    pub longest: Option<f64>,
}

/// Lengths, in whatever unit the painter uses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// Height of a box.
    pub height: f32,
    /// Between two columns, for the arrows.
    pub across: f32,
    /// Between two boxes of a column.
    pub between: f32,
}

/// A step in its place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StepBox {
    /// Left edge.
    pub x: f32,
    /// Upper edge.
    pub y: f32,
    /// Width, as handed in.
    pub width: f32,
    /// Height.
    pub height: f32,
    /// Its column, from the left.
    pub column: usize,
}

/// An arrow in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct ArrowLine {
    /// The earlier step.
    pub from: usize,
    /// The later one.
    pub to: usize,
    /// From the right edge of the one to the left edge of the other.
    pub points: Vec<(f32, f32)>,
    /// The longest wait, where there is one: the line is dashed.
    pub longest: Option<f64>,
}

/// The picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct StepGraph {
    /// Of each step.
    pub boxes: Vec<StepBox>,
    /// Of each arrow that goes from left to right; rings have one that does
    /// not, which is left out.
    pub arrows: Vec<ArrowLine>,
    /// Width of it all.
    pub width: f32,
    /// Height of it all.
    pub height: f32,
    /// How many pairs of arrows cross.
    pub crossings: usize,
}

/// Passes up and down the columns.
const PASSES: usize = 12;
/// Passes that set heights.
const HEIGHTS: usize = 8;

/// Lays out steps whose boxes are so wide.
pub fn lay_out(widths: &[f32], arrows: &[Arrow], sizes: Sizes) -> StepGraph {
    let arrows = without_rings(widths.len(), arrows);
    let mut places = Places::new(widths.len(), &arrows);
    let crossings = places.untangle();
    let centres = places.heights(sizes);
    picture(widths, &arrows, &places, &centres, sizes, crossings)
}

/// Each pair once, and none that would close a ring, the later ones going.
fn without_rings(steps: usize, arrows: &[Arrow]) -> Vec<Arrow> {
    let mut kept: Vec<Arrow> = Vec::new();
    for arrow in arrows.iter().filter(|a| a.from < steps && a.to < steps && a.from != a.to) {
        if let Some(there) = kept.iter_mut().find(|k| (k.from, k.to) == (arrow.from, arrow.to)) {
            there.longest = match (there.longest, arrow.longest) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
            continue;
        }
        let mut seen = vec![false; steps];
        let mut open = vec![arrow.to];
        while let Some(at) = open.pop() {
            if !std::mem::replace(&mut seen[at], true) {
                open.extend(kept.iter().filter(|k| k.from == at).map(|k| k.to));
            }
        }
        if !seen[arrow.from] {
            kept.push(*arrow);
        }
    }
    kept
}

/// Steps and the places of arrows in columns they pass; steps first.
struct Places {
    steps: usize,
    /// Of each place: the places left and right that it is joined to.
    left: Vec<Vec<usize>>,
    right: Vec<Vec<usize>>,
    /// Of each column: its places from the top.
    columns: Vec<Vec<usize>>,
    /// Of each arrow: the places it passes, both ends included.
    ways: Vec<Vec<usize>>,
}

impl Places {
    fn new(steps: usize, arrows: &[Arrow]) -> Self {
        let column = columns_of(steps, arrows);
        let count = column.iter().map(|c| c + 1).max().unwrap_or(0);
        let mut places = Self {
            steps,
            left: vec![Vec::new(); steps],
            right: vec![Vec::new(); steps],
            columns: vec![Vec::new(); count],
            ways: Vec::new(),
        };
        for (step, &at) in column.iter().enumerate() {
            places.columns[at].push(step);
        }
        for arrow in arrows {
            let mut way = vec![arrow.from];
            for passed in column[arrow.from] + 1..column[arrow.to] {
                let place = places.left.len();
                places.left.push(Vec::new());
                places.right.push(Vec::new());
                places.columns[passed].push(place);
                way.push(place);
            }
            way.push(arrow.to);
            for pair in way.windows(2) {
                places.right[pair[0]].push(pair[1]);
                places.left[pair[1]].push(pair[0]);
            }
            places.ways.push(way);
        }
        places
    }

    /// Orders the columns, and says how many crossings are left.
    fn untangle(&mut self) -> usize {
        let mut best = (self.crossings(), self.columns.clone());
        for pass in 0..PASSES {
            if best.0 == 0 {
                break;
            }
            let count = self.columns.len();
            for i in 1..count {
                let (column, joined) =
                    if pass % 2 == 0 { (i, &self.left) } else { (count - 1 - i, &self.right) };
                let beside = if pass % 2 == 0 { column - 1 } else { column + 1 };
                let ordered = by_barycentre(&self.columns[column], &self.columns[beside], joined);
                self.columns[column] = ordered;
            }
            let crossings = self.crossings();
            if crossings < best.0 {
                best = (crossings, self.columns.clone());
            }
        }
        self.columns = best.1;
        best.0
    }

    fn crossings(&self) -> usize {
        self.columns.windows(2).map(|pair| self.crossings_between(&pair[0], &pair[1])).sum()
    }

    fn crossings_between(&self, a: &[usize], b: &[usize]) -> usize {
        let place = |of: usize| b.iter().position(|&x| x == of);
        let ends: Vec<(usize, usize)> = a
            .iter()
            .enumerate()
            .flat_map(|(i, &from)| {
                self.right[from].iter().filter_map(move |&to| Some((i, place(to)?)))
            })
            .collect();
        let crossed = |(i, x): (usize, &(usize, usize))| {
            ends[i + 1..]
                .iter()
                .filter(|y| (x.0 < y.0 && x.1 > y.1) || (x.0 > y.0 && x.1 < y.1))
                .count()
        };
        ends.iter().enumerate().map(crossed).sum()
    }

    /// The middles of all places, from the top of the picture.
    fn heights(&self, sizes: Sizes) -> Vec<f32> {
        let apart = |a: usize, b: usize| {
            let half = |place: usize| if place < self.steps { 0.5 * sizes.height } else { 0.0 };
            // Arrows may run closer to each other than boxes may stand.
            let both_lines = a >= self.steps && b >= self.steps;
            half(a) + half(b) + if both_lines { 0.5 * sizes.between } else { sizes.between }
        };
        let mut centres = vec![0.0_f32; self.left.len()];
        for column in &self.columns {
            let mut at = 0.0;
            for pair in column.windows(2) {
                at += apart(pair[0], pair[1]);
                centres[pair[1]] = at;
            }
        }
        for pass in 0..HEIGHTS {
            let rightwards = pass % 2 == 0;
            let count = self.columns.len();
            for i in 0..count {
                let column = &self.columns[if rightwards { i } else { count - 1 - i }];
                let joined = if rightwards { &self.left } else { &self.right };
                let wanted: Vec<f32> = column
                    .iter()
                    .map(|&p| mean(&joined[p], &centres).unwrap_or(centres[p]))
                    .collect();
                let gaps: Vec<f32> =
                    column.windows(2).map(|pair| apart(pair[0], pair[1])).collect();
                for (&place, centre) in column.iter().zip(nearest(&wanted, &gaps)) {
                    centres[place] = centre;
                }
            }
        }
        let top = (0..centres.len())
            .map(|p| centres[p] - if p < self.steps { 0.5 * sizes.height } else { 0.0 })
            .fold(f32::INFINITY, f32::min);
        if top.is_finite() {
            centres.iter_mut().for_each(|c| *c -= top);
        }
        centres
    }
}

/// The column of each step: after the longest way to it.
fn columns_of(steps: usize, arrows: &[Arrow]) -> Vec<usize> {
    let mut column = vec![0; steps];
    // Without rings no way is longer than the steps.
    for _ in 0..steps {
        let mut moved = false;
        for arrow in arrows {
            if column[arrow.to] <= column[arrow.from] {
                column[arrow.to] = column[arrow.from] + 1;
                moved = true;
            }
        }
        if !moved {
            break;
        }
    }
    column
}

/// A column ordered by the mean places of what it is joined to on one side;
/// what is joined to nothing there stays where it is.
fn by_barycentre(column: &[usize], beside: &[usize], joined: &[Vec<usize>]) -> Vec<usize> {
    let place = |of: &usize| beside.iter().position(|x| x == of);
    #[allow(clippy::cast_precision_loss)] // places in a column
    let mean = |of: usize| {
        let places: Vec<usize> = joined[of].iter().filter_map(place).collect();
        (!places.is_empty()).then(|| places.iter().sum::<usize>() as f32 / places.len() as f32)
    };
    let free: Vec<bool> = column.iter().map(|&p| mean(p).is_some()).collect();
    let mut ordered: Vec<(f32, usize)> =
        column.iter().filter_map(|&p| mean(p).map(|m| (m, p))).collect();
    ordered.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut next = ordered.into_iter().map(|(_, p)| p);
    let each = column.iter().zip(free);
    each.map(|(&p, free)| if free { next.next().unwrap_or(p) } else { p }).collect()
}

#[allow(clippy::cast_precision_loss)] // neighbours of a step
fn mean(places: &[usize], centres: &[f32]) -> Option<f32> {
    (!places.is_empty())
        .then(|| places.iter().map(|&p| centres[p]).sum::<f32>() / places.len() as f32)
}

/// The heights nearest to those wanted, by least squares, that keep the order
/// and the gaps: neighbours that would come too close are pooled.
#[allow(clippy::cast_precision_loss)] // places in a column
fn nearest(wanted: &[f32], gaps: &[f32]) -> Vec<f32> {
    let mut offset = vec![0.0_f32; wanted.len()];
    for (i, gap) in gaps.iter().enumerate() {
        offset[i + 1] = offset[i] + gap;
    }
    // Sum and number of each pool.
    let mut pools: Vec<(f32, usize)> = Vec::new();
    for (wanted, offset) in wanted.iter().zip(&offset) {
        let mut pool = (wanted - offset, 1);
        while let Some(&(sum, count)) = pools.last()
            && sum / count as f32 >= pool.0 / pool.1 as f32
        {
            pool = (pool.0 + sum, pool.1 + count);
            pools.pop();
        }
        pools.push(pool);
    }
    let levels = pools.iter().flat_map(|&(sum, count)| vec![sum / count as f32; count]);
    levels.zip(&offset).map(|(level, offset)| level + offset).collect()
}

fn picture(
    widths: &[f32],
    arrows: &[Arrow],
    places: &Places,
    centres: &[f32],
    sizes: Sizes,
    crossings: usize,
) -> StepGraph {
    let mut boxes =
        vec![StepBox { x: 0.0, y: 0.0, width: 0.0, height: 0.0, column: 0 }; widths.len()];
    // Left and right edge of each place's column.
    let mut edges = vec![(0.0_f32, 0.0_f32); centres.len()];
    let mut x = 0.0;
    for (number, column) in places.columns.iter().enumerate() {
        let steps = column.iter().filter(|&&p| p < widths.len());
        let width = steps.map(|&p| widths[p]).fold(0.0, f32::max);
        for &place in column {
            edges[place] = (x, x + width);
            if let Some(step) = boxes.get_mut(place) {
                let y = centres[place] - 0.5 * sizes.height;
                let (width, height) = (widths[place], sizes.height);
                *step = StepBox { x, y, width, height, column: number };
            }
        }
        x += width + sizes.across;
    }
    let mut lines = Vec::new();
    for (number, arrow) in arrows.iter().enumerate() {
        let way = &places.ways[number];
        let from = boxes[arrow.from];
        let starts = port(places, centres, &boxes, number, true);
        let ends = port(places, centres, &boxes, number, false);
        let mut points = vec![(from.x + from.width, starts), (edges[arrow.from].1, starts)];
        for &passed in &way[1..way.len() - 1] {
            points.extend([(edges[passed].0, centres[passed]), (edges[passed].1, centres[passed])]);
        }
        points.push((boxes[arrow.to].x, ends));
        points.dedup();
        lines.push(ArrowLine { from: arrow.from, to: arrow.to, points, longest: arrow.longest });
    }
    let bottom = |b: &StepBox| b.y + b.height;
    let lowest = centres.iter().copied().fold(0.0, f32::max);
    StepGraph {
        width: (x - sizes.across).max(0.0),
        height: boxes.iter().map(bottom).fold(lowest, f32::max),
        boxes,
        arrows: lines,
        crossings,
    }
}

/// Where at its box an arrow starts or ends: several share the edge in the
/// order of what they lead to.
#[allow(clippy::cast_precision_loss)] // arrows of a step
fn port(places: &Places, centres: &[f32], boxes: &[StepBox], arrow: usize, starts: bool) -> f32 {
    let next = |way: &[usize]| if starts { way[1] } else { way[way.len() - 2] };
    let end = |way: &[usize]| if starts { way[0] } else { way[way.len() - 1] };
    let step = end(&places.ways[arrow]);
    let ways = places.ways.iter().enumerate().filter(|(_, way)| end(way) == step);
    let mut all: Vec<(f32, usize)> = ways.map(|(i, way)| (centres[next(way)], i)).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    let place = all.iter().position(|(_, i)| *i == arrow).unwrap_or(0);
    let share = (place as f32 + 1.0) / (all.len() as f32 + 1.0);
    boxes[step].y + share * boxes[step].height
}

/// A step as it is spoken: "beat, 3 minutes, after collect tray, before fill
/// within 15 minutes".
pub fn spoken(step: usize, names: &[String], minutes: &str, arrows: &[Arrow]) -> String {
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
    let after: Vec<String> = arrows.iter().filter(|a| a.to == step).map(|a| name(a.from)).collect();
    if !after.is_empty() {
        let _ = write!(text, ", after {}", words::list(&after));
    }
    let before: Vec<String> = arrows
        .iter()
        .filter(|a| a.from == step)
        .map(|a| format!("{}{}", name(a.to), within(a.longest)))
        .collect();
    if !before.is_empty() {
        let _ = write!(text, ", before {}", words::list(&before));
    }
    text
}
