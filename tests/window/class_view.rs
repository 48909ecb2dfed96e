//! The class view: what the class must see, what it must never see, and how
//! large it is, over every minute of many lessons.

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::OnceLock;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use crate::common::{generate, rich, spoken};
use egui::epaint::TextShape;
use egui::{Color32, Key, Modifiers, Pos2, Rect, Shape, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Command, Follows, Start, install_fonts, show_class};
use ovenbell::check::{CheckedPlan, check, judge_of};
use ovenbell::file::{load_lesson, read_lesson, write_lesson};
use ovenbell::model::{Adult, Attendance, GroupId, Lesson, LessonParts, StepKind};
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::units::{ClockTime, Minute};
use ovenbell::view::board::Work;
use ovenbell::view::class_view::{Call, ClassView, On, Stage};
use ovenbell::view::rows::rows;

/// A projector of the old shape, and one of the new.
const SIZES: [Vec2; 2] = [vec2(1024.0, 768.0), vec2(1920.0, 1080.0)];

/// What stands for all that is private: no lesson has it of itself.
const NEED: &str = "zzneed";
const HELPER: &str = "Zzhelper";
const LEFT_OUT: &str = "Zzleft table";

fn planned(lesson: &Lesson) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(300), seed: 1 };
    let judge = judge_of(lesson);
    plan_lesson(lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap().judged
}

fn demo() -> (Lesson, CheckedPlan) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let lesson = load_lesson(&path).unwrap().lesson;
    let plan = planned(&lesson);
    (lesson, plan)
}

/// The lesson with private matters put into every place there is for them.
fn with_secrets(mut parts: LessonParts) -> Lesson {
    let last = parts.groups.len() - 1;
    for (i, group) in parts.groups.iter_mut().enumerate() {
        group.needs = vec![format!("{NEED} {i}")];
        if i == 0 {
            group.pace = 1.37;
        }
        if i == 1 {
            group.keep_apart = true;
        }
        if i == last && last > 1 {
            group.attendance = Attendance::LeftOut;
            group.name = LEFT_OUT.to_owned();
        }
    }
    let hours = vec![(Minute::new(-60), Minute::new(600))];
    let attached_to = Some(GroupId(0));
    parts.adults.push(Adult { name: HELPER.to_owned(), room: None, hours, attached_to });
    Lesson::new(parts).unwrap()
}

/// Every lesson of the project, generated ones and the one that touches every
/// rule, each with its plan.
fn lessons() -> &'static [(String, Lesson, CheckedPlan)] {
    static LESSONS: OnceLock<Vec<(String, Lesson, CheckedPlan)>> = OnceLock::new();
    LESSONS.get_or_init(made_lessons)
}

fn made_lessons() -> Vec<(String, Lesson, CheckedPlan)> {
    let mut all = Vec::new();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons");
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            continue;
        }
        let lesson = with_secrets(load_lesson(&path).unwrap().lesson.into_parts());
        all.push((path.display().to_string(), lesson));
    }
    for seed in 0..8 {
        let text = write_lesson(&generate::lesson(seed)).unwrap();
        let lesson = with_secrets(read_lesson(&text).unwrap().lesson.into_parts());
        all.push((format!("seed {seed}"), lesson));
    }
    assert!(all.len() >= 19);
    let mut all: Vec<(String, Lesson, CheckedPlan)> = all
        .into_iter()
        .map(|(name, lesson)| {
            let plan = planned(&lesson);
            (name, lesson, plan)
        })
        .collect();
    let mut parts = rich::parts();
    for (i, group) in parts.groups.iter_mut().enumerate() {
        group.needs = vec![format!("{NEED} {i}")];
    }
    let lesson = Lesson::new(parts).unwrap();
    let plan = check(&lesson, rich::plan()).unwrap();
    all.push(("rich".to_owned(), lesson, plan));
    all
}

fn minutes_of(lesson: &Lesson) -> impl Iterator<Item = Minute> {
    let end = lesson.periods.iter().map(|p| p.end.get()).max().unwrap();
    (-20..end + 5).map(Minute::new)
}

fn screen(size: Vec2, view: ClassView) -> Harness<'static, ClassView> {
    Harness::builder()
        .with_size(size)
        .with_context_setup(install_fonts)
        .build_ui_state(|ui, view: &mut ClassView| show_class(ui, view), view)
}

