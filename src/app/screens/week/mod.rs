//! Week: a department's week along one clock, the card of what is selected in it, and
//! the moves that would clear what does not go well.

mod board;
mod card;
mod drag;
mod strip;
mod told_of;

use std::sync::Arc;

use chrono::NaiveDate;
use eframe::egui::{CentralPanel, Frame, Margin, Panel, Rect, Ui};

use crate::app::looks::landmark;
use crate::app::looks::sheet::{card_beside, sheet};
use crate::app::looks::theme::Palette;
use crate::app::state::{Commands, Region, WeekView};
use crate::session::{Session, Tried, WeekDocument};
use crate::view::week::{Item, TroubleId};
use crate::week::{Moves, Report, Week};

pub use board::day_beside;
pub use told_of::choose_told_of;

/// The week that is shown: as it stands, or with the change that is tried.
#[derive(Clone, Copy)]
struct Shown<'a> {
    doc: &'a WeekDocument,
    week: &'a Arc<Week>,
    report: Option<&'a Arc<Report>>,
    view: &'a WeekView,
    /// Whether more is still found out.
    planning: bool,
}

impl<'a> Shown<'a> {
    /// Whether something of a day is shown: one day may be by itself.
    fn is_of(&self, date: NaiveDate) -> bool {
        self.view.day.is_none_or(|day| day == date)
    }

    fn tried(&self) -> Option<&'a Tried> {
        self.doc.tried()
    }

    /// What the strip offers moves for: what is selected, or else what does not go well
    /// first of all that is shown.
    fn trouble(&self) -> Option<(TroubleId, &'a Moves)> {
        let report: &'a Report = self.doc.report()?;
        let with_id = |moves: &'a Moves| (TroubleId::of(&moves.trouble), moves);
        let selected = match self.view.selected {
            Some(Item::Trouble(id)) => id.among(report),
            Some(Item::Entry(entry)) => {
                report.moves.iter().find(|m| m.trouble.entries().contains(&entry))
            }
            Some(Item::Room(_)) | None => None,
        };
        let first = || report.moves.iter().find(|moves| self.is_of(moves.trouble.date()));
        selected.or_else(first).map(with_id)
    }
}

/// Shows the place; where its regions are.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    (view, now): (&WeekView, Option<Region>),
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let Some(doc) = session.week() else { return Vec::new() };
    let (week, report) = match doc.tried() {
        Some(tried) => (&tried.week, tried.report.as_ref()),
        None => (doc.week(), doc.report()),
    };
    let shown = Shown { doc, week, report, view, planning: session.is_planning_week() };
    let palette = Palette::of(ui.ctx());
    let sheet = sheet(palette);
    let width = (ui.available_width() * 0.25).clamp(250.0, 380.0);
    let card = card_beside(ui, width, ("Card", now), |ui| {
        card::show(ui, &shown, out);
    });
    let mut regions = vec![(Region::Card, card)];
    if let Some((_, moves)) = shown.trouble() {
        let inset = Margin { left: 14, right: 10, top: 0, bottom: 10 };
        let moves_below = Panel::bottom("moves of the week")
            .exact_size(strip::height(ui.ctx()))
            .resizable(false)
            .frame(Frame::new().outer_margin(inset))
            .show_separator_line(false)
            .show(ui, |ui| {
                landmark(ui, Region::Offers, now, "What would clear it");
                strip::show(ui, &shown, moves, out);
            });
        regions.push((Region::Offers, moves_below.response.rect));
    }
    let inset = Margin { left: 14, right: 10, top: 0, bottom: 12 };
    let frame = sheet.inner_margin(Margin::symmetric(6, 4)).outer_margin(inset);
    let middle = CentralPanel::default().frame(frame).show(ui, |ui| {
        landmark(ui, Region::Middle, now, "Week");
        board::show(ui, &shown, out);
    });
    regions.push((Region::Middle, middle.response.rect));
    regions
}
