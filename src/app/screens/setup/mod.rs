//! Setting up: pages of fields, each a part of the lesson's file, with their
//! list along the left.

mod adults;
mod at_home;
mod class_steps;
mod groups;
mod kit;
mod lesson;
mod library;
mod needs;
mod ovens;
mod rail;
mod recipe;
mod room;
mod start;
mod tins;

use eframe::egui::{self, CentralPanel, Frame, Margin, Panel, Ui};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::form::{Form, field_id};
use crate::app::looks::sheet::sheet;
use crate::app::looks::theme::Palette;
use crate::app::state::{Commands, Page};
use crate::finding::{Finding, Path};
use crate::session::Session;

/// Shows a page, and gives a field the keyboard if one is named.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    page: Page,
    field_now: Option<&Path>,
    out: &mut Commands,
) {
    let Some(doc) = session.document() else { return };
    let palette = Palette::of(ui.ctx());
    let fields = egui::Id::unique("fields of a page of setting up");
    let findings: Vec<Finding> = doc.to_do.iter().chain(&doc.warnings).cloned().collect();
    let mut form = Form::new(doc, &findings, (session.refused(), session.today()), out);
    form.class_took = session.class_took();
    form.fields_before = ui.data(|d| d.get_temp(fields)).unwrap_or_default();
    let rail = Frame::new().inner_margin(Margin { left: 14, right: 10, top: 0, bottom: 8 });
    Panel::left("rail")
        .exact_size(206.0)
        .resizable(false)
        .frame(rail)
        .show_separator_line(false)
        .show(ui, |ui| rail::rail(ui, page, &mut form));
    let sheet = sheet(palette).inner_margin(Margin::same(12)).outer_margin(Margin {
        left: 0,
        right: 14,
        top: 0,
        bottom: 12,
    });
    CentralPanel::default().frame(sheet).show(ui, |ui| {
        show_page(ui, page, &mut form, session);
    });
    if let Some(next) = form.goes_on_to {
        ui.memory_mut(|m| m.request_focus(next));
    }
    let shown = std::mem::take(&mut form.fields);
    ui.data_mut(|d| d.insert_temp(fields, shown));
    if let Some(at) = field_now {
        ui.memory_mut(|m| m.request_focus(field_id(doc.id(), at)));
    }
}

fn show_page(ui: &mut Ui, page: Page, form: &mut Form<'_>, session: &Session) {
    let shelves = session.library();
    // What is wider than a narrow window is scrolled to; words wrap before it.
    let width = ui.available_width() - ui.spacing().scroll.allocated_width();
    // Notes have a place of their own.
    let height = ui.available_height() - Form::foot_height(ui);
    let page_area = egui::ScrollArea::both().id_salt(("page", page_name(page))).max_height(height);
    page_area.auto_shrink(false).follow(ui, |ui| {
        ui.set_max_width(width);
        match page {
            Page::Start => start::show(ui, form, shelves),
            Page::Lesson => lesson::show(ui, form),
            Page::Adults => adults::show(ui, form, session),
            Page::Room(i) => room::show(ui, form, i, shelves),
            Page::Recipe(i) => recipe::show(ui, form, i, shelves),
            Page::Review(i) => recipe::review::show(ui, form, i, shelves),
            Page::Groups => groups::show(ui, form, shelves),
            Page::Tins => tins::show(ui, form, shelves),
        }
        ui.add_space(16.0);
    });
    form.foot(ui);
}

fn page_name(page: Page) -> String {
    format!("{page:?}")
}
