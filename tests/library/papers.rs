//! Sheets: every time on them is the checked plan's, nothing is cut or lies
//! over anything else, and what hangs on a wall tells nothing of a group's
//! needs, pace or verdict.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;
use std::process::Command;

use chrono::NaiveDate;
use ovenbell::check::{CheckedPlan, Verdict, check};
use ovenbell::export::json::{self, PlanningTime};
use ovenbell::file::format::FromShape;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson};
use ovenbell::model::{GroupId, Lesson, OvenId};
use ovenbell::papers::head::Head;
use ovenbell::papers::layout::{LaidOut, lay_out};
use ovenbell::papers::page::{Mark, Page, Role, Words};
use ovenbell::papers::paper::{LARGE, Paper, Print};
use ovenbell::papers::pdf;
use ovenbell::papers::plain_text::plain_text;
use ovenbell::papers::sheet::{Block, Cell, Form, Sheet};
use ovenbell::papers::typeface::Typeface;
use ovenbell::papers::{self, Matter, Part, Printed, print};
use ovenbell::speech::English;
use ovenbell::speech::allergens::list;
use ovenbell::stores::{Extra, Stores};
use ovenbell::units::{ClockTime, Minute};
use ovenbell::view::rows::verdict_words;
use ovenbell::view::words::clock;

use crate::common::pdf::PdfFile;
use crate::common::planned::planned;
use crate::common::skipped::skipped;

const DECODINGS: u64 = 200;

fn lesson(name: &str) -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    load_lesson(&path).unwrap().lesson
}

fn matter<'a>(lesson: &'a Lesson, plan: Option<&'a CheckedPlan>) -> Matter<'a> {
    Matter {
        lesson,
        plan,
        stores: Stores::of(lesson, plan, Extra::usual(lesson)),
        allergens: list(English::British),
    }
}

/// At a time of day that no plan has.
fn head(lesson: &Lesson) -> Head {
    let issued = NaiveDate::from_ymd_opt(2026, 11, 20).unwrap().and_hms_opt(3, 33, 0).unwrap();
    Head::of(lesson, issued)
}

fn as_it_is(words: &str) -> String {
    words.to_owned()
}

fn printed(lesson: &Lesson, plan: &CheckedPlan, parts: &[Part], how: Print) -> Printed {
    let matter = matter(lesson, Some(plan));
    let (sheets, left_out) = papers::sheets(&matter, parts, "no plan");
    assert!(left_out.is_empty(), "{left_out:?}");
    print(&sheets, &head(lesson), how, ("en-GB", &as_it_is)).unwrap()
}

/// The words of each page, as another reader has them.
fn pages(bytes: &[u8]) -> Vec<String> {
    PdfFile::read(bytes).pages()
}

/// Every time of day in a text.
fn times(text: &str) -> BTreeSet<String> {
    let letters: Vec<char> = text.chars().collect();
    let is_time =
        |part: &&[char]| part[2] == ':' && [0, 1, 3, 4].iter().all(|&i| part[i].is_ascii_digit());
    letters.windows(5).filter(is_time).map(|part| part.iter().collect()).collect()
}

fn plan_json(lesson: &Lesson, plan: &CheckedPlan) -> serde_json::Value {
    let timing = PlanningTime::default();
    serde_json::from_str(&json::answer(lesson, (plan, false), timing).unwrap()).unwrap()
}

/// The times of a plan by its JSON, and what each is of, with the bells, when
/// ovens are set, and when a bake is first looked at, from the lesson's own
/// figures.
fn planned_times(lesson: &Lesson, plan: &CheckedPlan) -> BTreeMap<String, Vec<String>> {
    let json = plan_json(lesson, plan);
    let mut known: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut add = |minute: i64, what: String| {
        let minute = Minute::new(i32::try_from(minute).unwrap());
        known.entry(clock(lesson, minute).to_string()).or_default().push(what);
    };
    for (list, name, ends) in [
        ("steps", "step", ["start", "end"]),
        ("class_steps", "name", ["start", "end"]),
        ("loads", "group", ["in", "out"]),
        ("jobs", "what", ["start_by", "until"]),
    ] {
        for entry in json[list].as_array().unwrap() {
            for end in ends {
                add(entry[end].as_i64().unwrap(), format!("{} {end}", entry[name]));
            }
        }
    }
    for period in &lesson.periods {
        add(i64::from(period.start.get()), "bell".to_owned());
        add(i64::from(period.end.get()), "bell".to_owned());
    }
    for setting in &plan.plan().settings {
        for minute in [setting.set_at, setting.hot_from, setting.until] {
            add(i64::from(minute.get()), "oven".to_owned());
        }
    }
    for load in &plan.plan().loads {
        let choice = plan.plan().choice(load.group).unwrap();
        let method = lesson.method_of(load.group, choice.method);
        let (_, bake, _) = method.bake_steps().unwrap();
        let baking = plan.plan().steps.iter().find(|s| s.group == load.group && s.step == bake);
        let (start, end) = (baking.unwrap().start.get(), baking.unwrap().end.get());
        let tin = lesson.tin_choice_of(load.group, choice.tin.unwrap());
        let quick = tin.minutes_at(load.celsius).unwrap().quick().rounded_up().get();
        let rules = lesson.recipe_of(load.group).bake;
        let shut = rules.shut.map_or(0, |shut| {
            let share = rules.shut_share * f64::from(end - start);
            let shut = shut.value.get().min(share);
            (shut - 1e-6).ceil() as i32
        });
        add(i64::from(start + shut), "shut".to_owned());
        add(i64::from(start + quick.max(shut).min(end - start)), "check".to_owned());
    }
    known
}

