//! Of which lessons of the week something is told: of all, of one day, of one of them.

use eframe::egui::Ui;

use crate::app::looks::say::say;
use crate::app::state::{Command, Commands, WeekChoice};
use crate::week::{Entry, ToldOf, Week};

/// A choice of days with lessons, in the layout of `ui`; of a day that is chosen a choice
/// of its lessons follows if `by_lesson`.
pub fn choose_told_of(
    ui: &mut Ui,
    week: &Week,
    (chosen, by_lesson): (ToldOf, bool),
    out: &mut Commands,
) {
    let mut choose = |of: ToldOf| out.push(Command::Week(WeekChoice::TellOf(of)));
    let dates = week.days.iter().map(|day| day.date);
    let with_lessons = dates.filter(|date| week.on(*date).any(|e| e.lesson().is_some()));
    for day in std::iter::once(None).chain(with_lessons.map(Some)) {
        let name = day.map_or("All days".to_owned(), |day| day.format("%A").to_string());
        if ui.radio(chosen.day == day, say(name)).clicked() {
            choose(ToldOf { day, entry: None });
        }
        let Some(day) = day.filter(|day| by_lesson && chosen.day == Some(*day)) else { continue };
        let mut entries: Vec<&Entry> = week.on(day).filter(|e| e.lesson().is_some()).collect();
        entries.sort_by_key(|e| (e.slot.start(), e.slot.rooms.clone(), e.number));
        ui.indent(("lessons of", day), |ui| {
            if ui.radio(chosen.entry.is_none(), say("all its lessons")).clicked() {
                choose(ToldOf { day: Some(day), entry: None });
            }
            for entry in entries {
                let name = format!("{} {} {}", entry.slot.period(), entry.class, entry.title());
                let is_chosen = chosen.entry == Some(entry.number);
                if ui.radio(is_chosen, say(name)).clicked() {
                    choose(ToldOf { day: Some(day), entry: Some(entry.number) });
                }
            }
        });
    }
}
