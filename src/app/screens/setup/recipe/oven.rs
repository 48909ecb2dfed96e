//! How a recipe wants its oven treated.

use eframe::egui::Ui;

use super::step::ADULTS;
use crate::app::looks::form::{Field, Form};
use crate::file::format::{BakeShape, LessonFile, RecipeShape, StatedMinutes};
use crate::finding::Path;
use crate::setup::field;
use crate::speech::Measure;
use crate::units::plain_number;

/// Key, name, unit, assumed, bounds, share of the file's figure, and how it is
/// read and set.
type Figure = (
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    (f64, f64),
    f64,
    fn(&BakeShape) -> Option<f64>,
    fn(&mut BakeShape, Option<f64>),
);

const FIGURES: [Figure; 4] = [
    (
        "shut",
        "Door stays shut",
        "min after loading",
        "may be opened",
        (0.0, 240.0),
        1.0,
        |b| b.shut,
        |b, n| b.shut = n,
    ),
    (
        "shut_share",
        "but no longer than",
        "% of the bake",
        "75",
        (0.0, 100.0),
        100.0,
        |b| b.shut_share,
        |b, n| b.shut_share = n,
    ),
    (
        "tolerance",
        "Bakes well within",
        "°C of its temperature",
        "5",
        (0.0, 50.0),
        1.0,
        |b| b.tolerance,
        |b, n| b.tolerance = n,
    ),
    (
        "fill_limit",
        "Raw mixture fills at most",
        "% of a tin",
        "67",
        (5.0, 120.0),
        100.0,
        |b| b.fill_limit,
        |b, n| b.fill_limit = n,
    ),
];

/// How minutes at the oven are read and set.
type Minutes = (
    &'static str,
    &'static str,
    fn(&BakeShape) -> Option<StatedMinutes>,
    fn(&mut BakeShape, Option<StatedMinutes>),
);

const MINUTES: [Minutes; 2] = [
    ("load", "Loading", |b| b.load, |b, m| b.load = m),
    ("take_out", "Testing and taking out", |b| b.take_out, |b, m| b.take_out = m),
];

fn bake_mut(file: &mut LessonFile, recipe: usize) -> Option<&mut BakeShape> {
    file.recipes.get_mut(recipe).map(|r| &mut r.bake)
}

/// Shows it.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, (index, recipe): (usize, &RecipeShape), at: &Path) {
    for (key, name, unit, hint, bounds, scale, get, set) in FIGURES {
        let shown = get(&recipe.bake).map(|n| plain_number(n * scale)).unwrap_or_default();
        let apart = unit.starts_with("°C");
        let measure = if apart { Measure::CelsiusApart } else { Measure::Plain };
        let figure =
            Field::new(at.field(key), name).measure(measure).unit(unit).hint(hint).width(110.0);
        form.text(ui, figure, &shown, move |text, file| {
            let n = field::optional(text, |text| field::number(text, bounds, unit))?;
            if let Some(bake) = bake_mut(file, index) {
                set(bake, n.map(|n| n / scale));
            }
            Ok(())
        });
    }
    let band = form.file.class.band;
    for (key, name, get, set) in MINUTES {
        let shown = get(&recipe.bake).map(|m| field::minutes_text(&m, band)).unwrap_or_default();
        let minutes = Field::new(at.field(key), name).unit("min").hint("0.5 1 2").width(110.0);
        form.text(ui, minutes, &shown, move |text, file| {
            let typed = field::optional(text, field::minutes)?;
            if let Some(bake) = bake_mut(file, index) {
                let before = get(bake);
                set(bake, typed.map(|m| field::typed_over(before.as_ref(), band, m)));
            }
            Ok(())
        });
    }
    let options = ADULTS.map(|(words, need)| (words.to_owned(), need == recipe.bake.adult));
    let adult = Field::new(at.field("adult"), "Adults at loading and taking out")
        .seen("At the oven")
        .width(150.0);
    form.choice(ui, &adult, &options, |file, k| {
        if let Some(bake) = bake_mut(file, index) {
            bake.adult = ADULTS[k].1;
        }
    });
}
