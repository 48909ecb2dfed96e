//! What every card is made of.

use eframe::egui::{self, RichText, Ui};

use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;

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

/// The heading of a part of a card.
pub fn heading(ui: &mut Ui, text: &str) {
    ui.add_space(8.0);
    ui.label(RichText::new(say(text)).font(fonts::bold(15.0)));
}
