//! The outcome in a sentence, what there is to tell, and the lesson's heading.

use eframe::egui::{self, Align, Layout, RichText, Ui};

use super::Head;
use super::hints::{self, Points};
use crate::app::looks::button::button;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, is_low};
use crate::app::screens::sure;
use crate::app::state::{Commands, Hint};
use crate::finding::Severity;
use crate::hand::words;
use crate::session::{Command as LessonCommand, Document};
use crate::view::sentence;

/// The sentence, the line under it, and how sure it is.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    if let Some(message) = head.session.message() {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(say(message)).font(fonts::bold(14.5)));
            button(ui, true, LessonCommand::Dismiss, None, out);
        });
    }
    contradiction(ui, head, out);
    if let Some(doc) = head.session.document().filter(|d| d.lesson().is_none()) {
        draft(ui, doc);
        return;
    }
    let Some(planned) = head.session.planned() else {
        // What kept a plan from being made is told above.
        let what = if head.session.is_planning() { "Planning…" } else { "There is no plan." };
        ui.label(RichText::new(say(what)).font(fonts::bold(24.0)));
        return;
    };
    let (lesson, plan) = (&*planned.lesson, &*planned.plan);
    let low = is_low(ui.ctx());
    let wide = ui.available_width() > 900.0;
    ui.horizontal(|ui| {
        let size = if low { 20.0 } else { 24.0 };
        let sentence = RichText::new(say(sentence::outcome(lesson, plan))).font(fonts::bold(size));
        let sentence = ui.add(egui::Label::new(sentence).wrap());
        if wide {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let heading = RichText::new(say(heading(head))).color(palette.soft);
                ui.add(egui::Label::new(heading).truncate());
            });
        } else {
            // No room for it beside the sentence: it is to be had there.
            sentence.on_hover_text(say(heading(head)));
        }
    });
    hints::show(ui, &head.hints, Hint::Sentence, Points::Up(ui.min_rect().left() + 60.0), out);
    let next = sentence::next(lesson, plan);
    if !next.is_empty() {
        let text = crate::finding::shortened(&say(&next), 600);
        let font = fonts::plain(15.5);
        let width = ui.available_width();
        let mut job = egui::text::LayoutJob::simple(text, font, palette.soft, width);
        job.wrap.max_rows = if low { 1 } else { 2 };
        let label = egui::Label::new(job).wrap().show_tooltip_when_elided(false);
        ui.add(label).on_hover_text(say(&next));
    }
    // Where there is little height, the card has it instead.
    if !low {
        sure::show(ui, head.session, out);
    }
}

/// Locks that cannot all be kept, each to be let go of.
fn contradiction(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let (Some(doc), Some((revision, found))) =
        (head.session.document(), &head.session.moving().contradiction)
    else {
        return;
    };
    let Some(lesson) = doc.lesson().filter(|_| doc.revision() == *revision) else { return };
    ui.horizontal_wrapped(|ui| {
        let sentence = format!("What is held contradicts itself: {}", found.sentence);
        ui.label(RichText::new(say(sentence)).font(fonts::bold(14.5)));
        for lock in found.locks.iter().filter_map(|&i| lesson.locks.get(i)) {
            let words = words::lock_words(lesson, lock);
            if ui.button(say(format!("Let go: {words}"))).clicked() {
                out.push(LessonCommand::LetGo(lock.clone()));
            }
        }
    });
}

/// What is said of a lesson that cannot be planned yet.
fn draft(ui: &mut Ui, doc: &Document) {
    let left = doc.to_do.iter().filter(|f| f.severity == Severity::Error).count();
    let things = match left {
        1 => "one thing to do".to_owned(),
        n => format!("{} things to do", crate::view::words::number(n)),
    };
    let size = if is_low(ui.ctx()) { 20.0 } else { 24.0 };
    let text = format!("Not yet a lesson that can be planned: {things}.");
    ui.add(egui::Label::new(RichText::new(say(text)).font(fonts::bold(size))).wrap());
    if let Some(first) = doc.to_do.first() {
        let soft = Palette::of(ui.ctx()).soft;
        let first = crate::view::tin_words::sentence(&first.message);
        ui.add(egui::Label::new(RichText::new(say(first)).color(soft)).truncate());
    }
}

/// "Lemon bakes · 8 Harbour · 26 November · 10:05 to 11:05 · changed".
fn heading(head: &Head<'_>) -> String {
    let Some(doc) = head.session.document() else { return String::new() };
    let Some(lesson) = doc.lesson() else {
        return if doc.changed { "not saved".to_owned() } else { String::new() };
    };
    let period = &lesson.periods[0];
    let mut parts = Vec::new();
    if !lesson.title.is_empty() {
        parts.push(crate::finding::shortened(&lesson.title, 40));
    }
    if !lesson.class.name.is_empty() {
        parts.push(crate::finding::shortened(&lesson.class.name, 20));
    }
    if let Some(date) = lesson.date {
        parts.push(date.format("%-d %B").to_string());
    }
    let end = period.start_clock.after(period.length());
    parts.push(format!("{} to {end}", period.start_clock));
    if doc.care().read_only().is_some() {
        parts.push("read only".to_owned());
    } else if doc.changed {
        parts.push("not saved".to_owned());
    }
    parts.join(" · ")
}