/// Text without gaps, which lines may break at.
fn run_together(text: &str) -> String {
    text.split_whitespace().collect()
}

#[test]
fn every_time_on_paper_is_the_plans() {
    for name in ["demo.ron", "a-scones-hour.ron", "b-rolls-double.ron"] {
        let lesson = lesson(name);
        let plan = planned(&lesson, DECODINGS);
        let known = planned_times(&lesson, &plan);
        let parts = [Part::RunningOrder, Part::OvenSheet, Part::TimePlans, Part::Requisition];
        let made = printed(&lesson, &plan, &parts, Print::default());
        let all = pages(&made.bytes);
        for text in &all {
            for time in times(text) {
                let issued = time == "03:33";
                assert!(issued || known.contains_key(&time), "{name}: {time} in {text}");
            }
        }
        assert!(all.iter().all(|text| times(text).contains("03:33")), "issued is on every page");
    }
}

#[test]
fn every_bake_and_call_is_told() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let json = plan_json(&lesson, &plan);
    let text = |part| pages(&printed(&lesson, &plan, &[part], Print::default()).bytes).join(" ");
    let (order, ovens) = (text(Part::RunningOrder), text(Part::OvenSheet));
    let at = |minute: &serde_json::Value| {
        clock(&lesson, Minute::new(i32::try_from(minute.as_i64().unwrap()).unwrap())).to_string()
    };
    let steps = json["steps"].as_array().unwrap();
    for load in json["loads"].as_array().unwrap() {
        let out = steps.iter().find(|s| s["group"] == load["group"] && s["step"] == "take out");
        for time in [at(&load["in"]), at(&out.unwrap()["start"])] {
            assert!(times(&ovens).contains(&time), "{time} of {load} is not on the oven sheet");
            assert!(times(&order).contains(&time), "{time} of {load} is not in the running order");
        }
        let name = load["group"].as_str().unwrap();
        assert!(run_together(&ovens).contains(&run_together(name)), "{name} has no oven");
    }
    for step in json["class_steps"].as_array().unwrap() {
        assert!(times(&order).contains(&at(&step["start"])), "{step} is not called");
    }
    assert!(order.contains("CHECK FROM") && ovens.contains("DONE WHEN"));
    let plans = pages(&printed(&lesson, &plan, &[Part::TimePlans], Print::default()).bytes);
    assert_eq!(plans.len(), 8, "one for each unit");
    for (group, text) in lesson.groups.iter().zip(&plans) {
        let own = steps.iter().filter(|s| s["group"] == group.name.as_str());
        let own = own.filter(|s| s["step"] != "weigh" && s["step"] != "zest and juice");
        for step in own {
            assert!(times(text).contains(&at(&step["start"])), "{step}");
        }
    }
}

#[test]
fn a_reader_finds_title_language_tags_and_faces() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let made = printed(&lesson, &plan, &Part::ALL, Print::default());
    assert!(pdf::is_ours(&made.bytes));
    assert!(!pdf::is_ours(b"%PDF-1.7 of somebody else"));
    let file = PdfFile::read(&made.bytes);
    assert_eq!((file.title(), file.language()), (lesson.title.clone(), "en-GB".to_owned()));
    assert!(file.about().contains("pdfuaid:part>1<"), "it does not say that all can read it");
    let contents = file.contents();
    assert_eq!(contents[..3], ["Running order", "Oven sheet", "Teacher's lesson sheet"]);
    let document = file.tags();
    let all = document.all();
    let kinds = ["H1", "H2", "P", "Table", "TR", "TH", "TD", "L", "LI", "LBody", "Figure"];
    for kind in kinds {
        assert!(all.iter().any(|tag| tag.kind == kind), "nothing is tagged {kind}");
    }
    assert_eq!(document.children.len(), contents.len(), "a part for each sheet");
    let mut figures = all.iter().filter(|tag| tag.kind == "Figure");
    assert!(figures.all(|tag| tag.spoken.as_ref().is_some_and(|words| words.len() > 5)));
    for table in all.iter().filter(|tag| tag.kind == "Table") {
        let across: BTreeSet<usize> = table.children.iter().map(|row| row.children.len()).collect();
        assert_eq!(across.len(), 1, "rows of {across:?} cells");
    }
    let faces = file.faces();
    assert!(faces.len() >= 2, "plain and bold: {:?}", faces.keys());
    for (name, program) in faces {
        assert!(program.starts_with(&[0, 1, 0, 0]), "{name} is no TrueType face");
        assert!(program.len() < 40_000, "more of {name} is embedded than its letters");
    }
    assert!(file.is_gone_through_in_order());
    let a4 = |size: &(f64, f64)| (size.0 - 595.276).abs() < 0.01 && (size.1 - 841.89).abs() < 0.01;
    assert!(a4(&file.sizes()[0]), "{:?}", file.sizes());
}

