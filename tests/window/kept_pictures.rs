//! The board's pictures are kept from frame to frame, and never shown once
//! anything they are drawn from is another.

use std::time::{Duration, Instant};

use egui::epaint::ClippedShape;
use egui::{Event, Modifiers, vec2};
use egui_kittest::Harness;
use ovenbell::app::{App, Command, Start};
use ovenbell::edit::Edit;
use ovenbell::play::Spread;
use ovenbell::session::{Command as LessonCommand, ToldWith};
use ovenbell::speech::English;

use crate::common::spoken::{lesson, quick};

type Window = Harness<'static, App>;

/// What is painted once nothing moves or is looked for any more.
fn painted(window: &mut Window) -> Vec<ClippedShape> {
    let begun = Instant::now();
    loop {
        window.run_steps(4);
        let app = window.state();
        if !app.is_planning() && !app.session().is_looking() && app.current_plan().is_some() {
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(100), "the planner says nothing");
        std::thread::sleep(Duration::from_millis(5));
    }
    window.run_steps(30);
    window.output().shapes.clone()
}

/// The same with every word said anew: what is kept is not kept beyond that.
fn painted_anew(window: &mut Window) -> Vec<ClippedShape> {
    let now = window.state().english();
    let other = if now == English::Irish { English::British } else { English::Irish };
    for english in [other, now] {
        window.state_mut().apply(Command::English(english));
        window.run_steps(2);
    }
    painted(window)
}

fn leave_out(window: &mut Window, number: usize) {
    let lesson = window.state().document().unwrap().lesson().unwrap();
    let group = lesson.groups[number].name.clone();
    window.state_mut().apply(LessonCommand::Edit(Edit::LeftOut { group, out: true }));
}

/// Something that changes what is painted.
type Change = (&'static str, fn(&mut Window));

const CHANGES: [Change; 16] = [
    ("a size", |w| {
        w.set_size(vec2(1100.0, 700.0));
    }),
    ("a stretch", |w| w.state_mut().apply(Command::Show(Some((10.0, 30.0))))),
    ("a nearer stretch", |w| w.state_mut().apply(Command::Zoom(0.5))),
    ("the whole", |w| w.state_mut().apply(Command::Show(None))),
    ("a minute", |w| w.state_mut().apply(Command::Minute(Some(30)))),
    ("larger letters", |w| w.state_mut().apply(Command::Text(20))),
    ("a theme", |w| w.state_mut().apply(Command::ToggleTheme)),
    ("high contrast", |w| w.state_mut().apply(Command::ToggleContrast)),
    ("American words", |w| w.state_mut().apply(Command::English(English::American))),
    ("a plan", |w| leave_out(w, 0)),
    ("another plan", |w| leave_out(w, 1)),
    ("the plan before", |w| w.state_mut().apply(LessonCommand::ToggleBefore)),
    ("no plan before", |w| w.state_mut().apply(LessonCommand::ToggleBefore)),
    ("odds", |w| w.state_mut().apply(LessonCommand::ToggleOdds)),
    ("odds with half the spread", |w| {
        w.state_mut().apply(LessonCommand::OddsWith(ToldWith::One(Spread::HALF)));
    }),
    ("a part further down", |w| {
        w.set_size(vec2(1100.0, 520.0));
        painted(w);
        let over = egui::pos2(400.0, 300.0);
        w.event(Event::PointerMoved(over));
        w.event(Event::MouseWheel {
            unit: egui::MouseWheelUnit::Point,
            delta: vec2(0.0, -120.0),
            modifiers: Modifiers::NONE,
            phase: egui::TouchPhase::Move,
            source: egui::MouseWheelSource::Unknown,
        });
        w.run_steps(4);
        w.event(Event::PointerGone);
    }),
];

#[test]
fn the_board_is_painted_as_if_it_were_drawn_anew() {
    let start = Start { file: Some(lesson("demo.ron")), runs: Some(300), ..quick() };
    let mut window = Harness::builder()
        .with_size([1280.0, 800.0])
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    let mut before = painted(&mut window);
    for (what, change) in CHANGES {
        change(&mut window);
        let after = painted(&mut window);
        assert!(after != before, "{what} is not seen");
        assert!(after == painted_anew(&mut window), "{what}: what was kept is shown");
        before = after;
    }
}
