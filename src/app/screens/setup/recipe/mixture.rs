//! What goes in, with baker's percentages and how it is balanced.

use eframe::egui::{Grid, RichText, Ui};

use crate::app::looks::follow::sideways;
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form, remark, steady};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::file::format::{IngredientShape, LessonFile, MeasureShape, RecipeShape, RoleShape};
use crate::finding::Path;
use crate::setup::balance::{HowUsual, SOURCE, figure, weigh};
use crate::setup::roles::role_after;
use crate::setup::{field, written};
use crate::speech::Measure;
use crate::units::plain_number;

const MEASURES: [(&str, MeasureShape); 10] = [
    ("g", MeasureShape::Gram),
    ("kg", MeasureShape::Kilogram),
    ("ml", MeasureShape::Millilitre),
    ("l", MeasureShape::Litre),
    ("tsp", MeasureShape::Teaspoon),
    ("tbsp", MeasureShape::Tablespoon),
    ("eggs", MeasureShape::Egg),
    ("oz", MeasureShape::Ounce),
    ("lb", MeasureShape::Pound),
    ("US cups", MeasureShape::UsCup),
];

const ROLES: [(&str, RoleShape); 8] = [
    ("flour", RoleShape::Flour),
    ("fat", RoleShape::Fat),
    ("sugar", RoleShape::Sugar),
    ("syrup", RoleShape::Syrup),
    ("egg", RoleShape::Egg),
    ("liquid", RoleShape::Liquid),
    ("raising", RoleShape::Raising),
    ("other", RoleShape::Other),
];

/// Height of what is told of the balance, in points.
const BALANCE: f32 = 150.0;

/// Shows it.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, (index, recipe): (usize, &RecipeShape), at: &Path) {
    let weighed = weigh(&recipe.ingredients, None);
    let all = at.field("ingredients");
    if recipe.ingredients.is_empty() {
        remark(
            ui,
            "Nothing yet. A recipe can be planned without; with it, percentages, balance \
                    and how full a tin is can be told.",
        );
    } else {
        let soft = Palette::of(ui.ctx()).soft;
        sideways(ui, &all.to_string(), |ui| {
            Grid::new(("ingredients", index)).spacing([6.0, 4.0]).show(ui, |ui| {
                for heading in [
                    "Ingredient",
                    "Amount",
                    "",
                    "Counts as",
                    "% of flour",
                    "Allergens on the label",
                    "",
                ] {
                    ui.label(RichText::new(say(heading)).color(soft));
                }
                ui.end_row();
                for (i, ingredient) in recipe.ingredients.iter().enumerate() {
                    let percent = weighed.rows.get(i).and_then(|r| r.percent);
                    row(ui, form, (index, i), ingredient, percent, &all.index(i));
                    ui.end_row();
                }
            });
        });
        form.told_of_all(&all);
    }
    let name = all.index(recipe.ingredients.len()).field("name");
    form.add(ui, "Add an ingredient", "another ingredient", name, |file| {
        file.recipes[index].ingredients.push(IngredientShape {
            name: format!("ingredient {}", recipe.ingredients.len() + 1),
            amount: 100.0,
            unit: None,
            role: None,
            allergens: None,
        });
    });
    if !recipe.ingredients.is_empty() {
        remark(
            ui,
            "Allergens: copy them from the label, and write none only where it names none. They \
             are noted, not compared with any group's needs.",
        );
    }
    ui.add_space(4.0);
    let balance = |ui: &mut Ui| {
        let sentence = RichText::new(say(&weighed.sentence)).font(fonts::bold(15.0));
        ui.add(eframe::egui::Label::new(sentence).wrap());
        for rule in &weighed.rules {
            let mark = match rule.standing {
                HowUsual::Usual => "As usual:",
                HowUsual::Unusual => "Not usual:",
                HowUsual::Note => "Note:",
            };
            remark(ui, &format!("{mark} {}.", rule.words));
        }
        if !weighed.rules.is_empty() {
            remark(ui, &format!("From {SOURCE}; nothing here is forbidden."));
        }
    };
    match recipe.ingredients.is_empty() {
        true => balance(ui),
        false => steady(ui, "balance", BALANCE, balance),
    }
    let shown = recipe.batter_ml.map(plain_number).unwrap_or_default();
    let batter = Field::new(at.field("batter_ml"), "Raw mixture of one batch")
        .measure(Measure::Millilitres)
        .unit("ml")
        .hint("by weight")
        .width(80.0);
    form.text(ui, batter, &shown, move |text, file| {
        let ml = field::optional(text, |text| field::number(text, (1.0, 50_000.0), "ml"))?;
        file.recipes[index].batter_ml = ml;
        Ok(())
    });
}