fn texts_in(shape: &Shape, out: &mut Vec<TextShape>) {
    match shape {
        Shape::Text(text) => out.push(text.clone()),
        Shape::Vec(all) => all.iter().for_each(|s| texts_in(s, out)),
        _ => {}
    }
}

fn texts<S>(harness: &Harness<'_, S>) -> Vec<TextShape> {
    let mut out = Vec::new();
    harness.output().shapes.iter().for_each(|s| texts_in(&s.shape, &mut out));
    out
}

/// What is really painted: a cut text without what was cut off.
fn painted(text: &TextShape) -> String {
    let rows = text.galley.rows.iter();
    rows.flat_map(|r| r.row.glyphs.iter().map(|g| g.chr)).collect()
}

fn spoken<S>(harness: &Harness<'_, S>) -> Vec<String> {
    let nodes = harness.root().query_all_by(|_| true);
    let words = nodes.filter_map(|n| {
        let node = n.accesskit_node();
        node.label().or_else(|| node.value())
    });
    words.collect()
}

/// A name by itself, not as the beginning of a longer one.
fn names(text: &str, name: &str) -> bool {
    text.match_indices(name).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let after = text[at + name.len()..].chars().next();
        !before.is_some_and(char::is_alphanumeric) && !after.is_some_and(char::is_alphanumeric)
    })
}

/// Words of a verdict, a proof or a figure, and whatever is private here.
fn forbidden(lesson: &Lesson, plan: &CheckedPlan) -> BTreeSet<String> {
    let mut no: BTreeSet<String> = [
        NEED,
        HELPER,
        LEFT_OUT,
        "fits",
        "tight",
        "no plan",
        "no room",
        "cannot",
        "left out",
        "leave out",
        "not served",
        "not out by the bell",
        "spare",
        "assumed",
        "pace",
        "1.37",
        "1.5",
        "apart",
        "need ",
        "needs",
        "proved",
        "sure",
        "locked",
        "departure",
        "late",
        "slow",
        "%",
    ]
    .map(str::to_owned)
    .into();
    no.extend(lesson.adults.iter().map(|a| a.name.to_lowercase()));
    no.extend(lesson.assumed.iter().map(|a| a.text.clone()));
    for refused in &plan.plan().not_served {
        // Some rules are called by a word of every lesson, such as "bell".
        let rules = refused.rules.iter().map(|r| r.name()).filter(|r| r.contains('-'));
        no.extend(rules.map(str::to_owned));
        no.extend((!refused.reason.is_empty()).then(|| refused.reason.clone()));
    }
    no
}

/// One walk for all that is asked of a screen: nothing private on it, all of
/// it legible, and what is on never cut.
#[test]
fn every_minute_of_every_lesson_is_private_large_and_whole() {
    let font = include_bytes!("../../assets/fonts/AtkinsonHyperlegible-Regular.ttf");
    assert!((capital_of(font) - 0.668).abs() < 1e-6, "the table of the typeface says otherwise");
    assert!((ovenbell::app::contrast(Color32::BLACK, Color32::WHITE) - 21.0).abs() < 1e-9);
    let mut unserved_seen = 0;
    for (name, lesson, plan) in lessons() {
        let no = forbidden(lesson, plan);
        let unserved: Vec<&str> = (0..lesson.groups.len())
            .filter(|&g| plan.plan().choice(GroupId(g)).is_none())
            .map(|g| lesson.groups[g].name.as_str())
            .collect();
        unserved_seen += unserved.len();
        for size in SIZES {
            let mut harness = screen(size, ClassView::of(lesson, plan, Minute::BELL));
            for minute in minutes_of(lesson) {
                let view = ClassView::of(lesson, plan, minute);
                let on = (view.on.lines(), view.on.brief());
                *harness.state_mut() = view;
                harness.run_steps(1);
                let at = format!("{name}, {minute}, {size}");
                is_private(&harness, &no, &unserved, &at);
                is_legible(&harness, size, &at);
                let shown = lines(&harness);
                let whole = |wanted: &[String]| wanted.iter().all(|w| shown.contains(w));
                assert!(whole(&on.0) || whole(&on.1), "{at}: {shown:#?}");
            }
        }
    }
    assert!(unserved_seen >= 19, "too few groups are not served to show anything");
}

