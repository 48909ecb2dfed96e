//! Menus in which several things are chosen one after another.

use eframe::egui::containers::menu::{MenuButton, MenuConfig};
use eframe::egui::{Button, PopupCloseBehavior};

/// A menu that stays open while things are chosen in it, until somebody presses
/// beside it or Esc: what was chosen can be seen and taken back.
pub fn staying(button: Button<'_>) -> MenuButton<'_> {
    let stays = PopupCloseBehavior::CloseOnClickOutside;
    MenuButton::from_button(button).config(MenuConfig::new().close_behavior(stays))
}
