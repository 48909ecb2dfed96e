//! Pictures of `view/scene`, painted with the toolkit: the one place where
//! their shapes, patterns and words get their looks in the window.

use std::borrow::Cow;

use eframe::egui::epaint::TextShape;
use eframe::egui::{
    Align2, Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2,
};

use super::fonts;
use super::patterns::{cut_corners, dots, hatch, upright, weaker};
use super::say::say;
use super::theme::Palette;
use crate::view::area::{Area, Point, at};
use crate::view::scene::{
    self, Across, Corners, Down, Item, Measure, Pattern, Pen, Scene, Text, Weight,
};

/// Words as they come out in this window.
pub struct InWindow<'a>(pub &'a Painter);

impl Measure for InWindow<'_> {
    fn width(&self, words: &str, size: f32, weight: Weight) -> f32 {
        let font = font(size, weight);
        self.0.layout_no_wrap(words.to_owned(), font, Color32::PLACEHOLDER).size().x
    }

    fn height(&self, size: f32, weight: Weight) -> f32 {
        let font = font(size, weight);
        self.0.ctx().fonts_mut(|fonts| fonts.row_height(&font))
    }

    fn said<'a>(&self, words: &'a str) -> Cow<'a, str> {
        say(words)
    }
}

fn font(size: f32, weight: Weight) -> FontId {
    match weight {
        Weight::Plain => fonts::plain(size),
        Weight::Bold => fonts::bold(size),
    }
}

/// Where a rectangle of the window is in a picture whose left top is at the
/// window's own.
pub fn area(rect: Rect) -> Area {
    Area::between(at(rect.left(), rect.top()), at(rect.right(), rect.bottom()))
}

/// Where an area of a picture is in the window.
pub fn rect(area: &Area, origin: Pos2) -> Rect {
    Rect::from_min_size(origin + vec2(area.x, area.y), vec2(area.w, area.h))
}

/// Paints a picture with its left top at a point.
pub fn scene(painter: &Painter, origin: Pos2, scene: &Scene, palette: &Palette) {
    let mut within: Option<(Area, Painter)> = None;
    for Item { shape: painted, within: seen, .. } in &scene.items {
        let Some(seen) = seen else {
            shape(painter, origin.to_vec2(), painted, palette);
            continue;
        };
        // Items that follow one another are mostly seen in the same area.
        if within.as_ref().is_none_or(|(area, _)| area != seen) {
            let clip = painter.clip_rect().intersect(rect(seen, origin));
            within = Some((*seen, painter.with_clip_rect(clip)));
        }
        if let Some((_, painter)) = &within {
            shape(painter, origin.to_vec2(), painted, palette);
        }
    }
}

/// Paints a shape, moved by so much.
pub fn shape(painter: &Painter, by: Vec2, shape: &scene::Shape, palette: &Palette) {
    let point = |p: &Point| pos2(p.x, p.y) + by;
    match shape {
        scene::Shape::Rect(of) => rectangle(painter, by, of, palette),
        scene::Shape::Line(points, pen) => {
            line(painter, &points.iter().map(point).collect::<Vec<_>>(), pen, palette);
        }
        scene::Shape::Polygon(of) => {
            let points = of.points.iter().map(point).collect();
            let fill = palette.colour(of.fill);
            painter.add(Shape::convex_polygon(points, fill, Stroke::NONE));
        }
        scene::Shape::Circle(of) => {
            let fill = of.fill.map_or(Color32::TRANSPARENT, |fill| palette.colour(fill));
            let edge = of.edge.map_or(Stroke::NONE, |pen| stroke(&pen, palette));
            painter.circle(point(&of.centre), of.radius, fill, edge);
        }
        scene::Shape::Text(of) => text(painter, by, of, palette),
    }
}

fn stroke(pen: &Pen, palette: &Palette) -> Stroke {
    Stroke::new(pen.width, palette.colour(pen.colour))
}

fn line(painter: &Painter, points: &[Pos2], pen: &Pen, palette: &Palette) {
    let stroke = stroke(pen, palette);
    match (pen.dash.lengths(), points) {
        (Some((dash, gap)), _) => {
            painter.extend(Shape::dashed_line(points, stroke, dash, gap));
        }
        (None, &[from, to]) => {
            painter.line_segment([from, to], stroke);
        }
        (None, _) => {
            painter.add(Shape::line(points.to_vec(), stroke));
        }
    }
}

