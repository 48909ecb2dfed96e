//! The application: shows a session, applies commands to it and to the view.

mod dialogs;
mod ended;
mod events;
mod hinting;
mod keyboard;
mod on_the_day;
mod open;
mod panels;
mod printing;
mod projector;
mod questions;
mod regions;
mod rehearsing;
mod speaking;
mod start;
mod tone;
mod view;

use eframe::egui::{self, ViewportCommand};

pub use start::{NoWindow, Start, run};

use crate::app::looks::say::say;
use crate::app::looks::{fonts, theme};
use crate::app::screens::help;
use crate::app::state::{
    Command, Commands, Hinting, PapersChoice, Place, Prefs, Selection, ViewState, WeekPlace,
};
use crate::check::CheckedPlan;
use crate::model::RoomId;
use crate::session::{Clock, Command as LessonCommand, Document, PAUSE, Session, WeekCommand};
use crate::speech::English;
use crate::view::sentence;
use crate::view::week::words as week_words;
use dialogs::Dialogs;
use open::PathFor;
use projector::Projector;
use regions::Regions;
use speaking::Names;
use tone::Tone;

/// The application.
pub struct App {
    session: Session,
    view: ViewState,
    prefs: Prefs,
    hinting: Hinting,
    /// Names that are said as they are.
    names: Names,
    projector: Projector,
    /// Where the regions of the window were last.
    regions: Regions,
    dialogs: Dialogs,
    tone: Tone,
    title: String,
    /// The window may close with changes that are not saved.
    may_close: bool,
    wake: egui::Context,
}

impl App {
    /// The application in a toolkit's context.
    pub fn new(ctx: &egui::Context, start: Start) -> Self {
        fonts::install(ctx);
        ctx.options_mut(|o| o.zoom_with_keyboard = false);
        let file = start.file.clone();
        let mut app = Self {
            view: ViewState::default(),
            prefs: start.prefs(),
            hinting: Hinting { wanted: start.remember || start.settings.is_some(), on: false },
            names: Names::default(),
            projector: Projector::default(),
            regions: Regions::new(),
            dialogs: Dialogs::new(start.paths_by_field),
            tone: Tone::default(),
            title: String::new(),
            may_close: false,
            wake: ctx.clone(),
            session: Session::new(start.session(ctx)),
        };
        let ahead = app.prefs.bell_ahead;
        app.session.go_by(Clock { ahead, ..*app.session.clock() });
        app.looks(ctx);
        app.speak();
        let last = app.prefs.recent.first().cloned();
        app.session.begin(file, last.as_deref());
        app.heed_events();
        app
    }

    /// The plan on screen.
    pub fn plan(&self) -> Option<&CheckedPlan> {
        self.session.planned().map(|p| &*p.plan)
    }

    /// The plan on screen, if it is of the lesson as it now stands.
    pub fn current_plan(&self) -> Option<&CheckedPlan> {
        self.session.current_plan()
    }

    /// The lesson on screen.
    pub fn document(&self) -> Option<&Document> {
        self.session.document()
    }

    /// The session that is shown.
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// Goes by another clock.
    pub fn go_by(&mut self, clock: Clock) {
        self.session.go_by(clock);
        self.wake.request_repaint();
    }

    /// Whose words, units and allergen list.
    pub fn english(&self) -> English {
        self.prefs.english
    }

    /// Whether something is under way that will change what is shown.
    pub fn is_planning(&self) -> bool {
        self.session.is_busy()
    }

    fn looks(&self, ctx: &egui::Context) {
        theme::install(ctx, self.prefs.contrast, self.prefs.glide);
        ctx.set_theme(if self.prefs.dark { egui::Theme::Dark } else { egui::Theme::Light });
        ctx.set_zoom_factor(self.prefs.text as f32 / 100.0);
    }