/// qpdf, which shares nothing with what made the files, finds nothing wrong.
#[test]
fn another_program_finds_the_files_sound() {
    if Command::new("qpdf").arg("--version").output().is_err() {
        skipped("qpdf is not present here (Debian: qpdf)");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let large = Print { paper: Paper::Letter, large: true, symbols: true, ..Print::default() };
    for (name, how) in [("demo.ron", Print::default()), ("d-sponges-gas.ron", large)] {
        let lesson = lesson(name);
        let plan = planned(&lesson, DECODINGS);
        let path = folder.path().join("sheets.pdf");
        fs::write(&path, printed(&lesson, &plan, &Part::ALL, how).bytes).unwrap();
        let output = Command::new("qpdf").arg("--check").arg(&path).output().unwrap();
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success() && told.is_empty(), "{name}: {told}");
    }
}

/// What nothing that hangs on a wall or leaves with a pupil may tell.
#[test]
fn walls_tell_of_no_need_pace_or_verdict() {
    let mut parts = lesson("demo.ron").into_parts();
    for group in &mut parts.groups {
        group.needs = vec!["xylophone-free".to_owned()];
    }
    parts.groups[2].pace = 1.37;
    let lesson = Lesson::new(parts).unwrap();
    let plan = planned(&lesson, DECODINGS);
    let matter = matter(&lesson, Some(&plan));
    let mut open: Vec<Part> = Part::ALL.into_iter().filter(|part| part.is_open()).collect();
    assert!(open.len() >= 6);
    // What goes to the office tells nothing of them either.
    open.push(Part::OrderList);
    let (sheets, _) = papers::sheets(&matter, &open, "");
    let mut told = 0;
    let typeface = Typeface::new().unwrap();
    for sheet in &sheets {
        let mut text = plain_text(sheet, &head(&lesson), &as_it_is);
        let laid = lay_out(sheet, &head(&lesson), Print::default(), (&typeface, &as_it_is));
        let words = laid.pages.iter().flat_map(words_of).map(|w| w.text.clone());
        text.push_str(&words.collect::<Vec<_>>().join(" "));
        let text = text.to_lowercase();
        let verdicts = [
            Verdict::LeftOut,
            Verdict::Tight,
            Verdict::NotRealistically,
            Verdict::CannotAll,
            Verdict::Cannot,
        ];
        let words = verdicts.map(verdict_words).map(str::to_lowercase);
        let mut never: Vec<&str> = words.iter().map(String::as_str).collect();
        never.extend(["xylophone", "1.37", "137", "pace", "to spare", "kept apart", "verdict"]);
        for word in never {
            assert!(!text.contains(word), "\"{word}\" stands on {}", sheet.title());
        }
        told += text.len();
    }
    assert!(told > 2_000, "the sheets were not found");
    let for_staff = papers::sheets(&matter, &[Part::Requisition], "").0;
    let text = plain_text(&for_staff[0], &head(&lesson), &as_it_is);
    assert!(text.contains("xylophone-free"), "whoever weighs out must know");
}

fn words_of(page: &Page) -> impl Iterator<Item = &Words> {
    page.pieces.iter().flat_map(|piece| &piece.marks).filter_map(|mark| match mark {
        Mark::Words(words) => Some(words),
        _ => None,
    })
}

/// Everything lies on its page, no line of words over another, and large print
/// is large.
fn measured(laid: &LaidOut, how: Print, what: &str) {
    for (number, page) in laid.pages.iter().enumerate() {
        let place = || format!("{what}, page {}", number + 1);
        let mut lines: Vec<&Words> = words_of(page).collect();
        assert!(!lines.is_empty(), "{}: an empty page", place());
        lines.sort_by(|a, b| a.area.y.total_cmp(&b.area.y));
        for (i, line) in lines.iter().enumerate() {
            let area = line.area;
            let inside = area.x >= 20.0
                && area.right() <= page.size.0 - 20.0
                && area.y >= 20.0
                && area.bottom() <= page.size.1 - 20.0;
            assert!(inside, "{}: \"{}\" runs off at {area:?}", place(), line.text);
            let least = if how.large { LARGE } else { 8.0 };
            assert!(line.size >= least - 0.01, "{}: \"{}\" is {}", place(), line.text, line.size);
            for other in lines[i + 1..].iter().take_while(|o| o.area.y < area.bottom() - 0.1) {
                let both = area.shared(&other.area);
                assert!(
                    both.w <= 0.1 || both.h <= 0.1,
                    "{}: \"{}\" lies over \"{}\"",
                    place(),
                    line.text,
                    other.text
                );
            }
        }
        let pictures = page.pieces.iter().flat_map(|piece| &piece.marks);
        for mark in pictures {
            if let Mark::Scene(at, scene, zoom) = mark {
                assert!(at.x + scene.size.0 * zoom <= page.size.0 - 20.0, "{}", place());
                assert!(at.y + scene.size.1 * zoom <= page.size.1 - 20.0, "{}", place());
            }
        }
    }
}

