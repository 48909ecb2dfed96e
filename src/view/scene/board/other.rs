//! Another plan over the board: outlines with cut corners, its ready times
//! below those now, its bells and steps of the class as dashed lines.

use super::super::{
    Colour, Dash, Letters, Measure, Of, Pen, Place, Scene, Shape, Stretch, Text, TooLong, bar, sign,
};
use super::names::{Locked, Name};
use super::{BESIDE, Drawing, SECOND_LINE, VERDICT};
use crate::view::area::{Area, at};
use crate::view::board::Work;
use crate::view::overlay::{GhostRow, Ghosts, Tense};

/// Height of the two ready times of a row.
const READY_HEIGHT: f32 = 34.0;
/// Sample of an outline in the clock: where it begins, and its size. The window
/// has a menu before it.
const LEGEND: (f32, (f32, f32)) = (50.0, (18.0, 14.0));

impl Drawing<'_> {
    /// Bells and steps of the class where the other plan has them.
    pub(super) fn lines_elsewhere(&mut self, ghosts: &Ghosts) {
        let bottom = self.of.size.1;
        let along = self.along(None);
        let class = Pen::new(Colour::ClassEdge, 1.5);
        let edges = ghosts.bands.iter().flat_map(|b| [b.from, b.until]).map(|m| (m, class));
        let bells = ghosts.bells.iter().map(|&b| (b, Pen::new(Colour::Ink, 2.0)));
        for (minute, pen) in edges.chain(bells) {
            let x = self.of.x(minute);
            let ends = vec![at(x, 0.0), at(x, bottom)];
            self.scene.add_as(along, Shape::Line(ends, pen.dashed(Dash::Elsewhere)));
        }
    }

    /// The other plan's bars.
    pub(super) fn outlines(&mut self, ghosts: &Ghosts) {
        let ends = self.ends();
        let seen = ends.shared(&self.of.seen);
        for (bar, area) in ghosts.bars().zip(&self.of.laid.ghosts) {
            let area = area.grown(-0.5, 0.0);
            if area.meets(&seen) {
                let stretch = Stretch { of: Some(Of::Other(bar.id)), within: Some(ends) };
                bar::add_outline(&mut self.scene, stretch, bar, area, self.measure);
            }
        }
    }

    /// The other plan's ready time, below the one now.
    pub(super) fn ready_there(&mut self, ghost: &GhostRow, top: f32) {
        let x = self.of.clock_end() + VERDICT;
        if let Some(verdict) = ghost.verdict.filter(|_| !ghost.ready.is_empty()) {
            let mark = at(x, top + READY_HEIGHT - 8.0);
            sign::verdict(&mut self.scene, Stretch::default(), mark, verdict);
        }
        let place = Place::left_top(at(x + BESIDE, top + SECOND_LINE + 1.0));
        let letters = Letters::bold(14.0, Colour::Ink);
        let room = (self.of.size.0 - 2.0 - x - BESIDE, TooLong::Cut);
        if let Some(text) = Text::fitted(&ghost.ready, letters, place, room, self.measure) {
            self.scene.add(Shape::Text(text));
        }
    }

    /// A group or an oven only the other plan has: its name, set apart.
    pub(super) fn only_there(&mut self, place: (f32, f32), (title, under): (&str, &str)) {
        let colour = Colour::Soft;
        self.name(None, place, &Name { title, under, indent: 0.0, locked: Locked::No, colour });
    }
}

impl super::BoardPicture<'_> {
    /// The field of both ready times of a row with its top here.
    pub fn ready_area(&self, top: f32) -> Area {
        let left = self.clock_end() + VERDICT - 10.0;
        Area::between(at(left, top), at(self.size.0 - 2.0, top + READY_HEIGHT))
    }
}

/// What the outlines are, at the left of the clock.
pub(super) fn legend(
    scene: &mut Scene,
    middle: f32,
    right: f32,
    ghosts: &Ghosts,
    measure: &dyn Measure,
) {
    let (left, (w, h)) = LEGEND;
    let sample = Area { x: left, y: middle - h / 2.0, w, h };
    scene.add(Shape::Rect(bar::outline(sample, Work::Bake)));
    let words = match ghosts.tense {
        Tense::Then => "then",
        Tense::Before => "before",
    };
    let x = sample.right() + 4.0;
    let place = Place::left(at(x, middle));
    let letters = Letters::plain(13.0, Colour::Soft);
    if let Some(text) = Text::fitted(words, letters, place, (right - x, TooLong::Cut), measure) {
        scene.add(Shape::Text(text));
    }
}
