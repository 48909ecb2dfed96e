//! Title, day, class, bells, and the class's own steps.

use eframe::egui::Ui;

use super::adults::one_of;
use super::{class_steps, start};
use crate::app::looks::form::{Field, Form, page_title, part, remark};
use crate::file::format::PeriodShape;
use crate::finding::Path;
use crate::model::LessonPart;
use crate::setup::field;
use crate::setup::rename::{Named, rename};
use crate::speech::Measure;

/// Shows the page.
pub fn show(ui: &mut Ui, form: &mut Form<'_>) {
    page_title(
        ui,
        "Lesson and bells",
        "Steps of the class take every pupil; what bakes, proves or cools goes on meanwhile. \
         Minutes: the usual ones, or quick, usual and slow like 4 5 8.",
    );
    part(ui, "Lesson", |ui| {
        let at = Path::root().field("title");
        let title = form.file.title.clone();
        form.text(ui, Field::new(at, "Title").width(300.0), &title, |text, file| {
            file.title = field::line(text)?;
            Ok(())
        });
        start::when(ui, form);
        let zone = Field::new(Path::root().field("zone"), "Time zone, for calendars")
            .hint("the clock on the wall")
            .width(170.0);
        form.text(ui, zone, &form.file.zone.clone().unwrap_or_default(), |text, file| {
            file.zone = field::optional(text, field::zone)?;
            Ok(())
        });
        ovens_on(ui, form, 0, &Path::root().field("period"));
    });
    let first = form.file.period.clone();
    class_steps::show(ui, form, 0, &first, &Path::root().field("period"));
    form.took(ui, |part| *part == LessonPart::Opening);
    outside_the_bells(ui, form);
    other_periods(ui, form);
}

fn ovens_on(ui: &mut Ui, form: &mut Form<'_>, period: usize, at: &Path) {
    let now = form.file.period(period).and_then(|p| p.ovens_on_from);
    let shown = now.map(|m| m.to_string()).unwrap_or_default();
    let from = Field::new(at.field("ovens_on_from"), "Ovens on from")
        .unit("min from the start bell")
        .hint("-20")
        .width(60.0);
    form.text(ui, from, &shown, move |text, file| {
        let from = field::optional(text, |text| field::whole(text, (-120, 480), "min"))?;
        if let Some(period) = file.period_mut(period) {
            period.ovens_on_from = from.and_then(|m| i32::try_from(m).ok());
        }
        Ok(())
    });
    let adults: Vec<String> = form.file.adults.iter().map(|a| a.name.clone()).collect();
    let by = form.file.period(period).and_then(|p| p.ovens_on_by.clone());
    let whose = (at.field("ovens_on_by"), "Ovens switched on by".to_owned());
    one_of(ui, form, whose, "nobody is named", &adults, by, move |file, adult| {
        if let Some(period) = file.period_mut(period) {
            period.ovens_on_by = adult;
        }
    });
}

/// Steps done before the start bell or after the end bell for every group.
fn outside_the_bells(ui: &mut Ui, form: &mut Form<'_>) {
    let steps = |may: fn(&crate::file::format::StepShape) -> bool| {
        let mut names: Vec<String> = Vec::new();
        for recipe in &form.file.recipes {
            let all = recipe.methods.iter().flat_map(|m| &m.steps);
            for step in all.filter(|s| may(s)) {
                if !names.contains(&step.name) {
                    names.push(step.name.clone());
                }
            }
        }
        names
    };
    let (before, after) = (steps(|s| s.may_be_beforehand), steps(|s| s.may_be_collected));
    part(ui, "Done before or after the bells, for every group", |ui| {
        if before.is_empty() && after.is_empty() {
            remark(
                ui,
                "The recipes name no step that may be done before or after the lesson: on a \
                 recipe's page, More of a step allows it.",
            );
        }
        ui.horizontal_wrapped(|ui| {
            for name in before {
                let at = Path::root().field("beforehand");
                let ticked = form.file.beforehand.contains(&name);
                form.tick(ui, &at, &format!("{name} done beforehand"), ticked, |file, now| {
                    keep(&mut file.beforehand, &name, now);
                });
            }
            for name in after {
                let at = Path::root().field("collected");
                let ticked = form.file.collected.contains(&name);
                form.tick(ui, &at, &format!("{name} after the lesson"), ticked, |file, now| {
                    keep(&mut file.collected, &name, now);
                });
            }
        });
        form.told_of_all(&Path::root().field("beforehand"));
        form.told_of_all(&Path::root().field("collected"));
    });
}

/// Puts a name at the end of a list, or takes it out.
pub fn keep(list: &mut Vec<String>, name: &str, there: bool) {
    list.retain(|n| n != name);
    if there {
        list.push(name.to_owned());
    }
}

fn other_periods(ui: &mut Ui, form: &mut Form<'_>) {
    let periods = form.file.other_periods.clone();
    let all = Path::root().field("other_periods");
    for (i, period) in periods.iter().enumerate() {
        let at = all.index(i);
        let title = if period.name.is_empty() { "Another period" } else { &period.name };
        part(ui, title, |ui| {
            let name = Field::new(at.field("name"), "Period's name");
            form.text(ui, name, &period.name, |text, file| {
                rename(file, &Named::Period(i + 1), text)
            });
            for (name, key, end) in [("Starts", "start", false), ("Ends", "end", true)] {
                let value = if end { period.end.clone() } else { period.start.clone() };
                let bell = Field::new(at.field(key), format!("{name}, {title}"))
                    .measure(Measure::Clock)
                    .width(70.0);
                form.text(ui, bell, &value, move |text, file| {
                    let time = field::clock(text)?;
                    if let Some(period) = file.other_periods.get_mut(i) {
                        *(if end { &mut period.end } else { &mut period.start }) = time;
                    }
                    Ok(())
                });
            }
            ovens_on(ui, form, i + 1, &at);
            form.told(ui, &at);
            form.button(ui, "Take this period out", "a period less", |file| {
                let gone = file.other_periods.remove(i);
                for group in &mut file.groups {
                    if group.period.as_deref() == Some(gone.name.as_str()) {
                        group.period = None;
                    }
                }
            });
        });
        class_steps::show(ui, form, i + 1, period, &at);
    }
    ui.add_space(6.0);
    form.button(ui, "Another period of the same day", "another period", |file| {
        let n = file.other_periods.len() + 2;
        file.other_periods.push(PeriodShape {
            name: format!("period {n}"),
            start: file.period.end.clone(),
            opening: file.period.opening.clone(),
            closing: file.period.closing.clone(),
            ..PeriodShape::default()
        });
    });
}
