//! A week shown and changed: its picture says what the answers for programs say, what
//! is told on the way ends in the same, and a change that is kept is in the file as it
//! was tried, comments and all; nothing of a user's files is written over.

use std::fs;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use crate::week::{EIGHT, FEW, OTHER, TEN, day, department, sound, told, week_of};
use ovenbell::export::week::json;
use ovenbell::file::{RealDisk, merged_week, read_week};
use ovenbell::session::{
    Clock, Command, Event, Leaving, Loses, Session, SessionStart, Unsaved, WeekCommand,
};
use ovenbell::units::ClockTime;
use ovenbell::view::week::{Item, TroubleId, WeekBoard};
use ovenbell::week::{
    Asked, Change, EntryNo, Lent, Memory, Move, NotInTheFile, Out, Place, Planner, Report, RoomNo,
    Slot, Span, Stage, Week, out_of_order, report_as_it_comes, understood,
};
use serde_json::Value;

static GO_ON: AtomicBool = AtomicBool::new(false);

/// "11:36 to 11:42: 18", as the answers for programs have it.
fn spans(of: &Value) -> Vec<String> {
    let text = |v: &Value| v.as_str().unwrap().to_owned();
    let span =
        |s: &Value| format!("{} to {}: {}", text(&s["from"]), text(&s["until"]), s["wanted"]);
    of["spans"].as_array().unwrap().iter().map(span).collect()
}

fn of_span(span: &Span) -> String {
    format!("{} to {}: {}", span.from_clock(), span.until_clock(), span.count)
}

/// Adds up stretches minute by minute.
fn added(all: &[&Span]) -> Vec<(i32, u32)> {
    let minutes = (0..1440).map(|minute| {
        let on = all.iter().filter(|s| s.from.get() <= minute && minute < s.until.get());
        (minute, on.map(|s| s.count).sum::<u32>())
    });
    minutes.filter(|(_, count)| *count > 0).collect()
}

#[test]
fn the_picture_says_what_the_answers_for_programs_say() {
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let report = told(&week);
    let board = WeekBoard::of(&week, Some(&report));
    let said: Value = serde_json::from_str(&json(&week, &report, Vec::new()).unwrap()).unwrap();
    let mut looked = 0;
    for of in said["contention"].as_array().unwrap() {
        let (name, date) = (of["what"].as_str().unwrap(), of["date"].as_str().unwrap());
        let d = board.days.iter().position(|c| c.date.to_string() == date).unwrap();
        if let Some(ribbon) = board.ribbons.iter().find(|r| r.name == name) {
            let shown: Vec<String> = ribbon.days[d].wanted.iter().map(of_span).collect();
            assert_eq!(shown, spans(of));
            assert_eq!(ribbon.days[d].there, of["there"]);
            looked += 1;
        } else {
            // Ovens: each lesson's own, added up.
            let row = board.rooms.iter().find(|r| format!("{}/ovens", r.name) == name).unwrap();
            let ovens: Vec<&Span> = row.days[d].bars.iter().flat_map(|b| &b.ovens).collect();
            let minutes = added(&ovens);
            let all: u64 = of["spans"]
                .as_array()
                .unwrap()
                .iter()
                .map(|s| {
                    let clock = |v: &Value| ClockTime::parse(v.as_str().unwrap()).unwrap();
                    let long = clock(&s["until"]).minutes_since(clock(&s["from"])).get();
                    s["wanted"].as_u64().unwrap() * u64::try_from(long).unwrap()
                })
                .sum();
            assert_eq!(minutes.iter().map(|(_, n)| u64::from(*n)).sum::<u64>(), all, "{name}");
            assert_eq!(row.days[d].there.map(u64::from), of["there"].as_u64());
            looked += 1;
        }
    }
    assert!(looked >= 4, "{looked}");
    let over: Vec<_> = board.ribbons.iter().flat_map(|r| &r.days).flat_map(|d| &d.over).collect();
    let [clash] = said["troubles"].as_array().unwrap().as_slice() else { panic!("{said}") };
    let [(id, span)] = over.as_slice() else { panic!("{over:?}") };
    assert_eq!(
        (clash["wanted"].as_u64(), clash["there"].as_u64()),
        (Some(span.count.into()), Some(10))
    );
    assert_eq!(clash["from"], span.from_clock().to_string());
    let in_it = Item::Trouble(*id).entries(Some(&report));
    let terms = clash["terms"].as_array().unwrap().iter();
    assert_eq!(
        in_it.iter().map(|e| e.0 as u64 + 1).collect::<Vec<_>>(),
        terms.map(|t| t["entry"].as_u64().unwrap()).collect::<Vec<_>>()
    );
    // Every lesson is on it, with the verdict that is told.
    for lesson in said["lessons"].as_array().unwrap() {
        let entry = EntryNo(usize::try_from(lesson["entry"].as_u64().unwrap()).unwrap() - 1);
        let (_, bar) = board.bar(entry).unwrap();
        let words = &bar.spoken;
        assert!(words.contains(lesson["class"].as_str().unwrap()), "{words}");
        assert!(words.contains(&format!("all {} groups out", lesson["of"])), "{words}");
    }
}

