//! The part of a card by which things are moved and held: for those who point
//! at words rather than drag, and for screen readers.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{self, Role, Ui, WidgetInfo};

use super::parts::heading;
use crate::app::looks::say::say;
use crate::app::screens::OnScreen;
use crate::app::screens::board::carry::{in_place_of, shelves_by_name};
use crate::app::state::Command;
use crate::check::CheckedPlan;
use crate::hand::{Held, Spot, Thing};
use crate::model::{GroupId, Lesson, StepId};
use crate::session::step_thing;
use crate::view::held::{held_of, is_start_held};
use crate::view::words::clock;

/// Of one step.
pub fn of_step(
    ui: &mut Ui,
    (lesson, plan): (&Lesson, &CheckedPlan),
    (group, step): (GroupId, StepId),
    out: &mut Commands,
) {
    if plan.plan().choice(group).is_none() {
        return;
    }
    heading(ui, "By hand");
    let thing = step_thing(lesson, plan, group, step);
    moves(ui, (lesson, plan), thing, out);
    let held = is_start_held(lesson, plan, group, step);
    tick(ui, held, "Held at this time", Held::Step(group, step), out);
    if thing == Thing::Bake(group) {
        shelf_choice(ui, (lesson, plan), group, out);
        let held = held_of(lesson, plan, group);
        tick(ui, held.oven, oven_words(held.shelf), Held::Oven(group), out);
    }
}

/// Of a group.
pub fn of_group(
    ui: &mut Ui,
    (lesson, plan): (&Lesson, &CheckedPlan),
    group: GroupId,
    out: &mut Commands,
) {
    let Some(choice) = plan.plan().choice(group) else { return };
    heading(ui, "By hand");
    moves(ui, (lesson, plan), Thing::Row(group), out);
    let held = held_of(lesson, plan, group);
    let several = lesson.group(group).methods.len() > 1;
    if choice.tin.is_some() {
        shelf_choice(ui, (lesson, plan), group, out);
        tick(ui, held.tin, "Tin held", Held::Tin(group), out);
        tick(ui, held.oven, oven_words(held.shelf), Held::Oven(group), out);
    }
    if several {
        tick(ui, held.method, "Method held", Held::Method(group), out);
    }
    tick(ui, held.all, "All of it held as it is", Held::Group(group), out);
}

/// Of several things selected together.
pub fn of_several(ui: &mut Ui, shown: &OnScreen<'_>, out: &mut Commands) {
    let (lesson, plan) = (shown.lesson(), shown.plan());
    let marked = &shown.view.marked;
    let title = format!("{} selected", crate::view::words::number(marked.len()));
    crate::app::screens::card::title(ui, &crate::view::words::capital(&title), "");
    for &thing in marked {
        let words = crate::hand::words::thing_words(lesson, plan, thing);
        ui.add(egui::Label::new(say(words)).wrap());
    }
    heading(ui, "By hand");
    ui.horizontal_wrapped(|ui| {
        for (label, by) in BY {
            let spots: Vec<(Thing, Spot)> = marked
                .iter()
                .filter_map(|&thing| Some((thing, spot(lesson, plan, thing, by)?)))
                .collect();
            if step_button(ui, label, by) {
                out.push(LessonCommand::Put(spots));
            }
        }
    });
    let all: Vec<Held> =
        marked.iter().map(|&t| crate::app::screens::board::carry::held_as(t)).collect();
    ui.horizontal_wrapped(|ui| {
        if ui.button(say("Hold them all")).clicked() {
            out.push(LessonCommand::Hold(all.clone(), true));
        }
        if ui.button(say("Let go of them all")).clicked() {
            out.push(LessonCommand::Hold(all, false));
        }
    });
    if ui.button(say("Select nothing")).clicked() {
        out.push(Command::Select(crate::app::state::Selection::Nothing));
    }
}

const BY: [(&str, i32); 4] = [("−5", -5), ("−1", -1), ("+1", 1), ("+5", 5)];

fn spot(lesson: &Lesson, plan: &CheckedPlan, thing: Thing, by: i32) -> Option<Spot> {
    let start = thing.start(lesson, plan)?;
    let at = crate::units::Minute::new(start.get().saturating_add(by));
    Some(Spot { at: Some(at), place: None })
}

fn step_button(ui: &mut Ui, label: &str, by: i32) -> bool {
    let words = match by {
        -1 => "a minute earlier".to_owned(),
        1 => "a minute later".to_owned(),
        by if by < 0 => format!("{} minutes earlier", -by),
        by => format!("{by} minutes later"),
    };
    let spoken = format!("Move {words}");
    let button = ui.button(say(label));
    button.widget_info(|| WidgetInfo::labeled(Role::Button, true, say(&spoken)));
    button.on_hover_text(say(words)).clicked()
}

/// When it starts, earlier and later.
fn moves(ui: &mut Ui, (lesson, plan): (&Lesson, &CheckedPlan), thing: Thing, out: &mut Commands) {
    let Some(start) = thing.start(lesson, plan) else { return };
    ui.horizontal_wrapped(|ui| {
        ui.label(say(match thing {
            Thing::Row(_) => "All of it".to_owned(),
            // Whatever of it is selected, a bake is moved by when it is loaded.
            Thing::Bake(_) => format!("Loads at {}", clock(lesson, start)),
            Thing::Step(..) => format!("Starts {}", clock(lesson, start)),
        }));
        for (label, by) in BY {
            if step_button(ui, label, by) {
                out.push(LessonCommand::PutBy(thing, by, 0));
            }
        }
        let of = if matches!(thing, Thing::Row(_)) { "Rename…" } else { "Time…" };
        if ui.button(say(of)).clicked() {
            out.push(Command::InPlace(Some(in_place_of(thing))));
        }
    });
}

fn tick(ui: &mut Ui, held: bool, words: &str, what: Held, out: &mut Commands) {
    let mut on = held;
    if ui.checkbox(&mut on, say(words)).changed() {
        out.push(LessonCommand::Hold(vec![what], on));
    }
}

fn oven_words(shelf: bool) -> &'static str {
    if shelf { "Oven and shelf held" } else { "Oven held" }
}

fn shelf_choice(
    ui: &mut Ui,
    (lesson, plan): (&Lesson, &CheckedPlan),
    group: GroupId,
    out: &mut Commands,
) {
    let loads = plan.plan().loads.iter().find(|l| l.group == group);
    let now = loads.map(|l| (l.oven, l.shelf));
    let all = shelves_by_name(lesson);
    let chosen = all.iter().find(|(place, _)| Some(*place) == now).map(|(_, words)| words.as_str());
    let label = ui.label(say("Bakes in"));
    egui::ComboBox::from_id_salt(("shelf", group))
        .selected_text(say(chosen.unwrap_or_default()))
        .width(ui.available_width().min(240.0))
        .show_ui(ui, |ui| {
            for ((oven, shelf), words) in &all {
                let is_now = now == Some((*oven, *shelf));
                if ui.selectable_label(is_now, say(words)).clicked() && !is_now {
                    let place = Some((*oven, Some(*shelf)));
                    let spot = Spot { at: None, place };
                    out.push(LessonCommand::Put(vec![(Thing::Bake(group), spot)]));
                }
            }
        })
        .response
        .labelled_by(label.id);
}
