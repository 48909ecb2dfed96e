//! Kinds of tins: their measures.

use crate::session::Command as LessonCommand;
use eframe::egui::{Grid, RichText, Ui};

use crate::app::looks::follow::sideways;
use crate::app::looks::form::{Field, Form, measures, page_title, part, remark};
use crate::app::looks::say::{english, say};
use crate::app::looks::theme::Palette;
use crate::file::format::{FormShape, LessonFile, TinShape};
use crate::finding::Path;
use crate::session::{LibraryShelves, ToKeep};
use crate::setup::field;
use crate::setup::rename::{Named, rename};
use crate::speech::Measure;
use crate::units::plain_number;

/// Shows the page.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, shelves: &LibraryShelves) {
    page_title(
        ui,
        "Tins",
        "Tins are not standardised: measure your own. The rim decides how many go on a shelf, the \
         inner size how deep the mixture lies.",
    );
    measures(ui);
    let all = Path::root().field("tins");
    part(ui, "Kinds of tins", |ui| {
        let list = form.file.tins.clone();
        if list.is_empty() {
            remark(ui, "None yet: a recipe brings its own, or take one from the library below.");
        } else {
            let soft = Palette::of(ui.ctx()).soft;
            let brim = format!("To the brim\n{}", Measure::Millilitres.unit(english()));
            sideways(ui, "tins", |ui| {
                Grid::new("tins").spacing([6.0, 4.0]).show(ui, |ui| {
                    for heading in [
                        "Kind",
                        "Inside",
                        "Inner size, mm",
                        "Rim\nmm",
                        "by\nmm",
                        "High\nmm",
                        brim.as_str(),
                        "",
                        "",
                    ] {
                        ui.label(RichText::new(say(heading)).color(soft));
                    }
                    ui.end_row();
                    for (i, tin) in list.iter().enumerate() {
                        row(ui, form, (i, tin), &all.index(i));
                        ui.end_row();
                    }
                });
            });
        }
        form.told_of_all(&all);
    });
    part(ui, "From the library", |ui| {
        ui.horizontal_wrapped(|ui| {
            let missing = |t: &&TinShape| form.file.tins.iter().all(|o| o.name != t.name);
            let more: Vec<TinShape> =
                shelves.tins().map(|(t, _)| t).filter(missing).cloned().collect();
            for tin in more {
                let label = format!("Add {}", tin.name);
                form.button(ui, &label, &label, |file| file.tins.push(tin));
            }
            let own = Path::root().field("tins").index(form.file.tins.len()).field("name");
            form.add(ui, "Add a tin of your own", "a kind of tin", own, |file| {
                let taken = |n: &String| file.tins.iter().any(|t| t.name == *n);
                let name = (1..).map(|i| format!("own tin {i}")).find(|n| !taken(n));
                file.tins.push(TinShape {
                    name: name.unwrap_or_default(),
                    form: Some(FormShape::Rect { long_mm: 200.0, wide_mm: 200.0 }),
                    rim_mm: (215.0, 215.0),
                    height_mm: 50.0,
                    capacity_ml: None,
                });
            });
        });
    });
}

/// Key in the file, spoken name, value, and how it is set.
type Side = (&'static str, &'static str, f64, fn(&mut TinShape, f64));

fn tin_mut(file: &mut LessonFile, index: usize) -> Option<&mut TinShape> {
    file.tins.get_mut(index)
}

