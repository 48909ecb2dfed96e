//! What a label names, who read it and when: noted all at once, and never without
//! initials.

use eframe::egui::{self, Id, RichText, TextEdit, Ui};

use crate::app::looks::fonts;
use crate::app::looks::form::{Form, field_id};
use crate::app::looks::say::{english, say};
use crate::app::looks::theme::Palette;
use crate::file::format::PacketShape;
use crate::finding::Path;
use crate::setup::packets::LabelRead;
use crate::setup::{field, written};
use crate::speech::allergens::{self, Allergen};

/// What is typed and not noted yet.
#[derive(Debug, Clone, Default)]
struct Draft {
    names: String,
    by: String,
}

/// Shows it.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, (name, packet): (&str, &PacketShape), path: &Path) {
    let soft = Palette::of(ui.ctx()).soft;
    ui.add_space(6.0);
    ui.label(RichText::new(say("The label names")).font(fonts::bold(14.0)));
    if let Some(names) = &packet.names {
        let on = packet.read_on.as_deref().map_or(String::new(), |on| format!(" on {on}"));
        let names = match names.as_slice() {
            [] => "none of the list".to_owned(),
            names => names.join(", "),
        };
        ui.add(egui::Label::new(RichText::new(say(names)).font(fonts::bold(13.5))).wrap());
        ui.label(RichText::new(say(format!("read by {}{on}", packet.read_by))).color(soft));
        if ui.button(say("Another packet: not known again")).clicked() {
            form.make(&LabelRead { of: name.to_owned(), read: None });
        }
        return;
    }
    // One's own initials are the same at the next ingredient.
    let key = Id::unique(("label", form.doc.id(), name));
    let initials = Id::unique(("initials", form.doc.id()));
    let mut draft: Draft = ui.data(|d| d.get_temp(key)).unwrap_or_default();
    if draft.by.is_empty() {
        draft.by = ui.data(|d| d.get_temp(initials)).unwrap_or_default();
    }
    let law = allergens::list(english());
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing = egui::vec2(4.0, 4.0);
        for allergen in law.allergens {
            chip(ui, allergen, &mut draft.names);
        }
    });
    typed(
        ui,
        &mut draft.names,
        ("as printed: wheat, milk", path.field("names"), name),
        form,
        400.0,
    );
    ui.horizontal(|ui| {
        ui.label(say("Read by"));
        let field = path.field("read_by");
        typed(ui, &mut draft.by, ("initials", field, name), form, 70.0);
    });
    let read = written::allergens(&draft.names);
    let by = field::line(&draft.by).unwrap_or_default();
    let is_signed = !by.trim().is_empty();
    let none = matches!(read, Ok(None));
    let words = match none {
        true => format!("It names none of the {}", law.allergens.len()),
        false => "Note this label".to_owned(),
    };
    let button = ui.add_enabled(is_signed && read.is_ok(), egui::Button::new(say(words)));
    let button = button.on_disabled_hover_text(say("who read it puts initials to it"));
    if button.clicked() {
        let names = read.clone().ok().flatten().unwrap_or_default();
        let on = Some(form.today.to_string());
        form.make(&LabelRead { of: name.to_owned(), read: Some((names, by.clone(), on)) });
        ui.data_mut(|d| d.insert_temp(initials, by));
        draft = Draft::default();
    }
    if let Err(why) = &read {
        ui.add(egui::Label::new(RichText::new(say(why)).font(fonts::bold(13.0))).wrap());
    }
    ui.data_mut(|d| d.insert_temp(key, draft));
    let words =
        "Initials, as on your school's own sheet. Another brand puts this back to not known.";
    let words = RichText::new(say(words)).font(fonts::plain(12.5)).color(soft);
    ui.add(egui::Label::new(words).wrap());
}

/// An allergen of the law, which a press writes among the names or takes out.
fn chip(ui: &mut Ui, allergen: &Allergen, names: &mut String) {
    let words: Vec<&str> = names.split(',').map(str::trim).filter(|w| !w.is_empty()).collect();
    let is = words.iter().any(|word| allergen.is_named_by(word));
    let shown = RichText::new(say(allergen.short())).font(fonts::plain(12.5));
    let response = ui.add(egui::Button::new(shown).selected(is).min_size(egui::vec2(0.0, 22.0)));
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(say(allergen.name)));
    if response.clicked() {
        let mut words: Vec<&str> =
            words.into_iter().filter(|word| !allergen.is_named_by(word)).collect();
        if !is {
            words.push(allergen.name);
        }
        *names = words.join(", ");
    }
}

fn typed(
    ui: &mut Ui,
    text: &mut String,
    (hint, at, name): (&str, Path, &str),
    form: &Form<'_>,
    width: f32,
) {
    let id = field_id(form.doc.id(), &at);
    let soft = Palette::of(ui.ctx()).soft;
    let edit = TextEdit::singleline(text)
        .id(id)
        .hint_text(RichText::new(say(hint)).color(soft))
        .desired_width(width.min(ui.available_width() - 30.0));
    ui.add(edit);
    let spoken = say(format!("{name}, {hint}")).into_owned();
    ui.ctx().accesskit_node_builder(id, |node| node.set_label(spoken));
}
