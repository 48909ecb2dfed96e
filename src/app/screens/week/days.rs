//! Of which day something of the week is: of one, or of all.

use chrono::NaiveDate;
use eframe::egui::Ui;

use crate::app::looks::say::say;
use crate::app::state::{Command, Commands, WeekChoice};
use crate::week::Week;

/// A choice of days with lessons, in the layout of `ui`.
pub fn choose_day(ui: &mut Ui, week: &Week, chosen: Option<NaiveDate>, out: &mut Commands) {
    let dates = week.days.iter().map(|day| day.date);
    let with_lessons = dates.filter(|date| week.on(*date).any(|e| e.lesson().is_some()));
    for day in std::iter::once(None).chain(with_lessons.map(Some)) {
        let name = day.map_or("All days".to_owned(), |day| day.format("%A").to_string());
        if ui.radio(chosen == day, say(name)).clicked() {
            out.push(Command::Week(WeekChoice::Day(day)));
        }
    }
}
