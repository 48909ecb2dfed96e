//! The head of the window: buttons, the outcome in a sentence, and how sure
//! it is.

use eframe::egui::{self, Align, Layout, Rect, Response, RichText, Stroke, StrokeKind, Ui};

use super::command::Command;
use super::document::Document;
use super::fonts;
use super::hints::{self, Hint, Points};
use super::pages::Page;
use super::prefs::Prefs;
use super::projector::Follows;
use super::say::say;
use super::shell::Shown;
use super::state::Selection;
use super::theme::Palette;
use crate::finding::Severity;
use crate::speech::English;
use crate::view::assumed::assumed;
use crate::view::proof::{self, Standing};
use crate::view::sentence;

/// The row of buttons; where the way to setting up is, if it is there.
pub fn buttons(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) -> Option<Rect> {
    let mut set_up = None;
    ui.horizontal_wrapped(|ui| {
        if is_low(ui.ctx()) {
            // One row of them, if it can be had.
            ui.spacing_mut().button_padding = egui::vec2(6.0, 2.0);
            ui.spacing_mut().item_spacing.x = 5.0;
        }
        button(ui, true, Command::New, Some("a new lesson".to_owned()), out);
        button(ui, true, Command::AskOpen, None, out);
        ui.menu_button(say("Recent"), |ui| {
            if button(ui, true, Command::OpenDemo, None, out) {
                ui.close();
            }
            for copy in shown.left {
                let name = copy.path.file_stem().unwrap_or_default().to_string_lossy();
                let label = format!("{} {name}", say("Not saved:"));
                if ui.button(label).on_hover_text(copy.path.to_string_lossy()).clicked() {
                    out.push(Command::Open(copy.path.clone()));
                    ui.close();
                }
            }
            for path in &shown.prefs.recent {
                let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
                if ui.button(name).on_hover_text(path.to_string_lossy()).clicked() {
                    out.push(Command::Open(path.clone()));
                    ui.close();
                }
            }
        });
        if let Some(doc) = shown.doc {
            let may_save = doc.care().read_only().is_none();
            button(ui, may_save && (doc.changed || doc.path.is_none()), Command::Save, None, out);
            ui.menu_button(say("More"), |ui| {
                for (may, command) in [
                    (true, Command::AskSaveAs),
                    (true, Command::Again),
                    (may_save, Command::ClearClass),
                ] {
                    let again = (command == Command::Again)
                        .then(|| "the same lesson for another day".to_owned());
                    if button(ui, may, command, again, out) {
                        ui.close();
                    }
                }
            });
            let undo = doc.can_undo().map(|what| format!("take back: {what}"));
            button(ui, undo.is_some(), Command::Undo, undo, out);
            let redo = doc.can_redo().map(|what| format!("again: {what}"));
            button(ui, redo.is_some(), Command::Redo, redo, out);
        }
        ui.separator();
        if shown.plan.is_some() && shown.view.page.is_none() {
            let hint = Some("a copy for the day, for what happens on it".to_owned());
            named(ui, true, "Today", Command::Today, hint, out);
        }
        if shown.view.page.is_some() {
            named(ui, shown.plan.is_some(), "The plan", Command::SetUp(None), None, out);
            looks(ui, shown, out);
            return;
        }
        let to_pages = Command::SetUp(Some(Page::Start));
        let way = shown_as(ui, shown.doc.is_some(), "Set up", to_pages, None, out);
        if shown.hint == Some(Hint::SetUp) {
            let stroke = Stroke::new(2.0, Palette::of(ui.ctx()).focus);
            let ring = way.rect.expand(2.0);
            ui.painter().rect_stroke(ring, 6.0, stroke, StrokeKind::Outside);
        }
        set_up = Some(way.rect);
        if shown.view.help.is_some() {
            looks(ui, shown, out);
            return;
        }
        let list = if shown.view.as_list { "As a board" } else { "As a list" };
        named(ui, true, list, Command::ToggleList, None, out);
        let line = if shown.view.minute.is_some() { "Hide minute line" } else { "Minute line" };
        named(ui, shown.board.is_some(), line, Command::Minute(None), None, out);
        let adults = Command::Select(Selection::Adults);
        named(ui, shown.board.is_some(), "Adults", adults, None, out);
        class_view(ui, shown, out);
        if shown.view.shown.is_some() && !shown.view.as_list {
            button(ui, true, Command::Show(None), None, out);
        }
        if shown.has_before {
            let laid = shown.overlay.is_some_and(|o| o.offer.is_none());
            let label = if laid { "Hide plan before" } else { "Plan before" };
            let hint = Some("lay the plan before the last change over this one".to_owned());
            named(ui, shown.board.is_some(), label, Command::ToggleBefore, hint, out);
        }
        if shown.planning {
            button(ui, true, Command::Stop, None, out);
        } else if shown.lesson.is_some_and(|l| !l.locks.is_empty()) {
            let hint = Some("all but what is held goes where it is best".to_owned());
            button(ui, shown.plan.is_some(), Command::PlanAnew, hint, out);
        }
        looks(ui, shown, out);
    });
    set_up
}

