//! The application: holds document, plan and view; applies commands.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui::{self, CentralPanel, Frame, Margin, Modifiers, Panel, ViewportCommand};

use super::command::{Command, KEYS};
use super::document::Document;
use super::open::{Asked, Told};
use super::prefs::Prefs;
use super::probe::Probed;
use super::state::{Selection, ViewState};
use super::theme::{self, Palette};
use super::worker::{Answer, Job, Worker};
use super::{board, card, findings, fonts, list, top};
use crate::check::CheckedPlan;
use crate::finding::Finding;
use crate::model::GroupId;
use crate::view::board::Board;

const DEMO: &str = include_str!("../../lessons/demo.ron");

/// How the window starts.
#[derive(Debug, Clone, Default)]
pub struct Start {
    /// The lesson to open; the demo if `None`.
    pub file: Option<PathBuf>,
    /// Width and height in points.
    pub size: Option<(f32, f32)>,
    /// Dark or light; as last time if `None`.
    pub dark: Option<bool>,
    /// Size of everything in hundredths; as last time if `None`.
    pub text: Option<u32>,
    /// Remember looks and recent files.
    pub remember: bool,
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
}

/// What the panels read.
pub struct Shown<'a> {
    /// The lesson.
    pub doc: Option<&'a Document>,
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
    pub probed: Option<&'a (u64, GroupId, Vec<Probed>)>,
    /// Something to tell.
    pub message: Option<&'a str>,
}

/// The application.
pub struct App {
    doc: Option<Document>,
    broken: Option<Broken>,
    plan: Option<(u64, Arc<CheckedPlan>)>,
    board: Option<Board>,
    view: ViewState,
    prefs: Prefs,
    planner: Worker,
    prober: Worker,
    planning: bool,
    probed: Option<(u64, GroupId, Vec<Probed>)>,
    probing: Option<(u64, GroupId)>,
    message: Option<String>,
    asked: Option<Asked>,
    /// A field for a path, where no dialog service answers: its text, and
    /// whether it is to save.
    typed: Option<(String, bool)>,
    closing: bool,
    revision: u64,
    title: String,
    wake: egui::Context,
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
        theme::install(ctx);
        ctx.options_mut(|o| o.zoom_with_keyboard = false);
        let mut prefs = if start.remember { Prefs::load() } else { Prefs::default() };
        if let Some(dark) = start.dark {
            prefs.dark = dark;
        }
        if let Some(text) = start.text {
            prefs.text = text.clamp(Prefs::TEXT.0, Prefs::TEXT.1);
        }
        let worker = || {
            let ctx = ctx.clone();
            Worker::start(move || ctx.request_repaint())
        };
        let mut app = Self {
            doc: None,
            broken: None,
            plan: None,
            board: None,
            view: ViewState::default(),
            prefs,
            planner: worker(),
            prober: worker(),
            planning: false,
            probed: None,
            probing: None,
            message: None,
            asked: None,
            typed: None,
            closing: false,
            revision: 0,
            title: String::new(),
            wake: ctx.clone(),
        };
        app.looks(ctx);
        match start.file {
            Some(path) => app.open(&path),
            None => app.open_demo(),
        }
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

    /// Whether the planner is at work.
    pub fn is_planning(&self) -> bool {
        self.planning || self.probing.is_some()
    }

    fn looks(&self, ctx: &egui::Context) {
        ctx.set_theme(if self.prefs.dark { egui::Theme::Dark } else { egui::Theme::Light });
        ctx.set_zoom_factor(self.prefs.text as f32 / 100.0);
    }

    fn open_demo(&mut self) {
        self.take(DEMO, None);
    }

