//! A table of counted kit, of a room or of one of its units.

use eframe::egui::{Grid, RichText, Ui};

use super::room::Place;
use crate::app::looks::form::{Field, Form, fixed, remark};
use crate::app::looks::say::{self, say};
use crate::app::looks::theme::Palette;
use crate::file::format::{Entries, KitCount, LessonFile};
use crate::file::touches_food_by_name;
use crate::finding::Path;
use crate::setup::rename::{Named, rename};
use crate::setup::{field, usual_kit};
use crate::view::words::{list, plural};

/// Whose kit it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// A room's or a unit's.
    Place(Place),
    /// The rooms share it.
    Shared,
}

impl Whose {
    fn kit(self, file: &mut LessonFile) -> Option<&mut Entries<KitCount>> {
        match self {
            Whose::Place(place) => place.kit(file),
            Whose::Shared => Some(&mut file.shared_kit),
        }
    }
}

/// Kit that recipes of the trade ask for.
const USUAL: [&str; 8] =
    ["ring", "sink", "basin", "scales", "electric whisk", "bowl", "rack place", "grater"];

/// Shows the table.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, place: Whose, kit: &Entries<KitCount>, at: &Path) {
    if kit.0.is_empty() {
        remark(
            ui,
            "None yet. Add what the recipes use: a step cannot use kit that no room counts.",
        );
    } else {
        let soft = Palette::of(ui.ctx()).soft;
        Grid::new(("kit", at.to_string())).spacing([8.0, 4.0]).show(ui, |ui| {
            for heading in ["Kit", "How many", "Borrowed", "Out of order", "", "", ""] {
                ui.label(RichText::new(say(heading)).color(soft));
            }
            ui.end_row();
            for (i, (name, count)) in kit.0.iter().enumerate() {
                row(ui, form, place, (i, name, *count), at);
                ui.end_row();
            }
        });
        form.told_of_all(at);
    }
    ui.horizontal_wrapped(|ui| {
        let wanted = wanted(form.file);
        let missing = wanted.into_iter().filter(|w| kit.0.iter().all(|(name, _)| name != w));
        for name in missing {
            let label = format!("Add {name}");
            form.button(ui, &label, &label, |file| add(file, place, &name));
        }
        form.add(ui, "Add other kit", "more kit", at.index(kit.0.len()), |file| {
            let taken: Vec<String> = place
                .kit(file)
                .map(|k| k.0.iter().map(|(n, _)| n.clone()).collect())
                .unwrap_or_default();
            let name = (1..).map(|i| format!("kit {i}")).find(|n| !taken.contains(n));
            add(file, place, &name.unwrap_or_default());
        });
    });
}

fn add(file: &mut LessonFile, place: Whose, name: &str) {
    changed(file, |file| {
        if let Some(kit) = place.kit(file) {
            kit.0.push((name.to_owned(), KitCount::of(1)));
        }
    });
}

/// Changes what there is; steps that usually use what is new get it.
fn changed<T>(file: &mut LessonFile, change: impl FnOnce(&mut LessonFile) -> T) -> T {
    let before = usual_kit::counted(file);
    let made = change(file);
    usual_kit::give_new(file, &before);
    made
}

/// What the recipes of the lesson ask for or usually use; the usual kit if that
/// is none.
fn wanted(file: &LessonFile) -> Vec<String> {
    let mut names = wanted_by_recipes(file);
    names.extend(usual_kit::wanting(file).iter().map(|w| say::name(&w.kit)));
    if names.is_empty() { USUAL.map(say::name).to_vec() } else { names }
}

/// "8 scales: no step uses them".
fn use_of(file: &LessonFile, name: &str, kit: KitCount) -> String {
    let (users, count) = (usual_kit::users(file, name), kit.count + kit.borrowed);
    match (users.as_slice(), count) {
        ([], 1) => format!("1 {name}: no step uses it"),
        ([], n) => format!("{n} {}: no step uses them", plural(2, name)),
        (some, _) => format!("{name}: used to {}", list(some)),
    }
}

fn wanted_by_recipes(file: &LessonFile) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for method in file.recipes.iter().flat_map(|r| &r.methods) {
        let used = method.steps.iter().flat_map(|s| s.kit.0.iter().map(|(name, _)| name));
        for name in used.chain(method.holds.iter().map(|h| &h.kit)) {
            if !names.contains(name) {
                names.push(name.clone());
            }
        }
    }
    names
}

fn row(
    ui: &mut Ui,
    form: &mut Form<'_>,
    place: Whose,
    (i, name, kit): (usize, &str, KitCount),
    at: &Path,
) {
    let spoken = |part: &str| format!("{name}, {part}");
    let entry = at.key(name);
    let named = Field::new(at.index(i), format!("Kit {}, name", i + 1)).width(150.0);
    form.cell(ui, &named, name, |text, file| {
        let is_used = wanted_by_recipes(file).iter().any(|w| w == name);
        if is_used {
            return rename(file, &Named::Kit(name.to_owned()), text);
        }
        let name = field::name(text)?;
        changed(file, |file| {
            let Some(kit) = place.kit(file) else { return Ok(()) };
            if kit.0.iter().enumerate().any(|(j, (n, _))| j != i && *n == name) {
                return Err(format!("{name} is there already"));
            }
            if let Some(entry) = kit.0.get_mut(i) {
                entry.0 = name;
            }
            Ok(())
        })
    });
    let count = Field::new(entry.field("count"), spoken("how many")).width(50.0);
    form.cell(ui, &count, &kit.count.to_string(), |text, file| {
        let n = field::whole(text, (0, 500), "")?;
        changed(file, |file| {
            if let Some(entry) = place.kit(file).and_then(|k| k.0.get_mut(i)) {
                entry.1.count = n;
                entry.1.out_of_order = entry.1.out_of_order.min(n + entry.1.borrowed);
            }
        });
        Ok(())
    });
    let borrowed =
        Field::new(entry.field("borrowed"), spoken("borrowed for this lesson")).width(50.0);
    form.cell(ui, &borrowed, &kit.borrowed.to_string(), |text, file| {
        let n = field::whole(text, (0, 500), "")?;
        if let Some(entry) = place.kit(file).and_then(|k| k.0.get_mut(i)) {
            entry.1.borrowed = n;
            entry.1.out_of_order = entry.1.out_of_order.min(entry.1.count + n);
        }
        Ok(())
    });
    let broken = Field::new(entry.field("out_of_order"), spoken("out of order")).width(50.0);
    form.cell(ui, &broken, &kit.out_of_order.to_string(), |text, file| {
        let n = field::whole(text, (0, (kit.count + kit.borrowed).max(0)), "")?;
        if let Some(entry) = place.kit(file).and_then(|k| k.0.get_mut(i)) {
            entry.1.out_of_order = n;
        }
        Ok(())
    });
    let label = format!("{name} touches food");
    let by_name = touches_food_by_name(name);
    let ticked = kit.touches_food.unwrap_or(by_name);
    let label = ("touches food", label.as_str());
    form.tick_seen(ui, &entry.field("touches_food"), label, ticked, |file, now| {
        if let Some(entry) = place.kit(file).and_then(|k| k.0.get_mut(i)) {
            entry.1.touches_food = (now != by_name).then_some(now);
        }
    });
    if !form.file.recipes.is_empty() {
        fixed(ui, 210.0, &use_of(form.file, name, kit));
    }
    let gone = format!("Take {name} out");
    form.small(ui, ("×", &gone), true, |file| {
        if let Some(kit) = place.kit(file) {
            kit.0.remove(i);
        }
    });
}
