//! Questions the window asks: which file, and whether to lose changes.

use std::path::PathBuf;

use eframe::egui::{self, ViewportCommand};

use super::command::Command;
use super::open::{Asked, Told};
use super::shell::App;

impl App {
    pub(super) fn ask(&mut self, to_save: bool) {
        let ctx = self.wake.clone();
        self.asked = Some(Asked::show(to_save, move || ctx.request_repaint()));
    }

    pub(super) fn hear_dialog(&mut self) {
        let Some(asked) = &self.asked else { return };
        let to_save = asked.to_save;
        match asked.told() {
            Told::Waiting => return,
            Told::File(path) if to_save => self.save(&path),
            Told::File(path) => self.open(&path),
            Told::Nothing { at_once: true } => self.typed = Some((String::new(), to_save)),
            Told::Nothing { at_once: false } => {}
        }
        self.asked = None;
    }

    /// Asks before changes are lost.
    pub(super) fn guard_close(&mut self, ctx: &egui::Context) {
        let wants = ctx.input(|i| i.viewport().close_requested());
        if wants && !self.closing && self.doc.as_ref().is_some_and(|d| d.changed) {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.closing = true;
        }
    }

    pub(super) fn dialogs(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        if self.closing {
            egui::Modal::new(egui::Id::unique("closing")).show(ctx, |ui| {
                ui.label("The lesson has changes that are not saved.");
                ui.horizontal(|ui| {
                    if ui.button("Save").clicked() {
                        out.push(Command::Save);
                        self.closing = false;
                    }
                    if ui.button("Close without saving").clicked() {
                        ctx.send_viewport_cmd(ViewportCommand::Close);
                    }
                    if ui.button("Go on").clicked() {
                        self.closing = false;
                    }
                });
            });
        }
        let Some((mut text, to_save)) = self.typed.take() else { return };
        let mut keep = true;
        let modal = egui::Modal::new(egui::Id::unique("path")).show(ctx, |ui| {
            let what = if to_save { "Save to this file:" } else { "Open this file:" };
            let label = ui.label(format!("{what} (no file dialog answered here)"));
            let field = ui.add(egui::TextEdit::singleline(&mut text).desired_width(420.0));
            let field = field.labelled_by(label.id);
            let entered = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
            // Asked after `lost_focus`, which it would answer otherwise.
            if !entered && ui.memory(|m| m.focused().is_none()) {
                field.request_focus();
            }
            ui.horizontal(|ui| {
                let word = if to_save { "Save" } else { "Open" };
                if (ui.button(word).clicked() || entered) && !text.trim().is_empty() {
                    let path = PathBuf::from(text.trim());
                    out.push(if to_save { Command::SaveAs(path) } else { Command::Open(path) });
                    keep = false;
                }
                if ui.button("Cancel").clicked() {
                    keep = false;
                }
            });
        });
        if keep && !modal.should_close() {
            self.typed = Some((text, to_save));
        }
    }
}