fn with(
    file: &mut LessonFile,
    (recipe, i): (usize, usize),
    set: impl FnOnce(&mut IngredientShape),
) {
    if let Some(of) = file.recipes.get_mut(recipe).and_then(|r| r.ingredients.get_mut(i)) {
        set(of);
    }
}

/// Name, amount and measure of an ingredient.
pub fn amount(
    ui: &mut Ui,
    form: &mut Form<'_>,
    place: (usize, usize),
    ingredient: &IngredientShape,
    at: &Path,
) {
    let number = place.1 + 1;
    let spoken = |part: &str| format!("{}, {part}", ingredient.name);
    let name = Field::new(at.field("name"), format!("Ingredient {number}, name")).width(190.0);
    form.cell(ui, &name, &ingredient.name, |text, file| {
        let text = field::name(text)?;
        with(file, place, |i| {
            // The label was another ingredient's.
            if i.name != text {
                i.allergens = None;
            }
            i.role = role_after(&i.name, i.role, &text);
            i.name = text;
        });
        Ok(())
    });
    let measure = ingredient.unit.unwrap_or(MeasureShape::Gram);
    let unit = MEASURES.iter().find(|(_, m)| *m == measure).map_or("g", |(words, _)| words);
    let amount = Field::new(at.field("amount"), spoken(&format!("amount, {unit}")));
    // Nought is an amount that nobody stated.
    let is_known = ingredient.amount != 0.0;
    let shown = if is_known { plain_number(ingredient.amount) } else { String::new() };
    form.cell(ui, &amount.hint("amount").width(66.0), &shown, |text, file| {
        let n = field::number(text, (0.01, 100_000.0), unit)?;
        with(file, place, |i| i.amount = n);
        Ok(())
    });
    let options = MEASURES.map(|(words, m)| (words.to_owned(), m == measure));
    let unit = Field::new(at.field("unit"), spoken("measure")).width(76.0);
    form.choose(ui, &unit, &options, |file, k| {
        let measure = MEASURES[k].1;
        let unit = (measure != MeasureShape::Gram).then_some(measure);
        with(file, place, |i| i.unit = unit);
    });
}

/// What an ingredient does in the mixture.
pub fn role(
    ui: &mut Ui,
    form: &mut Form<'_>,
    place: (usize, usize),
    ingredient: &IngredientShape,
    at: &Path,
) {
    let now = ingredient.role.unwrap_or(RoleShape::Other);
    let options = ROLES.map(|(words, role)| (words.to_owned(), role == now));
    let spoken = format!("{}, part in the mixture", ingredient.name);
    let role = Field::new(at.field("role"), spoken).width(80.0);
    form.choose(ui, &role, &options, |file, k| {
        let role = (ROLES[k].1 != RoleShape::Other).then_some(ROLES[k].1);
        with(file, place, |i| i.role = role);
    });
}

fn row(
    ui: &mut Ui,
    form: &mut Form<'_>,
    place: (usize, usize),
    ingredient: &IngredientShape,
    percent: Option<f64>,
    at: &Path,
) {
    amount(ui, form, place, ingredient, at);
    role(ui, form, place, ingredient, at);
    let spoken = |part: &str| format!("{}, {part}", ingredient.name);
    let words = percent.map_or_else(|| "–".to_owned(), |p| format!("{} %", figure(p)));
    ui.label(say(words));
    let shown = written::allergens_text(&ingredient.allergens);
    let allergens = Field::new(at.field("allergens"), spoken("allergens on the label"))
        .hint("not looked up")
        .width(170.0);
    form.cell(ui, &allergens, &shown, |text, file| {
        let read = written::allergens(text)?;
        with(file, place, |i| i.allergens = read);
        Ok(())
    });
    let label = format!("Take {} out", ingredient.name);
    form.small(ui, ("×", &label), true, |file| {
        file.recipes[place.0].ingredients.remove(place.1);
    });
}
