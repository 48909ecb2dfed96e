//! A week as a head of department reads it in a terminal.

use std::fmt::Write as _;

use super::text::{CAUTION, hanging, wrapped};
use crate::view::rows::verdict_words;
use crate::view::technicians_day::Duty;
use crate::view::week::technicians_day;
use crate::view::week::words::{
    a_move, asks, at, day, heading, how_many_out, looked, lost, out, ovens, sentence, setting_up,
    then, together, trouble, who,
};
use crate::week::{Report, Told, Week, What};

/// So many of the lessons that are tightest in ovens are told.
const TIGHTEST: usize = 5;

/// The week in a sentence, its lessons day by day, what is wanted twice and what
/// clears it, the tightest lessons, when setting out begins, and what comes of
/// what is out of order.
pub fn text(week: &Week, report: &Report) -> String {
    let mut text = String::new();
    let _ = writeln!(text, "{}\n", wrapped(&heading(week, report.day), 0));
    let _ = writeln!(text, "{}", wrapped(&sentence(week, report), 0));
    if !report.whole {
        let words = "Time was up before all was planned: what stands here is not the last word.";
        let _ = writeln!(text, "{}", wrapped(words, 0));
    }
    lessons(&mut text, week, report);
    not_well(&mut text, week, report);
    tightest(&mut text, week, report);
    part(&mut text, "Setting out", report.setting_up.iter().map(|s| setting_up(week, s)));
    technician(&mut text, week, report);
    broken(&mut text, week, report);
    text.push_str(CAUTION);
    text
}

fn lessons(text: &mut String, week: &Week, report: &Report) {
    let mut date = None;
    for told in &report.lessons {
        let Some(entry) = week.entry(told.entry) else { continue };
        if date != Some(entry.slot.date) {
            date = Some(entry.slot.date);
            let _ = writeln!(text, "\n{}", day(entry.slot.date));
        }
        let how = match (&entry.what, told.verdict()) {
            (What::Booking { .. }, _) => "a booking".to_owned(),
            (_, Some(verdict)) => format!("{}, {}", verdict_words(verdict), how_many_out(told)),
            (What::Unplanned(_), None) => "not planned: see what is wrong with it".to_owned(),
            (What::Lesson(_), None) => "time was up before it was planned".to_owned(),
        };
        let (start, end) = (entry.slot.start(), entry.slot.end());
        let line =
            format!("{} {start} to {end}: {}: {how}", entry.slot.period(), who(week, told.entry));
        let _ = writeln!(text, "{}", hanging(&line, 2, 6));
    }
}

fn not_well(text: &mut String, week: &Week, report: &Report) {
    let twice = week.twice(report.day);
    if report.moves.is_empty() && twice.is_empty() {
        return;
    }
    text.push_str("\nDoes not go well, and the least that clears it\n");
    for of in &twice {
        let _ = writeln!(text, "{}", hanging(&format!("{}: move one of them", of.words), 2, 4));
    }
    for moves in &report.moves {
        let _ = writeln!(text, "{}", hanging(&trouble(week, report, &moves.trouble), 2, 4));
        if let Some(found) = &moves.together {
            let _ = writeln!(text, "{}", hanging(&together(week, found), 4, 6));
        }
        for (n, offer) in moves.offers.iter().enumerate() {
            let (what, then) = (a_move(week, &offer.what), then(week, offer));
            let line = format!("{}. {what}: {then}. It asks: {}", n + 1, asks(week, &offer.what));
            let _ = writeln!(text, "{}", hanging(&line, 4, 7));
        }
        let _ = writeln!(text, "{}", hanging(&looked(moves), 4, 4));
    }
}

fn tightest(text: &mut String, week: &Week, report: &Report) {
    let line = |told: &&Told| Some(format!("{}: {}", at(week, told.entry), ovens(told)?));
    part(text, "Tightest in ovens", report.tightest().iter().filter_map(line).take(TIGHTEST));
}

/// The technician's day, where one day is asked for.
fn technician(text: &mut String, week: &Week, report: &Report) {
    let Some(date) = report.day else { return };
    let day = technicians_day(week, report, date);
    let duty = |duty: &Duty| {
        let more = [&duty.length, &duty.room, &duty.lesson];
        let more: Vec<&str> =
            more.into_iter().map(String::as_str).filter(|w| !w.is_empty()).collect();
        let lacks = duty.who_lacks().map_or_else(String::new, |lacks| format!(" ({lacks})"));
        format!("{} {} ({}){lacks}", duty.start_by, duty.what, more.join(", "))
    };
    let clashes = day.clashes.iter().map(|words| format!("Cannot be as it stands: {words}."));
    part(text, "The technician's day", day.duties.iter().map(duty).chain(clashes));
}

fn broken(text: &mut String, week: &Week, report: &Report) {
    let line = |of: &crate::week::Consequence| {
        let breaks: Vec<String> = of.breaks.iter().map(|t| lost(week, t)).collect();
        let breaks = match breaks.as_slice() {
            [] => "breaks no lesson".to_owned(),
            all => format!("breaks {}", all.join("; ")),
        };
        format!("{}: {breaks}", out(week, &of.out))
    };
    part(text, "Out of order", report.broken.iter().map(line));
}

fn part(text: &mut String, heading: &str, lines: impl Iterator<Item = String>) {
    let mut lines = lines.peekable();
    if lines.peek().is_some() {
        let _ = writeln!(text, "\n{heading}");
    }
    for line in lines {
        let _ = writeln!(text, "{}", hanging(&line, 2, 4));
    }
}