    /// Does what it is told.
    pub fn apply(&mut self, command: impl Into<Command>) {
        let command = command.into();
        self.hints_followed(&command);
        match command {
            Command::Lesson(command) => {
                self.asks_anew(&command);
                if command == LessonCommand::Week(WeekCommand::Show)
                    && self.session.week_on_screen().is_some()
                {
                    self.view.week.place = WeekPlace::Week;
                }
                // Lessons of a week are known by their numbers.
                let is_other = matches!(
                    command,
                    LessonCommand::Undo
                        | LessonCommand::Redo
                        | LessonCommand::Week(WeekCommand::Make(_) | WeekCommand::Keep)
                );
                if is_other && self.session.week_on_screen().is_some() {
                    self.view.week.told_of.entry = None;
                }
                self.session.apply(command);
            }
            Command::AskOpen => self.ask(PathFor::Open),
            Command::AskRecipe => self.ask(PathFor::Recipe),
            Command::AskSaveAs => self.ask(PathFor::Save),
            Command::AskPrint => self.ask(PathFor::Print),
            Command::AskWeek => self.ask(PathFor::Week),
            Command::AskWeekAfter => self.ask(PathFor::WeekAfter),
            Command::AskLessonOfWeek => self.ask(PathFor::LessonOfWeek),
            Command::CopyOrder => {
                if let Some(order) = self.session.copy_order() {
                    self.wake.copy_text(order);
                }
            }
            Command::Rehearse(choice) => self.rehearse(choice),
            Command::Day(choice) => self.choose_on_the_day(choice),
            Command::Papers(choice) => self.papers_mut().choose(choice),
            Command::Ingredient(name) => match self.session.week_on_screen() {
                Some(_) => self.view.week.ingredient = Some(name),
                None => self.view.ingredient = Some(name),
            },
            Command::PrintPart(part) => {
                self.papers_mut().choose(PapersChoice::Only(part));
                self.go(Place::Papers);
            }
            Command::Week(choice) => {
                self.view.week.choose(choice);
                self.view.help = None;
            }
            Command::BarOfTime(time, beside) => self.show_bar_of(&time, &beside),
            Command::ShowFinding(i) => self.view.show_finding(Some(i)),
            Command::Go(place) => self.go(place),
            Command::SetUp(page) => self.set_up(page),
            Command::NextRegion(on) => self.next_region(on),
            Command::GoTo(path) => self.go_to(path),
            Command::Mark(thing) => self.mark(thing),
            Command::InPlace(what) => self.edit_in_place(what),
            Command::TypedInPlace(text) => self.typed_in_place(text),
            Command::FocusChip(words) => {
                self.view.chip = Some(words);
                self.view.chip_now = true;
            }
            Command::ToggleChanges => self.view.folded = !self.view.folded,
            Command::Select(selection) => {
                self.view.marked.clear();
                self.view.selection = selection;
                self.view.help = None;
            }
            Command::Focus(bar) => {
                self.view.current = Some(bar);
                self.view.focus_now = Some(bar);
            }
            Command::Minute(_) | Command::StepMinute(_) => self.move_minute(&command),
            Command::Look(minute) => {
                self.view.look = Some(minute);
                self.view.selection = Selection::Odds;
            }
            Command::ShowCause(cause) => self.view.cause = cause,
            Command::Show(_) if self.session.week_on_screen().is_some() => {
                self.view.week.day = None;
            }
            Command::Show(stretch) => self.view.shown = stretch,
            Command::Zoom(factor) => self.zoom(factor),
            Command::ToggleList => self.view.as_list = !self.view.as_list,
            Command::ClassView => self.toggle_class_view(),
            Command::ClassViewFollows(what) => self.class_view_follows(what),
            Command::ClassViewRoom(room) => self.projector.room = room.map(RoomId),
            Command::English(english) => {
                self.prefs.english = english;
                self.prefs.keep();
                self.speak();
            }
            Command::ToggleTheme
            | Command::Text(_)
            | Command::ToggleContrast
            | Command::ToggleMotion => self.change_looks(&command),
            Command::Help(topic) => self.show_help(topic),
            Command::Shortcuts => self.view.keys = !self.view.keys,
            Command::PutAwayHint(which) => self.put_away_hints(which),
            Command::ShowHints => self.show_hints(),
        }
        self.heed_events();
    }

