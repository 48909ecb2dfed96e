//! The class view in a window of its own, for a projector, or over the whole
//! of this one where there can be but one. What it follows is chosen in the
//! teacher's window. It wakes when the minute changes, and not before.

use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use eframe::egui::{self, Key, Modifiers, Ui, ViewportBuilder, ViewportCommand, ViewportId};

use super::App;
use crate::app::looks::icon::icon;
use crate::app::screens::class_view;
use crate::app::state::{Command, Follows};
use crate::check::CheckedPlan;
use crate::model::{Lesson, RoomId};
use crate::play::Standing;
use crate::session::Clock;
use crate::units::Minute;
use crate::view::class_view::ClassView;

/// Minutes before and after a lesson within which the clock is followed at
/// first, if the lesson has no date.
const ABOUT: i32 = 60;

/// The class view.
#[derive(Default)]
pub struct Projector {
    /// It is shown.
    pub open: bool,
    /// What it follows.
    pub follows: Follows,
    /// The room that is shown; all of them if `None`.
    pub room: Option<RoomId>,
    /// What was pressed in its own window.
    pressed: Arc<Mutex<Pressed>>,
    /// What its window was last given.
    given: Option<Given>,
}

/// Keys pressed in the window of the class view.
#[derive(Debug, Clone, Copy, Default)]
struct Pressed {
    close: bool,
    steps: i32,
}

/// What is shown: a plan and the minute chosen, if any.
#[derive(Clone)]
struct Given {
    lesson: Arc<Lesson>,
    plan: Arc<CheckedPlan>,
    minute: Option<i32>,
    room: Option<RoomId>,
    /// What was told of groups, where it goes by the clock of the lesson's day.
    told: Option<Arc<Standing>>,
    clock: Clock,
}

impl Given {
    fn is(&self, other: &Given) -> bool {
        Arc::ptr_eq(&self.lesson, &other.lesson)
            && Arc::ptr_eq(&self.plan, &other.plan)
            && self.minute == other.minute
            && self.room == other.room
            && self.told == other.told
            && self.clock == other.clock
    }

    fn view(&self) -> ClassView {
        let minute =
            self.minute.map_or_else(|| by_the_clock(&self.lesson, &self.clock), Minute::new);
        let told = self.told.as_deref().map(|told| (&*self.plan, told));
        ClassView::of_room(&self.lesson, &*self.plan, minute, (self.room, told))
    }

    /// Paints it, and asks to be painted again when the minute changes.
    fn show(&self, ui: &mut Ui) {
        class_view::show(ui, &self.view());
        if self.minute.is_none()
            && let Some(left) = self.clock.to_the_next_minute()
        {
            ui.ctx().request_repaint_after(left);
        }
    }
}

/// The minute of the lesson that it is by the clock.
fn by_the_clock(lesson: &Lesson, clock: &Clock) -> Minute {
    let start = lesson.periods[0].start_clock;
    clock.now().map_or(Minute::BELL, |now| Minute::BELL + now.minutes_since(start))
}

fn id() -> ViewportId {
    ViewportId::from_hash_of("class view")
}

impl App {
    /// Opens or closes the class view.
    pub(super) fn toggle_class_view(&mut self) {
        self.projector.open = !self.projector.open;
        self.projector.given = None;
        if self.projector.open {
            self.projector.follows = self.follows_at_first();
            self.line_for_class_view();
        }
    }

    /// The class view follows the clock or the minute line.
    pub(super) fn class_view_follows(&mut self, follows: Follows) {
        self.projector.follows = follows;
        self.line_for_class_view();
    }

    /// Whether the class view is shown, and what it follows.
    pub fn class_view(&self) -> Option<Follows> {
        self.projector.open.then_some(self.projector.follows)
    }

    /// The clock on the lesson's day, or about its hour; else the minute line.
    fn follows_at_first(&self) -> Follows {
        let Some(planned) = self.session.planned() else { return Follows::Clock };
        let (lesson, today) = (&planned.lesson, self.session.today());
        let end = lesson.periods.iter().map(|p| p.end).max().unwrap_or_default();
        let now = by_the_clock(lesson, self.session.clock()).get();
        let about = -ABOUT <= now && now < end.get() + ABOUT;
        match lesson.date {
            Some(date) if date != today => Follows::Line,
            None if !about => Follows::Line,
            _ => Follows::Clock,
        }
    }

