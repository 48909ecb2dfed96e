//! The card of the day: what may happen, one action each; what has happened,
//! and what changed by it.

use crate::app::state::Commands;
use crate::session::Command as LessonCommand;
use eframe::egui::{self, Ui};

use super::parts::{heading, title};
use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::model::{Attendance, GroupId, Lesson};
use crate::today::Happening;

/// Minutes by which a lesson starts later, each a button.
const LATE: [i32; 3] = [2, 5, 10];

/// Shows the card.
pub fn show(ui: &mut Ui, lesson: &Lesson, changed: &[String], out: &mut Commands) {
    let Some(today) = &lesson.today else {
        title(ui, "Today", "This lesson is no copy for the day.");
        return;
    };
    title(ui, "Today", "A copy for the day; the lesson itself stays as it is.");
    if !changed.is_empty() {
        heading(ui, "What changed");
        for sentence in changed {
            ui.add(egui::Label::new(say(sentence)).wrap());
        }
    }
    heading(ui, "Late start");
    ui.horizontal_wrapped(|ui| {
        for minutes in LATE {
            if ui.button(say(format!("{minutes} min later"))).clicked() {
                out.push(LessonCommand::Happened(Happening::LateStart { minutes, period: None }));
            }
        }
    });
    heading(ui, "Ovens");
    ui.horizontal_wrapped(|ui| {
        for oven in &lesson.ovens {
            let name = oven.name.clone();
            let (words, what) = if oven.out_of_order {
                (format!("{name} works again"), Happening::OvenWorks { oven: name })
            } else {
                (format!("{name} out of order"), Happening::OvenOut { oven: name })
            };
            if ui.button(say(words)).clicked() {
                out.push(LessonCommand::Happened(what));
            }
        }
    });
    if !lesson.adults.is_empty() {
        heading(ui, "Adults");
    }
    ui.horizontal_wrapped(|ui| {
        for adult in &lesson.adults {
            if ui.button(say(format!("{} called away", adult.name))).clicked() {
                let adult = adult.name.clone();
                out.push(LessonCommand::Happened(Happening::AdultAway { adult }));
            }
        }
    });
    heading(ui, "Groups");
    let sets = today.spare_sets;
    let left = if sets == 1 { "One spare set".to_owned() } else { format!("{sets} spare sets") };
    ui.label(say(format!("{left} of ingredients left.")));
    for (i, group) in lesson.groups.iter().enumerate() {
        if group.attendance == Attendance::LeftOut {
            continue;
        }
        ui.label(say(crate::finding::shortened(&group.name, 40)));
        of_group(ui, lesson, GroupId(i), out);
    }
    if !today.happened.is_empty() {
        heading(ui, "What happened");
        for happened in &today.happened {
            let at = happened.at.map(|at| format!("{at}: ")).unwrap_or_default();
            ui.add(egui::Label::new(say(format!("{at}{}", happened.what))).wrap());
        }
    }
}

/// What to look at before a group is given other ingredients; empty if nothing
/// is known that would ask for it.
fn needs_of(lesson: &Lesson, id: GroupId) -> String {
    let group = lesson.group(id);
    let name = &group.name;
    match (group.needs.is_empty(), group.keep_apart) {
        (false, _) => format!("{name} needs: {}. Check the labels first.", group.needs.join(", ")),
        (true, true) => format!("{name} is kept apart. Check the labels first."),
        (true, false) => String::new(),
    }
}

/// What may happen to a group, one action each.
pub fn of_group(ui: &mut Ui, lesson: &Lesson, id: GroupId, out: &mut Commands) {
    let name = &lesson.group(id).name;
    let named = |response: egui::Response, what: &str, ui: &Ui| {
        let spoken = format!("{name}: {what}");
        ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(say(spoken)));
        response
    };
    ui.horizontal_wrapped(|ui| {
        let absent = ui.button(say("Absent"));
        if named(absent, "pupil absent", ui).on_hover_text(say("a pupil is absent")).clicked() {
            out.push(LessonCommand::Happened(Happening::Absent { group: name.clone() }));
        }
        let forgotten = ui.button(say("No ingredients"));
        let needs = needs_of(lesson, id);
        let hint = format!("ingredients forgotten or dropped: takes a spare set\n{needs}");
        if named(forgotten, "ingredients forgotten", ui).on_hover_text(say(hint.trim())).clicked() {
            out.push(LessonCommand::Happened(Happening::Forgotten { group: name.clone() }));
        }
        let joins = ui.menu_button(say("Joins…"), |ui| {
            let others = lesson
                .groups
                .iter()
                .enumerate()
                .filter(|(i, g)| *i != id.0 && g.attendance != Attendance::LeftOut);
            for (i, other) in others {
                if ui.button(say(format!("joins {}", other.name))).clicked() {
                    let other_recipe = lesson.groups[i].recipe != lesson.group(id).recipe;
                    let with = other.name.clone();
                    let group = name.clone();
                    out.push(LessonCommand::Happened(Happening::Joined {
                        group,
                        with,
                        other_recipe,
                    }));
                    ui.close();
                }
            }
        });
        named(joins.response, "joins another group", ui);
        let instead = ui.menu_button(say("Instead…"), |ui| {
            let own = lesson.recipes.iter().map(|r| r.name.clone());
            let library = crate::file::library::recipes().unwrap_or_default();
            let mut all: Vec<String> = own.collect();
            for recipe in library {
                if !all.contains(&recipe.name) {
                    all.push(recipe.name);
                }
            }
            if !needs.is_empty() {
                ui.label(say(&needs));
            }
            let now = &lesson.recipe_of(id).name;
            egui::ScrollArea::vertical().max_height(260.0).follow(ui, |ui| {
                for recipe in all.into_iter().filter(|r| r != now) {
                    if ui.button(say(format!("makes {recipe}"))).clicked() {
                        let group = name.clone();
                        out.push(LessonCommand::Happened(Happening::Reserve { group, recipe }));
                        ui.close();
                    }
                }
            });
        });
        named(instead.response, "makes another recipe", ui);
    });
}
