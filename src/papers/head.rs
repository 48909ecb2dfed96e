//! What stands on every sheet: which lesson this is, when it was printed, and
//! what comes before anything it says.

use chrono::NaiveDateTime;

use crate::model::Lesson;
use crate::view::words::{clock, list};

/// The head and foot of a lesson's sheets.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Head {
    /// The lesson's title.
    pub title: String,
    /// Class, room, date and bells, as far as they are known.
    pub facts: Vec<String>,
    /// When the sheets were made.
    pub issued: NaiveDateTime,
}

impl Head {
    /// The caution at the foot of every sheet. The first sentence is common
    /// practice of the trade; for the second see `view/cautions.rs`.
    pub const CAUTION: &'static str = "Times are for planning: a bake is done by its done test, \
        never by the clock alone. Your school's policy and risk assessment come first.";

    /// Of a lesson's sheets.
    pub fn of(lesson: &Lesson, issued: NaiveDateTime) -> Self {
        let title = if lesson.title.is_empty() { "Lesson" } else { &lesson.title };
        let mut facts = Vec::new();
        if !lesson.class.name.is_empty() {
            facts.push(format!("class {}", lesson.class.name));
        }
        let rooms = lesson.rooms.iter().filter(|room| !room.name.is_empty());
        facts.extend(rooms.map(|room| room.name.clone()));
        facts.push(match lesson.date {
            Some(date) => date.format("%A %-d %B %Y").to_string(),
            None => "date: ……………".to_owned(),
        });
        for period in &lesson.periods {
            let name = if lesson.periods.len() > 1 { &*period.name } else { "" };
            let (from, until) = (clock(lesson, period.start), clock(lesson, period.end));
            facts.push(format!("{name} bells {from} to {until}").trim_start().to_owned());
        }
        Self { title: title.to_owned(), facts, issued }
    }

    /// A lesson among others, in short: "9C, Mon 30 Nov 09:00".
    pub fn whose(lesson: &Lesson) -> String {
        let class = lesson.class.name.trim();
        let who = if class.is_empty() { lesson.title.trim() } else { class };
        let day = lesson.date.map(|date| date.format("%a %-d %b ").to_string());
        let start = lesson.periods.first().map(|period| clock(lesson, period.start).to_string());
        let when = format!("{}{}", day.unwrap_or_default(), start.unwrap_or_default());
        let parts = [who, when.trim()].into_iter().filter(|part| !part.is_empty());
        parts.collect::<Vec<_>>().join(", ")
    }

    /// Of what several lessons have in common.
    pub fn of_several(lessons: &[&Lesson], issued: NaiveDateTime) -> Self {
        let heads = lessons.iter().map(|lesson| Self::of(lesson, issued));
        let (titles, facts): (Vec<String>, Vec<Vec<String>>) =
            heads.map(|head| (head.title, head.facts)).unzip();
        let mut titles = titles;
        titles.dedup();
        let mut facts: Vec<String> = facts.concat();
        let mut seen = std::collections::BTreeSet::new();
        facts.retain(|fact| seen.insert(fact.clone()));
        Self { title: list(&titles), facts, issued }
    }

    /// Of what is known by another title than a lesson's, with facts of its own.
    pub fn titled((title, facts): (String, Vec<String>), issued: NaiveDateTime) -> Self {
        Self { title, facts, issued }
    }

    /// Its lines.
    pub fn lines(&self) -> Vec<String> {
        vec![self.title.clone(), self.facts.join(" · ")]
    }

    /// "Issued 26 November 2026, 17:10 · page 1 of 2".
    pub fn issued(&self, page: usize, of: usize) -> String {
        let issued = self.issued.format("%-d %B %Y, %H:%M");
        format!("Issued {issued} · page {page} of {of}")
    }
}
