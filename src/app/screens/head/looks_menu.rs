//! How the window looks, and in whose words it speaks.

use eframe::egui::{self, Ui};

use super::Head;
use crate::app::looks::button::named;
use crate::app::looks::menu::staying;
use crate::app::looks::say::say;
use crate::app::state::{Command, Commands, Prefs};
use crate::speech::English;

/// Shows the menu. It stays open, so that what was chosen can be seen and taken
/// back.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    staying(egui::Button::new(say("Looks"))).ui(ui, |ui| {
        let (least, most, step) = Prefs::TEXT;
        let (text, step) = (head.prefs.text, i32::try_from(step).unwrap_or(10));
        ui.horizontal(|ui| {
            let smaller = Some("smaller text".to_owned());
            named(ui, text > least, "A−", Command::Text(-step), smaller, out);
            ui.label(say(format!("Text {text} %")));
            let larger = Some("larger text".to_owned());
            named(ui, text < most, "A+", Command::Text(step), larger, out);
        });
        let switches = [
            ("Dark", head.prefs.dark, Command::ToggleTheme),
            (Command::ToggleContrast.label(), head.prefs.contrast, Command::ToggleContrast),
            (Command::ToggleMotion.label(), !head.prefs.glide, Command::ToggleMotion),
        ];
        for (label, on, command) in switches {
            let mut on = on;
            let switch = ui.checkbox(&mut on, say(label));
            let switch = match command.keys() {
                Some(keys) => switch.on_hover_text(ui.ctx().format_shortcut(&keys)),
                None => switch,
            };
            if switch.changed() {
                out.push(command);
            }
        }
        englishes(ui, head, out);
    });
}

/// Whose words, units and allergen list.
fn englishes(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    ui.separator();
    for english in English::ALL {
        let now = head.prefs.english == english;
        let button = ui.add(egui::Button::selectable(now, say(english.label())));
        if button.on_hover_text(english.what()).clicked() {
            out.push(Command::English(english));
            ui.close();
        }
    }
}
