//! Papers: which sheets, on what, and every page as it will be, before the copier
//! has it.

mod choices;
mod page;
mod paper;
mod thumbs;

use eframe::egui::{self, CentralPanel, Frame, Margin, Panel, Rect, RichText, ScrollArea, Ui};

use crate::app::looks::button::button;
use crate::app::looks::landmark;
use crate::app::looks::say::say;
use crate::app::looks::sheet::sheet;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands, Papers, PapersChoice, Place, Region, ViewState};
use crate::papers::page::Page;
use crate::papers::{LaidSheet, parts_of};
use crate::session::{LaidSheets, Session};

/// Height of the strip of pages.
const STRIP: f32 = 96.0;

/// A page with the sheet it is of.
#[derive(Clone, Copy)]
struct Shown<'a> {
    sheet: &'a LaidSheet,
    page: &'a Page,
    /// Which page of its sheet, from 1.
    of_sheet: usize,
}

impl Shown<'_> {
    /// "Running order"; "Oven sheet, page 2 of 3".
    fn name(&self) -> String {
        match self.sheet.pages.len() {
            1 => self.sheet.title.clone(),
            of => format!("{}, page {} of {of}", self.sheet.title, self.of_sheet),
        }
    }
}

/// The pages of the parts that are chosen.
fn shown<'a>(laid: &'a LaidSheets, papers: &Papers) -> Vec<Shown<'a>> {
    let sheets = laid.chosen(&papers.wanted(), papers.again);
    let pages = sheets.into_iter().flat_map(|sheet| {
        let pages = sheet.pages.iter().enumerate();
        pages.map(move |(i, page)| Shown { sheet, page, of_sheet: i + 1 })
    });
    pages.collect()
}

/// Shows the place; where its regions are.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    view: &ViewState,
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let palette = Palette::of(ui.ctx());
    let week = session.week_on_screen();
    let papers = if week.is_some() { &view.week.papers } else { &view.papers };
    let laid = session.sheets();
    let card = sheet(palette);
    let whole = ui.available_width();
    let beside = Frame::new().inner_margin(Margin { left: 14, right: 6, top: 0, bottom: 8 });
    let left = Panel::left("sheets")
        .exact_size((0.24 * whole).clamp(170.0, 240.0))
        .resizable(false)
        .frame(beside)
        .show_separator_line(false)
        .show(ui, |ui| {
            landmark(ui, Region::Choices, view.region_now, "Sheets");
            let of_week = week.map(|week| (&**week.week(), view.week.told_of));
            choices::show(ui, laid, (papers, of_week), out);
        });
    let right = Panel::right("paper")
        .exact_size((0.2 * whole).clamp(140.0, 230.0))
        .resizable(false)
        .frame(card.outer_margin(Margin { left: 0, right: 14, top: 0, bottom: 12 }))
        .show_separator_line(false)
        .show(ui, |ui| {
            landmark(ui, Region::Card, view.region_now, "Paper");
            paper::show(ui, laid, papers, out);
        });
    let inset = Margin { left: 6, right: 10, top: 0, bottom: 12 };
    let middle = CentralPanel::default().frame(card.outer_margin(inset)).show(ui, |ui| {
        landmark(ui, Region::Middle, view.region_now, "Pages");
        match laid {
            Some(laid) => pages(ui, laid, papers, out),
            None => {
                ui.add(egui::Label::new(say(waits_for(session))).wrap());
                if week.is_none() && session.document().is_some_and(|doc| doc.lesson().is_none()) {
                    button(ui, true, Command::Go(Place::SetUp), None, out);
                }
            }
        }
    });
    vec![
        (Region::Choices, left.response.rect),
        (Region::Middle, middle.response.rect),
        (Region::Card, right.response.rect),
    ]
}

/// Why there are no sheets yet.
fn waits_for(session: &Session) -> &'static str {
    if session.week_on_screen().is_some() {
        return match session.is_week_settled() {
            true => "The sheets are being laid out.",
            false => "The lessons of the week are being planned; their sheets follow.",
        };
    }
    match session.document() {
        Some(doc) if doc.lesson().is_none() => {
            "The lesson cannot be planned as it stands, so there is nothing to print yet. Set up \
             says what is missing."
        }
        _ if session.is_planning() => "The lesson is being planned; its sheets follow.",
        _ => "The sheets are being laid out.",
    }
}

/// What there is in all, a page, and the strip of pages.
fn pages(ui: &mut Ui, laid: &LaidSheets, papers: &Papers, out: &mut Commands) {
    let shown = shown(laid, papers);
    ui.horizontal_wrapped(|ui| {
        button(ui, !shown.is_empty(), Command::AskPrint, None, out);
        if laid.order.is_some() || !laid.is_of_week {
            button(ui, laid.order.is_some(), Command::CopyOrder, None, out);
        }
        button(ui, !shown.is_empty(), choose(PapersChoice::Closer(!papers.closer)), None, out);
        let words = in_all(laid, papers);
        ui.add(egui::Label::new(RichText::new(say(words))).wrap());
    });
    let Some(last) = shown.len().checked_sub(1) else {
        ui.add_space(8.0);
        ui.label(say("Choose what is to be printed along the left."));
        return;
    };
    let now = papers.page.min(last);
    let room = ui.available_rect_before_wrap();
    let strip = if shown.len() > 1 { STRIP.min(0.3 * room.height()) } else { 0.0 };
    let above = Rect::from_min_max(room.min, egui::pos2(room.right(), room.bottom() - strip));
    let mut inside = ui.new_child(egui::UiBuilder::new().max_rect(above));
    let time = (!laid.is_of_week).then_some(papers.time);
    page::show(&mut inside, (&shown, now), (time, papers.closer), out);
    if strip > 0.0 {
        let below = Rect::from_min_max(egui::pos2(room.left(), above.bottom()), room.max);
        let mut inside = ui.new_child(egui::UiBuilder::new().max_rect(below));
        ScrollArea::horizontal().id_salt("pages").auto_shrink(false).show(&mut inside, |ui| {
            ui.horizontal(|ui| {
                // Room for the edge of the first.
                ui.add_space(3.0);
                thumbs::show(ui, (&shown, now), strip, out);
            });
        });
    }
    ui.advance_cursor_after_rect(room);
}

/// "12 pages: running order 1, oven sheet 1, time plan 8"; and how many sheets
/// have not changed.
fn in_all(laid: &LaidSheets, papers: &Papers) -> String {
    let wanted = papers.wanted();
    let chosen = laid.chosen(&wanted, papers.again);
    let unchanged = match laid.chosen(&wanted, true).len() - chosen.len() {
        0 => String::new(),
        1 => "; one sheet that has not changed is left out".to_owned(),
        n => format!("; {n} sheets that have not changed are left out"),
    };
    let parts = parts_of(chosen);
    let all: usize = parts.iter().map(|(_, pages)| pages).sum();
    let each = parts.iter().map(|(part, pages)| format!("{} {pages}", part.in_a_sentence()));
    let each = each.collect::<Vec<_>>().join(", ");
    match all {
        0 if unchanged.is_empty() => "Nothing is chosen.".to_owned(),
        0 => "Nothing of what is chosen has changed.".to_owned(),
        1 => format!("1 page: {each}{unchanged}."),
        _ => format!("{all} pages: {each}{unchanged}."),
    }
}

/// A choice that is made.
fn choose(choice: PapersChoice) -> Command {
    Command::Papers(choice)
}
