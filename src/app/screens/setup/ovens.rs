//! A table of ovens, of a room or of one of its units.

use eframe::egui::{Align, Grid, Layout, RichText, Ui, vec2};

use super::room::{Place, expanded};
use crate::app::looks::follow::sideways;
use crate::app::looks::form::{Field, Form, remark, steady};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::file::format::{LessonFile, OvenKindShape, OvenShape};
use crate::finding::{Path, shortened};
use crate::setup::field;
use crate::setup::rename::{Named, rename};
use crate::speech::Measure;
use crate::units::plain_number;

const KINDS: [(&str, OvenKindShape); 3] = [
    ("fan", OvenKindShape::Fan),
    ("conventional", OvenKindShape::Conventional),
    ("gas", OvenKindShape::Gas),
];

/// How a figure of an oven is read and set.
type Figure = (
    &'static str,
    &'static str,
    &'static str,
    &'static str,
    (f64, f64),
    fn(&OvenShape) -> Option<f64>,
    fn(&mut OvenShape, Option<f64>),
);

/// Key in the file, spoken name, unit, assumed, bounds, and how it is read and
/// set.
const FIGURES: [Figure; 7] = [
    (
        "shelf_mm",
        "shelf width",
        "mm",
        "420",
        (150.0, 1200.0),
        |o| o.shelf_mm.map(|s| s.0),
        |o, n| {
            o.shelf_mm = n.map(|n| (n, o.shelf_mm.map_or(360.0, |s| s.1)));
        },
    ),
    (
        "shelf_mm",
        "shelf depth",
        "mm",
        "360",
        (150.0, 1200.0),
        |o| o.shelf_mm.map(|s| s.1),
        |o, n| {
            o.shelf_mm = n.map(|n| (o.shelf_mm.map_or(420.0, |s| s.0), n));
        },
    ),
    ("clear_mm", "clear height", "mm", "120", (20.0, 600.0), |o| o.clear_mm, |o, n| o.clear_mm = n),
    ("gap_mm", "air between tins", "mm", "20", (0.0, 100.0), |o| o.gap_mm, |o, n| o.gap_mm = n),
    ("warm_up", "warm-up", "min", "15", (1.0, 90.0), |o| o.warm_up, |o, n| o.warm_up = n),
    (
        "cool_down",
        "cools 20 °C in",
        "min",
        "10",
        (0.5, 90.0),
        |o| o.cool_down,
        |o, n| o.cool_down = n,
    ),
    (
        "runs_hot",
        "hotter than its dial",
        "°C",
        "0",
        (-60.0, 60.0),
        |o| o.runs_hot,
        |o, n| o.runs_hot = n,
    ),
];

/// Height of a list of ovens to tick, in points: its lines are scrolled to beyond.
const TICKS: f32 = 58.0;
/// Width of one of them, in points.
const TICK: f32 = 136.0;

const HEADINGS: [&str; 13] = [
    "Oven",
    "How\nmany",
    "Kind",
    "Shelves",
    "Width\nmm",
    "Depth\nmm",
    "Height\nmm",
    "Tin gap\nmm",
    "Warm-up\nmin",
    "Cools 20 °C\nmin",
    "Hotter\n°C",
    "",
    "",
];

/// Shows the table, and which ovens do not work.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, place: Place, list: &[OvenShape], at: &Path) {
    if list.is_empty() {
        remark(ui, "No oven here yet: add one line for all that are alike, and say how many.");
    } else {
        let soft = Palette::of(ui.ctx()).soft;
        sideways(ui, &at.to_string(), |ui| {
            Grid::new(("ovens", at.to_string())).spacing([6.0, 4.0]).show(ui, |ui| {
                for heading in HEADINGS {
                    ui.label(RichText::new(say(heading)).color(soft));
                }
                ui.end_row();
                for (i, oven) in list.iter().enumerate() {
                    row(ui, form, place, (i, oven), &at.index(i));
                    ui.end_row();
                }
            });
        });
        form.told_of_all(at);
    }
    if !list.is_empty() {
        remark(ui, "Ovens that differ have a line each. Width and depth go together: enter both.");
    }
    let name = at.index(list.len()).field("name");
    form.add(ui, "Add ovens", "more ovens", name, |file| {
        let taken: Vec<String> = place.all_ovens(file);
        let free = |n: &String| !taken.iter().any(|t| t == n || t.starts_with(&format!("{n} ")));
        let more = (2..).map(|i| format!("Oven {}", letter(i)));
        let name = std::iter::once("Oven".to_owned()).chain(more).find(free).unwrap_or_default();
        if let Some(ovens) = place.ovens(file) {
            let like = ovens.last().cloned();
            let like = like.unwrap_or_else(plain_oven);
            let new = OvenShape { name, count: None, borrowed: false, ..like };
            ovens.push(new);
        }
    });
    out_of_order(ui, form, place, list);
    borrowed(ui, form, place, list, at);
}

/// "B" for 2.
fn letter(n: u32) -> char {
    char::from_u32('A' as u32 + (n.clamp(1, 26) - 1)).unwrap_or('Z')
}

fn plain_oven() -> OvenShape {
    OvenShape {
        name: String::new(),
        count: None,
        kind: Some(OvenKindShape::Fan),
        shelves: None,
        shelf_mm: None,
        clear_mm: None,
        gap_mm: None,
        warm_up: None,
        cool_down: None,
        runs_hot: None,
        borrowed: false,
    }
}

