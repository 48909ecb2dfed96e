//! The day before the lesson is taught: a copy to begin, another date, and what is to
//! be done before the bell.

use eframe::egui::{self, CentralPanel, Frame, Margin, Rect, ScrollArea, Ui};

use super::{heading, to_set_up};
use crate::app::looks::button::named;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::landmark;
use crate::app::looks::say::say;
use crate::app::screens::card::day_card;
use crate::app::state::{Command, Commands, DayChoice, Region, ViewState};
use crate::session::{Command as LessonCommand, Planned, Session};
use crate::view::words::{capital, clock};

/// In a wider window what is to be done stands beside what may happen.
const TWO_COLUMNS: f32 = 900.0;

/// Shows it; where its regions are.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    view: &ViewState,
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let frame = Frame::new().inner_margin(Margin::symmetric(14, 10));
    let middle = CentralPanel::default().frame(frame).show(ui, |ui| {
        landmark(ui, Region::Middle, view.region_now, "The day");
        ScrollArea::vertical().id_salt("before the day").auto_shrink(false).follow(ui, |ui| {
            match session.planned() {
                None => no_plan(ui, session, out),
                Some(planned) if session.is_today() => another_date(ui, session, planned, out),
                Some(planned) => to_begin(ui, planned, out),
            }
        });
    });
    vec![(Region::Middle, middle.response.rect)]
}

fn words(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(say(words)).wrap());
}

fn no_plan(ui: &mut Ui, session: &Session, out: &mut Commands) {
    let cannot = session.document().is_some_and(|doc| doc.lesson().is_none());
    words(
        ui,
        match cannot {
            true => {
                "The lesson cannot be planned as it stands, so it cannot be taught by its plan \
                 yet. Set up says what is missing."
            }
            false => "The lesson is being planned; its day follows.",
        },
    );
    if cannot {
        to_set_up(ui, out);
    }
}

/// A lesson of which there is no copy for the day yet.
fn to_begin(ui: &mut Ui, planned: &Planned, out: &mut Commands) {
    heading(ui, "The day on which it is taught");
    words(
        ui,
        "The day has a copy of its own, with the plan that groups are told. What happens goes \
         into the copy, at once; the lesson stays as it is.",
    );
    ui.add_space(6.0);
    named(ui, true, "Begin the day", LessonCommand::Today, None, out);
    jobs(ui, planned);
}

fn another_date(ui: &mut Ui, session: &Session, planned: &Planned, out: &mut Commands) {
    let is_gone = planned.lesson.date.is_some_and(|date| date < session.today());
    match planned.lesson.date {
        Some(date) if is_gone => heading(ui, &format!("{} is over.", date.format("%A %-d %B"))),
        Some(date) => heading(ui, &format!("Planned for {}.", date.format("%A %-d %B"))),
        None => heading(ui, "Planned for no date yet."),
    }
    words(
        ui,
        match is_gone {
            true => "What it took is noted under Afterwards; taught once more, it has another day.",
            false => {
                "Units can be told of on the day itself. What is known before may be entered now."
            }
        },
    );
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        named(ui, true, "Teach it today", LessonCommand::TeachToday, None, out);
        if session.day_over().is_some() {
            let asked = Command::Day(DayChoice::Units(false));
            let hint = "it was taught then: three questions, none of which has to be answered";
            named(ui, true, "Afterwards", asked, Some(hint.to_owned()), out);
        }
    });
    ui.add_space(10.0);
    let changed = session.changed_today();
    if ui.available_width() < TWO_COLUMNS {
        day_card::show(ui, &planned.lesson, changed, out);
        jobs(ui, planned);
        return;
    }
    ui.columns(2, |uis| {
        day_card::show(&mut uis[0], &planned.lesson, changed, out);
        // Columns spread what wraps to both margins.
        uis[1].vertical(|ui| jobs(ui, planned));
    });
}

/// What adults are asked to do before the bell, by when it begins.
fn jobs(ui: &mut Ui, planned: &Planned) {
    let lesson = &planned.lesson;
    let bell = lesson.periods[0].start;
    let rehearsal = planned.rehearsal();
    let before: Vec<String> = rehearsal
        .jobs
        .iter()
        .filter(|job| job.start_by < bell)
        .map(|job| {
            let who = job.who.map_or("nobody is named", |who| lesson.adults[who.0].name.as_str());
            format!("{} {}: {}", clock(lesson, job.start_by), capital(who), job.what)
        })
        .collect();
    if before.is_empty() {
        return;
    }
    ui.add_space(10.0);
    heading(ui, "Before the bell");
    for job in before {
        words(ui, &job);
    }
}
