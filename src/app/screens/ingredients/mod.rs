//! Ingredients: what is needed, what labels say and who read them, and whom of the
//! groups that concerns.

mod card;
mod instead;
mod label;
mod of_week;
mod table;

use eframe::egui::{self, CentralPanel, Margin, Rect, RichText, Ui};

use crate::app::looks::button::button;
use crate::app::looks::say::{english, say};
use crate::app::looks::sheet::{card_beside, sheet};
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, landmark};
use crate::app::state::{Command, Commands, Place, Region, ViewState};
use crate::finding::Path;
use crate::session::Session;
use crate::speech::allergens;
use crate::stores::IngredientsPage;

pub use of_week::show as show_week;

/// Shows the place; where its regions are.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    (view, field_now): (&ViewState, Option<&Path>),
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let palette = Palette::of(ui.ctx());
    let now = view.region_now;
    let page = page_of(session);
    let sheet = sheet(palette);
    let width = (ui.available_width() * 0.26).clamp(250.0, 360.0);
    let chosen = page.as_ref().and_then(|page| chosen(page, view.ingredient.as_deref()));
    let right = card_beside(ui, width, ("Packet", now), |ui| {
        if let Some(page) = &page {
            card::show(ui, session, (page, chosen.as_deref()), field_now, out);
        }
    });
    let inset = Margin { left: 14, right: 10, top: 0, bottom: 12 };
    let middle = CentralPanel::default().frame(sheet.outer_margin(inset)).show(ui, |ui| {
        landmark(ui, Region::Middle, now, "Ingredients");
        let Some(page) = &page else {
            let words = "The lesson cannot be read as it stands; Set up says what is missing.";
            ui.add(egui::Label::new(say(words)).wrap());
            button(ui, true, Command::Go(Place::SetUp), None, out);
            return;
        };
        ui.add(egui::Label::new(RichText::new(say(&page.sentence)).font(fonts::bold(16.0))).wrap());
        needs(ui, page, out);
        if page.shelves.is_empty() {
            button(ui, true, Command::Go(Place::SetUp), None, out);
            return;
        }
        table::show(ui, page, chosen.as_deref(), out);
    });
    vec![(Region::Middle, middle.response.rect), (Region::Card, right)]
}

/// Most lines that needs have above the table; all of them stand on the card.
const MOST_NEEDS: usize = 3;

/// Units with needs, each a way to the label that is in question.
fn needs(ui: &mut Ui, page: &IngredientsPage, out: &mut Commands) {
    for need in page.needs.iter().take(MOST_NEEDS) {
        let words = RichText::new(say(need.told())).font(fonts::plain(13.5));
        match need.first() {
            Some(ingredient) => {
                if ui.add(egui::Link::new(words)).clicked() {
                    out.push(Command::Ingredient(ingredient.to_owned()));
                }
            }
            None => {
                ui.add(egui::Label::new(words).wrap());
            }
        }
    }
    if page.needs.len() > MOST_NEEDS {
        let more = format!("{} more needs stand on the right.", page.needs.len() - MOST_NEEDS);
        let soft = Palette::of(ui.ctx()).soft;
        ui.label(RichText::new(say(more)).color(soft));
    }
}

/// The page of the lesson that the plan on screen is of; before there is a plan, of
/// the lesson as it stands.
fn page_of(session: &Session) -> Option<IngredientsPage> {
    let law = allergens::list(english());
    if let Some(planned) = session.planned() {
        return Some(IngredientsPage::of(&planned.lesson, Some(&planned.plan), law));
    }
    let lesson = session.document()?.lesson()?;
    Some(IngredientsPage::of(lesson, None, law))
}

/// The ingredient that was chosen, or else the first whose label nobody has read, or
/// else the first.
fn chosen(page: &IngredientsPage, wanted: Option<&str>) -> Option<String> {
    if let Some(row) = wanted.and_then(|name| page.row(name)) {
        return Some(row.name.clone());
    }
    let rows = || page.shelves.iter().flat_map(|(_, rows)| rows);
    let row = rows().find(|row| !row.is_read).or_else(|| rows().next());
    row.map(|row| row.name.clone())
}
