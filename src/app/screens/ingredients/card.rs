//! The card of an ingredient: its packet, how it is bought, and what needs of groups
//! stand to all labels.

use chrono::NaiveDate;
use eframe::egui::{self, RichText, ScrollArea, Ui};

use super::{instead, label};
use crate::app::looks::button::named;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form, field_id};
use crate::app::looks::say::say;
use crate::app::looks::theme::Palette;
use crate::app::state::{Command, Commands};
use crate::edit::Edit;
use crate::file::format::{FromShape, LessonFile, MeasureShape, PacketShape};
use crate::finding::{Finding, Path};
use crate::papers::Part;
use crate::session::Session;
use crate::setup::field;
use crate::setup::packets::{packet_mut, place_of, swap};
use crate::stores::{IngredientRow, IngredientsPage, UnitNeed};
use crate::units::plain_number;

/// Who brings an ingredient, as it is chosen.
const FROM: [(&str, FromShape); 3] =
    [("school", FromShape::School), ("home", FromShape::Home), ("either", FromShape::Either)];
/// Measures a packet is told in.
const HOLDS: [(&str, MeasureShape); 8] = [
    ("g", MeasureShape::Gram),
    ("kg", MeasureShape::Kilogram),
    ("ml", MeasureShape::Millilitre),
    ("l", MeasureShape::Litre),
    ("eggs", MeasureShape::Egg),
    ("oz", MeasureShape::Ounce),
    ("lb", MeasureShape::Pound),
    ("tsp", MeasureShape::Teaspoon),
];

/// Shows it.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    (page, chosen): (&IngredientsPage, Option<&str>),
    field_now: Option<&Path>,
    out: &mut Commands,
) {
    let Some(doc) = session.document() else { return };
    let findings: Vec<Finding> = Vec::new();
    let mut form = Form::new(doc, &findings, (session.refused(), session.today()), out);
    ScrollArea::vertical().id_salt("packet").auto_shrink(false).follow(ui, |ui| {
        if let Some(row) = chosen.and_then(|name| page.row(name)) {
            ingredient(ui, &mut form, row);
        }
        needs(ui, &mut form, page);
        ui.add_space(6.0);
        let words = "What labels say and who read them. It says nothing is free of anything: your \
                     school's policy and risk assessment come first.";
        let soft = Palette::of(ui.ctx()).soft;
        let words = RichText::new(say(words)).font(fonts::plain(12.5)).color(soft);
        ui.add(egui::Label::new(words).wrap());
        ui.horizontal_wrapped(|ui| {
            for (name, part) in
                [("Order list…", Part::OrderList), ("Letter home…", Part::LetterHome)]
            {
                named(ui, true, name, Command::PrintPart(part), None, form.out);
            }
        });
    });
    if let Some(at) = field_now {
        ui.memory_mut(|m| m.request_focus(field_id(doc.id(), at)));
    }
}

fn ingredient(ui: &mut Ui, form: &mut Form<'_>, row: &IngredientRow) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.add(egui::Label::new(RichText::new(&row.name).font(fonts::bold(17.0))).wrap());
    let words = format!("{} for the groups, {} spare", row.needed, row.spare);
    ui.label(RichText::new(say(words)).color(soft));
    let at = place_of(form.file, &row.name);
    let packet = form.file.packets.get(at).cloned().unwrap_or_default();
    let path = Path::root().field("packets").index(at);
    label::show(ui, form, (&row.name, &packet), &path);
    ui.add_space(6.0);
    ui.label(RichText::new(say("How it is bought")).font(fonts::bold(14.0)));
    bought(ui, form, (&row.name, &packet), &path);
    instead::show(ui, form, &row.name);
    form.told_of_all(&path);
    for note in &form.notes {
        ui.add(egui::Label::new(RichText::new(say(note)).font(fonts::bold(13.0))).wrap());
    }
}

/// A field below its name: the card is narrow.
fn line(
    ui: &mut Ui,
    form: &mut Form<'_>,
    (name, hint): (&str, &str),
    (of, at): (&str, Path),
    shown: &str,
    put: impl FnOnce(&str, &mut PacketShape) -> Result<(), String>,
) {
    let soft = Palette::of(ui.ctx()).soft;
    let width = (ui.available_width() - 132.0).clamp(80.0, 200.0);
    ui.horizontal(|ui| {
        let (rect, _) = ui.allocate_exact_size(egui::vec2(86.0, 24.0), egui::Sense::hover());
        let font = fonts::plain(13.0);
        let align = egui::Align2::LEFT_CENTER;
        ui.painter().text(rect.left_center(), align, say(name), font, soft);
        let field = Field::new(at, format!("{of}, {name}")).hint(hint).width(width);
        form.cell(ui, &field, shown, |text, file| put(text, packet_mut(file, of)));
    });
}

