//! Groups: made at once, and one by one what is said of each.

use eframe::egui::{Button, RichText, Ui};

use super::adults::one_of;
use super::start;
use crate::app::looks::form::{Field, Form, page_title, part, remark};
use crate::app::looks::menu::staying;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::file::format::{GroupShape, LessonFile, RecipeShape};
use crate::finding::{Path, shortened};
use crate::session::{LibraryShelves, ToKeep};
use crate::setup::rename::{Named, rename};
use crate::setup::{field, groups, starter};
use crate::units::plain_number;

/// Shows the page.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, shelves: &LibraryShelves) {
    page_title(
        ui,
        "Groups",
        "Groups are numbered, pupils are never named. Needs are kept in this lesson's file and its \
         copies, and in your library if you keep the class there.",
    );
    part(ui, "Class", |ui| {
        start::class(ui, form, shelves);
        let name = form.file.class.name.clone();
        super::library::keep(ui, form, ToKeep::Class, &name, shelves);
    });
    let all = Path::root().field("groups");
    part(ui, "One by one", |ui| {
        let list = form.file.groups.clone();
        if list.is_empty() {
            remark(ui, "No group yet: say above how many pupils there are, or add one.");
        }
        for (i, group) in list.iter().enumerate() {
            ui.add_space(2.0);
            entry(ui, form, (i, group), &all.index(i));
            ui.separator();
        }
        let name = all.index(list.len()).field("name");
        form.add(ui, "Add a group", "a group more", name, groups::add);
        remark(
            ui,
            "Needs are for people to read: nothing here compares them with a recipe's ingredients \
             or labels. Do that yourself, every time.",
        );
        remark(
            ui,
            "A group kept apart stands in no oven at the same time as others, though one after \
             another it may, and uses no tin and no counted kit that touches food after others. That \
             is no promise that its bake is free from anything.",
        );
    });
}

fn group_mut(file: &mut LessonFile, index: usize) -> Option<&mut GroupShape> {
    file.groups.get_mut(index)
}

fn entry(ui: &mut Ui, form: &mut Form<'_>, (i, group): (usize, &GroupShape), at: &Path) {
    let soft = Palette::of(ui.ctx()).soft;
    let spoken = |part: &str| format!("{}, {part}", group.name);
    ui.horizontal_wrapped(|ui| {
        let name = Field::new(at.field("name"), format!("Group {}, name", i + 1)).width(110.0);
        form.cell(ui, &name, &group.name, |text, file| rename(file, &Named::Group(i), text));
        ui.label(RichText::new(say("pupils")).color(soft));
        let pupils = Field::new(at.field("pupils"), spoken("pupils")).width(30.0);
        form.cell(ui, &pupils, &group.pupils.unwrap_or(2).to_string(), |text, file| {
            let n = field::whole(text, (1, groups::MOST_PUPILS), "")?;
            if let Some(group) = group_mut(file, i) {
                group.pupils = Some(n);
            }
            Ok(())
        });
        let recipes: Vec<String> = form.file.recipes.iter().map(|r| r.name.clone()).collect();
        let options: Vec<(String, bool)> =
            recipes.iter().map(|r| (r.clone(), *r == group.recipe)).collect();
        let recipe = Field::new(at.field("recipe"), spoken("recipe")).hint("recipe").width(170.0);
        form.choose(ui, &recipe, &options, |file, k| {
            if let Some(group) = group_mut(file, i) {
                starter::choose(group, &recipes[k]);
            }
        });
        let recipe = form.file.recipes.iter().find(|r| r.name == group.recipe).cloned();
        if let Some(recipe) = &recipe {
            liked(ui, form, (i, group), at, Which::Method, recipe);
            liked(ui, form, (i, group), at, Which::Tin, recipe);
        }
        let pace = Field::new(at.field("pace"), spoken("pace")).hint("100").width(32.0);
        ui.label(RichText::new(say("pace")).color(soft));
        let shown = group.pace.map(|p| plain_number((p * 100.0).round())).unwrap_or_default();
        form.cell(ui, &pace, &shown, |text, file| {
            let n = field::optional(text, |text| field::number(text, (30.0, 300.0), "%"))?;
            if let Some(group) = group_mut(file, i) {
                group.pace = n.map(|n| n / 100.0);
            }
            Ok(())
        });
        ui.label(RichText::new(say("% of usual minutes")).color(soft));
    });
    ui.horizontal_wrapped(|ui| {
        attached(ui, form, (i, group), at);
        where_and_when(ui, form, (i, group), at);
        super::needs::show(ui, form, (i, group), at);
        let label = format!("{} kept apart", group.name);
        let label = ("kept apart", label.as_str());
        form.tick_seen(ui, &at.field("keep_apart"), label, group.keep_apart, |file, now| {
            if let Some(group) = group_mut(file, i) {
                group.keep_apart = now;
            }
        });
        outside(ui, form, (i, group), at);
        let label = format!("{} left out", group.name);
        let label = ("left out", label.as_str());
        form.tick_seen(ui, &at.field("left_out"), label, group.left_out, |file, now| {
            if let Some(group) = group_mut(file, i) {
                group.left_out = now;
            }
        });
        let label = format!("Take {} out", group.name);
        form.small(ui, ("×", &label), true, |file| groups::remove(file, i));
        // Last, so that nothing moves as it comes and goes.
        if let Some(count) = group.count {
            ui.label(RichText::new(say(format!("{count} alike"))).color(soft));
            let what = format!("{} one by one", group.name);
            form.small(ui, ("one by one", &what), true, groups::write_out);
        }
    });
    form.told_of_all(at);
}

