//! The head of a week, in the same lines as that of a lesson: how it stands, what does
//! not go well first of all, and how far is known.

use eframe::egui::{Label, RichText, Ui};

use super::Head;
use super::outcome::{first_line, line};
use crate::app::looks::button::button;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, is_low};
use crate::app::state::Commands;
use crate::session::{Command, WeekDocument};
use crate::view::week::words::{heading, sentence, trouble};
use crate::view::words::counted;
use crate::week::{Report, Stage};

/// Shows the lines.
pub fn show(ui: &mut Ui, head: &Head<'_>, doc: &WeekDocument, out: &mut Commands) {
    let low = is_low(ui.ctx());
    let palette = Palette::of(ui.ctx());
    let report = doc.report().map(|report| &**report);
    let first = match report {
        Some(report) if report.stage > Stage::Lessons => sentence(doc.week(), report),
        _ => "Planning the lessons, each as if it were alone…".to_owned(),
    };
    line(ui, if low { 25.0 } else { 30.0 }, |ui| {
        let week = heading(doc.week(), None);
        first_line(ui, (&first, if low { 20.0 } else { 24.0 }), |_, _| (week.clone(), week));
    });
    // Of the day that is shown, if one is by itself.
    let is_of = |date| head.view.week.day.is_none_or(|day| day == date);
    let first = |report: &Report| report.moves.iter().position(|moves| is_of(moves.trouble.date()));
    let second = match report.and_then(|report| Some((report, &report.moves[first(report)?]))) {
        Some((report, moves)) => format!("{}.", trouble(doc.week(), report, &moves.trouble)),
        None => String::new(),
    };
    line(ui, if low { 19.0 } else { 21.0 }, |ui| {
        if !second.is_empty() {
            let text = RichText::new(say(&second)).font(fonts::plain(15.5)).color(palette.soft);
            let label = Label::new(text).truncate().show_tooltip_when_elided(false);
            ui.add(label).on_hover_text(say(&second));
        }
    });
    if !low {
        line(ui, 20.0, |ui| {
            ui.spacing_mut().button_padding = eframe::egui::vec2(6.0, 0.0);
            let words = how_far(doc, report, head.session.is_planning_week());
            ui.label(RichText::new(say(words)).font(fonts::bold(13.0)));
            if head.session.is_planning_week() {
                button(ui, true, Command::Stop, None, out);
            }
        });
    }
}

/// How far is known, and what in the file is to be looked at.
fn how_far(doc: &WeekDocument, report: Option<&Report>, planning: bool) -> String {
    let mut parts = Vec::new();
    match report {
        None => {}
        Some(report) if report.stage == Stage::Lessons => {
            let done = report.lessons.iter().filter(|told| told.alone.is_some()).count();
            parts.push(format!("{done} of {} planned", counted(report.lessons.len(), "lesson")));
        }
        Some(report) if report.stage < Stage::Whole && planning => {
            let what = match report.stage {
                Stage::Ovens => "looking which ovens are needed…",
                _ => "trying moves…",
            };
            parts.push(format!("each lesson checked; {what}"));
        }
        Some(report) if !report.whole || report.stage < Stage::Whole => {
            parts.push("stopped before all was known".to_owned());
        }
        Some(_) => parts.push("each lesson checked by itself".to_owned()),
    }
    match doc.findings().len() {
        0 => {}
        n => parts.push(format!("{} in the file to look at", counted(n, "thing"))),
    }
    parts.join(" · ")
}
