//! Rehearse: the lesson minute by minute before it is taught. What is along the
//! clock, the clock, what the teacher, groups and ovens do, and the teacher's notes.
//! Nothing here changes a plan.

mod clock;
mod groups;
mod notes;
mod ovens;
mod ribbons;
mod slip;
mod you;

use std::sync::Arc;

use eframe::egui::{self, CentralPanel, Frame, Margin, Panel, Rect, RichText, ScrollArea, Ui};

use crate::app::looks::button::button;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::looks::sheet::sheet;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, landmark};
use crate::app::screens::{OnScreen, board};
use crate::app::state::{Column, Command, Commands, Place, Region, RehearseChoice, ViewState};
use crate::finding::Path;
use crate::model::Lesson;
use crate::session::{Planned, Session};
use crate::units::Minute;
use crate::view::rehearsal::{MinuteCard, Rehearsal};

/// In a narrower window there is room for one part at a time.
const THREE_COLUMNS: f32 = 1093.0;
/// In a larger one the running order lies below.
const WITH_BOARD: (f32, f32) = (1600.0, 980.0);
/// Height of the running order there.
const BOARD: f32 = 330.0;
/// Height of the notes where they lie below.
const NOTES: f32 = 108.0;
/// What a sheet takes of its height for its edge and its air.
const SHEET: f32 = 12.0;

/// What is rehearsed, and its minute.
#[derive(Clone, Copy)]
struct Rehearsed<'a> {
    session: &'a Session,
    planned: &'a Planned,
    rehearsal: &'a Arc<Rehearsal>,
    card: &'a MinuteCard,
    view: &'a ViewState,
}

impl<'a> Rehearsed<'a> {
    fn lesson(&self) -> &'a Lesson {
        &self.planned.lesson
    }

    fn minute(&self) -> Minute {
        self.card.minute
    }
}

/// Shows the place; where its regions are.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    (view, on_screen): (&ViewState, Option<&OnScreen<'_>>),
    field_now: Option<&Path>,
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let Some(of) = session.planned().and_then(|planned| rehearsed(session, planned, view)) else {
        return nothing_yet(ui, session, view, out);
    };
    let palette = Palette::of(ui.ctx());
    let sheet = sheet(palette).inner_margin(Margin::symmetric(10, 4));
    let inset = |bottom| Margin { left: 14, right: 14, top: 0, bottom };
    let now = view.region_now;
    let above = Panel::top("along the clock")
        .frame(sheet.inner_margin(Margin::symmetric(6, 2)).outer_margin(inset(4)))
        .resizable(false)
        .show_separator_line(false)
        .show(ui, |ui| {
            landmark(ui, Region::Choices, now, "Along the clock");
            ribbons::show(ui, &of, out);
        });
    Panel::top("clock of the rehearsal")
        .frame(Frame::new().outer_margin(inset(4)))
        .resizable(false)
        .show_separator_line(false)
        .show(ui, |ui| clock::show(ui, &of, out));
    let mut regions = vec![(Region::Choices, above.response.rect)];
    let room = ui.ctx().content_rect().size();
    let is_wide = ui.available_width() >= THREE_COLUMNS;
    if is_wide {
        let below = Panel::bottom("my notes")
            .frame(sheet.outer_margin(inset(10)))
            .exact_size(NOTES)
            .resizable(false)
            .show_separator_line(false)
            .show(ui, |ui| {
                landmark(ui, Region::Offers, now, "My notes");
                notes::show(ui, &of, (session, field_now), out);
            });
        regions.push((Region::Offers, below.response.rect));
    }
    if let Some(on_screen) = on_screen.filter(|_| room.x >= WITH_BOARD.0 && room.y >= WITH_BOARD.1)
    {
        Panel::bottom("running order")
            .frame(sheet.outer_margin(inset(6)))
            .exact_size(BOARD)
            .resizable(false)
            .show_separator_line(false)
            .show(ui, |ui| board::picture(ui, on_screen));
    }
    let middle =
        CentralPanel::default().frame(Frame::new().outer_margin(inset(6))).show(ui, |ui| {
            landmark(ui, Region::Middle, now, "You, groups and ovens");
            if session.shows_old_plan() {
                let words = "An old plan: of the lesson as it was before it could not be planned.";
                ui.add(egui::Label::new(RichText::new(say(words)).font(fonts::bold(15.0))).wrap());
            }
            if is_wide {
                columns(ui, &of, sheet, on_screen, out);
            } else {
                tabs(ui, &of, sheet, (session, on_screen, field_now), out);
            }
        });
    regions.push((Region::Middle, middle.response.rect));
    regions
}

