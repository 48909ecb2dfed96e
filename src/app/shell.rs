//! The application: holds document, plan and view; applies commands.

use std::path::PathBuf;
use std::sync::Arc;

use eframe::egui::{self, Key, Modifiers, ViewportCommand};

use super::care::{Caring, Leaving};
use super::changes::{Changes, Other, Overlay};
use super::command::{Command, KEYS};
use super::day::Day;
use super::document::Document;
use super::entering::Entering;
use super::hints::{Hint, Hinting};
use super::moving::Moving;
use super::open::Asked;
use super::prefs::Prefs;
use super::probe::Probes;
use super::projector::{Follows, Projector};
use super::say::{Names, say};
use super::shelves::Shelves;
use super::state::{Selection, ViewState};
use super::theme;
use super::worker::Worker;
use super::{board, fonts};
use crate::check::CheckedPlan;
use crate::file::RealDisk;
use crate::file::copies::UnsavedCopy;
use crate::file::open_lesson::Over;
use crate::finding::Finding;
use crate::model::{GroupId, Lesson};
use crate::speech::English;
use crate::units::ClockTime;
use crate::view::board::Board;
use crate::view::sentence;

/// How the window starts.
#[derive(Debug, Clone, Default)]
pub struct Start {
    /// The lesson to open; the demo if `None`.
    pub file: Option<PathBuf>,
    /// Width and height in points.
    pub size: Option<(f32, f32)>,
    /// Dark or light; as last time if `None`.
    pub dark: Option<bool>,
    /// High contrast; as last time if `false`.
    pub contrast: bool,
    /// Size of everything in hundredths; as last time if `None`.
    pub text: Option<u32>,
    /// Whose words; as last time if `None`.
    pub english: Option<English>,
    /// Remember looks and recent files.
    pub remember: bool,
    /// The table of bakes noted so far; none is kept if `None`.
    pub outcomes: Option<PathBuf>,
    /// The folder of the user's own library and of lessons not saved yet; if
    /// `None`, where such data belong, or nowhere if nothing is remembered.
    pub data: Option<PathBuf>,
    /// The folder of the window's settings; if `None`, where such belong, or
    /// nowhere if nothing is remembered.
    pub settings: Option<PathBuf>,
    /// Ask for paths in a field of the window, not by the system's dialog.
    pub paths_by_field: bool,
    /// The day it is; the computer's if `None`.
    pub day: Option<chrono::NaiveDate>,
    /// The time of day it is and stays; the computer's if `None`.
    pub time: Option<ClockTime>,
}

/// A file that cannot be planned.
pub struct Broken {
    /// Which.
    pub path: PathBuf,
    /// Its lines.
    pub lines: Vec<String>,
    /// What is wrong.
    pub findings: Vec<Finding>,
    /// The finding shown in the text.
    pub chosen: Option<usize>,
    /// It has just been chosen.
    pub scroll_now: bool,
    /// Its text reads as a lesson; only what it says is wrong.
    pub can_be_put_right: bool,
}

/// What the panels read.
pub struct Shown<'a> {
    /// The lesson.
    pub doc: Option<&'a Document>,
    /// The lesson that the plan is of: the one before a change until its plan
    /// is there.
    pub lesson: Option<&'a Lesson>,
    /// Its plan, if there is one yet.
    pub plan: Option<&'a CheckedPlan>,
    /// The plan's board.
    pub board: Option<&'a Board>,
    /// What is selected and shown.
    pub view: &'a ViewState,
    /// Looks.
    pub prefs: &'a Prefs,
    /// The planner is at work.
    pub planning: bool,
    /// What choices of a group would come to: revision, group, choices.
    pub probed: Option<&'a (u64, GroupId, Probes)>,
    /// Changes that would help.
    pub changes: &'a Changes,
    /// Another plan laid over the board.
    pub overlay: Option<&'a Overlay>,
    /// What is moved by hand.
    pub moving: &'a Moving,
    /// There is a plan before the last change.
    pub has_before: bool,
    /// Why a group is not served, at length: revision, group, words.
    pub explained: Option<&'a (u64, GroupId, String)>,
    /// What changed by what happened last on the day.
    pub changed_today: &'a [String],
    /// What the class view follows, if it is shown.
    pub class_view: Option<Follows>,
    /// Something to tell.
    pub message: Option<&'a str>,
    /// The hint of the first start that is shown.
    pub hint: Option<Hint>,
    /// Lessons of runs that ended without saving them.
    pub left: &'a [UnsavedCopy],
}

