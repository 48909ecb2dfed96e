//! What the card says of odds: how often all are out, what has to be true by
//! when, and what makes it late.

use std::collections::BTreeSet;

use super::bars::bars_of;
use super::words::{if_words, odds_words, true_words, who_has_done};
use super::{Squares, WorkedOut};
use crate::play::{Cause, Checkpoint, Spread, TrueAt, true_at};
use crate::units::{Minute, plain_number};
use crate::view::board::BarId;
use crate::view::words::{capital, clock, in_short, list};

/// How often something comes about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OddsLine {
    /// What: "All ready before the closing steps".
    pub what: &'static str,
    /// In how many of ten lessons.
    pub squares: Squares,
    /// The same in words.
    pub words: String,
}

/// A minute at which looking pays.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Look {
    /// The minute.
    pub at: Minute,
    /// "10:27".
    pub by: String,
    /// What is to be done by then, and how often all are out if it is and if
    /// not.
    pub points: Vec<(String, String)>,
    /// What has to be true at that minute, groups with the same together:
    /// who, and what.
    pub truths: Vec<(String, String)>,
}

/// Something that makes the class late.
#[derive(Debug, Clone, PartialEq)]
pub struct CauseLine {
    /// The cause.
    pub cause: Cause,
    /// In words.
    pub words: String,
    /// In how many of the late lessons.
    pub often: String,
    /// Its minutes as a share of those of the greatest cause.
    pub share: f32,
    /// The bars that are meant.
    pub bars: BTreeSet<BarId>,
}

/// What the card says.
#[derive(Debug, Clone, PartialEq)]
pub struct OddsCard {
    /// How often all are out; the first stands in the head too.
    pub lines: Vec<OddsLine>,
    /// What the figures rest on, in a few words.
    pub basis: String,
    /// Minutes at which looking pays, in the order of time.
    pub looks: Vec<Look>,
    /// What makes it late, the greatest first.
    pub causes: Vec<CauseLine>,
}

/// So many causes are told.
const CAUSES: usize = 6;
/// Less than this, in minutes on average, is not told.
const LEAST: f64 = 0.1;

impl OddsCard {
    /// What the card says of these odds.
    pub fn of(odds: &WorkedOut<'_>) -> Self {
        let line = |what, shares: &[f64]| OddsLine {
            what,
            squares: Squares::of(shares),
            words: odds_words(shares),
        };
        let before = odds.shares(|o| o.class.before_closing);
        let mut lines = vec![line("All ready before the closing steps", &before)];
        if odds.widest().is_some_and(|o| o.class.by_bell_shortened.is_some()) {
            let by_bell = odds.shares(|o| o.class.by_bell_shortened.unwrap_or(0.0));
            lines.push(line("All out by the bell, plenary left out", &by_bell));
        }
        Self { lines, basis: basis(odds), looks: looks(odds), causes: causes(odds) }
    }
}

fn basis(odds: &WorkedOut<'_>) -> String {
    match odds.played {
        [(spread, _)] if *spread == Spread::LISTED => "minutes spread as listed".to_owned(),
        [(spread, _)] if *spread == Spread::HALF => {
            "minutes spread half as far as listed".to_owned()
        }
        [(spread, _)] => {
            format!("minutes spread {} times as far as listed", plain_number(spread.factor()))
        }
        _ => "nobody has timed this class yet".to_owned(),
    }
}

fn looks(odds: &WorkedOut<'_>) -> Vec<Look> {
    let (lesson, plan) = (odds.lesson, odds.plan);
    let mut points: Vec<Checkpoint> = odds.widest().map_or(Vec::new(), |o| o.checkpoints.clone());
    points.sort_by_key(|p| p.at);
    let mut looks: Vec<Look> = Vec::new();
    for point in points {
        let words = (capital(&who_has_done(lesson, plan, &point)), if_words(&point));
        match looks.last_mut() {
            Some(last) if last.at == point.at => last.points.push(words),
            _ => looks.push(Look {
                at: point.at,
                by: clock(lesson, point.at).to_string(),
                points: vec![words],
                truths: truths(odds, point.at),
            }),
        }
    }
    looks
}

/// What has to be true at a minute: of each group the last step that has to be
/// over, and those that have to have begun.
fn truths(odds: &WorkedOut<'_>, minute: Minute) -> Vec<(String, String)> {
    let (lesson, plan) = (odds.lesson, odds.plan);
    let mut told: Vec<(Vec<String>, String)> = Vec::new();
    for of in true_at(lesson, plan, odds.gives, minute) {
        let over = of.over.last().copied().into_iter().collect();
        let of = TrueAt { over, ..of };
        if of.over.is_empty() && of.begun.is_empty() {
            continue;
        }
        let (name, words) = (lesson.group(of.group).name.clone(), true_words(lesson, plan, &of));
        match told.iter_mut().find(|(_, same)| *same == words) {
            Some((names, _)) => names.push(name),
            None => told.push((vec![name], words)),
        }
    }
    told.into_iter().map(|(names, words)| (list(&in_short(&names)), words)).collect()
}

#[allow(clippy::cast_possible_truncation)] // shares
fn causes(odds: &WorkedOut<'_>) -> Vec<CauseLine> {
    let causes = odds.widest().map(|o| o.causes.as_slice()).unwrap_or_default();
    let most = causes.first().map_or(1.0, |c| c.minutes.max(LEAST));
    let told = causes.iter().filter(|c| c.minutes >= LEAST).take(CAUSES);
    told.map(|c| CauseLine {
        cause: c.what.clone(),
        words: capital(&c.what.words(odds.lesson)),
        often: odds_words(&[c.share]),
        share: (c.minutes / most) as f32,
        bars: bars_of(odds.lesson, odds.plan, &c.what),
    })
    .collect()
}
