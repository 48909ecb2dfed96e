//! Fills that differ by pattern as well as tint, so that no kind of work is
//! told by its colour alone.

use eframe::egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

use crate::app::looks::theme::Palette;
use crate::view::board::Work;
use crate::view::help::Sign;

/// Fill and edge of a kind of work.
pub fn colours(work: Work, palette: &Palette) -> (Color32, Color32) {
    match work {
        Work::Bench => palette.bench,
        Work::Door => palette.door,
        Work::Bake => palette.bake,
        Work::Cool => palette.cool,
        Work::Wait => palette.wait,
        Work::Clear => palette.clear,
    }
}

/// What tells a kind of work from the others without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pattern {
    /// Nothing but the fill.
    Plain,
    /// Upright lines, as of a door that opens.
    Upright,
    /// A thick line along the bottom, as of a shelf.
    Shelf,
    /// Dots.
    Dots,
    /// A dashed edge.
    Dashed,
    /// Slanting lines.
    Hatched,
}

/// The pattern of a kind of work: each its own.
pub fn pattern(work: Work) -> Pattern {
    match work {
        Work::Bench => Pattern::Plain,
        Work::Door => Pattern::Upright,
        Work::Bake => Pattern::Shelf,
        Work::Cool => Pattern::Dots,
        Work::Wait => Pattern::Dashed,
        Work::Clear => Pattern::Hatched,
    }
}

/// Paints a bar.
pub fn bar(painter: &Painter, rect: Rect, work: Work, palette: &Palette) {
    let (fill, edge) = colours(work, palette);
    let radius = (rect.height() / 4.0).min(4.0);
    painter.rect_filled(rect, radius, fill);
    let inside = painter.with_clip_rect(rect.shrink(1.0).intersect(painter.clip_rect()));
    let pattern = pattern(work);
    match pattern {
        Pattern::Plain | Pattern::Dashed => {}
        Pattern::Upright => upright(&inside, rect, weaker(edge, 0.55, palette), 4.0),
        Pattern::Shelf => {
            let thick = (rect.height() * 0.16).clamp(2.0, 4.0);
            let shelf = rect.with_min_y(rect.bottom() - thick);
            inside.rect_filled(shelf, 0.0, edge);
        }
        Pattern::Dots => dots(&inside, rect, edge),
        Pattern::Hatched => hatch(&inside, rect, weaker(edge, 0.55, palette), 6.0),
    }
    if pattern == Pattern::Dashed {
        dashed(painter, rect.shrink(0.5), edge);
    } else {
        painter.rect_stroke(rect, radius, Stroke::new(1.0, edge), StrokeKind::Inside);
    }
}

/// A colour for lines within a fill: thinned, but not in high contrast.
pub fn weaker(colour: Color32, by: f32, palette: &Palette) -> Color32 {
    if palette.strong { colour } else { colour.gamma_multiply(by) }
}

/// Upright lines.
fn upright(painter: &Painter, rect: Rect, colour: Color32, every: f32) {
    let seen = rect.intersect(painter.clip_rect());
    let mut x = rect.left() + every;
    while x < seen.right() {
        if x > seen.left() {
            painter.vline(x, rect.y_range(), Stroke::new(1.0, colour));
        }
        x += every;
    }
}

/// Diagonal lines.
pub fn hatch(painter: &Painter, rect: Rect, colour: Color32, every: f32) {
    let seen = rect.intersect(painter.clip_rect());
    if !seen.is_positive() {
        return;
    }
    let stroke = Stroke::new(1.0, colour);
    let height = rect.height();
    // Lines keep their place when the bar is cut at the edge of the board.
    let first = ((seen.left() - rect.left() - height) / every).floor() * every + rect.left();
    let mut x = first;
    while x < seen.right() {
        painter.line_segment([pos2(x, rect.bottom()), pos2(x + height, rect.top())], stroke);
        x += every;
    }
}

