//! The clock of the day, large; what is on and what comes next; the bell that counts.

use eframe::egui::{self, Align, Layout, RichText, Ui, vec2};

use super::{Taught, slips};
use crate::app::looks::button::{button, named};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, is_low};
use crate::app::state::{Command, Commands, DayChoice};
use crate::session::Command as LessonCommand;
use crate::view::words::capital;

/// The clock's size of type goes into the height of the window so often.
const CLOCK: f32 = 9.0;

/// Shows it.
pub fn show(ui: &mut Ui, of: &Taught<'_>, out: &mut Commands) {
    let height = ui.ctx().content_rect().height();
    let size = height / CLOCK;
    let words = (height / 40.0).clamp(14.0, 24.0);
    let soft = Palette::of(ui.ctx()).soft;
    // Lines of the clock stand closer than the typeface has them.
    let high = size * 1.02;
    ui.add_space(4.0);
    ui.horizontal(|ui| {
        let time = say(of.day.clock.to_string()).into_owned();
        let ink = Palette::of(ui.ctx()).ink;
        let galley = ui.painter().layout_no_wrap(time, fonts::bold(size), ink);
        let (rect, response) =
            ui.allocate_exact_size(vec2(galley.size().x, high), egui::Sense::hover());
        let spoken = format!("Clock of the day at {}", of.day.clock);
        response.widget_info(|| egui::WidgetInfo::labeled(egui::Role::Label, true, say(&spoken)));
        let at = rect.center() - galley.size() / 2.0;
        ui.painter().galley(at, galley, ink);
        ui.add_space(8.0);
        let beside = buttons_width(ui);
        let width = (ui.available_width() - beside - 8.0).max(200.0);
        ui.allocate_ui_with_layout(vec2(width, high), Layout::top_down(Align::Min), |ui| {
            ui.set_width(width);
            ui.spacing_mut().item_spacing.y = 2.0;
            let line = |ui: &mut Ui, text: RichText| {
                ui.add(egui::Label::new(text).truncate());
            };
            let now = format!("Now: {}", of.day.now);
            line(ui, RichText::new(say(now)).font(fonts::bold(words)));
            let next = of.day.next.as_deref().unwrap_or("Nothing is called any more.");
            line(ui, RichText::new(say(next)).font(fonts::plain(words)));
            let bell = RichText::new(say(&of.day.bell)).font(fonts::plain(words * 0.8));
            line(ui, bell.color(soft));
        });
        let wrapped = Layout::left_to_right(Align::Min).with_main_wrap(true);
        ui.allocate_ui_with_layout(vec2(beside, high), wrapped, |ui| buttons(ui, of, out));
    });
}

/// Room for the buttons.
fn buttons_width(ui: &Ui) -> f32 {
    if is_low(ui.ctx()) { 170.0 } else { 215.0 }
}

fn buttons(ui: &mut Ui, of: &Taught<'_>, out: &mut Commands) {
    let last = of.session.told_last();
    let hint = last.as_ref().map(|last| format!("take back: {last} (Backspace)"));
    button(ui, last.is_some(), LessonCommand::TakeBack, hint, out);
    slips(ui, of, out);
    if of.session.day_over().is_some() {
        let back = Command::Day(DayChoice::Units(false));
        let hint = "three questions, none of which has to be answered".to_owned();
        named(ui, true, "Afterwards", back, Some(hint), out);
    }
    let hint = "a bell of this lesson goes now: the clock is set to it".to_owned();
    button(ui, true, LessonCommand::BellNow, Some(hint), out);
    let ahead = of.session.clock().ahead;
    if ahead != 0 {
        let hint = format!("{}; back to it", off(ahead));
        button(ui, true, LessonCommand::BellAsComputer, Some(hint), out);
    }
}

/// "The school's bell is 1 minute and 20 seconds ahead of this computer's clock".
fn off(ahead: i32) -> String {
    let (minutes, seconds) = (ahead.abs() / 60, ahead.abs() % 60);
    let way = if ahead < 0 { "behind" } else { "ahead of" };
    let words =
        format!("the school's bell is {minutes} min {seconds} s {way} this computer's clock");
    capital(&words)
}
