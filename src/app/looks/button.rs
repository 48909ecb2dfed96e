//! Buttons for commands, with their keys where the pointer rests on them.

use eframe::egui::{self, Response, Ui};

use super::say::say;
use crate::app::state::{Command, Commands};

/// A button for a command, by the command's own name; whether it was pressed.
pub fn button(
    ui: &mut Ui,
    enabled: bool,
    command: impl Into<Command>,
    hint: Option<String>,
    out: &mut Commands,
) -> bool {
    let command = command.into();
    let label = command.label();
    named(ui, enabled, label, command, hint, out)
}

/// A button for a command with a label of its own; whether it was pressed.
pub fn named(
    ui: &mut Ui,
    enabled: bool,
    label: &str,
    command: impl Into<Command>,
    hint: Option<String>,
    out: &mut Commands,
) -> bool {
    shown_as(ui, enabled, label, command.into(), hint, out).clicked()
}

/// A button for a command as the toolkit's response: where it is and what was
/// done to it.
pub fn shown_as(
    ui: &mut Ui,
    enabled: bool,
    label: &str,
    command: Command,
    hint: Option<String>,
    out: &mut Commands,
) -> Response {
    let keys = command.keys().map(|keys| ui.ctx().format_shortcut(&keys));
    let hint = match (hint, keys) {
        (Some(hint), Some(keys)) => format!("{hint} ({keys})"),
        (Some(text), None) | (None, Some(text)) => text,
        (None, None) => String::new(),
    };
    let response = ui.add_enabled(enabled, egui::Button::new(say(label)));
    let response = if hint.is_empty() { response } else { response.on_hover_text(say(hint)) };
    if response.clicked() {
        out.push(command);
    }
    response
}
