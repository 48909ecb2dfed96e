//! The tins a recipe bakes in: how many, how hot, how long.

use eframe::egui::{Button, Grid, RichText, ScrollArea, Ui};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::form::{Field, Form, fixed, remark};
use crate::app::looks::menu::staying;
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::file::format::{FullnessShape, LessonFile, RecipeShape, TinChoiceShape, TinShape};
use crate::finding::{Path, shortened};
use crate::session::LibraryShelves;
use crate::setup::even_eggs::uneven;
use crate::setup::recipe::{add_tin, remove_tin};
use crate::setup::rename::{Named, rename};
use crate::setup::{field, written};
use crate::speech::Measure;
use crate::units::{Celsius, plain_number};

/// How full a tin looks, as it is offered.
const FULL: [(&str, Option<FullnessShape>); 4] = [
    ("not said", None),
    ("a third", Some(FullnessShape::Third)),
    ("half", Some(FullnessShape::Half)),
    ("two thirds", Some(FullnessShape::TwoThirds)),
];

/// Names of a table's columns.
const HEADINGS: [&str; 9] = [
    "Called",
    "Tin",
    "How\nmany",
    "Batch\n%",
    "°C, no\nfan",
    "The same as",
    "Minutes",
    "About\nfull",
    "For",
];
/// Where a page is narrower, the fields of a tin go on in a line below, in points.
const TABLE: f32 = 920.0;

/// Where names of fields stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Names {
    /// Above their column.
    Above,
    /// Before each field.
    BesideEach,
}

fn heading_of(ui: &mut Ui, heading: &str) {
    ui.label(RichText::new(say(heading)).color(Palette::of(ui.ctx()).soft));
}

/// Shows them.
pub fn show(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (index, recipe): (usize, &RecipeShape),
    at: &Path,
    shelves: &LibraryShelves,
) {
    let all = at.field("tins");
    if recipe.tins.is_empty() {
        remark(ui, "None yet: add a tin for each way it may be baked.");
    } else {
        let row = |ui: &mut Ui, form: &mut Form<'_>, i: usize, names: Names| {
            row(ui, form, (index, i), recipe, &all.index(i), names);
        };
        if ui.available_width() < TABLE {
            for i in 0..recipe.tins.len() {
                ui.horizontal_wrapped(|ui| row(ui, form, i, Names::BesideEach));
                ui.separator();
            }
        } else {
            Grid::new(("ways", index)).spacing([5.0, 4.0]).show(ui, |ui| {
                HEADINGS.iter().for_each(|heading| heading_of(ui, heading));
                ui.end_row();
                for i in 0..recipe.tins.len() {
                    row(ui, form, i, Names::Above);
                    ui.end_row();
                }
            });
        }
        form.told_of_all(&all);
    }
    add(ui, form, index, shelves);
    if recipe.tins.is_empty() {
        return;
    }
    remark(
        ui,
        "An oven as the recipe says it: 180, 160 fan, gas 4 or 350 F. Minutes in brackets are \
         worked out, for planning only: a bake is done by its done test, never by the clock \
         alone.",
    );
    eggs(ui, form, (index, recipe));
    ui.add_space(4.0);
    remark(ui, "Minutes of other steps that differ in a tin, such as: fill 2 3 5; cool 5");
    let band = form.file.class.band;
    for (i, tin) in recipe.tins.iter().enumerate() {
        let label = tin.label.as_deref().unwrap_or(&tin.tin);
        let shown = written::step_minutes_text(&tin.step_minutes, band);
        let name = format!("Other minutes in {}", shortened(label, 40));
        let field = Field::new(all.index(i).field("step_minutes"), name)
            .seen(label)
            .hint("none")
            .width(360.0);
        form.text(ui, field, &shown, move |text, file| {
            if let Some(tin) = tin_mut(file, (index, i)) {
                tin.step_minutes = written::step_minutes(text, &tin.step_minutes, band)?;
            }
            Ok(())
        });
    }
}

/// Tins whose eggs do not come out even, and shares with which they do.
fn eggs(ui: &mut Ui, form: &mut Form<'_>, (index, recipe): (usize, &RecipeShape)) {
    for of in uneven(index, recipe) {
        ui.horizontal_wrapped(|ui| {
            remark(ui, &of.words);
            for even in &of.nearest {
                let button = ui.button(say(even.words()));
                let spoken = format!("{}: {}", even.tin, even.words());
                ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
                if button.clicked() {
                    form.make(even);
                }
            }
        });
    }
}