/// What a projector shows, and what that follows.
fn class_view(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    if shown.board.is_none() {
        ui.add_enabled(false, egui::Button::new(say("Class view")));
        return;
    }
    // By itself, so that it goes to the next line where there is no room.
    ui.menu_button(say("Class view"), |ui| {
        let (label, hint) = match shown.class_view {
            None => (Command::ClassView.label(), "the clock, calls and ovens, and no more"),
            Some(_) => ("Close it", "the class sees nothing more"),
        };
        if named(ui, true, label, Command::ClassView, Some(hint.to_owned()), out) {
            ui.close();
        }
        for follows in [Follows::Clock, Follows::Line] {
            let command = Command::ClassViewFollows(follows);
            let chosen = shown.class_view == Some(follows);
            let choice = egui::RadioButton::new(chosen, say(command.label()));
            if ui.add_enabled(shown.class_view.is_some(), choice).clicked() {
                out.push(command);
                ui.close();
            }
        }
    });
}

/// Whose words, units and allergen list.
fn englishes(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    ui.separator();
    for english in English::ALL {
        let now = shown.prefs.english == english;
        let button = ui.add(egui::Button::selectable(now, say(english.label())));
        if button.on_hover_text(english.what()).clicked() {
            out.push(Command::English(english));
            ui.close();
        }
    }
}

/// Help, and how the window looks: at the right if there is room, else on the
/// next line with the others.
fn looks(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    let help = if shown.view.help.is_some() { "Leave help" } else { "Help" };
    let hint = Some("what everything means".to_owned());
    if ui.available_size_before_wrap().x > 165.0 {
        let layout = Layout::right_to_left(Align::Center);
        ui.with_layout(layout, |ui| {
            looks_menu(ui, shown, out);
            named(ui, true, help, Command::Help(None), hint, out);
        });
    } else {
        named(ui, true, help, Command::Help(None), hint, out);
        looks_menu(ui, shown, out);
    }
}

/// The menu stays open, so that what was chosen can be seen and taken back.
fn looks_menu(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    let stays = egui::PopupCloseBehavior::CloseOnClickOutside;
    let config = egui::containers::menu::MenuConfig::new().close_behavior(stays);
    egui::containers::menu::MenuButton::new(say("Looks")).config(config).ui(ui, |ui| {
        let (least, most, step) = Prefs::TEXT;
        let (text, step) = (shown.prefs.text, i32::try_from(step).unwrap_or(10));
        ui.horizontal(|ui| {
            let smaller = Some("smaller text".to_owned());
            named(ui, text > least, "A−", Command::Text(-step), smaller, out);
            ui.label(say(format!("Text {text} %")));
            let larger = Some("larger text".to_owned());
            named(ui, text < most, "A+", Command::Text(step), larger, out);
        });
        let switches = [
            ("Dark", shown.prefs.dark, Command::ToggleTheme),
            (Command::ToggleContrast.label(), shown.prefs.contrast, Command::ToggleContrast),
            (Command::ToggleMotion.label(), !shown.prefs.glide, Command::ToggleMotion),
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
        englishes(ui, shown, out);
    });
}

fn button(
    ui: &mut Ui,
    enabled: bool,
    command: Command,
    hint: Option<String>,
    out: &mut Vec<Command>,
) -> bool {
    let label = command.label();
    named(ui, enabled, label, command, hint, out)
}

fn named(
    ui: &mut Ui,
    enabled: bool,
    label: &str,
    command: Command,
    hint: Option<String>,
    out: &mut Vec<Command>,
) -> bool {
    shown_as(ui, enabled, label, command, hint, out).clicked()
}

fn shown_as(
    ui: &mut Ui,
    enabled: bool,
    label: &str,
    command: Command,
    hint: Option<String>,
    out: &mut Vec<Command>,
) -> Response {
    let keys = command.keys().map(|keys| ui.ctx().format_shortcut(&keys));
    let hint = match (hint, keys) {
        (Some(hint), Some(keys)) => format!("{hint} ({keys})"),
        (Some(text), None) | (None, Some(text)) => text,
        (None, None) => String::new(),
    };
    let response = ui.add_enabled(enabled, egui::Button::new(say(label)));
    let response = if hint.is_empty() { response } else { response.on_hover_text(say(hint)) };
    if response.clicked() {
        out.push(command);
    }
    response
}

/// The sentence, the line under it, and how sure it is.
pub fn outcome(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    let palette = Palette::of(ui.ctx());
    if let Some(message) = shown.message {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(say(message)).font(fonts::bold(14.5)));
            button(ui, true, Command::Dismiss, None, out);
        });
    }
    contradiction(ui, shown, out);
    if let Some(doc) = shown.doc.filter(|d| d.lesson().is_none()) {
        draft(ui, doc);
        return;
    }
    let (Some(lesson), Some(plan)) = (shown.lesson, shown.plan) else {
        ui.label(RichText::new(say("Planning…")).font(fonts::bold(24.0)));
        return;
    };
    let low = is_low(ui.ctx());
    let wide = ui.available_width() > 900.0;
    ui.horizontal(|ui| {
        let size = if low { 20.0 } else { 24.0 };
        let sentence = RichText::new(say(sentence::outcome(lesson, plan))).font(fonts::bold(size));
        let sentence = ui.add(egui::Label::new(sentence).wrap());
        if wide {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let heading = RichText::new(say(heading(shown))).color(palette.soft);
                ui.add(egui::Label::new(heading).truncate());
            });
        } else {
            // No room for it beside the sentence: it is to be had there.
            sentence.on_hover_text(say(heading(shown)));
        }
    });
    hints::show(ui, shown, Hint::Sentence, Points::Up(ui.min_rect().left() + 60.0), out);
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
        sure(ui, shown, out);
    }
}

