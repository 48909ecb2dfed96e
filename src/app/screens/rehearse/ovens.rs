//! What ovens do, and who is to have them on.

use eframe::egui::{RichText, Sense, Ui, vec2};

use super::{Rehearsed, as_planned, heading, words};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, paint_scene};
use crate::view::scene::rehearsal::cabinet;

/// Size of a cabinet.
const CABINET: (f32, f32) = (30.0, 44.0);

/// Shows it.
pub fn show(ui: &mut Ui, of: &Rehearsed<'_>) {
    let palette = Palette::of(ui.ctx());
    as_planned(ui, of);
    for (stands, doing) in of.card.cabinets.iter().zip(&of.card.ovens) {
        ui.horizontal_top(|ui| {
            let (rect, _) = ui.allocate_exact_size(CABINET.into(), Sense::hover());
            let scene = cabinet(&stands.shelves, stands.out_of_order, CABINET);
            paint_scene::scene(ui.painter(), rect.min, &scene, palette);
            ui.allocate_ui(vec2(ui.available_width(), CABINET.1), |ui| {
                ui.vertical(|ui| {
                    let name = RichText::new(say(&doing.who)).font(fonts::bold(14.5));
                    ui.label(name);
                    words(ui, &doing.what);
                });
            });
        });
        ui.add_space(4.0);
    }
    let on = of.rehearsal.who_has_ovens_on(of.lesson());
    if !on.is_empty() {
        heading(ui, "Who has the ovens on?");
        on.iter().for_each(|line| words(ui, line));
    }
}
