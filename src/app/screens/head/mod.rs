//! The head of the window: the row along the top, the outcome in a sentence, and how sure
//! it is.

mod bar;
pub mod hints;
mod lesson_menu;
mod looks_menu;
mod outcome;
mod places;
mod week;

use eframe::egui::Ui;

use self::hints::{Hints, Points};
use crate::app::state::{Commands, Follows, Hint, Place, Prefs, ViewState};
use crate::model::RoomId;
use crate::session::Session;

/// What the head reads.
#[derive(Clone, Copy)]
pub struct Head<'a> {
    /// The lesson at work.
    pub session: &'a Session,
    /// What is shown of it.
    pub view: &'a ViewState,
    /// Looks and recent files.
    pub prefs: &'a Prefs,
    /// What the class view follows, if it is shown.
    pub class_view: Option<Follows>,
    /// The room that the class sees; all of them if `None`.
    pub class_view_room: Option<RoomId>,
    /// Hints of the first start.
    pub hints: Hints<'a>,
}

/// Shows the head.
pub fn show(ui: &mut Ui, head: &Head<'_>, out: &mut Commands) {
    let set_up = bar::show(ui, head, out);
    if let Some(button) = set_up {
        hints::show(ui, &head.hints, Hint::SetUp, Points::Up(button.center().x), out);
    }
    // While the lesson is taught the clock stands here.
    let is_day = head.view.place == Place::Day && head.view.help.is_none();
    let has_clock = is_day && head.session.standing_now().is_some();
    if let Some(doc) = head.session.week_on_screen() {
        week::show(ui, head, doc, out);
    } else if head.session.broken().is_none() && head.session.document().is_some() && !has_clock {
        outcome::show(ui, head, out);
    }
}