fn is_private(
    harness: &Harness<'_, ClassView>,
    no: &BTreeSet<String>,
    unserved: &[&str],
    at: &str,
) {
    let mut all = spoken(harness);
    // Also what was cut: the toolkit keeps the whole of a text.
    all.extend(texts(harness).iter().map(|t| t.galley.job.text.clone()));
    let all = all.join("\n");
    let small = all.to_lowercase();
    for word in no {
        assert!(!small.contains(&word.to_lowercase()), "{at}: {word}\n{all}");
    }
    for group in unserved {
        assert!(!names(&all, group), "{at}: {group}\n{all}");
    }
}

fn is_legible(harness: &Harness<'_, ClassView>, size: Vec2, at: &str) {
    let whole = Rect::from_min_size(Pos2::ZERO, size);
    let all = texts(harness);
    assert!(all.len() > 2, "{at}: nothing is painted");
    for text in &all {
        is_large_and_black(text, size.y / 25.0, at);
        let place = text.visual_bounding_rect();
        assert!(whole.contains_rect(place), "{at}: {} at {place}", painted(text));
    }
    for (i, a) in all.iter().enumerate() {
        for b in &all[..i] {
            let over = a.visual_bounding_rect().intersect(b.visual_bounding_rect());
            let clear = over.width() < 1.0 || over.height() < 1.0;
            assert!(clear, "{at}: {} over {}", painted(a), painted(b));
        }
    }
    let white = |s: &Shape| match s {
        Shape::Rect(r) => r.fill == Color32::WHITE && r.rect.contains_rect(whole),
        _ => false,
    };
    assert!(harness.output().shapes.iter().any(|s| white(&s.shape)), "{at}: no white behind it");
}

/// Height of a capital in parts of the size of type: `sCapHeight` of the table
/// OS/2 over `unitsPerEm` of the table head (OpenType 1.9).
fn capital_of(font: &[u8]) -> f64 {
    let word = |at: usize| u16::from_be_bytes([font[at], font[at + 1]]);
    let long = |at: usize| u32::from_be_bytes(font[at..at + 4].try_into().unwrap()) as usize;
    let tables = usize::from(word(4));
    let table = |tag: &[u8]| {
        let record = (0..tables).map(|i| 12 + 16 * i).find(|&r| &font[r..r + 4] == tag).unwrap();
        long(record + 8)
    };
    f64::from(word(table(b"OS/2") + 88)) / f64::from(word(table(b"head") + 18))
}

fn is_large_and_black(text: &TextShape, letter: f32, at: &str) {
    let words = painted(text);
    for section in &text.galley.job.sections {
        // Not the size of type alone: its capitals are as high as that.
        let high = section.format.font_id.size * 0.668;
        assert!(high >= letter * 0.999, "{at}: {words}: capitals of {high}");
        assert_eq!(section.format.color, Color32::BLACK, "{at}: {words}");
    }
    assert!(text.override_text_color.is_none_or(|c| c == Color32::BLACK));
    assert!(text.opacity_factor >= 1.0);
    // As painted, to the pixel.
    for glyph in text.galley.rows.iter().flat_map(|r| &r.row.glyphs) {
        if glyph.chr.is_ascii_digit() || glyph.chr.is_ascii_uppercase() {
            let high = glyph.uv_rect.size.y;
            assert!(high >= letter - 1.0, "{at}: {} of {words} is {high} high", glyph.chr);
        }
    }
}

