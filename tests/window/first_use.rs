//! The window as its three users first meet it, driven through the
//! accessibility tree: no display needed.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use crate::common::generate;
use crate::common::spoken::{lesson, quick, says, spoken};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Start};
use ovenbell::check::check;
use ovenbell::file::write_lesson;
use ovenbell::model::Origin;

fn window(file: PathBuf) -> Harness<'static, App> {
    sized(file, 1280.0, 800.0)
}

fn sized(file: PathBuf, width: f32, height: f32) -> Harness<'static, App> {
    let start = Start { file: Some(file), ..quick() };
    let mut harness = Harness::builder()
        .with_size([width, height])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    settle(&mut harness);
    harness
}

/// Steps until the planner has nothing more to say.
fn settle(harness: &mut Harness<'static, App>) {
    let begun = Instant::now();
    loop {
        harness.run_steps(4);
        let app = harness.state();
        if !app.is_planning() && app.plan().is_some() {
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(60), "the planner says nothing");
        std::thread::sleep(Duration::from_millis(5));
    }
    harness.run_steps(30);
}

/// The ginger buns with the square tin as one group's only liking.
fn one_group_too_deep(folder: &tempfile::TempDir) -> PathBuf {
    let text = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let text = text.replace(
        "(name: \"Unit 5\", recipe: \"lemon bake\", tins: [\"20 cm square tin\", \"12 buns\"])",
        "(name: \"Unit 5\", recipe: \"lemon bake\", tins: [\"20 cm square tin\"])",
    );
    assert!(text.contains("tins: [\"20 cm square tin\"])"));
    let path = folder.path().join("deep.ron");
    std::fs::write(&path, text).unwrap();
    path
}

/// Keeps a choice once its plan is shown in outline.
fn keep(harness: &mut Harness<'static, App>) {
    for _ in 0..4_000 {
        harness.run_steps(1);
        if says(harness, "in outline: the plan with this change") {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    harness.get_by_label("Keep").click();
    settle(harness);
}

#[test]
fn a_teacher_finds_the_group_that_does_not_fit_and_changes_its_tin() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = window(one_group_too_deep(&folder));
    harness.get_by_label("Seven of eight groups are out by the bell.");
    // The one that does not fit says so itself.
    harness.get_by_label_contains("Unit 5, lemon bake, no plan found").click();
    settle(&mut harness);
    harness.get_by_label_contains("12 buns: bakes 14").click();
    keep(&mut harness);
    harness.get_by_label("All eight groups are out by the bell.");
    let plan = harness.state().plan().unwrap();
    assert_eq!(plan.objective().served, 8);
    // And back again, and forth.
    harness.get_by_label("Undo").click();
    settle(&mut harness);
    harness.get_by_label("Seven of eight groups are out by the bell.");
    harness.get_by_label("Redo").click();
    settle(&mut harness);
    harness.get_by_label("All eight groups are out by the bell.");
}

#[test]
fn a_head_of_department_finds_the_fullest_oven_and_its_tightest_minutes() {
    let mut harness = window(lesson("demo.ron"));
    assert!(says(&harness, "fullest oven:"));
    // Each oven says by itself when it is fullest.
    let ovens: Vec<String> = spoken(&harness)
        .into_iter()
        .filter(|l| l.starts_with("Oven ") && l.contains("fullest"))
        .collect();
    assert_eq!(ovens.len(), 4, "{ovens:?}");
    let fullest = ovens.iter().find(|l| l.contains("4 tins")).unwrap().clone();
    let name = fullest.split(',').next().unwrap().to_owned();
    harness.get_by_label(&fullest).click();
    settle(&mut harness);
    assert!(says(&harness, "Fullest"));
    // Out of order, and the plan follows.
    harness.get_by_label("Out of order").click();
    settle(&mut harness);
    assert!(says(&harness, &format!("{name}, out of order")));
    assert!(harness.state().plan().unwrap().plan().loads.iter().all(|l| {
        harness.state().document().unwrap().lesson().unwrap().ovens[l.oven.0].name != name
    }));
}

#[test]
fn a_trainee_steps_to_minute_20_and_reads_what_happens() {
    let mut harness = window(lesson("demo.ron"));
    for _ in 0..21 {
        harness.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::ArrowRight);
        harness.run_steps(2);
    }
    assert!(says(&harness, "10:25, minute 20"), "{:?}", spoken(&harness));
    let read: Vec<String> =
        spoken(&harness).into_iter().filter(|l| l.starts_with("Unit ")).collect();
    for unit in 1..=8 {
        let doing = read.iter().find(|l| l.starts_with(&format!("Unit {unit}: ")));
        assert!(doing.is_some(), "nothing of unit {unit} in {read:?}");
    }
    assert!(says(&harness, "teacher: "));
    harness.get_by_label("+1 minutes").click();
    harness.run_steps(3);
    assert!(says(&harness, "10:26, minute 21"));
}

