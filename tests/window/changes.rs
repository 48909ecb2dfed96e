//! Changes along the bottom of the window, other plans laid over the board,
//! and what is undone: by mouse and by keyboard, through the accessibility
//! tree.

use std::time::{Duration, Instant};

use crate::common::spoken::{lesson, quick, says, spoken};
use egui::{Key, Modifiers};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Start};
use ovenbell::session::Command as LessonCommand;

fn window(name: &str, size: (f32, f32)) -> Harness<'static, App> {
    started(Start { file: Some(lesson(name)), ..quick() }, size)
}

fn started(start: Start, size: (f32, f32)) -> Harness<'static, App> {
    let mut harness = Harness::builder()
        .with_size([size.0, size.1])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    settle(&mut harness);
    harness
}

/// Steps until neither a plan nor changes are being looked for.
fn settle(harness: &mut Harness<'static, App>) {
    step_until(harness, |h| {
        let app = h.state();
        !app.is_planning() && !app.session().is_looking() && app.current_plan().is_some()
    });
    harness.run_steps(30);
}

/// Steps until there is a plan.
fn planned(harness: &mut Harness<'static, App>) {
    step_until(harness, |h| !h.state().is_planning() && h.state().current_plan().is_some());
}

/// Steps until so many changes are offered.
fn offered(harness: &mut Harness<'static, App>, chips: usize) {
    step_until(harness, |h| spoken(h).iter().filter(|l| l.starts_with("Change ")).count() == chips);
}