/// The application.
pub struct App {
    pub(super) doc: Option<Document>,
    pub(super) broken: Option<Broken>,
    pub(super) plan: Option<(u64, Arc<CheckedPlan>)>,
    /// The lesson that the plan is of.
    pub(super) planned: Option<Arc<Lesson>>,
    pub(super) board: Option<Arc<Board>>,
    pub(super) view: ViewState,
    /// Names that are said as they are.
    pub(super) names: Names,
    pub(super) prefs: Prefs,
    pub(super) hinting: Hinting,
    pub(super) outcomes: Option<PathBuf>,
    pub(super) caring: Caring,
    pub(super) day: Option<chrono::NaiveDate>,
    pub(super) time: Option<ClockTime>,
    pub(super) entering: Entering,
    pub(super) the_day: Day,
    pub(super) projector: Projector,
    pub(super) planner: Worker,
    pub(super) prober: Worker,
    pub(super) changer: Worker,
    /// Puts things where a hand puts them.
    pub(super) mover: Worker,
    /// Finds where they may be put.
    pub(super) lighter: Worker,
    pub(super) moving: Moving,
    pub(super) planning: bool,
    pub(super) changes: Changes,
    pub(super) overlay: Option<Overlay>,
    /// The plan before the last change.
    pub(super) before: Option<Other>,
    /// Why a group is not served, at length, once somebody has worked it out.
    pub(super) explained: Option<(u64, GroupId, String)>,
    pub(super) probed: Option<(u64, GroupId, Probes)>,
    pub(super) probing: Option<(u64, GroupId)>,
    pub(super) message: Option<String>,
    pub(super) asked: Option<Asked>,
    /// A field for a path, where no dialog service answers: its text, and
    /// whether it is to save.
    pub(super) typed: Option<(String, bool)>,
    /// Where to, once it is known that changes may be lost.
    pub(super) leaving: Option<Leaving>,
    /// The window may close with changes that are not saved.
    pub(super) may_close: bool,
    pub(super) revision: u64,
    pub(super) title: String,
    pub(super) wake: egui::Context,
}

/// Opens the window and returns when it is closed.
///
/// # Errors
/// If no window can be opened here.
pub fn run(start: Start) -> eframe::Result {
    let (width, height) = start.size.unwrap_or((1280.0, 800.0));
    let viewport = egui::ViewportBuilder::default()
        .with_title("ovenbell")
        .with_app_id("ovenbell")
        .with_icon(super::icon::icon())
        .with_inner_size([width, height])
        .with_min_inner_size([800.0, 520.0]);
    let options = eframe::NativeOptions {
        viewport,
        persist_window: start.remember && start.size.is_none(),
        ..Default::default()
    };
    let creator: eframe::AppCreator<'_> =
        Box::new(|cc| Ok(Box::new(App::new(&cc.egui_ctx, start))));
    eframe::run_native("ovenbell", options, creator)
}

impl App {
    /// The application in a toolkit's context.
    pub fn new(ctx: &egui::Context, start: Start) -> Self {
        fonts::install(ctx);
        ctx.options_mut(|o| o.zoom_with_keyboard = false);
        let of_system =
            || start.remember.then(crate::file::data_folders::settings_folder).flatten();
        let mut prefs = Prefs::load(start.settings.clone().or_else(of_system));
        if let Some(dark) = start.dark {
            prefs.dark = dark;
        }
        prefs.contrast |= start.contrast;
        if let Some(text) = start.text {
            prefs.text = text.clamp(Prefs::TEXT.0, Prefs::TEXT.1);
        }
        prefs.english = start.english.unwrap_or(prefs.english);
        let usual = || start.remember.then(crate::file::data_folders::data_folder).flatten();
        let data = start.data.clone().or_else(usual);
        let worker = || {
            let ctx = ctx.clone();
            Worker::start(move || ctx.request_repaint())
        };
        let mut app = Self {
            doc: None,
            broken: None,
            plan: None,
            planned: None,
            board: None,
            view: ViewState::default(),
            names: Names::default(),
            prefs,
            hinting: Hinting { wanted: start.remember || start.settings.is_some(), on: false },
            caring: Caring::new(ctx, &start),
            outcomes: start.outcomes,
            day: start.day,
            time: start.time,
            the_day: Day::default(),
            projector: Projector::default(),
            entering: Entering::new(Shelves::at(data, Arc::new(RealDisk))),
            planner: worker(),
            prober: worker(),
            changer: worker(),
            mover: worker(),
            lighter: worker(),
            moving: Moving::default(),
            planning: false,
            changes: Changes::default(),
            overlay: None,
            before: None,
            explained: None,
            probed: None,
            probing: None,
            message: None,
            asked: None,
            typed: None,
            leaving: None,
            may_close: false,
            revision: 0,
            title: String::new(),
            wake: ctx.clone(),
        };
        app.looks(ctx);
        app.speak();
        app.begin(start.file);
        app
    }

    /// The plan on screen.
    pub fn plan(&self) -> Option<&CheckedPlan> {
        self.plan.as_ref().map(|(_, plan)| &**plan)
    }