/// Rows of a table have letters of one size, on however many pages they stand.
fn of_one_size(laid: &LaidOut, what: &str) {
    let mut sizes: BTreeMap<usize, f32> = BTreeMap::new();
    for piece in laid.pages.iter().flat_map(|page| &page.pieces) {
        let Role::Cell { table, row: 1.., .. } = piece.role else { continue };
        for mark in &piece.marks {
            let Mark::Words(words) = mark else { continue };
            let size = *sizes.entry(table).or_insert(words.size);
            let is_same = (size - words.size).abs() < 0.01;
            assert!(is_same, "{what}: \"{}\" is {} among {size}", words.text, words.size);
        }
    }
}

const HOWS: [Print; 4] = [
    Print { paper: Paper::A4, large: false, symbols: false, home: None },
    Print { paper: Paper::Letter, large: false, symbols: true, home: None },
    Print { paper: Paper::A4, large: true, symbols: true, home: None },
    Print { paper: Paper::Letter, large: true, symbols: false, home: None },
];

/// Lays out all parts in every way and measures them; what is found in the
/// first way.
fn all_measured(matter: &Matter<'_>, name: &str) -> Vec<String> {
    let typeface = Typeface::new().unwrap();
    let (sheets, _) = papers::sheets(matter, &Part::ALL, "");
    assert!(!sheets.is_empty());
    let head = head(matter.lesson);
    let mut found = Vec::new();
    for how in HOWS {
        for sheet in &sheets {
            let laid = lay_out(sheet, &head, how, (&typeface, &as_it_is));
            let what = format!("{name}, {}, {how:?}", sheet.title());
            measured(&laid, how, &what);
            of_one_size(&laid, &what);
            holds_all(sheet, &laid);
            if how == Print::default() {
                found.extend(laid.findings.iter().map(|f| f.code.to_owned()));
            }
        }
    }
    found
}

/// All that plain text says of a sheet stands on its pages.
fn holds_all(sheet: &Sheet<'_>, laid: &LaidOut) {
    let on_paper: String = laid.pages.iter().flat_map(words_of).map(|w| w.text.as_str()).collect();
    let on_paper = run_together(&on_paper);
    if sheet.form == Form::CutUp {
        return;
    }
    let wanted = run_together(&sheet.title());
    assert!(on_paper.contains(&wanted) || laid.pages.len() > 1, "{wanted} is cut");
}

#[test]
fn usual_lessons_fit_their_pages() {
    for name in ["demo.ron", "a-scones-hour.ron", "d-sponges-gas.ron"] {
        let lesson = lesson(name);
        let plan = planned(&lesson, DECODINGS);
        let found = all_measured(&matter(&lesson, Some(&plan)), name);
        assert!(found.is_empty(), "{name}: {found:?}");
    }
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let made = printed(&lesson, &plan, &Part::USUAL, Print::default());
    assert_eq!(made.parts, [(Part::RunningOrder, 1), (Part::OvenSheet, 1)], "everyone's two pages");
}

/// The demo's lesson and plan with other names: no plan goes by names.
fn renamed(name: impl Fn(usize) -> String) -> (Lesson, CheckedPlan) {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let mut parts = lesson.into_parts();
    parts.title = name(100);
    parts.class.name = name(101);
    parts.rooms[0].name = name(102);
    for (i, group) in parts.groups.iter_mut().enumerate() {
        group.name = name(i);
    }
    for (i, oven) in parts.ovens.iter_mut().enumerate() {
        oven.name = name(200 + i);
    }
    for recipe in &mut parts.recipes {
        recipe.name = format!("{} {}", recipe.name, name(300));
        for ingredient in &mut recipe.ingredients {
            ingredient.name = format!("{} {}", ingredient.name, name(301));
        }
    }
    let lesson = Lesson::new(parts).unwrap();
    let plan = check(&lesson, plan.into_plan()).unwrap();
    (lesson, plan)
}

#[test]
fn names_of_any_length_and_script_are_printed_in_full() {
    let long = |i: usize| format!("{}{i}", "n".repeat(300));
    let (lesson, plan) = renamed(long);
    let of_it = matter(&lesson, Some(&plan));
    let found = all_measured(&of_it, "long names");
    assert!(found.iter().any(|code| code == "long-text"), "{found:?}");
    let made = print(
        &papers::sheets(&of_it, &[Part::OvenSheet], "").0,
        &head(&lesson),
        Print::default(),
        ("en-GB", &as_it_is),
    );
    let text = run_together(&pages(&made.unwrap().bytes).join(""));
    let is_baked = |g: &usize| plan.plan().loads.iter().any(|l| l.group == GroupId(*g));
    for group in (0..8).filter(is_baked) {
        assert!(text.contains(&long(group)), "group {group} is cut");
    }
    let strange = |i: usize| format!("كعك الليمون {i} 🍋🧁 Łódź");
    let (lesson, plan) = renamed(strange);
    let of_it = matter(&lesson, Some(&plan));
    let found = all_measured(&of_it, "strange names");
    assert!(found.iter().any(|code| code == "letter-missing"), "{found:?}");
    let (sheets, _) = papers::sheets(&of_it, &Part::ALL, "");
    let made = print(&sheets, &head(&lesson), Print::default(), ("en-GB", &as_it_is)).unwrap();
    let meant = PdfFile::read(&made.bytes).meant().join("\n");
    assert!(meant.contains("كعك") && meant.contains('🍋'), "what is copied is what was meant");
}

