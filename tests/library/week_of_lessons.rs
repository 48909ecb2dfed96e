//! A week begun and filled from lessons, and what its lessons need and have on paper
//! together: the sums are those of the lessons one by one, and the user's files stay
//! theirs.

use std::collections::BTreeMap;
use std::fs;

use crate::week::{EIGHT, OTHER, TEN, department, sound, week_of};
use crate::week_at_work::{session, settle, week_command};
use chrono::NaiveDate;
use ovenbell::papers::page::Mark;
use ovenbell::papers::paper::Print;
use ovenbell::papers::pdf::is_ours;
use ovenbell::papers::{LaidSheet, Part, parts_of};
use ovenbell::session::{Command, Session, WeekCommand, WeekSheets};
use ovenbell::speech::English;
use ovenbell::stores::IngredientsPage;
use ovenbell::view::week::technicians_day;
use ovenbell::week::{Change, EntryNo, ToldOf, What};

/// Grams by ingredient, of what is weighed, and pieces of what is counted.
fn amounts(page: &IngredientsPage) -> BTreeMap<String, f64> {
    let rows = page.shelves.iter().flat_map(|(_, rows)| rows);
    rows.map(|row| (row.name.clone(), amount(&row.needed) + amount(&row.spare))).collect()
}

fn amount(text: &str) -> f64 {
    let digits = |c: char| c.is_ascii_digit() || c == '.';
    let number: String = text.chars().take_while(|c| digits(*c)).collect();
    let number: f64 = number.parse().unwrap_or_else(|_| panic!("{text:?} is no amount"));
    if text.trim_start_matches(digits).trim() == "kg" { 1000.0 * number } else { number }
}

fn at_week(folder: &std::path::Path, lessons: &[&str]) -> Session {
    sound(folder, &week_of(lessons));
    let mut session = session(folder);
    session.begin(Some(folder.join("week.ron")), None);
    settle(&mut session);
    session
}

fn words(sheet: &LaidSheet) -> String {
    let marks = sheet.pages.iter().flat_map(|page| &page.pieces).flat_map(|piece| &piece.marks);
    let words = marks.filter_map(|mark| match mark {
        Mark::Words(words) => Some(words.text.as_str()),
        _ => None,
    });
    words.collect::<Vec<_>>().join(" ")
}

#[test]
fn what_a_week_needs_is_the_sum_of_what_its_lessons_need() {
    let folder = department();
    let mut session = at_week(folder.path(), &[TEN, EIGHT, OTHER]);
    assert!(session.week_needs().is_none(), "nobody has asked yet");
    session.want_week_needs(ToldOf::default(), English::British);
    settle(&mut session);
    let needs = session.week_needs().unwrap();
    assert_eq!(needs.lessons.len(), 3);
    let mut sums: BTreeMap<String, f64> = BTreeMap::new();
    for (name, amount) in needs.lessons.iter().flat_map(|(_, page)| amounts(page)) {
        *sums.entry(name).or_default() += amount;
    }
    let all = amounts(&needs.page);
    assert_eq!(all.keys().collect::<Vec<_>>(), sums.keys().collect::<Vec<_>>());
    for (name, sum) in &sums {
        // Kilograms are told to the hundredth.
        assert!((all[name] - sum).abs() <= 0.011 * sum + 0.5, "{name}: {} for {sum}", all[name]);
    }
    // Ten pairs whisk and eight do: 18 halves of the same batch and a spare set each, so
    // more than either.
    let eggs = |page: &IngredientsPage| amount(&page.row("eggs").unwrap().needed);
    let [ten, eight] = [0, 1].map(|entry| {
        let of = needs.lessons.iter().find(|(of, _)| *of == EntryNo(entry)).unwrap();
        eggs(&of.1)
    });
    assert!((ten / eight - 10.0 / 8.0).abs() < 1e-9, "{ten} for ten, {eight} for eight");
    // Of one day only what is taught on it.
    let monday = ToldOf { day: NaiveDate::from_ymd_opt(2026, 11, 30), entry: None };
    session.want_week_needs(monday, English::British);
    settle(&mut session);
    let of_monday = session.week_needs().unwrap();
    assert_eq!(of_monday.lessons.len(), 1);
    assert_eq!(amounts(&of_monday.page), amounts(&of_monday.lessons[0].1));
}

