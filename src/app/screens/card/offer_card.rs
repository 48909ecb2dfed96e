//! The card of a change that is laid over the board, and what the card says
//! of the plan before.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{self, RichText, Ui};

use super::parts::{heading, title};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::Command;
use crate::change::Offer;
use crate::export::changes::{cost, for_whom, outcome};
use crate::session::{BetterPlan, Overlay};
use crate::view::words::capital;

/// Shows the card of a change that is offered.
pub fn show(ui: &mut Ui, overlay: &Overlay, offer: &Offer, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    title(ui, &capital(&overlay.name), "");
    ui.add(egui::Label::new(say(format!("{}.", outcome(offer)))).wrap());
    let caution = "A bake is done by its done test, never by the clock alone.";
    ui.add(egui::Label::new(RichText::new(say(caution)).color(palette.soft)).wrap());
    ui.label(RichText::new(say(cost(offer))).color(palette.soft));
    ui.add_space(4.0);
    keep_or_drop(ui, out);
    let wrapped = |ui: &mut Ui, text: &str| {
        ui.add(egui::Label::new(say(text)).wrap());
    };
    let whom = for_whom(offer);
    if !whom.is_empty() {
        heading(ui, "For whom");
        for line in &whom {
            wrapped(ui, &capital(line));
        }
    }
    let asks = offer.asks();
    if !asks.is_empty() {
        heading(ui, "What it asks");
        for ask in asks {
            wrapped(ui, ask);
            ui.add_space(2.0);
        }
    }
    ui.add_space(6.0);
    legend(ui, "the plan with this change");
}

/// Shows the card of a plan with better odds.
pub fn better_odds(ui: &mut Ui, overlay: &Overlay, better: &BetterPlan, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    title(ui, &capital(&overlay.name), "for better odds: the same groups, tins and methods");
    let words = &better.words;
    for line in [&words.gain, &words.cost] {
        ui.add(egui::Label::new(say(format!("{}.", capital(line)))).wrap());
    }
    for line in &words.more {
        ui.add(egui::Label::new(say(line)).wrap());
    }
    let caution = "Compared on the same luck, with minutes nobody has timed yet.";
    ui.add(egui::Label::new(RichText::new(say(caution)).color(palette.soft)).wrap());
    ui.add_space(4.0);
    keep_or_drop(ui, out);
    ui.add_space(6.0);
    legend(ui, "the plan with better odds");
}

fn keep_or_drop(ui: &mut Ui, out: &mut Commands) {
    ui.horizontal_wrapped(|ui| {
        for command in [LessonCommand::Keep, LessonCommand::Drop] {
            let keys =
                Command::from(command.clone()).keys().map(|keys| ui.ctx().format_shortcut(&keys));
            let button = ui.button(say(command.label()));
            let hint = match command {
                LessonCommand::Keep => format!("make this change ({})", keys.unwrap_or_default()),
                _ => "no longer offer it".to_owned(),
            };
            if button.on_hover_text(say(hint)).clicked() {
                out.push(command);
            }
        }
    });
}

/// What outlined bars with cut corners stand for.
pub fn legend(ui: &mut Ui, what: &str) {
    let palette = Palette::of(ui.ctx());
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(egui::vec2(30.0, 15.0), egui::Sense::hover());
        crate::app::looks::paint::ghost(
            ui.painter(),
            rect,
            crate::view::board::Work::Bake,
            palette,
        );
        ui.add(egui::Label::new(say(format!("in outline: {what}"))).wrap());
    });
}
