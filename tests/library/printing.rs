//! Sheets as a session has them laid out, and prints them to a file.

use crate::common::how_many::FEW_PLANS;
use std::fs;
use std::path::Path;
use std::sync::Arc;
use std::time::{Duration, Instant};

use ovenbell::edit::Edit;
use ovenbell::file::RealDisk;
use ovenbell::papers::Part;
use ovenbell::papers::paper::{Paper, Print};
use ovenbell::session::{Clock, Command, Session, SessionStart};
use ovenbell::speech::English;

use crate::common::pdf::PdfFile;

const LETTER: Print = Print { paper: Paper::Letter, large: false, symbols: false, home: None };

fn session(folder: &Path) -> Session {
    Session::new(SessionStart {
        wake: Arc::new(|| {}),
        disk: Arc::new(RealDisk),
        clock: Clock::default(),
        outcomes: None,
        data: Some(folder.join("data")),
        documents: Some(folder.to_owned()),
        runs: None,
        decodings: Some(FEW_PLANS),
    })
}

/// As whoever shows the place does at every frame.
fn settle(session: &mut Session, print: Print) {
    let begun = Instant::now();
    loop {
        session.listen(None);
        session.want_sheets(print, English::British);
        if !session.is_busy() {
            return;
        }
        assert!(begun.elapsed() < Duration::from_secs(120), "no sheets come");
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn opened(folder: &Path) -> Session {
    let lessons = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons");
    let own = folder.join("lesson.ron");
    fs::copy(lessons.join("a-scones-hour.ron"), &own).unwrap();
    let mut session = session(folder);
    session.apply(Command::Open(own));
    session
}

#[test]
fn sheets_are_those_of_the_lesson_as_it_stands_and_printed_as_they_are_chosen() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = opened(folder.path());
    settle(&mut session, Print::default());
    let pages =
        |session: &Session| session.sheets().unwrap().chosen(&[Part::TimePlans], true).len();
    assert_eq!(pages(&session), 10, "a plan for each pair");
    assert!(session.sheets().unwrap().left_out.is_empty());
    let out = Edit::LeftOut { group: "Pair 1".to_owned(), out: true };
    session.apply(Command::Edit(out));
    assert!(session.sheets().is_none(), "those of the lesson before are no longer told");
    settle(&mut session, LETTER);
    assert_eq!(pages(&session), 9);
    let to = folder.path().join("sheets");
    session.apply(Command::PrintSheets(
        to.clone(),
        vec![Part::OvenSheet, Part::RunningOrder],
        true,
    ));
    let to = to.with_extension("pdf");
    let told = session.message().unwrap().to_owned();
    assert_eq!(told, format!("3 pages are printed to {}.", to.display()));
    let file = PdfFile::read(&fs::read(&to).unwrap());
    assert_eq!(file.contents(), ["Running order", "Oven sheet"]);
    assert!(file.sizes().iter().all(|&(wide, high)| (wide, high) == (612.0, 792.0)));
    let words = file.pages().join("\n");
    assert!(words.contains("Pair 2") && !words.contains("\nPair 1\n"), "{words}");
}

#[test]
fn nothing_but_an_earlier_print_is_printed_over() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = opened(folder.path());
    settle(&mut session, Print::default());
    let at = |name: &str| folder.path().join(name);
    fs::write(at("scan.pdf"), b"%PDF-1.4 somebody's").unwrap();
    fs::create_dir(at("folder.pdf")).unwrap();
    let lesson = fs::read(at("lesson.ron")).unwrap();
    for (name, parts, why) in [
        ("lesson.ron", Part::USUAL.to_vec(), "the lesson's own file"),
        ("scan.pdf", Part::USUAL.to_vec(), "no PDF of ovenbell's"),
        ("folder.pdf", Part::USUAL.to_vec(), "folder"),
        ("gone/sheets.pdf", Part::USUAL.to_vec(), "is not there"),
        ("sheets.pdf", Vec::new(), "nothing is chosen"),
    ] {
        session.apply(Command::PrintSheets(at(name), parts, false));
        let told = session.message().unwrap();
        assert!(told.starts_with("Not printed to ") && told.contains(why), "{name}: {told}");
    }
    assert_eq!(fs::read(at("lesson.ron")).unwrap(), lesson);
    assert!(fs::read(at("scan.pdf")).unwrap().ends_with(b"somebody's"));
    assert!(!at("sheets.pdf").exists() && !at("gone").exists());
    for _ in 0..2 {
        session.apply(Command::PrintSheets(at("sheets.pdf"), Part::USUAL.to_vec(), false));
        assert!(session.message().unwrap().starts_with("2 pages"), "{:?}", session.message());
    }
}