#[test]
fn the_tree_alone_tells_who_does_not_fit_and_when_each_tin_goes_in_and_out() {
    let folder = tempfile::tempdir().unwrap();
    let harness = window(one_group_too_deep(&folder));
    let app = harness.state();
    let (lesson, plan) = (app.document().unwrap().lesson().unwrap(), app.plan().unwrap());
    let heard = spoken(&harness);
    let window = harness.root().accesskit_node().label().unwrap_or_default();
    assert!(window.contains("Seven of eight groups"), "the window is called {window:?}");
    for id in lesson.attending() {
        let name = &lesson.group(id).name;
        let row = heard.iter().find(|l| l.starts_with(&format!("{name}, "))).unwrap();
        let served = plan.group_outcomes()[id.0].ready.is_some();
        assert_eq!(row.contains("ready"), served, "{row}");
    }
    for load in &plan.plan().loads {
        let start = ovenbell::view::words::clock(lesson, load.start);
        let end = ovenbell::view::words::clock(lesson, load.end);
        let name = &lesson.group(load.group).name;
        let times = format!("{start} to {end}");
        let oven = &lesson.ovens[load.oven.0].name;
        let told = |l: &&String| {
            l.starts_with(oven.as_str()) && l.contains(name.as_str()) && l.ends_with(&times)
        };
        assert!(heard.iter().any(|l| told(&l)), "{name} {times} in {oven} is not told");
    }
}

/// Nothing may go on looking for a plan that cannot be.
#[test]
fn class_steps_that_do_not_fit_are_told_and_nothing_is_planned() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("crowded.ron");
    let from = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    std::fs::copy(from.join("tests/cases/broken/class_steps_crowded.ron"), &path).unwrap();
    let start = Start { file: Some(path), ..quick() };
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    harness.run_steps(8);
    assert!(!harness.state().is_planning());
    assert!(harness.state().plan().is_none());
    assert!(says(&harness, "line 11: \"stop\""), "{:?}", spoken(&harness));
    assert!(!says(&harness, "Planning"), "{:?}", spoken(&harness));
}

#[test]
fn a_broken_file_shows_what_is_wrong_and_the_last_good_lesson_stays() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("broken.ron");
    let text = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    std::fs::write(&path, text.replace("recipe: \"whisked sponge\"", "recipe: \"wisk\"")).unwrap();
    let mut harness = window(lesson("demo.ron"));
    harness.state_mut().apply(ovenbell::session::Command::Open(path));
    harness.run_steps(5);
    assert!(says(&harness, "cannot be planned yet"));
    assert!(says(&harness, "wisk"));
    harness.get_by_label("Back to the last good lesson").click();
    harness.run_steps(5);
    harness.get_by_label("All eight groups are out by the bell.");
}

#[test]
fn changes_are_not_lost_by_opening_another_file() {
    let mut harness = window(lesson("demo.ron"));
    harness.get_by_label_contains("Unit 5, 12 buns, ready").click();
    settle(&mut harness);
    harness.get_by_label("Leave out").click();
    settle(&mut harness);
    let other = lesson("a-scones-hour.ron");
    harness.state_mut().apply(ovenbell::session::Command::Open(other.clone()));
    harness.run_steps(5);
    assert!(says(&harness, "changes that are not saved"));
    harness.get_by_label("Stay here").click();
    harness.run_steps(5);
    harness.get_by_label("All seven groups that take part are out by the bell.");
    harness.state_mut().apply(ovenbell::session::Command::Open(other));
    harness.run_steps(5);
    harness.get_by_label("Open without saving").click();
    settle(&mut harness);
    harness.get_by_label("All ten groups are out by the bell.");
}

