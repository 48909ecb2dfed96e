//! The day: the clock, a line for each group and oven, and one question at most. What
//! was told stands on an ink line, what is presumed on a dashed one.

mod before;
mod clock;
mod over;
mod question;
mod tiles;

use eframe::egui::{self, CentralPanel, Frame, Id, Margin, Panel, Rect, RichText, ScrollArea, Ui};

use crate::app::looks::button::named;
use crate::app::looks::follow::Follow as _;
use crate::app::looks::say::say;
use crate::app::looks::sheet::sheet;
use crate::app::looks::theme::Palette;
use crate::app::looks::{fonts, landmark};
use crate::app::screens::card::day_card;
use crate::app::state::{Command, Commands, DayChoice, DayStop, Place, Region, ViewState};
use crate::session::{DayOver, Responses, Session, StandingNow};
use crate::view::day::Day;

/// In a narrower window the question comes up from below.
const BESIDE: f32 = 1200.0;
/// In a narrower one so do the questions of a lesson that is over.
const ASKED_BESIDE: f32 = 860.0;
/// Height of the typeface's capitals in parts of the size of type.
const CAPITAL: f32 = 0.668;
/// Capitals of a tile go into the height of the window so often.
const LETTERS: f32 = 40.0;

/// A lesson that is taught, and what is looked at.
#[derive(Clone, Copy)]
struct Taught<'a> {
    session: &'a Session,
    view: &'a ViewState,
    now: &'a StandingNow,
    day: &'a Day,
}

impl<'a> Taught<'a> {
    /// What is asked, if anything is.
    fn question(&self) -> Option<&'a Responses> {
        self.session.responses().filter(|responses| !responses.left)
    }

    /// Gives what is drawn as this stop the keyboard, if it is its turn, and remembers
    /// which has it.
    fn heed(&self, stop: DayStop, response: &egui::Response) {
        if self.view.day.focus_now == Some(stop) {
            response.request_focus();
            response.scroll_to_me(None);
        }
        if response.has_focus() {
            let has_it = (response.id, stop);
            response.ctx.data_mut(|data| data.insert_temp(keyboard(), has_it));
        }
    }
}

/// Where it is remembered which stop has the keyboard.
fn keyboard() -> Id {
    Id::unique("stop of the day that has the keyboard")
}

/// The stop that has the keyboard.
pub fn stop_with_keyboard(ctx: &egui::Context) -> Option<DayStop> {
    let (id, stop): (Id, DayStop) = ctx.data(|data| data.get_temp(keyboard()))?;
    (ctx.memory(|memory| memory.focused()) == Some(id)).then_some(stop)
}

/// The widget that is a tile, or a response.
fn id_of(stop: DayStop) -> Id {
    Id::unique(("day", stop))
}

/// Shows the place; where its regions are.
pub fn show(
    ui: &mut Ui,
    session: &Session,
    view: &ViewState,
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let is_today = session.standing_now().is_some();
    let asks = |over: &&DayOver| is_today || over.is_told() || view.day.afterwards;
    if let Some(over) = session.day_over().filter(|_| !view.day.units).filter(asks) {
        return afterwards(ui, session, (view, over), out);
    }
    let Some(now) = session.standing_now() else {
        return before::show(ui, session, view, out);
    };
    let day = Day::of(&now.told.0, &now.told.1, &now.standing);
    let of = Taught { session, view, now, day: &day };
    let palette = Palette::of(ui.ctx());
    let sheet = sheet(palette).inner_margin(Margin::symmetric(10, 6));
    let inset = |bottom| Margin { left: 14, right: 14, top: 0, bottom };
    Panel::top("clock of the day")
        .frame(Frame::new().outer_margin(inset(4)))
        .resizable(false)
        .show_separator_line(false)
        .show(ui, |ui| clock::show(ui, &of, out));
    let mut regions = Vec::new();
    let is_wide = BESIDE <= ui.available_width();
    let asks = of.question().is_some();
    if is_wide {
        let width = (ui.available_width() * 0.31).clamp(340.0, 460.0);
        let beside = Panel::right("question of the day")
            .exact_size(width)
            .resizable(false)
            .frame(sheet.outer_margin(Margin { left: 0, right: 14, top: 0, bottom: 10 }))
            .show_separator_line(false)
            .show(ui, |ui| side(ui, &of, out));
        regions.push((Region::Card, beside.response.rect));
    } else if asks || view.day.slips {
        let height = (0.37 * ui.available_height()).clamp(150.0, 300.0);
        let below = Panel::bottom("question of the day")
            .exact_size(height)
            .resizable(false)
            .frame(sheet.outer_margin(inset(8)))
            .show_separator_line(false)
            .show(ui, |ui| side(ui, &of, out));
        regions.push((Region::Card, below.response.rect));
    }
    let middle = Margin { left: 14, right: if is_wide { 10 } else { 14 }, top: 0, bottom: 8 };
    let middle = CentralPanel::default().frame(Frame::new().outer_margin(middle)).show(ui, |ui| {
        landmark(ui, Region::Middle, view.region_now, "Units and ovens");
        tiles::show(ui, &of, out);
    });
    regions.push((Region::Middle, middle.response.rect));
    regions
}

