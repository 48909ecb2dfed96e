//! An oven of the day: who is in it, who comes next, and what can be told of all of
//! them at once.

use crate::check::CheckedPlan;
use crate::model::{FactKind, GroupId, Lesson, OvenId};
use crate::play::{GroupStanding, Standing};
use crate::units::{Minute, Minutes};
use crate::view::washing_up::called;
use crate::view::words::clock;

/// Groups whose minutes lie no further apart are called together.
const TOGETHER: Minutes = Minutes::new(4);

/// An oven's tile.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OvenTile {
    /// Which.
    pub oven: OvenId,
    /// Its name.
    pub name: String,
    /// Who is in it: "Unit 1, 2 and 4"; "empty".
    pub who: String,
    /// "out 10:44"; "in 10:29: Unit 6 and 7; 10:30: Unit 1".
    pub next: String,
    /// What can be told of all of these at once.
    pub tell: Option<(FactKind, Vec<String>)>,
    /// Which of its shelves have something on them.
    pub shelves: Vec<bool>,
}

impl OvenTile {
    pub(super) fn of(
        lesson: &Lesson,
        plan: &CheckedPlan,
        standing: &Standing,
        oven: OvenId,
    ) -> Self {
        let now = standing.now;
        let loads = || plan.plan().loads.iter().filter(move |l| l.oven == oven);
        let users: Vec<&GroupStanding> =
            standing.groups.iter().filter(|g| loads().any(|l| l.group == g.group)).collect();
        let is_in = |g: &&GroupStanding| g.reached(lesson, plan, now) == Some(FactKind::In);
        let inside: Vec<GroupId> = users.iter().copied().filter(is_in).map(|g| g.group).collect();
        let names = |groups: &[GroupId]| {
            let names: Vec<String> = groups.iter().map(|g| lesson.group(*g).name.clone()).collect();
            called(&names, usize::MAX)
        };
        let minute = |g: &GroupStanding, what| g.expected(lesson, plan, what).map(|(from, _)| from);
        let next = soonest(users.iter().copied(), |g| {
            let what = match g.reached(lesson, plan, now) {
                Some(FactKind::In) => FactKind::Out,
                Some(FactKind::Out | FactKind::Ready) => return None,
                _ => FactKind::In,
            };
            Some((what, minute(g, what)?))
        });
        let to_tell = soonest(users.iter().copied(), |g| {
            let what = g.to_tell(lesson, plan, now)?;
            let at_door = match what {
                FactKind::Go => FactKind::In,
                other => other,
            };
            matches!(at_door, FactKind::In | FactKind::Out)
                .then(|| Some((at_door, minute(g, at_door)?)))?
        });
        let next = next.map_or(String::new(), |(what, at)| {
            let at_once: Vec<&[(Minute, GroupId)]> = at.chunk_by(|a, b| a.0 == b.0).collect();
            let all_out = what == FactKind::Out && at.len() == inside.len();
            let words: Vec<String> = at_once
                .iter()
                .map(|of| {
                    let groups: Vec<GroupId> = of.iter().map(|(_, group)| *group).collect();
                    let at = clock(lesson, of[0].0);
                    match all_out && at_once.len() == 1 {
                        true => at.to_string(),
                        false => format!("{at}: {}", names(&groups)),
                    }
                })
                .collect();
            format!("{what} {}", words.join("; "))
        });
        let tell = to_tell.map(|(what, at)| {
            (what, at.iter().map(|(_, g)| lesson.group(*g).name.clone()).collect())
        });
        let shelves = (0..lesson.ovens[oven.0].shelves.len())
            .map(|shelf| loads().any(|l| l.shelf.0 == shelf && inside.contains(&l.group)));
        Self {
            oven,
            name: lesson.ovens[oven.0].name.clone(),
            who: if inside.is_empty() { "empty".to_owned() } else { names(&inside) },
            next,
            tell,
            shelves: shelves.collect(),
        }
    }

    /// All of it, for a screen reader.
    pub fn spoken(&self) -> String {
        match self.next.as_str() {
            "" => format!("{}: {}", self.name, self.who),
            next => format!("{}: {}, {next}", self.name, self.who),
        }
    }
}

/// The first thing at a door, and who does it at about that minute, each at its own.
fn soonest<'a>(
    users: impl Iterator<Item = &'a GroupStanding>,
    of: impl Fn(&GroupStanding) -> Option<(FactKind, Minute)>,
) -> Option<(FactKind, Vec<(Minute, GroupId)>)> {
    let mut all: Vec<(Minute, FactKind, GroupId)> =
        users.filter_map(|g| of(g).map(|(what, at)| (at, what, g.group))).collect();
    all.sort_by_key(|(at, _, group)| (*at, *group));
    let &(first, what, _) = all.first()?;
    let together = all.iter().filter(|(at, of, _)| *of == what && *at <= first + TOGETHER);
    Some((what, together.map(|(at, _, group)| (*at, *group)).collect()))
}