    /// The plan on screen, if it is of the lesson as it now stands.
    pub fn current_plan(&self) -> Option<&CheckedPlan> {
        let now = self.doc.as_ref()?.revision;
        self.plan.as_ref().filter(|(revision, _)| *revision == now).map(|(_, plan)| &**plan)
    }

    /// The lesson on screen.
    pub fn document(&self) -> Option<&Document> {
        self.doc.as_ref()
    }

    /// Whose words, units and allergen list.
    pub fn english(&self) -> English {
        self.prefs.english
    }

    /// Whether the planner is at work.
    pub fn is_planning(&self) -> bool {
        self.planning || self.probing.is_some() || self.is_typing() || self.moving.is_busy()
    }

    fn looks(&self, ctx: &egui::Context) {
        theme::install(ctx, self.prefs.contrast, self.prefs.glide);
        ctx.set_theme(if self.prefs.dark { egui::Theme::Dark } else { egui::Theme::Light });
        ctx.set_zoom_factor(self.prefs.text as f32 / 100.0);
    }

    /// Does what it is told.
    pub fn apply(&mut self, command: Command) {
        self.hints_followed(&command);
        match command {
            Command::AskOpen => self.ask(false),
            Command::Open(path) => self.leave(Leaving::Open(path)),
            Command::OpenDemo => self.leave(Leaving::Demo),
            Command::Save => self.save(Over::Nothing),
            Command::SaveOver => self.save(Over::File),
            Command::AskSaveAs => self.ask(true),
            Command::SaveAs(path) => self.save_as(&path, Over::Nothing),
            Command::SaveAsOver(path, all) => {
                self.save_as(&path, if all { Over::All } else { Over::File });
            }
            Command::ReadAgain => self.read_again(),
            Command::ClearClass => self.ask_to_clear(),
            Command::ClearClassNow => self.clear_class(),
            Command::BackToLesson => self.broken = None,
            Command::ShowFinding(i) => {
                if let Some(broken) = &mut self.broken {
                    broken.chosen = Some(i);
                    broken.scroll_now = true;
                }
            }
            Command::Edit(edit) => {
                if let Some(made) = self.doc.as_mut().map(|doc| doc.apply(&edit)) {
                    self.edited(&edit, made);
                }
            }
            Command::Today => self.show_today(),
            Command::Happened(what) => self.happened(&what),
            Command::New
            | Command::Again
            | Command::SetUp(_)
            | Command::GoTo(_)
            | Command::Typed
            | Command::KeepInLibrary(_)
            | Command::RemoveFromLibrary(..)
            | Command::Untype(_) => self.enter(&command),
            Command::PutRight(path) => self.put_right(&path),
            Command::Note(bake) => self.note(&bake),
            Command::TakeUp(things, mouse) => self.take_up(&things, mouse),
            Command::CarryTo(by, place) => self.carry_to(by, place),
            Command::Carry(things, by, shelves) => self.carry(&things, by, shelves),
            Command::SetDown => self.set_down(),
            Command::PutBack => self.put_back(),
            Command::Put(spots) => self.put(spots),
            Command::PutBy(thing, by, shelves) => self.put_by(thing, by, shelves),
            Command::Hold(what, on) => self.hold(&what, on),
            Command::LetGo(lock) => self.let_go_of(&lock),
            Command::PlanAnew => self.plan_anew(),
            Command::Mark(thing) => self.mark(thing),
            Command::InPlace(what) => self.edit_in_place(what),
            Command::TypedInPlace(text) => self.typed_in_place(&text),
            Command::Undo | Command::Redo => self.step_back(&command),
            Command::Stop => {
                self.planner.stop();
                self.stop_looking();
            }
            Command::Ghost(words) => self.ghost(words.as_deref()),
            Command::FocusChip(words) => {
                self.view.chip = Some(words);
                self.view.chip_now = true;
            }
            Command::Keep => self.keep(),
            Command::Drop => self.drop_shown(),
            Command::ToggleBefore => self.toggle_before(),
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
            Command::Show(stretch) => self.view.shown = stretch,
            Command::Zoom(factor) => self.zoom(factor),
            Command::ToggleList => self.view.as_list = !self.view.as_list,
            Command::ClassView => self.toggle_class_view(),
            Command::ClassViewFollows(what) => self.class_view_follows(what),
            Command::ToggleTheme => {
                self.prefs.dark = !self.prefs.dark;
                self.changed_looks();
            }
            Command::Text(by) => {
                let text = i64::from(self.prefs.text) + i64::from(by);
                let (least, most, _) = Prefs::TEXT;
                let text = text.clamp(i64::from(least), i64::from(most));
                self.prefs.text = u32::try_from(text).unwrap_or(100);
                self.changed_looks();
            }
            Command::English(english) => {
                self.prefs.english = english;
                self.prefs.keep();
                self.speak();
            }
            Command::ToggleContrast => {
                self.prefs.contrast = !self.prefs.contrast;
                self.changed_looks();
            }
            Command::ToggleMotion => {
                self.prefs.glide = !self.prefs.glide;
                self.changed_looks();
            }
            Command::Dismiss => self.message = None,
            Command::Help(topic) => self.show_help(topic),
            Command::Shortcuts => self.view.keys = !self.view.keys,
            Command::PutAwayHint(which) => self.put_away_hints(which),
            Command::ShowHints => self.show_hints(),
        }
    }

