//! Pictures of the window, compared with those kept in `tests/snapshots`.
//!
//! `cargo test --features pictures --test window pictures::`; made anew with
//! `UPDATE_SNAPSHOTS=1`. Skipped, saying so, where no renderer is present.

use std::time::Duration;

use crate::common::skipped::skipped;
use crate::common::spoken;
use egui_kittest::kittest::Queryable;
use egui_kittest::{Harness, SnapshotOptions};
use ovenbell::app::{App, Start};

/// A window with the sample lesson, planned and at rest; `None`, with a message,
/// where nothing can be rendered.
fn demo(dark: bool) -> Option<Harness<'static, App>> {
    // So many plans and no more, so that another machine shows the same one.
    let start = Start {
        file: Some(spoken::lesson("demo.ron")),
        dark: Some(dark),
        decodings: Some(300),
        ..Start::default()
    };
    let made = std::panic::catch_unwind(|| {
        let mut harness = Harness::builder()
            .with_size([1280.0, 800.0])
            .with_theme(if dark { egui::Theme::Dark } else { egui::Theme::Light })
            .wgpu()
            .build_eframe(|cc| App::new(&cc.egui_ctx, start));
        harness.run_steps(2);
        harness.render().map(|_| harness)
    });
    let Ok(Ok(mut harness)) = made else {
        skipped("no renderer is present here (Debian: mesa-vulkan-drivers)");
        return None;
    };
    let at_work = |app: &App| app.is_planning() || app.plan().is_none();
    while at_work(harness.state()) {
        harness.run_steps(2);
        std::thread::sleep(Duration::from_millis(5));
    }
    harness.run_steps(40);
    Some(harness)
}

/// Renderers differ by a hair at edges.
fn options() -> SnapshotOptions {
    SnapshotOptions::new().threshold(1.5).max_failed_pixels(600)
}

#[test]
fn the_board_looks_as_it_did() {
    let Some(mut harness) = demo(false) else { return };
    harness.snapshot_options("board-light", &options());
}

#[test]
fn the_dark_board_looks_as_it_did() {
    let Some(mut harness) = demo(true) else { return };
    harness.snapshot_options("board-dark", &options());
}

#[test]
fn the_card_of_a_group_looks_as_it_did() {
    let Some(mut harness) = demo(false) else { return };
    harness.get_by_label_contains("Unit 5, 12 buns, ready").click();
    harness.run_steps(2);
    while harness.state().is_planning() {
        harness.run_steps(2);
        std::thread::sleep(Duration::from_millis(5));
    }
    harness.run_steps(40);
    harness.remove_cursor();
    harness.run_steps(4);
    harness.snapshot_options("group-card", &options());
}
