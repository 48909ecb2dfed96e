//! Where everything of a board is, in units of the painter: rows, ovens and
//! ribbons from the top, bars by the time scale.

use super::board::{Bar, BarId, Board};
use super::scale::TimeScale;

/// A rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Area {
    /// Left edge.
    pub x: f32,
    /// Top edge.
    pub y: f32,
    /// Width.
    pub w: f32,
    /// Height.
    pub h: f32,
}

/// Sizes of a board's parts.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// Height of a group's first lane.
    pub lane: f32,
    /// Height of its further lanes.
    pub under: f32,
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
    /// Rows by group: top and height.
    pub rows: Vec<(f32, f32)>,
    /// Ovens.
    pub ovens: Vec<(f32, f32)>,
    /// Tops of each oven's shelves, and the bottom of the last.
    pub shelves: Vec<Vec<f32>>,
    /// Top of the gap between rows and ovens.
    pub gap: f32,
    /// Ribbons.
    pub ribbons: Vec<(f32, f32)>,
    /// Bars of rows, then of ovens, in the board's order.
    pub bars: Vec<(BarId, Area)>,
    /// Height of it all.
    pub height: f32,
}

/// Lays a board out from the top at 0.
pub fn lay_out(board: &Board, scale: &TimeScale, sizes: &Sizes) -> LaidOut {
    let mut y = sizes.air;
    let mut bars = Vec::new();
    let along = |bar: &Bar, y: f32, h: f32| {
        let (from, until) = (scale.x(bar.from.get() as f32), scale.x(bar.until.get() as f32));
        (bar.id, Area { x: from, y, w: (until - from).max(1.0), h })
    };
    let mut rows = Vec::new();
    for row in &board.rows {
        let lanes = row.lanes.saturating_sub(1) as f32;
        let height = (sizes.lane + lanes * (sizes.under + 1.0)).max(sizes.least);
        for bar in &row.bars {
            let below = bar.lane.saturating_sub(1) as f32 * (sizes.under + 1.0);
            let (top, h) = match bar.lane {
                0 => (y, sizes.lane),
                _ => (y + sizes.lane + 1.0 + below, sizes.under),
            };
            bars.push(along(bar, top, h));
        }
        rows.push((y, height));
        y += height + sizes.air;
    }
    let gap = y;
    y += sizes.section;
    let mut ovens = Vec::new();
    let mut shelves = Vec::new();
    for oven in &board.ovens {
        let lanes = |shelf: &Vec<Bar>| shelf.iter().map(|b| b.lane + 1).max().unwrap_or(1) as f32;
        let wanted: f32 = oven.shelves.iter().map(|s| lanes(s) * sizes.shelf + 2.0).sum();
        let stretch = (sizes.least / wanted.max(1.0)).max(1.0);
        let mut tops = Vec::new();
        let mut top = y;
        for shelf in &oven.shelves {
            tops.push(top);
            for bar in shelf {
                let lane = top + 1.0 + bar.lane as f32 * sizes.shelf * stretch;
                bars.push(along(bar, lane, sizes.shelf * stretch - 1.0));
            }
            top += (lanes(shelf) * sizes.shelf + 2.0) * stretch;
        }
        tops.push(top);
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
    LaidOut { rows, ovens, shelves, gap, ribbons, bars, height: y }
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