/// The words of each sheet that is printed.
fn printed(session: &mut Session, to: &Path, parts: &[Part], again: bool) -> Vec<String> {
    session.apply(Command::PrintSheets(to.to_owned(), parts.to_vec(), again));
    assert!(session.message().unwrap().contains("printed to"), "{:?}", session.message());
    PdfFile::read(&fs::read(to).unwrap()).contents()
}

#[test]
fn what_has_changed_since_it_was_printed_is_told_on_top_and_the_rest_is_not_printed_again() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = opened(folder.path());
    settle(&mut session, Print::default());
    let to = folder.path().join("sheets.pdf");
    let parts = [Part::RunningOrder, Part::OvenSheet, Part::TimePlans, Part::UnitCheck];
    assert!(!session.sheets().unwrap().is_reissue(), "nobody has anything yet");
    assert_eq!(printed(&mut session, &to, &parts, false).len(), 13);
    settle(&mut session, Print::default());
    assert!(!session.sheets().unwrap().is_reissue());
    assert_eq!(printed(&mut session, &to, &parts, false).len(), 13, "the same again");
    let issued = session.sheets().unwrap().head.issued.format("%H:%M").to_string();
    let out = Edit::LeftOut { group: "Pair 10".to_owned(), out: true };
    session.apply(Command::Edit(out));
    settle(&mut session, Print::default());
    let sheets = session.sheets().unwrap();
    assert!(sheets.is_reissue());
    let again = sheets.chosen(&parts, true).len();
    let changed = printed(&mut session, &to, &parts, false);
    assert!(changed.contains(&"Running order".to_owned()), "{changed:?}");
    assert!(!changed.contains(&"Time plan: Pair 1".to_owned()), "{changed:?}");
    assert!(changed.len() < again && again == 12, "{changed:?} of {again}");
    let words = PdfFile::read(&fs::read(&to).unwrap()).pages();
    let mut firsts = words.iter().filter(|page| page.contains("page 1 of "));
    let head = firsts.all(|page| page.contains("Changed since ") && page.contains(&issued));
    assert!(head, "{words:?}");
    assert!(words[0].contains("No longer: ") && words[0].contains("Pair 10"), "{}", words[0]);
    settle(&mut session, Print::default());
    assert!(!session.sheets().unwrap().is_reissue(), "what was printed last is gone by");
    // What was never printed is not taken for printed, nor for changed.
    let back = Edit::LeftOut { group: "Pair 10".to_owned(), out: false };
    session.apply(Command::Edit(back));
    settle(&mut session, Print::default());
    let sheets = session.sheets().unwrap();
    assert!(sheets.is_reissue());
    assert_eq!(sheets.chosen(&[Part::Labels, Part::Requisition], false).len(), 2);
}

/// The plan that the file had when it was opened may be on paper.
#[test]
fn a_lesson_opened_with_its_plan_is_compared_with_that() {
    let folder = tempfile::tempdir().unwrap();
    let mut first = opened(folder.path());
    settle(&mut first, Print::default());
    first.apply(Command::Save);
    assert!(first.document().is_some_and(|doc| !doc.changed), "{:?}", first.message());
    drop(first);
    let mut session = session(folder.path());
    session.apply(Command::Open(folder.path().join("lesson.ron")));
    settle(&mut session, Print::default());
    let sheets = session.sheets().unwrap();
    assert!(!sheets.is_reissue(), "it is as it was");
    assert_eq!(sheets.chosen(&Part::USUAL, false).len(), 2, "nobody knows whether it was printed");
    let out = Edit::LeftOut { group: "Pair 10".to_owned(), out: true };
    session.apply(Command::Edit(out));
    settle(&mut session, Print::default());
    assert!(session.sheets().unwrap().is_reissue());
}