/// What nobody is there for stands on the picture, before the bell by which it is wanted.
#[test]
fn setting_out_on_a_day_without_the_technician_is_on_the_picture() {
    let folder = department();
    let text = week_of(&[TEN, OTHER]);
    for name in ["ten.ron", "scones.ron"] {
        let path = folder.path().join(name);
        let lesson = fs::read_to_string(&path).unwrap();
        let weighed =
            lesson.replacen("    groups: [", "    beforehand: [\"weigh\"],\n    groups: [", 1);
        assert_ne!(lesson, weighed);
        fs::write(&path, weighed).unwrap();
    }
    let hours = "adults: [(name: \"technician\", hours: [(on: Mon, from: \"07:00\", until: \"13:00\")])],\n    lessons:";
    let week = sound(folder.path(), &text.replacen("lessons:", hours, 1));
    let report = told(&week);
    let board = WeekBoard::of(&week, Some(&report));
    let ribbon = board.ribbons.iter().find(|r| r.name == "technician").unwrap();
    let of = |date: &str| {
        let at = board.days.iter().position(|c| c.date == day(&week, date)).unwrap();
        (&board.days[at], &ribbon.days[at])
    };
    let (_, monday) = of("mon");
    assert!(monday.over.is_empty() && !monday.setting_out.is_empty(), "{monday:?}");
    let (column, thursday) = of("thu");
    let [(_, span)] = thursday.over.as_slice() else { panic!("{thursday:?}") };
    let setup = report.setting_up.iter().find(|s| s.date == day(&week, "thu")).unwrap();
    assert_eq!(setup.lacks(), (span.until - span.from).get());
    assert!(span.count > thursday.there && column.from <= span.from, "{span:?}");
    assert_eq!(span.until_clock().to_string(), "11:20");
    // The same where nobody sets out on any other day.
    let alone = week_of(&[TEN]).replacen("lessons:", hours, 1);
    let week = sound(folder.path(), &alone);
    let board = WeekBoard::of(&week, Some(&told(&week)));
    assert!(board.ribbons.iter().any(|r| r.name == "technician"), "{:?}", board.ribbons);
}

