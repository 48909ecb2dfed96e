//! The steps of a method as a list.

use eframe::egui::{self, Button, Grid, RichText, TextEdit, Ui, vec2};

use super::chosen::{choose, tell};
use super::picture::step_path;
use crate::app::looks::follow::{Follow as _, sideways};
use crate::app::looks::form::{Field, Form, once};
use crate::app::looks::menu::staying;
use crate::app::looks::say::{self, say};
use crate::app::looks::theme::Palette;
use crate::app::screens::setup::at_home;
use crate::file::format::{MethodShape, StepKindShape, StepShape};
use crate::finding::{Path, shortened};
use crate::setup::rename::{Named, rename};
use crate::setup::steps::{self, At, Joins, arrows, change_turns, draw, erase, loosened};
use crate::setup::{field, suggest, usual_kit};

/// Kinds of steps, as they are offered.
pub const KINDS: [(&str, StepKindShape); 4] = [
    ("hands-on", StepKindShape::Hand),
    ("by itself", StepKindShape::Wait),
    ("bake", StepKindShape::Bake),
    ("cool", StepKindShape::Cool),
];

/// Width of the menu of what a step waits for, in points.
const WAITS: f32 = 150.0;

/// Shows it.
pub fn show(
    ui: &mut Ui,
    form: &mut Form<'_>,
    at: At,
    method: &MethodShape,
    path: &Path,
    chosen: Option<usize>,
) {
    let soft = Palette::of(ui.ctx()).soft;
    sideways(ui, &path.to_string(), |ui| {
        Grid::new(("step list", at.recipe, at.method)).spacing([6.0, 4.0]).show(ui, |ui| {
            for heading in ["Step", "After", "Kind", "Minutes"] {
                ui.label(RichText::new(say(heading)).color(soft));
            }
            ui.end_row();
            for i in 0..method.steps.len() {
                row(ui, form, at, (i, method), &path.index(i), chosen == Some(i));
                ui.end_row();
            }
        });
    });
    form.told_of_all(path);
    add(ui, form, at, method, chosen);
}

fn row(
    ui: &mut Ui,
    form: &mut Form<'_>,
    at: At,
    (i, method): (usize, &MethodShape),
    path: &Path,
    chosen: bool,
) {
    let step = &method.steps[i];
    let named = Named::Step { recipe: at.recipe, method: at.method, step: i };
    let name = Field::new(path.field("name"), format!("Step {}, name", i + 1)).width(170.0);
    form.cell(ui, &name, &step.name, |text, file| {
        let before = step_mut(file, at, i).cloned().unwrap_or_default();
        rename(file, &named, text)?;
        let kit = usual_kit::counted(file);
        let Some(now) = step_mut(file, at, i) else { return Ok(()) };
        usual_kit::renamed(&before, now, &kit);
        let untouched = now.minutes.is_none() && now.kind == StepKindShape::Hand;
        if let Some(known) = at_home::step(&now.name, &kit).filter(|_| untouched) {
            suggest::fill(now, &known, &kit);
        }
        Ok(())
    });
    after_menu(ui, form, at, (i, method), path);
    kind(ui, form, at, (i, step), path);
    minutes(ui, form, at, (i, step), path);
    let open = Button::selectable(chosen, say("More")).frame_when_inactive(true);
    let open = ui.add(open);
    let label = format!("More of {}", step.name);
    ui.ctx().accesskit_node_builder(open.id, |node| node.set_label(say(label)));
    if open.clicked() {
        choose(ui, form, at, (!chosen).then_some(i));
    }
    buttons(ui, form, at, (i, method));
}

