//! Three lines that stay where they are: how the lesson ends, beside what
//! lesson it is; why, and what that hangs on; when ovens are switched on, and
//! how sure all that is. Where there is little height the card has the last.

use eframe::egui::{self, Align, Label, Layout, RichText, Sense, Ui, vec2};

use super::Head;
use super::hints::{self, Points};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fitted, fonts, is_low, width_of};
use crate::app::screens::sure;
use crate::app::state::{Commands, Hint, Place};
use crate::finding::Severity;
use crate::model::Lesson;
use crate::session::Document;
use crate::view::sentence;
use crate::view::words::{capital, number};

/// Sizes of the letters of the first line: the largest that fits.
const SIZES: [f32; 4] = [24.0, 20.0, 18.0, 16.0];

/// Least width for the lesson's heading to be of use.
const HEADING: f32 = 90.0;

/// Shows the lines.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let low = is_low(ui.ctx());
    let palette = Palette::of(ui.ctx());
    let draft = head.session.document().filter(|d| d.lesson().is_none());
    let planned = head.session.planned().filter(|_| draft.is_none());
    let first = match (draft, planned) {
        (Some(doc), _) => of_a_draft(doc),
        (None, Some(planned)) => {
            let outcome = sentence::outcome(&planned.lesson, &planned.plan);
            // What a slip comes to is told where it is thrown in.
            let is_slipping = head.view.place == Place::Rehearse && head.session.slip().is_some();
            if is_slipping { format!("Without the slip: {outcome}") } else { outcome }
        }
        (None, None) if head.session.is_planning() => "Planning…".to_owned(),
        // What kept a plan from being made is told over the foot.
        (None, None) => "There is no plan.".to_owned(),
    };
    line(ui, if low { 25.0 } else { 30.0 }, |ui| {
        let largest = if low { 20.0 } else { 24.0 };
        match head.session.document() {
            Some(doc) => first_line(ui, (&first, largest), |ui, room| heading(ui, doc, room)),
            None => first_line(ui, (&first, largest), |_, _| Default::default()),
        }
    });
    hints::show(ui, &head.hints, Hint::Sentence, Points::Up(ui.min_rect().left() + 60.0), out);
    let second = match (draft, planned) {
        (Some(doc), _) => doc
            .to_do
            .first()
            .map_or_else(String::new, |first| crate::view::tin_words::sentence(&first.message)),
        (None, Some(planned)) => {
            let next = sentence::next(&planned.lesson, &planned.plan);
            let hangs_on = head.session.offering().hangs_on.first();
            let all: Vec<&str> = [next.as_str()]
                .into_iter()
                .chain(hangs_on.map(String::as_str))
                .filter(|words| !words.is_empty())
                .collect();
            all.join(" ")
        }
        (None, None) => String::new(),
    };
    line(ui, if low { 19.0 } else { 21.0 }, |ui| {
        if !second.is_empty() {
            let text = crate::finding::shortened(&say(&second), 600);
            let text = RichText::new(text).font(fonts::plain(15.5)).color(palette.soft);
            let label = Label::new(text).truncate().show_tooltip_when_elided(false);
            ui.add(label).on_hover_text(say(&second));
        }
    });
    if !low {
        line(ui, 20.0, |ui| {
            if planned.is_some() {
                sure::in_a_line(ui, head.session, out);
            }
        });
    }
}

/// A line of a height of its own, whatever is in it.
pub(super) fn line(ui: &mut Ui, height: f32, show: impl FnOnce(&mut Ui)) {
    let size = vec2(ui.available_width(), height);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let layout = Layout::left_to_right(Align::Center);
    let mut within = ui.new_child(egui::UiBuilder::new().max_rect(rect).layout(layout));
    show(&mut within);
}

/// How it ends, in letters of this size at most, and at the right what it is of: as much
/// as fits the room, and all of it.
pub(super) fn first_line(
    ui: &mut Ui,
    (words, largest): (&str, f32),
    heading: impl FnOnce(&Ui, f32) -> (String, String),
) {
    let room = ui.available_width();
    let fits = |size: &&f32| **size <= largest && width_of(ui, words, fonts::bold(**size)) <= room;
    let size = SIZES.iter().find(fits).copied().unwrap_or(SIZES[SIZES.len() - 1]);
    let left = room - width_of(ui, words, fonts::bold(size)) - 2.0 * ui.spacing().item_spacing.x;
    let sentence = RichText::new(say(words)).font(fonts::bold(size));
    ui.add(Label::new(sentence).truncate());
    if left < HEADING {
        return;
    }
    let palette = Palette::of(ui.ctx());
    let (shown, whole) = heading(ui, left);
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        let text = RichText::new(say(shown)).color(palette.soft);
        let label = Label::new(text).truncate().show_tooltip_when_elided(false);
        ui.add(label).on_hover_text(say(whole));
    });
}

/// What is said of a lesson that cannot be planned yet.
fn of_a_draft(doc: &Document) -> String {
    let left = doc.to_do.iter().filter(|f| f.severity == Severity::Error).count();
    let things = match left {
        1 => "one thing to do".to_owned(),
        n => format!("{} things to do", number(n)),
    };
    format!("Not yet a lesson that can be planned: {things}.")
}

/// "Lemon bakes · 8 Harbour · 26 November · 10:05 to 11:05", as far as there is
/// room: bells give way first, then the end of the title; and all of it.
fn heading(ui: &Ui, doc: &Document, room: f32) -> (String, String) {
    let file = doc.file();
    let bells = doc.lesson().map(|lesson| bells(lesson));
    let day = doc.lesson().and_then(|l| l.date).map(|date| date.format("%-d %B").to_string());
    let title = crate::finding::shortened(&file.title, 200);
    let class = crate::finding::shortened(&file.class.name, 20);
    let named = |parts: &[&str]| {
        let all: Vec<&str> = parts.iter().copied().filter(|part| !part.is_empty()).collect();
        all.join(" · ")
    };
    let (day, bells) = (day.unwrap_or_default(), bells.unwrap_or_default());
    let title =
        if title.trim().is_empty() && class.is_empty() { capital(&doc.name()) } else { title };
    let whole = named(&[&title, &class, &day, &bells]);
    let font = egui::TextStyle::Body.resolve(ui.style());
    let wide = |words: &str| width_of(ui, words, font.clone());
    if wide(&whole) <= room {
        return (whole.clone(), whole);
    }
    let without_bells = named(&[&title, &class, &day]);
    if wide(&without_bells) <= room {
        return (without_bells, whole);
    }
    let rest = named(&[&class, &day]);
    let apart = if rest.is_empty() { 0.0 } else { wide(" · ") };
    let for_title = room - wide(&rest) - apart;
    let title = if for_title < 40.0 {
        String::new()
    } else {
        fitted(ui.painter(), &title, font.clone(), for_title)
    };
    (named(&[&title, &class, &day]), whole)
}

fn bells(lesson: &Lesson) -> String {
    let period = &lesson.periods[0];
    let end = period.start_clock.after(period.length());
    format!("{} to {end}", period.start_clock)
}
