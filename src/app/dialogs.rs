//! Questions the window asks: which file, and whether to lose changes.

use std::path::PathBuf;

use eframe::egui::{self, ViewportCommand};

use super::command::Command;
use super::open::{Asked, Told};
use super::shell::{App, Leaving};

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
            Told::File(path) => self.leave(Leaving::Open(path)),
            Told::Nothing { at_once: true } => self.typed = Some((String::new(), to_save)),
            Told::Nothing { at_once: false } => {}
        }
        self.asked = None;
    }

    /// Asks before changes are lost.
    pub(super) fn guard_close(&mut self, ctx: &egui::Context) {
        let wants = ctx.input(|i| i.viewport().close_requested());
        if wants && !self.may_close && self.doc.as_ref().is_some_and(|d| d.changed) {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.leaving = Some(Leaving::Close);
        }
    }

    pub(super) fn dialogs(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        self.ask_before_leaving(ctx, out);
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

    /// Changes are lost only when that is wanted.
    fn ask_before_leaving(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        let Some(to) = self.leaving.take() else { return };
        let (mut stay, mut go) = (false, false);
        let modal = egui::Modal::new(egui::Id::unique("leaving")).show(ctx, |ui| {
            ui.label("The lesson has changes that are not saved.");
            ui.horizontal(|ui| {
                if ui.button("Save").clicked() {
                    out.push(Command::Save);
                    stay = true;
                }
                let word = match to {
                    Leaving::Close => "Close without saving",
                    _ => "Open without saving",
                };
                go = ui.button(word).clicked();
                stay |= ui.button("Go on").clicked();
            });
        });
        if go {
            self.go(&to);
        } else if !stay && !modal.should_close() {
            self.leaving = Some(to);
        }
    }
}
