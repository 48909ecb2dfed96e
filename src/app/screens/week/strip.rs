//! The moves that would clear what does not go well, the least first.

use eframe::egui::{self, Context, RichText, ScrollArea, Ui};

use super::Shown;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, is_low};
use crate::app::screens::strip::{CHIP, State, chip};
use crate::app::state::Commands;
use crate::session::{Chip, Command, WeekCommand};
use crate::view::week::words::{
    a_move, a_move_in_short, asks, asks_in_short, looked, then, then_in_short, trouble,
};
use crate::week::{Change, Moves, Offer, Stage, Week};

/// Height of the heading's line.
const HEAD: f32 = 24.0;
/// Width and height of a chip, and where there is little height.
const SIZE: (f32, f32) = (300.0, CHIP.1);
const LOW: (f32, f32) = (290.0, 30.0);

/// How high it is.
pub fn height(ctx: &Context) -> f32 {
    let chip = if is_low(ctx) { LOW.1 } else { SIZE.1 };
    HEAD + chip + 14.0
}

/// Shows the moves for a trouble.
pub fn show(ui: &mut Ui, shown: &Shown<'_>, moves: &Moves, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let week = shown.doc.week();
    let Some(report) = shown.doc.report() else { return };
    let about = trouble(week, report, &moves.trouble);
    let found = match report.stage {
        Stage::Whole => looked(moves),
        _ if moves.offers.is_empty() && shown.planning => "Looking for moves…".to_owned(),
        _ => String::new(),
    };
    ui.allocate_ui(egui::vec2(ui.available_width(), HEAD), |ui| {
        ui.horizontal_centered(|ui| {
            ui.label(RichText::new(say("What would clear it")).font(fonts::bold(15.0)));
            let words = format!("{about}. {found}");
            let text = RichText::new(say(&words)).color(palette.soft);
            let label = egui::Label::new(text).truncate().show_tooltip_when_elided(false);
            ui.add(label).on_hover_text(say(&words));
        });
    });
    let size = if is_low(ui.ctx()) { LOW } else { SIZE };
    ScrollArea::horizontal().id_salt("moves").auto_shrink([false, false]).show(ui, |ui| {
        ui.horizontal(|ui| {
            for (i, offer) in moves.offers.iter().enumerate() {
                let change = Change::Move(offer.what.clone());
                let laid = shown.tried().is_some_and(|tried| tried.change == change);
                let of = chip_of(week, i + 1, offer);
                if chip(ui, &of, State { current: true, laid }, size).clicked() {
                    let command = if laid { WeekCommand::Drop } else { WeekCommand::Try(change) };
                    out.push(Command::Week(command));
                }
            }
        });
    });
}

fn chip_of(week: &Week, place: usize, offer: &Offer) -> Chip {
    let whole = a_move(week, &offer.what);
    let (then, asks) = (then(week, offer), asks(week, &offer.what));
    Chip {
        place,
        spoken: format!("{place}. {whole}: {then}. It asks: {asks}"),
        whole: format!("{whole}: {then}. It asks: {asks}"),
        outcome: then_in_short(week, offer),
        cost: asks_in_short(week, &offer.what),
        words: a_move_in_short(week, &offer.what),
    }
}