#[test]
fn a_weeks_sheets_are_laid_out_and_printed_for_all_its_lessons() {
    let folder = department();
    let mut session = at_week(folder.path(), &[TEN, EIGHT, OTHER]);
    let want = |session: &mut Session, day: Option<NaiveDate>, parts: &[Part]| {
        let wanted = WeekSheets { of: ToldOf { day, entry: None }, parts: parts.to_vec() };
        session.want_sheets_of_week(wanted, Print::default(), English::British);
        settle(session);
        session.sheets().unwrap().clone()
    };
    let laid = want(&mut session, None, &Part::COMMON);
    assert!(laid.is_of_week && laid.left_out.is_empty(), "{:?}", laid.left_out);
    assert_eq!(laid.head.title, "Week of 30 November 2026");
    let parts: Vec<Part> = laid.sheets.iter().map(|(sheet, _)| sheet.part).collect();
    assert_eq!(parts, Part::COMMON, "one of each for all lessons");
    // What the technician does by when is what the week's own answers say.
    let week = session.week().unwrap();
    let day = technicians_day(week.week(), week.report().unwrap(), thursday());
    let technician = words(&laid.sheets[0].0);
    assert!(!day.duties.is_empty() && technician.contains("Thursday 3 December 2026"));
    for class in ["8A", "9C"] {
        assert!(technician.contains(class), "{class}: {technician}");
    }
    let order = words(&laid.sheets[1].0);
    assert!(order.contains("(8A, 9C)"), "a recipe once, with its classes: {order}");
    assert!(!order.contains("no supplier entered"), "nobody sells anything here: {order}");
    // A lesson's own sheets are each lesson's, in the order of time.
    let laid = want(&mut session, None, &[Part::RunningOrder, Part::OrderList]);
    let parts: Vec<Part> = laid.sheets.iter().map(|(sheet, _)| sheet.part).collect();
    let order = Part::RunningOrder;
    assert_eq!(parts, [order, order, order, Part::OrderList]);
    let laid_twice = want(&mut session, None, &[order, Part::OvenSheet]);
    let pages = parts_of(laid_twice.sheets.iter().map(|(sheet, _)| sheet));
    let all: usize = laid_twice.sheets.iter().map(|(sheet, _)| sheet.pages.len()).sum();
    let parts: Vec<Part> = pages.iter().map(|(part, _)| *part).collect();
    assert_eq!(parts, [order, Part::OvenSheet], "each part once, whoever it is of");
    assert_eq!(pages.iter().map(|(_, pages)| pages).sum::<usize>(), all);
    // Each is known by whose it is.
    assert_eq!(laid_twice.sheets[0].0.title, "9C, Mon 30 Nov 09:00: Running order");
    assert!(words(&laid.sheets[0].0).contains("Monday 30 November 2026"));
    assert!(words(&laid.sheets[1].0).contains("class 8A"));
    let of_day = want(&mut session, Some(thursday()), &[order]);
    assert_eq!(of_day.sheets.len(), 2);
    // What is wanted now is not shown as long as something else is laid out.
    let wanted = |of: ToldOf, parts: &[Part]| WeekSheets { of, parts: parts.to_vec() };
    let all = wanted(ToldOf::default(), &[order]);
    session.want_sheets_of_week(all.clone(), Print::default(), English::British);
    assert!(session.sheets().is_none(), "Thursday's are laid out");
    settle(&mut session);
    session.want_sheets_of_week(all, Print::default(), English::British);
    assert_eq!(session.sheets().unwrap().sheets.len(), 3);
    // Nor is what was wanted in between taken for what was wanted before and is again.
    let all = wanted(ToldOf::default(), &[order]);
    let one_day = wanted(ToldOf { day: Some(thursday()), entry: None }, &[order]);
    for of in [&one_day, &all] {
        session.want_sheets_of_week(of.clone(), Print::default(), English::British);
    }
    settle(&mut session);
    session.want_sheets_of_week(all, Print::default(), English::British);
    assert_eq!(session.sheets().unwrap().sheets.len(), 3);
    // One lesson by itself, with what the technician does for it alone.
    let of = ToldOf { day: Some(thursday()), entry: Some(EntryNo(1)) };
    let parts = vec![order, Part::TechniciansDay];
    let wanted = WeekSheets { of, parts };
    session.want_sheets_of_week(wanted, Print::default(), English::British);
    settle(&mut session);
    let alone = session.sheets().unwrap();
    assert_eq!(alone.sheets.len(), 2);
    assert!(words(&alone.sheets[0].0).contains("class 9C"));
    assert!(alone.head.title.starts_with("9C "), "{:?}", alone.head);
    // Printed to a file of its own, never to the week's.
    let week = folder.path().join("week.ron");
    let before = fs::read_to_string(&week).unwrap();
    session.apply(Command::PrintSheets(week.clone(), vec![order], false));
    assert!(session.message().unwrap().contains("the week's own file"), "{:?}", session.message());
    assert_eq!(fs::read_to_string(&week).unwrap(), before);
    let to = folder.path().join("orders.pdf");
    session.apply(Command::PrintSheets(to.clone(), vec![order], false));
    assert!(is_ours(&fs::read(&to).unwrap()), "{:?}", session.message());
    // What is laid out of the week is nothing of a lesson's.
    week_command(&mut session, WeekCommand::OpenLesson(EntryNo(0)));
    assert!(session.sheets().is_none());
    session.want_sheets(Print::default(), English::British);
    settle(&mut session);
    assert!(!session.sheets().unwrap().is_of_week);
    week_command(&mut session, WeekCommand::Show);
    assert!(session.sheets().is_none());
    assert_eq!(want(&mut session, None, &Part::COMMON).sheets.len(), 2);
}

