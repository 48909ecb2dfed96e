//! What comes of moving things by hand, in words.

use crate::check::CheckedPlan;
use crate::finding::shortened;
use crate::hand::{Fit, Put};
use crate::model::{GroupId, Lesson};
use crate::view::words::list;

/// Names in messages are no longer than this.
const NAME: usize = 40;

fn name(lesson: &Lesson, group: GroupId) -> String {
    shortened(&lesson.group(group).name, NAME)
}

/// Groups that bake in another tin or by another method than in the plan before; who was
/// moved may be among them.
fn otherwise_baked(before: &CheckedPlan, put: &Put) -> Vec<GroupId> {
    let what = |plan: &CheckedPlan, group| plan.plan().choice(group).map(|c| (c.method, c.tin));
    let differs = |group: &GroupId| match (what(before, *group), what(&put.plan, *group)) {
        (Some(before), Some(after)) => before != after,
        _ => false,
    };
    put.lesson.attending().filter(differs).collect()
}

/// What putting it there comes to, beside the plan before: "nobody else moves".
pub fn fit_words((lesson, before): (&Lesson, &CheckedPlan), put: &Put) -> String {
    let names = |groups: &[GroupId]| -> String {
        let names: Vec<String> = groups.iter().map(|&g| name(lesson, g)).collect();
        if names.len() > 4 { format!("{} groups", names.len()) } else { list(&names) }
    };
    let baked = match otherwise_baked(before, put) {
        none if none.is_empty() => String::new(),
        some => format!("; in another tin or by another method: {}", names(&some)),
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
            format!("{} {lose} {its}{more}{baked}", names(&put.lost))
        }
        Fit::Stays | Fit::OthersMove | Fit::Refused(_) => format!("{moves}{baked}"),
    }
}