fn row(ui: &mut Ui, form: &mut Form<'_>, (i, tin): (usize, &TinShape), at: &Path) {
    let spoken = |part: &str| format!("{}, {part}", tin.name);
    let name = Field::new(at.field("name"), format!("Tin {}, name", i + 1)).width(170.0);
    form.cell(ui, &name, &tin.name, |text, file| rename(file, &Named::TinKind(i), text));
    let shapes = [
        ("round", matches!(tin.form, Some(FormShape::Round { .. }))),
        ("square, oblong", matches!(tin.form, Some(FormShape::Rect { .. }))),
        ("tray of holes", matches!(tin.form, Some(FormShape::Holes { .. }))),
        ("flat sheet", matches!(tin.form, Some(FormShape::Sheet))),
        ("not said", tin.form.is_none()),
    ]
    .map(|(words, is)| (words.to_owned(), is));
    let shape = Field::new(at.field("form"), spoken("inside")).width(146.0);
    form.choose(ui, &shape, &shapes, |file, k| {
        if let Some(tin) = tin_mut(file, i) {
            let (long_mm, wide_mm) = (tin.rim_mm.0 - 15.0, tin.rim_mm.1 - 15.0);
            tin.form = match k {
                0 => Some(FormShape::Round { across_mm: wide_mm.max(20.0) }),
                1 => {
                    Some(FormShape::Rect { long_mm: long_mm.max(20.0), wide_mm: wide_mm.max(20.0) })
                }
                2 => Some(FormShape::Holes { count: 12, across_mm: 60.0 }),
                3 => Some(FormShape::Sheet),
                _ => None,
            };
        }
    });
    inner(ui, form, (i, tin), at);
    let sides: [Side; 3] = [
        ("rim_mm", "rim length", tin.rim_mm.0, |t, n| t.rim_mm.0 = n),
        ("rim_mm", "rim width", tin.rim_mm.1, |t, n| t.rim_mm.1 = n),
        ("height_mm", "height", tin.height_mm, |t, n| t.height_mm = n),
    ];
    for (column, (key, what, value, set)) in sides.into_iter().enumerate() {
        let at = if column == 1 { at.field(key).index(1) } else { at.field(key) };
        let field = Field::new(at, spoken(what)).measure(Measure::Millimetres).width(32.0);
        form.cell(ui, &field, &plain_number(value), |text, file| {
            let n = field::number(text, (5.0, 1200.0), "mm")?;
            if let Some(tin) = tin_mut(file, i) {
                set(tin, n);
            }
            Ok(())
        });
    }
    let brim = Field::new(at.field("capacity_ml"), spoken("holds to the brim"))
        .measure(Measure::Millilitres)
        .hint("worked out")
        .width(64.0);
    let shown = tin.capacity_ml.map(plain_number).unwrap_or_default();
    form.cell(ui, &brim, &shown, |text, file| {
        let n = field::optional(text, |text| field::number(text, (5.0, 50_000.0), "ml"))?;
        if let Some(tin) = tin_mut(file, i) {
            tin.capacity_ml = n;
        }
        Ok(())
    });
    let kept = format!("Keep {} in my library", tin.name);
    let button = ui.button(say("Keep"));
    ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(kept.as_str())));
    if button.on_hover_text(say(&kept)).clicked() {
        form.out.push(LessonCommand::KeepInLibrary(ToKeep::Tin(i)));
    }
    let gone = format!("Take {} out", tin.name);
    let used = form.file.recipes.iter().flat_map(|r| &r.tins).any(|t| t.tin == tin.name);
    form.small(ui, ("×", &gone), !used, |file| {
        let gone = file.tins.remove(i).name;
        for room in file.rooms_mut() {
            room.tins.0.retain(|(name, _)| *name != gone);
        }
    });
}

/// The inner size, as its shape has it.
fn inner(ui: &mut Ui, form: &mut Form<'_>, (i, tin): (usize, &TinShape), at: &Path) {
    let at = at.field("form");
    ui.horizontal(|ui| {
        let mut size = |ui: &mut Ui, key: &str, value: f64, set: fn(&mut FormShape, f64)| {
            let name = format!("{}, inner {key}", tin.name);
            let counts = key == "holes";
            let measure = if counts { Measure::Plain } else { Measure::Millimetres };
            let field = Field::new(at.field(key), name).measure(measure).width(32.0);
            form.cell(ui, &field, &plain_number(value), |text, file| {
                let n = field::number(text, (5.0, 1200.0), "mm")?;
                if let Some(form) = tin_mut(file, i).and_then(|t| t.form.as_mut()) {
                    set(form, n);
                }
                Ok(())
            });
        };
        match tin.form {
            Some(FormShape::Round { across_mm }) => {
                size(ui, "across", across_mm, |f, n| *f = FormShape::Round { across_mm: n });
            }
            Some(FormShape::Rect { long_mm, wide_mm }) => {
                size(ui, "length", long_mm, |f, n| {
                    if let FormShape::Rect { long_mm, .. } = f {
                        *long_mm = n;
                    }
                });
                ui.label(say("by"));
                size(ui, "width", wide_mm, |f, n| {
                    if let FormShape::Rect { wide_mm, .. } = f {
                        *wide_mm = n;
                    }
                });
            }
            Some(FormShape::Holes { count, across_mm }) => {
                #[allow(clippy::cast_precision_loss)] // a tray has few holes
                size(ui, "holes", count as f64, |f, n| {
                    #[allow(clippy::cast_possible_truncation)] // bounded above
                    if let FormShape::Holes { count, .. } = f {
                        *count = n.round() as i64;
                    }
                });
                ui.label(say("of"));
                size(ui, "across", across_mm, |f, n| {
                    if let FormShape::Holes { across_mm, .. } = f {
                        *across_mm = n;
                    }
                });
            }
            Some(FormShape::Sheet) | None => {
                ui.label("");
            }
        }
    });
}
