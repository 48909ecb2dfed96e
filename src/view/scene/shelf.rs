//! A shelf from above with the tins on it, its back at the top, to scale.

use super::{
    Circle, Colour, Corners, Letters, Measure, Of, Pen, Place, Rect, Scene, Shape, Stretch, Text,
    TooLong,
};
use crate::view::area::{Area, at};
use crate::view::board::Work;
use crate::view::cards::ShelfPicture;

/// A shelf so wide; its height follows from its depth.
pub fn shelf(picture: &ShelfPicture, width: f32, measure: &dyn Measure) -> Scene {
    let scale = width / picture.size.0.max(1.0);
    let (w, h) = (width, picture.size.1 * scale);
    let mut scene = Scene::new((w, h));
    let floor = Area { x: 0.0, y: 0.0, w, h };
    let floor = Rect::filled(floor, Corners::Round(2.0), Colour::Shelf);
    scene.add(Shape::Rect(floor.edged(Pen::new(Colour::Ink, 1.5))));
    for tin in &picture.tins {
        let stretch = Stretch { of: Some(Of::Bar(tin.bar)), within: None };
        let (x, y, wide, deep) = tin.rim;
        let (w, d) = (wide * scale, deep * scale);
        let area = Area { x: x * scale, y: h - (y + deep) * scale, w, h: d };
        let (fill, edge) = (Colour::Work(Work::Bake), Colour::WorkEdge(Work::Bake));
        let edge = Pen::new(edge, 1.0);
        scene.add_as(
            stretch,
            if tin.round {
                let (centre, radius) = (area.centre(), w / 2.0);
                Shape::Circle(Circle { centre, radius, fill: Some(fill), edge: Some(edge) })
            } else {
                Shape::Rect(Rect::filled(area, Corners::Round(2.0), fill).edged(edge))
            },
        );
        let place = Place::centre(at(area.centre().x, area.centre().y));
        let letters = Letters::plain(13.0, Colour::Ink);
        let text = Text::fitted(&tin.group, letters, place, (w - 4.0, TooLong::Cut), measure);
        if let Some(text) = text {
            scene.add_as(stretch, Shape::Text(text));
        }
    }
    scene
}
