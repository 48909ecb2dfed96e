//! Ingredients of a week: what all its lessons need together, and of which lesson each
//! amount is.

use eframe::egui::{self, CentralPanel, Margin, Rect, RichText, ScrollArea, Ui};

use super::{chosen, needs, table};
use crate::app::looks::button::named;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::looks::sheet::{card_beside, sheet};
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, landmark};
use crate::app::screens::week::choose_told_of;
use crate::app::state::{Command, Commands, Place, Region, ViewState};
use crate::papers::Part;
use crate::session::{Command as LessonCommand, Session, WeekCommand, WeekNeeds};
use crate::stores::{IngredientRow, UnitNeed};
use crate::week::{EntryNo, Week, where_and_when};

/// Shows the place; where its regions are.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    view: &ViewState,
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let Some(doc) = session.week_on_screen() else { return Vec::new() };
    let (week, now) = (&**doc.week(), view.region_now);
    let needed = session.week_needs();
    let palette = Palette::of(ui.ctx());
    let width = (ui.available_width() * 0.26).clamp(250.0, 360.0);
    let chosen = needed.and_then(|n| chosen(&n.page, view.week.ingredient.as_deref()));
    let right = card_beside(ui, width, ("Packet", now), |ui| {
        if let Some(needed) = needed {
            card(ui, (week, needed), chosen.as_deref(), out);
        }
    });
    let inset = Margin { left: 14, right: 10, top: 0, bottom: 12 };
    let frame = sheet(palette).outer_margin(inset);
    let middle = CentralPanel::default().frame(frame).show(ui, |ui| {
        landmark(ui, Region::Middle, now, "Ingredients");
        let told_of = (view.week.told_of, false);
        ui.horizontal_wrapped(|ui| choose_told_of(ui, week, told_of, out));
        let Some(needed) = needed else {
            ui.label(say("What the lessons need is added up once they are planned."));
            return;
        };
        let page = &needed.page;
        ui.add(egui::Label::new(RichText::new(say(&page.sentence)).font(fonts::bold(16.0))).wrap());
        needs(ui, page, out);
        if !page.shelves.is_empty() {
            table::show(ui, page, chosen.as_deref(), out);
        }
    });
    vec![(Region::Middle, middle.response.rect), (Region::Card, right)]
}

/// The card of an ingredient: how much of it each lesson needs, and the ways there.
fn card(
    ui: &mut Ui,
    (week, needed): (&Week, &WeekNeeds),
    chosen: Option<&str>,
    out: &mut Commands,
) {
    let soft = Palette::of(ui.ctx()).soft;
    let of = ("needed in the week", chosen);
    ScrollArea::vertical().id_salt(of).auto_shrink(false).follow(ui, |ui| {
        let row = chosen.and_then(|name| needed.page.row(name));
        if let Some(row) = row {
            ui.add(egui::Label::new(RichText::new(&row.name).font(fonts::bold(17.0))).wrap());
            let packs = if row.packs.is_empty() { "not known" } else { &row.packs };
            let words =
                format!("{} for the groups, {} spare; packs: {packs}", row.needed, row.spare);
            ui.add(egui::Label::new(RichText::new(say(words)).color(soft)).wrap());
            ui.add_space(4.0);
            let own =
                needed.lessons.iter().filter_map(|(e, page)| Some((*e, page.row(&row.name)?)));
            for (entry, own) in own {
                of_lesson(ui, week, (entry, own), out);
            }
            ui.add_space(4.0);
            let words = "Packets and labels are entered with each lesson, in its Ingredients.";
            ui.add(egui::Label::new(RichText::new(say(words)).color(soft)).wrap());
        }
        all_needs(ui, &needed.page.needs);
        ui.add_space(6.0);
        let words = "What labels say and who read them. It says nothing is free of anything: your \
                     school's policy and risk assessment come first.";
        let words = RichText::new(say(words)).font(fonts::plain(12.5)).color(soft);
        ui.add(egui::Label::new(words).wrap());
        named(ui, true, "Order list…", Command::PrintPart(Part::OrderList), None, out);
    });
}

/// How much of it a lesson needs, and whether its label was read there; a press opens the
/// lesson at its ingredients.
fn of_lesson(
    ui: &mut Ui,
    week: &Week,
    (number, row): (EntryNo, &IngredientRow),
    out: &mut Commands,
) {
    let Some(entry) = week.entry(number) else { return };
    let soft = Palette::of(ui.ctx()).soft;
    let name = format!("{} {}", entry.class, entry.title());
    let text = RichText::new(say(name.trim())).color(Palette::of(ui.ctx()).focus);
    if ui.add(egui::Link::new(text)).clicked() {
        out.push(LessonCommand::Week(WeekCommand::OpenLesson(number)));
        out.push(Command::Go(Place::Ingredients));
        out.push(Command::Ingredient(row.name.clone()));
    }
    let label = if row.is_read { row.read.clone() } else { "nobody yet".to_owned() };
    let when = where_and_when(week, &entry.slot);
    let words = format!("{when}: {}, {} spare; label read: {label}", row.needed, row.spare);
    let words = RichText::new(say(words)).font(fonts::plain(13.0)).color(soft);
    ui.add(egui::Label::new(words).wrap());
    ui.add_space(3.0);
}

fn all_needs(ui: &mut Ui, needs: &[UnitNeed]) {
    if needs.is_empty() {
        return;
    }
    ui.add_space(6.0);
    ui.label(RichText::new(say("Needs, by unit")).font(fonts::bold(14.0)));
    for need in needs {
        ui.add(egui::Label::new(RichText::new(say(need.told())).font(fonts::plain(13.0))).wrap());
        ui.add_space(2.0);
    }
}