/// The page for the wall is one, on either paper, and on A4 so is that for up to
/// five ovens.
#[test]
fn many_groups_are_told_of_on_a_page_for_the_wall_and_one_for_five_ovens() {
    let read = |text: String| read_lesson(&text).unwrap().lesson;
    let two_shelves =
        crowd(20).replace("shelves: 1", "shelves: 2").replace("count: 20, kind", "count: 10, kind");
    for (lesson, name) in [
        (lesson("a-scones-hour.ron"), "scones"),
        (lesson("b-rolls-double.ron"), "rolls"),
        (lesson("d-sponges-gas.ron"), "sponges"),
        (read(two_shelves), "twenty at ten ovens"),
    ] {
        let plan = planned(&lesson, DECODINGS);
        let of_it = matter(&lesson, Some(&plan));
        let typeface = Typeface::new().unwrap();
        let few = lesson.ovens.len() <= 5;
        let parts = if few { &Part::USUAL[..] } else { &[Part::RunningOrder] };
        for sheet in &papers::sheets(&of_it, parts, "").0 {
            let is_wall = sheet.part == Part::RunningOrder;
            let hows = HOWS.into_iter().filter(|how| !how.large);
            for how in hows.filter(|how| is_wall || how.paper == Paper::A4) {
                let laid = lay_out(sheet, &head(&lesson), how, (&typeface, &as_it_is));
                let what = format!("{name}, {}, {how:?}", sheet.title());
                assert_eq!(laid.pages.len(), 1, "{what}");
                measured(&laid, how, &what);
                let cells = laid.pages[0].pieces.iter();
                let cells = cells.filter(|piece| matches!(piece.role, Role::Cell { row: 1.., .. }));
                let words = cells.flat_map(|piece| &piece.marks).filter_map(|mark| match mark {
                    Mark::Words(words) => Some(words.size),
                    _ => None,
                });
                let least = words.fold(f32::MAX, f32::min);
                assert!(least >= 8.0, "{what}: letters of {least} points");
            }
        }
    }
    let lesson = read(crowd(20));
    assert_eq!(planned(&lesson, DECODINGS).objective().served, 20, "twenty are served");
}

/// A lesson of so many groups, each with its own oven.
fn crowd(groups: usize) -> String {
    format!(
        r#"(
            format: 1, title: "A crowd", class: (name: "9"),
            period: (start: "09:00", end: "10:00"),
            room: (ovens: [(name: "Oven", count: {groups}, kind: Fan, shelves: 1, shelf_mm: (420, 360))]),
            adults: [(name: "teacher")],
            recipes: [(
                name: "scones",
                ingredients: [(name: "flour", amount: 100, role: Flour)],
                methods: [(name: "rub in", steps: [
                    (name: "mix", minutes: (3, 4, 6)),
                    (name: "bake", kind: Bake),
                    (name: "cool", kind: Cool, minutes: (4, 5, 8)),
                ])],
                tins: [(label: "8 scones", tin: "sheet", celsius: 220, minutes: (10, 12, 14))],
            )],
            tins: [(name: "sheet", form: Sheet, rim_mm: (350, 250), height_mm: 15)],
            groups: [(name: "Unit", count: {groups}, recipe: "scones")],
        )"#
    )
}

/// A recipe of so many steps of a minute.
fn many_steps(steps: usize) -> String {
    let step = |i| format!(r#"(name: "step {i}", minutes: (1, 1, 2), pupil_words: "Stir {i}.")"#);
    let steps = (0..steps).map(step).collect::<Vec<_>>().join(", ");
    format!(
        r#"(
            format: 1, title: "Many steps", class: (name: "9"),
            period: (start: "09:00", end: "11:00"),
            room: (), adults: [(name: "teacher")],
            recipes: [(name: "stirring", methods: [(name: "by hand", steps: [{steps}])])],
            groups: [(name: "Unit 1", recipe: "stirring")],
        )"#
    )
}

#[test]
fn sixty_groups_and_sixty_steps_are_printed_on_as_many_pages_as_they_take() {
    for (text, name, wanted) in
        [(crowd(60), "a crowd", "Unit 60"), (many_steps(60), "many steps", "Stir 59.")]
    {
        let lesson = read_lesson(&text).unwrap().lesson;
        let plan = planned(&lesson, 1);
        assert!(plan.objective().served > 0, "{name} is not planned");
        let of_it = matter(&lesson, Some(&plan));
        all_measured(&of_it, name);
        let (sheets, _) = papers::sheets(&of_it, &[Part::TimePlans, Part::UnitCheck], "");
        let made = print(&sheets, &head(&lesson), Print::default(), ("en-GB", &as_it_is)).unwrap();
        let text = pages(&made.bytes).join("\n");
        assert!(text.contains(wanted), "{name}: {wanted} is lost");
    }
}