/// A lesson that is over: its questions beside the day, or below it in a narrow window.
fn afterwards(
    ui: &mut Ui,
    session: &Session,
    (view, over): (&ViewState, &DayOver),
    out: &mut Commands,
) -> Vec<(Region, Rect)> {
    let sheet = sheet(Palette::of(ui.ctx())).inner_margin(Margin::symmetric(10, 6));
    let show = |ui: &mut Ui, out: &mut Commands| {
        landmark(ui, Region::Card, view.region_now, "Questions afterwards");
        over::questions(ui, session, over, out);
    };
    let panel = if ASKED_BESIDE <= ui.available_width() {
        let width = (ui.available_width() * 0.38).clamp(380.0, 560.0);
        Panel::right("afterwards").exact_size(width)
    } else {
        Panel::bottom("afterwards").exact_size(0.6 * ui.available_height())
    };
    let outer = Margin { left: 14, right: 14, top: 0, bottom: 10 };
    let asked = panel
        .resizable(false)
        .frame(sheet.outer_margin(outer))
        .show_separator_line(false)
        .show(ui, |ui| show(ui, out));
    let frame = Frame::new().outer_margin(Margin { left: 14, right: 10, top: 0, bottom: 8 });
    let middle = CentralPanel::default().frame(frame).show(ui, |ui| {
        landmark(ui, Region::Middle, view.region_now, "The day against its plan");
        over::against_plan(ui, session, over, out);
    });
    vec![(Region::Card, asked.response.rect), (Region::Middle, middle.response.rect)]
}

/// The question, or what may happen.
fn side(ui: &mut Ui, of: &Taught<'_>, out: &mut Commands) {
    landmark(ui, Region::Card, of.view.region_now, "Question, or what may happen");
    match of.question().filter(|_| !of.view.day.slips) {
        Some(responses) => question::show(ui, of, responses, out),
        None => {
            ScrollArea::vertical().id_salt("what may happen").auto_shrink(false).follow(ui, |ui| {
                let changed = of.session.changed_today();
                day_card::show(ui, &of.now.told.0, changed, out);
            });
        }
    }
}

/// A heading of what stands here where there is no lesson that is taught now.
fn heading(ui: &mut Ui, words: &str) {
    ui.add(egui::Label::new(RichText::new(say(words)).font(fonts::bold(21.0))).wrap());
}

fn to_set_up(ui: &mut Ui, out: &mut Commands) {
    named(ui, true, "Set up", Command::Go(Place::SetUp), None, out);
}

/// Shows what may happen, or the question again.
fn slips(ui: &mut Ui, of: &Taught<'_>, out: &mut Commands) {
    let shown = of.view.day.slips;
    let hint = match shown {
        true => "back to the question, or to more room for units",
        false => "somebody is absent, an oven fails, the lesson starts late",
    };
    let choice = Command::Day(DayChoice::Slips(!shown));
    named(ui, true, choice.label(), choice.clone(), Some(hint.to_owned()), out);
}
