//! Groups that are behind, in sentences.

use crate::model::Lesson;
use crate::play::{GroupStanding, Standing};
use crate::units::Minute;
use crate::view::words::{capital, clock_in, number};

/// "Unit 3 is 3 behind, still ready 11:01."
pub fn behind_words(lesson: &Lesson, group: &GroupStanding) -> String {
    let (name, behind) = (&lesson.group(group.group).name, group.behind);
    let is = format!("{name} is {behind} behind");
    match group.ready.ready.map(|ready| (ready, at(lesson, group, ready))) {
        None => format!("{is}: nobody is there any more to serve it."),
        Some((ready, clock)) if ready <= group.planned => format!("{is}, still ready {clock}."),
        Some((_, clock)) => {
            format!("{is}, ready {clock} instead of {}.", at(lesson, group, group.planned))
        }
    }
}

/// What becomes of the groups that are not out, a sentence each.
pub fn if_nothing(lesson: &Lesson, standing: &Standing) -> Vec<String> {
    let not_out = standing.groups.iter().filter(|g| !g.ready.is_out());
    let words = not_out.map(|g| {
        let name = &lesson.group(g.group).name;
        match g.ready.ready {
            None => format!("{name} is not served any more: nobody is there."),
            Some(_) if g.ready.spare >= 0 => {
                format!("A mixture of {name} waits longer than it may.")
            }
            Some(ready) => {
                let late = usize::try_from(-g.ready.spare).unwrap_or(0);
                let minutes = if late == 1 { "minute" } else { "minutes" };
                format!(
                    "{name} is ready {}, {} {minutes} after the closing steps begin.",
                    at(lesson, g, ready),
                    number(late)
                )
            }
        }
    });
    words.map(|words| capital(&words)).collect()
}

fn at(lesson: &Lesson, group: &GroupStanding, minute: Minute) -> String {
    clock_in(lesson, lesson.group(group.group).period, minute).to_string()
}
