//! A rehearsal along its clock: open doors, ovens that are on and those with
//! something in, adults who are free, the teacher's notes; framed in ink where ovens
//! are on and nobody is free.

use super::{
    Colour, Corners, Letters, Measure, Pen, Place, Rect, Scene, Shape, Stretch, Text, TooLong, sign,
};
use crate::model::Lesson;
use crate::units::Minute;
use crate::view::area::{Area, at};
use crate::view::board::{Board, Work};
use crate::view::rehearsal::{Many, Rehearsal};
use crate::view::scale::TimeScale;
use crate::view::words::clock;

/// Height of the times above the ribbons.
pub const TIMES: f32 = 18.0;
/// Nearer to each other than this the time of a bell and that of the clock would touch.
const TWO_TIMES: f32 = 46.0;
/// From the left edge to the names of the ribbons.
const NAME: f32 = 6.0;
/// From the names' right end to the clock.
const BESIDE: f32 = 8.0;
/// Air between two ribbons.
const AIR: f32 = 5.0;
/// Width and height of the sign of a note.
const NOTE: (f32, f32) = (10.0, 10.0);

/// What the ribbons are called, from the top.
pub const NAMES: [&str; 4] = ["open doors", "ovens on", "adults free", "my notes"];

/// A rehearsal along its clock, and how it is shown.
#[derive(Clone, Copy)]
pub struct AlongTheClock<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its board: bells and the class's own steps.
    pub board: &'a Board,
    /// The rehearsal.
    pub rehearsal: &'a Rehearsal,
    /// Time across.
    pub scale: TimeScale,
    /// Width and height.
    pub size: (f32, f32),
    /// A bell whose time stands under that of the clock, and is left out.
    pub under_clock: Option<Minute>,
}

