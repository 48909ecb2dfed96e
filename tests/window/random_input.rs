//! Random clicks, keys, drops and resizes: the window never panics, and what
//! it shows is always a checked plan.

use std::path::PathBuf;

use crate::common::generate;
use crate::common::how_many::how_many;
use crate::common::spoken::quick;
use egui::{Event, Key, Modifiers, PointerButton, pos2, vec2};
use egui_kittest::Harness;
use ovenbell::app::{App, Start};
use ovenbell::check::check;
use ovenbell::file::write_lesson;
use ovenbell::session::Command as LessonCommand;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Random events in a default run; `OVENBELL_EVENTS` sets another number.
fn events() -> u64 {
    how_many("OVENBELL_EVENTS", 1_000)
}

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

fn files(folder: &tempfile::TempDir) -> Vec<PathBuf> {
    let write = |name: &str, bytes: &[u8]| {
        let path = folder.path().join(name);
        std::fs::write(&path, bytes).unwrap();
        path
    };
    let good = write_lesson(&generate::lesson(2)).unwrap();
    let small = write_lesson(&generate::lesson_of(4, 4)).unwrap();
    // One that does not fit, so that there are changes to choose.
    let deep = include_bytes!("../../lessons/e-ginger-square.ron");
    vec![
        write("good.ron", good.as_bytes()),
        write("deep.ron", deep),
        write("small.ron", small.as_bytes()),
        write("cut.ron", &good.as_bytes()[..good.len() / 2]),
        write("empty.ron", b""),
        write("bytes.ron", &[0xff, 0xfe, 0x00, 0x80]),
        write("slip.ron", good.replace("recipe: \"Bake 0\"", "recipe: \"Bak\"").as_bytes()),
        folder.path().join("nowhere.ron"),
    ]
}

fn happens(harness: &mut Harness<'static, App>, rng: &mut Pcg64Mcg, files: &[PathBuf]) {
    let size = harness.input().screen_rect.map_or(vec2(1280.0, 800.0), |r| r.size());
    let at = pos2(rng.random_range(0.0..size.x), rng.random_range(0.0..size.y));
    match rng.random_range(0..100) {
        0..45 => {
            harness.hover_at(at);
            for pressed in [true, false] {
                harness.event(Event::PointerButton {
                    pos: at,
                    button: PointerButton::Primary,
                    pressed,
                    modifiers: Modifiers::NONE,
                });
            }
        }
        45..55 => {
            let to = pos2(rng.random_range(0.0..size.x), rng.random_range(0.0..size.y));
            harness.drag_at(at);
            harness.run_steps(1);
            harness.hover_at(to);
            harness.run_steps(1);
            harness.drop_at(to);
        }
        55..88 => {
            let key = KEYS[rng.random_range(0..KEYS.len())];
            let modifiers =
                [Modifiers::NONE, Modifiers::NONE, Modifiers::COMMAND, Modifiers::SHIFT]
                    [rng.random_range(0..4)];
            harness.key_press_modifiers(modifiers, key);
        }
        88..92 => {
            let delta = vec2(rng.random_range(-80.0..80.0), rng.random_range(-80.0..80.0));
            let modifiers = if rng.random_bool(0.4) { Modifiers::COMMAND } else { Modifiers::NONE };
            harness.event(Event::MouseWheel {
                unit: egui::MouseWheelUnit::Point,
                delta,
                modifiers,
                phase: egui::TouchPhase::Move,
                source: egui::MouseWheelSource::Unknown,
            });
        }
        92..96 => {
            let file = files[rng.random_range(0..files.len())].clone();
            harness.state_mut().apply(LessonCommand::Open(file));
        }
        _ => {
            let size = vec2(rng.random_range(300.0..2000.0), rng.random_range(200.0..1200.0));
            harness.set_size(size);
        }
    }
}

#[test]
fn random_events_never_break_the_window() {
    let folder = tempfile::tempdir().unwrap();
    let files = files(&folder);
    let start = Start {
        file: Some(files[0].clone()),
        data: Some(folder.path().join("data")),
        paths_by_field: true,
        ..quick()
    };
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .allow_missing_glyphs()
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    let mut rng = Pcg64Mcg::seed_from_u64(11);
    let mut shown = 0;
    for event in 0..events() {
        happens(&mut harness, &mut rng, &files);
        harness.run_steps(1);
        if event % 25 != 0 {
            continue;
        }
        let app = harness.state();
        if let (Some(doc), Some(plan)) = (app.document(), app.current_plan()) {
            let again = check(doc.lesson().unwrap(), plan.plan().clone())
                .expect("a plan that breaks a rule");
            assert_eq!(again.objective(), plan.objective());
            shown += 1;
        }
    }
    assert!(shown > 0, "no plan was ever shown");
}
