//! What ovens do, and who is to have them on.

use eframe::egui::{RichText, Sense, Ui, vec2};

use super::{Rehearsed, as_planned, heading, words};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, paint_scene};
use crate::view::at_minute::Doing;
use crate::view::rehearsal::Cabinet;
use crate::view::scene::rehearsal::cabinet;

/// Size of a cabinet.
const CABINET: (f32, f32) = (30.0, 44.0);

/// From this width on ovens stand two abreast.
const TWO_ABREAST: f32 = 540.0;

/// Shows it.
pub fn show(ui: &mut Ui, of: &Rehearsed<'_>) {
    as_planned(ui, of);
    let ovens: Vec<(&Cabinet, &Doing)> = of.card.cabinets.iter().zip(&of.card.ovens).collect();
    if ui.available_width() < TWO_ABREAST {
        one_below_another(ui, &ovens);
    } else {
        let (left, right) = ovens.split_at(ovens.len().div_ceil(2));
        ui.columns(2, |uis| {
            one_below_another(&mut uis[0], left);
            one_below_another(&mut uis[1], right);
        });
    }
    let on = of.rehearsal.who_has_ovens_on(of.lesson());
    if !on.is_empty() {
        heading(ui, "Who has the ovens on?");
        on.iter().for_each(|line| words(ui, line));
    }
}

fn one_below_another(ui: &mut Ui, ovens: &[(&Cabinet, &Doing)]) {
    let palette = Palette::of(ui.ctx());
    for (stands, doing) in ovens {
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
}