#[test]
fn without_a_plan_the_rest_is_printed() {
    let lesson = lesson("demo.ron");
    let matter = matter(&lesson, None);
    let (sheets, left_out) = papers::sheets(&matter, &Part::ALL, "there is no plan of it");
    let printed: Vec<Part> = sheets.iter().map(|sheet| sheet.part).collect();
    let left: Vec<Part> = left_out.iter().map(|l| l.part).collect();
    assert_eq!(left, Part::ALL.into_iter().filter(|p| p.wants_plan()).collect::<Vec<_>>());
    assert!(left_out.iter().all(|l| l.why == "there is no plan of it"));
    assert!(
        [Part::Requisition, Part::Labels, Part::LetterHome].iter().all(|p| printed.contains(p))
    );
}

/// The letter has quantities and what is brought, and no need of anybody's.
#[test]
fn the_letter_home_says_what_is_made_and_what_is_brought() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut file = load_lesson(&path).unwrap().file;
    for packet in &mut file.packets {
        match packet.of.as_str() {
            "eggs" => packet.from = FromShape::Home,
            "caster sugar" => packet.from = FromShape::Either,
            _ => {}
        }
    }
    file.groups[7].needs = vec!["made without egg".into()];
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let matter = matter(&lesson, None);
    let (sheets, _) = papers::sheets(&matter, &[Part::LetterHome], "");
    let said: Vec<String> = sheets[0]
        .blocks
        .iter()
        .flat_map(|block| match block {
            Block::Prose(text) | Block::Heading(text) => vec![text.clone()],
            Block::List(lines) => lines.clone(),
            _ => Vec::new(),
        })
        .collect();
    let whole = said.join("\n");
    assert!(whole.contains("On Thursday 26 November class 9 Harbour bakes: "), "{whole}");
    let has = |line: &str| said.iter().any(|said| said == line);
    assert!(has("whisked sponge, for one group"), "{whole}");
    assert!(has("3 eggs for whisked sponge"), "{whole}");
    assert!(whole.contains("g caster sugar for whisked sponge, if you like"), "{whole}");
    // Groups of the lemon bake make it with two eggs or with three.
    assert!(has("2 to 3 eggs for lemon bake"), "{whole}");
    assert!(!whole.contains("without egg") && !whole.contains("flour for"), "{whole}");
}

#[test]
fn allergens_nobody_read_are_not_said_to_be_absent() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut file = load_lesson(&path).unwrap().file;
    for buns in file.recipes.iter_mut().filter(|r| r.name == "clear-day buns") {
        buns.ingredients.clear();
    }
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let of_it = matter(&lesson, None);
    let (sheets, _) = papers::sheets(&of_it, &[Part::Labels], "");
    let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
    assert!(text.contains("Allergens: wheat, milk and eggs"), "{text}");
    assert!(text.contains("Not known: baking powder, lemon zest and lemon juice"), "{text}");
    // Where no ingredient is entered, nothing is known.
    assert!(text.contains("Clear-day buns") && text.contains("Allergens: not known"), "{text}");
}

/// Times or jobs are to be found by pupils, or all of it.
#[test]
fn a_plan_with_gaps_tells_each_row_in_part_and_a_blank_one_tells_none() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let of_it = matter(&lesson, Some(&plan));
    let table = |part| {
        let sheets = papers::sheets(&of_it, &[part], "").0;
        let table = sheets[0].blocks.iter().find_map(|block| match block {
            Block::Table(table) => Some(table.rows.clone()),
            _ => None,
        });
        (sheets.len(), table.unwrap())
    };
    let (units, full) = table(Part::TimePlans);
    let (with_gaps, gapped) = table(Part::TimePlansWithGaps);
    assert_eq!((units, with_gaps, full.len()), (8, 8, gapped.len()));
    let mut gaps = 0;
    for (told, gapped) in full.iter().zip(&gapped) {
        let same = |cell: usize| told.cells[cell] == gapped.cells[cell];
        let blank = |cell: usize| gapped.cells[cell] == Cell::Blank;
        assert!((same(0) || blank(0)) && (same(1) || blank(1)), "another time or job: {gapped:?}");
        assert!(!(blank(0) && blank(1)), "nothing to go by: {gapped:?}");
        gaps += usize::from(blank(0) || blank(1));
    }
    assert!(gaps >= 5, "{gaps} gaps");
    let of_it = matter(&lesson, None);
    let (sheets, left_out) = papers::sheets(&of_it, &[Part::BlankTimePlan], "");
    assert!(left_out.is_empty(), "it wants no plan");
    let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
    let bells = BTreeSet::from(["10:05".to_owned(), "11:10".to_owned(), "03:33".to_owned()]);
    assert!(times(&text).is_subset(&bells), "{text}");
}

