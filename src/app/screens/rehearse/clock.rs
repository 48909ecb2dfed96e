//! The clock, large, what is called next, and how the clock is moved.

use eframe::egui::{self, Button, Response, RichText, Ui};

use super::{Rehearsed, slip};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, is_low};
use crate::app::state::{Command, Commands, PACES, RehearseChoice};
use crate::view::rehearsal::standing;
use crate::view::words::capital;

/// Width of a button's frame at the most.
const FRAME: f32 = 2.0;

/// Shows them.
pub fn show(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let size = if is_low(ui.ctx()) { 34.0 } else { 64.0 };
    ui.horizontal_wrapped(|ui| {
        let time = RichText::new(say(of.card.at.to_string())).font(fonts::bold(size));
        let left = ui.cursor().left();
        // Digits are of different widths: what stands beside them keeps its place.
        let room = widest(ui, (0..10).map(|n| format!("{n}{n}:{n}{n}")), fonts::bold(size));
        ui.add(egui::Label::new(time).extend());
        ui.add_space((left + room - ui.cursor().left()).max(0.0));
        ui.add_space(6.0);
        ui.vertical(|ui| {
            // What is called next may be long: the buttons keep their place.
            let width = (0.3 * ui.ctx().content_rect().width()).max(200.0);
            ui.set_width(width);
            if size > 40.0 {
                ui.add_space(8.0);
            }
            let standing = capital(&standing(of.lesson(), of.minute()));
            ui.label(RichText::new(say(standing)).color(palette.soft));
            let next = of.card.next.as_deref().unwrap_or("Nothing is called any more.");
            let next = RichText::new(say(next)).font(fonts::bold(14.5));
            ui.add(egui::Label::new(next).wrap());
        });
        buttons(ui, of, out);
    });
}

fn buttons(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let rehearsing = &of.view.rehearsing;
    let call = |next| Command::Rehearse(RehearseChoice::Call(next));
    let (may_back, may_on) =
        [false, true].map(|next| of.rehearsal.call_beside(of.minute(), next).is_some()).into();
    push(ui, ("‹ call", "Call before"), may_back, call(false), out);
    push(ui, ("call ›", "Next call"), may_on, call(true), out);
    push(ui, ("− 1", "A minute back"), true, Command::StepMinute(-1), out);
    push(ui, ("+ 1", "A minute on"), true, Command::StepMinute(1), out);
    let play = Command::Rehearse(RehearseChoice::Play);
    let names = ["Let it run", "Stand still"];
    let name = names[usize::from(rehearsing.since.is_some())];
    let font = egui::TextStyle::Button.resolve(ui.style());
    let width = widest(ui, names.into_iter().map(str::to_owned), font);
    let width = width + 2.0 * (ui.spacing().button_padding.x + FRAME);
    let button = push_wide(ui, ((name, name), width), true, play, out);
    if rehearsing.focus_now && !rehearsing.covered && !ui.ctx().text_edit_focused() {
        button.request_focus();
    }
    ui.menu_button(say(format!("× {}", rehearsing.pace)), |ui| {
        for pace in PACES {
            let label = format!("× {pace}");
            if ui.radio(pace == rehearsing.pace, say(label)).clicked() {
                out.push(Command::Rehearse(RehearseChoice::Pace(pace)));
                ui.close();
            }
        }
    });
    slip::menu(ui, of, out);
    ui.vertical(|ui| ticks(ui, of, out));
    if rehearsing.tone && rehearsing.is_silent {
        ui.label(say("No player of sounds was found here."));
    }
}

/// Whether it pauses, and whether a tone is heard: one under the other, so that neither is
/// alone in a row of its own.
fn ticks(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let rehearsing = &of.view.rehearsing;
    ui.spacing_mut().item_spacing.y = 2.0;
    let mut pauses = rehearsing.pauses;
    if ui.checkbox(&mut pauses, say("Pauses at each call")).changed() {
        out.push(Command::Rehearse(RehearseChoice::Pauses(pauses)));
    }
    let mut tone = rehearsing.tone;
    let with_tone = ui.checkbox(&mut tone, say("With a tone"));
    if with_tone.on_hover_text(say("a short tone at each call and job")).changed() {
        out.push(Command::Rehearse(RehearseChoice::Tone(tone)));
    }
}

/// The width of the widest of some words.
fn widest(ui: &Ui, words: impl Iterator<Item = String>, font: egui::FontId) -> f32 {
    let width = |words: String| {
        let words = say(words).into_owned();
        ui.painter().layout_no_wrap(words, font.clone(), egui::Color32::PLACEHOLDER).size().x
    };
    words.map(width).fold(0.0, f32::max)
}

/// A button with a shorter name to be seen than is heard.
fn push(
    ui: &mut Ui,
    names: (&str, &str),
    may: bool,
    command: Command,
    out: &mut Commands,
) -> Response {
    push_wide(ui, (names, 0.0), may, command, out)
}

/// The same, of a least width.
fn push_wide(
    ui: &mut Ui,
    ((seen, heard), width): ((&str, &str), f32),
    may: bool,
    command: Command,
    out: &mut Commands,
) -> Response {
    let keys = command.keys().map(|keys| ui.ctx().format_shortcut(&keys));
    let high = if is_low(ui.ctx()) { 24.0 } else { 34.0 };
    let button = ui.add_enabled(may, Button::new(say(seen)).min_size(egui::vec2(width, high)));
    ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(heard)));
    let hint = keys.map_or_else(|| heard.to_owned(), |keys| format!("{heard} ({keys})"));
    let button = button.on_hover_text(say(hint));
    if button.clicked() {
        out.push(command);
    }
    button
}