fn rehearsed<'a>(
    session: &'a Session,
    planned: &'a Planned,
    view: &'a ViewState,
) -> Option<Rehearsed<'a>> {
    let rehearsal = session.rehearsal()?;
    let (first, last) = rehearsal.ends()?;
    let minute = view.minute.map_or(planned.lesson.periods[0].start, Minute::new);
    let card = rehearsal.at(minute.clamp(first, last))?;
    Some(Rehearsed { session, planned, rehearsal, card, view })
}

/// What stands here while there is no plan.
fn nothing_yet(
    ui: &mut Ui,
    session: &Session,
    view: &ViewState,
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let middle = CentralPanel::default().frame(Frame::new().inner_margin(14)).show(ui, |ui| {
        landmark(ui, Region::Middle, view.region_now, "Rehearse");
        let cannot = session.document().is_some_and(|doc| doc.lesson().is_none());
        ui.label(say(match cannot {
            true => {
                "The lesson cannot be planned as it stands, so there is nothing to rehearse yet. \
                 Set up says what is missing."
            }
            false => "The lesson is being planned; its rehearsal follows.",
        }));
        if cannot {
            button(ui, true, Command::Go(Place::SetUp), None, out);
        }
    });
    vec![(Region::Middle, middle.response.rect)]
}

fn columns(
    ui: &mut Ui,
    of: &Rehearsed<'_>,
    sheet: Frame,
    on_screen: Option<&OnScreen<'_>>,
    out: &mut Commands,
) {
    let height = ui.available_height();
    ui.columns(3, |uis| {
        let parts = [Column::You, Column::Groups, Column::Ovens];
        for (ui, part) in uis.iter_mut().zip(parts) {
            sheet.show(ui, |ui| {
                ui.set_width(ui.available_width());
                ui.set_height((height - SHEET).max(60.0));
                ui.label(RichText::new(say(part.name())).font(fonts::bold(17.0)));
                column(ui, of, part, on_screen, out);
            });
        }
    });
}

fn tabs(
    ui: &mut Ui,
    of: &Rehearsed<'_>,
    sheet: Frame,
    (session, on_screen, field_now): (&Session, Option<&OnScreen<'_>>, Option<&Path>),
    out: &mut Commands,
) {
    let chosen = of.view.rehearsing.column;
    ui.horizontal(|ui| {
        for part in Column::ALL {
            let tab = egui::Button::selectable(part == chosen, say(part.name()));
            if ui.add(tab).clicked() {
                out.push(Command::Rehearse(RehearseChoice::Column(part)));
            }
        }
    });
    let height = ui.available_height();
    sheet.show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.set_height((height - SHEET).max(40.0));
        match chosen {
            Column::Notes => notes::show(ui, of, (session, field_now), out),
            part => column(ui, of, part, on_screen, out),
        }
    });
}

fn column(
    ui: &mut Ui,
    of: &Rehearsed<'_>,
    part: Column,
    on_screen: Option<&OnScreen<'_>>,
    out: &mut Commands,
) {
    ScrollArea::vertical().id_salt(part.name()).auto_shrink(false).follow(ui, |ui| match part {
        Column::You | Column::Notes => you::show(ui, of, out),
        Column::Groups => groups::show(ui, of, on_screen),
        Column::Ovens => ovens::show(ui, of),
    });
}

/// A heading within a part.
fn heading(ui: &mut Ui, words: &str) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.add_space(5.0);
    ui.label(RichText::new(say(words)).font(fonts::bold(13.5)).color(soft));
}

/// Words that go on in further lines.
fn words(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(say(words)).wrap());
}

/// Says it where a slip is thrown in and what comes of it is not known: what stands below is
/// told without it.
fn as_planned(ui: &mut Ui, of: &Rehearsed<'_>) {
    let unknown = of.session.slip().filter(|slip| slip.rehearsal.is_none());
    let Some(slip) = unknown.filter(|slip| slip.at <= of.card.at) else { return };
    words(ui, &format!("As planned, without this: {}.", slip.what.words()));
}

/// Bold words of a width of their own, and words beside them.
fn line(ui: &mut Ui, (bold, width): (&str, f32), beside: &str) {
    ui.horizontal_top(|ui| {
        let left = ui.cursor().left();
        ui.allocate_ui(egui::vec2(width, 0.0), |ui| {
            let bold = RichText::new(say(bold)).font(fonts::bold(14.5));
            ui.add(egui::Label::new(bold).wrap());
        });
        ui.add_space((left + width - ui.cursor().left()).max(0.0));
        ui.allocate_ui(egui::vec2(ui.available_width(), 0.0), |ui| words(ui, beside));
    });
}
