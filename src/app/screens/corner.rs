//! The corner of the running order: what concerns it alone.

use eframe::egui::Ui;

use crate::app::looks::button::named;
use crate::app::looks::say::say;
use crate::app::state::{Command, Commands, Selection, ViewState};
use crate::session::{Command as LessonCommand, Overlay, Session};

/// Shows the menu in the corner.
pub fn show(ui: &mut Ui, (session, view): (&Session, &ViewState), out: &mut Commands) {
    ui.menu_button(say("View"), |ui| {
        for (label, command, hint) in entries(session, view) {
            let hint = (!hint.is_empty()).then(|| hint.to_owned());
            let may = session.planned().is_some() || command != LessonCommand::ToggleOdds.into();
            if named(ui, may, label, command, hint, out) {
                ui.close();
            }
        }
    });
}

/// A label, what it does, and more about it.
type Entry = (&'static str, Command, &'static str);

fn entries(session: &Session, view: &ViewState) -> Vec<Entry> {
    let list = if view.as_list { "As a picture" } else { "As a list" };
    let line = if view.minute.is_some() { "Hide minute line" } else { "Minute line" };
    let odds = if session.shows_odds() { "Hide odds" } else { "Odds" };
    let hint = "how often such a class is out by the bell, and what makes it late";
    let mut all: Vec<Entry> = vec![
        (odds, LessonCommand::ToggleOdds.into(), hint),
        (list, Command::ToggleList, ""),
        (line, Command::Minute(None), ""),
        ("Adults", Command::Select(Selection::Adults), "what each of them does"),
    ];
    if session.is_today() {
        all.push(("Today", LessonCommand::Today.into(), "what happens on the day"));
    }
    if view.shown.is_some() && !view.as_list {
        all.push(("Whole lesson", Command::Show(None), ""));
    }
    if session.before().is_some() {
        let laid = session.overlay().is_some_and(Overlay::is_before);
        let label = if laid { "Hide plan before" } else { "Plan before" };
        let hint = "lay the plan before the last change over this one";
        all.push((label, LessonCommand::ToggleBefore.into(), hint));
    }
    if session.is_planning() {
        all.push((LessonCommand::Stop.label(), LessonCommand::Stop.into(), ""));
    } else if session.planned().is_some() {
        let hint = "all but what is held goes where it is best";
        all.push((LessonCommand::PlanAnew.label(), LessonCommand::PlanAnew.into(), hint));
    }
    all
}