#[test]
fn who_is_called_when_is_as_the_plan_has_it() {
    for (name, lesson, plan) in lessons() {
        let single = lesson.periods.len() == 1;
        let end = lesson.periods.iter().map(|p| p.end).max().unwrap();
        // What begins when, told from the steps alone.
        let mut begins: BTreeSet<Minute> =
            plan.plan().class_steps.iter().map(|c| c.start).collect();
        let mut doors = Vec::new();
        for step in &plan.plan().steps {
            let choice = plan.plan().choice(step.group).unwrap();
            let kind = lesson.method_of(step.group, choice.method).steps[step.step.0].kind;
            let group = lesson.group(step.group);
            let within =
                step.start >= Minute::BELL && step.start < lesson.periods[group.period.0].end;
            if matches!(kind, StepKind::Load | StepKind::TakeOut) && within {
                doors.push((kind == StepKind::Load, step.start, step.end, group.name.clone()));
                begins.insert(step.start);
            }
        }
        begins.extend(lesson.periods.iter().flat_map(|p| [p.start, p.end]));
        for minute in minutes_of(lesson) {
            let view = ClassView::of(lesson, plan, minute);
            let next = begins.iter().find(|&&m| m > minute);
            assert_eq!(view.next.as_ref().map(|n| n.wait), next.map(|&m| (m - minute).get()));
            let mut called: Vec<(bool, String)> = Vec::new();
            let mut class = Vec::new();
            if let On::Calls(calls) = &view.on {
                for call in calls {
                    match call {
                        Call::Door { into, groups, .. } => {
                            called.extend(groups.iter().map(|g| (*into, g.clone())));
                        }
                        Call::Class { name, .. } => class.push(name.clone()),
                        Call::Bell => panic!("a bell lasts no minute"),
                    }
                }
            }
            let of = |&(into, from, until, ref group): &(bool, Minute, Minute, String)| {
                (from <= minute && minute < until).then(|| (into, group.clone()))
            };
            let mut wanted: Vec<(bool, String)> = doors.iter().filter_map(of).collect();
            called.sort();
            wanted.sort();
            assert_eq!(called, wanted, "{name}, {minute}");
            let is_on = |s: Minute, e: Minute| s <= minute && minute < e;
            let steps = plan.plan().class_steps.iter().filter(|c| is_on(c.start, c.end));
            let wanted: Vec<String> =
                steps.map(|c| lesson.class_steps[c.step.0].name.clone()).collect();
            assert_eq!(class, wanted, "{name}, {minute}");
            assert_eq!(view.on == On::Over, minute >= end);
            if single {
                assert_eq!(matches!(view.on, On::Before(_)), minute < Minute::BELL);
            }
        }
    }
}

#[test]
fn who_is_in_which_oven_until_when_is_as_the_plan_has_it() {
    for (name, lesson, plan) in lessons() {
        for minute in minutes_of(lesson) {
            let view = ClassView::of(lesson, plan, minute);
            let mut shown: Vec<(String, usize, String)> = Vec::new();
            for oven in &view.ovens {
                for (s, shelf) in oven.shelves.iter().enumerate() {
                    for slot in shelf.slots.iter().filter(|s| s.stage != Stage::Later) {
                        let names = slot.groups.iter().cloned();
                        shown.extend(names.map(|g| (oven.name.clone(), s, g)));
                    }
                }
            }
            let loads = plan.plan().loads.iter().filter(|l| l.start <= minute && minute < l.end);
            let mut wanted: Vec<(String, usize, String)> = loads
                .map(|l| {
                    let oven = lesson.ovens[l.oven.0].name.clone();
                    (oven, l.shelf.0, lesson.group(l.group).name.clone())
                })
                .collect();
            shown.sort();
            wanted.sort();
            wanted.dedup();
            assert_eq!(shown, wanted, "{name}, {minute}");
        }
    }
}

#[test]
fn who_washes_up_is_told_while_nobody_is_called() {
    let (mut told, mut later) = (0, 0);
    for (name, lesson, plan) in lessons() {
        let clears = |group: GroupId| -> Vec<(Minute, Minute)> {
            let all = rows(lesson, plan).into_iter().filter(|row| row.group == group);
            let bars = all.flat_map(|row| row.bars).filter(|bar| bar.work == Work::Clear);
            bars.map(|bar| (bar.from, bar.until)).collect()
        };
        let attending: Vec<GroupId> = lesson.attending().collect();
        let all: Vec<_> = attending.iter().map(|&group| (group, clears(group))).collect();
        for minute in minutes_of(lesson) {
            let On::Work(washing) = ClassView::of(lesson, plan, minute).on else { continue };
            let here = |group: GroupId| {
                let period = &lesson.periods[lesson.group(group).period.0];
                period.start <= minute && minute < period.end
            };
            let now = all.iter().filter(|(group, bars)| {
                here(*group) && bars.iter().any(|&(from, until)| from <= minute && minute < until)
            });
            let now: Vec<String> = now.map(|(g, _)| lesson.group(*g).name.clone()).collect();
            assert_eq!(washing.now, now, "{name}, {minute}");
            told += usize::from(!now.is_empty());
            if let Some((at, next)) = &washing.next {
                later += 1;
                assert!(!next.is_empty() && next.iter().all(|n| !now.contains(n)));
                let from: Vec<_> = all
                    .iter()
                    .filter(|(g, _)| next.contains(&lesson.group(*g).name))
                    .flat_map(|(_, bars)| bars.iter().map(|b| b.0))
                    .filter(|&from| from > minute)
                    .map(|from| lesson.periods[0].start_clock.after(from - Minute::BELL))
                    .collect();
                assert!(from.contains(at), "{name}, {minute}: {at} is not in {from:?}");
            }
        }
    }
    assert!(told > 50 && later > 20, "{told} minutes, {later} with more to come");
}

