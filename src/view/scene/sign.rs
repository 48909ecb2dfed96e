//! Small signs: verdicts, the padlock of what is held, and samples of what the
//! board has, for its key.

use super::{Colour, Corners, Dash, Pattern, Pen, Polygon, Rect, Scene, Shape, Stretch, bar};
use crate::check::Verdict;
use crate::view::area::{Area, Point, at};
use crate::view::board::Work;
use crate::view::help::Sign;

/// Half the width of a tin's rim and of its base, and half its height.
const TIN: (f32, f32, f32) = (7.4, 6.0, 3.9);
/// From the rim of a full tin down to what is in it.
const BELOW_RIM: f32 = 0.0;

/// Adds the mark of a verdict around a point, a tin from its side: full where a
/// group fits, half full where it is tight, empty where no plan was found,
/// crossed out where it cannot be, struck through where not all can.
pub fn verdict(scene: &mut Scene, stretch: Stretch, centre: Point, verdict: Verdict) {
    let pen = Pen::new(Colour::Ink, 1.5);
    let (rim, base, half) = TIN;
    let corner = |x: f32, y: f32| at(centre.x + x, centre.y + y);
    let mut add = |shape| scene.add_as(stretch, shape);
    let mut filled = |from: f32| {
        let side = base + (rim - base) * (half - from) / (2.0 * half);
        let points =
            vec![corner(-side, from), corner(side, from), corner(base, half), corner(-base, half)];
        add(Shape::Polygon(Polygon { points, fill: Colour::Ink }));
    };
    match verdict {
        Verdict::Fits => filled(BELOW_RIM - half),
        Verdict::Tight => filled(0.2),
        _ => {}
    }
    let sides =
        vec![corner(-rim, -half), corner(-base, half), corner(base, half), corner(rim, -half)];
    let across = |x: f32, y: f32| Shape::Line(vec![corner(-x, -y), corner(x, y)], pen);
    let edge = match verdict {
        Verdict::LeftOut => Pen::new(Colour::Soft, 1.0).dashed(Dash::Edge),
        _ => pen,
    };
    add(Shape::Line(sides, edge));
    add(Shape::Line(vec![corner(-rim - 1.0, -half), corner(rim + 1.0, -half)], edge));
    match verdict {
        Verdict::Cannot => {
            add(across(rim, half + 2.0));
            add(across(-rim, half + 2.0));
        }
        Verdict::CannotAll => add(across(-rim, half + 2.0)),
        _ => {}
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

/// Half the width of the half-disc at a checkpoint, and its height.
pub const LOOK: (f32, f32) = (5.5, 5.5);
/// Width of a lens's outline, and of the stroke at its middle.
const OUTLINE: (f32, f32) = (1.2, 1.8);

/// The half-disc at a minute at which looking pays, by its lowest point.
pub fn look(tip: Point) -> Shape {
    const SIDES: u8 = 12;
    let (half, height) = LOOK;
    let round = |side: u8| {
        let angle = std::f32::consts::PI * f32::from(side) / f32::from(SIDES);
        at(tip.x + half * angle.cos(), tip.y - height + height * angle.sin())
    };
    Shape::Polygon(Polygon { points: (0..=SIDES).map(round).collect(), fill: Colour::Ink })
}

/// Adds a lens: its tips at an early and a late time, a stroke at the middle. It
/// is open on the right where there is no late time.
pub fn lens(scene: &mut Scene, stretch: Stretch, area: Area, middle: Option<f32>, closed: bool) {
    let (y, top, bottom) = (area.centre().y, area.y, area.bottom());
    let widest = middle.unwrap_or(area.right()).clamp(area.x, area.right());
    let early = side(at(area.x, y), (widest, top), bottom);
    let late = match closed {
        true => side(at(area.right(), y), (widest, top), bottom),
        false => [vec![at(area.right(), top)], vec![at(area.right(), bottom)]],
    };
    let [above, below] = [0, 1].map(|i| {
        let back = late[i].iter().rev();
        early[i].iter().chain(back).copied().collect::<Vec<Point>>()
    });
    let around: Vec<Point> = above.iter().chain(below.iter().rev()).copied().collect();
    let fill = Polygon { points: around.clone(), fill: Colour::Card };
    scene.add_as(stretch, Shape::Polygon(fill));
    let edge = Pen::new(Colour::Ink, OUTLINE.0);
    for line in if closed { vec![around] } else { vec![above, below] } {
        scene.add_as(stretch, Shape::Line(line, edge));
    }
    if middle.is_some() {
        let stroke = Pen::new(Colour::Ink, OUTLINE.1);
        scene.add_as(stretch, Shape::Line(vec![at(widest, top), at(widest, bottom)], stroke));
    }
}

/// Both arcs of a lens from one of its tips to where it is widest, above and below.
fn side(tip: Point, (widest, top): (f32, f32), bottom: f32) -> [Vec<Point>; 2] {
    const PARTS: u8 = 6;
    let arc = |edge: f32| {
        let point = |part: u8| {
            let t = f32::from(part) / f32::from(PARTS);
            at(tip.x + t * (widest - tip.x), tip.y + t * (2.0 - t) * (edge - tip.y))
        };
        (0..=PARTS).map(point).collect()
    };
    [arc(top), arc(bottom)]
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
        Sign::Lens => {
            let lens_area = area.grown(-2.0, -h / 6.0);
            lens(&mut scene, Stretch::default(), lens_area, Some(w * 0.45), true);
        }
        Sign::Look => scene.add(look(at(w / 2.0, h / 2.0 + LOOK.1 / 2.0))),
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
            let head = vec![at(x - 7.0, 1.5), at(x + 7.0, 1.5)];
            scene.add(Shape::Line(head, Pen::new(Colour::Ink, 2.5)));
            scene.add(Shape::Line(vec![at(x, 0.0), at(x, h)], Pen::new(Colour::Ink, 2.0)));
        }
    }
    scene
}
