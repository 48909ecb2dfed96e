//! Tins in section beside each other, to one scale.

use super::{
    Across, Colour, Corners, Dash, Down, Letters, Measure, Pen, Place, Rect, Scene, Shape, Text,
    TooLong,
};
use crate::view::area::{Area, at};
use crate::view::board::Work;
use crate::view::section::Section;

/// Height of a tin at most.
const TALLEST: f32 = 64.0;
/// Air between two tins.
const GAP: f32 = 26.0;
/// Height of the line of their names.
const NAMES: f32 = 22.0;
/// A name may be so wide, even below a narrow tin.
const LEAST_NAME: f32 = 70.0;

/// Tins with their names below them, in a picture so wide.
pub fn in_section(sections: &[Section], width: f32, measure: &dyn Measure) -> Scene {
    let widest: f64 = sections.iter().map(|s| s.width).sum();
    let tallest = sections.iter().map(|s| s.height).fold(1.0, f64::max) as f32;
    let across = width - GAP * sections.len() as f32;
    let scale = (across / widest as f32).min(TALLEST / tallest);
    let floor = tallest * scale;
    let mut scene = Scene::new((width, floor + NAMES));
    let mut left = GAP / 2.0;
    for of in sections {
        let w = of.width as f32 * scale;
        cut_through(&mut scene, Area { x: left, y: 0.0, w, h: floor }, of, scale);
        let place =
            Place { at: at(left + w / 2.0, floor + 4.0), across: Across::Centre, down: Down::Top };
        let room = ((w + GAP - 4.0).max(LEAST_NAME), TooLong::Cut);
        let letters = Letters::plain(12.0, Colour::Soft);
        if let Some(text) = Text::fitted(&of.name, letters, place, room, measure) {
            scene.add(Shape::Text(text));
        }
        left += w + GAP;
    }
    scene
}

/// Walls, mixture and the line it may be filled to.
fn cut_through(scene: &mut Scene, space: Area, of: &Section, scale: f32) {
    let line = |from, to, pen| Shape::Line(vec![from, to], pen);
    let (left, right, floor) = (space.x, space.right(), space.bottom());
    if let Some(depth) = of.depth {
        let surface = (floor - depth as f32 * scale).max(space.y);
        let mixture = Area::between(at(left, surface), at(right, floor));
        let fill = Colour::Work(Work::Bake);
        scene.add(Shape::Rect(Rect::filled(mixture, Corners::Square, fill)));
        let edge = Pen::new(Colour::WorkEdge(Work::Bake), 1.5);
        scene.add(line(at(left, surface), at(right, surface), edge));
    }
    if let Some(limit) = of.limit {
        let y = floor - limit as f32 * scale;
        let pen = Pen::new(Colour::Ink, 1.0).dashed(Dash::Limit);
        scene.add(line(at(left, y), at(right, y), pen));
    }
    let wall = Pen::new(Colour::Ink, 2.0);
    let top = floor - of.height as f32 * scale;
    scene.add(line(at(left, top), at(left, floor), wall));
    scene.add(line(at(right, top), at(right, floor), wall));
    scene.add(line(at(left, floor), at(right, floor), wall));
}
