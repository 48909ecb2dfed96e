//! What odds add to a board: a lens on each group's row, one row of the class,
//! checkpoints along the clock.

use super::WorkedOut;
use super::words::{at, if_words, odds_words, who_has_done};
use crate::model::{GroupId, Lesson};
use crate::units::Minute;
use crate::view::words::clock;

/// When something is ready, early to late: in eight lessons of ten.
#[derive(Debug, Clone, PartialEq)]
pub struct LensOfRow {
    /// The early time, in minutes of the lesson.
    pub early: f32,
    /// The middle; `None` if it is not ready in half the lessons.
    pub middle: Option<f32>,
    /// The late time; `None` if one lesson in ten does not come to it.
    pub late: Option<f32>,
    /// What is said in the ready column of a row that has nothing else there:
    /// two lines.
    pub ready: [String; 2],
    /// What a screen reader says.
    pub spoken: String,
}

/// A minute at which looking pays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LookMark {
    /// The minute.
    pub at: Minute,
    /// What a screen reader says.
    pub spoken: String,
}

/// What odds add to a board.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct OddsOfBoard {
    /// By row; none of groups that are not served, and all none until the odds
    /// are known.
    pub rows: Vec<Option<LensOfRow>>,
    /// The last one ready.
    pub class: Option<LensOfRow>,
    /// Minutes at which looking pays, each once, in the order of time.
    pub looks: Vec<LookMark>,
}

impl OddsOfBoard {
    /// What these odds add to the board of their plan.
    pub fn of(odds: &WorkedOut<'_>) -> Self {
        let lesson = odds.lesson;
        let Some(widest) = odds.widest() else { return Self::default() };
        let row = |id: GroupId| {
            let i = widest.groups.iter().position(|g| g.group == id)?;
            let shares = odds.shares(|o| o.groups.get(i).map_or(0.0, |g| g.out));
            let name = format!("Odds of {}", lesson.group(id).name);
            lens(lesson, widest.groups[i].ready, &name, &odds_words(&shares))
        };
        let shares = odds.shares(|o| o.class.before_closing);
        Self {
            rows: (0..lesson.groups.len()).map(GroupId).map(row).collect(),
            class: lens(lesson, widest.class.ready, "Odds of the class", &odds_words(&shares)),
            looks: looks(odds),
        }
    }
}

#[allow(clippy::cast_possible_truncation)] // minutes of a day
fn lens(lesson: &Lesson, ready: [Option<f64>; 3], name: &str, out: &str) -> Option<LensOfRow> {
    let [early, middle, late] = ready;
    let early = early?;
    let until = match late {
        Some(late) => format!("to {}", at(lesson, late)),
        None => "or not at all".to_owned(),
    };
    let mostly = middle.map_or(String::new(), |m| format!(", mostly {}", at(lesson, m)));
    let spoken = format!("{name}: ready {}{mostly}, {until}; out {out}", at(lesson, early));
    Some(LensOfRow {
        early: early as f32,
        middle: middle.map(|m| m as f32),
        late: late.map(|l| l as f32),
        ready: [at(lesson, middle.unwrap_or(early)), until],
        spoken,
    })
}

fn looks(odds: &WorkedOut<'_>) -> Vec<LookMark> {
    let (lesson, plan) = (odds.lesson, odds.plan);
    let mut points: Vec<_> = odds.widest().map_or(Vec::new(), |o| o.checkpoints.clone());
    points.sort_by_key(|p| p.at);
    let mut looks: Vec<LookMark> = Vec::new();
    for point in points {
        let words = format!("{}, {}", who_has_done(lesson, plan, &point), if_words(&point));
        match looks.last_mut() {
            Some(last) if last.at == point.at => last.spoken = format!("{}; {words}", last.spoken),
            _ => {
                let by = clock(lesson, point.at);
                looks.push(LookMark { at: point.at, spoken: format!("Look by {by}: {words}") });
            }
        }
    }
    looks
}
