//! The menu of the lesson and its file.

use std::path::Path;

use eframe::egui::Ui;

use super::Head;
use crate::app::looks::button::button;
use crate::app::looks::say::say;
use crate::app::state::{Command, Commands, Region};
use crate::session::{Command as LessonCommand, WeekCommand};

/// Shows the menu.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let week = head.session.week_on_screen();
    // Another name than that of the week's first place, which stands beside it.
    let name = if week.is_some() { "This week" } else { "Lesson" };
    let menu = ui.menu_button(say(name), |ui| {
        // Longer names of files go to another line.
        ui.set_max_width(300.0);
        entry(ui, true, LessonCommand::New, "a new lesson", out);
        let hint = "lessons of several classes, and what they share";
        entry(ui, true, Command::AskWeek, hint, out);
        entry(ui, true, Command::AskOpen, "", out);
        recent(ui, head, out);
        if let Some(week) = week {
            ui.separator();
            entry(ui, week.changed(), LessonCommand::Save, "", out);
            entry(ui, true, Command::AskSaveAs, "another file in the same folder", out);
            let hint = "the same lessons a week later, in a file of its own";
            entry(ui, true, Command::AskWeekAfter, hint, out);
            ui.separator();
            entry(ui, true, Command::AskLessonOfWeek, "or drop its file on the window", out);
            if head.session.document().is_some() {
                ui.separator();
                entry(ui, true, LessonCommand::Week(WeekCommand::Leave), "", out);
            }
            return;
        }
        if head.session.week().is_some() {
            ui.separator();
            let week = LessonCommand::Week(WeekCommand::Show);
            entry(ui, true, week, "the week that is open", out);
        }
        let Some(doc) = head.session.document() else { return };
        if head.session.of_week().is_some() {
            let take = LessonCommand::Week(WeekCommand::TakeOver);
            let what = "its bells, room and what it shares, as the week has them";
            entry(ui, true, take, what, out);
        }
        ui.separator();
        let may_save = doc.care().read_only().is_none();
        let save = may_save && (doc.changed || doc.path.is_none());
        entry(ui, save, LessonCommand::Save, "", out);
        entry(ui, true, Command::AskSaveAs, "", out);
        ui.separator();
        entry(ui, true, LessonCommand::Again, "the same lesson for another day", out);
        let has_plan = head.session.planned().is_some();
        let day = "a copy for the day, for what happens on it";
        entry(ui, has_plan, LessonCommand::Today, day, out);
        if head.session.knows_its_lesson() {
            entry(ui, true, LessonCommand::ToLesson, "the lesson this is a copy of", out);
        }
        ui.separator();
        entry(ui, may_save, LessonCommand::ClearClass, "", out);
    });
    if head.view.region_now == Some(Region::Bar) {
        menu.response.request_focus();
    }
}

fn entry(ui: &mut Ui, may: bool, command: impl Into<Command>, hint: &str, out: &mut Commands) {
    let hint = (!hint.is_empty()).then(|| hint.to_owned());
    if button(ui, may, command, hint, out) {
        ui.close();
    }
}

/// Lessons that were not saved when the program last ended, and files used last.
fn recent(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let left = head.session.left_behind();
    let any = !left.is_empty() || !head.prefs.recent.is_empty();
    ui.add_enabled_ui(any, |ui| {
        ui.menu_button(say("Recent"), |ui| {
            for copy in left {
                let name = copy.path.file_stem().unwrap_or_default().to_string_lossy();
                file(ui, &format!("{} {name}", say("Not saved:")), &copy.path, out);
            }
            for path in &head.prefs.recent {
                let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
                file(ui, &name, path, out);
            }
        });
    });
}

fn file(ui: &mut Ui, name: &str, path: &Path, out: &mut Commands) {
    if ui.button(name).on_hover_text(path.to_string_lossy()).clicked() {
        out.push(LessonCommand::Open(path.to_path_buf()));
        ui.close();
    }
}
