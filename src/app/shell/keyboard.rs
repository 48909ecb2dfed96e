//! Keys that are heeded wherever the keyboard is.

use std::path::PathBuf;

use eframe::egui::{self, Key, Modifiers};

use super::App;
use crate::app::state::{Command, Commands, keys};
use crate::session::{Command as LessonCommand, WeekCommand};

impl App {
    /// Heeds the keys of commands, Escape, and files dropped on the window.
    pub(super) fn keys(&mut self, ctx: &egui::Context, out: &mut Commands) {
        let typing = ctx.text_edit_focused();
        let is_asked = self.session.leaving().is_some() || self.session.question().is_some();
        if !typing && !is_asked && !self.view.keys && !egui::Popup::is_any_open(ctx) {
            self.day_keys(ctx, out);
        }
        for (modifiers, key, command) in keys() {
            let writes = modifiers == Modifiers::NONE && ![Key::F1, Key::F6].contains(&key);
            if typing && writes {
                continue;
            }
            if ctx.input_mut(|i| i.consume_key(modifiers, key)) {
                let minute = self.view.minute.map(|_| Command::Minute(None));
                out.push(match command {
                    Command::Minute(None) => minute.unwrap_or(Command::StepMinute(0)),
                    other => other,
                });
            }
        }
        let asks = self.session.leaving().is_some()
            || self.session.question().is_some()
            || self.dialogs.is_typed();
        let open = asks || typing || self.view.keys || egui::Popup::is_any_open(ctx);
        let away = self.to_put_away();
        if let Some(away) = away.filter(|_| !open)
            && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape))
        {
            out.push(away);
        }
        let dropped = ctx.input(|i| i.raw.dropped_files.clone());
        let files = dropped.into_iter().map(|f| f.path().to_path_buf());
        let files: Vec<PathBuf> = files.filter(|path| !path.as_os_str().is_empty()).collect();
        let are_lessons = files
            .iter()
            .all(|path| path.extension().is_some_and(|ending| ending.eq_ignore_ascii_case("ron")));
        if self.session.week_on_screen().is_some() && are_lessons && !files.is_empty() {
            out.push(LessonCommand::Week(WeekCommand::Add(files)));
        } else {
            out.extend(files.into_iter().next().map(LessonCommand::Open));
        }
    }
}