fn with(file: &mut LessonFile, place: (usize, usize), set: impl FnOnce(&mut TinChoiceShape)) {
    if let Some(tin) = tin_mut(file, place) {
        set(tin);
    }
}

fn tin_mut(file: &mut LessonFile, (recipe, tin): (usize, usize)) -> Option<&mut TinChoiceShape> {
    file.recipes.get_mut(recipe).and_then(|r| r.tins.get_mut(tin))
}

/// A way more, in a tin of the lesson or of the library.
pub fn add(ui: &mut Ui, form: &mut Form<'_>, index: usize, shelves: &LibraryShelves) {
    let of_lesson: Vec<String> = form.file.tins.iter().map(|t| t.name.clone()).collect();
    let missing = |t: &TinShape| !of_lesson.contains(&t.name);
    let of_library: Vec<TinShape> =
        shelves.tins().map(|(t, _)| t).filter(|t| missing(t)).cloned().collect();
    ui.menu_button(say("Add a tin"), |ui| {
        ScrollArea::vertical().max_height(320.0).follow(ui, |ui| {
            for kind in &of_lesson {
                if ui.button(say(kind)).clicked() {
                    let what = format!("in {kind} as well");
                    form.enter(Path::root(), what, |file| add_tin(file, index, kind));
                }
            }
            if !of_library.is_empty() {
                remark(ui, "From the library");
            }
            for tin in of_library {
                if ui.button(say(&tin.name)).clicked() {
                    let what = format!("in {} as well", tin.name);
                    form.enter(Path::root(), what, |file| {
                        add_tin(file, index, &tin.name);
                        file.tins.push(tin);
                    });
                }
            }
        });
        remark(ui, "Tins of your own: add them on the page Tins.");
    });
}

/// A way of baking.
pub fn row(
    ui: &mut Ui,
    form: &mut Form<'_>,
    place: (usize, usize),
    recipe: &RecipeShape,
    at: &Path,
    names: Names,
) {
    let beside = |ui: &mut Ui, column: usize| {
        if names == Names::BesideEach {
            heading_of(ui, &HEADINGS[column].replace('\n', " "));
        }
    };
    let tin = &recipe.tins[place.1];
    let label = tin.label.as_deref().unwrap_or(&tin.tin).to_owned();
    let spoken = |part: &str| format!("{label}, {part}");
    let named = Named::TinLabel { recipe: place.0, tin: place.1 };
    let name = Field::new(at.field("label"), format!("Tin {}, called", place.1 + 1)).width(136.0);
    beside(ui, 0);
    form.cell(ui, &name, &label, |text, file| rename(file, &named, text));
    let kinds: Vec<String> = form.file.tins.iter().map(|t| t.name.clone()).collect();
    let options: Vec<(String, bool)> = kinds.iter().map(|k| (k.clone(), *k == tin.tin)).collect();
    let kind = Field::new(at.field("tin"), spoken("kind")).hint(tin.tin.as_str()).width(132.0);
    beside(ui, 1);
    form.choose(ui, &kind, &options, |file, k| {
        // A name that was the tin's own goes with the tin, in the groups' lists too.
        let follows = tin_mut(file, place).is_some_and(|tin| tin.label.is_none());
        let _ = follows && rename(file, &named, &kinds[k]).is_ok();
        if let Some(tin) = tin_mut(file, place) {
            // A name of the user's stays, since groups name it so.
            let label = tin.label.take().unwrap_or_else(|| tin.tin.clone());
            tin.tin.clone_from(&kinds[k]);
            tin.label = (label != tin.tin).then_some(label);
        }
    });
    let count = Field::new(at.field("count"), spoken("how many tins")).hint("1").width(26.0);
    let shown = tin.count.map(|n| n.to_string()).unwrap_or_default();
    beside(ui, 2);
    form.cell(ui, &count, &shown, |text, file| {
        let n = field::optional(text, |t| field::whole(t, (1, 60), ""))?;
        with(file, place, |t| t.count = n);
        Ok(())
    });
    let batch =
        Field::new(at.field("batch"), spoken("share of the batch, %")).hint("100").width(38.0);
    let shown = tin.batch.map(|b| plain_number(100.0 * b)).unwrap_or_default();
    beside(ui, 3);
    form.cell(ui, &batch, &shown, |text, file| {
        let n = field::optional(text, |t| field::number(t, (5.0, 2000.0), "%"))?;
        with(file, place, |t| t.batch = n.map(|n| n / 100.0));
        Ok(())
    });
    let celsius = Field::new(at.field("celsius"), spoken("oven without a fan"))
        .measure(Measure::Celsius)
        .hint(plain_number(Celsius::BAKING.get()))
        .width(52.0);
    let shown = tin.celsius.map(plain_number).unwrap_or_default();
    beside(ui, 4);
    form.cell(ui, &celsius, &shown, |text, file| {
        let n = field::optional(text, field::oven)?;
        with(file, place, |t| t.celsius = n);
        Ok(())
    });
    beside(ui, 5);
    fixed(ui, 116.0, &field::other_settings(tin.celsius.unwrap_or(Celsius::BAKING.get())));
    beside(ui, 6);
    minutes(ui, form, place, (tin, &label), at);
    let options = FULL.map(|(words, full)| (words.to_owned(), full == tin.about_full));
    let full = Field::new(at.field("about_full"), spoken("about how full")).width(92.0);
    beside(ui, 7);
    form.choose(ui, &full, &options, |file, k| {
        with(file, place, |t| t.about_full = FULL[k].1);
    });
    beside(ui, 8);
    methods(ui, form, place, recipe, (tin, &label), at);
    buttons(ui, form, place, &label);
}

