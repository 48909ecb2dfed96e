//! A lesson gone through minute by minute, as text and as JSON. The fields are
//! documented in `assets/json.md`.

use std::fmt::Write as _;

use serde::Serialize;

use super::standing::{HelpJson, ResponseJson, help_json, responses_json, ways_lines};
use super::text::{hanging, heading};
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::play::PlayedOn;
use crate::today::{Help, Response, Standing};
use crate::units::Minute;
use crate::view::at_minute::Doing;
use crate::view::day::{behind_words, if_nothing};
use crate::view::rehearsal::{Asked, Gap, MinuteCard, Rehearsal};
use crate::view::words::{capital, clock};

/// A slip thrown in, and what could be done about it.
pub struct Slipped {
    /// How groups stand with it.
    pub standing: Standing,
    /// What could be done, the least effort first.
    pub responses: Vec<Response>,
    /// What an adult's help would have to bring.
    pub help: Vec<Help>,
}

impl Slipped {
    /// The lesson with it from its minute on; `None` where somebody is there no more who
    /// could serve.
    pub fn rehearsal(
        &self,
        (lesson, plan): (&Lesson, &CheckedPlan),
        planned: &Rehearsal,
    ) -> Option<Rehearsal> {
        let (slips, now) = (&self.standing.slips, self.standing.now);
        let played = PlayedOn::of(lesson, plan, slips, now)?;
        Some(planned.laid_over(&Rehearsal::of(lesson, &played), now))
    }
}

#[derive(Serialize)]
struct RehearsalJson<'a> {
    lesson: &'a str,
    minutes: Vec<MinuteJson<'a>>,
    gaps: Vec<GapJson<'a>>,
    jobs: Vec<JobJson<'a>>,
    notes: Vec<NoteJson<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    behind: Option<Vec<String>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    if_nothing: Option<Vec<String>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    responses: Option<Vec<ResponseJson<'a>>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    help: Option<Vec<HelpJson<'a>>>,
}

#[derive(Serialize)]
struct MinuteJson<'a> {
    minute: i32,
    at: String,
    class: Option<&'a str>,
    teacher: TeacherJson<'a>,
    groups: Vec<DoingJson<'a>>,
    ovens: Vec<DoingJson<'a>>,
    adults: Vec<DoingJson<'a>>,
}

#[derive(Serialize)]
struct TeacherJson<'a> {
    say: Vec<&'a str>,
    #[serde(rename = "do")]
    own: Vec<&'a str>,
    next: Option<&'a str>,
}

#[derive(Serialize)]
struct DoingJson<'a> {
    who: &'a str,
    what: &'a str,
}

#[derive(Serialize)]
struct GapJson<'a> {
    from: i32,
    until: i32,
    what_is_hot: Vec<&'a str>,
    why_nobody: &'a [String],
}

#[derive(Serialize)]
struct JobJson<'a> {
    who: Option<&'a str>,
    assumed: bool,
    start_by: i32,
    until: i32,
    what: &'a str,
}

#[derive(Serialize)]
struct NoteJson<'a> {
    at: &'a str,
    minute: Option<i32>,
    say: &'a str,
    #[serde(rename = "do")]
    own: &'a str,
}

/// The whole rehearsal, or the card of one minute, as JSON.
///
/// # Errors
/// If it cannot be written as JSON.
pub fn json(
    lesson: &Lesson,
    rehearsal: &Rehearsal,
    only: Option<&MinuteCard>,
    slipped: Option<&Slipped>,
) -> serde_json::Result<String> {
    let minutes = match only {
        Some(card) => vec![minute_json(rehearsal, card)],
        None => rehearsal.minutes.iter().map(|card| minute_json(rehearsal, card)).collect(),
    };
    let gaps = rehearsal.gaps.iter().map(|gap| GapJson {
        from: gap.from.get(),
        until: gap.until.get(),
        what_is_hot: gap.hot.iter().map(|oven| lesson.ovens[oven.0].name.as_str()).collect(),
        why_nobody: &gap.why,
    });
    let jobs = rehearsal.jobs.iter().map(|job| JobJson {
        who: job.who.map(|adult| lesson.adults[adult.0].name.as_str()),
        assumed: job.assumed,
        start_by: job.start_by.get(),
        until: job.until.get(),
        what: &job.what,
    });
    let notes = rehearsal.notes.iter().map(|note| NoteJson {
        at: &note.at,
        minute: note.minute.map(Minute::get),
        say: &note.say,
        own: &note.own,
    });
    serde_json::to_string_pretty(&RehearsalJson {
        lesson: &lesson.title,
        minutes,
        gaps: gaps.collect(),
        jobs: jobs.collect(),
        notes: notes.collect(),
        behind: slipped.map(|s| behind(lesson, s)),
        if_nothing: slipped.map(|s| if_nothing(lesson, &s.standing)),
        responses: slipped.map(|s| responses_json(&s.responses)),
        help: slipped.map(|s| help_json(lesson, &s.help)),
    })
}

fn behind(lesson: &Lesson, slipped: &Slipped) -> Vec<String> {
    slipped.standing.behind().map(|group| behind_words(lesson, group)).collect()
}

