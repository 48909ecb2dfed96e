//! Where everything of a board is, in units of the painter: rows, ovens and
//! ribbons from the top, bars by the time scale.

use super::area::Area;
use super::board::{Bar, BarId, Board};
use super::odds::{LensOfRow, OddsOfBoard};
use super::overlay::Ghosts;
use super::scale::TimeScale;

/// Sizes of a board's parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// Height of a group's first lane.
    pub lane: f32,
    /// Height of its further lanes.
    pub under: f32,
    /// Height of another plan's first lane below a row's own.
    pub ghost: f32,
    /// Height of its further lanes.
    pub ghost_under: f32,
    /// Air between a row's own lanes and those of another plan.
    pub between: f32,
    /// Height of an oven's shelf, for each group that has tins there at one
    /// time.
    pub shelf: f32,
    /// Height of a ribbon.
    pub ribbon: f32,
    /// Air between rows.
    pub air: f32,
    /// Air between rows, ovens and ribbons.
    pub section: f32,
    /// Least height of a row or oven, for its two lines of text.
    pub least: f32,
}

impl Default for Sizes {
    fn default() -> Self {
        Self {
            lane: 17.0,
            under: 11.0,
            ghost: 15.0,
            ghost_under: 9.0,
            between: 3.0,
            shelf: 14.5,
            ribbon: 18.0,
            air: 6.0,
            section: 20.0,
            least: 34.0,
        }
    }
}

/// A board laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidOut {
    /// Rows by group, then those only another plan has: top and height.
    pub rows: Vec<(f32, f32)>,
    /// Ovens, then those only another plan has.
    pub ovens: Vec<(f32, f32)>,
    /// Tops of each oven's shelves, and the bottom of the last.
    pub shelves: Vec<Vec<f32>>,
    /// The lens of each row that has one, from its early to its late time; none
    /// where there are no odds over the board.
    pub lenses: Vec<Option<Area>>,
    /// The row of the class, where there are odds.
    pub class: Option<(f32, f32)>,
    /// Top of the gap between rows and ovens.
    pub gap: f32,
    /// Ribbons.
    pub ribbons: Vec<(f32, f32)>,
    /// Bars of rows, then of ovens, in the board's order.
    pub bars: Vec<(BarId, Area)>,
    /// Another plan's bars, in the order of `Ghosts::bars`.
    pub ghosts: Vec<Area>,
    /// Height of it all.
    pub height: f32,
}

/// What lies over a board.
#[derive(Debug, Clone, Copy, Default)]
pub struct Over<'a> {
    /// Another plan.
    pub ghosts: Option<&'a Ghosts>,
    /// Odds.
    pub odds: Option<&'a OddsOfBoard>,
}

/// Lays a board out from the top at 0.
pub fn lay_out(board: &Board, scale: &TimeScale, sizes: &Sizes) -> LaidOut {
    lay_out_over(board, Over::default(), scale, sizes)
}

/// Lays a board out with what lies over it. Another plan's bars are below its
/// own, row by row; in a row without bars of its own they take their place. Rows
/// and ovens only the other plan has follow the others of their kind. A row's
/// lens is in its first lane below the first that has room for it; the class has
/// a row of its own after the others.
pub fn lay_out_over(
    board: &Board,
    Over { ghosts, odds }: Over<'_>,
    scale: &TimeScale,
    sizes: &Sizes,
) -> LaidOut {
    let mut place = Place { scale, sizes, bars: Vec::new(), ghosts: Vec::new() };
    let ghost_rows = ghosts.map(|g| g.rows.as_slice()).unwrap_or_default();
    let ghost_ovens = ghosts.map(|g| g.ovens.as_slice()).unwrap_or_default();
    let mut y = sizes.air;
    let (mut rows, mut lenses) = (Vec::new(), Vec::new());
    for i in 0..board.rows.len().max(ghost_rows.len()) {
        let own = board.rows.get(i).map(|r| (r.bars.as_slice(), r.lanes));
        let (bars, mut lanes) = own.unwrap_or_default();
        let ghost = ghost_rows.get(i).map(|r| (r.bars.as_slice(), r.lanes));
        let lens = odds.and_then(|o| o.rows.get(i)?.as_ref()).map(|lens| {
            let lane = lane_with_room(bars, lens);
            lanes = lanes.max(lane + 1);
            place.lens(y, lane, lens)
        });
        let height = place.row(y, (bars, lanes), ghost.unwrap_or_default());
        rows.push((y, height));
        lenses.extend(odds.map(|_| lens));
        y += height + sizes.air;
    }
    let class = odds.map(|_| {
        let row = (y, sizes.least);
        y += sizes.least + sizes.air;
        row
    });
    let gap = y;
    y += sizes.section;
    let mut ovens = Vec::new();
    let mut shelves = Vec::new();
    for i in 0..board.ovens.len().max(ghost_ovens.len()) {
        let own = board.ovens.get(i).map(|o| o.shelves.as_slice()).unwrap_or_default();
        let ghost = ghost_ovens.get(i).map(|o| o.shelves.as_slice()).unwrap_or_default();
        let tops = place.oven(y, own, ghost);
        let top = tops.last().copied().unwrap_or(y);
        ovens.push((y, top - y));
        shelves.push(tops);
        y = top + sizes.air;
    }
    y += sizes.section;
    let mut ribbons = Vec::new();
    for _ in &board.ribbons {
        ribbons.push((y, sizes.ribbon));
        y += sizes.ribbon + sizes.air;
    }
    let Place { bars, ghosts, .. } = place;
    LaidOut { rows, ovens, shelves, lenses, class, gap, ribbons, bars, ghosts, height: y }
}

