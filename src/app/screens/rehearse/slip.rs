//! A slip thrown in at the minute of the clock: what becomes of it, and what could be
//! done. Nothing of the lesson is changed by it.

use eframe::egui::{Frame, Grid, Margin, ScrollArea, Stroke, Ui};

use super::{Rehearsed, heading, words};
use crate::app::looks::button::button;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::Commands;
use crate::check::CheckedPlan;
use crate::session::{Command as LessonCommand, RehearsedSlip, Thrown};
use crate::today::{Happening, Response, Standing, before_help};
use crate::units::Minutes;
use crate::view::day::{behind_words, held_up_words, help_words, if_nothing, stands_words};
use crate::view::odds::words::odds_words;
use crate::view::words::capital;

/// By so many minutes a group is behind, each a button.
const LATE: [i32; 3] = [2, 4, 8];

/// What may go otherwise: groups, ovens, the bell and adults.
pub fn menu(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let (lesson, plan) = (of.lesson(), &of.planned.plan);
    ui.menu_button(say("Slip…"), |ui| {
        let mut throw = |ui: &mut Ui, (seen, heard): (&str, &str), what: Thrown| {
            let button = ui.button(say(seen));
            ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(heard)));
            if button.clicked() {
                out.push(LessonCommand::ThrowIn(what, of.card.at));
                ui.close();
            }
        };
        ScrollArea::vertical().max_height(420.0).follow(ui, |ui| {
            ui.label(say("A group is so many minutes late, or drops a tray"));
            let served = lesson.attending().filter(|g| plan.plan().choice(*g).is_some());
            Grid::new("slips of groups").num_columns(2).show(ui, |ui| {
                for group in served {
                    let name = &lesson.group(group).name;
                    ui.label(say(crate::finding::shortened(name, 40)));
                    ui.horizontal(|ui| {
                        for late in LATE {
                            let heard = format!("{name}: {late} behind");
                            let what = Thrown::Behind(name.clone(), Minutes::new(late));
                            throw(ui, (&late.to_string(), &heard), what);
                        }
                        ui.label(say("late,"));
                        let heard = format!("{name}: tray dropped");
                        let what = Happening::Forgotten { group: name.clone() };
                        throw(ui, ("tray dropped", &heard), Thrown::Happens(what));
                    });
                    ui.end_row();
                }
            });
            ui.label(say("The lesson starts late, by minutes"));
            ui.horizontal(|ui| {
                for minutes in LATE {
                    let heard = format!("The lesson starts {minutes} late");
                    let what = Happening::LateStart { minutes, period: None };
                    throw(ui, (&minutes.to_string(), &heard), Thrown::Happens(what));
                }
            });
            ui.label(say("An oven fails"));
            let used = |oven: usize| plan.plan().loads.iter().any(|load| load.oven.0 == oven);
            ui.horizontal_wrapped(|ui| {
                for (_, oven) in lesson.ovens.iter().enumerate().filter(|(i, _)| used(*i)) {
                    let heard = format!("{} fails", oven.name);
                    let what = Happening::OvenOut { oven: oven.name.clone() };
                    throw(ui, (&oven.name, &heard), Thrown::Happens(what));
                }
            });
            let there = lesson.adults.iter().filter(|a| a.is_there_from(of.card.minute));
            let there: Vec<&String> = there.map(|adult| &adult.name).collect();
            if !there.is_empty() {
                ui.label(say("An adult is called away"));
            }
            ui.horizontal_wrapped(|ui| {
                for adult in there {
                    let heard = format!("The {adult} is called away");
                    let what = Happening::AdultAway { adult: adult.clone() };
                    throw(ui, (adult, &heard), Thrown::Happens(what));
                }
            });
        });
    });
}

/// What becomes of it, if one is thrown in.
pub fn show(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let Some(slip) = of.session.slip() else { return };
    let palette = Palette::of(ui.ctx());
    let frame = Frame::new()
        .fill(palette.chosen)
        .stroke(Stroke::new(1.0, palette.edge))
        .corner_radius(6)
        .inner_margin(Margin::symmetric(10, 6));
    frame.show(ui, |ui| {
        ui.set_width(ui.available_width());
        told(ui, of, slip, out);
    });
}

fn told(ui: &mut Ui, of: &Rehearsed<'_>, slip: &RehearsedSlip, out: &mut Commands) {
    heading(ui, &format!("Thrown in at {}: {}", slip.at, slip.what.words()));
    words(
        ui,
        match &slip.rehearsal {
            Some(_) => "From then on all is told with it.",
            None => "What is told beside this is as planned, without it.",
        },
    );
    // In a line of its own it is as wide as its words.
    ui.horizontal(|ui| button(ui, true, LessonCommand::TakeSlipOut, None, out));
    match &slip.standing {
        Some(standing) => behind(ui, slip, (standing, &of.planned.plan)),
        None => around(ui, slip),
    }
}

/// What becomes of what happens: who keeps what they had, and who does not.
fn around(ui: &mut Ui, slip: &RehearsedSlip) {
    let Some(response) = slip.responses.first() else {
        words(ui, if slip.looking { "Planning the rest around it…" } else { "No plan was found." });
        return;
    };
    let (lesson, served) = (&response.after.lesson, response.after.plan.objective().served);
    let not_out = lesson.attending().count().saturating_sub(served as usize);
    match not_out {
        0 => words(ui, "All are still out."),
        1 => words(ui, "One group is not out by the bell."),
        n => words(ui, &format!("{n} groups are not out by the bell.")),
    }
    for sentence in response.moves.sentences() {
        words(ui, &sentence);
    }
}

/// Who is behind, what becomes of it, and what could be done.
fn behind(ui: &mut Ui, slip: &RehearsedSlip, (standing, plan): (&Standing, &CheckedPlan)) {
    let lesson = &slip.lesson;
    for group in standing.behind() {
        words(ui, &behind_words(lesson, group));
        words(ui, &stands_words(lesson, group, standing.now));
    }
    for held in &slip.held_up {
        words(ui, &held_up_words(lesson, plan, held));
    }
    if standing.all_out() {
        words(ui, "All are still out.");
        return;
    }
    heading(ui, "If nothing is done");
    for sentence in if_nothing(lesson, standing) {
        words(ui, &sentence);
    }
    heading(ui, "What could be done");
    let less = before_help(&slip.responses);
    let one = |ui: &mut Ui, (i, response): (usize, &Response)| {
        let moves = response.moves.sentences().join(" ");
        let odds = odds_words(&response.all_out);
        let what = capital(&response.words);
        words(ui, &format!("{}. {what}: {moves} All out then: {odds}.", i + 1));
    };
    slip.responses.iter().enumerate().take(less).for_each(|response| one(ui, response));
    for help in &slip.help {
        words(ui, &help_words(lesson, help));
    }
    slip.responses.iter().enumerate().skip(less).for_each(|response| one(ui, response));
    match (slip.responses.is_empty() && slip.help.is_empty(), slip.looking) {
        (true, true) => words(ui, "Looking for what can be done…"),
        (true, false) => words(ui, "Nothing was found that would have all of them out."),
        _ => {}
    }
}