fn dots(painter: &Painter, rect: Rect, colour: Color32) {
    let seen = rect.intersect(painter.clip_rect());
    if !seen.is_positive() {
        return;
    }
    let every = 6.0;
    let mut row = 0;
    let mut y = rect.top() + 3.5;
    while y < rect.bottom() {
        let shift = if row % 2 == 0 { 0.0 } else { every / 2.0 };
        let skip = ((seen.left() - rect.left()) / every).floor().max(0.0);
        let mut x = rect.left() + 3.0 + shift + skip * every;
        while x < seen.right() {
            painter.rect_filled(Rect::from_center_size(pos2(x, y), vec2(1.5, 1.5)), 0.0, colour);
            x += every;
        }
        row += 1;
        y += 4.5;
    }
}

/// A dashed outline.
pub fn dashed(painter: &Painter, rect: Rect, colour: Color32) {
    let corners = [
        rect.left_top(),
        rect.right_top(),
        rect.right_bottom(),
        rect.left_bottom(),
        rect.left_top(),
    ];
    painter.extend(Shape::dashed_line(&corners, Stroke::new(1.0, colour), 4.0, 3.0));
}

/// The corners of a rectangle cut off.
pub fn cut_corners(rect: Rect, cut: f32) -> Vec<Pos2> {
    let c = cut.min(rect.width() / 3.0).min(rect.height() / 3.0);
    let (l, r, t, b) = (rect.left(), rect.right(), rect.top(), rect.bottom());
    vec![
        pos2(l + c, t),
        pos2(r - c, t),
        pos2(r, t + c),
        pos2(r, b - c),
        pos2(r - c, b),
        pos2(l + c, b),
        pos2(l, b - c),
        pos2(l, t + c),
    ]
}

/// A bar of a plan that is laid over: clear within, its edge dashed and its
/// corners cut, so that it is told from a bar by its shape.
pub fn ghost(painter: &Painter, rect: Rect, work: Work, palette: &Palette) {
    let corners = cut_corners(rect.shrink(0.75), 5.0);
    let edge = colours(work, palette).1;
    painter.add(Shape::convex_polygon(corners.clone(), palette.ghost, Stroke::NONE));
    if rect.width() < 16.0 {
        // Dashes as long as the edges themselves are not to be made out.
        painter.add(Shape::closed_line(corners, Stroke::new(1.0, edge)));
        return;
    }
    let closed: Vec<Pos2> = corners.iter().chain(corners.first()).copied().collect();
    painter.extend(Shape::dashed_line(&closed, Stroke::new(1.5, edge), 4.0, 2.0));
}

/// A dashed thread, for waiting.
pub fn thread(painter: &Painter, from: Pos2, to: Pos2, colour: Color32) {
    painter.extend(Shape::dashed_line(&[from, to], Stroke::new(1.0, colour), 3.0, 4.0));
}

/// The shape of a verdict: full, half, open, crossed.
pub fn verdict(painter: &Painter, centre: Pos2, verdict: crate::check::Verdict, palette: &Palette) {
    use crate::check::Verdict;
    let r = 5.0;
    let stroke = Stroke::new(1.6, palette.ink);
    match verdict {
        Verdict::Fits => {
            painter.circle_filled(centre, r, palette.ink);
        }
        Verdict::Tight => {
            painter.circle_stroke(centre, r, stroke);
            let points = (0..=12).map(|i| {
                let a = std::f32::consts::PI * (0.5 + i as f32 / 12.0);
                centre + r * vec2(a.cos(), a.sin())
            });
            painter.add(Shape::convex_polygon(points.collect(), palette.ink, Stroke::NONE));
        }
        Verdict::NotRealistically => {
            painter.circle_stroke(centre, r, stroke);
            painter.line_segment([centre - vec2(r, 0.0), centre + vec2(r, 0.0)], stroke);
        }
        Verdict::Cannot | Verdict::CannotAll => {
            let d = r * 0.8;
            painter.line_segment([centre - vec2(d, d), centre + vec2(d, d)], stroke);
            painter.line_segment([centre + vec2(-d, d), centre + vec2(d, -d)], stroke);
            if verdict == Verdict::CannotAll {
                painter.circle_stroke(centre, r + 2.0, Stroke::new(1.0, palette.ink));
            }
        }
        Verdict::LeftOut => {
            painter.circle_stroke(centre, r, Stroke::new(1.0, palette.soft));
        }
    }
}

