//! The day in the window: it wakes when its minute changes, and is told things by keys
//! for one hand, or by the four of a remote.

use eframe::egui::{self, Key, Modifiers};

use super::App;
use crate::app::screens::day::stop_with_keyboard;
use crate::app::state::{Command, Commands, DayChoice, DayStop, Place};
use crate::model::FactKind;
use crate::session::Command as LessonCommand;
use crate::units::Minutes;
use crate::view::day::Day;

/// So late a group is by one key, in minutes.
const LATE: Minutes = Minutes::new(2);

const DIGITS: [Key; 10] = [
    Key::Num0,
    Key::Num1,
    Key::Num2,
    Key::Num3,
    Key::Num4,
    Key::Num5,
    Key::Num6,
    Key::Num7,
    Key::Num8,
    Key::Num9,
];

impl App {
    /// Whether a lesson that is taught is on screen.
    fn is_at_the_day(&self) -> bool {
        self.view.place == Place::Day
            && self.view.help.is_none()
            && self.session.standing_now().is_some()
            && (self.view.day.units || self.session.day_over().is_none())
    }

    /// Asks to be painted again when the minute of the day changes, and not before.
    pub(super) fn wake_at_the_minute(&self, ctx: &egui::Context) {
        if self.view.place == Place::Day
            && self.session.is_today()
            && let Some(left) = self.session.clock().to_the_next_minute()
        {
            ctx.request_repaint_after(left);
        }
    }

    /// Takes a choice of what is looked at.
    pub(super) fn choose_on_the_day(&mut self, choice: DayChoice) {
        match choice {
            DayChoice::Choose(stop) => self.view.day.focus_now = Some(stop),
            DayChoice::Response(number) => self.view.day.response = number,
            DayChoice::Slips(shown) => self.view.day.slips = shown,
            DayChoice::Units(shown) => {
                self.view.day.units = shown;
                self.view.day.afterwards = !shown;
            }
        }
    }

    /// What is told or decided makes another question: its first answer is looked at.
    pub(super) fn asks_anew(&mut self, command: &LessonCommand) {
        use LessonCommand::{KeepResponse, LeaveAsItWas, RespondAgain, TakeBack, Tell};
        if matches!(command, Tell(..) | TakeBack | KeepResponse(_) | LeaveAsItWas | RespondAgain) {
            (self.view.day.response, self.view.day.slips) = (0, false);
        }
    }

    fn shown_day(&self) -> Option<Day> {
        let now = self.session.standing_now()?;
        Some(Day::of(&now.told.0, &now.told.1, &now.standing))
    }

    /// Whatever can be gone to and pressed, in its order.
    fn stops(&self, day: &Day) -> Vec<DayStop> {
        let groups = day.tiles.iter().filter(|t| t.tell.is_some()).map(|t| t.group);
        let ovens = day.ovens.iter().filter(|o| o.tell.is_some()).map(|o| o.oven);
        let mut all: Vec<DayStop> = groups.map(DayStop::Group).collect();
        all.extend(ovens.map(DayStop::Oven));
        let asked = self.session.responses().filter(|r| !r.left && !self.view.day.slips);
        if let Some(asked) = asked {
            all.extend((0..asked.found.len()).map(DayStop::Response));
            if !asked.found.is_empty() {
                all.push(DayStop::Keep);
            }
            all.push(DayStop::Leave);
        }
        all
    }

    /// Heeds the keys of the day.
    pub(super) fn day_keys(&mut self, ctx: &egui::Context, out: &mut Commands) {
        if !self.is_at_the_day() {
            return;
        }
        let Some(day) = self.shown_day() else { return };
        let stops = self.stops(&day);
        let pressed = |key| ctx.input_mut(|i| i.consume_key(Modifiers::NONE, key));
        for (digit, key) in DIGITS.into_iter().enumerate() {
            if pressed(key) {
                let now = ctx.input(|i| i.time);
                let number = self.view.day.digit(digit, now, highest(&day));
                if let Some(group) = numbered(&day, number) {
                    out.push(Command::Day(DayChoice::Choose(DayStop::Group(group))));
                }
            }
        }
        let chosen = stop_with_keyboard(ctx);
        let at = chosen.and_then(|chosen| stops.iter().position(|stop| *stop == chosen));
        for (key, on) in [(Key::PageDown, true), (Key::PageUp, false)] {
            if pressed(key) && !stops.is_empty() {
                let next = match (at, on) {
                    (Some(at), true) => (at + 1) % stops.len(),
                    (Some(at), false) => (at + stops.len() - 1) % stops.len(),
                    (None, _) => 0,
                };
                out.push(Command::Day(DayChoice::Choose(stops[next])));
            }
        }
        if (pressed(Key::Period) || pressed(Key::B))
            && let Some(command) = chosen.and_then(|stop| self.press(&day, stop))
        {
            out.push(command);
        }
        let late = pressed(Key::Plus) || pressed(Key::Equals) || pressed(Key::F5);
        if let (true, Some(DayStop::Group(group))) = (late, chosen)
            && let Some(tile) = day.tiles.iter().find(|tile| tile.group == group)
        {
            let late = self.later(group);
            out.push(LessonCommand::Tell(vec![tile.name.clone()], FactKind::Late(late)));
        }
        if pressed(Key::Backspace) {
            out.push(LessonCommand::TakeBack);
        }
    }

    /// Two minutes more than it is behind already.
    fn later(&self, group: crate::model::GroupId) -> Minutes {
        let groups = self.session.standing_now().map(|now| &now.standing.groups);
        let stands = groups.and_then(|groups| groups.iter().find(|g| g.group == group));
        let late = stands.map_or(Minutes::ZERO, |stands| stands.late() + LATE);
        late.min(Minutes::new(FactKind::LATEST)).max(LATE)
    }

    /// What pressing a stop does.
    fn press(&self, day: &Day, stop: DayStop) -> Option<Command> {
        Some(match stop {
            DayStop::Group(group) => {
                let tile = day.tiles.iter().find(|tile| tile.group == group)?;
                LessonCommand::Tell(vec![tile.name.clone()], tile.tell?).into()
            }
            DayStop::Oven(oven) => {
                let (what, groups) = day.ovens.iter().find(|o| o.oven == oven)?.tell.clone()?;
                LessonCommand::Tell(groups, what).into()
            }
            DayStop::Response(number) => Command::Day(DayChoice::Response(number)),
            DayStop::Keep => {
                let found = &self.session.responses()?.found;
                let words = found.get(self.view.day.response)?.words.clone();
                LessonCommand::KeepResponse(words).into()
            }
            DayStop::Leave => LessonCommand::LeaveAsItWas.into(),
        })
    }
}

/// The group of a number: of its name, or else of its place.
fn numbered(day: &Day, number: usize) -> Option<crate::model::GroupId> {
    let own = |t: &&crate::view::day::Tile| {
        t.number.as_ref().is_some_and(|(_, own)| own.parse() == Ok(number))
    };
    let by_place = || number.checked_sub(1).and_then(|i| day.tiles.get(i));
    day.tiles.iter().find(own).or_else(by_place).map(|tile| tile.group)
}

/// The highest number that can be typed.
fn highest(day: &Day) -> usize {
    let own = day.tiles.iter().filter_map(|t| t.number.as_ref()?.1.parse().ok());
    own.max().unwrap_or(0).max(day.tiles.len())
}