    fn changed_looks(&mut self) {
        self.looks(&self.wake.clone());
        self.prefs.keep();
    }

    fn move_minute(&mut self, command: &Command) {
        let Some(board) = &self.board else { return };
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

    fn zoom(&mut self, factor: f32) {
        let Some(board) = &self.board else { return };
        let whole = board::whole(board, self.overlay.as_ref().map(|o| &o.ghosts));
        let (from, until) = self.view.shown.unwrap_or(whole);
        let scale = crate::view::scale::TimeScale { from, until, left: 0.0, width: 1000.0 };
        let middle = self.view.minute.map_or(500.0, |m| scale.x(m as f32).clamp(0.0, 1000.0));
        let scale = scale.zoomed(factor, middle, whole);
        let all = scale.until - scale.from >= whole.1 - whole.0 - 0.01;
        self.view.shown = (!all).then_some((scale.from, scale.until));
    }

    fn keys(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        let typing = ctx.text_edit_focused();
        for (modifiers, key, command) in KEYS {
            if typing && *modifiers == Modifiers::NONE && *key != Key::F1 {
                continue;
            }
            if ctx.input_mut(|i| i.consume_key(*modifiers, *key)) {
                let minute = self.view.minute.map(|_| Command::Minute(None));
                out.push(match command {
                    Command::Minute(None) => minute.unwrap_or(Command::StepMinute(0)),
                    other => other.clone(),
                });
            }
        }
        let asks = self.leaving.is_some() || self.typed.is_some() || self.caring.asking.is_some();
        let open = asks || typing || self.view.keys || egui::Popup::is_any_open(ctx);
        let away = self.to_put_away();
        if let Some(away) = away.filter(|_| !open)
            && ctx.input_mut(|i| i.consume_key(Modifiers::NONE, Key::Escape))
        {
            out.push(away);
        }
        let dropped = ctx.input(|i| i.raw.dropped_files.clone());
        if let Some(path) =
            dropped.into_iter().map(|f| f.path().to_path_buf()).find(|p| !p.as_os_str().is_empty())
        {
            out.push(Command::Open(path));
        }
    }

    /// The toolkit leaves the window's own node without a name.
    fn name_for_screen_readers(&self, ctx: &egui::Context) {
        if self.is_projected_here(ctx) {
            let name = "Class view".to_owned();
            ctx.accesskit_node_builder(egui::accesskit_root_id(), |node| node.set_label(name));
            return;
        }
        let outcome = self.planned.as_ref().zip(self.plan.as_ref());
        let outcome = outcome.map(|(lesson, (_, plan))| sentence::outcome(lesson, plan));
        let name = outcome.map_or_else(|| self.title.clone(), |o| format!("{}: {o}", self.title));
        ctx.accesskit_node_builder(egui::accesskit_root_id(), |node| node.set_label(say(name)));
    }

    fn name_window(&mut self, ctx: &egui::Context) {
        let name = self.doc.as_ref().map_or("ovenbell".to_owned(), |doc| {
            let file = doc.path.as_ref().and_then(|p| p.file_name()).map(|n| n.to_string_lossy());
            let mark = match (doc.care().read_only(), doc.changed) {
                (Some(_), _) => " (read only)",
                (None, true) => " (not saved)",
                (None, false) => "",
            };
            format!("{}{mark} · ovenbell", file.as_deref().unwrap_or("demo lesson"))
        });
        if name != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(name.clone()));
            self.title = name;
        }
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        self.plan_when_due();
        self.listen();
        self.hear_of_moves();
        self.hear_dialog();
        self.hear_of_copies();
        self.guard_close(ctx);
        self.name_window(ctx);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        let mut commands = Vec::new();
        let ctx = ui.ctx().clone();
        self.speak();
        self.keys(&ctx, &mut commands);
        if !self.project_here(ui) {
            self.panels(ui, &mut commands);
        }
        self.questions(&ctx, &mut commands);
        self.dialogs(&ctx, &mut commands);
        if self.view.keys {
            super::keys::overlay(&ctx, &mut commands);
        }
        self.view.focus_now = None;
        self.view.chip_now = false;
        if let Some(broken) = &mut self.broken {
            broken.scroll_now = false;
        }
        let any = !commands.is_empty();
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