/// Of which kind a step is.
pub fn kind(ui: &mut Ui, form: &mut Form<'_>, at: At, (i, step): (usize, &StepShape), path: &Path) {
    let kinds = KINDS.map(|(words, kind)| (words.to_owned(), kind == step.kind));
    let kind = Field::new(path.field("kind"), format!("{}, kind", step.name)).width(112.0);
    form.choose(ui, &kind, &kinds, |file, k| {
        if let Some(step) = step_mut(file, at, i) {
            step.kind = KINDS[k].1;
            if step.kind == StepKindShape::Bake {
                (step.minutes, step.may_be_beforehand, step.may_be_collected) =
                    (None, false, false);
            }
            if step.kind != StepKindShape::Hand {
                (step.pupils, step.everyone) = (None, false);
            }
            if step.kind != StepKindShape::Cool {
                step.cool_to = None;
            }
        }
    });
}

/// The step, to be changed.
pub fn step_mut(
    file: &mut crate::file::format::LessonFile,
    at: At,
    step: usize,
) -> Option<&mut StepShape> {
    let method = file.recipes.get_mut(at.recipe)?.methods.get_mut(at.method)?;
    method.steps.get_mut(step)
}

/// How long a step takes.
pub fn minutes(
    ui: &mut Ui,
    form: &mut Form<'_>,
    at: At,
    (i, step): (usize, &StepShape),
    path: &Path,
) {
    if step.kind == StepKindShape::Bake {
        ui.label(say("its tin's"));
        return;
    }
    let band = form.file.class.band;
    let shown = step.minutes.map(|m| field::minutes_text(&m, band)).unwrap_or_default();
    let cools = step.kind == StepKindShape::Cool;
    let hint = if cools { "worked out" } else { "4 5 8" };
    let name = format!("{}, minutes", step.name);
    let minutes = Field::new(path.field("minutes"), name).hint(hint).width(84.0);
    form.cell(ui, &minutes, &shown, |text, file| {
        let typed = if cools {
            field::optional(text, field::minutes)?
        } else {
            Some(field::minutes(text)?)
        };
        if let Some(step) = step_mut(file, at, i) {
            step.minutes = typed.map(|m| field::typed_over(step.minutes.as_ref(), band, m));
            if step.minutes.is_some() {
                step.cool_to = None;
            }
        }
        Ok(())
    });
}

/// What a step waits for, as a menu of all others.
fn after_menu(
    ui: &mut Ui,
    form: &mut Form<'_>,
    at: At,
    (i, method): (usize, &MethodShape),
    path: &Path,
) {
    let before: Vec<usize> =
        arrows(method).into_iter().filter(|a| a.to == i).map(|a| a.from).collect();
    let name = |s: usize| method.steps[s].name.as_str();
    let shown = match before.as_slice() {
        [] => "nothing".to_owned(),
        some => some.iter().map(|&s| name(s)).collect::<Vec<&str>>().join(", "),
    };
    let mut made = None;
    // As wide whatever it says, that what stands beside it stays.
    let button = Button::new(say(shortened(&shown, 20))).min_size(vec2(WAITS, 0.0)).truncate();
    let (menu, _) = staying(button).ui(ui, |ui| {
        ui.label(say(format!("{} waits for", name(i))));
        egui::ScrollArea::vertical().max_height(320.0).follow(ui, |ui| {
            for other in (0..method.steps.len()).filter(|&o| o != i) {
                let mut ticked = before.contains(&other);
                if ui.checkbox(&mut ticked, say(name(other))).changed() {
                    let waits = if ticked { "waits" } else { "no longer waits" };
                    let what = format!("{} {waits} for {}", name(i), name(other));
                    made = Some(form.attempt(path.field("after"), what, |file| match ticked {
                        true => draw(file, at, other, i).map(|()| Vec::new()),
                        false => {
                            erase(file, at, other, i)?;
                            let now = file.recipes.get(at.recipe);
                            let now = now.and_then(|r| r.methods.get(at.method));
                            Ok(now.map(|now| loosened(method, now)).unwrap_or_default())
                        }
                    }));
                }
            }
        });
    });
    let said = format!("{}, waits for: {shown}", name(i));
    ui.ctx().accesskit_node_builder(menu.id, |node| node.set_label(say(said)));
    if let Some(made) = made {
        tell(ui, form, at, made);
    }
}

