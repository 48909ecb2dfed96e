//! A week as JSON. The fields are documented in `assets/json.md`.

use serde::Serialize;
use serde_json::Value;

use crate::view::technicians_day::{Duty, TechniciansDay};
use crate::view::week::technicians_day;
use crate::view::week::words::{a_move, asks, sum, then, together, trouble};
use crate::week::{
    Consequence, Contention, EntryNo, Move, Moves, Offer, Place, Report, Setup, Stretch, Told,
    Touched, Trouble, Week, What, name_of,
};

pub use super::week_text::text;

#[derive(Serialize)]
struct WeekJson {
    week: Option<String>,
    day: Option<String>,
    is_well: bool,
    lessons: Vec<LessonJson>,
    contention: Vec<ContentionJson>,
    troubles: Vec<TroubleJson>,
    tightest: Vec<usize>,
    setting_up: Vec<SetupJson>,
    technician: Option<TechnicianJson>,
    out: Vec<OutJson>,
    whole: bool,
    findings: Vec<Value>,
}

#[derive(Serialize)]
struct LessonJson {
    entry: usize,
    kind: &'static str,
    title: String,
    file: Option<String>,
    id: Option<String>,
    class: String,
    date: String,
    period: String,
    start: String,
    end: String,
    rooms: Vec<String>,
    verdict: Option<&'static str>,
    served: Option<u32>,
    of: Option<u32>,
    ovens: Option<u32>,
    needs_ovens: Option<u32>,
    needs_proved: Option<bool>,
    late_with_one_fewer: Option<i32>,
}

#[derive(Serialize)]
struct ContentionJson {
    what: String,
    date: String,
    there: u32,
    spans: Vec<SpanJson>,
    by: Vec<usize>,
}

#[derive(Serialize)]
struct SpanJson {
    from: String,
    until: String,
    wanted: u32,
}

#[derive(Serialize)]
struct TroubleJson {
    kind: &'static str,
    what: Option<String>,
    date: String,
    from: Option<String>,
    until: Option<String>,
    wanted: Option<u32>,
    there: Option<u32>,
    sum: Option<String>,
    terms: Vec<TermJson>,
    sentence: String,
    together: Option<TogetherJson>,
    moves: Vec<MoveJson>,
    tried: usize,
    to_try: usize,
}

#[derive(Serialize)]
struct TogetherJson {
    served: u32,
    of: u32,
    at_most: u32,
    is_enough: bool,
    when: Vec<WhenJson>,
    sentence: String,
}

#[derive(Serialize)]
struct WhenJson {
    entry: usize,
    from: String,
    until: String,
}

#[derive(Serialize)]
struct TermJson {
    entry: usize,
    count: Option<u32>,
}

#[derive(Serialize)]
struct MoveJson {
    #[serde(rename = "move")]
    what: &'static str,
    entries: Vec<usize>,
    sentence: String,
    asks: String,
    effort: u32,
    then: String,
}

#[derive(Serialize)]
struct SetupJson {
    date: String,
    adult: String,
    start_by: Option<String>,
    lacks: i32,
    jobs: Vec<JobJson>,
}

#[derive(Serialize)]
struct JobJson {
    entry: usize,
    minutes: i32,
    start_by: Option<String>,
    until: String,
}

#[derive(Serialize)]
struct TechnicianJson {
    duties: Vec<DutyJson>,
    clashes: Vec<String>,
}

#[derive(Serialize)]
struct DutyJson {
    start_by: String,
    length: String,
    what: String,
    room: String,
    lesson: String,
    is_theirs: bool,
    who_lacks: Option<String>,
}

#[derive(Serialize)]
struct OutJson {
    what: String,
    count: u32,
    from: String,
    until: String,
    breaks: Vec<BreakJson>,
    keeps: Vec<usize>,
}

#[derive(Serialize)]
struct BreakJson {
    entry: usize,
    before: u32,
    now: u32,
}

/// A week and what was found wrong in its file, as JSON.
///
/// # Errors
/// If it cannot be written as JSON.
pub fn json(week: &Week, report: &Report, findings: Vec<Value>) -> serde_json::Result<String> {
    let lesson = |told: &Told| lesson_json(week, told);
    serde_json::to_string_pretty(&WeekJson {
        week: week.days.first().map(|day| day.date.to_string()),
        day: report.day.map(|day| day.to_string()),
        is_well: report.is_well(week),
        lessons: report.lessons.iter().filter_map(lesson).collect(),
        contention: report.contention.iter().map(|of| contention_json(week, of)).collect(),
        troubles: report.moves.iter().map(|of| trouble_json(week, report, of)).collect(),
        tightest: report.tightest().iter().map(|told| number(told.entry)).collect(),
        setting_up: report.setting_up.iter().map(|of| setup_json(week, of)).collect(),
        technician: report.day.map(|date| technician_json(technicians_day(week, report, date))),
        out: report.broken.iter().map(|of| out_json(week, of)).collect(),
        whole: report.whole,
        findings,
    })
}

/// An entry's place in the file's list, from 1.
fn number(entry: EntryNo) -> usize {
    entry.0 + 1
}

