//! Which file: by the system's dialog, or in a field.

use std::path::PathBuf;

use eframe::egui;

use super::App;
use super::open::{Dialog, DialogEnd};
use crate::app::looks::say::say;
use crate::app::state::Commands;
use crate::session::Command as LessonCommand;

/// How a path is asked for.
pub(super) struct Dialogs {
    /// Paths are asked for in a field, never by the system's dialog.
    by_field: bool,
    /// The system's dialog, while it is open.
    open: Option<Dialog>,
    /// A field for a path: its text, and whether it is to save.
    typed: Option<(String, bool)>,
}

impl Dialogs {
    pub fn new(by_field: bool) -> Self {
        Self { by_field, open: None, typed: None }
    }

    /// Whether a path is being typed.
    pub fn is_typed(&self) -> bool {
        self.typed.is_some()
    }
}

impl App {
    /// Asks for a path.
    pub(super) fn ask(&mut self, to_save: bool) {
        if self.dialogs.by_field {
            self.ask_in_field(to_save);
            return;
        }
        let at = self.likely_path(to_save);
        let ctx = self.wake.clone();
        self.dialogs.open = Some(Dialog::show(to_save, &at, move || ctx.request_repaint()));
    }

    fn ask_in_field(&mut self, to_save: bool) {
        let at = self.likely_path(to_save);
        self.dialogs.typed = Some((at.display().to_string(), to_save));
    }

    /// A path to start from.
    fn likely_path(&self, to_save: bool) -> PathBuf {
        self.session.likely_path(to_save, self.prefs.recent.first().map(PathBuf::as_path))
    }

    /// Takes in what came of the system's dialog.
    pub(super) fn hear_dialog(&mut self) {
        let Some(dialog) = self.dialogs.open.take() else { return };
        let to_save = dialog.to_save;
        match dialog.outcome() {
            DialogEnd::Waiting => self.dialogs.open = Some(dialog),
            // The dialog has asked whether it may be written over.
            DialogEnd::File(path) if to_save => self.apply(LessonCommand::SaveAsOver(path, false)),
            DialogEnd::File(path) => self.apply(LessonCommand::Open(path)),
            DialogEnd::Nothing { at_once: true } => self.ask_in_field(to_save),
            DialogEnd::Nothing { at_once: false } => self.session.no_path_given(),
        }
    }

    /// Shows the field for a path, if one is asked for there.
    pub(super) fn dialogs(&mut self, ctx: &egui::Context, out: &mut Commands) {
        let Some((mut text, to_save)) = self.dialogs.typed.take() else { return };
        let mut keep = true;
        let mut cancelled = false;
        let by_field = self.dialogs.by_field;
        let modal = egui::Modal::new(egui::Id::unique("path")).show(ctx, |ui| {
            let what = if to_save { "Save to this file:" } else { "Open this file:" };
            let reason = if by_field { "" } else { " (this computer has no dialog for files)" };
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
                    out.push(if to_save {
                        LessonCommand::SaveAs(path)
                    } else {
                        LessonCommand::Open(path)
                    });
                    keep = false;
                }
                if ui.button(say("Cancel")).clicked() {
                    cancelled = true;
                }
            });
        });
        if cancelled || (keep && modal.should_close()) {
            self.session.no_path_given();
        } else if keep {
            self.dialogs.typed = Some((text, to_save));
        }
    }
}
