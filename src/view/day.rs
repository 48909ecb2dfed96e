//! The lesson while it is taught: what is on and what comes next, a tile for each
//! group and for each oven. What was told is told apart from what is presumed.

mod bakes;
mod oven;
mod tile;
mod words;

pub use bakes::{Bake, bakes};
pub use oven::OvenTile;
pub use tile::{Known, Tile, fact_words};
pub use words::{behind_words, held_up_words, help_words, if_nothing, stands_words};

use super::class_view::{ClassView, On};
use super::words::{clock, clock_in, minutes};
use crate::check::CheckedPlan;
use crate::model::{Lesson, OvenId};
use crate::play::{Standing, minute_of};
use crate::units::{ClockTime, Minutes};

/// Nothing was told for so long: it is said.
const SILENT: Minutes = Minutes::new(10);

/// What is shown of a lesson at a minute of its day.
#[derive(Debug, Clone, PartialEq)]
pub struct Day {
    /// By the clock.
    pub clock: ClockTime,
    /// What is on.
    pub now: String,
    /// What comes next, and when; nothing once the last bell has gone.
    pub next: Option<String>,
    /// The bell that counts, and how far off it is; what else is to be known.
    pub bell: String,
    /// Groups that take part, in the lesson's order.
    pub tiles: Vec<Tile>,
    /// Ovens that are used, in the lesson's order.
    pub ovens: Vec<OvenTile>,
}

impl Day {
    /// What is shown of a plan, by how groups stand against it.
    pub fn of(lesson: &Lesson, plan: &CheckedPlan, standing: &Standing) -> Self {
        let class = ClassView::of_room(lesson, plan, standing.now, (None, Some((plan, standing))));
        let now = match &class.on {
            On::Work(_) => "nobody is called".to_owned(),
            on => on.lines().join("; "),
        };
        let next = class.next.map(|next| format!("Next {}: {}", next.at, next.what(true)));
        let tiles: Vec<Tile> =
            lesson.attending().map(|group| Tile::of(lesson, plan, standing, group)).collect();
        let used = |oven: &OvenId| plan.plan().loads.iter().any(|l| l.oven == *oven);
        let ovens = (0..lesson.ovens.len()).map(OvenId).filter(used);
        Self {
            clock: class.clock,
            now,
            next,
            bell: bell(lesson, standing),
            ovens: ovens.map(|oven| OvenTile::of(lesson, plan, standing, oven)).collect(),
            tiles,
        }
    }
}

/// "Bell 11:10 · 44 minutes · nothing told since 10:12".
fn bell(lesson: &Lesson, standing: &Standing) -> String {
    let now = standing.now;
    let next = lesson.periods.iter().flat_map(|p| [p.start, p.end]).filter(|&b| now < b).min();
    let Some(next) = next else { return "The last bell has gone.".to_owned() };
    let mut words = vec![format!("Bell {}", clock(lesson, next)), minutes((next - now).get())];
    let facts = lesson.today.as_ref().map_or(&[][..], |today| &today.facts);
    let last = facts.last().map(|fact| (fact.at, now - minute_of(lesson, fact.at)));
    if let Some((at, _)) = last.filter(|(_, since)| SILENT <= *since) {
        words.push(format!("nothing told since {at}"));
    }
    words.extend(standing.behind().map(|group| {
        let of = lesson.group(group.group);
        match group.ready.ready {
            Some(ready) if group.ready.is_out() => format!(
                "{} is {} behind, ready {}",
                of.name,
                group.behind,
                clock_in(lesson, of.period, ready)
            ),
            _ => format!("{} is {} behind", of.name, group.behind),
        }
    }));
    words.join(" · ")
}