    fn change_looks(&mut self, command: &Command) {
        match command {
            Command::ToggleTheme => self.prefs.dark = !self.prefs.dark,
            Command::ToggleContrast => self.prefs.contrast = !self.prefs.contrast,
            Command::ToggleMotion => self.prefs.glide = !self.prefs.glide,
            Command::Text(by) => self.prefs.resize(*by),
            _ => return,
        }
        self.looks(&self.wake.clone());
        self.prefs.keep();
    }

    /// The group whose card is shown.
    fn selected_group(&self) -> Option<crate::model::GroupId> {
        match self.view.selection {
            Selection::Group(group) => Some(group),
            _ => None,
        }
    }

    /// The toolkit leaves the window's own node without a name.
    fn name_for_screen_readers(&self, ctx: &egui::Context) {
        if self.is_projected_here(ctx) {
            let name = "Class view".to_owned();
            ctx.accesskit_node_builder(egui::accesskit_root_id(), |node| node.set_label(name));
            return;
        }
        let outcome = match self.session.week_on_screen() {
            Some(week) => week.report().map(|report| week_words::sentence(week.week(), report)),
            None => self.session.planned().map(|p| sentence::outcome(&p.lesson, &p.plan)),
        };
        let name = outcome.map_or_else(|| self.title.clone(), |o| format!("{}: {o}", self.title));
        ctx.accesskit_node_builder(egui::accesskit_root_id(), |node| node.set_label(say(name)));
    }

    fn name_window(&mut self, ctx: &egui::Context) {
        let of_week = self.session.week_on_screen().map(|week| {
            let mark = if week.changed() { " (not saved)" } else { "" };
            format!("{}{mark} · ovenbell", week.name())
        });
        let of_lesson = || {
            self.session.document().map_or("ovenbell".to_owned(), |doc| {
                let mark = match (doc.care().read_only(), doc.changed) {
                    (Some(_), _) => " (read only)",
                    (None, true) => " (not saved)",
                    (None, false) => "",
                };
                format!("{}{mark} · ovenbell", doc.name())
            })
        };
        let name = of_week.unwrap_or_else(of_lesson);
        if name != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(name.clone()));
            self.title = name;
        }
    }

    /// Asks before changes are lost.
    fn guard_close(&mut self, ctx: &egui::Context) {
        let wants = ctx.input(|i| i.viewport().close_requested());
        if wants && !self.may_close && !self.session.may_close() {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
        }
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        self.session.listen(self.selected_group());
        self.want_papers();
        if self.session.is_typing() {
            ctx.request_repaint_after(PAUSE);
        }
        self.heed_events();
        self.hear_dialog();
        self.guard_close(ctx);
        self.name_window(ctx);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        let mut commands = Commands::default();
        let ctx = ui.ctx().clone();
        self.speak();
        self.play_on(&ctx);
        self.wake_at_the_minute(&ctx);
        self.keys(&ctx, &mut commands);
        if !self.project_here(ui) {
            self.panels(ui, &mut commands);
        }
        // Before anything is done that asks for the keyboard or for a place.
        self.view.was_shown();
        self.questions(&ctx, &mut commands);
        self.dialogs(&ctx, &mut commands);
        if self.view.keys {
            help::keys::overlay(&ctx, &mut commands);
        }
        let any = commands.iter().next().is_some();
        for command in commands {
            self.apply(command);
        }
        if any {
            // What was just done is shown at once.
            ctx.request_repaint();
        }
        self.project(&ctx);
        self.name_for_screen_readers(&ctx);
    }

    fn persist_egui_memory(&self) -> bool {
        false
    }
}