/// A sample of what the board has beside bars.
pub fn sign(painter: &Painter, rect: Rect, sign: Sign, palette: &Palette) {
    match sign {
        Sign::Class => {
            let (fill, edge) = palette.class;
            painter.rect_filled(rect, 0.0, fill);
            hatch(&painter.with_clip_rect(rect), rect, weaker(edge, 0.35, palette), 8.0);
            painter.rect_stroke(rect, 0.0, Stroke::new(1.0, edge), StrokeKind::Inside);
        }
        Sign::Heat => {
            let top = pos2(rect.center().x + 4.0, rect.top());
            let points = [rect.left_bottom(), top, rect.right_top()];
            painter.extend(Shape::dashed_line(&points, Stroke::new(1.5, palette.heat), 2.5, 2.5));
        }
        Sign::Thread => {
            let ends = vec2(rect.width() / 4.0, rect.height());
            bar(painter, Rect::from_min_size(rect.min, ends), Work::Bench, palette);
            let last = Rect::from_min_size(rect.right_top() - vec2(ends.x, 0.0), ends);
            bar(painter, last, Work::Bench, palette);
            let (from, to) = (rect.left_center() + vec2(ends.x, 0.0), last.left_center());
            thread(painter, from, to, palette.wait.1);
        }
        Sign::Ribbon => {
            let used = Rect::from_min_max(rect.center_top() + vec2(0.0, 8.0), rect.max);
            painter.rect_filled(used, 0.0, palette.ribbon.0);
            let edge = Stroke::new(1.0, palette.ribbon.1);
            painter.rect_stroke(used, 0.0, edge, StrokeKind::Inside);
            let there = [rect.left_top() + vec2(0.0, 2.0), rect.right_top() + vec2(0.0, 2.0)];
            painter.extend(Shape::dashed_line(&there, Stroke::new(1.0, palette.edge), 2.0, 3.0));
        }
        Sign::Outline => ghost(painter, rect, Work::Bake, palette),
        Sign::Held => {
            bar(painter, rect, Work::Bench, palette);
            let at = rect.left_top() + vec2(7.0, 6.0);
            lock(painter, at, 8.0, palette.ink);
        }
        Sign::Minute => {
            let tip = rect.center_top() + vec2(0.0, 8.0);
            let flag = vec![tip - vec2(6.0, 8.0), tip + vec2(6.0, -8.0), tip];
            painter.add(Shape::convex_polygon(flag, palette.ink, Stroke::NONE));
            painter.vline(tip.x, rect.y_range(), Stroke::new(2.0, palette.ink));
        }
    }
}

/// A small padlock: the mark of what is held.
pub fn lock(painter: &Painter, at: Pos2, size: f32, ink: Color32) {
    let body = Rect::from_center_size(at + vec2(0.0, size * 0.18), vec2(size, size * 0.68));
    painter.rect_filled(body, 1.0, ink);
    let (w, top) = (size * 0.3, at.y - size * 0.5);
    let stroke = Stroke::new((size * 0.17).max(1.2), ink);
    let points = vec![
        pos2(at.x - w, body.top()),
        pos2(at.x - w, top + w),
        pos2(at.x - w * 0.6, top + 0.15 * w),
        pos2(at.x + w * 0.6, top + 0.15 * w),
        pos2(at.x + w, top + w),
        pos2(at.x + w, body.top()),
    ];
    painter.add(Shape::line(points, stroke));
}