/// The first lane below the first in which no bar lies where a lens does.
fn lane_with_room(bars: &[Bar], lens: &LensOfRow) -> usize {
    let late = lens.late.unwrap_or(f32::INFINITY);
    let in_the_way =
        |bar: &&Bar| bar.from.get() as f32 <= late && lens.early <= bar.until.get() as f32;
    let taken = |lane: usize| bars.iter().filter(in_the_way).any(|bar| bar.lane == lane);
    (1..).find(|&lane| !taken(lane)).unwrap_or(1)
}

/// Puts bars where they belong.
struct Place<'a> {
    scale: &'a TimeScale,
    sizes: &'a Sizes,
    bars: Vec<(BarId, Area)>,
    ghosts: Vec<Area>,
}

/// Top and height of a lane below a row's top; heights of the first lane and of
/// those under it.
fn in_lane(lane: usize, top: f32, (first, under): (f32, f32)) -> (f32, f32) {
    match lane {
        0 => (top, first),
        _ => (top + first + 1.0 + (lane - 1) as f32 * (under + 1.0), under),
    }
}

impl Place<'_> {
    fn along(&self, bar: &Bar, y: f32, h: f32) -> Area {
        let from = self.scale.x(bar.from.get() as f32);
        let until = self.scale.x(bar.until.get() as f32);
        Area { x: from, y, w: (until - from).max(1.0), h }
    }

    /// A lens in a lane of a row with its top here; one without a late time goes
    /// on to the end of the clock.
    fn lens(&self, y: f32, lane: usize, lens: &LensOfRow) -> Area {
        let (top, h) = in_lane(lane, y, (self.sizes.lane, self.sizes.under));
        let end = self.scale.left + self.scale.width;
        let (from, until) = (self.scale.x(lens.early), lens.late.map_or(end, |l| self.scale.x(l)));
        Area { x: from, y: top, w: (until - from).max(0.0), h }
    }

    /// A row's bars and ghosts, each with their lanes; its height.
    fn row(&mut self, y: f32, own: (&[Bar], usize), ghost: (&[Bar], usize)) -> f32 {
        let s = *self.sizes;
        let deep = |lanes: usize, (first, under): (f32, f32)| {
            first + lanes.saturating_sub(1) as f32 * (under + 1.0)
        };
        for bar in own.0 {
            let (top, h) = in_lane(bar.lane, y, (s.lane, s.under));
            let area = self.along(bar, top, h);
            self.bars.push((bar.id, area));
        }
        let mut height = deep(own.1, (s.lane, s.under));
        if !ghost.0.is_empty() {
            let (top, lanes) = if own.0.is_empty() {
                (y, (s.lane, s.under))
            } else {
                (y + height + s.between, (s.ghost, s.ghost_under))
            };
            for bar in ghost.0 {
                let (top, h) = in_lane(bar.lane, top, lanes);
                let area = self.along(bar, top, h);
                self.ghosts.push(area);
            }
            height = height.max(top - y + deep(ghost.1, lanes));
        }
        height.max(s.least)
    }

    /// An oven's shelves, ghosts below the tins of each; their tops and the
    /// bottom of the last.
    fn oven(&mut self, y: f32, own: &[Vec<Bar>], ghost: &[Vec<Bar>]) -> Vec<f32> {
        let s = *self.sizes;
        let none = Vec::new();
        let lanes = |shelf: &[Bar]| shelf.iter().map(|b| b.lane + 1).max().unwrap_or(0);
        let count = own.len().max(ghost.len());
        let of = |i: usize| (own.get(i).unwrap_or(&none), ghost.get(i).unwrap_or(&none));
        let high = |i: usize| {
            let (own, ghost) = of(i);
            (lanes(own) + lanes(ghost)).max(1) as f32 * s.shelf + 2.0
        };
        let wanted: f32 = (0..count).map(high).sum();
        let stretch = (s.least / wanted.max(1.0)).max(1.0);
        let mut tops = Vec::new();
        let mut top = y;
        for i in 0..count {
            tops.push(top);
            let (own, ghost) = of(i);
            let lane = |lane: usize| top + 1.0 + lane as f32 * s.shelf * stretch;
            for bar in own {
                let area = self.along(bar, lane(bar.lane), s.shelf * stretch - 1.0);
                self.bars.push((bar.id, area));
            }
            for bar in ghost {
                let at = lane(lanes(own) + bar.lane);
                let area = self.along(bar, at, s.shelf * stretch - 1.0);
                self.ghosts.push(area);
            }
            top += high(i) * stretch;
        }
        tops.push(top);
        tops
    }
}

impl LaidOut {
    /// Where a bar is.
    pub fn area(&self, id: BarId) -> Option<Area> {
        self.bars.iter().find(|(bar, _)| *bar == id).map(|(_, area)| *area)
    }

    /// The bar nearest in a direction from another, for arrow keys: along the
    /// clock within its row, or to the nearest one in the row above or below.
    pub fn next(&self, from: BarId, right: i32, down: i32) -> Option<BarId> {
        let at = self.area(from)?;
        let centre = |a: &Area| (a.x + a.w / 2.0, a.y + a.h / 2.0);
        let (x, y) = centre(&at);
        let ahead = self.bars.iter().filter(|(id, a)| {
            let (bx, by) = centre(a);
            *id != from
                && if right != 0 {
                    (bx - x) * right as f32 > 0.0 && (by - y).abs() < 0.5
                } else {
                    (by - y) * down as f32 > 0.5
                }
        });
        let far = |a: &Area| {
            let (bx, by) = centre(a);
            if right != 0 { (bx - x).abs() } else { 3.0 * (by - y).abs() + (bx - x).abs() }
        };
        ahead.min_by(|(_, a), (_, b)| far(a).total_cmp(&far(b))).map(|(id, _)| *id)
    }
}
