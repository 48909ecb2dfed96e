//! What the first of the adults says and does, what comes next, and when nobody is
//! free.

use eframe::egui::{self, Frame, Margin, RichText, Sense, Stroke, StrokeKind, Ui, vec2};

use super::{Rehearsed, heading, line, slip, words};
use crate::app::looks::button::named;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, Page, RehearseChoice};
use crate::view::words::clock;

/// So many of what comes are told.
const COMING: usize = 4;
/// So many where what becomes of a slip stands below.
const BESIDE_A_SLIP: usize = 2;
/// So many stretches with nobody free.
const GAPS: usize = 3;
/// Room for a time.
const TIME: f32 = 52.0;

/// Shows it; covered, it asks what is said now.
pub fn show(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    if of.lesson().adults.is_empty() {
        words(ui, "Who is in the room? Add an adult.");
        named(ui, true, "Add an adult", Command::SetUp(Page::Adults), None, out);
    }
    if of.view.rehearsing.covered {
        covered(ui, of, out);
        return;
    }
    now(ui, of);
    heading(ui, "Next");
    let room = if of.session.slip().is_some() { BESIDE_A_SLIP } else { COMING };
    let mut coming = of.rehearsal.coming(of.minute()).take(room).peekable();
    if coming.peek().is_none() {
        words(ui, "Nothing more is called.");
    }
    for (minute, lines) in coming {
        line(ui, (&clock(of.lesson(), minute).to_string(), TIME), &lines.join("; "));
    }
    slip::show(ui, of, out);
    gaps(ui, of);
    others(ui, of);
}

fn covered(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let frame = Frame::new()
        .fill(palette.chosen)
        .stroke(Stroke::new(1.0, palette.edge))
        .corner_radius(6)
        .inner_margin(Margin::same(14));
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        let asked = RichText::new(say("What do you say now?")).font(fonts::bold(21.0));
        ui.add(egui::Label::new(asked).wrap());
        ui.add_space(8.0);
        let show = Command::Rehearse(RehearseChoice::Show);
        // In a line of its own it is as wide as its words.
        let button = ui.horizontal(|ui| ui.button(say(show.label()))).inner;
        let button = button.on_hover_text(say("Space"));
        if of.view.rehearsing.focus_now && !ui.ctx().text_edit_focused() {
            button.request_focus();
        }
        if button.clicked() {
            out.push(show);
        }
    });
}

fn now(ui: &mut Ui, of: &Rehearsed<'_>) {
    heading(ui, "Now");
    let own = of.rehearsal.own_at(of.card);
    let mut notes = of.rehearsal.notes_at(of.minute()).peekable();
    if of.card.say.is_empty() && own.is_empty() && notes.peek().is_none() {
        let class = of.card.class.as_deref();
        words(ui, class.unwrap_or("Nothing is called, and nothing is yours: walk the room."));
    }
    for call in &of.card.say {
        let call = RichText::new(say(call)).font(fonts::bold(18.0));
        ui.add(egui::Label::new(call).wrap());
    }
    for own in own {
        words(ui, &own);
    }
    let palette = Palette::of(ui.ctx());
    for note in notes {
        let told = [("My words: ", &note.say), ("", &note.own)];
        let told = told.into_iter().filter(|(_, words)| !words.is_empty());
        let told: Vec<String> = told.map(|(before, words)| format!("{before}{words}")).collect();
        if told.is_empty() {
            continue;
        }
        let frame = Frame::new()
            .fill(palette.chosen)
            .stroke(Stroke::new(1.0, palette.edge))
            .corner_radius(5)
            .inner_margin(Margin::symmetric(10, 6));
        frame.show(ui, |ui| {
            ui.set_width(ui.available_width());
            for line in told {
                words(ui, &line);
            }
        });
    }
}

/// Stretches with nobody free, each a question.
fn gaps(ui: &mut Ui, of: &Rehearsed<'_>) {
    let mut gaps = of.rehearsal.gaps_from(of.minute()).take(GAPS).peekable();
    if gaps.peek().is_none() {
        return;
    }
    let palette = Palette::of(ui.ctx());
    ui.separator();
    for gap in gaps {
        ui.horizontal_top(|ui| {
            let (mark, _) = ui.allocate_exact_size(vec2(14.0, 18.0), Sense::hover());
            let frame = egui::Rect::from_center_size(mark.center(), vec2(13.0, 13.0));
            let stroke = Stroke::new(2.0, palette.ink);
            ui.painter().rect_stroke(frame, 1.0, stroke, StrokeKind::Inside);
            let asked = RichText::new(say(gap.sentence(of.lesson()))).font(fonts::bold(14.5));
            ui.allocate_ui(vec2(ui.available_width(), 0.0), |ui| {
                ui.add(egui::Label::new(asked).wrap());
            });
        });
    }
    let policy = "Who watches what is for your school's policy and risk assessment to say.";
    let policy = RichText::new(say(policy)).font(fonts::plain(13.0)).color(palette.soft);
    ui.add(egui::Label::new(policy).wrap());
}

/// What the other adults do.
fn others(ui: &mut Ui, of: &Rehearsed<'_>) {
    if of.card.adults.len() < 2 {
        return;
    }
    heading(ui, "Others");
    for doing in of.card.adults.iter().skip(1) {
        words(ui, &format!("{}: {}", doing.who, doing.what));
    }
}
