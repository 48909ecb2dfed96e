//! A scene and what it is made of.

use super::{Colour, Measure, Pattern, Pen, Text};
use crate::model::{GroupId, OvenId};
use crate::units::Minute;
use crate::view::area::{Area, Point};
use crate::view::board::BarId;

/// A picture: its size, and its items in the order in which they are painted.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Width and height. The picture's own left top is at 0, 0.
    pub size: (f32, f32),
    /// What is painted, the undermost first.
    pub items: Vec<Item>,
}

/// Something painted.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    /// What it looks like.
    pub shape: Shape,
    /// What of the lesson it stands for.
    pub of: Option<Of>,
    /// Where it is seen; all of it is if `None`.
    pub within: Option<Area>,
}

/// What of a lesson an item stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Of {
    /// A bar, or a step of the class.
    Bar(BarId),
    /// A bar of a plan that is laid over.
    Other(BarId),
    /// A group.
    Group(GroupId),
    /// Why a group is not served.
    WhyNot(GroupId),
    /// An oven.
    Oven(OvenId),
    /// A ribbon of the board, by its number.
    Ribbon(usize),
    /// A bell.
    Bell(Minute),
    /// When a group is ready, early to late.
    Lens(GroupId),
    /// The class.
    Class,
    /// A minute at which looking pays.
    Look(Minute),
}

/// What an item looks like.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A rectangle.
    Rect(Rect),
    /// A line through points.
    Line(Vec<Point>, Pen),
    /// A filled shape with straight edges and no dent.
    Polygon(Polygon),
    /// A circle.
    Circle(Circle),
    /// Words.
    Text(Text),
}

/// How the corners of a rectangle are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Corners {
    /// Square.
    Square,
    /// Rounded by a radius.
    Round(f32),
    /// Cut off by a length.
    Cut(f32),
}

/// A rectangle. Its edge lies within its area.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rect {
    /// Where it is.
    pub area: Area,
    /// Its corners.
    pub corners: Corners,
    /// What it is filled with.
    pub fill: Option<Colour>,
    /// What fills it beside, and the colour of that.
    pub pattern: (Pattern, Colour),
    /// Its edge.
    pub edge: Option<Pen>,
}

impl Rect {
    /// A rectangle of one colour.
    pub fn filled(area: Area, corners: Corners, fill: Colour) -> Self {
        let pattern = (Pattern::Plain, fill);
        Self { area, corners, fill: Some(fill), pattern, edge: None }
    }

    /// A rectangle that is an edge alone.
    pub fn outlined(area: Area, corners: Corners, edge: Pen) -> Self {
        let pattern = (Pattern::Plain, edge.colour);
        Self { area, corners, fill: None, pattern, edge: Some(edge) }
    }

    /// The same with an edge.
    #[must_use]
    pub fn edged(self, edge: Pen) -> Self {
        Self { edge: Some(edge), ..self }
    }
}

/// A filled shape.
#[derive(Debug, Clone, PartialEq)]
pub struct Polygon {
    /// Its corners in order.
    pub points: Vec<Point>,
    /// What it is filled with.
    pub fill: Colour,
}

/// A circle. Its edge lies half within and half outside its radius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Its centre.
    pub centre: Point,
    /// From the centre to the edge.
    pub radius: f32,
    /// What it is filled with.
    pub fill: Option<Colour>,
    /// Its edge.
    pub edge: Option<Pen>,
}

/// What the items that are added next have in common.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Stretch {
    /// What of the lesson they stand for.
    pub of: Option<Of>,
    /// Where they are seen.
    pub within: Option<Area>,
}

impl Scene {
    /// An empty picture.
    pub fn new(size: (f32, f32)) -> Self {
        Self { size, items: Vec::new() }
    }

    /// Adds a shape that stands for nothing and is seen as a whole.
    pub fn add(&mut self, shape: Shape) {
        self.add_as(Stretch::default(), shape);
    }

