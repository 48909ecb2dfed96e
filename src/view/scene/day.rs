//! The bakes of a day along its clock: those told to be in are filled, the others
//! outlined; a plan that is looked at lies over them in ink.

use super::{
    Colour, Corners, Dash, Letters, Measure, Pen, Place, Rect, Scene, Shape, Text, TooLong, sign,
};
use crate::model::Lesson;
use crate::units::Minute;
use crate::view::area::{Area, at};
use crate::view::board::{Board, Work};
use crate::view::day::Bake;
use crate::view::scale::TimeScale;
use crate::view::words::clock;

/// Height of the times above.
pub const TIMES: f32 = 17.0;
/// Room for the names of groups.
pub const LEFT: f32 = 92.0;
/// Air to the right of the clock.
const RIGHT: f32 = 24.0;
/// No row is higher.
const HIGHEST: f32 = 18.0;
/// Lower rows have no name.
const NAMED: f32 = 11.0;

/// Bakes along the clock, and how they are shown.
#[derive(Clone, Copy)]
pub struct Bakes<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its board: bells and the class's own steps.
    pub board: &'a Board,
    /// The bakes.
    pub bakes: &'a [Bake],
    /// The minute it is.
    pub now: Minute,
    /// Width and height.
    pub size: (f32, f32),
}

/// No more height is of use for so many bakes.
pub fn highest(bakes: usize) -> f32 {
    TIMES + HIGHEST * bakes as f32 + 2.0
}

/// In less height so many bakes have no names.
pub fn least(bakes: usize) -> f32 {
    TIMES + NAMED * bakes as f32 + 2.0
}

impl Bakes<'_> {
    /// Its picture.
    pub fn scene(&self, measure: &dyn Measure) -> Scene {
        let mut scene = Scene::new(self.size);
        let scale = self.scale();
        let x = |minute: Minute| scale.x(minute.get() as f32);
        let bottom = self.size.1;
        for band in &self.board.bands {
            let (left, right) = (x(band.from), x(band.until));
            let area = Area { x: left, y: TIMES, w: right - left, h: bottom - TIMES };
            let edged = sign::class_band(area).edged(Pen::new(Colour::ClassEdge, 1.0));
            scene.add(Shape::Rect(edged));
        }
        let pitch = ((bottom - TIMES) / self.bakes.len().max(1) as f32).min(HIGHEST);
        for (i, bake) in self.bakes.iter().enumerate() {
            let y = TIMES + pitch * i as f32;
            let row = |(from, until): (Minute, Minute)| Area {
                x: x(from),
                y: y + 0.12 * pitch,
                w: (x(until) - x(from)).max(1.0),
                h: 0.76 * pitch,
            };
            self.bake(&mut scene, bake, row);
            if NAMED <= pitch {
                let name = &self.lesson.group(bake.group).name;
                let place = Place::left(at(4.0, y + pitch / 2.0));
                let letters = Letters::plain((pitch * 0.8).min(13.0), Colour::Soft);
                let room = (LEFT - 10.0, TooLong::Cut);
                if let Some(text) = Text::fitted(name, letters, place, room, measure) {
                    scene.add(Shape::Text(text));
                }
            }
        }
        for &bell in &self.board.bells {
            let ends = vec![at(x(bell), TIMES - 2.0), at(x(bell), bottom)];
            scene.add(Shape::Line(ends, Pen::new(Colour::Ink, 2.0)));
            let words = clock(self.lesson, bell).to_string();
            let place = Place::centre(at(x(bell), TIMES / 2.0 - 1.0));
            let letters = Letters::bold(13.0, Colour::Ink);
            if let Some(text) = Text::fitted(&words, letters, place, (80.0, TooLong::Cut), measure)
            {
                scene.add(Shape::Text(text));
            }
        }
        let is_within = scale.from <= self.now.get() as f32 && self.now.get() as f32 <= scale.until;
        if is_within {
            let ends = vec![at(x(self.now), TIMES - 4.0), at(x(self.now), bottom)];
            scene.add(Shape::Line(ends, Pen::new(Colour::Ink, 3.0)));
        }
        scene
    }

    fn bake(&self, scene: &mut Scene, bake: &Bake, row: impl Fn((Minute, Minute)) -> Area) {
        let edge = Pen::new(Colour::WorkEdge(Work::Bake), 1.2);
        let area = row(bake.span);
        scene.add(Shape::Rect(match bake.real {
            true => Rect::filled(area, Corners::Square, Colour::Work(Work::Bake)).edged(edge),
            false => {
                Rect::filled(area, Corners::Square, Colour::Card).edged(edge.dashed(Dash::Edge))
            }
        }));
        if let Some(other) = bake.other {
            let pen = Pen::new(Colour::Ink, 2.0);
            let tin = row(other);
            let (top, bottom) = (tin.y, tin.bottom());
            let around = [(tin.x, top), (tin.x, bottom), (tin.right(), bottom), (tin.right(), top)];
            let points = around.map(|(x, y)| at(x, y)).to_vec();
            scene.add(Shape::Line(points, pen));
        }
    }

    fn scale(&self) -> TimeScale {
        let bells = || self.board.bells.iter().map(|bell| bell.get());
        let from = bells().min().unwrap_or(0) as f32 - 1.0;
        let until = bells().max().unwrap_or(60) as f32 + 1.0;
        TimeScale { from, until, left: LEFT, width: (self.size.0 - LEFT - RIGHT).max(80.0) }
    }
}
