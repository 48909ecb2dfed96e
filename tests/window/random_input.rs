//! Random clicks, keys, words, drops, files and window sizes, as through a day of work:
//! the window never panics, what it shows is always a checked plan, and how much memory
//! it holds while that goes on is printed.
//!
//! `OVENBELL_EVENTS=28800 cargo test --test window random_input -- --nocapture` is eight
//! hours of an input a second; `OVENBELL_SEED` makes it another day.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::allocated::allocated_mb;
use crate::common::how_many::how_many;
use crate::common::memory::resident_mb;
use crate::common::skipped::skipped;
use crate::common::spoken::{quick, says};
use crate::common::{edits, generate};
use egui::{Event, Key, Modifiers, PointerButton, Pos2, Vec2, pos2, vec2};
use egui_kittest::Harness;
#[cfg(not(feature = "pictures"))]
use egui_kittest::TestRenderer;
use ovenbell::app::{App, Command, PLACES, Start};
use ovenbell::check::check;
use ovenbell::file::write_lesson;
use ovenbell::papers::Part;
use ovenbell::session::{Command as LessonCommand, Revision, WeekCommand};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Random events in a default run; `OVENBELL_EVENTS` sets another number.
fn events() -> u64 {
    how_many("OVENBELL_EVENTS", 1_000)
}

/// Paints nothing and keeps nothing: a harness without a renderer keeps every letter's
/// picture for one that may come, which a window gives away as it paints.
#[cfg(not(feature = "pictures"))]
struct Unpainted;

#[cfg(not(feature = "pictures"))]
impl TestRenderer for Unpainted {
    fn handle_delta(&mut self, delta: &mut egui::TexturesDelta) {
        delta.clear();
    }
}

/// So many events lie between two looks at the plan and the memory.
const LOOK: u64 = 25;
/// At a look, plans are waited for as long as this: else every one would be overtaken by
/// the next change.
const PATIENCE: Duration = Duration::from_millis(150);

const KEYS: [Key; 37] = [
    Key::Tab,
    Key::Enter,
    Key::Space,
    Key::Escape,
    Key::ArrowLeft,
    Key::ArrowRight,
    Key::ArrowUp,
    Key::ArrowDown,
    Key::PageUp,
    Key::PageDown,
    Key::Home,
    Key::End,
    Key::Plus,
    Key::Minus,
    Key::Num0,
    Key::Z,
    Key::Y,
    Key::L,
    Key::D,
    Key::M,
    Key::Period,
    Key::N,
    Key::R,
    Key::S,
    Key::T,
    Key::F6,
    Key::Num1,
    Key::Num2,
    Key::A,
    Key::B,
    Key::E,
    Key::K,
    Key::Delete,
    Key::Backspace,
    Key::F1,
    Key::Questionmark,
    Key::Slash,
];

/// Typed into whatever has the keyboard.
const WORDS: [&str; 14] = [
    "flour",
    "12",
    "7.5",
    "0",
    "-3",
    "10:35",
    "25:99",
    "180 °C",
    "oven",
    "Sinéad & Łukasz",
    "فطيرة",
    "👩‍🍳",
    "9 999 999 999",
    "a name that goes on for longer than any field of the window has room to show it in",
];

/// Where files are opened and saved.
struct Folder {
    folder: tempfile::TempDir,
    files: Vec<PathBuf>,
}

impl Folder {
    fn new() -> Self {
        let folder = tempfile::tempdir().unwrap();
        let write = |name: &str, bytes: &[u8]| {
            let path = folder.path().join(name);
            std::fs::write(&path, bytes).unwrap();
            path
        };
        let good = write_lesson(&generate::lesson(2)).unwrap();
        let small = write_lesson(&generate::lesson_of(4, 4)).unwrap();
        // One that does not fit, so that there are changes to choose.
        let deep = include_bytes!("../../lessons/e-ginger-square.ron");
        let mut files = vec![
            write("good.ron", good.as_bytes()),
            write("deep.ron", deep),
            write("small.ron", small.as_bytes()),
            write("demo.ron", include_bytes!("../../lessons/demo.ron")),
            write("cut.ron", &good.as_bytes()[..good.len() / 2]),
            write("empty.ron", b""),
            write("bytes.ron", &[0xff, 0xfe, 0x00, 0x80]),
            write("slip.ron", good.replace("recipe: \"Bake 0\"", "recipe: \"Bak\"").as_bytes()),
            folder.path().join("nowhere.ron"),
            write("buns.jsonld", include_bytes!("../fuzz/corpus/buns.jsonld")),
        ];
        let week = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/week");
        std::fs::create_dir(folder.path().join("week")).unwrap();
        for entry in std::fs::read_dir(week).unwrap() {
            let from = entry.unwrap().path();
            std::fs::copy(&from, folder.path().join("week").join(from.file_name().unwrap()))
                .unwrap();
        }
        files.push(folder.path().join("week/week.ron"));
        files.extend((0..4).map(|n| folder.path().join(format!("saved {n}.ron"))));
        Self { folder, files }
    }

