//! Pictures of `view/scene` on paper, in greys: kinds of work are told apart by
//! their patterns, which a copier keeps.

use krilla::geom::{PathBuilder, Transform};

use super::ink::{self, Ink, Line};
use crate::papers::grey::grey;
use crate::papers::typeface::{BASE, LINE, printable};
use crate::view::area::{Area, Point, at};
use crate::view::scene::{Circle, Colour, Corners, Item, Pattern, Pen, Rect, Scene, Shape, Text};

/// The ratio of a circle's radius to the arms of the curves that make it.
const ARM: f32 = 0.552_284_8;

impl Ink<'_, '_> {
    /// Draws a picture with its left top at a point and its units in points.
    pub fn scene(&mut self, (left_top, zoom): (Point, f32), scene: &Scene) {
        let Point { x, y } = left_top;
        self.surface.push_transform(&Transform::from_row(zoom, 0.0, 0.0, zoom, x, y));
        for Item { shape, within, .. } in &scene.items {
            match within {
                Some(area) => self.within(area, |ink| ink.shape(shape)),
                None => self.shape(shape),
            }
        }
        self.surface.pop();
    }

    fn shape(&mut self, shape: &Shape) {
        match shape {
            Shape::Rect(rect) => self.rectangle(rect),
            Shape::Line(points, pen) => self.line(points, drawn(*pen)),
            Shape::Polygon(polygon) => {
                self.closed(&polygon.points, Some(grey(polygon.fill)), None);
            }
            Shape::Circle(circle) => self.circle(circle),
            Shape::Text(text) => self.scene_text(text),
        }
    }

    fn rectangle(&mut self, rect: &Rect) {
        let inset = rect.edge.map_or(0.0, |pen| pen.width / 2.0);
        let area = rect.area.grown(-inset, -inset);
        let cut = match rect.corners {
            Corners::Square => 0.0,
            Corners::Round(by) => 0.3 * by,
            Corners::Cut(by) => by,
        };
        let corners = corners(&area, cut);
        self.closed(&corners, rect.fill.map(grey), None);
        self.pattern(&rect.area, rect.pattern);
        self.closed(&corners, None, rect.edge.map(drawn));
    }

    fn circle(&mut self, circle: &Circle) {
        let (x, y, r) = (circle.centre.x, circle.centre.y, circle.radius);
        let a = ARM * r;
        let mut path = PathBuilder::new();
        path.move_to(x + r, y);
        path.cubic_to(x + r, y + a, x + a, y + r, x, y + r);
        path.cubic_to(x - a, y + r, x - r, y + a, x - r, y);
        path.cubic_to(x - r, y - a, x - a, y - r, x, y - r);
        path.cubic_to(x + a, y - r, x + r, y - a, x + r, y);
        path.close();
        self.path(path, circle.fill.map(grey), circle.edge.map(drawn));
    }

    fn pattern(&mut self, area: &Area, (pattern, colour): (Pattern, Colour)) {
        if matches!(pattern, Pattern::Plain | Pattern::Dashed) {
            return;
        }
        let shade = grey(colour);
        let pen = (0.6, shade, None);
        self.within(area, |own| match pattern {
            Pattern::Plain | Pattern::Dashed => {}
            Pattern::Upright => {
                let mut x = area.x + 4.0;
                while x < area.right() {
                    own.line(&[at(x, area.y), at(x, area.bottom())], pen);
                    x += 4.0;
                }
            }
            Pattern::Shelf => {
                let thick = (0.16 * area.h).clamp(2.0, 4.0);
                let floor = Area { y: area.bottom() - thick, h: thick, ..*area };
                own.closed(&ink::corners(&floor), Some(shade), None);
            }
            Pattern::Dots => own.dots(area, shade),
            Pattern::Hatched => own.hatch(area, pen, 6.0),
            Pattern::Band => own.hatch(area, (0.4, shade, None), 12.0),
        });
    }

    fn dots(&mut self, area: &Area, ink: u8) {
        let mut y = area.y + 3.5;
        let mut shift = 0.0;
        while y < area.bottom() {
            let mut x = area.x + 3.0 + shift;
            while x < area.right() {
                let dot = Area::around(at(x, y), (1.2, 1.2));
                self.closed(&ink::corners(&dot), Some(ink), None);
                x += 6.0;
            }
            shift = 3.0 - shift;
            y += 4.5;
        }
    }

    fn hatch(&mut self, area: &Area, pen: Line, every: f32) {
        let mut x = area.x - area.h;
        while x < area.right() {
            self.line(&[at(x, area.bottom()), at(x + area.h, area.y)], pen);
            x += every;
        }
    }

    fn scene_text(&mut self, text: &Text) {
        let letters = text.letters;
        let look = (letters.size, letters.weight, grey(letters.colour));
        if text.upwards {
            let Point { x, y } = text.place.at;
            // Turned by a quarter about the point: what was right is up.
            let turned = Transform::from_row(0.0, -1.0, 1.0, 0.0, x - y, x + y);
            self.surface.push_transform(&turned);
            self.text(&printable(&text.words), at(x, y + BASE * letters.size), look);
            self.surface.pop();
            return;
        }
        let area = text.area(self.typeface);
        for (i, line) in text.words.split('\n').enumerate() {
            let top = area.y + i as f32 * LINE * letters.size;
            self.text(&printable(line), at(area.x, top + BASE * letters.size), look);
        }
    }
}

/// The corners of a rectangle, cut off by so much.
fn corners(area: &Area, cut: f32) -> Vec<Point> {
    let c = cut.min(area.w / 3.0).min(area.h / 3.0).max(0.0);
    let (l, t, r, b) = (area.x, area.y, area.right(), area.bottom());
    if c <= 0.0 {
        return vec![at(l, t), at(r, t), at(r, b), at(l, b)];
    }
    vec![
        at(l + c, t),
        at(r - c, t),
        at(r, t + c),
        at(r, b - c),
        at(r - c, b),
        at(l + c, b),
        at(l, b - c),
        at(l, t + c),
    ]
}

fn drawn(pen: Pen) -> Line {
    (pen.width, grey(pen.colour), pen.dash.lengths())
}