fn row(ui: &mut Ui, form: &mut Form<'_>, place: Place, (i, oven): (usize, &OvenShape), at: &Path) {
    let spoken = |part: &str| format!("{}, {part}", oven.name);
    let name = Field::new(at.field("name"), format!("Oven {}, name", i + 1)).width(84.0);
    form.cell(ui, &name, &oven.name, |text, file| {
        rename(file, &Named::Oven { room: place.room, unit: place.unit, oven: i }, text)
    });
    let count = Field::new(at.field("count"), spoken("how many")).hint("1").width(22.0);
    let shown = oven.count.map(|n| n.to_string()).unwrap_or_default();
    form.cell(ui, &count, &shown, |text, file| {
        let n = field::optional(text, |text| field::whole(text, (1, 60), ""))?;
        if let Some(oven) = place.ovens(file).and_then(|o| o.get_mut(i)) {
            oven.count = n.filter(|n| *n > 1);
        }
        place.forget_gone_ovens(file);
        Ok(())
    });
    let now = oven.kind.unwrap_or_default();
    let kinds = KINDS.map(|(words, kind)| (words.to_owned(), kind == now));
    let kind = Field::new(at.field("kind"), spoken("kind")).width(110.0);
    form.choose(ui, &kind, &kinds, |file, k| {
        if let Some(oven) = place.ovens(file).and_then(|o| o.get_mut(i)) {
            oven.kind = Some(KINDS[k].1);
        }
    });
    let usual = if now == OvenKindShape::Fan { "2" } else { "1" };
    let shelves = Field::new(at.field("shelves"), spoken("shelves")).hint(usual).width(22.0);
    let shown = oven.shelves.map(|n| n.to_string()).unwrap_or_default();
    form.cell(ui, &shelves, &shown, |text, file| {
        let n = field::optional(text, |text| field::whole(text, (1, 12), ""))?;
        if let Some(oven) = place.ovens(file).and_then(|o| o.get_mut(i)) {
            oven.shelves = n;
        }
        Ok(())
    });
    for (column, (key, name, unit, hint, bounds, get, set)) in FIGURES.into_iter().enumerate() {
        let shown = get(oven).map(plain_number).unwrap_or_default();
        // Width and depth are one entry of the file and two fields.
        let at = if column == 1 { at.field(key).index(1) } else { at.field(key) };
        let measure = match unit {
            "mm" => Measure::Millimetres,
            "°C" => Measure::CelsiusApart,
            _ => Measure::Plain,
        };
        let name = match measure {
            Measure::Plain => format!("{}, {unit}", spoken(name)),
            _ => spoken(name),
        };
        let figure = Field::new(at, name).measure(measure).hint(hint).width(28.0);
        form.cell(ui, &figure, &shown, |text, file| {
            let n = field::optional(text, |text| field::number(text, bounds, unit))?;
            if let Some(oven) = place.ovens(file).and_then(|o| o.get_mut(i)) {
                set(oven, n);
            }
            Ok(())
        });
    }
    let more = format!("Another like {}", oven.name);
    form.small(ui, ("+", &more), true, |file| {
        if let Some(oven) = place.ovens(file).and_then(|o| o.get_mut(i)) {
            oven.count = Some(oven.count.unwrap_or(1) + 1);
        }
    });
    let gone = format!("Take {} out", oven.name);
    form.small(ui, ("×", &gone), true, |file| {
        if let Some(ovens) = place.ovens(file) {
            ovens.remove(i);
        }
        place.forget_gone_ovens(file);
    });
}

fn borrowed(ui: &mut Ui, form: &mut Form<'_>, place: Place, list: &[OvenShape], at: &Path) {
    if list.is_empty() {
        return;
    }
    steady(ui, &format!("{at} borrowed"), TICKS, |ui| {
        ui.horizontal_wrapped(|ui| {
            ui.label(say("Borrowed, for this lesson only:"));
            for (i, oven) in list.iter().enumerate() {
                let set = |file: &mut LessonFile, now| {
                    if let Some(oven) = place.ovens(file).and_then(|all| all.get_mut(i)) {
                        oven.borrowed = now;
                    }
                };
                let words = (oven.name.as_str(), format!("{} borrowed", oven.name));
                tick(ui, form, &at.index(i).field("borrowed"), words, oven.borrowed, set);
            }
        });
    });
}

/// A box to tick as wide whatever its oven is called.
fn tick(
    ui: &mut Ui,
    form: &mut Form<'_>,
    at: &Path,
    (oven, spoken): (&str, String),
    ticked: bool,
    set: impl FnOnce(&mut LessonFile, bool),
) {
    let layout = Layout::left_to_right(Align::Center);
    ui.allocate_ui_with_layout(vec2(TICK, 22.0), layout, |ui| {
        ui.set_min_width(TICK);
        form.tick_seen(ui, at, (&shortened(oven, 14), &spoken), ticked, set);
    });
}

fn out_of_order(ui: &mut Ui, form: &mut Form<'_>, place: Place, list: &[OvenShape]) {
    let names: Vec<String> = list.iter().flat_map(expanded).collect();
    if names.is_empty() {
        return;
    }
    let out = place.room(form.file).map(|r| r.out_of_order.clone()).unwrap_or_default();
    let at = place.room_path().field("out_of_order");
    steady(ui, &format!("{at} out of order"), TICKS, |ui| {
        ui.horizontal_wrapped(|ui| {
            ui.label(say("Out of order:"));
            for name in names {
                let ticked = out.contains(&name);
                let set = |file: &mut LessonFile, now| {
                    if let Some(room) = place.room_mut(file) {
                        super::lesson::keep(&mut room.out_of_order, &name, now);
                    }
                };
                let words = (name.as_str(), format!("{name} out of order"));
                tick(ui, form, &at, words, ticked, set);
            }
        });
    });
}
