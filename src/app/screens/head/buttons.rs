//! The row of buttons along the top.

use eframe::egui::{self, Align, Layout, Rect, Stroke, StrokeKind, Ui};

use super::Head;
use crate::app::looks::button::{button, named, shown_as};
use crate::app::looks::is_low;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, Follows, Hint, Page, Prefs, Selection};
use crate::session::Command as LessonCommand;
use crate::speech::English;

/// The row of buttons; where the way to setting up is, if it is there.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) -> Option<Rect> {
    let mut set_up = None;
    let has_plan = head.session.planned().is_some();
    ui.horizontal_wrapped(|ui| {
        if is_low(ui.ctx()) {
            // One row of them, if it can be had.
            ui.spacing_mut().button_padding = egui::vec2(6.0, 2.0);
            ui.spacing_mut().item_spacing.x = 5.0;
        }
        button(ui, true, LessonCommand::New, Some("a new lesson".to_owned()), out);
        button(ui, true, Command::AskOpen, None, out);
        ui.menu_button(say("Recent"), |ui| {
            if button(ui, true, LessonCommand::OpenDemo, None, out) {
                ui.close();
            }
            for copy in head.session.left_behind() {
                let name = copy.path.file_stem().unwrap_or_default().to_string_lossy();
                let label = format!("{} {name}", say("Not saved:"));
                if ui.button(label).on_hover_text(copy.path.to_string_lossy()).clicked() {
                    out.push(LessonCommand::Open(copy.path.clone()));
                    ui.close();
                }
            }
            for path in &head.prefs.recent {
                let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
                if ui.button(name).on_hover_text(path.to_string_lossy()).clicked() {
                    out.push(LessonCommand::Open(path.clone()));
                    ui.close();
                }
            }
        });
        if let Some(doc) = head.session.document() {
            let may_save = doc.care().read_only().is_none();
            button(
                ui,
                may_save && (doc.changed || doc.path.is_none()),
                LessonCommand::Save,
                None,
                out,
            );
            ui.menu_button(say("More"), |ui| {
                for (may, command) in [
                    (true, Command::AskSaveAs),
                    (true, LessonCommand::Again.into()),
                    (may_save, LessonCommand::ClearClass.into()),
                ] {
                    let again = (command == LessonCommand::Again.into())
                        .then(|| "the same lesson for another day".to_owned());
                    if button(ui, may, command, again, out) {
                        ui.close();
                    }
                }
            });
            let undo = doc.can_undo().map(|what| format!("take back: {what}"));
            button(ui, undo.is_some(), LessonCommand::Undo, undo, out);
            let redo = doc.can_redo().map(|what| format!("again: {what}"));
            button(ui, redo.is_some(), LessonCommand::Redo, redo, out);
        }
        ui.separator();
        if has_plan && head.view.page.is_none() {
            let hint = Some("a copy for the day, for what happens on it".to_owned());
            named(ui, true, "Today", LessonCommand::Today, hint, out);
        }
        if head.view.page.is_some() {
            named(ui, has_plan, "The plan", Command::SetUp(None), None, out);
            looks(ui, head, out);
            return;
        }
        let to_pages = Command::SetUp(Some(Page::Start));
        let way = shown_as(ui, head.session.document().is_some(), "Set up", to_pages, None, out);
        if head.hints.now == Some(Hint::SetUp) {
            let stroke = Stroke::new(2.0, Palette::of(ui.ctx()).focus);
            let ring = way.rect.expand(2.0);
            ui.painter().rect_stroke(ring, 6.0, stroke, StrokeKind::Outside);
        }
        set_up = Some(way.rect);
        if head.view.help.is_some() {
            looks(ui, head, out);
            return;
        }
        let list = if head.view.as_list { "As a board" } else { "As a list" };
        named(ui, true, list, Command::ToggleList, None, out);
        let line = if head.view.minute.is_some() { "Hide minute line" } else { "Minute line" };
        named(ui, has_plan, line, Command::Minute(None), None, out);
        let adults = Command::Select(Selection::Adults);
        named(ui, has_plan, "Adults", adults, None, out);
        class_view(ui, head, out);
        if head.view.shown.is_some() && !head.view.as_list {
            button(ui, true, Command::Show(None), None, out);
        }
        if head.session.before().is_some() {
            let laid = head.session.overlay().is_some_and(|o| o.offer.is_none());
            let label = if laid { "Hide plan before" } else { "Plan before" };
            let hint = Some("lay the plan before the last change over this one".to_owned());
            named(ui, has_plan, label, LessonCommand::ToggleBefore, hint, out);
        }
        if head.session.is_planning() {
            button(ui, true, LessonCommand::Stop, None, out);
        } else if has_plan {
            let hint = Some("all but what is held goes where it is best".to_owned());
            button(ui, has_plan, LessonCommand::PlanAnew, hint, out);
        }
        looks(ui, head, out);
    });
    set_up
}

