//! The one question of the day: who will not be out, what becomes of it if nothing is
//! done, and what would do it. Nothing is changed until one is kept.

use eframe::egui::{
    self, Button, Frame, Margin, RichText, Role, ScrollArea, Stroke, Ui, WidgetInfo,
};

use super::{Taught, slips};
use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, DayChoice, DayStop};
use crate::session::{Command as LessonCommand, Responses};
use crate::today::{Response, before_help};
use crate::view::day::{behind_words, help_words, if_nothing};
use crate::view::odds::words::odds_words;
use crate::view::words::{capital, clock_in};

/// In a panel of this width what would do it stands beside what is asked.
const BESIDE: f32 = 640.0;

/// Height of what decides.
const DECIDED: f32 = 72.0;

/// Shows it.
pub fn show(ui: &mut Ui, of: &Taught<'_>, responses: &Responses, out: &mut Commands) {
    if ui.available_width() < BESIDE {
        // What decides stays in sight, however much there is to read.
        let room = (ui.available_height() - DECIDED).max(60.0);
        let size = egui::vec2(ui.available_width(), room);
        ui.allocate_ui(size, |ui| {
            part(ui, "question", |ui| {
                asked(ui, of);
                answers(ui, of, responses, out);
            });
        });
        decided(ui, of, responses, out);
        return;
    }
    ui.columns(2, |uis| {
        part(&mut uis[0], "question", |ui| {
            asked(ui, of);
            decided(ui, of, responses, out);
        });
        part(&mut uis[1], "answers", |ui| answers(ui, of, responses, out));
    });
}

fn part(ui: &mut Ui, name: &str, show: impl FnOnce(&mut Ui)) {
    ScrollArea::vertical().id_salt(name).auto_shrink(false).follow(ui, show);
}

/// Who is behind, and what becomes of it if nothing is done.
fn asked(ui: &mut Ui, of: &Taught<'_>) {
    let (lesson, standing) = (&of.now.told.0, &of.now.standing);
    let behind: Vec<String> = standing.behind().map(|group| behind_words(lesson, group)).collect();
    let title = RichText::new(say(behind.join(" "))).font(fonts::bold(17.0));
    ui.add(egui::Label::new(title).wrap());
    heading(ui, "If nothing is done");
    for sentence in if_nothing(lesson, standing) {
        words(ui, &sentence);
    }
}

/// What would do it.
fn answers(ui: &mut Ui, of: &Taught<'_>, responses: &Responses, out: &mut Commands) {
    heading(ui, "What would do it");
    let (found, less) = (&responses.found, before_help(&responses.found));
    for (i, response) in found.iter().enumerate().take(less) {
        row(ui, of, (i, response), out);
    }
    for help in &responses.help {
        helped(ui, &help_words(&of.now.told.0, help));
    }
    for (i, response) in found.iter().enumerate().skip(less) {
        row(ui, of, (i, response), out);
    }
    match (found.is_empty() && responses.help.is_empty(), responses.looking) {
        (true, true) => words(ui, "Looking for what can be done…"),
        (true, false) => words(ui, "Nothing was found that would have all of them out."),
        _ => {}
    }
}

/// What is looked at is kept, or nothing is done.
fn decided(ui: &mut Ui, of: &Taught<'_>, responses: &Responses, out: &mut Commands) {
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| keep(ui, of, responses, out));
    age(ui, of, responses, out);
}

fn heading(ui: &mut Ui, words: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.add_space(4.0);
    ui.label(RichText::new(say(words)).font(fonts::bold(13.5)).color(soft));
}

fn words(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(say(words)).wrap());
}

