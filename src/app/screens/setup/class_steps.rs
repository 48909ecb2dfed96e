//! The class's own steps of a period: opening, in its course, closing.

use eframe::egui::{Grid, RichText, Ui};

use crate::app::looks::follow::sideways;
use crate::app::looks::form::{Field, Form, part, remark};
use crate::app::looks::say::{self, say};
use crate::app::looks::theme::Palette;
use crate::file::format::{ClassStepShape, LessonFile, PeriodShape, StatedMinutes};
use crate::file::{dropped_by_name, library};
use crate::finding::Path;
use crate::setup::{field, rename};

/// Which of a period's lists of class steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum When {
    Opening,
    During,
    Closing,
}

impl When {
    const ALL: [(When, &str, &str, &str); 3] = [
        (When::Opening, "opening", "Opening, from the start bell", "Opening step"),
        (When::During, "during", "In the course of the lesson", "Step in the course"),
        (When::Closing, "closing", "Closing, up to the end bell", "Closing step"),
    ];

    /// What is said while the list is empty.
    fn none_yet(self) -> &'static str {
        match self {
            When::Opening => "None yet: add the register, aprons and hands, a demo.",
            When::During => "None yet: add what stops every group: a second demo, the plenary.",
            When::Closing => "None yet: add the unit check, the dismissal.",
        }
    }

    fn of(self, period: &PeriodShape) -> &Vec<ClassStepShape> {
        match self {
            When::Opening => &period.opening,
            When::During => &period.during,
            When::Closing => &period.closing,
        }
    }

    fn of_mut(self, period: &mut PeriodShape) -> &mut Vec<ClassStepShape> {
        match self {
            When::Opening => &mut period.opening,
            When::During => &mut period.during,
            When::Closing => &mut period.closing,
        }
    }

    fn list(self, file: &mut LessonFile, period: usize) -> Option<&mut Vec<ClassStepShape>> {
        file.period_mut(period).map(|p| self.of_mut(p))
    }
}

/// Shows the steps of a period, which stands at `at`.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, period: usize, shape: &PeriodShape, at: &Path) {
    for (when, field_name, title, step) in When::ALL {
        part(ui, title, |ui| {
            let list = when.of(shape);
            if list.is_empty() {
                remark(ui, when.none_yet());
            }
            table(ui, form, (period, when), list, &at.field(field_name), step);
            let name = at.field(field_name).index(list.len()).field("name");
            form.add(ui, &format!("Add: {}", step.to_lowercase()), step, name, |file| {
                let free = |list: &Vec<ClassStepShape>| {
                    let taken = |n: &String| list.iter().any(|s| s.name == *n);
                    (1..).map(|i| format!("{} {i}", step.to_lowercase())).find(|n| !taken(n))
                };
                if let Some(list) = when.list(file, period) {
                    let name = free(list).unwrap_or_default();
                    list.push(new_step(name, when));
                }
            });
        });
    }
}

fn new_step(name: String, when: When) -> ClassStepShape {
    ClassStepShape {
        name,
        minutes: StatedMinutes::Usual(3.0),
        adults: Vec::new(),
        at: None,
        between: (when == When::During).then_some((20, 40)),
        before_closing: None,
        may_be_dropped: None,
    }
}

