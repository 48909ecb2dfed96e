//! A slip thrown in at the minute of the clock: what becomes of it, and what could be
//! done. Nothing of the lesson is changed by it.

use eframe::egui::{Frame, Margin, ScrollArea, Stroke, Ui};

use super::{Rehearsed, heading, words};
use crate::app::looks::button::button;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::Commands;
use crate::session::{Command as LessonCommand, RehearsedSlip};
use crate::units::Minutes;
use crate::view::day::{behind_words, if_nothing};
use crate::view::words::{capital, minutes};

/// By so many minutes a group is behind, each a button.
const LATE: [i32; 3] = [2, 4, 8];

/// Groups, and by how much each may be behind.
pub fn menu(ui: &mut Ui, of: &Rehearsed<'_>, out: &mut Commands) {
    let (lesson, plan) = (of.lesson(), &of.planned.plan);
    ui.menu_button(say("Slip…"), |ui| {
        ui.label(say("Throw in a slip: minutes behind"));
        ScrollArea::vertical().max_height(300.0).show(ui, |ui| {
            for group in lesson.attending().filter(|g| plan.plan().choice(*g).is_some()) {
                let name = &lesson.group(group).name;
                ui.horizontal(|ui| {
                    for late in LATE {
                        let small = ui.button(late.to_string());
                        let spoken = format!("{name}: {late} behind");
                        ui.ctx().accesskit_node_builder(small.id, |n| n.set_label(say(spoken)));
                        if small.clicked() {
                            let late = Minutes::new(late);
                            out.push(LessonCommand::ThrowIn(name.clone(), late, of.card.at));
                            ui.close();
                        }
                    }
                    ui.label(say(crate::finding::shortened(name, 40)));
                });
            }
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
        told(ui, slip);
        button(ui, true, LessonCommand::TakeSlipOut, None, out);
    });
}

fn told(ui: &mut Ui, slip: &RehearsedSlip) {
    let (lesson, standing) = (&slip.lesson, &slip.standing);
    let late = minutes(slip.late.get());
    heading(ui, &format!("Thrown in at {}: {} is {late} behind", slip.at, slip.group));
    for group in standing.behind() {
        words(ui, &behind_words(lesson, group));
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
    for (i, response) in slip.responses.iter().enumerate() {
        let moves = response.moves.sentences().join(" ");
        words(ui, &format!("{}. {}: {moves}", i + 1, capital(&response.words)));
    }
    match (slip.responses.is_empty(), slip.looking) {
        (true, true) => words(ui, "Looking for what can be done…"),
        (true, false) => words(ui, "Nothing was found that would have all of them out."),
        _ => {}
    }
}