/// A rectangle: its fill, its pattern, its edge within its area.
fn rectangle(painter: &Painter, by: Vec2, of: &scene::Rect, palette: &Palette) {
    let whole = rect(&of.area, Pos2::ZERO + by);
    let inset = of.edge.map_or(0.0, |pen| pen.width / 2.0);
    let radius = match of.corners {
        Corners::Square => 0.0,
        Corners::Round(radius) => radius,
        Corners::Cut(cut) => {
            let corners = cut_corners(whole.shrink(inset), cut);
            if let Some(fill) = of.fill {
                let fill = palette.colour(fill);
                painter.add(Shape::convex_polygon(corners.clone(), fill, Stroke::NONE));
            }
            outline(painter, corners, of.edge, palette);
            return;
        }
    };
    if let Some(fill) = of.fill {
        painter.rect_filled(whole, radius, palette.colour(fill));
    }
    pattern(painter, whole, of.pattern, palette);
    let Some(pen) = of.edge else { return };
    if pen.dash.lengths().is_some() {
        let r = whole.shrink(inset);
        let corners = vec![r.left_top(), r.right_top(), r.right_bottom(), r.left_bottom()];
        outline(painter, corners, of.edge, palette);
    } else {
        painter.rect_stroke(whole, radius, stroke(&pen, palette), StrokeKind::Inside);
    }
}

/// The edge of a shape with these corners.
fn outline(painter: &Painter, mut corners: Vec<Pos2>, edge: Option<Pen>, palette: &Palette) {
    let Some(pen) = edge else { return };
    if pen.dash.lengths().is_some() {
        corners.extend(corners.first().copied());
        line(painter, &corners, &pen, palette);
    } else {
        painter.add(Shape::closed_line(corners, stroke(&pen, palette)));
    }
}

fn pattern(
    painter: &Painter,
    rect: Rect,
    (pattern, colour): (Pattern, scene::Colour),
    palette: &Palette,
) {
    let colour = palette.colour(colour);
    let edge = if pattern == Pattern::Band { 0.0 } else { 1.0 };
    let inside = || painter.with_clip_rect(rect.shrink(edge).intersect(painter.clip_rect()));
    match pattern {
        Pattern::Plain | Pattern::Dashed => {}
        Pattern::Upright => upright(&inside(), rect, weaker(colour, 0.55, palette), 4.0),
        Pattern::Shelf => {
            let thick = (rect.height() * 0.16).clamp(2.0, 4.0);
            inside().rect_filled(rect.with_min_y(rect.bottom() - thick), 0.0, colour);
        }
        Pattern::Dots => dots(&inside(), rect, colour),
        Pattern::Hatched => hatch(&inside(), rect, weaker(colour, 0.55, palette), 6.0),
        Pattern::Band => {
            // A small sample shows several lines too.
            let every = if rect.height() < 24.0 { 8.0 } else { 12.0 };
            hatch(&inside(), rect, weaker(colour, 0.35, palette), every);
        }
    }
}

fn text(painter: &Painter, by: Vec2, of: &Text, palette: &Palette) {
    let ink = palette.colour(of.letters.colour);
    let font = font(of.letters.size, of.letters.weight);
    // Laid out without a colour, as it is measured, so that once is enough.
    let galley = painter.layout_no_wrap(of.words.clone(), font, Color32::PLACEHOLDER);
    let at = pos2(of.place.at.x, of.place.at.y) + by;
    if of.upwards {
        let mut words = TextShape::new(at, galley, ink);
        words.angle = -std::f32::consts::FRAC_PI_2;
        painter.add(words);
        return;
    }
    let anchor = match (of.place.across, of.place.down) {
        (Across::Left, Down::Top) => Align2::LEFT_TOP,
        (Across::Left, Down::Middle) => Align2::LEFT_CENTER,
        (Across::Centre, Down::Top) => Align2::CENTER_TOP,
        (Across::Centre, Down::Middle) => Align2::CENTER_CENTER,
        (Across::Right, Down::Top) => Align2::RIGHT_TOP,
        (Across::Right, Down::Middle) => Align2::RIGHT_CENTER,
    };
    painter.galley(anchor.anchor_size(at, galley.size()).min, galley, ink);
}
