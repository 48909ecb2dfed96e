//! What comes of moving things by hand, in words.

use crate::finding::shortened;
use crate::hand::{Fit, Put};
use crate::model::{GroupId, Lesson};
use crate::view::words::list;

/// Names in messages are no longer than this.
const NAME: usize = 40;

fn name(lesson: &Lesson, group: GroupId) -> String {
    shortened(&lesson.group(group).name, NAME)
}

/// What putting it there comes to: "nobody else moves".
pub fn fit_words(lesson: &Lesson, put: &Put) -> String {
    let names = |groups: &[GroupId]| -> String {
        let names: Vec<String> = groups.iter().map(|&g| name(lesson, g)).collect();
        if names.len() > 4 { format!("{} groups", names.len()) } else { list(&names) }
    };
    let moves = match put.moved.len() {
        0 => "nobody else moves".to_owned(),
        1 => format!("{} moves too", names(&put.moved)),
        _ => format!("{} move too", names(&put.moved)),
    };
    match put.fit {
        Fit::AtACost => {
            let more = if put.moved.is_empty() { String::new() } else { format!("; {moves}") };
            let its = if put.lost.len() == 1 { "its place" } else { "their places" };
            let lose = if put.lost.len() == 1 { "loses" } else { "lose" };
            format!("{} {lose} {its}{more}", names(&put.lost))
        }
        Fit::Stays | Fit::OthersMove | Fit::Refused(_) => moves,
    }
}