#[test]
fn the_whole_screen_goes_by_keyboard() {
    let mut harness = window(lesson("demo.ron"));
    let mut reached = Vec::new();
    for _ in 0..45 {
        harness.key_press(egui::Key::Tab);
        harness.run_steps(2);
        let focused = harness.root().query_all_by(|n| n.is_focused()).next();
        if let Some(label) = focused.and_then(|n| n.accesskit_node().label()) {
            reached.push(label);
        }
    }
    for wanted in ["Lesson", "Looks", "Minute line, hidden", "Unit 1, 2 foil", "Oven 4, "] {
        let found = reached.iter().any(|l| l.starts_with(wanted));
        assert!(found, "Tab does not reach {wanted}: {reached:?}");
    }
    // The board is one stop, and arrows walk through it.
    let bars = reached.iter().filter(|l| l.starts_with("Unit 1, ") && l.contains(" to 1")).count();
    assert!((1..=2).contains(&bars), "{reached:?}");
    for _ in 0..45 {
        let focused = harness.root().query_all_by(|n| n.is_focused()).next();
        let label = focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default();
        if label.starts_with("Unit 1, ") && label.contains(" to 1") {
            harness.key_press(egui::Key::ArrowDown);
            harness.run_steps(4);
            let focused = harness.root().query_all_by(|n| n.is_focused()).next();
            let next = focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default();
            assert_ne!(next, label, "the arrow does not move");
            return;
        }
        harness.key_press(egui::Key::Tab);
        harness.run_steps(2);
    }
    panic!("the board was not reached again");
}

#[test]
fn generated_lessons_of_all_sizes_open_at_all_sizes() {
    let folder = tempfile::tempdir().unwrap();
    for (seed, size) in [(1, (1092.0, 614.0)), (5, (800.0, 520.0)), (9, (1920.0, 1080.0))] {
        let path = folder.path().join(format!("{seed}.ron"));
        std::fs::write(&path, write_lesson(&generate::lesson(seed)).unwrap()).unwrap();
        let mut harness = sized(path, size.0, size.1);
        harness.get_by_label("View").click();
        harness.run_steps(4);
        harness.get_by_label("As a list").click();
        harness.run_steps(4);
        let app = harness.state();
        let plan = app.plan().unwrap();
        let lesson = app.document().unwrap().lesson().unwrap();
        assert!(check(lesson, plan.plan().clone()).is_ok());
    }
}

#[test]
fn a_tin_from_the_cupboard_is_chosen_and_what_it_took_is_noted() {
    let folder = tempfile::tempdir().unwrap();
    let table = folder.path().join("kept").join("outcomes.csv");
    let start = Start { file: Some(lesson("demo.ron")), outcomes: Some(table.clone()), ..quick() };
    let mut harness = Harness::builder()
        .with_size([1280.0, 1600.0])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    settle(&mut harness);
    harness.get_by_label_contains("Unit 6, two 18 cm sandwich tins, ready").click();
    settle(&mut harness);
    // Minutes never stand alone: when to look, and that the done test decides.
    assert!(says(&harness, "check from 13, expect 15, at latest 18, and by the done test"));
    assert!(says(&harness, "In section, to scale: 18 cm sandwich tin"));
    harness.get_by_label_contains("2 × 12-hole bun tray: bakes").click();
    keep(&mut harness);
    let of = |harness: &Harness<'static, App>| {
        let lesson = harness.state().document().unwrap().lesson().unwrap();
        let group = lesson.groups.iter().find(|g| g.name == "Unit 6").unwrap().clone();
        let recipe = &lesson.recipes[group.recipe.0];
        (recipe.tins[group.tins[0].0].clone(), group)
    };
    let (tin, _) = of(&harness);
    assert_eq!(tin.label, "12-hole bun tray");
    assert_eq!(tin.minutes.unwrap().origin, Origin::Computed);
    // Only that group's list has it.
    let lesson = harness.state().document().unwrap().lesson().unwrap();
    let other = lesson.groups.iter().find(|g| g.name == "Unit 7").unwrap();
    assert_eq!(other.tins.len(), 1);
    if says(&harness, "What it really took") {
        harness.get_by_label("Minutes").focus();
        harness.run_steps(3);
        harness.event(egui::Event::Text("6,5".into()));
        harness.run_steps(3);
        harness.get_by_label("Note this bake").click();
        settle(&mut harness);
        assert!(table.exists(), "{:?}", spoken(&harness));
        let kept = std::fs::read_to_string(&table).unwrap();
        assert!(kept.contains("whisked sponge,12-hole bun tray,"), "{kept}");
        assert!(kept.contains(",6.5,"));
        let (tin, _) = of(&harness);
        assert_eq!(tin.minutes.unwrap().origin, Origin::Learned(1));
        assert!(says(&harness, "Took 6.5"));
    } else {
        panic!("the new tin is not in the plan: {:?}", spoken(&harness));
    }
}