fn step_until(harness: &mut Harness<'static, App>, done: impl Fn(&Harness<'static, App>) -> bool) {
    let begun = Instant::now();
    loop {
        harness.run_steps(4);
        if done(harness) {
            return;
        }
        assert!(begun.elapsed() < Duration::from_secs(100), "the planner says nothing");
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn focused(harness: &Harness<'static, App>) -> String {
    let focused = harness.root().query_all_by(|n| n.is_focused()).next();
    focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
}

fn press(harness: &mut Harness<'static, App>, key: Key) {
    harness.key_press(key);
    harness.run_steps(4);
}

const NONE_OUT: &str = "None of the ten groups is out by the bell.";
const ALL_OUT: &str = "All ten groups are out by the bell.";

#[test]
fn a_change_is_seen_on_the_board_kept_and_taken_back_by_mouse() {
    let mut harness = window("e-ginger-square.ron", (1280.0, 800.0));
    harness.get_by_label(NONE_OUT);
    harness.get_by_label("What would help");
    let first = spoken(&harness).into_iter().find(|l| l.starts_with("Change 1: ")).unwrap();
    assert!(first.contains("ginger traybake in 12 buns"), "{first}");
    assert!(first.contains(
        "All ten groups are out by the bell, the last ready at 10:44 with 4 minutes to spare: fits"
    ));
    assert!(first.ends_with("A middling change"), "{first}");
    assert!(!says(&harness, "Then: Pair 1"));
    harness.get_by_label(&first).click();
    harness.run_steps(4);
    // Nothing has changed yet, but all of it is to be seen and heard.
    harness.get_by_label(NONE_OUT);
    let heard = spoken(&harness);
    let told = |start: &str| heard.iter().filter(|l| l.starts_with(start)).count();
    for pair in 1..=10 {
        assert!(told(&format!("Then: Pair {pair}, bake, 10:")) == 1, "pair {pair}: {heard:?}");
        let ready = heard.iter().find(|l| l.starts_with(&format!("Pair {pair}: cannot now; then")));
        assert!(ready.is_some_and(|l| l.contains("; then ready 10:") && l.ends_with(", fits")));
    }
    assert!(told("Then: Oven 1, ") > 0, "no tins in outline: {heard:?}");
    assert!(says(&harness, "the lesson names no technician"));
    assert!(says(&harness, "A bake is done by its done test"));
    harness.get_by_label("Keep").click();
    settle(&mut harness);
    harness.get_by_label(ALL_OUT);
    assert_eq!(harness.state().plan().unwrap().objective().served, 10);
    assert!(!says(&harness, "What would help"), "everyone fits, yet the strip is there");
    assert!(!says(&harness, "Then: "));
    let undo = harness.state().document().unwrap().can_undo().unwrap().to_owned();
    assert!(undo.contains("12 buns"), "{undo}");
    harness.get_by_label("Undo").click();
    settle(&mut harness);
    harness.get_by_label(NONE_OUT);
    harness.get_by_label("What would help");
    harness.get_by_label("Redo").click();
    settle(&mut harness);
    harness.get_by_label(ALL_OUT);
}

#[test]
fn the_strip_goes_by_keyboard() {
    let mut harness = window("e-ginger-square.ron", (1280.0, 800.0));
    let mut stops = 0;
    for _ in 0..60 {
        press(&mut harness, Key::Tab);
        stops += usize::from(focused(&harness).starts_with("Change "));
        if stops == 1 {
            break;
        }
    }
    assert!(focused(&harness).starts_with("Change 1: "), "Tab does not reach the strip");
    press(&mut harness, Key::ArrowRight);
    assert!(focused(&harness).starts_with("Change 2: "), "{}", focused(&harness));
    // A chip that is out of sight is brought into it.
    for _ in 0..3 {
        press(&mut harness, Key::ArrowRight);
    }
    harness.run_steps(30);
    let fifth = harness.get_by_label_contains("Change 5: ");
    assert!(fifth.is_focused() && fifth.rect().right() < 1280.0 - 340.0, "{:?}", fifth.rect());
    for _ in 0..4 {
        press(&mut harness, Key::ArrowLeft);
    }
    assert!(focused(&harness).starts_with("Change 1: "));
    press(&mut harness, Key::ArrowLeft);
    assert!(focused(&harness).starts_with("Change 1: "), "there is none before the first");
    press(&mut harness, Key::Enter);
    assert!(says(&harness, "Then: Pair 1, bake, "));
    press(&mut harness, Key::Escape);
    assert!(!says(&harness, "Then: Pair 1, bake, "));
    assert!(focused(&harness).starts_with("Change 1: "), "the keyboard is lost");
    press(&mut harness, Key::Space);
    assert!(says(&harness, "Then: Pair 1, bake, "));
    // The chips are one stop: the next is no chip.
    press(&mut harness, Key::Tab);
    assert!(!focused(&harness).starts_with("Change "), "{}", focused(&harness));
    let mut reached = Vec::new();
    for _ in 0..60 {
        press(&mut harness, Key::Tab);
        reached.push(focused(&harness));
    }
    assert!(reached.iter().any(|l| l == "Keep"), "{reached:?}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::K);
    harness.run_steps(2);
    settle(&mut harness);
    harness.get_by_label(ALL_OUT);
    // Tab has been to the ovens, and the board followed: back to its first row.
    let is_first = |l: &String| l.starts_with("Pair 1, ") && l.contains("ready");
    let first = spoken(&harness).into_iter().find(is_first).unwrap();
    harness.get_by_label(&first).focus();
    harness.run_steps(10);
    // The plan before, over the one now.
    harness.key_press_modifiers(Modifiers::COMMAND, Key::B);
    harness.run_steps(4);
    assert!(says(&harness, "Pair 1: ready 10:"));
    let pair = spoken(&harness).into_iter().find(|l| l.starts_with("Pair 1: ready")).unwrap();
    assert!(pair.ends_with("fits now; before cannot"), "{pair}");
    harness.key_press_modifiers(Modifiers::COMMAND, Key::B);
    harness.run_steps(4);
    assert!(!says(&harness, "now; before cannot"));
}

#[test]
fn the_plan_before_lies_over_the_one_after_a_change() {
    let mut harness = window("demo.ron", (1280.0, 800.0));
    assert!(!says(&harness, "What would help"), "every group fits");
    harness.get_by_label("View").click();
    harness.run_steps(4);
    assert!(says(&harness, "As a list"), "the menu is open");
    assert!(!says(&harness, "Plan before"), "there is no plan before");
    harness.key_press(egui::Key::Escape);
    harness.run_steps(4);
    harness.get_by_label_contains("Unit 5, 12 buns, ready").click();
    settle(&mut harness);
    harness.get_by_label("Leave out").click();
    settle(&mut harness);
    harness.get_by_label("View").click();
    harness.run_steps(4);
    harness.get_by_label("Plan before").click();
    harness.run_steps(4);
    let heard = spoken(&harness);
    let told = |start: &str| heard.iter().any(|l| l.starts_with(start));
    assert!(told("Before: Unit 5, bake, "), "{heard:?}");
    assert!(told("Unit 5: left out now; before ready 10:"), "{heard:?}");
    // It stays over the next plan, which it is then the one before of.
    harness.get_by_label("Undo").click();
    settle(&mut harness);
    let heard = spoken(&harness);
    assert!(heard.iter().any(|l| l.starts_with("Unit 5: ready") && l.contains("now; before left")));
    harness.get_by_label("View").click();
    harness.run_steps(4);
    harness.get_by_label("Hide plan before").click();
    harness.run_steps(4);
    assert!(!says(&harness, "now; before left"));
}

#[test]
fn a_dropped_change_is_gone_until_the_lesson_changes() {
    let mut harness = window("e-ginger-square.ron", (1280.0, 800.0));
    let all = |harness: &Harness<'static, App>| {
        spoken(harness).iter().filter(|l| l.starts_with("Change ")).count()
    };
    let before = all(&harness);
    harness.get_by_label_contains("Change 1: ").click();
    harness.run_steps(4);
    harness.get_by_label("Drop").click();
    harness.run_steps(4);
    assert_eq!(all(&harness), before - 1);
    assert!(!says(&harness, "Change 1: "));
    assert!(!says(&harness, "Then: "));
    harness.get_by_label_contains("Pair 1, ginger traybake, cannot").click();
    settle(&mut harness);
    harness.get_by_label("Why not");
    harness.get_by_label("One pupil more").click();
    settle(&mut harness);
    assert!(says(&harness, "Change 1: "));
}

#[test]
fn a_change_for_another_lesson_is_not_kept() {
    let mut harness = window("e-ginger-square.ron", (1280.0, 800.0));
    harness.get_by_label_contains("Change 1: ").click();
    harness.run_steps(4);
    let edit = ovenbell::edit::Edit::Pupils { group: "Pair 3".into(), pupils: 3 };
    harness.state_mut().apply(LessonCommand::Edit(edit));
    assert_eq!(harness.state().session().overlay().map(|o| o.name.as_str()), None);
    harness.state_mut().apply(LessonCommand::Keep);
    settle(&mut harness);
    harness.get_by_label(NONE_OUT);
    let doc = harness.state().document().unwrap();
    assert_eq!(doc.can_undo(), Some("Pair 3 of 3 pupils"));
}

#[test]
fn the_strip_takes_no_more_than_a_fifth_and_can_be_folded() {
    let harness = window("e-ginger-square.ron", (1092.0, 614.0));
    let top = harness.get_by_label("What would help").rect().top();
    assert!(614.0 - top <= 614.0 / 5.0 + 0.5, "the strip begins at {top}");
    let mut harness = harness;
    harness.key_press_modifiers(Modifiers::COMMAND, Key::E);
    harness.run_steps(4);
    assert!(!says(&harness, "Change 1: "));
    assert!(harness.get_by_label("What would help").rect().top() > top + 40.0);
    harness.get_by_label("Show the changes").click();
    harness.run_steps(4);
    assert!(says(&harness, "Change 1: "));
}

#[test]
fn every_offer_lies_over_the_board_and_can_be_kept_and_taken_back() {
    let mut harness = window("e-ginger-square.ron", (1092.0, 614.0));
    let chips: Vec<String> =
        spoken(&harness).into_iter().filter(|l| l.starts_with("Change ")).collect();
    assert!(chips.len() > 3);
    for chip in &chips {
        let words = chip.split_once(": ").unwrap().1;
        let words = words.split_once(". All ten").unwrap().0.to_owned();
        harness.state_mut().apply(LessonCommand::Ghost(Some(words.clone())));
        harness.run_steps(4);
        assert_eq!(
            harness.state().session().overlay().map(|o| o.name.as_str()),
            Some(words.as_str())
        );
        assert!(says(&harness, "Then: Pair 1, "), "{words}");
        harness.state_mut().apply(LessonCommand::Keep);
        // What is on screen between the change and its plan.
        harness.run_steps(2);
        planned(&mut harness);
        // One of them has bakes collected later, which its sentence adds.
        assert!(says(&harness, ALL_OUT.trim_end_matches('.')), "{words}");
        harness.state_mut().apply(LessonCommand::Undo);
        harness.run_steps(2);
        planned(&mut harness);
        harness.get_by_label(NONE_OUT);
        offered(&mut harness, chips.len());
    }
}

#[test]
fn what_the_answer_hangs_on_is_told_where_nothing_is_selected() {
    // Enough plans to see where figures turn the verdict.
    let start = Start { file: Some(lesson("demo.ron")), decodings: Some(200), ..Start::default() };
    let harness = started(start, (1280.0, 1400.0));
    harness.get_by_label("What the answer hangs on");
    let sentence = spoken(&harness).into_iter().find(|l| l.starts_with("Fits only if "));
    assert!(sentence.is_some(), "{:?}", spoken(&harness));
}

#[test]
fn looking_for_changes_stops_when_told_and_nothing_repaints_at_rest() {
    let start = Start { file: Some(lesson("e-ginger-square.ron")), ..Start::default() };
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    let begun = Instant::now();
    while !harness.state().session().is_looking() {
        harness.step();
        assert!(begun.elapsed() < Duration::from_secs(60));
    }
    harness.state_mut().apply(LessonCommand::Stop);
    assert!(!harness.state().session().is_looking());
    std::thread::sleep(Duration::from_millis(300));
    // `run` fails if the window goes on asking to be painted.
    harness.run();
    assert!(!harness.state().session().is_looking());
    harness.get_by_label("What would help");
    harness.get_by_label(NONE_OUT);
}
