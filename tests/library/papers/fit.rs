//! Nothing is cut and nothing lies over anything else, however much there is.

use ovenbell::check::{CheckedPlan, check};
use ovenbell::file::read_lesson;
use ovenbell::model::{GroupId, Lesson};
use ovenbell::papers::layout::{LaidOut, lay_out};
use ovenbell::papers::page::{Mark, Role};
use ovenbell::papers::paper::{Paper, Print};
use ovenbell::papers::sheet::{Block, Cell, Form, Look, Sheet, Table, Width};
use ovenbell::papers::typeface::Typeface;
use ovenbell::papers::{self, Matter, Part, print};

use super::{
    DECODINGS, HOWS, as_it_is, head, lesson, matter, measured, of_one_size, pages, printed,
    run_together, words_of,
};
use crate::common::pdf::PdfFile;
use crate::common::planned::planned;

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

/// By hand: of so many short rows, each under a heading of its own, every page would end
/// with a heading now and then.
#[test]
fn no_heading_of_a_table_stands_last_on_its_page() {
    let columns = [("What", Width::Share(1.0)), ("How much", Width::Fit)];
    let mut table = Table::new(&columns);
    for i in 0..90 {
        let cells = [Cell::Strong(format!("Heading {i}")), Cell::Name(String::new())];
        table.row(Look::Shaded, cells.to_vec());
        for k in 0..i % 3 + 1 {
            let cells = [Cell::Prose(format!("Row {i} {k}")), Cell::Name("4 g".to_owned())];
            table.row(Look::Plain, cells.to_vec());
        }
    }
    assert!(table.rows[0].is_heading() && !table.rows[1].is_heading());
    let blocks = vec![Block::Table(table)];
    let sheet = Sheet { part: Part::OrderList, of: None, blocks, form: Form::Hand };
    let typeface = Typeface::new().unwrap();
    let lesson = lesson("demo.ron");
    for how in HOWS {
        let laid = lay_out(&sheet, &head(&lesson), how, (&typeface, &as_it_is));
        assert!(laid.pages.len() > 2, "{how:?}");
        for page in &laid.pages {
            let last = words_of(page)
                .filter(|w| w.text.starts_with("Heading") || w.text.starts_with("Row"));
            let last = last.max_by(|a, b| a.area.y.total_cmp(&b.area.y)).unwrap();
            assert!(last.text.starts_with("Row"), "{how:?}: {} stands last", last.text);
        }
    }
}
