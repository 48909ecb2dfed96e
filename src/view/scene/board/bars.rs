//! Bars of groups and of the tins in ovens.

use super::super::{Of, Stretch, bar};
use super::Drawing;
use crate::view::area::Area;

/// A hair of air tells neighbours apart.
const AIR: f32 = 0.5;

/// Where a bar that lies in an area is painted.
pub fn inside(area: &Area) -> Area {
    area.grown(-AIR.min(area.w / 4.0), 0.0)
}

impl Drawing<'_> {
    /// What of the clock shows bars: their edges are seen at its ends.
    pub(super) fn ends(&self) -> Area {
        self.of.across().grown(1.0, 1.0)
    }

    pub(super) fn bars(&mut self) {
        let of = self.of;
        let ends = self.ends();
        let seen = ends.shared(&of.seen);
        for (bar, (_, area)) in of.board.bars().zip(of.bars) {
            let area = inside(area);
            if area.meets(&seen) {
                let stretch = Stretch { of: Some(Of::Bar(bar.id)), within: Some(ends) };
                bar::add(&mut self.scene, stretch, bar, area, self.measure);
            }
        }
    }
}
