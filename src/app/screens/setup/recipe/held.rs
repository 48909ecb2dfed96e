//! Kit occupied over several steps, and over which the tin is.

use eframe::egui::{Grid, RichText, Ui};

use crate::app::looks::form::{Field, Form, remark};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::file::format::{HoldShape, LessonFile, MethodShape, StepKindShape};
use crate::finding::Path;
use crate::setup::steps::At;
use crate::setup::{field, suggest};

/// Shows it.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, at: At, method: &MethodShape, path: &Path) {
    let kit = suggest::kit_of(form.file);
    let holds = path.field("holds");
    let soft = Palette::of(ui.ctx()).soft;
    if !method.holds.is_empty() {
        Grid::new(("holds", at.recipe, at.method)).spacing([6.0, 4.0]).show(ui, |ui| {
            for heading in
                ["Held over several steps", "How many", "From the start of", "To the end of", ""]
            {
                ui.label(RichText::new(say(heading)).color(soft));
            }
            ui.end_row();
            for (i, hold) in method.holds.iter().enumerate() {
                row(ui, form, at, (i, hold), method, &kit, &holds.index(i));
                ui.end_row();
            }
        });
        form.told_of_all(&holds);
    } else if !kit.is_empty() {
        remark(ui, "Nothing yet: add a bowl or a rack place that stays in use from step to step.");
    }
    let ends = method.steps.first().zip(method.steps.last());
    if let (Some((first, last)), Some(kind)) = (ends, kit.first()) {
        let hold = HoldShape {
            kit: kind.clone(),
            count: None,
            from: first.name.clone(),
            to: last.name.clone(),
        };
        form.button(ui, "Add kit held over several steps", "kit held over several steps", |file| {
            with(file, at, |m| m.holds.push(hold));
        });
    } else {
        remark(
            ui,
            "Kit can be held over several steps once a room has some: add it on the room's page.",
        );
    }
    tin(ui, form, at, method, &path.field("tin_held"));
}

fn with(file: &mut LessonFile, at: At, set: impl FnOnce(&mut MethodShape)) {
    if let Some(method) = method_mut(file, at) {
        set(method);
    }
}

fn method_mut(file: &mut LessonFile, at: At) -> Option<&mut MethodShape> {
    file.recipes.get_mut(at.recipe).and_then(|r| r.methods.get_mut(at.method))
}

fn row(
    ui: &mut Ui,
    form: &mut Form<'_>,
    at: At,
    (i, hold): (usize, &HoldShape),
    method: &MethodShape,
    kit: &[String],
    path: &Path,
) {
    let spoken = |part: &str| format!("{} held, {part}", hold.kit);
    let hold_mut = move |file: &mut LessonFile, set: &mut dyn FnMut(&mut HoldShape)| {
        if let Some(hold) = method_mut(file, at).and_then(|m| m.holds.get_mut(i)) {
            set(hold);
        }
    };
    let options: Vec<(String, bool)> = kit.iter().map(|k| (k.clone(), *k == hold.kit)).collect();
    let kind = Field::new(path.field("kit"), spoken("kit")).hint(hold.kit.as_str()).width(140.0);
    form.choose(ui, &kind, &options, |file, k| {
        hold_mut(file, &mut |h| h.kit.clone_from(&kit[k]));
    });
    let count = Field::new(path.field("count"), spoken("how many")).hint("1").width(40.0);
    let shown = hold.count.map(|n| n.to_string()).unwrap_or_default();
    form.cell(ui, &count, &shown, |text, file| {
        let n = field::optional(text, |t| field::whole(t, (1, 500), ""))?;
        hold_mut(file, &mut |h| h.count = n);
        Ok(())
    });
    let names = names(method);
    for (key, label, now, from) in
        [("from", "from the start of", &hold.from, true), ("to", "to the end of", &hold.to, false)]
    {
        let options: Vec<(String, bool)> = names.iter().map(|n| (n.clone(), n == now)).collect();
        let end = Field::new(path.field(key), spoken(label)).hint(now.as_str()).width(170.0);
        form.choose(ui, &end, &options, |file, k| {
            let name = &names[k];
            hold_mut(file, &mut |h| name.clone_into(if from { &mut h.from } else { &mut h.to }));
        });
    }
    let label = format!("No longer hold {}", hold.kit);
    form.small(ui, ("×", &label), true, |file| {
        with(file, at, |m| drop(m.holds.remove(i)));
    });
}

/// Names of the steps, loading and taking out included.
fn names(method: &MethodShape) -> Vec<String> {
    let mut names: Vec<String> = method.steps.iter().map(|s| s.name.clone()).collect();
    if method.steps.iter().any(|s| s.kind == StepKindShape::Bake) {
        names.extend(["load", "take out"].map(str::to_owned));
    }
    names
}

/// Over which steps the tin is occupied.
fn tin(ui: &mut Ui, form: &mut Form<'_>, at: At, method: &MethodShape, path: &Path) {
    if method.steps.iter().all(|s| s.kind != StepKindShape::Bake) {
        return;
    }
    let names = names(method);
    let usual = crate::setup::steps::tin_held(method);
    let stated = method.tin_held.is_some();
    let label = "The tin is held from the step before the bake to the first cooling";
    form.tick(ui, path, label, !stated, |file, now| {
        let held = if now { None } else { usual.clone() };
        with(file, at, |m| m.tin_held = held);
    });
    if let Some((from, to)) = &method.tin_held {
        for (i, label, now) in
            [(0, "Tin held from the start of", from), (1, "Tin held to the end of", to)]
        {
            let options: Vec<(String, bool)> =
                names.iter().map(|n| (n.clone(), n == now)).collect();
            let end = Field::new(path.index(i), label).hint(now.as_str()).width(200.0);
            form.choice(ui, &end, &options, |file, k| {
                if let Some((from, to)) = method_mut(file, at).and_then(|m| m.tin_held.as_mut()) {
                    names[k].clone_into(if i == 0 { from } else { to });
                }
            });
        }
        form.told(ui, path);
    }
}
