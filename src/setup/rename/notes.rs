//! The teacher's notes follow what they hang on.

use crate::file::format::{LessonFile, PeriodShape, TeacherNoteShape};

/// Before an oven's name.
const AT_OVENS: [&str; 2] = ["load ", "take out "];
const BELLS: [&str; 2] = ["start bell", "end bell"];
/// Before a period's name.
const OF: &str = " of ";

/// Gives each note what it hangs on then; one for which there is nothing new keeps
/// what it has.
fn each(file: &mut LessonFile, to: impl Fn(&LessonFile, &TeacherNoteShape) -> Option<String>) {
    let mut notes = std::mem::take(&mut file.teacher);
    for note in &mut notes {
        if let Some(at) = to(file, note) {
            note.at = at;
        }
    }
    file.teacher = notes;
}

/// Groups have other names.
pub(super) fn groups(file: &mut LessonFile, changed: &[(String, String)]) {
    each(file, |file, note| {
        let of = changed.iter().filter_map(|(old, to)| {
            let step = note.step_of(old, file)?;
            Some((old.len(), format!("{step} {to}")))
        });
        of.max_by_key(|(length, _)| *length).map(|(_, at)| at)
    });
}

/// Ovens have other names.
pub(super) fn ovens(file: &mut LessonFile, changed: &[(String, String)]) {
    each(file, |_, note| {
        AT_OVENS.iter().find_map(|words| {
            let name = note.at.strip_prefix(words)?;
            let (_, to) = changed.iter().find(|(old, _)| old == name)?;
            Some(format!("{words}{to}"))
        })
    });
}

/// A period has another name.
pub(super) fn period(file: &mut LessonFile, old: &str, to: &str) {
    each(file, |file, note| {
        let what = note.at.strip_suffix(old)?.strip_suffix(OF)?;
        let mut steps = file.periods().flat_map(PeriodShape::class_steps);
        let is_meant = BELLS.contains(&what) || steps.any(|step| step.name == what);
        is_meant.then(|| format!("{what}{OF}{to}"))
    });
}

/// A step of some groups has another name.
pub(super) fn step(file: &mut LessonFile, groups: &[String], old: &str, to: &str) {
    each(file, |file, note| {
        let group = groups.iter().find(|group| note.step_of(group, file) == Some(old))?;
        Some(format!("{to} {group}"))
    });
}

/// A step of the class has another name: notes follow it unless there is still a
/// step of the old one.
pub fn class_step(file: &mut LessonFile, period: usize, old: &str, to: &str) {
    let Some(shape) = file.period(period) else { return };
    let has = |of: &PeriodShape| of.class_steps().any(|step| step.name == old);
    let (in_period, anywhere) = (has(shape), file.periods().any(has));
    let of_period = format!("{OF}{}", shape.name());
    each(file, |_, note| match note.at.strip_prefix(old)? {
        "" if !anywhere => Some(to.to_owned()),
        rest if !in_period && rest == of_period => Some(format!("{to}{rest}")),
        _ => None,
    });
}