/// A second line stands in the cell of its job, marked as its language; nothing
/// of it in a plan with gaps where the job is to be found.
#[test]
fn a_second_line_is_in_the_language_that_is_wanted() {
    let mut parts = lesson("demo.ron").into_parts();
    let (polish, kurdish) = ("pl".parse().unwrap(), "ckb".parse().unwrap());
    for step in parts.recipes.iter_mut().flat_map(|r| &mut r.methods).flat_map(|m| &mut m.steps) {
        let of = |language: &str| format!("{language}–{} ", step.name).repeat(9);
        step.home = vec![(polish, of("pl")), (kurdish, of("ckb"))];
    }
    let lesson = Lesson::new(parts).unwrap();
    assert_eq!(lesson.home_languages(), [kurdish, polish]);
    let plan = planned(&lesson, DECODINGS);
    let of_it = matter(&lesson, Some(&plan));
    let typeface = Typeface::new().unwrap();
    let parts = [Part::TimePlans, Part::TimePlansWithGaps, Part::RunningOrder];
    let (sheets, _) = papers::sheets(&of_it, &parts, "");
    for (home, large) in [(None, false), (Some(polish), false), (Some(polish), true)] {
        let how = Print { home, large, ..Print::default() };
        for sheet in &sheets {
            let laid = lay_out(sheet, &head(&lesson), how, (&typeface, &as_it_is));
            measured(&laid, how, &sheet.title());
            of_one_size(&laid, &sheet.title());
            let pieces = || laid.pages.iter().flat_map(|page| &page.pieces);
            let marked = pieces().filter(|piece| piece.language.is_some()).count();
            let wanted = home.is_some() && sheet.part != Part::RunningOrder;
            assert_eq!(marked > 9, wanted, "{}: {marked}", sheet.title());
            let text: String = laid.pages.iter().flat_map(words_of).map(|w| &*w.text).collect();
            assert!(wanted || !text.contains("pl–"), "{text}");
            assert!(!text.contains("ckb"), "{text}");
        }
    }
    let how = Print { home: Some(polish), ..Print::default() };
    let made = print(&sheets, &head(&lesson), how, ("en-GB", &as_it_is)).unwrap();
    assert!(pages(&made.bytes).join(" ").contains("pl–fill"));
}

/// A table of a sheet below a heading, as its words row by row.
fn table_below(sheet: &Sheet<'_>, heading: &str) -> Vec<Vec<String>> {
    let mut blocks = sheet.blocks.iter();
    let is_it = |block: &&Block<'_>| matches!(block, Block::Heading(words) if words == heading);
    assert!(blocks.find(is_it).is_some(), "there is no heading {heading}");
    let table = blocks.find_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    let words = |cells: &[Cell]| cells.iter().map(|cell| cell.words().to_owned()).collect();
    table.unwrap().rows.iter().map(|row| words(&row.cells)).collect()
}

/// By the plan's own figures: when tins go in and how many minutes later they
/// may.
#[test]
fn the_teachers_sheet_tells_how_late_each_group_may_load() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let json = plan_json(&lesson, &plan);
    let of_it = matter(&lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::LessonSheet], "");
    let rows = table_below(&sheets[0], "If it slips");
    assert_eq!(rows.len(), 8);
    let mut later = 0;
    for step in json["steps"].as_array().unwrap().iter().filter(|s| s["step"] == "load") {
        let row = rows.iter().find(|row| row[0] == step["group"].as_str().unwrap()).unwrap();
        let minute = |add: i64| {
            let minute = i32::try_from(step["start"].as_i64().unwrap() + add).unwrap();
            clock(&lesson, Minute::new(minute)).to_string()
        };
        let give = step["to_give"].as_i64().unwrap();
        assert_eq!((&row[3], &row[4]), (&minute(0), &minute(give)), "{row:?}");
        assert!(row[1] <= row[3] && row[2] >= row[1], "filled after it is in: {row:?}");
        later += give;
    }
    assert!(later > 0, "nobody has anything to give");
    let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
    for adult in ["Technician", "Teacher"] {
        assert!(text.contains(&format!("- {adult}: there ")), "{text}");
    }
}

/// Notes of the teacher's own stand at the minutes the plan gives them, those
/// whose place is gone last; and only on the teacher's own sheet.
#[test]
fn the_teachers_notes_stand_on_the_teachers_sheet() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let text = fs::read_to_string(path).unwrap();
    let notes = r#"teacher: [
        (at: "load the attic", say: "Quietly now"),
        (at: "dismissal", do: "bins last"),
        (at: "load Oven 2", say: "Gloves on", do: "watch the door")],
    room: "#;
    let lesson = read_lesson(&text.replacen("room: ", notes, 1)).unwrap().lesson;
    let plan = planned(&lesson, DECODINGS);
    let of_it = matter(&lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::LessonSheet], "");
    let rows = table_below(&sheets[0], "Your notes");
    let into = plan.plan().loads.iter().filter(|l| l.oven == OvenId(1)).map(|l| l.start).min();
    let at = clock(&lesson, into.unwrap()).to_string();
    let wanted = [
        [&*at, "load Oven 2", "Gloves on", "watch the door"],
        ["11:08", "dismissal", "", "bins last"],
        ["nowhere now", "load the attic", "Quietly now", ""],
    ];
    assert_eq!(rows, wanted);
    let others: Vec<Part> = Part::ALL.into_iter().filter(|p| *p != Part::LessonSheet).collect();
    let (sheets, _) = papers::sheets(&of_it, &others, "");
    for sheet in &sheets {
        let text = plain_text(sheet, &head(&lesson), &as_it_is);
        assert!(!text.contains("Gloves on") && !text.contains("Quietly now"), "{text}");
    }
}