    fn any(&self, rng: &mut Pcg64Mcg) -> PathBuf {
        self.files[rng.random_range(0..self.files.len())].clone()
    }

    /// One of those that are saved to.
    fn own(&self, rng: &mut Pcg64Mcg) -> PathBuf {
        self.files[self.files.len() - 1 - rng.random_range(0..4)].clone()
    }
}

/// A window with somebody at it who does anything at all.
struct Day {
    harness: Harness<'static, App>,
    rng: Pcg64Mcg,
    folder: Folder,
    /// How often a plan was judged again.
    shown: u32,
    /// The lesson as it was at the last event.
    revision: Option<Revision>,
}

impl Day {
    fn new() -> Self {
        let folder = Folder::new();
        let at = folder.folder.path();
        let start = Start {
            file: Some(folder.files[0].clone()),
            data: Some(at.join("data")),
            outcomes: Some(at.join("outcomes.csv")),
            settings: Some(at.join("settings")),
            day: chrono::NaiveDate::from_ymd_opt(2026, 11, 26),
            paths_by_field: true,
            runs: Some(50),
            ..quick()
        };
        let harness = Harness::builder().with_size([1280.0, 800.0]).allow_missing_glyphs();
        #[cfg(not(feature = "pictures"))]
        let harness = harness.renderer(Unpainted);
        let harness = harness.build_eframe(|cc| App::new(&cc.egui_ctx, start));
        let rng = Pcg64Mcg::seed_from_u64(how_many("OVENBELL_SEED", 11));
        Self { harness, rng, folder, shown: 0, revision: None }
    }

    fn size(&self) -> Vec2 {
        self.harness.input().screen_rect.map_or(vec2(1280.0, 800.0), |r| r.size())
    }

    fn somewhere(&mut self) -> Pos2 {
        let size = self.size();
        pos2(self.rng.random_range(0.0..size.x), self.rng.random_range(0.0..size.y))
    }

    fn press(&mut self, pos: Pos2, button: PointerButton) {
        self.harness.hover_at(pos);
        for pressed in [true, false] {
            let modifiers = Modifiers::NONE;
            self.harness.event(Event::PointerButton { pos, button, pressed, modifiers });
        }
    }

    /// Changes a lesson that has what such changes are of.
    fn change(&mut self) {
        let Some(doc) = self.harness.state().document() else { return };
        let file = doc.file();
        let has_all = file.recipes.iter().all(|r| !r.tins.is_empty() && !r.methods.is_empty());
        if doc.lesson().is_none() || !has_all || file.groups.is_empty() {
            return;
        }
        let edit = edits::random(&mut self.rng, file);
        self.apply(LessonCommand::Edit(edit));
    }

    fn apply(&mut self, command: impl Into<Command>) {
        self.harness.state_mut().apply(command);
    }

    fn happens(&mut self) {
        let at = self.somewhere();
        match self.rng.random_range(0..1000) {
            0..370 => self.press(at, PointerButton::Primary),
            370..390 => self.press(at, PointerButton::Secondary),
            390..490 => {
                let to = self.somewhere();
                self.harness.drag_at(at);
                self.harness.run_steps(1);
                self.harness.hover_at(to);
                self.harness.run_steps(1);
                self.harness.drop_at(to);
            }
            490..740 => {
                let key = KEYS[self.rng.random_range(0..KEYS.len())];
                let modifiers =
                    [Modifiers::NONE, Modifiers::NONE, Modifiers::COMMAND, Modifiers::SHIFT]
                        [self.rng.random_range(0..4)];
                self.harness.key_press_modifiers(modifiers, key);
            }
            740..780 => self.change(),
            // No path but those that are offered: others may lead anywhere.
            780..820 if says(&self.harness, " this file:") => {}
            780..820 => {
                let words = WORDS[self.rng.random_range(0..WORDS.len())].to_owned();
                let pasted = self.rng.random_bool(0.2);
                self.harness.event(if pasted { Event::Paste(words) } else { Event::Text(words) });
            }
            820..850 => self.wheel(),
            850..885 => {
                let file = self.folder.any(&mut self.rng);
                self.apply(LessonCommand::Open(file));
            }
            885..905 => {
                let to = self.folder.own(&mut self.rng);
                let over = self.rng.random_bool(0.5);
                self.apply(LessonCommand::SaveAsOver(to, over));
            }
            905..930 => self.apply(LessonCommand::Save),
            930..955 => {
                let place = PLACES[self.rng.random_range(0..PLACES.len())].place;
                self.apply(Command::Go(place));
            }
            955..960 => self.apply(LessonCommand::Week(WeekCommand::Show)),
            960..980 => {
                let back = [LessonCommand::Undo, LessonCommand::Undo, LessonCommand::Redo];
                let which = back[self.rng.random_range(0..3)].clone();
                for _ in 0..self.rng.random_range(1..8) {
                    self.apply(which.clone());
                }
            }
            980..983 => {
                let to = self.folder.folder.path().join("sheets.pdf");
                let parts = vec![Part::RunningOrder, Part::OvenSheet, Part::TimePlans];
                self.apply(LessonCommand::PrintSheets(to, parts, true));
            }
            _ => {
                let wide = self.rng.random_range(300.0..2000.0);
                let size = vec2(wide, self.rng.random_range(200.0..1200.0));
                self.harness.set_size(size);
            }
        }
    }