/// What it asks, who moves, and when those are ready who would not have been out.
fn beside(of: &Taught<'_>, response: &Response) -> String {
    let late = of.now.standing.groups.iter().filter(|g| !g.ready.is_out());
    let after = &response.after;
    let ready = late.filter_map(|g| {
        let name = &of.now.told.0.group(g.group).name;
        let same = after.lesson.attending().find(|id| after.lesson.group(*id).name == *name)?;
        let ready = after.plan.group_outcome(same)?.ready?;
        let at = clock_in(&after.lesson, after.lesson.group(same).period, ready);
        Some(format!("{name} is ready {at}."))
    });
    let odds = format!("All out then: {}.", odds_words(&response.all_out));
    let moves = response.moves.sentences().into_iter();
    let all: Vec<String> =
        ready.chain([odds]).chain(moves).chain(response.asks.iter().cloned()).collect();
    all.join(" ")
}

/// Nothing of it could be kept: nobody's plan is another by it.
fn helped(ui: &mut Ui, words: &str) {
    let palette = Palette::of(ui.ctx());
    let frame = Frame::new().inner_margin(Margin::symmetric(8, 5));
    frame.show(ui, |ui| {
        let words = RichText::new(say(words)).font(fonts::plain(14.0)).color(palette.ink);
        ui.add(egui::Label::new(words).wrap());
    });
}

fn row(ui: &mut Ui, of: &Taught<'_>, (i, response): (usize, &Response), out: &mut Commands) {
    let palette = Palette::of(ui.ctx());
    let is_chosen = of.view.day.response == i;
    let frame = Frame::new()
        .fill(if is_chosen { palette.chosen } else { palette.card })
        .stroke(Stroke::new(if is_chosen { 2.0 } else { 1.0 }, palette.edge))
        .corner_radius(6)
        .inner_margin(Margin::symmetric(8, 5));
    let title = format!("{}  {}", i + 1, capital(&response.words));
    let more = beside(of, response);
    let drawn = frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.add(egui::Label::new(RichText::new(say(&title)).font(fonts::bold(15.5))).wrap());
        // All of it where it is looked at; of the others who is ready when comes first.
        let small = RichText::new(say(&more)).font(fonts::plain(13.0)).color(palette.soft);
        let small = egui::Label::new(small).show_tooltip_when_elided(false);
        ui.add(if is_chosen { small.wrap() } else { small.truncate() });
    });
    let stop = DayStop::Response(i);
    let response = ui.interact(drawn.response.rect, super::id_of(stop), egui::Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, is_chosen, say(&title)));
    of.heed(stop, &response);
    if response.has_focus() {
        let stroke = Stroke::new(3.0, palette.focus);
        ui.painter().rect_stroke(drawn.response.rect, 6.0, stroke, egui::StrokeKind::Inside);
    }
    if response.clicked() {
        out.push(Command::Day(DayChoice::Response(i)));
    }
}

fn keep(ui: &mut Ui, of: &Taught<'_>, responses: &Responses, out: &mut Commands) {
    let number = of.view.day.response;
    if let Some(response) = responses.found.get(number) {
        let label = format!("Keep {}", number + 1);
        let keep = LessonCommand::KeepResponse(response.words.clone());
        push(ui, of, (DayStop::Keep, &label), keep, out);
    }
    let leave = LessonCommand::LeaveAsItWas;
    push(ui, of, (DayStop::Leave, leave.label()), leave.clone(), out);
    slips(ui, of, out);
}

fn push(
    ui: &mut Ui,
    of: &Taught<'_>,
    (stop, label): (DayStop, &str),
    command: LessonCommand,
    out: &mut Commands,
) {
    let button = Button::new(RichText::new(say(label)).font(fonts::bold(15.0)));
    let response = ui.add(button.min_size(egui::vec2(0.0, 30.0)));
    of.heed(stop, &response);
    if response.clicked() {
        out.push(command);
    }
}

/// For when it was worked out; older than the clock, it can be worked out again.
fn age(ui: &mut Ui, of: &Taught<'_>, responses: &Responses, out: &mut Commands) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.horizontal_wrapped(|ui| {
        let words = format!("Worked out for {}.", responses.at);
        ui.label(RichText::new(say(words)).color(soft));
        if responses.at != of.now.at {
            let again = LessonCommand::RespondAgain;
            if ui.button(say(again.label())).clicked() {
                out.push(again);
            }
        }
    });
}
