//! Bars: one look for each kind of work, and one for a plan that is laid over.

use super::{
    Across, Colour, Corners, Dash, Down, Letters, Measure, Pattern, Pen, Place, Rect, Scene, Shape,
    Stretch, Text, TooLong, sign,
};
use crate::view::area::{Area, Point, at};
use crate::view::board::{Bar, BarId, Work};

/// Below this height and width a bar has no words on it.
const LEAST: (f32, f32) = (24.0, 12.5);
/// Size of the words on a bar, where it is high enough.
const WORDS: f32 = 13.0;

/// A bar of a kind of work.
pub fn rect(area: Area, work: Work) -> Rect {
    let edge = Pen::new(Colour::WorkEdge(work), 1.0);
    let pattern = Pattern::of(work);
    let (corners, edge) = match pattern {
        Pattern::Dashed => (Corners::Square, edge.dashed(Dash::Edge)),
        _ => (Corners::Round((area.h / 4.0).min(4.0)), edge),
    };
    Rect {
        area,
        corners,
        fill: Some(Colour::Work(work)),
        pattern: (pattern, edge.colour),
        edge: Some(edge),
    }
}

/// A bar of a plan that is laid over: clear within, its edge dashed and its
/// corners cut, so that it is told from a bar by its shape.
pub fn outline(area: Area, work: Work) -> Rect {
    let edge = Colour::WorkEdge(work);
    let edge = if area.w < 16.0 {
        // Dashes as long as the edges themselves are not to be made out.
        Pen::new(edge, 1.0)
    } else {
        Pen::new(edge, 1.5).dashed(Dash::Outline)
    };
    Rect::filled(area, Corners::Cut(5.0), Colour::Other).edged(edge)
}

/// A thread between steps, for waiting.
pub fn thread(from: Point, to: Point) -> Shape {
    let pen = Pen::new(Colour::WorkEdge(Work::Wait), 1.0);
    Shape::Line(vec![from, to], pen.dashed(Dash::Thread))
}

/// Adds a bar with its words and, if it is held, its padlock.
pub fn add(scene: &mut Scene, stretch: Stretch, bar: &Bar, area: Area, measure: &dyn Measure) {
    scene.add_as(stretch, Shape::Rect(rect(area, bar.work)));
    if let Some(text) = words(bar, area, 6.0, measure) {
        if matches!(bar.work, Work::Cool | Work::Clear) {
            // A patch keeps dots and hatching off the words.
            let patch = text.area(measure).grown(2.0, 0.0).shared(&area.shrunk(1.5));
            let fill = Colour::Work(bar.work);
            let patch = Rect::filled(patch, Corners::Round(2.0), fill);
            scene.add_as(stretch, Shape::Rect(patch));
        }
        scene.add_as(stretch, Shape::Text(text));
    }
    if bar.held {
        let middle = at(area.x + 6.0, area.y + 6.0_f32.min(area.h / 2.0));
        sign::lock(scene, stretch, middle, 7.0_f32.min(area.h - 3.0));
    }
}

/// Adds a bar of a plan that is laid over, with its words.
pub fn add_outline(
    scene: &mut Scene,
    stretch: Stretch,
    bar: &Bar,
    area: Area,
    measure: &dyn Measure,
) {
    scene.add_as(stretch, Shape::Rect(outline(area, bar.work)));
    if let Some(text) = words(bar, area, 10.0, measure) {
        if area.h < 16.0 {
            // Dashes are kept off the words.
            let patch = text.area(measure).grown(2.0, 0.0);
            let patch = Rect::filled(patch, Corners::Square, Colour::Other);
            scene.add_as(stretch, Shape::Rect(patch));
        }
        scene.add_as(stretch, Shape::Text(text));
    }
}

/// What is written on a bar, if there is room beside so much air.
fn words(bar: &Bar, area: Area, air: f32, measure: &dyn Measure) -> Option<Text> {
    if area.h < LEAST.1 || area.w < LEAST.0 {
        return None;
    }
    let too_long = match bar.id {
        // Whose a tin is must be read, if only in part.
        BarId::Tin(..) => TooLong::Cut,
        _ => TooLong::LeaveOut,
    };
    let letters = Letters::plain(WORDS.min(area.h - 1.5), Colour::Ink);
    let place = Place { at: area.centre(), across: Across::Centre, down: Down::Middle };
    let room = area.w - air;
    let text = Text::fitted(&bar.label, letters, place, (room, too_long), measure)?;
    // Where even an ellipsis is too wide, nothing is written.
    (text.size(measure).0 <= room).then_some(text)
}
