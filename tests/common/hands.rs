//! A person at the window, by mouse, by keyboard or by actions of the
//! accessibility tree alone, who counts actions: a click, a command key, or one
//! field's typing. Tab and arrows are free.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use egui::{DroppedFile, DroppedFileHandle, Event, Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Command, Start};
use ovenbell::session::{Clock, Command as LessonCommand};
use ovenbell::units::ClockTime;

/// With what.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// The mouse, and keys for typing and commands.
    Mouse,
    /// Keys alone.
    Keyboard,
    /// Actions of the accessibility tree alone.
    Access,
}

/// A file that is dropped on the window.
#[derive(Debug)]
struct Dropped(PathBuf);

impl DroppedFile for Dropped {
    fn path(&self) -> &Path {
        &self.0
    }

    fn bytes(&self) -> Result<Vec<u8>, String> {
        std::fs::read(&self.0).map_err(|error| error.to_string())
    }
}

/// A person at the window.
pub struct Hands {
    how: How,
    harness: Harness<'static, App>,
    folder: tempfile::TempDir,
    actions: Vec<String>,
}

impl Hands {
    /// At a window of its own, with a data folder that `prepare` fills first.
    pub fn new(how: How, prepare: impl FnOnce(&Path)) -> Self {
        Self::sized(how, [1280.0, 800.0], prepare)
    }

    /// The same with a window of that size.
    pub fn sized(how: How, size: [f32; 2], prepare: impl FnOnce(&Path)) -> Self {
        Self::started(how, size, prepare, |start| start)
    }

    /// The same on the day of the sample lesson, at a time that stays until another is
    /// gone by.
    pub fn on_its_day(how: How, size: [f32; 2], time: &str) -> Self {
        let day = chrono::NaiveDate::from_ymd_opt(2026, 11, 26);
        let time = ClockTime::parse(time).ok();
        Self::started(how, size, |_| {}, |start| Start { day, time, ..start })
    }

    /// Another time of that day.
    pub fn go_by(&mut self, time: ClockTime) {
        let clock = Clock { time: Some(time), ..*self.app().session().clock() };
        self.harness.state_mut().go_by(clock);
        self.settle();
    }

    fn started(
        how: How,
        size: [f32; 2],
        prepare: impl FnOnce(&Path),
        with: impl FnOnce(Start) -> Start,
    ) -> Self {
        let folder = tempfile::tempdir().unwrap();
        prepare(folder.path());
        let start = Start {
            data: Some(folder.path().to_owned()),
            outcomes: Some(folder.path().join("outcomes.csv")),
            day: chrono::NaiveDate::from_ymd_opt(2026, 11, 27),
            paths_by_field: true,
            runs: Some(300),
            decodings: Some(super::how_many::FEW_PLANS),
            ..Start::default()
        };
        let start = with(start);
        let harness = Harness::builder()
            .with_size(size)
            .with_max_steps(200)
            .build_eframe(|cc| App::new(&cc.egui_ctx, start));
        let mut hands = Self { how, harness, folder, actions: Vec::new() };
        hands.settle();
        hands
    }

    /// The folder of the user's data.
    pub fn data(&self) -> &Path {
        self.folder.path()
    }

    pub fn app(&self) -> &App {
        self.harness.state()
    }

    pub fn actions(&self) -> usize {
        self.actions.len()
    }

    /// What was done.
    pub fn told(&self) -> &[String] {
        &self.actions
    }

    pub fn heard(&self) -> Vec<String> {
        super::spoken::spoken(&self.harness)
    }

    pub fn says(&self, part: &str) -> bool {
        super::spoken::says(&self.harness, part)
    }

