//! Parts of pictures by themselves, in keys, cards and lists: a bar, the outline
//! of one, a verdict, a sample.

use eframe::egui::{Painter, Pos2, Rect, Sense, Stroke, Ui, Vec2, vec2};

use super::say::say;
use super::theme::Palette;
use super::{fonts, paint_scene};
use crate::check::Verdict;
use crate::view::area::at;
use crate::view::board::Work;
use crate::view::help::Sign;
use crate::view::odds::Squares;
use crate::view::scene::squares as rows;
use crate::view::scene::{Scene, Shape, Stretch, bar as look, sign as signs};

/// Paints a bar.
pub fn bar(painter: &Painter, rect: Rect, work: Work, palette: &Palette) {
    let shape = Shape::Rect(look::rect(paint_scene::area(rect), work));
    paint_scene::shape(painter, Vec2::ZERO, &shape, palette);
}

/// Paints a bar of a plan that is laid over.
pub fn ghost(painter: &Painter, rect: Rect, work: Work, palette: &Palette) {
    let shape = Shape::Rect(look::outline(paint_scene::area(rect), work));
    paint_scene::shape(painter, Vec2::ZERO, &shape, palette);
}

/// Paints the shape of a verdict.
pub fn verdict(painter: &Painter, centre: Pos2, verdict: Verdict, palette: &Palette) {
    let mut scene = Scene::new((0.0, 0.0));
    signs::verdict(&mut scene, Stretch::default(), at(centre.x, centre.y), verdict);
    paint_scene::scene(painter, Pos2::ZERO, &scene, palette);
}

/// Paints a sample of what the board has beside bars.
pub fn sign(painter: &Painter, rect: Rect, sign: Sign, palette: &Palette) {
    let scene = signs::sample(sign, rect.size().into());
    paint_scene::scene(painter, rect.min, &scene, palette);
}

/// Shows ten squares. What they say stands beside them in words.
pub fn squares(ui: &mut Ui, of: Squares, side: f32) {
    let scene = rows::squares(of, side);
    let (rect, _) = ui.allocate_exact_size(scene.size.into(), Sense::hover());
    paint_scene::scene(ui.painter(), rect.min, &scene, Palette::of(ui.ctx()));
}

/// How wide ten squares are.
pub fn squares_width(side: f32) -> f32 {
    rows::squares(Squares { filled: 0, hatched: 0 }, side).size.0
}

/// The time at which a line of one minute stands, at its head: underlined, as the place
/// is that is shown.
pub fn time_of_line(painter: &Painter, middle: Pos2, time: String, palette: &Palette) {
    let time = say(time).into_owned();
    let galley = painter.layout_no_wrap(time, fonts::bold(14.0), palette.ink);
    let patch = Rect::from_center_size(middle, galley.size() + vec2(8.0, 2.0));
    painter.rect_filled(patch, 0.0, palette.card);
    painter.galley(patch.min + vec2(4.0, 0.0), galley, palette.ink);
    painter.hline(patch.x_range(), patch.bottom(), Stroke::new(2.5, palette.ink));
}