    /// Whether the lesson is another than at the last event, or otherwise.
    fn is_another(&mut self) -> bool {
        let revision = self.harness.state().document().map(|doc| doc.revision());
        std::mem::replace(&mut self.revision, revision) != revision
    }

    fn wheel(&mut self) {
        let delta = vec2(self.rng.random_range(-80.0..80.0), self.rng.random_range(-80.0..80.0));
        let with_command = self.rng.random_bool(0.4);
        self.harness.event(Event::MouseWheel {
            unit: egui::MouseWheelUnit::Point,
            delta,
            modifiers: if with_command { Modifiers::COMMAND } else { Modifiers::NONE },
            phase: egui::TouchPhase::Move,
            source: egui::MouseWheelSource::Unknown,
        });
    }

    /// Waits a little for what is being worked on, and judges the plan that is shown.
    fn look(&mut self) {
        let begun = Instant::now();
        while self.harness.state().is_planning() && begun.elapsed() < PATIENCE {
            std::thread::sleep(Duration::from_millis(5));
            self.harness.run_steps(1);
        }
        let app = self.harness.state();
        let (Some(doc), Some(plan)) = (app.document(), app.current_plan()) else { return };
        let again =
            check(doc.lesson().unwrap(), plan.plan().clone()).expect("a plan that breaks a rule");
        assert_eq!(again.objective(), plan.objective());
        self.shown += 1;
    }
}

/// What is read off at a look.
#[derive(Debug, Clone, Copy)]
struct Held {
    /// After so many events.
    event: u64,
    /// The lesson had become another so often by then.
    changes: u32,
    /// Memory in use, in MB: what the program and the tests asked for and did not give back.
    asked_for: f64,
    /// Of the process, as the system has it, what the allocator keeps for later with it.
    resident: Option<f64>,
    /// Of the picture of all letters that were written so far, which egui keeps.
    letters: f64,
}

impl Held {
    fn after(event: u64, changes: u32, day: &Day) -> Self {
        let [width, height] = day.harness.ctx.fonts(|fonts| fonts.font_image_size());
        // Four bytes a dot.
        let letters = (width * height * 4) as f64 / 1e6;
        Self { event, changes, asked_for: allocated_mb(), resident: resident_mb(), letters }
    }
}

/// Says how memory went, beside how often the lesson changed.
fn tell(held: &[Held]) {
    if held.len() < 40 {
        return;
    }
    told("asked for", held, |h| Some(h.asked_for));
    told("asked for but for letters", held, |h| Some(h.asked_for - h.letters));
    told("of the process", held, |h| h.resident);
    let changes = |part: &[Held]| part[part.len() - 1].changes - part[0].changes;
    let changes: Vec<String> = tenths(held).map(|part| changes(part).to_string()).collect();
    println!("another lesson, so often: {}", changes.join(" "));
}

/// The mean of some memory in each tenth of the events; and by how much it grows in a
/// thousand of them, by least squares, in all and in the second half.
fn told(what: &str, held: &[Held], of: impl Fn(&Held) -> Option<f64>) {
    if held.iter().any(|h| of(h).is_none()) {
        return;
    }
    let of = |h: &Held| of(h).unwrap();
    let mean = |part: &[Held]| part.iter().map(of).sum::<f64>() / part.len() as f64;
    let means: Vec<String> = tenths(held).map(|part| format!("{:.0}", mean(part))).collect();
    let slope = |part: &[Held]| {
        let x = part.iter().map(|h| h.event as f64).sum::<f64>() / part.len() as f64;
        let y = mean(part);
        let along: f64 = part.iter().map(|h| (h.event as f64 - x) * (of(h) - y)).sum();
        1000.0 * along / part.iter().map(|h| (h.event as f64 - x).powi(2)).sum::<f64>()
    };
    let (all, second) = (slope(held), slope(&held[held.len() / 2..]));
    println!(
        "memory {what}, MB by tenths: {}; {all:+.2} in a thousand events, {second:+.2} in the \
         second half",
        means.join(" ")
    );
}

fn tenths(held: &[Held]) -> impl Iterator<Item = &[Held]> {
    held.chunks(held.len() / 10).take(10)
}

#[test]
fn random_events_never_break_the_window() {
    let begun = Instant::now();
    let mut day = Day::new();
    let (mut held, mut changes) = (Vec::new(), 0);
    for event in 0..events() {
        day.happens();
        day.harness.run_steps(1);
        changes += u32::from(day.is_another());
        if event % LOOK == 0 {
            day.look();
            held.push(Held::after(event, changes, &day));
        }
    }
    let seconds = begun.elapsed().as_secs_f64();
    println!("{} events in {seconds:.0} s, {} plans judged again", events(), day.shown);
    if held.iter().any(|h| h.resident.is_none()) {
        skipped("this system does not tell how much memory the process has");
    }
    tell(&held);
    assert!(day.shown > 0, "no plan was ever shown");
}
