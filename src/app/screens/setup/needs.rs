//! What a group needs: in free words, and ticked from the allergens that the
//! law of the country names.

use eframe::egui::{self, RichText, Ui};

use crate::app::looks::follow::Follow as _;
use crate::app::looks::fonts;
use crate::app::looks::form::{Field, Form};
use crate::app::looks::say::{english, say};
use crate::app::looks::theme::Palette;
use crate::file::format::GroupShape;
use crate::finding::Path;
use crate::setup::field;
use crate::speech::allergens::{self, Allergen};

/// Shows the field and the list.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, (i, group): (usize, &GroupShape), at: &Path) {
    let soft = Palette::of(ui.ctx()).soft;
    let at = at.field("needs");
    ui.label(RichText::new(say("needs")).color(soft));
    let needs =
        Field::new(at.clone(), format!("{}, needs", group.name)).hint("none entered").width(230.0);
    form.cell(ui, &needs, &group.needs.join(", "), |text, file| {
        let needs = field::words(text)?;
        if let Some(group) = file.groups.get_mut(i) {
            group.needs = needs;
        }
        Ok(())
    });
    let menu = ui.menu_button(say("Allergens"), |ui| list(ui, form, (i, group), &at));
    let spoken = format!("{}, allergens to choose from", group.name);
    ui.ctx().accesskit_node_builder(menu.response.id, |node| node.set_label(say(spoken)));
}

fn list(ui: &mut Ui, form: &mut Form<'_>, (i, group): (usize, &GroupShape), at: &Path) {
    let soft = Palette::of(ui.ctx()).soft;
    let list = allergens::list(english());
    ui.set_max_width(430.0);
    ui.label(RichText::new(say(list.title)).font(fonts::bold(14.0)));
    let height = (ui.ctx().content_rect().height() - 230.0).clamp(120.0, 420.0);
    egui::ScrollArea::vertical().max_height(height).follow(ui, |ui| {
        for allergen in list.allergens {
            let ticked = group.needs.iter().any(|need| need == allergen.need);
            let label = words(allergen);
            form.tick(ui, at, &label, ticked, |file, now| {
                if let Some(group) = file.groups.get_mut(i) {
                    super::lesson::keep(&mut group.needs, allergen.need, now);
                }
            });
        }
    });
    for text in [list.note, allergens::UNKNOWN, allergens::FIRST] {
        ui.add(egui::Label::new(RichText::new(say(text)).font(fonts::plain(13.0))).wrap());
    }
    let source = RichText::new(say(list.source)).font(fonts::plain(13.0)).color(soft);
    ui.add(egui::Label::new(source).wrap());
}

/// "made without fish", "made without molluscs: mussels, oysters, …".
fn words(allergen: &Allergen) -> String {
    match allergen.note {
        "" => allergen.need.to_owned(),
        note => format!("{}: {note}", allergen.need),
    }
}
