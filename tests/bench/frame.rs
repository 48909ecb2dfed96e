//! UI time of the window: of its first frame, of a frame of the board (laying
//! out and painting to shapes, no renderer), and what it costs while nothing
//! happens. Prints one line of JSON for each.
//!
//! `cargo bench --bench frame`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::path::Path;
use std::time::{Duration, Instant};

use egui_kittest::Harness;
use ovenbell::app::{App, Start};
use ovenbell::edit::Edit;
use ovenbell::file::format::{Entries, LessonFile, StatedMinutes, StepShape};
use ovenbell::file::{read_lesson, write_lesson};
use ovenbell::session::Command as LessonCommand;

#[path = "../common/generate.rs"]
mod generate;

/// How long nothing happens.
const IDLE: Duration = Duration::from_secs(3);
/// Frames measured.
const FRAMES: u32 = 200;

fn main() {
    started();
    for (name, lesson) in [("20 groups of 12 steps", twenty()), ("3000 bars", three_thousand())] {
        // A folder of its own: what is not saved of one lesson is no business of the other.
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("lesson.ron");
        std::fs::write(&path, write_lesson(&lesson).unwrap()).unwrap();
        read_lesson(&write_lesson(&lesson).unwrap()).expect("a lesson");
        measure(name, path);
    }
}

/// From nothing to the end of the first frame, on the demo.
fn started() {
    let begun = Instant::now();
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .build_eframe(|cc| App::new(&cc.egui_ctx, Start::default()));
    harness.step();
    let first = begun.elapsed().as_secs_f64() * 1e3;
    while harness.state().plan().is_none() {
        harness.step();
    }
    harness.step();
    let with_plan = begun.elapsed().as_secs_f64() * 1e3;
    println!("{{\"first_frame_ms\": {first:.1}, \"first_plan_on_screen_ms\": {with_plan:.1}}}");
    rest(&mut harness);
    let idle = harness.output().viewport_output.values().map(|v| v.repaint_delay).min();
    let before = processor_ms();
    std::thread::sleep(IDLE);
    if let (Some(before), Some(after)) = (before, processor_ms()) {
        let cost = (after - before) / IDLE.as_secs_f64();
        println!("{{\"idle_next_frame_in\": \"{idle:?}\", \"idle_ms_each_s\": {cost:.1}}}");
    }
}

/// Processor time of the threads of this process so far, where the system tells.
fn processor_ms() -> Option<f64> {
    let threads = std::fs::read_dir("/proc/self/task").ok()?.flatten();
    Some(threads.filter_map(|thread| processor_ms_of(&thread.path())).sum())
}

/// The same of this thread.
fn own_processor_ms() -> Option<f64> {
    processor_ms_of(Path::new("/proc/thread-self"))
}

fn processor_ms_of(thread: &Path) -> Option<f64> {
    let text = std::fs::read_to_string(thread.join("schedstat")).ok()?;
    let ns: f64 = text.split_whitespace().next()?.parse().ok()?;
    Some(ns / 1e6)
}

fn measure(name: &str, file: std::path::PathBuf) {
    let start = Start { file: Some(file), ..Start::default() };
    let mut harness = Harness::builder()
        .with_size([1920.0, 1080.0])
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    rest(&mut harness);
    frames(name, &mut harness);
    // The same with the plan before a change laid over it.
    let group = harness.state().document().expect("a lesson").lesson().expect("a lesson").groups[0]
        .name
        .clone();
    harness.state_mut().apply(LessonCommand::Edit(Edit::LeftOut { group, out: true }));
    rest(&mut harness);
    harness.state_mut().apply(LessonCommand::ToggleBefore);
    harness.run_steps(40);
    frames(&format!("{name}, the plan before laid over"), &mut harness);
}

/// Steps until nothing is looked for.
fn rest(harness: &mut Harness<'static, App>) {
    let begun = Instant::now();
    let at_work = |app: &App| app.is_planning() || app.session().is_looking();
    while at_work(harness.state()) && begun.elapsed() < Duration::from_secs(60) {
        harness.run_steps(2);
        std::thread::sleep(Duration::from_millis(20));
    }
    harness.run_steps(40);
}

fn frames(name: &str, harness: &mut Harness<'static, App>) {
    let plan = harness.state().plan().expect("a plan");
    let bars = plan.plan().steps.len() + plan.plan().loads.len();
    let before = own_processor_ms();
    let mut times: Vec<Duration> = (0..FRAMES)
        .map(|_| {
            let frame = Instant::now();
            harness.step();
            frame.elapsed()
        })
        .collect();
    // Told as well, as other work on the machine does not count in it.
    let processor = own_processor_ms().zip(before);
    let processor = processor.map_or(f64::NAN, |(after, before)| after - before);
    times.sort_unstable();
    let ms = |t: Duration| t.as_secs_f64() * 1e3;
    println!(
        "{{\"board\": \"{name}\", \"bars\": {bars}, \"median_ms\": {:.2}, \"worst_of_100_ms\": {:.2}, \"mean_of_processor_ms\": {:.2}}}",
        ms(times[times.len() / 2]),
        ms(times[times.len() * 99 / 100]),
        processor / f64::from(FRAMES)
    );
}

/// A generated lesson of twenty groups with twelve steps each.
fn twenty() -> LessonFile {
    let mut lesson = generate::lesson_of(3, 20);
    for recipe in &mut lesson.recipes {
        for method in &mut recipe.methods {
            while method.steps.len() < 10 {
                let after = Some(vec!["wash up".to_owned()]);
                let name = format!("tidy {}", method.steps.len());
                let minutes = Some(StatedMinutes::Usual(1.0));
                method.steps.push(StepShape { name, minutes, after, ..StepShape::default() });
            }
        }
    }
    lesson.period.end = "12:30".into();
    lesson.period.during.clear();
    lesson
}

/// Sixty groups with fifty short steps each.
fn three_thousand() -> LessonFile {
    let mut lesson = generate::lesson_of(3, 60);
    lesson.period.end = "16:00".into();
    lesson.period.during.clear();
    lesson.beforehand.clear();
    lesson.collected.clear();
    lesson.recipes.truncate(1);
    let recipe = &mut lesson.recipes[0];
    recipe.tins.clear();
    recipe.methods.truncate(1);
    let method = &mut recipe.methods[0];
    method.links.clear();
    method.holds.clear();
    method.steps = (0..50)
        .map(|i| StepShape {
            name: format!("step {i}"),
            minutes: Some(StatedMinutes::Usual(2.0)),
            kit: Entries(Vec::new()),
            ..StepShape::default()
        })
        .collect();
    let name = recipe.name.clone();
    for group in &mut lesson.groups {
        group.recipe.clone_from(&name);
        group.tins.clear();
        group.methods.clear();
        group.left_out = false;
    }
    lesson
}