/// What a projector shows, and what that follows.
fn class_view(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    if head.session.planned().is_none() {
        ui.add_enabled(false, egui::Button::new(say("Class view")));
        return;
    }
    // By itself, so that it goes to the next line where there is no room.
    ui.menu_button(say("Class view"), |ui| {
        let (label, hint) = match head.class_view {
            None => (Command::ClassView.label(), "the clock, calls and ovens, and no more"),
            Some(_) => ("Close it", "the class sees nothing more"),
        };
        if named(ui, true, label, Command::ClassView, Some(hint.to_owned()), out) {
            ui.close();
        }
        for follows in [Follows::Clock, Follows::Line] {
            let command = Command::ClassViewFollows(follows);
            let chosen = head.class_view == Some(follows);
            let choice = egui::RadioButton::new(chosen, say(command.label()));
            if ui.add_enabled(head.class_view.is_some(), choice).clicked() {
                out.push(command);
                ui.close();
            }
        }
    });
}

/// Whose words, units and allergen list.
fn englishes(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    ui.separator();
    for english in English::ALL {
        let now = head.prefs.english == english;
        let button = ui.add(egui::Button::selectable(now, say(english.label())));
        if button.on_hover_text(english.what()).clicked() {
            out.push(Command::English(english));
            ui.close();
        }
    }
}

/// Help, and how the window looks: at the right if there is room, else on the
/// next line with the others.
fn looks(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let help = if head.view.help.is_some() { "Leave help" } else { "Help" };
    let hint = Some("what everything means".to_owned());
    if ui.available_size_before_wrap().x > 165.0 {
        let layout = Layout::right_to_left(Align::Center);
        ui.with_layout(layout, |ui| {
            looks_menu(ui, head, out);
            named(ui, true, help, Command::Help(None), hint, out);
        });
    } else {
        named(ui, true, help, Command::Help(None), hint, out);
        looks_menu(ui, head, out);
    }
}

/// The menu stays open, so that what was chosen can be seen and taken back.
fn looks_menu(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let stays = egui::PopupCloseBehavior::CloseOnClickOutside;
    let config = egui::containers::menu::MenuConfig::new().close_behavior(stays);
    egui::containers::menu::MenuButton::new(say("Looks")).config(config).ui(ui, |ui| {
        let (least, most, step) = Prefs::TEXT;
        let (text, step) = (head.prefs.text, i32::try_from(step).unwrap_or(10));
        ui.horizontal(|ui| {
            let smaller = Some("smaller text".to_owned());
            named(ui, text > least, "A−", Command::Text(-step), smaller, out);
            ui.label(say(format!("Text {text} %")));
            let larger = Some("larger text".to_owned());
            named(ui, text < most, "A+", Command::Text(step), larger, out);
        });
        let switches = [
            ("Dark", head.prefs.dark, Command::ToggleTheme),
            (Command::ToggleContrast.label(), head.prefs.contrast, Command::ToggleContrast),
            (Command::ToggleMotion.label(), !head.prefs.glide, Command::ToggleMotion),
        ];
        for (label, on, command) in switches {
            let mut on = on;
            let switch = ui.checkbox(&mut on, say(label));
            let switch = match command.keys() {
                Some(keys) => switch.on_hover_text(ui.ctx().format_shortcut(&keys)),
                None => switch,
            };
            if switch.changed() {
                out.push(command);
            }
        }
        englishes(ui, head, out);
    });
}
