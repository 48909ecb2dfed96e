//! What a lesson really took, as text and as JSON. The fields are documented in
//! `assets/json.md`.

use std::fmt::Write as _;

use serde::Serialize;

use crate::afterwards::{GroupDay, Learned, Moment, Observed, Part, PartTold, off, unlikely_words};
use crate::model::{Lesson, PastBake};
use crate::units::{Minute, Minutes, plain_number};
use crate::view::words::clock;

/// A day that is over.
pub struct Afterwards<'a> {
    /// The copy for the day.
    pub lesson: &'a Lesson,
    /// What its facts say.
    pub observed: &'a Observed,
    /// What each part teaches, with all lessons of the class that are noted.
    pub learned: &'a [(Part, Learned)],
}

#[derive(Serialize)]
struct AfterwardsJson<'a> {
    lesson: &'a str,
    class: &'a str,
    told: usize,
    against_plan: Vec<MomentJson<'a>>,
    bakes: Vec<BakeJson>,
    learned: Vec<LearnedJson>,
    offered: Vec<OfferedJson>,
    not_learned: Vec<UnlikelyJson<'a>>,
    held: Option<&'a str>,
    next: Option<&'a str>,
}

#[derive(Serialize)]
struct MomentJson<'a> {
    group: &'a str,
    what: String,
    planned: String,
    told: Option<String>,
    late: Option<i32>,
}

#[derive(Serialize)]
struct BakeJson {
    recipe: String,
    tin: String,
    oven: String,
    minutes: f64,
}

#[derive(Serialize)]
struct LearnedJson {
    what: String,
    before: f64,
    took: f64,
    now: f64,
    lessons: usize,
    band: (f64, f64),
    hint: String,
}

impl LearnedJson {
    fn of(part: &PartTold) -> Self {
        Self {
            what: part.what.clone(),
            before: part.before,
            took: part.took,
            now: part.now,
            lessons: part.lessons,
            band: part.band,
            hint: part.hint(),
        }
    }
}

#[derive(Serialize)]
struct OfferedJson {
    what: String,
    minutes: f64,
    lessons: usize,
}

#[derive(Serialize)]
struct UnlikelyJson<'a> {
    what: &'a str,
    took: i32,
    why: &'a str,
}

impl Afterwards<'_> {
    fn at(&self, minute: Minute) -> String {
        clock(self.lesson, minute).to_string()
    }

    fn moments(&self) -> Vec<MomentJson<'_>> {
        let of_day = |day: &GroupDay| {
            let group = self.lesson.group(day.group).name.as_str();
            let moment = |m: &Moment| MomentJson {
                group,
                what: m.what.to_string(),
                planned: self.at(m.called),
                told: m.told.map(|told| self.at(told)),
                late: m.late.map(Minutes::get),
            };
            day.moments.iter().map(moment).collect::<Vec<_>>()
        };
        self.observed.groups.iter().flat_map(of_day).collect()
    }

    fn said(&self) -> (Option<&str>, Option<&str>) {
        let after = self.lesson.today.as_ref().and_then(|today| today.afterwards.as_ref());
        let said = |text: &str| !text.is_empty();
        (
            after.map(|a| a.held.as_str()).filter(|t| said(t)),
            after.map(|a| a.next.as_str()).filter(|t| said(t)),
        )
    }

    fn learned(&self) -> Vec<PartTold> {
        self.learned.iter().map(PartTold::of).collect()
    }

    /// As JSON.
    ///
    /// # Errors
    /// If the library refuses to write it.
    pub fn json(&self) -> Result<String, serde_json::Error> {
        let bake = |bake: &PastBake| BakeJson {
            recipe: bake.recipe.clone(),
            tin: bake.tin.clone(),
            oven: bake.oven.clone(),
            minutes: bake.minutes.get(),
        };
        let (held, next) = self.said();
        let learned = self.learned();
        let offered = learned.iter().filter(|part| part.offered);
        serde_json::to_string_pretty(&AfterwardsJson {
            lesson: &self.lesson.title,
            class: &self.lesson.class.name,
            told: self.moments().iter().filter(|m| m.told.is_some()).count(),
            against_plan: self.moments(),
            bakes: self.observed.bakes.iter().map(bake).collect(),
            offered: offered
                .map(|part| OfferedJson {
                    what: part.what.clone(),
                    minutes: part.now,
                    lessons: part.lessons,
                })
                .collect(),
            learned: learned.iter().map(LearnedJson::of).collect(),
            not_learned: self
                .observed
                .unlikely
                .iter()
                .map(|u| UnlikelyJson { what: &u.what, took: u.took, why: u.why })
                .collect(),
            held,
            next,
        })
    }

    /// For people.
    pub fn text(&self) -> String {
        let mut text = String::new();
        let told: Vec<_> = self.moments().into_iter().filter(|m| m.told.is_some()).collect();
        if told.is_empty() {
            text.push_str(
                "Nothing was told of any group, so nothing is known but what is answered.\n",
            );
        }
        for moment in told {
            let late = off(Minutes::new(moment.late.unwrap_or_default()));
            let at = moment.told.unwrap_or_default();
            let _ = writeln!(text, "{}: {} at {at}, {late}", moment.group, moment.what);
        }
        for bake in &self.observed.bakes {
            let minutes = plain_number(bake.minutes.get());
            let _ = writeln!(
                text,
                "{}, {}: baked {minutes} min in {}",
                bake.recipe, bake.tin, bake.oven
            );
        }
        let learned = self.learned();
        for part in &learned {
            let _ = writeln!(text, "{}", part.words());
        }
        for part in learned.iter().filter(|part| part.offered) {
            let minutes = plain_number(part.now);
            let _ =
                writeln!(text, "You may plan {} with {minutes} min, {}.", part.what, part.hint());
        }
        for unlikely in &self.observed.unlikely {
            let _ = writeln!(text, "{}", unlikely_words(unlikely));
        }
        let (held, next) = self.said();
        for (words, said) in [("Held up by", held), ("Next time", next)] {
            if let Some(said) = said {
                let _ = writeln!(text, "{words}: {said}");
            }
        }
        text.trim_end().to_owned()
    }
}