fn thursday() -> NaiveDate {
    NaiveDate::from_ymd_opt(2026, 12, 3).unwrap()
}

#[test]
fn a_week_is_begun_filled_emptied_and_followed_by_the_next() {
    let folder = department();
    let mut session = session(folder.path());
    session.begin(Some(folder.path().join("ten.ron")), None);
    settle(&mut session);
    let lesson = session.document().unwrap().file().clone();
    let path = folder.path().join("autumn.ron");
    week_command(&mut session, WeekCommand::Begin(folder.path().join("autumn")));
    let week = session.week_on_screen().unwrap_or_else(|| panic!("{:?}", session.message()));
    assert_eq!((week.path(), week.findings()), (&*path, [].as_slice()));
    // It has the bells, the room and the file of the lesson that was on screen.
    let entry = &week.week().entries[0];
    assert_eq!(entry.slot.start().to_string(), lesson.period.start);
    assert_eq!(entry.slot.end().to_string(), lesson.period.end);
    let [room] = &*week.week().rooms else { panic!("{:?}", week.week().rooms) };
    assert_eq!(
        (&*room.name, &room.ovens, &room.kit),
        ("Room 1", &lesson.room.ovens, &lesson.room.kit)
    );
    assert!(week.text().contains("(file: \"ten.ron\""), "{}", week.text());
    assert!(week.report().unwrap().lessons[0].is_well(week.week()));
    // A lesson more, as one step of undo; one in the same room at the same time is told.
    let read = || fs::read_to_string(folder.path().join("scones.ron")).unwrap();
    let scones = read();
    week_command(&mut session, WeekCommand::Add(vec![folder.path().join("scones.ron")]));
    let week = session.week().unwrap();
    assert_eq!(week.week().entries.len(), 2, "{:?}", session.message());
    assert_eq!(week.can_undo(), Some("scones.ron is put in"));
    let told = session.message().unwrap();
    assert!(told.contains("Put in: ") && told.contains(", Monday "), "{told}");
    assert!(told.contains("Its file was given an id"), "{told}");
    // It was given an id to be found by, and is as it was for the rest.
    let id = |line: &&str| !line.trim_start().starts_with("id:");
    let after = read();
    assert_eq!(after.lines().filter(id).collect::<Vec<_>>(), scones.lines().collect::<Vec<_>>());
    let added = week.week().entries[1].lesson().unwrap();
    assert!(added.id.is_some() && after.contains(added.id.as_deref().unwrap()));
    session.apply(Command::Undo);
    settle(&mut session);
    assert_eq!(session.week().unwrap().week().entries.len(), 1);
    session.apply(Command::Redo);
    settle(&mut session);
    session.apply(Command::Save);
    assert!(!session.week_changed());
    // The week after has the same lessons a week later.
    let next = session.likely_week(true, None);
    week_command(&mut session, WeekCommand::BeginAfter(next.clone()));
    let week = session.week_on_screen().unwrap();
    assert_eq!(week.path(), next);
    let all = |week: &ovenbell::week::Week| {
        let all = week.entries.iter().map(|e| (e.title().to_owned(), e.slot.date));
        all.collect::<Vec<_>>()
    };
    let later = all(week.week());
    session.begin(Some(path.clone()), None);
    settle(&mut session);
    let first = all(session.week().unwrap().week());
    let days = |(title, date): &(String, NaiveDate)| (title.clone(), *date + chrono::Days::new(7));
    assert_eq!(first.iter().map(days).collect::<Vec<_>>(), later);
    // Opened from there, a lesson is of that entry as long as the entries are the same: one
    // that goes before it makes it another's number.
    week_command(&mut session, WeekCommand::OpenLesson(EntryNo(1)));
    assert!(session.from_week().is_some());
    week_command(&mut session, WeekCommand::Show);
    // Taken out again: the lesson's file stays.
    week_command(&mut session, WeekCommand::Make(Change::Remove(EntryNo(0))));
    let week = session.week().unwrap();
    assert_eq!(week.week().entries.len(), 1);
    assert!(matches!(&week.week().entries[0].what, What::Lesson(of) if of.file == "scones.ron"));
    assert!(folder.path().join("ten.ron").exists());
    week_command(&mut session, WeekCommand::Leave);
    assert_eq!(session.from_week(), None);
}