#[test]
fn all_groups_are_called_as_all_and_others_by_their_numbers() {
    let groups = |all: &[u32]| all.iter().map(|n| format!("Unit {n}")).collect::<Vec<_>>();
    let call = |groups: Vec<String>| Call::Door {
        into: true,
        groups,
        places: vec!["Oven 1".into()],
        of: 5,
    };
    assert_eq!(call(groups(&[1, 2, 3, 4, 5])).words(), "All groups: into Oven 1");
    assert_eq!(call(groups(&[1, 2, 3, 5])).words(), "Unit 1 to 3 and 5: into Oven 1");
    let brief = On::Calls(vec![call(groups(&[1, 2])), call(groups(&[3, 4, 5]))]).brief();
    assert_eq!(brief, ["Into the ovens: all groups"]);
    // A lesson in which one is left out calls no more than are called.
    let brief = On::Calls(vec![call(groups(&[1, 2, 4]))]).brief();
    assert_eq!(brief, ["Into the ovens: Unit 1, 2 and 4"]);
}

/// All that is painted, each text by itself.
fn lines(harness: &Harness<'_, ClassView>) -> Vec<String> {
    texts(harness).iter().map(painted).collect()
}

#[test]
fn the_demo_lesson_calls_out_what_its_file_says() {
    let (lesson, plan) = demo();
    for size in SIZES {
        let at = |minute: i32| {
            let view = ClassView::of(&lesson, &plan, Minute::new(minute));
            let mut harness = screen(size, view);
            harness.run_steps(2);
            lines(&harness).join("\n")
        };
        // The bells are at 10:05 and 11:10; the register takes 3 minutes, hands
        // 4, the demo 3; unit check 3 and dismissal 2.
        let before = at(-10);
        assert!(before.contains("09:55") && before.contains("The bell goes at 10:05."), "{before}");
        assert!(before.contains("Next 10:05, in 10 minutes · Register"), "{before}");
        let demo = at(8);
        assert!(demo.contains("10:13") && demo.contains("Demo, until 10:15"), "{demo}");
        let end = at(64);
        assert!(end.contains("Dismissal, until 11:10"), "{end}");
        assert!(end.contains("Next 11:10, in 1 minute · Bell"), "{end}");
        let over = at(65);
        assert!(over.contains("The lesson is over.") && !over.contains("Next"), "{over}");
        // Unit 6 and Unit 7, whose sponges have an oven to themselves.
        let load = plan.plan().loads.iter().find(|l| l.group == GroupId(5)).unwrap();
        let called = at(load.start.get());
        let oven = &lesson.ovens[load.oven.0].name;
        assert!(called.contains("Unit 6") && called.contains(&format!("into {oven}")), "{called}");
        assert!(called.contains("170 °C fan"), "{called}");
    }
}