/// Locks that cannot all be kept, each to be let go of.
fn contradiction(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    let (Some(doc), Some((revision, found))) = (shown.doc, &shown.moving.contradiction) else {
        return;
    };
    let Some(lesson) = doc.lesson().filter(|_| doc.revision == *revision) else { return };
    ui.horizontal_wrapped(|ui| {
        let sentence = format!("What is held contradicts itself: {}", found.sentence);
        ui.label(RichText::new(say(sentence)).font(fonts::bold(14.5)));
        for lock in found.locks.iter().filter_map(|&i| lesson.locks.get(i)) {
            let words = crate::hand::words::lock_words(lesson, lock);
            if ui.button(say(format!("Let go: {words}"))).clicked() {
                out.push(Command::LetGo(lock.clone()));
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
        let first = super::tin_card::sentence(&first.message);
        ui.add(egui::Label::new(RichText::new(say(first)).color(soft)).truncate());
    }
}

/// Whether the window is so low that the head gives way to the board.
pub fn is_low(ctx: &egui::Context) -> bool {
    ctx.content_rect().height() < 560.0
}

/// How sure the outcome is, what it rests on, and the oven to look at.
pub fn sure(ui: &mut Ui, shown: &Shown<'_>, out: &mut Vec<Command>) {
    let (Some(lesson), Some(plan)) = (shown.lesson, shown.plan) else { return };
    let palette = Palette::of(ui.ctx());
    ui.horizontal_wrapped(|ui| {
        ui.label(RichText::new(say(standing(shown))).font(fonts::bold(14.0)));
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
        if let Some((oven, tins)) = fullest(shown) {
            ui.label(RichText::new(say(tins)).color(palette.soft));
            if ui.link(say(&lesson.ovens[oven.0].name)).clicked() {
                out.push(Command::Select(Selection::Oven(oven)));
            }
        }
        // Only where it fits beside the rest: the board stays where it is.
        if let Some(first) = shown.changes.hangs_on.first() {
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

/// "Lemon bakes · 8 Harbour · 26 November · 10:05 to 11:05 · changed".
pub fn heading(shown: &Shown<'_>) -> String {
    let Some(doc) = shown.doc else { return String::new() };
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

fn standing(shown: &Shown<'_>) -> String {
    let Some(plan) = shown.plan else { return String::new() };
    if shown.planning {
        return "best so far; looking for better".to_owned();
    }
    match proof::standing(plan) {
        Standing::Unknown => "best found".to_owned(),
        Standing::Served { at_most, .. } => {
            format!("best found; at most {at_most} could be served")
        }
        Standing::Departures { best, at_least } => {
            format!("no arrangement serves more; {best} departures, at least {at_least}")
        }
        Standing::Shortfall { best, at_least } => {
            format!("no arrangement serves more; {best} min short, at least {at_least}")
        }
        Standing::Best => "checked: no better arrangement with these figures".to_owned(),
    }
}

fn fullest(shown: &Shown<'_>) -> Option<(crate::model::OvenId, &'static str)> {
    crate::view::ovens::fullest_oven(shown.plan?).map(|(oven, _)| (oven, "· fullest oven:"))
}