/// What a group lists, best liked first.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Which {
    Method,
    Tin,
}

/// The ways it may take: a menu of them all, those liked first.
fn liked(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (i, group): (usize, &GroupShape),
    at: &Path,
    which: Which,
    recipe: &RecipeShape,
) {
    let (all, now, what): (Vec<String>, &Vec<String>, &str) = match which {
        Which::Method => {
            (recipe.methods.iter().map(|m| m.name.clone()).collect(), &group.methods, "method")
        }
        Which::Tin => {
            let label = |t: &crate::file::format::TinChoiceShape| {
                t.label.clone().unwrap_or_else(|| t.tin.clone())
            };
            (recipe.tins.iter().map(label).collect(), &group.tins, "tin")
        }
    };
    if all.len() < 2 {
        return;
    }
    let shown = match now.as_slice() {
        [] => format!("any {what}"),
        [only] => shortened(only, 24),
        [first, rest @ ..] => format!("{}, then {} more", shortened(first, 18), rest.len()),
    };
    let at = at.field(if which == Which::Method { "methods" } else { "tins" });
    let (menu, _) = staying(Button::new(say(&shown))).ui(ui, |ui| {
        ui.label(say(format!("{}, best liked first", crate::view::words::capital(what))));
        let rest = all.iter().filter(|name| !now.contains(name));
        for name in now.iter().chain(rest) {
            let place = now.iter().position(|n| n == name);
            ui.horizontal(|ui| {
                let mut ticked = place.is_some();
                if ui.checkbox(&mut ticked, say(name)).changed() {
                    let words = format!("{}: {name}", group.name);
                    form.enter(at.clone(), words, |file| {
                        list(file, i, which, |l| super::lesson::keep(l, name, ticked));
                    });
                }
                if let Some(k) = place.filter(|k| *k > 0) {
                    let earlier = format!("{name} earlier");
                    form.small(ui, ("Up", &earlier), true, |file| {
                        list(file, i, which, |l| l.swap(k, k - 1));
                    });
                }
            });
        }
    });
    let spoken = format!("{}, {what}: {shown}", group.name);
    ui.ctx().accesskit_node_builder(menu.id, |node| node.set_label(say(spoken)));
}

fn list(file: &mut LessonFile, group: usize, which: Which, change: impl FnOnce(&mut Vec<String>)) {
    if let Some(group) = group_mut(file, group) {
        change(if which == Which::Method { &mut group.methods } else { &mut group.tins });
    }
}