fn lesson_json(week: &Week, told: &Told) -> Option<LessonJson> {
    let entry = week.entry(told.entry)?;
    let kind = match entry.what {
        What::Lesson(_) => "lesson",
        What::Unplanned(_) => "unplanned",
        What::Booking { .. } => "booking",
    };
    let file = match &entry.what {
        What::Lesson(taught) => Some(taught.file.clone()),
        What::Unplanned(file) => Some(file.clone()),
        What::Booking { .. } => None,
    };
    Some(LessonJson {
        entry: number(told.entry),
        kind,
        title: entry.title().to_owned(),
        file,
        id: entry.lesson().and_then(|taught| taught.id.clone()),
        class: entry.class.clone(),
        date: entry.slot.date.to_string(),
        period: entry.slot.period(),
        start: entry.slot.start().to_string(),
        end: entry.slot.end().to_string(),
        rooms: entry.slot.rooms.iter().map(|room| week.room_name(*room).to_owned()).collect(),
        verdict: told.verdict().map(|verdict| verdict.name()),
        served: told.alone.as_ref().map(|alone| alone.served()),
        of: told.alone.as_ref().map(|alone| alone.of()),
        ovens: told.ovens,
        needs_ovens: told.needs.map(|needs| needs.ovens),
        needs_proved: told.needs.map(|needs| needs.proved),
        late_with_one_fewer: told.needs.and_then(|needs| needs.late).map(|late| late.get()),
    })
}

fn contention_json(week: &Week, of: &Contention) -> ContentionJson {
    let spans = of.wanted.spans().into_iter().map(|span| SpanJson {
        from: span.from_clock().to_string(),
        until: span.until_clock().to_string(),
        wanted: span.count,
    });
    ContentionJson {
        what: of.what.name(week),
        date: of.date.to_string(),
        there: of.there,
        spans: spans.collect(),
        by: of.by.iter().map(|(entry, _)| number(*entry)).collect(),
    }
}

fn trouble_json(week: &Week, report: &Report, moves: &Moves) -> TroubleJson {
    let of = &moves.trouble;
    let clash = match of {
        Trouble::Clash(clash) => Some(clash),
        Trouble::NotAllOut { .. } | Trouble::SettingUp { .. } => None,
    };
    let terms = match clash {
        Some(clash) => {
            let term = |(entry, count): &(EntryNo, u32)| (number(*entry), Some(*count));
            clash.by.iter().map(term).collect()
        }
        None => of.entries().into_iter().map(|entry| (number(entry), None)).collect::<Vec<_>>(),
    };
    TroubleJson {
        kind: match of {
            Trouble::Clash(_) => "wanted-twice",
            Trouble::NotAllOut { .. } => "not-all-out",
            Trouble::SettingUp { .. } => "setting-up",
        },
        what: clash.map(|clash| clash.what.name(week)),
        date: of.date().to_string(),
        from: clash.map(|clash| clash.span.from_clock().to_string()),
        until: clash.map(|clash| clash.span.until_clock().to_string()),
        wanted: clash.map(|clash| clash.span.count),
        there: clash.map(|clash| clash.there),
        sum: clash.map(|clash| sum(week, clash)),
        terms: terms.into_iter().map(|(entry, count)| TermJson { entry, count }).collect(),
        sentence: trouble(week, report, of),
        together: moves.together.as_ref().map(|found| TogetherJson {
            served: found.served,
            of: found.of,
            at_most: found.at_most,
            is_enough: found.is_enough,
            when: found.when.iter().map(when_json).collect(),
            sentence: together(week, found),
        }),
        moves: moves.offers.iter().map(|offer| move_json(week, offer)).collect(),
        tried: moves.tried,
        to_try: moves.of,
    }
}

fn when_json((entry, (from, until)): &(EntryNo, Stretch)) -> WhenJson {
    WhenJson { entry: number(*entry), from: from.to_string(), until: until.to_string() }
}

fn move_json(week: &Week, offer: &Offer) -> MoveJson {
    let (what, entries) = match &offer.what {
        Move::Swap(one, other) => ("swap", vec![number(*one), number(*other)]),
        Move::Lend(_) => ("lend", Vec::new()),
        Move::Elsewhere(entry, _) => ("elsewhere", vec![number(*entry)]),
        Move::ChangePlaces(one, other) => ("change-places", vec![number(*one), number(*other)]),
    };
    MoveJson {
        what,
        entries,
        sentence: a_move(week, &offer.what),
        asks: asks(week, &offer.what),
        effort: offer.effort,
        then: then(week, offer),
    }
}

fn setup_json(week: &Week, setup: &Setup) -> SetupJson {
    let job = |job: &crate::week::SettingOut| JobJson {
        entry: number(job.entry),
        minutes: job.set_out.minutes.get(),
        start_by: job.set_out.start_by().map(|time| time.to_string()),
        until: job.set_out.until.to_string(),
    };
    SetupJson {
        date: setup.date.to_string(),
        adult: week.who_sets_up().map_or_else(String::new, |adult| adult.name.clone()),
        start_by: setup.start_by.map(|time| time.to_string()),
        lacks: setup.lacks(),
        jobs: setup.jobs.iter().map(job).collect(),
    }
}

fn technician_json(day: TechniciansDay) -> TechnicianJson {
    let duty = |duty: Duty| DutyJson {
        who_lacks: duty.who_lacks(),
        start_by: duty.start_by.to_string(),
        length: duty.length,
        what: duty.what,
        room: duty.room,
        lesson: duty.lesson,
        is_theirs: duty.is_theirs,
    };
    TechnicianJson { duties: day.duties.into_iter().map(duty).collect(), clashes: day.clashes }
}

fn out_json(week: &Week, of: &Consequence) -> OutJson {
    let count = match of.out.what {
        Place::Oven(..) => 1,
        Place::Kit(..) | Place::Moving(_) => of.out.count,
    };
    let lost = |t: &Touched| BreakJson { entry: number(t.entry), before: t.before, now: t.now };
    OutJson {
        what: name_of(week, &of.out.what),
        count,
        from: of.out.from.to_string(),
        until: of.out.until.to_string(),
        breaks: of.breaks.iter().map(lost).collect(),
        keeps: of.keeps.iter().map(|entry| number(*entry)).collect(),
    }
}