/// When an oven is hot and nobody is free, it is asked who watches it.
#[test]
fn the_teachers_sheet_asks_who_watches_what_nobody_does() {
    let mut parts = lesson("demo.ron").into_parts();
    let technician = parts.adults.iter_mut().find(|a| a.name == "technician").unwrap();
    technician.hours = vec![(Minute::new(-30), Minute::new(10))];
    let lesson = Lesson::new(parts).unwrap();
    let plan = planned(&lesson, DECODINGS);
    let of_it = matter(&lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::LessonSheet], "");
    let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
    assert!(text.contains("\tNobody is free\tWho watches Oven "), "{text}");
}

/// Sets have their own minutes, one after another, that which is kept apart
/// first; and where the day is too short for them, it says so.
#[test]
fn the_technicians_day_is_in_the_order_of_time() {
    for from in [-30, -60] {
        let mut parts = lesson("demo.ron").into_parts();
        let technician = parts.adults.iter_mut().find(|a| a.name == "technician").unwrap();
        technician.hours = vec![(Minute::new(from), Minute::new(30))];
        let lesson = Lesson::new(parts).unwrap();
        the_technicians_day_from(&lesson, from == -30);
    }
}

fn the_technicians_day_from(lesson: &Lesson, is_late: bool) {
    let plan = planned(lesson, DECODINGS);
    let of_it = matter(lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::TechniciansDay], "");
    let text = plain_text(&sheets[0], &head(lesson), &as_it_is);
    // Eight times five minutes and three for five units, from 10:05 back.
    let first = "09:10\t5\tWeigh beforehand for Unit 8: kept apart, on a covered tray\tRoom 4";
    assert!(text.contains(first), "{text}");
    let table = sheets[0].blocks.iter().find_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    let starts: Vec<&str> = table.unwrap().rows.iter().map(|row| row.cells[0].words()).collect();
    assert!(starts.is_sorted() && starts[0] == "09:10", "{starts:?}");
    assert_eq!(text.contains("Cannot be as it stands"), is_late, "{text}");
    assert_eq!(text.contains("the technician is there 09:35 to 10:35"), is_late, "{text}");
}

/// Two lessons at once want one technician in two rooms; of two days nothing of
/// the kind is told.
#[test]
fn what_several_lessons_want_at_once_is_told() {
    let one = lesson("demo.ron");
    let mut parts = lesson("demo.ron").into_parts();
    parts.title = "The other one".to_owned();
    let other = Lesson::new(parts.clone()).unwrap();
    parts.date = NaiveDate::from_ymd_opt(2026, 11, 27);
    let next_day = Lesson::new(parts).unwrap();
    let plan = planned(&one, DECODINGS);
    for (other, clash) in [(&other, true), (&next_day, false)] {
        let both = [matter(&one, Some(&plan)), matter(other, Some(&plan))];
        let (sheets, left_out) = papers::common_sheets(&both, &Part::ALL, "");
        assert!(left_out.is_empty());
        let parts: Vec<Part> = sheets.iter().map(|sheet| sheet.part).collect();
        assert_eq!(parts, [Part::TechniciansDay, Part::OrderList]);
        let text = |i: usize| plain_text(&sheets[i], &head(&one), &as_it_is);
        assert_eq!(text(0).contains("At once: 09:10, Weigh"), clash, "{}", text(0));
        assert_eq!(text(0).contains("Friday 27 November 2026"), !clash);
        // Twice what one of them orders: 4 sets of 100 g, and a spare one, of each.
        assert!(
            text(1).contains("Lemon bakes and a sponge: lemon bake; The other one: lemon bake")
        );
    }
}

#[test]
fn a_word_for_a_language_is_that_of_the_lesson() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let of_it = matter(&lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::OvenSheet], "");
    let louder = |words: &str| words.replace("free throughout", "EMPTY ALL ALONG");
    let made = print(&sheets, &head(&lesson), Print::default(), ("en-US", &louder)).unwrap();
    assert!(PdfFile::read(&made.bytes).language() == "en-US");
    let says = |bytes: &[u8], words: &str| pages(bytes).join(" ").contains(words);
    let usual = print(&sheets, &head(&lesson), Print::default(), ("en-GB", &as_it_is)).unwrap();
    let is_told = says(&usual.bytes, "free throughout");
    assert_eq!(says(&made.bytes, "EMPTY ALL ALONG"), is_told);
    assert!(!says(&made.bytes, "free throughout"));
}

#[test]
fn the_oven_sheet_names_every_oven() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let of_it = matter(&lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::OvenSheet], "");
    let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
    for oven in (0..lesson.ovens.len()).map(OvenId) {
        assert!(text.contains(&lesson.ovens[oven.0].name));
    }
    let first = lesson.periods[0].start_clock;
    assert!(times(&text).iter().all(|t| ClockTime::parse(t).is_ok()));
    assert!(text.contains(&first.to_string()), "the bell stands at the head");
}

#[test]
fn pages_named_in_the_page_on_papers_are_parts() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/json.md");
    let page = fs::read_to_string(path).unwrap();
    for part in Part::ALL {
        assert!(page.contains(&format!("`{}`", part.name())), "{} is not named", part.name());
    }
}