fn table(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (period, when): (usize, When),
    list: &[ClassStepShape],
    at: &Path,
    what: &str,
) {
    if list.is_empty() {
        return;
    }
    let soft = Palette::of(ui.ctx()).soft;
    let band = form.file.class.band;
    let during = when == When::During;
    sideways(ui, &format!("class steps {period} {what}"), |ui| {
        Grid::new(("class steps", period, what)).spacing([8.0, 4.0]).show(ui, |ui| {
            let timing = match when {
                When::Opening => "",
                When::During => "Min from start bell, or last 20",
                When::Closing => "If time runs out",
            };
            for heading in ["Step", "Minutes", "Adults", timing, ""] {
                ui.label(RichText::new(say(heading)).color(soft));
            }
            ui.end_row();
            for (i, step) in list.iter().enumerate() {
                let at = at.index(i);
                let spoken = |part: &str| format!("{what} {}, {part}", i + 1);
                let name = Field::new(at.field("name"), spoken("name")).width(190.0);
                form.cell(ui, &name, &step.name, |text, file| {
                    let name = field::name(text)?;
                    let step = when.list(file, period).and_then(|l| l.get_mut(i));
                    let Some(step) = step else { return Ok(()) };
                    if let Some(known) = known(&name) {
                        step.minutes = known;
                    }
                    let old = std::mem::replace(&mut step.name, name.clone());
                    rename::class_step(file, period, &old, &name);
                    Ok(())
                });
                let minutes = Field::new(at.field("minutes"), spoken("minutes")).width(70.0);
                let shown = field::minutes_text(&step.minutes, band);
                form.cell(ui, &minutes, &shown, |text, file| {
                    let typed = field::minutes(text)?;
                    if let Some(step) = when.list(file, period).and_then(|l| l.get_mut(i)) {
                        step.minutes = field::typed_over(Some(&step.minutes), band, typed);
                    }
                    Ok(())
                });
                let adults =
                    Field::new(at.field("adults"), spoken("adults")).hint("none").width(130.0);
                form.cell(ui, &adults, &step.adults.join(", "), |text, file| {
                    let adults = field::words(text)?;
                    if let Some(step) = when.list(file, period).and_then(|l| l.get_mut(i)) {
                        step.adults = adults;
                    }
                    Ok(())
                });
                if during {
                    let (shown, key) = timing_text(step);
                    let when_field =
                        Field::new(at.field(key), spoken("when")).hint("28 to 46").width(90.0);
                    form.cell(ui, &when_field, &shown, |text, file| {
                        let timed = timing_of(text)?;
                        if let Some(step) = when.list(file, period).and_then(|l| l.get_mut(i)) {
                            (step.at, step.between, step.before_closing) = timed;
                        }
                        Ok(())
                    });
                } else if let Some(by_name) = dropped_by_name(&step.name)
                    && when == When::Closing
                {
                    let label = format!("{} may be dropped", step.name);
                    let at = at.field("may_be_dropped");
                    let now = step.may_be_dropped.unwrap_or(by_name);
                    form.tick_seen(ui, &at, ("may be dropped", &label), now, |file, now| {
                        if let Some(step) = when.list(file, period).and_then(|l| l.get_mut(i)) {
                            step.may_be_dropped = (now != by_name).then_some(now);
                        }
                    });
                } else {
                    ui.label("");
                }
                ui.horizontal(|ui| {
                    let up = format!("Move {} up", step.name);
                    form.small(ui, ("Up", &up), i > 0, |file| {
                        if let Some(list) = when.list(file, period) {
                            list.swap(i, i - 1);
                        }
                    });
                    let gone = format!("Take {} out", step.name);
                    form.small(ui, ("×", &gone), true, |file| {
                        if let Some(list) = when.list(file, period) {
                            list.remove(i);
                        }
                    });
                });
                ui.end_row();
            }
        });
    });
    form.told_of_all(at);
}

/// The library's minutes of a step of this name.
fn known(name: &str) -> Option<StatedMinutes> {
    let table = library::minutes().ok()?;
    table
        .into_iter()
        .find(|row| {
            [row.step.as_str(), &say::name(&row.step)].iter().any(|n| n.eq_ignore_ascii_case(name))
        })
        .map(|row| row.minutes)
}

/// "20" is a fixed minute, "28 to 46" leaves it to the plan, and so does "last
/// 20", within the last minutes before the closing.
type Timed = (Option<i32>, Option<(i32, i32)>, Option<i32>);

/// The minutes of a step as they are typed, and the field of the file.
fn timing_text(step: &ClassStepShape) -> (String, &'static str) {
    match (step.at, step.between, step.before_closing) {
        (Some(at), ..) => (at.to_string(), "at"),
        (None, Some((from, until)), _) => (format!("{from} to {until}"), "between"),
        (None, None, Some(last)) => (format!("{LAST} {last}"), "before_closing"),
        (None, None, None) => (String::new(), "between"),
    }
}

/// The word before minutes that are counted back from the closing.
const LAST: &str = "last";

fn timing_of(text: &str) -> Result<Timed, String> {
    if let Some(minutes) = text.trim().strip_prefix(LAST) {
        let last = field::whole(minutes, (1, 480), "min")?;
        return Ok((None, None, i32::try_from(last).ok()));
    }
    if text.contains("to") {
        let all = field::stretches(text)?;
        return match all.as_slice() {
            [one] => Ok((None, Some(*one), None)),
            _ => Err("write one stretch of minutes like 28 to 46".to_owned()),
        };
    }
    let at = field::whole(text, (-60, 480), "min")?;
    Ok((i32::try_from(at).ok(), None, None))
}