impl AlongTheClock<'_> {
    /// Its picture.
    pub fn scene(&self, measure: &dyn Measure) -> Scene {
        let mut scene = Scene::new(self.size);
        self.bands(&mut scene);
        self.ribbons(&mut scene);
        self.notes(&mut scene);
        self.bells(&mut scene, measure);
        self.gaps(&mut scene);
        for (row, name) in NAMES.into_iter().enumerate() {
            let place = Place::left(at(NAME, self.row(row).centre().y));
            let room = (self.scale.left - NAME - BESIDE, TooLong::Cut);
            let letters = Letters::plain(13.0, Colour::Soft);
            if let Some(text) = Text::fitted(name, letters, place, room, measure) {
                scene.add(Shape::Text(text));
            }
        }
        scene
    }

    /// A ribbon from end to end of the clock.
    pub fn row(&self, row: usize) -> Area {
        let pitch = (self.size.1 - TIMES) / NAMES.len() as f32;
        let y = TIMES + pitch * row as f32;
        Area { x: self.scale.left, y, w: self.scale.width, h: pitch - AIR }
    }

    /// The bell whose time the clock's own would lie over that stands at `x`, if one is.
    pub fn bell_under(&self, x: f32) -> Option<Minute> {
        let bells = self.board.bells.iter().copied();
        let away = |bell: &Minute| (self.x(*bell) - x).abs();
        let nearest = bells.min_by(|a, b| away(a).total_cmp(&away(b)));
        nearest.filter(|bell| away(bell) < TWO_TIMES)
    }

    fn x(&self, minute: Minute) -> f32 {
        self.scale.x(minute.get() as f32)
    }

    fn along(&self) -> Stretch {
        let (x, w) = (self.scale.left, self.scale.width);
        Stretch { of: None, within: Some(Area { x, y: 0.0, w, h: self.size.1 }) }
    }

    fn bands(&self, scene: &mut Scene) {
        let (y, h) = (TIMES, self.size.1 - TIMES);
        for band in &self.board.bands {
            let (x, right) = (self.x(band.from), self.x(band.until));
            let area = Area { x, y, w: right - x, h };
            let edged = sign::class_band(area).edged(Pen::new(Colour::ClassEdge, 1.0));
            scene.add_as(self.along(), Shape::Rect(edged));
        }
    }

    fn ribbons(&self, scene: &mut Scene) {
        let along = &self.rehearsal.along;
        let door = |area| {
            let edge = Pen::new(Colour::WorkEdge(Work::Door), 1.0);
            Rect::filled(area, Corners::Square, Colour::Work(Work::Door)).edged(edge)
        };
        let bake = |area| {
            let edge = Pen::new(Colour::WorkEdge(Work::Bake), 1.0);
            Rect::filled(area, Corners::Square, Colour::Work(Work::Bake)).edged(edge)
        };
        self.ribbon(scene, (0, along.ovens), &along.doors, door);
        self.ribbon(scene, (1, along.ovens), &along.on, sign::ribbon);
        self.ribbon(scene, (1, along.ovens), &along.baking, bake);
        self.ribbon(scene, (2, along.adults), &along.free, sign::ribbon);
        // One adult is what it takes.
        let row = self.row(2);
        let y = row.bottom() - row.h / along.adults.max(1) as f32;
        let line = sign::there(at(row.x, y), at(row.right(), y));
        scene.add_as(self.along(), line);
    }

    fn ribbon(
        &self,
        scene: &mut Scene,
        (row, most): (usize, u32),
        spans: &[Many],
        look: impl Fn(Area) -> Rect,
    ) {
        let row = self.row(row);
        for &(from, until, count) in spans {
            let h = row.h * count as f32 / most.max(1) as f32;
            let (x, right) = (self.x(from), self.x(until));
            let area = Area { x, y: row.bottom() - h, w: right - x, h };
            scene.add_as(self.along(), Shape::Rect(look(area)));
        }
    }

    /// A sheet with two lines where a note hangs; one more at its minute is the same.
    fn notes(&self, scene: &mut Scene) {
        let row = self.row(3);
        let mut minutes: Vec<Minute> =
            self.rehearsal.notes.iter().filter_map(|note| note.minute).collect();
        minutes.sort_unstable();
        minutes.dedup();
        for minute in minutes {
            let area = Area::around(at(self.x(minute), row.centre().y), NOTE);
            let pen = Pen::new(Colour::Ink, 1.2);
            let sheet = Rect::filled(area, Corners::Square, Colour::Card).edged(pen);
            scene.add_as(self.along(), Shape::Rect(sheet));
            for y in [area.y + 3.5, area.y + 6.5] {
                let ends = vec![at(area.x + 2.5, y), at(area.right() - 2.5, y)];
                scene.add_as(self.along(), Shape::Line(ends, Pen::new(Colour::Ink, 1.0)));
            }
        }
    }

    fn bells(&self, scene: &mut Scene, measure: &dyn Measure) {
        for &bell in &self.board.bells {
            let x = self.x(bell);
            let ends = vec![at(x, TIMES - 2.0), at(x, self.size.1)];
            scene.add(Shape::Line(ends, Pen::new(Colour::Ink, 2.0)));
            if self.under_clock == Some(bell) {
                continue;
            }
            let words = clock(self.lesson, bell).to_string();
            let place = Place::centre(at(x, TIMES / 2.0 - 1.0));
            let letters = Letters::bold(13.0, Colour::Ink);
            let room = (80.0, TooLong::Cut);
            if let Some(text) = Text::fitted(&words, letters, place, room, measure) {
                scene.add(Shape::Text(text));
            }
        }
    }

    fn gaps(&self, scene: &mut Scene) {
        let (ovens, adults) = (self.row(1), self.row(2));
        for gap in &self.rehearsal.gaps {
            let (x, right) = (self.x(gap.from), self.x(gap.until));
            let (y, bottom) = (ovens.y - 2.0, adults.bottom() + 2.0);
            let area = Area { x, y, w: (right - x).max(3.0), h: bottom - y };
            let frame = Rect::outlined(area, Corners::Round(2.0), Pen::new(Colour::Ink, 2.5));
            scene.add_as(self.along(), Shape::Rect(frame));
        }
    }
}

/// An oven's cabinet: its shelves from the top, each filled where something stands on
/// it; struck out if it is out of order.
pub fn cabinet(shelves: &[bool], is_out_of_order: bool, (w, h): (f32, f32)) -> Scene {
    let mut scene = Scene::new((w, h));
    let pen = Pen::new(Colour::Ink, 1.8);
    let area = Area { x: 0.0, y: 0.0, w, h };
    scene.add(Shape::Rect(Rect::outlined(area, Corners::Round(3.0), pen)));
    let pitch = h / (shelves.len().max(1) as f32 + 1.0);
    for (i, &is_taken) in shelves.iter().enumerate() {
        let y = pitch * (i as f32 + 1.0);
        if is_taken {
            let tin = Area { x: 6.0, y: y - 0.5 * pitch, w: w - 12.0, h: 0.5 * pitch };
            let edge = Pen::new(Colour::WorkEdge(Work::Bake), 1.0);
            let fill = Colour::Work(Work::Bake);
            scene.add(Shape::Rect(Rect::filled(tin, Corners::Round(1.5), fill).edged(edge)));
        }
        let ends = vec![at(4.0, y), at(w - 4.0, y)];
        scene.add(Shape::Line(ends, Pen::new(Colour::Ink, 1.2)));
    }
    if is_out_of_order {
        scene.add(Shape::Line(vec![at(0.0, 0.0), at(w, h)], pen));
    }
    scene
}
