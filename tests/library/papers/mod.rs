//! Sheets: every time on them is the checked plan's, nothing is cut or lies
//! over anything else, and what hangs on a wall tells nothing of a group's
//! needs, pace or verdict.

mod fit;
mod for_whom;
mod other_readers;
mod true_to_the_plan;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use chrono::NaiveDate;
use ovenbell::check::CheckedPlan;
use ovenbell::export::json::{self, PlanningTime};
use ovenbell::file::load_lesson;
use ovenbell::model::Lesson;
use ovenbell::papers::head::Head;
use ovenbell::papers::layout::LaidOut;
use ovenbell::papers::page::{Mark, Page, Role, Words};
use ovenbell::papers::paper::{LARGE, Paper, Print};
use ovenbell::papers::{self, Matter, Part, Printed, print};
use ovenbell::speech::English;
use ovenbell::speech::allergens::list;
use ovenbell::stores::{Extra, Stores};

use crate::common::pdf::PdfFile;

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
        set_out: None,
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

/// Text without gaps, which lines may break at.
fn run_together(text: &str) -> String {
    text.split_whitespace().collect()
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

#[test]
fn pages_named_in_the_page_on_papers_are_parts() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/json.md");
    let page = fs::read_to_string(path).unwrap();
    for part in Part::ALL {
        assert!(page.contains(&format!("`{}`", part.name())), "{} is not named", part.name());
    }
}