/// Bake minutes: stated, or as they are worked out.
fn minutes(
    ui: &mut Ui,
    form: &mut Form<'_>,
    place: (usize, usize),
    (tin, label): (&TinChoiceShape, &str),
    at: &Path,
) {
    let band = form.file.class.band;
    let shown = tin.minutes.map(|m| field::minutes_text(&m, band)).unwrap_or_default();
    let of_lesson =
        form.doc.lesson().and_then(|l| l.recipes.get(place.0)?.tins.get(place.1)?.minutes);
    let hint = match of_lesson {
        Some(m) if tin.minutes.is_none() => {
            let [quick, usual, slow] =
                [m.quick(), m.usual(), m.slow()].map(|m| plain_number(m.get().round()));
            format!("({quick} {usual} {slow})")
        }
        _ => "worked out".to_owned(),
    };
    let spoken = match of_lesson.filter(|_| tin.minutes.is_none()) {
        Some(_) => format!("{label}, bake minutes, worked out {hint}"),
        None => format!("{label}, bake minutes"),
    };
    let minutes = Field::new(at.field("minutes"), spoken).hint(hint).width(76.0);
    form.cell(ui, &minutes, &shown, |text, file| {
        let typed = field::optional(text, field::minutes)?;
        if let Some(tin) = tin_mut(file, place) {
            tin.minutes = typed.map(|m| field::typed_over(tin.minutes.as_ref(), band, m));
        }
        Ok(())
    });
}

/// The methods it is for, as a menu.
fn methods(
    ui: &mut Ui,
    form: &mut Form<'_>,
    place: (usize, usize),
    recipe: &RecipeShape,
    (tin, label): (&TinChoiceShape, &str),
    at: &Path,
) {
    let shown = match tin.methods.as_slice() {
        [] => "any method".to_owned(),
        some => some.join(", "),
    };
    let (menu, _) = staying(Button::new(say(shortened(&shown, 12)))).ui(ui, |ui| {
        ui.label(say(format!("{label} is for (none ticked: any method)")));
        for method in &recipe.methods {
            let mut ticked = tin.methods.contains(&method.name);
            if ui.checkbox(&mut ticked, say(&method.name)).changed() {
                let what = format!("{label}: {}", method.name);
                form.enter(at.field("methods"), what, |file| {
                    if let Some(tin) = tin_mut(file, place) {
                        super::super::lesson::keep(&mut tin.methods, &method.name, ticked);
                    }
                });
            }
        }
    });
    let said = format!("{label}, for: {shown}");
    ui.ctx().accesskit_node_builder(menu.id, |node| node.set_label(say(said)));
}

fn buttons(ui: &mut Ui, form: &mut Form<'_>, place: (usize, usize), label: &str) {
    let (recipe, i) = place;
    let up = format!("Move {} up", shortened(label, 40));
    form.small(ui, ("Up", &up), i > 0, |file| file.recipes[recipe].tins.swap(i, i - 1));
    let gone = format!("Take {} out", shortened(label, 40));
    form.small(ui, ("×", &gone), true, |file| remove_tin(file, recipe, i));
}
