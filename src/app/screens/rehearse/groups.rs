//! What groups do: those who do the same together, who waits, and what has to be true
//! by when.

use eframe::egui::Ui;

use super::{Rehearsed, as_planned, heading, line, words};
use crate::app::screens::OnScreen;
use crate::view::words::{in_short, list};

/// Room for the names of groups.
const NAMES: f32 = 118.0;
/// So many minutes at which looking pays are told.
const LOOKS: usize = 3;

/// Shows it.
pub fn show(ui: &mut Ui, of: &Rehearsed<'_>, on_screen: Option<&OnScreen<'_>>) {
    as_planned(ui, of);
    for (who, what) in of.card.together() {
        line(ui, (&list(&in_short(&who)), NAMES), what);
    }
    let looks = on_screen.and_then(|shown| shown.odds).map(|odds| &odds.looks);
    let ahead = looks.into_iter().flatten().filter(|look| look.at >= of.minute());
    let ahead: Vec<&str> = ahead.take(LOOKS).map(|look| look.spoken.as_str()).collect();
    if !ahead.is_empty() {
        heading(ui, "True by then, or the odds fall");
        ahead.into_iter().for_each(|look| words(ui, look));
    }
    heading(ui, "Waits");
    let waiting = of.card.waiting();
    match waiting.is_empty() {
        true => words(ui, "Nobody."),
        false => words(ui, &list(&in_short(&waiting))),
    }
}