    /// Adds a shape.
    pub fn add_as(&mut self, Stretch { of, within }: Stretch, shape: Shape) {
        self.items.push(Item { shape, of, within });
    }

    /// What stands for a thing of the lesson in words that have lost their end.
    pub fn cut(&self) -> Vec<Of> {
        let is_cut = |item: &&Item| matches!(&item.shape, Shape::Text(text) if text.is_cut);
        self.items.iter().filter(is_cut).filter_map(|item| item.of).collect()
    }

    /// The same picture, so many times as large.
    #[must_use]
    pub fn scaled(&self, by: f32) -> Self {
        let items = self.items.iter().map(|item| Item {
            shape: item.shape.scaled(by),
            within: item.within.map(|area| area.scaled(by)),
            of: item.of,
        });
        Self { size: (by * self.size.0, by * self.size.1), items: items.collect() }
    }

    /// Adds another picture with its left top at a point.
    pub fn put(&mut self, other: Scene, to: Point) {
        self.items.extend(other.items.into_iter().map(|mut item| {
            item.shape.shift(to);
            item.within = item.within.map(|area| area.moved(to.x, to.y));
            item
        }));
    }
}

impl Item {
    /// The area in which something of it is seen.
    pub fn seen(&self, measure: &dyn Measure) -> Area {
        let whole = self.shape.area(measure);
        self.within.map_or(whole, |within| within.shared(&whole))
    }
}

impl Shape {
    /// The smallest area that holds its points; of words, what they take.
    pub fn area(&self, measure: &dyn Measure) -> Area {
        let around = |points: &[Point]| {
            let each = points.iter().map(|&p| Area::between(p, p));
            each.reduce(|all, p| all.joined(&p)).unwrap_or(Area { x: 0.0, y: 0.0, w: 0.0, h: 0.0 })
        };
        match self {
            Shape::Rect(rect) => rect.area,
            Shape::Line(points, _) => around(points),
            Shape::Polygon(polygon) => around(&polygon.points),
            Shape::Circle(c) => Area::around(c.centre, (2.0 * c.radius, 2.0 * c.radius)),
            Shape::Text(text) => text.area(measure),
        }
    }

    fn scaled(&self, by: f32) -> Self {
        let point = |p: &Point| Point { x: by * p.x, y: by * p.y };
        let pen = |pen: Pen| Pen { width: by * pen.width, ..pen };
        match self {
            Shape::Rect(rect) => Shape::Rect(Rect {
                area: rect.area.scaled(by),
                corners: match rect.corners {
                    Corners::Square => Corners::Square,
                    Corners::Round(radius) => Corners::Round(by * radius),
                    Corners::Cut(length) => Corners::Cut(by * length),
                },
                edge: rect.edge.map(pen),
                ..*rect
            }),
            Shape::Line(points, with) => {
                Shape::Line(points.iter().map(point).collect(), pen(*with))
            }
            Shape::Polygon(polygon) => Shape::Polygon(Polygon {
                points: polygon.points.iter().map(point).collect(),
                fill: polygon.fill,
            }),
            Shape::Circle(circle) => Shape::Circle(Circle {
                centre: point(&circle.centre),
                radius: by * circle.radius,
                edge: circle.edge.map(pen),
                ..*circle
            }),
            Shape::Text(text) => {
                let mut text = text.clone();
                text.letters.size *= by;
                text.place.at = point(&text.place.at);
                Shape::Text(text)
            }
        }
    }

    fn shift(&mut self, by: Point) {
        let shift = |p: &mut Point| {
            p.x += by.x;
            p.y += by.y;
        };
        match self {
            Shape::Rect(rect) => rect.area = rect.area.moved(by.x, by.y),
            Shape::Line(points, _) => points.iter_mut().for_each(shift),
            Shape::Polygon(polygon) => polygon.points.iter_mut().for_each(shift),
            Shape::Circle(circle) => shift(&mut circle.centre),
            Shape::Text(text) => shift(&mut text.place.at),
        }
    }
}