    /// Puts up the minute line if the class view follows it and none is shown.
    fn line_for_class_view(&mut self) {
        let follows = self.projector.open && self.projector.follows == Follows::Line;
        if follows && self.view.minute.is_none() {
            self.apply(Command::StepMinute(0));
        }
    }

    fn given(&self) -> Option<Given> {
        let planned = self.session.planned()?;
        let (lesson, plan) = (Arc::clone(&planned.lesson), Arc::clone(&planned.plan));
        let line = self.view.minute.unwrap_or(lesson.periods[0].start.get());
        let minute = (self.projector.follows == Follows::Line).then_some(line);
        // Another lesson may have fewer rooms.
        let room = self.projector.room.filter(|room| room.0 < lesson.rooms.len());
        let now = self.session.standing_now().filter(|_| minute.is_none());
        let now = now.filter(|now| Arc::ptr_eq(&now.told.1, &plan));
        let told = now.map(|now| Arc::clone(&now.standing));
        Some(Given { lesson, plan, minute, room, told, clock: *self.session.clock() })
    }

    /// The class view in a window of its own.
    pub(super) fn project(&mut self, ctx: &egui::Context) {
        if !self.projector.open || ctx.embed_viewports() {
            return;
        }
        let told = std::mem::take(&mut *lock(&self.projector.pressed));
        self.heed(told);
        if !self.projector.open {
            return;
        }
        let given = self.given();
        let same = match (&self.projector.given, &given) {
            (Some(before), Some(now)) => before.is(now),
            (before, now) => before.is_none() && now.is_none(),
        };
        if !same {
            ctx.request_repaint_of(id());
        }
        self.projector.given.clone_from(&given);
        let told = Arc::clone(&self.projector.pressed);
        let builder = ViewportBuilder::default()
            .with_title("Class view")
            .with_app_id("ovenbell")
            .with_icon(icon())
            .with_inner_size([1024.0, 768.0])
            .with_min_inner_size([320.0, 240.0]);
        ctx.show_viewport_deferred(id(), builder, move |ui, _| {
            match &given {
                Some(given) => given.show(ui),
                None => {
                    ui.painter().rect_filled(ui.max_rect(), 0.0, egui::Color32::WHITE);
                }
            }
            let heard = heard(ui.ctx());
            if heard.close || heard.steps != 0 {
                let mut told = lock(&told);
                told.close |= heard.close;
                told.steps += heard.steps;
                ui.ctx().request_repaint_of(ViewportId::ROOT);
            }
        });
    }

    /// The class view over the whole of this window, where there can be but
    /// one. Says whether it is there.
    pub(super) fn project_here(&mut self, ui: &mut Ui) -> bool {
        if !self.is_projected_here(ui.ctx()) {
            return false;
        }
        self.heed(heard(ui.ctx()));
        match self.given() {
            Some(given) if self.projector.open => {
                given.show(ui);
                true
            }
            _ => false,
        }
    }

    /// Whether the class view takes this window.
    pub(super) fn is_projected_here(&self, ctx: &egui::Context) -> bool {
        self.projector.open && ctx.embed_viewports() && self.session.planned().is_some()
    }

    fn heed(&mut self, told: Pressed) {
        if told.close {
            self.projector.open = false;
        }
        if told.steps != 0 && self.projector.follows == Follows::Line {
            self.apply(Command::StepMinute(told.steps));
        }
    }
}

fn lock(told: &Mutex<Pressed>) -> MutexGuard<'_, Pressed> {
    told.lock().unwrap_or_else(PoisonError::into_inner)
}

/// Esc closes, arrows step the minute, F11 fills the screen.
fn heard(ctx: &egui::Context) -> Pressed {
    let pressed =
        |key: Key| ctx.input_mut(|i| i.count_and_consume_key(Modifiers::NONE, key)) as i32;
    let steps = pressed(Key::ArrowRight) - pressed(Key::ArrowLeft);
    let toggles = Command::ClassView.keys();
    let toggled = toggles.is_some_and(|keys| ctx.input_mut(|i| i.consume_shortcut(&keys)));
    let close =
        pressed(Key::Escape) > 0 || toggled || ctx.input(|i| i.viewport().close_requested());
    if pressed(Key::F11) > 0 {
        let full = ctx.input(|i| i.viewport().fullscreen.unwrap_or(false));
        ctx.send_viewport_cmd(ViewportCommand::Fullscreen(!full));
    }
    Pressed { close, steps }
}