#[test]
fn what_is_no_lesson_is_not_put_in_and_no_file_is_written_over() {
    let folder = department();
    let mut session = at_week(folder.path(), &[TEN]);
    let before = session.week().unwrap().text().to_owned();
    fs::write(folder.path().join("odd.ron"), "(format: 2, title: ").unwrap();
    let wrong = ["odd.ron", "not-there.ron"].map(|name| folder.path().join(name));
    week_command(&mut session, WeekCommand::Add(wrong.to_vec()));
    // Of each it is told.
    let told = session.message().unwrap();
    assert!(told.contains("odd.ron") && told.contains("not-there.ron"), "{told}");
    assert_eq!(session.week().unwrap().text(), before);
    // One that clashes where it has to be is put in and that is told.
    let eight = folder.path().join("eight.ron");
    let dated = fs::read_to_string(&eight).unwrap();
    let dated = dated.replacen("format: 2,", "format: 2, date: \"2026-12-03\",", 1);
    let dated = dated.replacen("start: \"10:00\",", "start: \"11:20\",", 1);
    let dated = dated.replacen("end: \"11:00\",", "end: \"12:20\",", 1);
    let dated = dated.replacen("room: (", "room: (name: \"Room 1\",", 1);
    fs::write(&eight, dated).unwrap();
    week_command(&mut session, WeekCommand::Add(vec![eight.clone()]));
    let told = session.message().unwrap();
    assert!(told.contains("Thursday P3, Room 1") && told.contains("twice"), "{told}");
    let eight = fs::read_to_string(folder.path().join("eight.ron")).unwrap();
    for command in [WeekCommand::Begin, WeekCommand::BeginAfter] {
        week_command(&mut session, command(folder.path().join("eight.ron")));
        assert!(session.message().unwrap().contains("already"), "{:?}", session.message());
        assert_eq!(fs::read_to_string(folder.path().join("eight.ron")).unwrap(), eight);
    }
    session.apply(Command::Save);
    assert!(!session.week_changed());
    // Lessons are found from the week's own folder.
    let away = tempfile::tempdir().unwrap();
    week_command(&mut session, WeekCommand::BeginAfter(away.path().join("next.ron")));
    assert!(session.message().unwrap().contains("its own folder"), "{:?}", session.message());
    assert!(!away.path().join("next.ron").exists());
    // The file of another week is opened, not put in.
    let other = folder.path().join("other.ron");
    fs::write(&other, week_of(&[EIGHT])).unwrap();
    week_command(&mut session, WeekCommand::Add(vec![other.clone()]));
    assert_eq!(session.week().unwrap().path(), other);
}
