//! The card of one step: hands, kit, adults, waits, words.

use eframe::egui::{self, RichText, Ui};

use super::steps::step_mut;
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::file::format::{AdultShapeNeed, MethodShape, StepKindShape, StepShape};
use crate::finding::Path;
use crate::setup::steps::{Arrow, At, arrows, set_gap};
use crate::setup::{field, suggest, written};
use crate::speech::Measure;
use crate::units::plain_number;

/// What a step may ask of the adults.
pub const ADULTS: [(&str, AdultShapeNeed); 3] = [
    ("no adult", AdultShapeNeed::None),
    ("an adult in the room", AdultShapeNeed::Near),
    ("an adult with it", AdultShapeNeed::With),
];

/// Shows it.
pub fn show(
    ui: &mut Ui,
    form: &mut Form<'_>,
    at: At,
    (i, method): (usize, &MethodShape),
    path: &Path,
) {
    let step = &method.steps[i];
    let palette = Palette::of(ui.ctx());
    egui::Frame::new()
        .stroke(egui::Stroke::new(1.0, palette.edge))
        .corner_radius(6)
        .inner_margin(egui::Margin::symmetric(10, 8))
        .show(ui, |ui| {
            ui.set_width(ui.available_width());
            ui.label(RichText::new(say(&step.name)).font(fonts::bold(15.0)));
            hands(ui, form, at, (i, step), path);
            outside(ui, form, at, (i, step), path);
            words(ui, form, at, (i, step), path);
            for arrow in arrows(method).into_iter().filter(|a| a.from == i) {
                wait(ui, form, at, method, arrow);
            }
            form.told_of_all(path);
        });
}

fn hands(ui: &mut Ui, form: &mut Form<'_>, at: At, (i, step): (usize, &StepShape), path: &Path) {
    let spoken = |part: &str| format!("{}, {part}", step.name);
    if matches!(step.kind, StepKindShape::Hand | StepKindShape::Bake) {
        let shown = match (step.everyone, step.pupils) {
            (true, _) => "all".to_owned(),
            (false, Some(n)) => n.to_string(),
            (false, None) => String::new(),
        };
        let pupils = Field::new(path.field("pupils"), spoken("pupils"))
            .seen("Pupils")
            .unit("of the group, or all")
            .hint("1")
            .width(50.0);
        form.text(ui, pupils, &shown, move |text, file| {
            let all = text.trim().eq_ignore_ascii_case("all");
            let n =
                if all { None } else { field::optional(text, |t| field::whole(t, (0, 60), ""))? };
            if let Some(step) = step_mut(file, at, i) {
                (step.everyone, step.pupils) = (all, n);
            }
            Ok(())
        });
    }
    if step.kind == StepKindShape::Cool && step.minutes.is_none() {
        let shown = step.cool_to.map(plain_number).unwrap_or_default();
        let to = Field::new(path.field("cool_to"), spoken("cools until the middle is at"))
            .seen("Cools until at")
            .measure(Measure::Celsius)
            .unit("°C")
            .hint("45")
            .width(50.0);
        form.text(ui, to, &shown, move |text, file| {
            let n = field::optional(text, |t| field::number(t, (22.0, 90.0), "°C"))?;
            if let Some(step) = step_mut(file, at, i) {
                step.cool_to = n;
            }
            Ok(())
        });
    }
    let kit = Field::new(path.field("kit"), spoken("kit in use"))
        .seen("Kit in use")
        .hint("such as: scales 1, ring 2")
        .width(300.0);
    let there = suggest::kit_of(form.file);
    form.text(ui, kit, &written::kit_text(&step.kit), move |text, file| {
        let kit = written::kit(text)?;
        if let Some((name, _)) = kit.0.iter().find(|(name, _)| !there.contains(name)) {
            let all = if there.is_empty() { "none yet".to_owned() } else { there.join(", ") };
            return Err(format!("no room here has {name}; there is: {all}"));
        }
        if let Some(step) = step_mut(file, at, i) {
            step.kit = kit;
        }
        Ok(())
    });
    let options = ADULTS.map(|(words, need)| (words.to_owned(), need == step.adult));
    let adult = Field::new(path.field("adult"), spoken("adult")).seen("Adult").width(150.0);
    form.choice(ui, &adult, &options, |file, k| {
        if let Some(step) = step_mut(file, at, i) {
            step.adult = ADULTS[k].1;
        }
    });
}

