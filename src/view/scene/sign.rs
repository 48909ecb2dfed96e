//! Small signs: verdicts, the padlock of what is held, and samples of what the
//! board has, for its key.

use super::{
    Circle, Colour, Corners, Dash, Pattern, Pen, Polygon, Rect, Scene, Shape, Stretch, bar,
};
use crate::check::Verdict;
use crate::view::area::{Area, Point, at};
use crate::view::board::Work;
use crate::view::help::Sign;

/// Adds the shape of a verdict around a point: full, half, open, crossed.
pub fn verdict(scene: &mut Scene, stretch: Stretch, centre: Point, verdict: Verdict) {
    let r = 5.0;
    let pen = Pen::new(Colour::Ink, 1.6);
    let mut add = |shape| scene.add_as(stretch, shape);
    let circle = |radius, fill, edge| Shape::Circle(Circle { centre, radius, fill, edge });
    let across = |dx: f32, dy: f32| {
        let ends = vec![at(centre.x - dx, centre.y - dy), at(centre.x + dx, centre.y + dy)];
        Shape::Line(ends, pen)
    };
    match verdict {
        Verdict::Fits => add(circle(r, Some(Colour::Ink), None)),
        Verdict::Tight => {
            add(circle(r, None, Some(pen)));
            let points = (0..=12).map(|i| {
                let a = std::f32::consts::PI * (0.5 + i as f32 / 12.0);
                at(centre.x + r * a.cos(), centre.y + r * a.sin())
            });
            add(Shape::Polygon(Polygon { points: points.collect(), fill: Colour::Ink }));
        }
        Verdict::NotRealistically => {
            add(circle(r, None, Some(pen)));
            add(across(r, 0.0));
        }
        Verdict::Cannot | Verdict::CannotAll => {
            let d = r * 0.8;
            add(across(d, d));
            add(across(-d, d));
            if verdict == Verdict::CannotAll {
                add(circle(r + 2.0, None, Some(Pen::new(Colour::Ink, 1.0))));
            }
        }
        Verdict::LeftOut => add(circle(r, None, Some(Pen::new(Colour::Soft, 1.0)))),
    }
}

/// Adds a small padlock around a point: the mark of what is held.
pub fn lock(scene: &mut Scene, stretch: Stretch, centre: Point, size: f32) {
    let Point { x, y } = centre;
    let body = Area::around(at(x, y + size * 0.18), (size, size * 0.68));
    let body_rect = Rect::filled(body, Corners::Round(1.0), Colour::Ink);
    scene.add_as(stretch, Shape::Rect(body_rect));
    let (w, top) = (size * 0.3, y - size * 0.5);
    let bow = vec![
        at(x - w, body.y),
        at(x - w, top + w),
        at(x - w * 0.6, top + 0.15 * w),
        at(x + w * 0.6, top + 0.15 * w),
        at(x + w, top + w),
        at(x + w, body.y),
    ];
    let pen = Pen::new(Colour::Ink, (size * 0.17).max(1.2));
    scene.add_as(stretch, Shape::Line(bow, pen));
}

/// The look of a step of the class.
pub fn class_band(area: Area) -> Rect {
    let pattern = (Pattern::Band, Colour::ClassEdge);
    Rect { pattern, ..Rect::filled(area, Corners::Square, Colour::Class) }
}

/// The look of what is in use of a ribbon.
pub fn ribbon(area: Area) -> Rect {
    let edge = Pen::new(Colour::RibbonEdge, 1.0);
    Rect::filled(area, Corners::Square, Colour::Ribbon).edged(edge)
}

/// The line at what there is of a ribbon's thing.
pub fn there(from: Point, to: Point) -> Shape {
    Shape::Line(vec![from, to], Pen::new(Colour::Edge, 1.0).dashed(Dash::There))
}

/// The line of an oven's temperature.
pub fn heat(points: Vec<Point>) -> Shape {
    Shape::Line(points, Pen::new(Colour::Heat, 1.5).dashed(Dash::Heat))
}

/// A sample of what the board has beside bars.
pub fn sample(sign: Sign, (w, h): (f32, f32)) -> Scene {
    let mut scene = Scene::new((w, h));
    let area = Area { x: 0.0, y: 0.0, w, h };
    match sign {
        Sign::Class => {
            let band = class_band(area).edged(Pen::new(Colour::ClassEdge, 1.0));
            scene.add(Shape::Rect(band));
        }
        Sign::Heat => scene.add(heat(vec![at(0.0, h), at(w / 2.0 + 4.0, 0.0), at(w, 0.0)])),
        Sign::Thread => {
            let step = Area { w: w / 4.0, ..area };
            scene.add(Shape::Rect(bar::rect(step, Work::Bench)));
            let last = step.moved(w - step.w, 0.0);
            scene.add(Shape::Rect(bar::rect(last, Work::Bench)));
            scene.add(bar::thread(at(step.w, h / 2.0), at(last.x, h / 2.0)));
        }
        Sign::Ribbon => {
            let used = Area::between(at(w / 2.0, 8.0), at(w, h));
            scene.add(Shape::Rect(ribbon(used)));
            scene.add(there(at(0.0, 2.0), at(w, 2.0)));
        }
        Sign::Outline => scene.add(Shape::Rect(bar::outline(area, Work::Bake))),
        Sign::Held => {
            scene.add(Shape::Rect(bar::rect(area, Work::Bench)));
            lock(&mut scene, Stretch::default(), at(7.0, 6.0), 8.0);
        }
        Sign::Minute => {
            let x = w / 2.0;
            let points = vec![at(x - 6.0, 0.0), at(x + 6.0, 0.0), at(x, 8.0)];
            scene.add(Shape::Polygon(Polygon { points, fill: Colour::Ink }));
            scene.add(Shape::Line(vec![at(x, 0.0), at(x, h)], Pen::new(Colour::Ink, 2.0)));
        }
    }
    scene
}