#[test]
fn arrows_reach_everything_and_stay_on_the_picture() {
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let report = told(&week);
    let board = WeekBoard::of(&week, Some(&report));
    let rows = board.items(None);
    let first = rows[0][0];
    assert_eq!(first, Item::Room(RoomNo(0)));
    let mut reached = vec![first];
    let mut from = 0;
    while from < reached.len() {
        for way in [(1, 0), (-1, 0), (0, 1), (0, -1)] {
            let next = board.beside(reached[from], None, way);
            assert!(rows.iter().any(|row| row.contains(&next)), "{next:?}");
            if !reached.contains(&next) {
                reached.push(next);
            }
        }
        from += 1;
    }
    assert_eq!(reached.len(), rows.iter().map(Vec::len).sum::<usize>(), "{rows:?}");
    // From the clash up to a lesson that is in it.
    let clash = *rows.last().unwrap().first().unwrap();
    let up = board.beside(clash, None, (0, -1));
    assert_eq!(up, Item::Entry(EntryNo(1)));
    let monday = board.items(Some(day(&week, "mon")));
    assert!(!monday.iter().flatten().any(|item| *item == clash), "{monday:?}");
}

#[test]
fn what_is_told_on_the_way_ends_in_the_same() {
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let memory = Memory::default();
    let asked = Asked { day: None, moves: true };
    let all: Mutex<Vec<Report>> = Mutex::default();
    let planner = Planner::new(&[], FEW, &GO_ON).remembering(&memory);
    let last = report_as_it_comes(&week, &planner, asked, &|report| {
        all.lock().unwrap().push(report.clone());
    });
    let all = all.into_inner().unwrap();
    assert!(all.windows(2).all(|two| two[0].stage <= two[1].stage));
    let planned = |r: &Report| r.lessons.iter().filter(|t| t.alone.is_some()).count();
    assert_eq!(planned(&all[0]), 1, "the first lesson is told by itself");
    assert!(!all[0].contention.is_empty());
    let words = |r: &Report| json(&week, r, Vec::new()).unwrap();
    assert_eq!(words(all.last().unwrap()), words(&last));
    assert_eq!(words(&last), words(&told(&week)));
    assert_eq!(last.stage, Stage::Whole);
    // A lesson that is known is not planned again: with no time at all it is there.
    let no_time = AtomicBool::new(true);
    let planner = Planner::new(&[], FEW, &no_time).remembering(&memory);
    let again = report_as_it_comes(&week, &planner, Asked::default(), &|_| {});
    assert_eq!(planned(&again), 3);
    let unknown = Planner::new(&[], FEW, &no_time);
    let nothing = report_as_it_comes(&week, &unknown, Asked::default(), &|_| {});
    assert!(planned(&nothing) < 3 || !nothing.whole);
}

/// The week of a text with a change written into it.
fn kept(folder: &Path, text: &str, change: &Change) -> (String, Week) {
    let week = sound(folder, text);
    let file = change.written(&read_week(text).unwrap().file, &week).unwrap();
    let merged = merged_week(text, &file).unwrap();
    let loaded = understood(&read_week(&merged).unwrap(), folder, &[]).unwrap();
    (merged, loaded.week)
}

