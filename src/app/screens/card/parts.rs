//! What every card is made of.

use eframe::egui::{self, Rect, RichText, Ui, vec2};

use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, paint};
use crate::check::Verdict;

/// Room for the mark of a verdict.
const MARK: f32 = 26.0;

/// The card's title, with a line under it unless that is empty.
pub fn title(ui: &mut Ui, title: &str, under: &str) {
    let palette = Palette::of(ui.ctx());
    let title = RichText::new(say(crate::finding::shortened(title, 160))).font(fonts::bold(19.0));
    ui.add(egui::Label::new(title).wrap());
    if !under.is_empty() {
        ui.add(egui::Label::new(RichText::new(say(under)).color(palette.soft)).wrap());
    }
    ui.add_space(4.0);
}

/// The title of a group's card, with the mark of its verdict.
pub fn judged(ui: &mut Ui, verdict: Verdict, (name, under): (&str, &str)) {
    let mark = Rect::from_min_size(ui.cursor().min, vec2(18.0, 24.0));
    paint::verdict(ui.painter(), mark.center(), verdict, Palette::of(ui.ctx()));
    ui.horizontal_top(|ui| {
        ui.add_space(MARK);
        ui.vertical(|ui| title(ui, name, under));
    });
}

/// The heading of a part of a card.
pub fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(say(text)).font(fonts::bold(15.0)));
}
