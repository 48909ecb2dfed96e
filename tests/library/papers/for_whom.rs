//! Sheets for one reader: home, pupils who need other words, the teacher.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use ovenbell::file::format::FromShape;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson};
use ovenbell::model::{Lesson, OvenId};
use ovenbell::papers::layout::lay_out;
use ovenbell::papers::paper::Print;
use ovenbell::papers::plain_text::plain_text;
use ovenbell::papers::sheet::{Block, Cell, Sheet};
use ovenbell::papers::typeface::Typeface;
use ovenbell::papers::{self, Part, print};
use ovenbell::units::Minute;
use ovenbell::view::words::clock;

use super::{
    DECODINGS, as_it_is, head, lesson, matter, measured, of_one_size, pages, plan_json, times,
    words_of,
};
use crate::common::pdf::PdfFile;
use crate::common::planned::planned;

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