#[test]
fn long_names_and_many_ovens_are_cut_and_never_small() {
    let mut parts = rich::parts();
    parts.groups[0].name = "The pair by the long window with the very long name ".repeat(4);
    parts.ovens[0].name = "Oven-without-a-blank-in-its-name".repeat(5);
    parts.class_steps[0].name = "register and a great many other things ".repeat(6);
    let lesson = Lesson::new(parts).unwrap();
    let plan = check(&lesson, rich::plan()).unwrap();
    for size in [vec2(1024.0, 768.0), vec2(1920.0, 1080.0), vec2(320.0, 240.0), vec2(500.0, 900.0)]
    {
        let at = |minute| {
            let mut view = ClassView::of(&lesson, &plan, Minute::new(minute));
            let ovens = view.ovens.clone();
            for _ in 0..5 {
                view.ovens.extend(ovens.iter().cloned());
            }
            view
        };
        let mut harness = screen(size, at(-1));
        for minute in -1..62 {
            *harness.state_mut() = at(minute);
            harness.run_steps(1);
            let whole = Rect::from_min_size(Pos2::ZERO, size);
            for text in texts(&harness) {
                is_large_and_black(&text, size.y / 25.0, &format!("minute {minute}, {size}"));
                let place = text.visual_bounding_rect();
                assert!(
                    whole.expand(1.0).contains_rect(place),
                    "{minute}: {} at {place} of {size}",
                    painted(&text)
                );
            }
        }
    }
}

fn window(start: Start, size: Vec2) -> Harness<'static, App> {
    let file = Some(spoken::lesson("demo.ron"));
    let start = Start { file, ..start };
    let mut harness = Harness::builder()
        .with_size(size)
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    let begun = Instant::now();
    while harness.state().is_planning() || harness.state().plan().is_none() {
        harness.run_steps(4);
        assert!(begun.elapsed() < Duration::from_secs(60), "the planner says nothing");
    }
    harness.run_steps(10);
    harness
}

#[test]
fn it_opens_and_closes_by_a_key_and_follows_the_clock_on_the_day() {
    let day = chrono::NaiveDate::from_ymd_opt(2026, 11, 26);
    let time = ClockTime::parse("10:14").ok();
    let mut harness = window(Start { day, time, ..spoken::quick() }, SIZES[0]);
    assert!(spoken::says(&harness, "All eight groups are out by the bell."));
    harness.key_press_modifiers(Modifiers::COMMAND, Key::J);
    harness.run_steps(3);
    assert_eq!(harness.state().class_view(), Some(Follows::Clock));
    // The class sees nothing of the teacher's window.
    for private in ["out by the bell", "figures assumed", "fits", "Undo"] {
        assert!(!spoken::says(&harness, private), "{private}");
    }
    assert!(spoken::says(&harness, "10:14"));
    assert!(spoken::says(&harness, "Demo, until 10:15"));
    // It comes to rest: nothing asks to be painted again at once.
    harness.run();
    harness.key_press(Key::Escape);
    harness.run_steps(3);
    assert_eq!(harness.state().class_view(), None);
    assert!(spoken::says(&harness, "All eight groups are out by the bell."));
}

#[test]
fn on_another_day_it_follows_the_minute_line_and_arrows_step_it() {
    let day = chrono::NaiveDate::from_ymd_opt(2026, 11, 20);
    let mut harness = window(Start { day, ..spoken::quick() }, SIZES[1]);
    harness.state_mut().apply(Command::Minute(Some(2)));
    harness.key_press_modifiers(Modifiers::COMMAND, Key::J);
    harness.run_steps(3);
    assert_eq!(harness.state().class_view(), Some(Follows::Line));
    assert!(spoken::says(&harness, "10:07") && spoken::says(&harness, "Register, until 10:08"));
    harness.key_press(Key::ArrowRight);
    harness.run_steps(3);
    assert!(spoken::says(&harness, "10:08") && spoken::says(&harness, "Aprons and hands"));
    harness.key_press(Key::ArrowLeft);
    harness.run_steps(3);
    assert!(spoken::says(&harness, "10:07"));
}

#[test]
fn text_size_and_theme_of_the_window_do_not_change_it() {
    let day = chrono::NaiveDate::from_ymd_opt(2026, 11, 26);
    for (text, dark) in [(80, false), (200, true)] {
        let time = ClockTime::parse("10:30").ok();
        let start = Start { day, time, text: Some(text), dark: Some(dark), ..spoken::quick() };
        let mut harness = window(start, vec2(1600.0, 900.0));
        harness.state_mut().apply(Command::ClassView);
        harness.run_steps(3);
        let screen = harness.ctx.content_rect();
        let all = texts(&harness);
        assert!(all.len() > 4, "{text}: {}", all.len());
        for shape in all {
            is_large_and_black(&shape, screen.height() / 25.0, &format!("{text} %"));
            assert!(screen.contains_rect(shape.visual_bounding_rect()));
        }
    }
}
