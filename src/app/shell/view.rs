//! Commands that change only what is shown.

use super::App;
use crate::app::screens::{board, week};
use crate::app::state::{Command, InPlace, Selection, WeekChoice};
use crate::check::CheckedPlan;
use crate::hand::Thing;
use crate::model::Lesson;
use crate::session::{Command as LessonCommand, step_thing};
use crate::units::Minute;
use crate::view::help::Topic;
use crate::view::scale::TimeScale;

impl App {
    /// Puts the minute line somewhere.
    pub(super) fn move_minute(&mut self, command: &Command) {
        if self.is_rehearsing() {
            match command {
                Command::StepMinute(by) => self.step_rehearsed(*by),
                Command::Minute(Some(minute)) => self.go_to_rehearsed(Minute::new(*minute)),
                _ => self.view.minute = None,
            }
            return;
        }
        let Some(board) = self.session.planned().map(|p| &p.board) else { return };
        let minute = match (command, self.view.minute) {
            (Command::StepMinute(by), Some(now)) => Some(now.saturating_add(*by)),
            (Command::StepMinute(_), None) => Some(board.from.get()),
            (Command::Minute(None), None) => Some(board.from.get()),
            (Command::Minute(minute), _) => *minute,
            _ => return,
        };
        self.view.minute = minute.map(|m| board::within(board, m));
        // An oven's card follows the minute; anything else gives way to it.
        if self.view.minute.is_some() && !matches!(self.view.selection, Selection::Oven(_)) {
            self.view.selection = Selection::Minute;
        } else if self.view.minute.is_none() && self.view.selection == Selection::Minute {
            self.view.selection = Selection::Nothing;
        }
    }

    /// Shows less or more time, about the minute line or the middle.
    pub(super) fn zoom(&mut self, factor: f32) {
        if let Some(week) = self.session.week_on_screen() {
            let day = week::day_beside(week.week(), &self.view.week);
            self.view.week.day = day.filter(|_| factor < 1.0);
            return;
        }
        let Some(board) = self.session.planned().map(|p| &p.board) else { return };
        let whole = board::whole(board, self.session.overlay().map(|o| &*o.ghosts));
        let (from, until) = self.view.shown.unwrap_or(whole);
        let scale = TimeScale { from, until, left: 0.0, width: 1000.0 };
        let middle = self.view.minute.map_or(500.0, |m| scale.x(m as f32).clamp(0.0, 1000.0));
        let scale = scale.zoomed(factor, middle, whole);
        let all = scale.until - scale.from >= whole.1 - whole.0 - 0.01;
        self.view.shown = (!all).then_some((scale.from, scale.until));
    }

    /// Selects a thing beside those selected, or no longer.
    pub(super) fn mark(&mut self, thing: Thing) {
        let Some(planned) = self.session.planned() else { return };
        if self.session.current_plan().is_none() || self.session.is_typing() {
            return;
        }
        let first = selected(self.view.selection, &planned.lesson, &planned.plan);
        let marked = &mut self.view.marked;
        if marked.is_empty() {
            marked.extend(first);
        }
        if !marked.remove(&thing) {
            marked.insert(thing);
        }
    }

    /// Begins to edit something in its place, or leaves it as it was.
    pub(super) fn edit_in_place(&mut self, what: Option<InPlace>) {
        self.session.apply(LessonCommand::PutBack);
        self.view.in_place = what;
    }

    /// Takes what was typed in its place.
    pub(super) fn typed_in_place(&mut self, text: String) {
        let Some(what) = self.view.in_place.take() else { return };
        self.session.apply(match what {
            InPlace::Start(thing) => LessonCommand::PutAt(thing, text),
            InPlace::Group(group) => LessonCommand::RenameGroup(group, text),
            InPlace::Oven(oven) => LessonCommand::RenameOven(oven, text),
        });
    }

    /// Shows a topic of the help, or the last one read; leaves it if it is there.
    pub(super) fn show_help(&mut self, topic: Option<Topic>) {
        let read = self.view.help.is_none().then_some(self.view.read);
        self.view.help = topic.or(read);
        self.view.read = self.view.help.unwrap_or(self.view.read);
    }

    /// What Escape puts away where nothing else takes it.
    pub(super) fn to_put_away(&self) -> Option<Command> {
        if self.view.help.is_some() {
            return Some(Command::Help(None));
        }
        if let Some(week) = self.session.week_on_screen() {
            if week.tried().is_some() {
                return Some(LessonCommand::Drop.into());
            }
            if self.session.message().is_none() && self.view.week.day.is_some() {
                return Some(Command::Week(WeekChoice::Day(None)));
            }
        }
        if self.session.overlay().is_some() {
            return Some(LessonCommand::Ghost(None).into());
        }
        if self.session.message().is_some() {
            return Some(LessonCommand::Dismiss.into());
        }
        self.hint().map(|hint| Command::PutAwayHint(Some(hint)))
    }
}

/// What is selected, if it is something that can be moved.
fn selected(selection: Selection, lesson: &Lesson, plan: &CheckedPlan) -> Option<Thing> {
    match selection {
        Selection::Group(g) => Some(Thing::Row(g)),
        Selection::Step(g, s) => Some(step_thing(lesson, plan, g, s)),
        _ => None,
    }
}