    fn open(&mut self, path: &Path) {
        let size = std::fs::metadata(path).map(|m| m.len()).unwrap_or(0);
        let bytes =
            if size > crate::file::LARGEST_FILE { Ok(Vec::new()) } else { std::fs::read(path) };
        match bytes {
            Ok(bytes) => {
                let text = String::from_utf8_lossy(&bytes).into_owned();
                match crate::file::load_lesson(path) {
                    Ok(_) => {
                        self.take(&text, Some(path));
                        self.prefs.opened(path);
                    }
                    Err(findings) => self.show_broken(path, &text, findings),
                }
            }
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                self.message = Some(format!("There is no file {}.", path.display()));
            }
            Err(error) => self.message = Some(format!("{}: {error}", path.display())),
        }
    }

    fn show_broken(&mut self, path: &Path, text: &str, findings: Vec<Finding>) {
        let lines = text.lines().map(str::to_owned).collect();
        let chosen = (!findings.is_empty()).then_some(0);
        let path = path.to_path_buf();
        self.broken = Some(Broken { path, lines, findings, chosen, scroll_now: true });
    }

    fn take(&mut self, text: &str, path: Option<&Path>) {
        self.revision += 1000;
        match Document::read(text, path, self.revision) {
            Ok(doc) => {
                self.doc = Some(doc);
                self.broken = None;
                self.plan = None;
                self.board = None;
                self.message = None;
                self.view = ViewState { as_list: self.view.as_list, ..ViewState::default() };
                self.replan();
            }
            Err(findings) => self.show_broken(path.unwrap_or(Path::new("demo")), text, findings),
        }
    }

    fn replan(&mut self) {
        let Some(doc) = &self.doc else { return };
        self.planner.begin(Job::Plan(doc.revision, Arc::clone(&doc.lesson)));
        self.planning = true;
        self.prober.stop();
        self.probing = None;
    }

    fn listen(&mut self) {
        let now = self.doc.as_ref().map(|d| d.revision);
        let answers = self.planner.answers().into_iter().chain(self.prober.answers());
        for answer in answers.collect::<Vec<_>>() {
            match answer {
                Answer::Plan(revision, plan) if Some(revision) == now => {
                    if let Some(doc) = &self.doc {
                        self.board = Some(Board::of(&doc.lesson, &plan));
                    }
                    self.plan = Some((revision, plan));
                }
                Answer::Done(revision) if Some(revision) == now => self.planning = false,
                Answer::Probed(revision, group, probed) if Some(revision) == now => {
                    if self.probing == Some((revision, group)) {
                        self.probing = None;
                    }
                    self.probed = Some((revision, group, probed));
                }
                Answer::Fault(revision, fault) if Some(revision) == now => {
                    self.planning = false;
                    self.probing = None;
                    self.message =
                        Some(format!("{fault}. The plan shown is the last one that was checked."));
                }
                // Answers for an older lesson say nothing of this one.
                _ => {}
            }
        }
        self.probe_selected();
    }

    /// Asks what the choices of the selected group come to, once its plan is
    /// there.
    fn probe_selected(&mut self) {
        let Selection::Group(group) = self.view.selection else { return };
        let Some(doc) = &self.doc else { return };
        let wanted = (doc.revision, group);
        let known = self.probed.as_ref().is_some_and(|(r, g, _)| (*r, *g) == wanted);
        let planned = self.plan.as_ref().is_some_and(|(r, _)| *r == doc.revision);
        if !known && planned && self.probing != Some(wanted) && group.0 < doc.lesson.groups.len() {
            self.probing = Some(wanted);
            self.prober.begin(Job::Probe(doc.revision, Arc::clone(&doc.lesson), group));
        }
    }

    /// Does what it is told.
    pub fn apply(&mut self, command: Command) {
        match command {
            Command::AskOpen => self.ask(false),
            Command::Open(path) => self.open(&path),
            Command::OpenDemo => self.open_demo(),
            Command::Save => match self.doc.as_ref().and_then(|d| d.path.clone()) {
                Some(path) => self.save(&path),
                None => self.ask(true),
            },
            Command::SaveAs(path) => self.save(&path),
            Command::BackToLesson => self.broken = None,
            Command::ShowFinding(i) => {
                if let Some(broken) = &mut self.broken {
                    broken.chosen = Some(i);
                    broken.scroll_now = true;
                }
            }
            Command::Edit(edit) => {
                let done = self.doc.as_mut().map(|doc| doc.apply(&edit));
                match done {
                    Some(Ok(())) => self.replan(),
                    Some(Err(findings)) => {
                        let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                        self.message = Some(format!("Cannot: {}. {why}", edit.label()));
                    }
                    None => {}
                }
            }
            Command::Undo => self.step_back(Document::undo),
            Command::Redo => self.step_back(Document::redo),
            Command::Stop => self.planner.stop(),
            Command::Select(selection) => self.view.selection = selection,
            Command::Focus(bar) => {
                self.view.current = Some(bar);
                self.view.focus_now = Some(bar);
            }
            Command::Minute(_) | Command::StepMinute(_) => self.move_minute(&command),
            Command::Show(stretch) => self.view.shown = stretch,
            Command::Zoom(factor) => self.zoom(factor),
            Command::ToggleList => self.view.as_list = !self.view.as_list,
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
            Command::ToggleGlide => {
                self.prefs.glide = !self.prefs.glide;
                self.prefs.keep();
            }
            Command::Dismiss => self.message = None,
        }
    }

    fn step_back(&mut self, way: fn(&mut Document)) {
        if let Some(doc) = &mut self.doc {
            let before = doc.revision;
            way(doc);
            if doc.revision != before {
                self.replan();
            }
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
        let whole = board::whole(board);
        let (from, until) = self.view.shown.unwrap_or(whole);
        let scale = crate::view::scale::TimeScale { from, until, left: 0.0, width: 1000.0 };
        let middle = self.view.minute.map_or(500.0, |m| scale.x(m as f32).clamp(0.0, 1000.0));
        let scale = scale.zoomed(factor, middle, whole);
        let all = scale.until - scale.from >= whole.1 - whole.0 - 0.01;
        self.view.shown = (!all).then_some((scale.from, scale.until));
    }

    fn save(&mut self, path: &Path) {
        let Some(doc) = &mut self.doc else { return };
        match doc.save(path) {
            Ok(()) => {
                self.message = None;
                self.prefs.opened(path);
            }
            Err(error) => {
                self.message = Some(format!("Not saved to {}: {error}", path.display()));
            }
        }
    }

    fn ask(&mut self, to_save: bool) {
        let ctx = self.wake.clone();
        self.asked = Some(Asked::show(to_save, move || ctx.request_repaint()));
    }

    fn hear_dialog(&mut self) {
        let Some(asked) = &self.asked else { return };
        let to_save = asked.to_save;
        match asked.told() {
            Told::Waiting => return,
            Told::File(path) if to_save => self.save(&path),
            Told::File(path) => self.open(&path),
            Told::Nothing { at_once: true } => self.typed = Some((String::new(), to_save)),
            Told::Nothing { at_once: false } => {}
        }
        self.asked = None;
    }

    fn keys(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        let typing = ctx.text_edit_focused();
        for (modifiers, key, command) in KEYS {
            if typing && *modifiers == Modifiers::NONE {
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
        let dropped = ctx.input(|i| i.raw.dropped_files.clone());
        if let Some(path) =
            dropped.into_iter().map(|f| f.path().to_path_buf()).find(|p| !p.as_os_str().is_empty())
        {
            out.push(Command::Open(path));
        }
    }

    fn name_window(&mut self, ctx: &egui::Context) {
        let name = self.doc.as_ref().map_or("ovenbell".to_owned(), |doc| {
            let file = doc.path.as_ref().and_then(|p| p.file_name()).map(|n| n.to_string_lossy());
            let mark = if doc.changed { " (not saved)" } else { "" };
            format!("{}{mark} · ovenbell", file.as_deref().unwrap_or("demo lesson"))
        });
        if name != self.title {
            ctx.send_viewport_cmd(ViewportCommand::Title(name.clone()));
            self.title = name;
        }
    }

    /// Asks before changes are lost.
    fn guard_close(&mut self, ctx: &egui::Context) {
        let wants = ctx.input(|i| i.viewport().close_requested());
        if wants && !self.closing && self.doc.as_ref().is_some_and(|d| d.changed) {
            ctx.send_viewport_cmd(ViewportCommand::CancelClose);
            self.closing = true;
        }
    }

    fn dialogs(&mut self, ctx: &egui::Context, out: &mut Vec<Command>) {
        if self.closing {
            egui::Modal::new(egui::Id::unique("closing")).show(ctx, |ui| {
                ui.label("The lesson has changes that are not saved.");
                ui.horizontal(|ui| {
                    if ui.button("Save").clicked() {
                        out.push(Command::Save);
                        self.closing = false;
                    }
                    if ui.button("Close without saving").clicked() {
                        ctx.send_viewport_cmd(ViewportCommand::Close);
                    }
                    if ui.button("Go on").clicked() {
                        self.closing = false;
                    }
                });
            });
        }
        let Some((mut text, to_save)) = self.typed.take() else { return };
        let mut keep = true;
        let modal = egui::Modal::new(egui::Id::unique("path")).show(ctx, |ui| {
            let what = if to_save { "Save to this file:" } else { "Open this file:" };
            let label = ui.label(format!("{what} (no file dialog answered here)"));
            let field = ui.add(egui::TextEdit::singleline(&mut text).desired_width(420.0));
            let field = field.labelled_by(label.id);
            let entered = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
            // Asked after `lost_focus`, which it would answer otherwise.
            if !entered && ui.memory(|m| m.focused().is_none()) {
                field.request_focus();
            }
            ui.horizontal(|ui| {
                let word = if to_save { "Save" } else { "Open" };
                if (ui.button(word).clicked() || entered) && !text.trim().is_empty() {
                    let path = PathBuf::from(text.trim());
                    out.push(if to_save { Command::SaveAs(path) } else { Command::Open(path) });
                    keep = false;
                }
                if ui.button("Cancel").clicked() {
                    keep = false;
                }
            });
        });
        if keep && !modal.should_close() {
            self.typed = Some((text, to_save));
        }
    }

    fn panels(&mut self, ui: &mut egui::Ui, out: &mut Vec<Command>) {
        let palette = Palette::of(ui.ctx());
        ui.painter().rect_filled(ui.max_rect(), 0.0, palette.paper);
        let shown = Shown {
            doc: self.doc.as_ref(),
            plan: self.plan.as_ref().map(|(_, plan)| &**plan),
            board: self.board.as_ref(),
            view: &self.view,
            prefs: &self.prefs,
            planning: self.planning,
            probed: self.probed.as_ref(),
            message: self.message.as_deref(),
        };
        let paper = Frame::new().fill(palette.paper).inner_margin(Margin::symmetric(14, 8));
        Panel::top("head").frame(paper).show_separator_line(false).show(ui, |ui| {
            top::buttons(ui, &shown, out);
            if self.broken.is_none() {
                top::outcome(ui, &shown, out);
            }
        });
        if let Some(broken) = &self.broken {
            CentralPanel::default().frame(paper).show(ui, |ui| {
                findings::show(ui, broken, self.doc.is_some(), out);
            });
            return;
        }
        let sheet = Frame::new()
            .fill(palette.card)
            .stroke(egui::Stroke::new(1.0, palette.line))
            .corner_radius(8)
            .inner_margin(Margin::same(10));
        let width = (ui.available_width() * 0.26).clamp(250.0, 360.0);
        Panel::right("card")
            .exact_size(width)
            .resizable(false)
            .frame(sheet.outer_margin(Margin { left: 0, right: 14, top: 0, bottom: 12 }))
            .show_separator_line(false)
            .show(ui, |ui| {
                // What is too wide for the card must not widen it: the board
                // would be drawn over it.
                let place = ui.available_rect_before_wrap();
                let mut inside = ui.new_child(egui::UiBuilder::new().max_rect(place));
                inside.shrink_clip_rect(place.expand(4.0));
                card::show(&mut inside, &shown, out);
                ui.advance_cursor_after_rect(place);
            });
        let inset = Margin { left: 14, right: 10, top: 0, bottom: 12 };
        CentralPanel::default().frame(sheet.outer_margin(inset)).show(ui, |ui| {
            if self.view.as_list {
                list::show(ui, &shown, out);
            } else {
                board::show(ui, &shown, out);
            }
        });
    }
}

impl eframe::App for App {
    fn logic(&mut self, ctx: &egui::Context, _frame: &mut eframe::Frame) {
        self.listen();
        self.hear_dialog();
        self.guard_close(ctx);
        self.name_window(ctx);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _frame: &mut eframe::Frame) {
        let mut commands = Vec::new();
        let ctx = ui.ctx().clone();
        self.keys(&ctx, &mut commands);
        self.panels(ui, &mut commands);
        self.dialogs(&ctx, &mut commands);
        self.view.focus_now = None;
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
    }

    fn persist_egui_memory(&self) -> bool {
        false
    }
}
