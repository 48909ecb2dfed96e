//! The board along its clock: names on the left, ready times on the right,
//! and between them the class's own steps, each group's bars, ovens with their
//! shelves, and ribbons of kit and adults.
//!
//! It is painted in layers, so that a window can put its own things between
//! them: [`BoardPicture::ground`], then [`BoardPicture::front`]; above both
//! lies [`BoardPicture::clock`]. [`BoardPicture::whole`] is all in one.

mod bars;
mod class;
mod clock;
mod names;
mod odds;
mod other;
mod ovens;
mod ribbons;
mod rows;

use super::{Measure, Of, Scene, Stretch};
use crate::model::Lesson;
use crate::units::Minute;
use crate::view::area::{Area, at};
use crate::view::board::{BarId, Board};
use crate::view::laid_out::{LaidOut, Over};
use crate::view::scale::TimeScale;

pub use bars::inside;
pub use clock::HEIGHT as CLOCK_HEIGHT;

/// From the right end of the clock to the middle of a verdict.
const VERDICT: f32 = 18.0;
/// From there to the words beside it.
const BESIDE: f32 = 13.0;
/// From the top of a row's first line to that of its second.
const SECOND_LINE: f32 = 16.0;

/// A board and how it is shown. Lengths are those of its geometry, whose left
/// top is at 0, 0.
#[derive(Clone, Copy)]
pub struct BoardPicture<'a> {
    /// The lesson that the board's plan is of.
    pub lesson: &'a Lesson,
    /// The board.
    pub board: &'a Board,
    /// What lies over it.
    pub over: Over<'a>,
    /// Where everything is.
    pub laid: &'a LaidOut,
    /// Where bars are now, in the order of `laid.bars`: there, or on the way.
    pub bars: &'a [(BarId, Area)],
    /// Time across.
    pub scale: TimeScale,
    /// Width and height, those of `laid` at least.
    pub size: (f32, f32),
    /// What of it is drawn.
    pub seen: Area,
}

/// A scene of the board while it is drawn.
struct Drawing<'a> {
    of: &'a BoardPicture<'a>,
    measure: &'a dyn Measure,
    scene: Scene,
}

impl BoardPicture<'_> {
    /// What lies below everything else: the class's own steps, the lines of
    /// the clock and the bells, and where another plan has them.
    pub fn ground(&self, measure: &dyn Measure) -> Scene {
        let mut drawing = self.drawing(measure);
        drawing.bands();
        drawing.grid();
        if let Some(ghosts) = self.over.ghosts {
            drawing.lines_elsewhere(ghosts);
        }
        drawing.scene
    }

    /// Names, bars, ovens, ribbons, ready times and verdicts.
    pub fn front(&self, measure: &dyn Measure) -> Scene {
        let mut drawing = self.drawing(measure);
        drawing.rows();
        drawing.ovens();
        drawing.ribbons();
        drawing.band_names();
        drawing.bars();
        if let Some(ghosts) = self.over.ghosts {
            drawing.outlines(ghosts);
        }
        if let Some(odds) = self.over.odds {
            drawing.odds(odds);
        }
        drawing.scene
    }

    /// The clock, which stands above the rest: bells, times between them
    /// that keep away from a time that is marked, and what the columns are.
    pub fn clock(&self, marked: Option<i32>, measure: &dyn Measure) -> Scene {
        clock::clock(self, marked, measure)
    }

    /// The whole board with its clock above it.
    pub fn whole(&self, measure: &dyn Measure) -> Scene {
        let mut scene = Scene::new((self.size.0, CLOCK_HEIGHT + self.size.1));
        scene.put(self.clock(None, measure), at(0.0, 0.0));
        scene.put(self.ground(measure), at(0.0, CLOCK_HEIGHT));
        scene.put(self.front(measure), at(0.0, CLOCK_HEIGHT));
        scene
    }

    /// Where a minute is.
    fn x(&self, minute: Minute) -> f32 {
        self.scale.x(minute.get() as f32)
    }

    /// The part of the board along the clock.
    pub fn across(&self) -> Area {
        Area { x: self.scale.left, y: 0.0, w: self.scale.width, h: self.size.1 }
    }

    /// The right end of the clock.
    fn clock_end(&self) -> f32 {
        self.scale.left + self.scale.width
    }

    /// A row or an oven, from end to end.
    fn line(&self, (top, height): (f32, f32)) -> Area {
        Area { x: 0.0, y: top, w: self.size.0, h: height }
    }

    fn drawing<'a>(&'a self, measure: &'a dyn Measure) -> Drawing<'a> {
        Drawing { of: self, measure, scene: Scene::new(self.size) }
    }
}

impl Drawing<'_> {
    /// Along the clock, for a thing of the lesson.
    fn along(&self, of: Option<Of>) -> Stretch {
        Stretch { of, within: Some(self.of.across()) }
    }
}