#[test]
fn the_menu_of_looks_turns_each_of_them_on_and_off() {
    let mut harness = window(lesson("demo.ron"));
    let paper = |harness: &Harness<'static, App>| ovenbell::app::Palette::of(&harness.ctx).paper;
    harness.get_by_label("Looks").click();
    harness.run_steps(3);
    // The menu stays while choices are made.
    harness.get_by_label("High contrast").click();
    harness.run_steps(3);
    assert_eq!(paper(&harness), egui::Color32::WHITE);
    harness.get_by_label("Dark").click();
    harness.run_steps(3);
    assert_eq!(paper(&harness), egui::Color32::BLACK);
    harness.get_by_label("Reduced motion").click();
    harness.run_steps(3);
    harness.get_by_label("A+").click();
    harness.run_steps(3);
    assert!(says(&harness, "Text 110 %"));
    for label in ["A−", "High contrast", "Dark", "Reduced motion"] {
        harness.get_by_label(label).click();
        harness.run_steps(3);
    }
    assert_eq!(paper(&harness), ovenbell::app::Palette::LIGHT.paper);
    assert!(says(&harness, "Text 100 %"));
}

/// Whether all bars that begin at one time begin at one place.
fn in_line(harness: &Harness<'static, App>) -> bool {
    let mut places: std::collections::BTreeMap<String, f32> = std::collections::BTreeMap::new();
    let is_bar = |n: &egui_kittest::Node<'_>| {
        let label = n.accesskit_node().label().unwrap_or_default();
        let times = label.rsplit(", ").next().unwrap_or_default();
        (label.starts_with("Unit ") && times.len() == "10:29 to 10:43".len())
            .then(|| (times[..5].to_owned(), n.rect().left()))
    };
    let bars: Vec<(String, f32)> =
        harness.root().query_all_by(|_| true).filter_map(|n| is_bar(&n)).collect();
    assert!(bars.len() > 20, "only {} bars", bars.len());
    bars.into_iter().all(|(time, left)| (*places.entry(time).or_insert(left) - left).abs() < 1.5)
}

#[test]
fn with_reduced_motion_bars_are_at_once_where_they_belong() {
    for reduced in [false, true] {
        let start = Start { file: Some(lesson("demo.ron")), ..quick() };
        let mut harness = Harness::builder()
            .with_size([1280.0, 800.0])
            .with_step_dt(1.0 / 60.0)
            .build_eframe(|cc| App::new(&cc.egui_ctx, start));
        settle(&mut harness);
        assert!(in_line(&harness));
        if reduced {
            harness.state_mut().apply(ovenbell::app::Command::ToggleMotion);
        }
        // The others then bake at other times.
        for unit in 1..=4 {
            let group = format!("Unit {unit}");
            let edit = ovenbell::edit::Edit::LeftOut { group, out: true };
            harness.state_mut().apply(ovenbell::session::Command::Edit(edit));
        }
        settle(&mut harness);
        harness.state_mut().apply(ovenbell::session::Command::PlanAnew);
        let mut glided = false;
        let begun = Instant::now();
        while harness.state().is_planning() || begun.elapsed() < Duration::from_secs(1) {
            harness.run_steps(1);
            glided |= !in_line(&harness);
            assert!(begun.elapsed() < Duration::from_secs(60), "the planner says nothing");
        }
        assert_eq!(glided, !reduced, "reduced motion: {reduced}");
    }
}

/// Nothing is planned where there is no lesson, and no panel stands empty.
#[test]
fn a_file_that_is_not_there_leaves_the_ways_to_a_lesson() {
    let folder = tempfile::tempdir().unwrap();
    let start = Start { file: Some(folder.path().join("nofile.ron")), ..quick() };
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    harness.run_steps(8);
    assert!(harness.state().document().is_none());
    assert!(says(&harness, "nofile.ron"), "the notice: {:?}", spoken(&harness));
    assert!(says(&harness, "No lesson is open."), "{:?}", spoken(&harness));
    assert!(!says(&harness, "There is no plan."), "{:?}", spoken(&harness));
    harness.get_by_label("Open the sample lesson").click();
    settle(&mut harness);
    assert!(harness.state().document().is_some());
    assert!(!says(&harness, "No lesson is open."));
}