    /// The window, for what hands do not do.
    pub fn window(&self) -> &Harness<'static, App> {
        &self.harness
    }

    /// Tells the window what to do.
    pub fn apply(&mut self, command: impl Into<Command>) {
        self.harness.state_mut().apply(command);
        self.harness.run_steps(2);
    }

    /// Lets some frames go by.
    pub fn wait(&mut self, frames: usize) {
        self.harness.run_steps(frames);
    }

    /// Clicks what is in sight.
    pub fn click(&mut self, label: &str) {
        self.actions.push(format!("click {label}"));
        self.harness.get_by_label(label).click();
        self.harness.run_steps(4);
    }

    /// Drops files on the window.
    pub fn drop_files(&mut self, files: &[PathBuf]) {
        let dropped = files.iter().map(|path| Arc::new(Dropped(path.clone())) as DroppedFileHandle);
        self.harness.input_mut().dropped_files.extend(dropped);
        self.harness.run_steps(4);
    }

    /// Steps until nothing more is being planned.
    pub fn settle(&mut self) {
        let begun = Instant::now();
        loop {
            self.harness.run_steps(4);
            if !self.app().is_planning() {
                break;
            }
            assert!(begun.elapsed() < Duration::from_secs(120), "the planner says nothing");
            std::thread::sleep(Duration::from_millis(5));
        }
        self.harness.run_steps(4);
    }

    /// Steps until something is said.
    pub fn wait_for(&mut self, part: &str) {
        for _ in 0..400 {
            self.harness.run_steps(2);
            if self.says(part) {
                return;
            }
            std::thread::sleep(Duration::from_millis(5));
        }
        panic!("{part} is never said: {:?}", self.heard());
    }

    /// A key with Ctrl; not by the accessibility tree.
    pub fn command(&mut self, key: Key) {
        assert_ne!(self.how, How::Access, "a key was pressed");
        self.actions.push(format!("command {key:?}"));
        self.harness.key_press_modifiers(Modifiers::COMMAND, key);
        self.harness.run_steps(4);
    }

    /// A key by itself; arrows are no action.
    pub fn key(&mut self, key: Key) {
        assert_ne!(self.how, How::Access, "a key was pressed");
        self.harness.key_press(key);
        self.harness.run_steps(4);
    }

    pub fn enter(&mut self) {
        assert_ne!(self.how, How::Access, "a key was pressed");
        self.actions.push("Enter".to_owned());
        self.harness.key_press(Key::Enter);
        self.harness.run_steps(4);
    }

    /// Opens a file, as one click on a list of recent ones and one on it.
    pub fn open(&mut self, path: &Path) {
        self.actions.push("list of recent files".to_owned());
        self.actions.push(format!("{}", path.display()));
        self.harness.state_mut().apply(LessonCommand::Open(path.to_owned()));
        self.settle();
    }

    /// Brings the focus to what has this name, by Tab alone.
    fn tab_to(&mut self, label: &str) {
        let mut seen = Vec::new();
        for _ in 0..400 {
            self.harness.key_press(Key::Tab);
            self.harness.run_steps(2);
            let focused = self.harness.root().query_all_by(|n| n.is_focused()).next();
            let name = focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default();
            if name == label {
                return;
            }
            seen.push(name);
        }
        panic!("Tab does not reach {label}: {seen:?}");
    }

    /// Scrolls to what has this name, until it has come to rest.
    fn bring(&mut self, label: &str) {
        self.harness.get_by_label(label).scroll_to_me();
        self.harness.run_steps(2);
        // One scrolled area within another hears of the focus alone.
        self.harness.get_by_label(label).focus();
        let mut before = None;
        for _ in 0..100 {
            self.harness.run_steps(3);
            let now = Some(self.harness.get_by_label(label).rect());
            if now == before {
                return;
            }
            before = now;
        }
        panic!("{label} does not come to rest");
    }

    /// Presses a button, a tile or a link.
    pub fn press(&mut self, label: &str) {
        self.actions.push(format!("press {label}"));
        match self.how {
            How::Mouse => {
                self.bring(label);
                self.harness.get_by_label(label).click();
            }
            How::Keyboard => {
                self.tab_to(label);
                self.harness.key_press(Key::Space);
            }
            How::Access => self.harness.get_by_label(label).click_accesskit(),
        }
        self.harness.run_steps(4);
    }

    /// Types into a field, over what it holds.
    pub fn fill(&mut self, label: &str, text: &str) {
        self.actions.push(format!("{label}: {text}"));
        match self.how {
            How::Mouse => {
                self.bring(label);
                self.harness.get_by_label(label).click();
            }
            How::Keyboard => self.tab_to(label),
            How::Access => {
                self.harness.get_by_label(label).set_text_value_accesskit(text);
                self.harness.run_steps(4);
                return;
            }
        }
        self.harness.run_steps(2);
        self.type_over(text);
    }

    /// Types into the field that has the focus, over what it holds.
    pub fn type_here(&mut self, text: &str) {
        self.actions.push(text.to_owned());
        self.type_over(text);
    }

    /// The harness itself, for what a test looks at.
    pub fn harness(&mut self) -> &mut Harness<'static, App> {
        &mut self.harness
    }

    /// Brings the focus to what has this name, by Tab alone.
    pub fn reach(&mut self, label: &str) {
        self.tab_to(label);
    }

    fn type_over(&mut self, text: &str) {
        self.harness.key_press_modifiers(Modifiers::COMMAND, Key::A);
        self.harness.run_steps(1);
        if text.is_empty() {
            self.harness.key_press(Key::Delete);
        }
        for letter in text.chars() {
            self.harness.event(Event::Text(letter.to_string()));
            self.harness.run_steps(1);
        }
        self.harness.run_steps(3);
    }

    /// Drags from the middle of one thing to the middle of another, both of
    /// which are in sight when a third is.
    pub fn drag(&mut self, from: &str, to: &str, near: &str) {
        self.actions.push(format!("drag {from} to {to}"));
        self.bring(near);
        let middle = |label: &str| self.harness.get_by_label(label).rect().center();
        let (from, to) = (middle(from), middle(to));
        self.drag_between(from, to);
    }

    /// Drags from one point of the window to another.
    pub fn drag_between(&mut self, from: egui::Pos2, to: egui::Pos2) {
        let press = |pos, pressed| Event::PointerButton {
            pos,
            button: egui::PointerButton::Primary,
            pressed,
            modifiers: Modifiers::NONE,
        };
        self.harness.event(Event::PointerMoved(from));
        self.harness.run_steps(1);
        self.harness.event(press(from, true));
        self.harness.run_steps(1);
        for part in 1..=4 {
            let at = from + (to - from) * (part as f32 / 4.0);
            self.harness.event(Event::PointerMoved(at));
            self.harness.run_steps(1);
        }
        self.harness.event(press(to, false));
        self.harness.run_steps(4);
    }

    /// Where something is shown.
    pub fn place(&self, label: &str) -> egui::Rect {
        self.harness.get_by_label(label).rect()
    }

    /// What a field shows.
    pub fn holds(&self, label: &str) -> String {
        self.harness.get_by_label(label).accesskit_node().value().unwrap_or_default()
    }

    /// A file of the data folder.
    pub fn file(&self, name: &str) -> PathBuf {
        self.data().join(name)
    }
}
