//! Which file: by the system's dialog, or in a field; and closing the window.

use std::path::PathBuf;

use eframe::egui::{self, ViewportCommand};

use super::care::Leaving;
use super::command::Command;
use super::open::{Asked, Told};
use super::say::say;
use super::shell::App;
use crate::file::open_lesson::Over;

impl App {
    pub(super) fn ask(&mut self, to_save: bool) {
        let at = self.likely_path(to_save);
        if self.caring.by_field {
            self.typed = Some((at.display().to_string(), to_save));
            return;
        }
        let ctx = self.wake.clone();
        self.asked = Some(Asked::show(to_save, &at, move || ctx.request_repaint()));
    }

    pub(super) fn hear_dialog(&mut self) {
        let Some(asked) = &self.asked else { return };
        let to_save = asked.to_save;
        match asked.told() {
            Told::Waiting => return,
            // The dialog has asked whether it may be written over.
            Told::File(path) if to_save => self.save_as(&path, Over::File),
            Told::File(path) => self.leave(Leaving::Open(path)),
            Told::Nothing { at_once: true } => {
                let at = self.likely_path(to_save);
                self.typed = Some((at.display().to_string(), to_save));
            }
            Told::Nothing { at_once: false } => self.caring.then = None,
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
        let Some((mut text, to_save)) = self.typed.take() else { return };
        let mut keep = true;
        let by_field = self.caring.by_field;
        let then = &mut self.caring.then;
        let modal = egui::Modal::new(egui::Id::unique("path")).show(ctx, |ui| {
            let what = if to_save { "Save to this file:" } else { "Open this file:" };
            let reason = if by_field { "" } else { " (no file dialog answered here)" };
            let label = ui.label(say(format!("{what}{reason}")));
            let field = ui.add(egui::TextEdit::singleline(&mut text).desired_width(420.0));
            let field = field.labelled_by(label.id);
            let entered = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
            // Asked after `lost_focus`, which it would answer otherwise.
            if !entered && ui.memory(|m| m.focused().is_none()) {
                field.request_focus();
            }
            ui.horizontal(|ui| {
                let word = if to_save { "Save to it" } else { "Open it" };
                if (ui.button(say(word)).clicked() || entered) && !text.trim().is_empty() {
                    let path = PathBuf::from(text.trim());
                    out.push(if to_save { Command::SaveAs(path) } else { Command::Open(path) });
                    keep = false;
                }
                if ui.button(say("Cancel")).clicked() {
                    *then = None;
                    keep = false;
                }
            });
        });
        if keep && modal.should_close() {
            self.caring.then = None;
        } else if keep {
            self.typed = Some((text, to_save));
        }
    }
}
