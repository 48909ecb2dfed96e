//! Three short hints on the first start, one at a time, each beside what it
//! speaks of. They have a place of their own in the layout, so that they cover
//! nothing, and go for good once put away or once what they say is done.

use eframe::egui::accesskit::Live;
use eframe::egui::{self, Margin, RichText, Shape, Stroke, Ui, pos2, vec2};

use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, Hint};

/// Which hint is shown, and which were put away.
#[derive(Clone, Copy)]
pub struct Hints<'a> {
    /// The one to show now, if any.
    pub now: Option<Hint>,
    /// Those put away for good.
    pub gone: &'a [Hint],
}

/// Which edge of a hint points at what it speaks of, and where along it.
#[derive(Debug, Clone, Copy)]
pub enum Points {
    /// Up, at this place from the left of the window.
    Up(f32),
    /// Down, likewise.
    Down(f32),
}

/// Room for the words and buttons of a short hint, in points.
const ROOM: f32 = 460.0;

/// Shows a hint, if it is the one to show.
pub fn show(ui: &mut Ui, hints: &Hints<'_>, hint: Hint, points: Points, out: &mut Commands) {
    if hints.now != Some(hint) {
        return;
    }
    let palette = Palette::of(ui.ctx());
    let tip = 7.0;
    let up = matches!(points, Points::Up(_));
    ui.add_space(if up { tip } else { 0.0 });
    let stroke = Stroke::new(1.5, palette.focus);
    let frame = egui::Frame::new()
        .fill(palette.card)
        .stroke(stroke)
        .corner_radius(6)
        .inner_margin(Margin::symmetric(10, 4));
    let drawn = ui.horizontal_top(|ui| {
        if let Points::Up(x) = points {
            // Below what it points at, as far as there is room for its words.
            let room = (ui.available_width() - ROOM).max(0.0);
            ui.add_space((x - ui.cursor().left() - 60.0).clamp(0.0, room));
        }
        frame.show(ui, |ui| inside(ui, hints, hint, out)).response.rect
    });
    let drawn = drawn.inner;
    let (at, y, way) = match points {
        Points::Up(x) => (x, drawn.top(), -tip),
        Points::Down(x) => (x, drawn.bottom(), tip),
    };
    let x = at.clamp(drawn.left() + 14.0, drawn.right() - 14.0);
    let corners = vec![pos2(x - tip, y), pos2(x, y + way), pos2(x + tip, y)];
    ui.painter().add(Shape::convex_polygon(corners.clone(), palette.card, Stroke::NONE));
    ui.painter().add(Shape::line(corners, stroke));
    // The edge behind the tip is open.
    let open = [pos2(x - tip + 1.0, y), pos2(x + tip - 1.0, y)];
    ui.painter().line_segment(open, Stroke::new(2.5, palette.card));
    ui.add_space(if up { 4.0 } else { tip + 3.0 });
}

fn inside(ui: &mut Ui, hints: &Hints<'_>, hint: Hint, out: &mut Commands) {
    let place = Hint::ALL.iter().position(|h| *h == hint).unwrap_or(0) + 1;
    let left = Hint::ALL.iter().filter(|h| **h != hint && !hints.gone.contains(h)).count();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().button_padding = vec2(7.0, 1.0);
        let number = format!("Hint {place} of {}:", Hint::ALL.len());
        let heard = format!("{number} {}", hint.words());
        let number = RichText::new(say(number)).font(fonts::bold(14.0));
        ui.label(number);
        let words = ui.label(RichText::new(say(hint.words())).font(fonts::plain(14.5)));
        // Told when it appears, without taking the keyboard.
        ui.ctx().accesskit_node_builder(words.id, |node| {
            node.set_value(say(heard));
            node.set_live(Live::Polite);
        });
        if ui.button(say("Put away")).on_hover_text("Esc").clicked() {
            out.push(Command::PutAwayHint(Some(hint)));
        }
        if left > 0 && ui.button(say("Put all away")).clicked() {
            out.push(Command::PutAwayHint(None));
        }
    });
}
