//! The plan as a list, for those to whom a picture says little.

use crate::app::state::Commands;
use eframe::egui::{self, Rect, RichText, ScrollArea, Ui, vec2};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, paint};
use crate::app::screens::OnScreen;
use crate::app::state::Command;
use crate::app::state::Selection;
use crate::view::overlay::GhostRow;
use crate::view::rows::verdict_words;

/// Shows the list: groups with their steps, then the ovens.
pub fn show(ui: &mut Ui, shown: &OnScreen<'_>, out: &mut Commands) {
    let board = shown.board();
    ScrollArea::vertical().id_salt("list").auto_shrink([false, false]).follow(ui, |ui| {
        for band in &board.bands {
            ui.label(say(&band.spoken));
        }
        let ghosts = shown.overlay.map(|o| &*o.ghosts);
        for (i, row) in board.rows.iter().enumerate() {
            ui.add_space(6.0);
            let title = format!(
                "{} · {} · {}",
                crate::finding::shortened(&row.name, 60),
                row.choice,
                if row.reason.is_some() {
                    row.ready.clone()
                } else {
                    format!("ready {}, {}", row.ready, verdict_words(row.verdict))
                }
            );
            let mark = Rect::from_min_size(ui.cursor().min, vec2(18.0, 19.0));
            paint::verdict(ui.painter(), mark.center(), row.verdict, Palette::of(ui.ctx()));
            ui.horizontal_top(|ui| {
                ui.add_space(mark.width() + 4.0);
                // Names that are long go to another line.
                ui.vertical(|ui| {
                    if ui.link(RichText::new(say(title)).font(fonts::bold(15.0))).clicked() {
                        out.push(Command::Select(Selection::Group(row.group)));
                    }
                });
            });
            if let Some(reason) = &row.reason {
                ui.add(egui::Label::new(say(reason)).wrap());
            }
            if let Some(lens) = shown.odds.and_then(|odds| odds.rows.get(i)?.as_ref()) {
                ui.label(say(&lens.spoken));
            }
            for bar in &row.bars {
                ui.label(say(&bar.spoken));
            }
            if let Some(ghost) = ghosts.and_then(|g| g.rows.get(i)) {
                other(ui, ghost);
            }
        }
        let more = ghosts.map(|g| g.rows.as_slice()).unwrap_or_default();
        for ghost in more.iter().skip(board.rows.len()) {
            ui.add_space(6.0);
            other(ui, ghost);
        }
        of_the_class(ui, shown, out);
        ui.add_space(10.0);
        for oven in &board.ovens {
            if ui.link(RichText::new(say(&oven.spoken)).font(fonts::bold(15.0))).clicked() {
                out.push(Command::Select(Selection::Oven(oven.oven)));
            }
            for bar in oven.shelves.iter().flatten() {
                ui.label(say(&bar.spoken));
            }
        }
        ui.add_space(10.0);
        for ribbon in &board.ribbons {
            ui.label(say(&ribbon.spoken));
        }
    });
}

/// The odds of the class and when it pays to look, if odds are switched on.
fn of_the_class(ui: &mut Ui, shown: &OnScreen<'_>, out: &mut Commands) {
    let Some(odds) = shown.odds else { return };
    ui.add_space(6.0);
    if ui.link(RichText::new(say("Odds by the bell")).font(fonts::bold(15.0))).clicked() {
        out.push(Command::Select(Selection::Odds));
    }
    if let Some(lens) = &odds.class {
        ui.label(say(&lens.spoken));
    }
    for look in &odds.looks {
        ui.label(say(&look.spoken));
    }
}

/// A group in the plan that is laid over.
fn other(ui: &mut Ui, ghost: &GhostRow) {
    ui.label(RichText::new(say(&ghost.spoken)).font(fonts::bold(14.0)));
    for bar in &ghost.bars {
        ui.label(say(&bar.spoken));
    }
}
