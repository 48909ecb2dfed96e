//! How sure the outcome is, what it rests on, and the oven to look at.

use eframe::egui::{self, RichText, Ui};

use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, Selection};
use crate::session::{Planned, Session};
use crate::view::assumed::assumed;
use crate::view::proof::{self, HowProved};

/// How sure the outcome is, what it rests on, and the oven to look at.
pub fn show(ui: &mut Ui, session: &Session, out: &mut Commands) {
    let Some(planned) = session.planned() else { return };
    let (lesson, plan) = (&*planned.lesson, &*planned.plan);
    let palette = Palette::of(ui.ctx());
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(say(standing(session, planned))).font(fonts::bold(14.0)));
        let figures = assumed(lesson, plan).len();
        if figures > 0 {
            let text = match figures {
                1 => "1 figure assumed".to_owned(),
                n => format!("{n} figures assumed"),
            };
            if ui.link(say(text)).clicked() {
                out.push(Command::Select(Selection::Nothing));
            }
        }
        if let Some((oven, _)) = crate::view::ovens::fullest_oven(plan) {
            ui.label(RichText::new(say("· fullest oven:")).color(palette.soft));
            if ui.link(say(&lesson.ovens[oven.0].name)).clicked() {
                out.push(Command::Select(Selection::Oven(oven)));
            }
        }
        // Only where it fits beside the rest: the board stays where it is.
        if let Some(first) = session.offering().hangs_on.first() {
            let words = format!("· {first}");
            let font = egui::TextStyle::Body.resolve(ui.style());
            let wide = ui
                .painter()
                .layout_no_wrap(say(words.clone()).into_owned(), font, palette.soft)
                .size()
                .x;
            let tall = ui.ctx().content_rect().height() > 640.0;
            if tall && wide < ui.available_size_before_wrap().x {
                ui.label(RichText::new(say(words)).color(palette.soft));
            }
        }
    });
}

fn standing(session: &Session, planned: &Planned) -> String {
    if session.is_planning() {
        return "best so far; looking for better".to_owned();
    }
    match proof::standing(&planned.plan) {
        HowProved::Unknown => "best found".to_owned(),
        HowProved::Served { at_most, .. } => {
            format!("best found; at most {at_most} could be served")
        }
        HowProved::Departures { best, at_least } => {
            format!("no arrangement serves more; {best} departures, at least {at_least}")
        }
        HowProved::Shortfall { best, at_least } => {
            format!("no arrangement serves more; {best} min short, at least {at_least}")
        }
        HowProved::Best => "checked: no better arrangement with these figures".to_owned(),
    }
}