fn bought(ui: &mut Ui, form: &mut Form<'_>, (name, packet): (&str, &PacketShape), path: &Path) {
    let today: NaiveDate = form.today;
    let at = |field: &str| (name, path.field(field));
    line(ui, form, ("brand", "not said"), at("brand"), &packet.brand, |text, packet| {
        swap(packet, field::line(text)?);
        Ok(())
    });
    ui.horizontal(|ui| {
        let holds = packet.holds.map(plain_number).unwrap_or_default();
        let soft = Palette::of(ui.ctx()).soft;
        let (rect, _) = ui.allocate_exact_size(egui::vec2(86.0, 24.0), egui::Sense::hover());
        let align = egui::Align2::LEFT_CENTER;
        ui.painter().text(rect.left_center(), align, say("a pack holds"), fonts::plain(13.0), soft);
        let field = Field::new(path.field("holds"), format!("{name}, a pack holds")).width(60.0);
        form.cell(ui, &field, &holds, |text, file| {
            let holds = field::optional(text, |text| field::number(text, (0.01, 100_000.0), ""))?;
            packet_mut(file, name).holds = holds;
            Ok(())
        });
        let now = packet.unit.unwrap_or(MeasureShape::Gram);
        let options = HOLDS.map(|(words, unit)| (words.to_owned(), unit == now));
        let field =
            Field::new(path.field("unit"), format!("{name}, measure of a pack")).width(64.0);
        form.choose(ui, &field, &options, |file, k| {
            packet_mut(file, name).unit = Some(HOLDS[k].1).filter(|u| *u != MeasureShape::Gram);
        });
    });
    line(ui, form, ("supplier", "not said"), at("supplier"), &packet.supplier, |text, packet| {
        packet.supplier = field::line(text)?;
        Ok(())
    });
    line(ui, form, ("stands in", "fridge"), at("store"), &packet.store, |text, packet| {
        packet.store = field::line(text)?;
        Ok(())
    });
    let price = packet.price.map(plain_number).unwrap_or_default();
    line(ui, form, ("price", "not known"), at("price"), &price, |text, packet| {
        packet.price = field::optional(text, |text| field::number(text, (0.0, 100_000.0), ""))?;
        Ok(())
    });
    let on = packet.priced_on.clone().unwrap_or_default();
    line(ui, form, ("price on", "2026-11-02"), at("priced_on"), &on, |text, packet| {
        packet.priced_on = field::optional(text, |text| field::date(text, today))?;
        Ok(())
    });
    ui.horizontal_wrapped(|ui| {
        ui.label(say("Comes from"));
        for (words, from) in FROM {
            let is = packet.from == from;
            if ui.radio(is, say(words)).clicked() && !is {
                let what = format!("{name} comes from {words}");
                form.enter(path.field("from"), what, |file: &mut LessonFile| {
                    packet_mut(file, name).from = from;
                });
            }
        }
    });
}

fn needs(ui: &mut Ui, form: &mut Form<'_>, page: &IngredientsPage) {
    if page.needs.is_empty() {
        return;
    }
    let soft = Palette::of(ui.ctx()).soft;
    ui.add_space(6.0);
    ui.label(RichText::new(say("Needs, by unit")).font(fonts::bold(14.0)));
    for of in &page.needs {
        ui.horizontal_wrapped(|ui| {
            ui.label(RichText::new(&of.unit).font(fonts::bold(13.5)));
            ui.label(say(&of.need.need));
        });
        let told = RichText::new(say(of.need.told())).font(fonts::plain(13.0)).color(soft);
        ui.add(egui::Label::new(told).wrap());
        apart(ui, form, of);
    }
}

/// Keeping a unit's mixture apart is offered, and never done unasked.
fn apart(ui: &mut Ui, form: &mut Form<'_>, of: &UnitNeed) {
    if of.is_apart {
        let soft = Palette::of(ui.ctx()).soft;
        ui.label(
            RichText::new(say("Its mixture is kept apart.")).font(fonts::plain(13.0)).color(soft),
        );
        return;
    }
    let button = ui.button(say("Keep apart"));
    let spoken = format!("Keep {} apart", of.unit);
    ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(say(spoken)));
    let hint = "in no oven with others, and with no kit that touches food after them";
    if button.on_hover_text(say(hint)).clicked() {
        form.make(&Edit::Apart { group: of.unit.clone() });
    }
}
