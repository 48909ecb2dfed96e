//! Ten squares for ten lessons: filled, hatched, empty.

use super::{Colour, Corners, Pattern, Pen, Rect, Scene, Shape};
use crate::view::area::Area;
use crate::view::odds::{SQUARES, Squares};

/// Air between two squares, as a share of their side.
const AIR: f32 = 0.18;

/// A row of squares with sides of this length.
pub fn squares(of: Squares, side: f32) -> Scene {
    let step = (side * (1.0 + AIR)).round();
    let mut scene = Scene::new((step * f32::from(SQUARES - 1) + side, side));
    let edge = Pen::new(Colour::Ink, 1.2);
    for i in 0..SQUARES {
        let area = Area { x: f32::from(i) * step, y: 0.0, w: side, h: side };
        let square = if i < of.filled {
            Rect::filled(area, Corners::Square, Colour::Ink)
        } else if i < of.filled + of.hatched {
            let pattern = (Pattern::Hatched, Colour::Ink);
            Rect { pattern, ..Rect::filled(area, Corners::Square, Colour::Card) }
        } else {
            Rect::filled(area, Corners::Square, Colour::Card)
        };
        scene.add(Shape::Rect(square.edged(edge)));
    }
    scene
}