fn minute_json<'a>(rehearsal: &'a Rehearsal, card: &'a MinuteCard) -> MinuteJson<'a> {
    let notes = || rehearsal.notes_at(card.minute);
    let (say, own) = (card.say.iter().map(String::as_str), card.own.iter().map(String::as_str));
    let teacher = TeacherJson {
        say: say.chain(words(notes().map(|note| &note.say))).collect(),
        own: own.chain(words(notes().map(|note| &note.own))).collect(),
        next: card.next.as_deref(),
    };
    MinuteJson {
        minute: card.minute.get(),
        at: card.at.to_string(),
        class: card.class.as_deref(),
        teacher,
        groups: doing_json(&card.groups),
        ovens: doing_json(&card.ovens),
        adults: doing_json(&card.adults),
    }
}

/// Notes may say something or ask for something, or both.
fn words<'a>(of_notes: impl Iterator<Item = &'a String>) -> impl Iterator<Item = &'a str> {
    of_notes.map(String::as_str).filter(|words| !words.is_empty())
}

fn doing_json(all: &[Doing]) -> Vec<DoingJson<'_>> {
    all.iter().map(|d| DoingJson { who: &d.who, what: &d.what }).collect()
}

/// The lesson in the order of its time: what adults do, what is called, what the
/// teacher has noted, and when nobody is free.
pub fn text(lesson: &Lesson, rehearsal: &Rehearsal) -> String {
    let mut lines: Vec<(Minute, u8, String)> = Vec::new();
    for card in &rehearsal.minutes {
        lines.extend(card.say.iter().map(|say| (card.minute, 1, say.clone())));
    }
    for job in &rehearsal.jobs {
        // The class's own steps are called.
        if !rehearsal.at(job.start_by).is_some_and(|card| called(card, job)) {
            lines.push((job.start_by, 0, job_words(lesson, job)));
        }
    }
    for gap in &rehearsal.gaps {
        let until = clock(lesson, gap.until);
        lines.push((gap.from, 4, format!("until {until}: {}", gap.words(lesson))));
    }
    for note in &rehearsal.notes {
        let Some(minute) = note.minute else { continue };
        lines.extend(words([&note.say].into_iter()).map(|say| (minute, 2, my_words(say))));
        lines.extend(words([&note.own].into_iter()).map(|own| (minute, 3, my_note(own))));
    }
    lines.sort();
    let mut out = String::new();
    heading(&mut out, lesson);
    for note in rehearsal.lost_notes() {
        let told = [&note.say, &note.own].into_iter();
        let told = words(told).collect::<Vec<_>>().join("; ");
        let lost = format!("Belongs nowhere now: {} ({told})", note.at);
        let _ = writeln!(out, "{}", hanging(&lost, 0, 4));
    }
    for (minute, _, words) in lines {
        let _ = writeln!(out, "{}  {}", clock(lesson, minute), hanging(&words, 0, 7));
    }
    out
}

fn my_words(say: &str) -> String {
    format!("My words: {say}")
}

fn my_note(own: &str) -> String {
    format!("My note: {own}")
}

/// Whether a job is a step that the class is called to.
fn called(card: &MinuteCard, job: &Asked) -> bool {
    card.say.iter().any(|say| say.starts_with(&format!("{}, until ", capital(&job.what))))
}

fn job_words(lesson: &Lesson, job: &Asked) -> String {
    match job.who {
        Some(adult) if job.assumed => {
            format!("{} (assumed of the {})", capital(&job.what), lesson.adults[adult.0].name)
        }
        Some(adult) => format!("{} ({})", capital(&job.what), lesson.adults[adult.0].name),
        None => format!("{}: nobody is named for it", capital(&job.what)),
    }
}

/// One minute in full, with the slip that is thrown in.
pub fn minute_text(
    lesson: &Lesson,
    rehearsal: &Rehearsal,
    card: &MinuteCard,
    slipped: Option<&Slipped>,
) -> String {
    let mut out = String::new();
    heading(&mut out, lesson);
    let _ = writeln!(out, "{}", card.at);
    let mut part = |name: &str, lines: Vec<String>| {
        if !lines.is_empty() {
            let _ = writeln!(out, "\n{name}");
        }
        for line in lines {
            let _ = writeln!(out, "{}", hanging(&line, 2, 4));
        }
    };
    part("Say", card.say.clone());
    let notes = || rehearsal.notes_at(card.minute);
    part("My words", words(notes().map(|n| &n.say)).map(str::to_owned).collect());
    part("You", card.own.iter().map(|own| capital(own)).collect());
    part("My notes", words(notes().map(|n| &n.own)).map(str::to_owned).collect());
    part("Class", card.class.iter().map(|c| capital(c)).collect());
    let doing =
        |all: &[Doing]| all.iter().map(|d| format!("{}: {}", d.who, d.what)).collect::<Vec<_>>();
    part("Groups", doing(&card.groups));
    part("Ovens", doing(&card.ovens));
    part("Adults", doing(&card.adults));
    let is_now = |g: &&Gap| g.from <= card.minute && card.minute < g.until;
    let gaps = rehearsal.gaps.iter().filter(is_now);
    part(
        "Nobody is free",
        gaps.map(|g| format!("until {}: {}", clock(lesson, g.until), g.words(lesson))).collect(),
    );
    part("Then", card.next.iter().cloned().collect());
    if let Some(slipped) = slipped {
        part("Behind", behind(lesson, slipped));
        part("If nothing is done", if_nothing(lesson, &slipped.standing));
        let ways = ways_lines(lesson, &slipped.responses, &slipped.help);
        part("What could be done", ways);
    }
    out
}
