//! Questions that must be answered before anything is written over or lost.

use eframe::egui;

use super::care::{Asking, Leaving};
use super::command::Command;
use super::say::say;
use super::shell::App;
use crate::file::open_lesson::Over;

impl App {
    pub(super) fn questions(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        self.ask_before_leaving(ctx, out);
        let Some(asking) = self.caring.asking.take() else { return };
        let answer = match &asking {
            Asking::ChangedOnDisk => {
                let words = ["Another program has changed the file since it was read."];
                let answers = [
                    ("Save over it", Some(Command::SaveOver)),
                    ("Save as…", Some(Command::AskSaveAs)),
                    ("Read it again", Some(Command::ReadAgain)),
                    ("Back to the lesson", None),
                ];
                ask(ctx, &words, answers)
            }
            Asking::Exists(path, problem, over) => {
                let words = [format!("Not saved: {problem}.")];
                let over = Command::SaveAsOver(path.clone(), *over == Over::All);
                let answers = [
                    ("Save over it", Some(over)),
                    ("Save as…", Some(Command::AskSaveAs)),
                    ("Back to the lesson", None),
                ];
                ask(ctx, &words, answers)
            }
            Asking::Clear(goes) => ask_to_clear(ctx, goes),
        };
        match answer {
            None => self.caring.asking = Some(asking),
            Some(command) => {
                // Only saving leads on to what was asked before.
                let saves = |c: &Command| !matches!(c, Command::ReadAgain);
                if !command.as_ref().is_some_and(saves) {
                    self.caring.then = None;
                }
                out.extend(command);
            }
        }
    }

    /// Changes are lost only when that is wanted.
    fn ask_before_leaving(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        let Some(to) = self.leaving.take() else { return };
        let without = match to {
            Leaving::Close => "Close without saving",
            Leaving::Open(_) | Leaving::Demo => "Open without saving",
            _ => "Go without saving",
        };
        let words = ["The lesson has changes that are not saved."];
        let answers = [("Save", Some(0)), (without, Some(1)), ("Stay here", None)];
        match ask(ctx, &words, answers) {
            None => self.leaving = Some(to),
            Some(Some(0)) => {
                self.caring.then = Some(to);
                out.push(Command::Save);
            }
            Some(Some(_)) => self.go_without_saving(&to),
            Some(None) => {}
        }
    }
}

fn ask_to_clear(ctx: &egui::Context, goes: &[String]) -> Option<Option<Command>> {
    let what = match goes {
        [] => "Nothing is said of particular pupils in the lesson as it now is.".to_owned(),
        goes => format!("Out of the lesson go {}.", goes.join("; ")),
    };
    let words = [
        what,
        "With them go all comments in its file, the file as it was before (.bak), copies of \
         unsaved changes, undo, and the class of this name in your own library."
            .to_owned(),
        "Recipes, room, bells, and the names and sizes of groups stay. The file is saved at once; \
         this cannot be taken back."
            .to_owned(),
    ];
    ask(
        ctx,
        &words,
        [("Clear this class", Some(Command::ClearClassNow)), ("Keep everything", None)],
    )
}

/// Puts a question; the answer once there is one. Escape answers as the last
/// button does.
fn ask<T: Clone>(
    ctx: &egui::Context,
    words: &[impl AsRef<str>],
    answers: impl IntoIterator<Item = (&'static str, Option<T>)>,
) -> Option<Option<T>> {
    let mut answer = None;
    let modal = egui::Modal::new(egui::Id::unique("question")).show(ctx, |ui| {
        ui.set_max_width(460.0);
        for line in words {
            ui.label(say(line.as_ref()));
        }
        ui.horizontal_wrapped(|ui| {
            for (label, comes_to) in answers {
                if ui.button(say(label)).clicked() {
                    answer = Some(comes_to);
                }
            }
        });
    });
    if answer.is_none() && modal.should_close() { Some(None) } else { answer }
}