fn buttons(ui: &mut Ui, form: &mut Form<'_>, at: At, (i, method): (usize, &MethodShape)) {
    let name = shortened(&method.steps[i].name, 40);
    let last = method.steps.len() - 1;
    for (sign, to, word) in
        [("Up", i.checked_sub(1), "up"), ("Down", (i < last).then_some(i + 1), "down")]
    {
        let label = format!("Move {name} {word}");
        if small(ui, sign, &label, to.is_some())
            && let Some(to) = to
        {
            let upper = i.min(to);
            let made = form.attempt(Path::root(), label, |file| change_turns(file, at, upper));
            tell(ui, form, at, made);
            choose(ui, form, at, None);
        }
    }
    let label = format!("Copy {name}");
    let bakes = method.steps[i].kind == StepKindShape::Bake;
    if small(ui, "Copy", &label, !bakes) {
        let made = form.attempt(Path::root(), label, |file| steps::copy(file, at, i));
        tell(ui, form, at, made.map(|_| Vec::new()));
        choose(ui, form, at, Some(i + 1));
    }
    let label = format!("Take {name} out");
    if small(ui, "×", &label, last > 0) {
        let made = form.attempt(Path::root(), label, |file| steps::remove(file, at, i));
        tell(ui, form, at, made);
        choose(ui, form, at, None);
    }
}

fn small(ui: &mut Ui, sign: &str, spoken: &str, enabled: bool) -> bool {
    let button = ui.add_enabled(enabled, Button::new(say(sign)).min_size(vec2(22.0, 22.0)));
    ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
    once(&button.on_hover_text(say(spoken)))
}

/// A step more, after the one whose card is open or at the end: what the
/// library knows of its name is filled in.
fn add(ui: &mut Ui, form: &mut Form<'_>, at: At, method: &MethodShape, chosen: Option<usize>) {
    let id = egui::Id::unique(("new step", form.doc.id(), at.recipe, at.method));
    let mut text: String = ui.data(|d| d.get_temp(id)).unwrap_or_default();
    ui.horizontal_wrapped(|ui| {
        let edit = TextEdit::singleline(&mut text).id(id.with("field")).desired_width(180.0);
        let field = ui.add(edit.hint_text(say("fold in, prove, …")));
        ui.ctx().accesskit_node_builder(field.id, |node| node.set_label(say("New step")));
        let entered = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        let after = chosen.filter(|&c| c < method.steps.len());
        let place = after.map_or(method.steps.len(), |c| c + 1);
        let label = match after {
            Some(c) => format!("Add it after {}", shortened(&method.steps[c].name, 30)),
            None => "Add it at the end".to_owned(),
        };
        let pressed = ui.add_enabled(!text.trim().is_empty(), Button::new(say(label))).clicked();
        ui.menu_button(say("Known steps"), |ui| {
            egui::ScrollArea::vertical().max_height(320.0).follow(ui, |ui| {
                for name in suggest::names().unwrap_or_default() {
                    let name = say::name(&name);
                    if method.steps.iter().all(|s| s.name != name)
                        && ui.button(say(&name)).clicked()
                    {
                        text = name;
                    }
                }
            });
        });
        if (pressed || entered) && !text.trim().is_empty() {
            let what = format!("{} as well", shortened(text.trim(), 40));
            let made = form.attempt(step_path(at, 0), what, |file| {
                let mut step = StepShape { name: text.trim().to_owned(), ..StepShape::default() };
                let kit = usual_kit::counted(file);
                let missing = match at_home::step(&step.name, &kit) {
                    Some(known) => suggest::fill(&mut step, &known, &kit),
                    None => usual_kit::give(&mut step, &kit),
                };
                steps::add(file, at, place, step, Joins::Chain)?;
                let lacks = |kit: String| {
                    format!("it usually takes {kit}: it gets that once a room counts it")
                };
                Ok(missing.into_iter().map(lacks).collect())
            });
            if made.is_ok() {
                text.clear();
                choose(ui, form, at, Some(place));
            }
            tell(ui, form, at, made);
        }
    });
    ui.data_mut(|d| d.insert_temp(id, text));
}