/// Steps done for this group outside the bells.
fn outside(ui: &mut Ui, form: &mut Form<'_>, (i, group): (usize, &GroupShape), at: &Path) {
    let recipe = form.file.recipes.iter().find(|r| r.name == group.recipe);
    let steps = recipe.into_iter().flat_map(|r| &r.methods).flat_map(|m| &m.steps);
    let (mut before, mut after): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for step in steps {
        if step.may_be_beforehand && !before.contains(&step.name) {
            before.push(step.name.clone());
        }
        if step.may_be_collected && !after.contains(&step.name) {
            after.push(step.name.clone());
        }
    }
    if before.is_empty() && after.is_empty() {
        return;
    }
    let n = group.beforehand.len() + group.collected.len();
    let title = if n == 0 { "before or after".to_owned() } else { format!("{n} before or after") };
    let (menu, _) = staying(Button::new(say(title))).ui(ui, |ui| {
        for (names, key, when) in
            [(before, "beforehand", "done beforehand"), (after, "collected", "after the lesson")]
        {
            for name in names {
                let list = if key == "beforehand" { &group.beforehand } else { &group.collected };
                let ticked = list.contains(&name);
                form.tick(ui, &at.field(key), &format!("{name} {when}"), ticked, |file, now| {
                    if let Some(group) = group_mut(file, i) {
                        let early = key == "beforehand";
                        let list = if early { &mut group.beforehand } else { &mut group.collected };
                        super::lesson::keep(list, &name, now);
                    }
                });
            }
        }
    });
    let spoken = format!("{}, steps before or after the bells: {n}", group.name);
    ui.ctx().accesskit_node_builder(menu.id, |node| node.set_label(say(spoken)));
}

/// The adult who serves this group only.
fn attached(ui: &mut Ui, form: &mut Form<'_>, (_, group): (usize, &GroupShape), at: &Path) {
    let adults: Vec<String> = form.file.adults.iter().map(|a| a.name.clone()).collect();
    let name = group.name.clone();
    let now = form.file.adults.iter().find(|a| a.only_for.as_deref() == Some(name.as_str()));
    let now = now.map(|a| a.name.clone());
    let field = (at.field("adult"), format!("{name}, own adult"));
    one_of(ui, form, field, "no adult of its own", &adults, now, |file, adult| {
        for entry in &mut file.adults {
            if entry.only_for.as_deref() == Some(name.as_str()) {
                entry.only_for = None;
            }
            if Some(&entry.name) == adult.as_ref() {
                entry.only_for = Some(name.clone());
            }
        }
    });
}

fn where_and_when(ui: &mut Ui, form: &mut Form<'_>, (i, group): (usize, &GroupShape), at: &Path) {
    let file = form.file;
    let rooms: Vec<String> = file.other_rooms.iter().map(|r| r.name.clone()).collect();
    if !rooms.is_empty() {
        let first = file.room.name();
        let now = group.room.clone().filter(|r| *r != file.room.name);
        let field = (at.field("room"), format!("{}, room", group.name));
        one_of(ui, form, field, first, &rooms, now, move |file, room| {
            if let Some(group) = group_mut(file, i) {
                (group.room, group.unit) = (room, None);
            }
        });
    }
    let room = match &group.room {
        Some(name) => file.other_rooms.iter().find(|r| r.name == *name).unwrap_or(&file.room),
        None => &file.room,
    };
    let units: Vec<String> = room.units.iter().map(|u| u.name.clone()).collect();
    if !units.is_empty() {
        let field = (at.field("unit"), format!("{}, bay", group.name));
        one_of(ui, form, field, "no bay", &units, group.unit.clone(), move |file, unit| {
            if let Some(group) = group_mut(file, i) {
                group.unit = unit;
            }
        });
    }
    let periods: Vec<String> = file.other_periods.iter().map(|p| p.name.clone()).collect();
    if !periods.is_empty() {
        let first = if file.period.name.is_empty() { "first period" } else { &file.period.name };
        let now = group.period.clone().filter(|p| *p != file.period.name);
        let field = (at.field("period"), format!("{}, period", group.name));
        one_of(ui, form, field, first, &periods, now, move |file, period| {
            if let Some(group) = group_mut(file, i) {
                group.period = period;
            }
        });
    }
}