#[test]
fn a_change_that_is_kept_is_in_the_file_as_it_was_tried() {
    let folder = department();
    let commented = |line: &str| format!("// Of the autumn.\n        {line} // since October");
    let out = r#"out: [(what: "Room 2/Oven 4", from: Tue)],"#;
    let text =
        week_of(&[&commented(TEN), EIGHT, OTHER]).replace("moves:", &format!("{out}\n    moves:"));
    let week = sound(folder.path(), &text);
    let slot = Slot { rooms: vec![RoomNo(0)], ..week.entries[2].slot.clone() };
    let there = out_of_order(&week, "Room 1/Oven 4=mon..wed").unwrap();
    let changes = [
        Change::Move(Move::Swap(EntryNo(1), EntryNo(2))),
        Change::Move(Move::Elsewhere(EntryNo(1), slot)),
        Change::Move(Move::ChangePlaces(EntryNo(0), EntryNo(2))),
        Change::Out(there),
        Change::Works(week.out[0].clone()),
        Change::Hold(EntryNo(0), true),
    ];
    for change in changes {
        let (merged, written) = kept(folder.path(), &text, &change);
        assert_eq!(written, change.made(&week).unwrap(), "{change:?}: {merged}");
        assert!(
            merged.contains("// Of the autumn.") && merged.contains("// since October"),
            "{merged}"
        );
        let same = text.lines().filter(|line| merged.lines().any(|l| l == *line)).count();
        assert!(same + 3 >= text.lines().count(), "{change:?} rewrites too much: {merged}");
    }
    // What has no place in the file is refused, and so is what is not there.
    let file = read_week(&text).unwrap().file;
    let lent = Lent { moving: 0, by: RoomNo(0), count: 1, on: week.days[0].date };
    let loan = Change::Move(Move::Lend(lent)).written(&file, &week);
    assert_eq!(loan.unwrap_err(), NotInTheFile::Loan);
    let never = Out { what: Place::Moving(0), ..week.out[0].clone() };
    assert_eq!(Change::Works(never).written(&file, &week).unwrap_err(), NotInTheFile::Gone);
    // Where the class stands in the lesson's file alone, a swap does not take it away.
    let unnamed = week_of(&[
        TEN,
        &EIGHT.replace(r#"class: "9C", "#, ""),
        &OTHER.replace(r#"class: "9C", "#, ""),
    ]);
    let (merged, written) =
        kept(folder.path(), &unnamed, &Change::Move(Move::Swap(EntryNo(1), EntryNo(2))));
    let before = sound(folder.path(), &unnamed);
    let classes = |w: &Week| w.entries.iter().map(|e| e.class.clone()).collect::<Vec<_>>();
    assert_eq!(classes(&written), classes(&before), "{merged}");
}

pub(crate) fn session(folder: &Path) -> Session {
    Session::new(SessionStart {
        wake: Arc::new(|| {}),
        disk: Arc::new(RealDisk),
        clock: Clock::default(),
        outcomes: None,
        data: Some(folder.join("data")),
        documents: Some(folder.to_owned()),
        runs: None,
        decodings: Some(FEW),
    })
}

pub(crate) fn settle(session: &mut Session) {
    let begun = Instant::now();
    session.listen(None);
    while session.is_busy() {
        assert!(begun.elapsed() < Duration::from_secs(120), "no answer comes");
        std::thread::sleep(Duration::from_millis(5));
        session.listen(None);
    }
}

pub(crate) fn week_command(session: &mut Session, command: WeekCommand) {
    session.apply(Command::Week(command));
    settle(session);
}

/// What does not go well in the week that is open.
fn troubles(session: &Session) -> Vec<TroubleId> {
    let report = session.week().unwrap().report().unwrap();
    report.moves.iter().map(|moves| TroubleId::of(&moves.trouble)).collect()
}

#[test]
fn a_week_is_opened_tried_kept_undone_and_saved_without_a_loss() {
    let folder = department();
    let text = week_of(&[TEN, EIGHT, OTHER]);
    let week = sound(folder.path(), &text);
    let path = folder.path().join("week.ron");
    let mut session = session(folder.path());
    session.begin(Some(path.clone()), None);
    assert!(session.events().contains(&Event::FileUsed(path.clone())));
    assert!(session.week_on_screen().is_some() && session.document().is_none());
    settle(&mut session);
    let [clash] = troubles(&session)[..] else { panic!("{:?}", troubles(&session)) };
    let report = Arc::clone(session.week().unwrap().report().unwrap());
    let offered = report.moves[0].offers[0].what.clone();
    // Tried, nothing is changed; kept, one step of undo.
    week_command(&mut session, WeekCommand::Try(Change::Move(offered.clone())));
    let tried = session.week().unwrap().tried().unwrap();
    assert!(tried.report.as_ref().unwrap().moves.is_empty(), "{:?}", tried.report);
    assert!(!session.week().unwrap().changed() && troubles(&session) == [clash]);
    session.apply(Command::Keep);
    settle(&mut session);
    assert_eq!(**session.week().unwrap().week(), offered.made(&week).unwrap());
    assert_eq!(troubles(&session), []);
    assert_eq!(fs::read_to_string(&path).unwrap(), text, "written without being saved");
    session.apply(Command::Undo);
    settle(&mut session);
    assert_eq!(session.week().unwrap().text(), text);
    assert_eq!(troubles(&session), [clash]);
    session.apply(Command::Redo);
    settle(&mut session);
    // Another week is not opened over it without a question.
    session.apply(Command::Open(path.clone()));
    assert_eq!(session.leaving(), Some(&Leaving::Open(path.clone())));
    assert_eq!(session.loses(), Loses::Week);
    session.answer_leaving(Unsaved::Stay);
    assert!(!session.may_close());
    session.answer_leaving(Unsaved::Stay);
    // What another program wrote is not written over.
    fs::write(&path, format!("{text}// theirs")).unwrap();
    session.apply(Command::Save);
    assert!(session.message().unwrap().contains("another program"), "{:?}", session.message());
    assert_eq!(fs::read_to_string(&path).unwrap(), format!("{text}// theirs"));
    let other = folder.path().join("other.ron");
    session.apply(Command::SaveAs(folder.path().join("ten.ron")));
    assert!(session.message().unwrap().contains("already"), "{:?}", session.message());
    session.apply(Command::SaveAs(std::env::temp_dir().join("elsewhere.ron")));
    assert!(session.message().unwrap().contains("own folder"), "{:?}", session.message());
    session.apply(Command::SaveAs(other.clone()));
    assert_eq!(fs::read_to_string(&other).unwrap(), session.week().unwrap().text());
    assert!(!session.week().unwrap().changed() && session.may_close());
    // From here on it is this file's own, and what it said is kept beside it.
    week_command(&mut session, WeekCommand::Make(Change::Hold(EntryNo(0), true)));
    session.apply(Command::Save);
    assert!(fs::read_to_string(&other).unwrap().contains("held: true"));
    assert!(other.with_extension("ron.bak").exists());
}

#[test]
fn what_was_not_saved_of_a_week_is_there_again_after_a_kill() {
    let folder = department();
    let text = week_of(&[TEN, EIGHT, OTHER]);
    sound(folder.path(), &text);
    let path = folder.path().join("week.ron");
    let copy = folder.path().join(".week.ron.unsaved");
    let open = || {
        let mut session = session(folder.path());
        session.begin(Some(path.clone()), None);
        session
    };
    let hold = WeekCommand::Make(Change::Hold(EntryNo(0), true));
    let mut first = open();
    first.apply(Command::Week(hold.clone()));
    let changed = first.week().unwrap().text().to_owned();
    assert_eq!(fs::read_to_string(&copy).unwrap(), changed);
    // Another window neither takes them for its own nor writes over them.
    let mut second = open();
    assert_eq!(second.week().unwrap().text(), text);
    assert!(second.message().unwrap().contains("not kept"), "{:?}", second.message());
    second.apply(Command::Week(WeekCommand::Make(Change::Hold(EntryNo(1), true))));
    assert_eq!(fs::read_to_string(&copy).unwrap(), changed);
    drop(second);
    drop(first);
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
    // As after a kill: there again, one step of undo, and gone once that is taken back.
    let mut again = open();
    assert_eq!(again.week().unwrap().text(), changed);
    assert!(again.message().unwrap().contains("were not saved"), "{:?}", again.message());
    assert!(again.week_changed());
    again.apply(Command::Undo);
    assert_eq!(again.week().unwrap().text(), text);
    assert!(!copy.exists());
    again.apply(Command::Redo);
    assert!(copy.exists());
    again.apply(Command::Save);
    assert!(!copy.exists() && !again.week_changed());
    assert_eq!(fs::read_to_string(&path).unwrap(), changed);
    // What is no copy is told, and left alone.
    drop(again);
    fs::write(&copy, "(format: 1, week: ").unwrap();
    let mut odd = open();
    assert!(odd.message().unwrap().contains("cannot be read"), "{:?}", odd.message());
    odd.apply(Command::Week(WeekCommand::Make(Change::Hold(EntryNo(0), false))));
    assert_eq!(fs::read_to_string(&copy).unwrap(), "(format: 1, week: ");
}

#[test]
fn a_lesson_is_opened_from_its_week_and_takes_over_what_the_week_has() {
    let folder = department();
    let again = TEN.replace("8A", "9C").replace("Thu, at: \"P3\"", "Mon, at: \"P2\"");
    sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER, &again]));
    let ten = folder.path().join("ten.ron");
    let before = fs::read_to_string(&ten).unwrap();
    let mut session = session(folder.path());
    session.begin(Some(folder.path().join("week.ron")), None);
    settle(&mut session);
    week_command(&mut session, WeekCommand::OpenLesson(EntryNo(0)));
    assert!(session.week_on_screen().is_none() && session.week().is_some());
    assert_eq!(session.document().unwrap().path.as_deref(), Some(&*ten));
    let from = session.from_week().unwrap();
    assert!(from.contains("Thursday P3, Room 1, 11:20 to 12:20"), "{from}");
    assert!(session.message().unwrap().contains("From the week"), "{:?}", session.message());
    // Its own file is as it was, and planned as it is, until that is asked for.
    assert!(!session.document().unwrap().changed);
    week_command(&mut session, WeekCommand::TakeOver);
    let file = session.document().unwrap().file().clone();
    assert_eq!((file.period.start.as_str(), file.room.name.as_str()), ("11:20", "Room 1"));
    assert_eq!(session.document().unwrap().can_undo(), Some("what the week has"));
    // Who else is taught from it is told: another class on another day.
    let told = session.message().unwrap().to_owned();
    assert!(told.contains("9C Monday P2, Room 1"), "{told}");
    assert_eq!(fs::read_to_string(&ten).unwrap(), before);
    session.apply(Command::Undo);
    assert_ne!(session.document().unwrap().file().period.start, "11:20");
    // What is changed in a lesson's file is seen in the week; what is done to a week
    // that is shown changes no lesson.
    session.apply(Command::Redo);
    session.apply(Command::Save);
    settle(&mut session);
    let was = session.week().unwrap().week().clone();
    week_command(&mut session, WeekCommand::Show);
    assert!(session.week_on_screen().is_some());
    assert_ne!(*was, **session.week().unwrap().week());
    session.apply(Command::Undo);
    session.apply(Command::ToggleOdds);
    assert_eq!(session.document().unwrap().file(), &file);
    assert!(!session.shows_odds());
    week_command(&mut session, WeekCommand::Leave);
    assert!(session.week_on_screen().is_none());
}

#[test]
fn a_week_that_is_none_is_told_with_its_lines_and_one_that_is_partly_wrong_is_shown() {
    let folder = department();
    let path = folder.path().join("week.ron");
    let mut session = session(folder.path());
    fs::write(&path, week_of(&[TEN]).replace("2026-11-30", "2026-12-01")).unwrap();
    session.begin(Some(path.clone()), None);
    let broken = session.broken().unwrap();
    assert_eq!(broken.findings[0].code, "date");
    assert_eq!(broken.findings[0].place.unwrap().line, 3);
    assert!(session.week().is_none());
    fs::write(&path, week_of(&[TEN, &EIGHT.replace("eight.ron", "nine.ron")])).unwrap();
    session.apply(Command::Open(path));
    settle(&mut session);
    let week = session.week_on_screen().unwrap();
    assert_eq!(week.findings()[0].code, "pointer");
    assert_eq!(week.report().unwrap().stage, Stage::Whole);
    let board = WeekBoard::of(week.week(), week.report().map(|report| &**report));
    let (_, bar) = board.bar(EntryNo(1)).unwrap();
    assert!(bar.spoken.contains("cannot be planned"), "{}", bar.spoken);
}