fn outside(ui: &mut Ui, form: &mut Form<'_>, at: At, (i, step): (usize, &StepShape), path: &Path) {
    if step.kind == StepKindShape::Bake {
        return;
    }
    ui.horizontal_wrapped(|ui| {
        let label = format!("{} may be done before the lesson", step.name);
        let now = step.may_be_beforehand;
        form.tick(ui, &path.field("may_be_beforehand"), &label, now, |file, now| {
            if let Some(step) = step_mut(file, at, i) {
                step.may_be_beforehand = now;
            }
        });
        let label = format!("{} may be done after it", step.name);
        let now = step.may_be_collected;
        form.tick(ui, &path.field("may_be_collected"), &label, now, |file, now| {
            if let Some(step) = step_mut(file, at, i) {
                step.may_be_collected = now;
            }
        });
    });
}

fn words(ui: &mut Ui, form: &mut Form<'_>, at: At, (i, step): (usize, &StepShape), path: &Path) {
    type Of = fn(&mut StepShape) -> &mut String;
    let mut all: Vec<(&str, &str, &str, Of)> = vec![
        ("words", "more of it", &step.words, |s| &mut s.words),
        ("pupil_words", "words for pupils", &step.pupil_words, |s| &mut s.pupil_words),
    ];
    if step.kind == StepKindShape::Bake || !step.done_when.is_empty() {
        all.push(("done_when", "done when", &step.done_when, |s| &mut s.done_when));
    }
    for (key, label, value, of) in all {
        let name = format!("{}, {label}", step.name);
        let seen = crate::view::words::capital(label);
        let words = Field::new(path.field(key), name).seen(seen).hint("nothing").width(480.0);
        form.text(ui, words, value, move |text, file| {
            let text = field::line(text)?;
            if let Some(step) = step_mut(file, at, i) {
                *of(step) = text;
            }
            Ok(())
        });
    }
    let name = format!("{}, words in other languages", step.name);
    let home = Field::new(path.field("home"), name)
        .seen("Words in other languages")
        .hint("such as: pl: Ubij. | cy: Curwch.")
        .width(480.0);
    form.text(ui, home, &written::home_text(&step.home), move |text, file| {
        let home = written::home(text)?;
        if let Some(step) = step_mut(file, at, i) {
            step.home = home;
        }
        Ok(())
    });
}

/// How long what comes after may wait.
fn wait(ui: &mut Ui, form: &mut Form<'_>, at: At, method: &MethodShape, arrow: Arrow) {
    let (from, to) = (&method.steps[arrow.from].name, &method.steps[arrow.to].name);
    let path = Path::root().field("recipes").index(at.recipe).field("methods").index(at.method);
    let link = method.links.iter().position(|l| l.from == *from && l.to == *to);
    // One that is not there yet has its place all the same.
    let place = path.field("links").index(link.unwrap_or(method.links.len()));
    for (key, label, hint, longest) in [
        ("longest", "waits no longer than", "for ever", true),
        ("least", "waits at least", "0", false),
    ] {
        let now = if longest { arrow.longest } else { arrow.least };
        let name = format!("{to} after {from} {label}");
        let field_at = place.field(key).index(arrow.to);
        let gap = Field::new(field_at.clone(), name).unit("min").hint(hint).width(64.0);
        let shown = now.map(plain_number).unwrap_or_default();
        ui.horizontal_wrapped(|ui| {
            ui.label(say(format!("{to} {label}")));
            form.cell(ui, &gap, &shown, move |text, file| {
                let n = field::optional(text, |t| field::number(t, (0.0, 1440.0), "min"))?;
                let both = if longest { (arrow.least, n) } else { (n, arrow.longest) };
                set_gap(file, at, (arrow.from, arrow.to), both)
            });
        });
        form.told(ui, &field_at);
    }
}
