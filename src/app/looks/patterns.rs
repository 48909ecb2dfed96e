//! Lines and dots within a rectangle, painted only where they are seen, and its
//! corners cut off.

use eframe::egui::{Color32, Painter, Pos2, Rect, Stroke, pos2, vec2};

use super::theme::Palette;

/// A colour for lines within a fill: thinned, but not in high contrast.
pub fn weaker(colour: Color32, by: f32, palette: &Palette) -> Color32 {
    if palette.strong { colour } else { colour.gamma_multiply(by) }
}

/// Upright lines.
pub fn upright(painter: &Painter, rect: Rect, colour: Color32, every: f32) {
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

/// Dots, set off from row to row.
pub fn dots(painter: &Painter, rect: Rect, colour: Color32) {
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
