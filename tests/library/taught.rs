//! A lesson while it is taught, without a window: what is told is written at once, what
//! has begun stays, and what can be done is kept apart until it is kept.

use crate::common::how_many::FEW_PLANS;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};
use std::time::{Duration, Instant};

use chrono::NaiveDate;
use ovenbell::check::{CheckedPlan, check};
use ovenbell::edit::{Edit, FileChange};
use ovenbell::file::outcomes::load_outcomes;
use ovenbell::file::past_minutes::{load_minutes, note_minutes};
use ovenbell::file::{RealDisk, load_lesson};
use ovenbell::finding::Path as Field;
use ovenbell::model::{
    FactKind, GroupId, Lesson, LessonPart, PastMinutes, PeriodId, Phase, StepKind,
};
use ovenbell::play::groups_to_give;
use ovenbell::session::{Answer, Clock, Command, Event, Session, SessionStart, Thrown};
use ovenbell::today::Happening;
use ovenbell::units::{ClockTime, ExactMinutes, Minute, Minutes};

const DAY: &str = "2026-11-26";

fn session(data: &Path) -> Session {
    Session::new(SessionStart {
        wake: Arc::new(|| {}),
        disk: Arc::new(RealDisk),
        clock: Clock { day: DAY.parse().ok(), time: ClockTime::parse("09:00").ok(), ahead: 0 },
        outcomes: Some(data.join("outcomes.csv")),
        data: Some(data.to_owned()),
        documents: Some(data.to_owned()),
        runs: Some(200),
        decodings: Some(FEW_PLANS),
    })
}

fn settle(session: &mut Session) {
    let begun = Instant::now();
    session.listen(None);
    while session.is_busy() {
        assert!(begun.elapsed() < Duration::from_secs(120), "no plan comes");
        std::thread::sleep(Duration::from_millis(5));
        session.listen(None);
    }
    session.listen(None);
}

/// The sample lesson with the plan that was found of it, as it is saved.
fn saved() -> &'static [u8] {
    static SAVED: OnceLock<Vec<u8>> = OnceLock::new();
    SAVED.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap();
        let lesson = folder.path().join("demo.ron");
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
        std::fs::copy(from, &lesson).unwrap();
        let mut session = session(folder.path());
        session.begin(Some(lesson.clone()), None);
        settle(&mut session);
        session.apply(Command::Save);
        std::fs::read(lesson).unwrap()
    })
}

/// The day of the sample lesson, before its bell, and where its copy is to be.
fn day(folder: &Path) -> (Session, PathBuf) {
    let lesson = folder.join("demo.ron");
    std::fs::write(&lesson, saved()).unwrap();
    let mut session = session(folder);
    session.begin(Some(lesson), None);
    settle(&mut session);
    session.apply(Command::Today);
    settle(&mut session);
    assert!(session.is_today());
    assert!(session.events().contains(&Event::ShowDay));
    (session, folder.join(format!("demo {DAY}.ron")))
}

fn plan(session: &Session) -> (Arc<Lesson>, Arc<CheckedPlan>) {
    let planned = session.planned().unwrap();
    (Arc::clone(&planned.lesson), Arc::clone(&planned.plan))
}

fn at(session: &mut Session, minute: Minute) {
    let (lesson, _) = plan(session);
    let time = lesson.periods[0].start_clock.after(minute - Minute::BELL);
    session.go_by(Clock { time: Some(time), ..*session.clock() });
    session.listen(None);
}

fn tell(session: &mut Session, group: GroupId, what: FactKind) {
    let name = session.planned().unwrap().lesson.group(group).name.clone();
    session.apply(Command::Tell(vec![name], what));
    session.listen(None);
}

/// When everything that has begun by a minute began, by names; where tins stand.
fn begun((lesson, plan): (&Lesson, &CheckedPlan), by: Minute) -> BTreeMap<String, i32> {
    let mut all = BTreeMap::new();
    for step in plan.plan().steps.iter().filter(|s| Minute::BELL <= s.start && s.start < by) {
        let choice = plan.plan().choice(step.group).unwrap();
        let method = lesson.method_of(step.group, choice.method);
        let name = &lesson.group(step.group).name;
        all.insert(format!("{name} {}", method.steps[step.step.0].name), step.start.get());
    }
    for load in plan.plan().loads.iter().filter(|l| l.start < by) {
        let name = &lesson.group(load.group).name;
        let oven = &lesson.ovens[load.oven.0].name;
        all.insert(format!("{name} {} {oven} {:?}", load.number, load.shelf), load.start.get());
    }
    all
}

/// The group with the least to give, by how much more it is late, and from when on.
fn one_too_late(session: &Session) -> (GroupId, Minutes, Minute) {
    let (lesson, plan) = plan(session);
    let to_give = groups_to_give(&lesson, &plan);
    let (group, give) = to_give.into_iter().min_by_key(|(_, give)| *give).unwrap();
    let steps = plan.plan().steps.iter().filter(|s| s.group == group);
    let first = steps.map(|s| s.start).filter(|s| Minute::BELL <= *s).min().unwrap();
    (group, Minutes::new(give + 1), first)
}

#[test]
fn what_is_told_is_in_the_file_at_once_and_there_after_a_restart() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, copy) = day(folder.path());
    let (_, before) = plan(&session);
    at(&mut session, Minute::new(20));
    tell(&mut session, GroupId(2), FactKind::Go);
    tell(&mut session, GroupId(2), FactKind::Late(Minutes::new(2)));
    let told = |path: &Path| -> Vec<FactKind> {
        let today = load_lesson(path).unwrap().lesson.today.clone().unwrap();
        today.facts.iter().map(|f| f.what).collect()
    };
    // Nothing has been waited for.
    assert_eq!(told(&copy), [FactKind::Go, FactKind::Late(Minutes::new(2))]);
    assert!(load_lesson(&copy).unwrap().told.is_some(), "with the plan that was told");
    assert!(Arc::ptr_eq(&plan(&session).1, &before) || *plan(&session).1.plan() == *before.plan());
    assert!(!session.document().unwrap().changed);
    drop(session);

    let mut again = self::session(folder.path());
    again.begin(Some(copy.clone()), None);
    settle(&mut again);
    at(&mut again, Minute::new(21));
    let now = again.standing_now().unwrap();
    let stands = now.standing.groups.iter().find(|g| g.group == GroupId(2)).unwrap();
    assert_eq!((stands.behind, stands.far), (2, Some(FactKind::Go)));
    assert_eq!(*plan(&again).1.plan(), *before.plan());
    assert_eq!(again.told_last().unwrap(), "Unit 3: late 2");
    again.apply(Command::TakeBack);
    assert_eq!(told(&copy), [FactKind::Go]);
    again.apply(Command::Undo);
    settle(&mut again);
    assert_eq!(told(&copy).len(), 2, "taking back is taken back, and written");
}

#[test]
fn on_another_day_nothing_is_told_until_it_is_taught_that_day() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, copy) = day(folder.path());
    session.go_by(Clock { day: "2026-11-27".parse().ok(), ..*session.clock() });
    session.listen(None);
    assert!(session.standing_now().is_none());
    tell(&mut session, GroupId(0), FactKind::Go);
    assert!(session.message().unwrap().contains("not the day of the lesson"));
    assert!(!copy.exists());
    session.apply(Command::TeachToday);
    settle(&mut session);
    assert!(session.standing_now().is_some());
    tell(&mut session, GroupId(0), FactKind::Go);
    let file = load_lesson(&session.document().unwrap().path.clone().unwrap()).unwrap();
    assert_eq!(file.lesson.today.as_ref().unwrap().facts.len(), 1);
}

#[test]
fn what_happens_in_mid_lesson_leaves_what_has_begun() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, copy) = day(folder.path());
    let (lesson, before) = plan(&session);
    let last = before.plan().loads.iter().max_by_key(|l| l.start).unwrap();
    let oven = lesson.ovens[last.oven.0].name.clone();
    // Others bake by then; the last oven is not yet loaded for the last time.
    let now = Minute::new(last.start.get() - 4);
    at(&mut session, now);
    let held = begun((&lesson, &before), now);
    assert!(!held.is_empty());
    session.apply(Command::Happened(Happening::OvenOut { oven: oven.clone() }));
    settle(&mut session);
    assert_eq!(session.message(), None, "it is not refused");
    let (after, plan_after) = plan(&session);
    check(&after, plan_after.plan().clone()).unwrap();
    assert!(session.current_plan().is_some());
    let lost: Vec<&str> = after
        .attending()
        .filter(|g| plan_after.plan().choice(*g).is_none())
        .map(|g| after.group(g).name.as_str())
        .collect();
    let is = begun((&after, &plan_after), now);
    for (what, start) in &held {
        let of_lost = lost.iter().any(|name| what.starts_with(name));
        assert!(of_lost || is.get(what) == Some(start), "{what} began at {start}: {is:?}");
    }
    assert_eq!(is.len(), held.keys().filter(|k| !lost.iter().any(|n| k.starts_with(n))).count());
    // It is in the file, with the plan.
    let file = load_lesson(&copy).unwrap();
    assert!(file.told.is_some() && file.lesson.ovens[last.oven.0].out_from.is_some());
    assert!(!session.document().unwrap().changed);
    // Nothing is made anew while groups are at work.
    session.apply(Command::PlanAnew);
    assert!(session.message().unwrap().contains("under way"));
}

#[test]
fn an_adult_who_is_called_away_in_mid_lesson_was_there_until_then() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, copy) = day(folder.path());
    let (lesson, before) = plan(&session);
    let first = before.plan().steps.iter().map(|s| s.start).filter(|s| Minute::BELL <= *s).min();
    let now = first.unwrap() + Minutes::new(3);
    at(&mut session, now);
    let away = |adult: &str| Command::Happened(Happening::AdultAway { adult: adult.into() });
    session.apply(away("teacher"));
    assert!(
        session.message().unwrap().contains("The teacher is named for"),
        "the plenary is theirs"
    );
    session.apply(away("technician"));
    settle(&mut session);
    let file = load_lesson(&copy).unwrap();
    let hours = &file.lesson.adults[1].hours;
    assert_eq!(hours.iter().map(|&(_, until)| until).max(), Some(now));
    let log = file.lesson.today.as_ref().unwrap().happened.last().unwrap();
    assert!(log.what.starts_with("The technician is away from "), "{log:?}");
    let (after, plan_after) = plan(&session);
    check(&after, plan_after.plan().clone()).unwrap();
    let is = begun((&after, &plan_after), now);
    assert_eq!(begun((&lesson, &before), now), is);
}

#[test]
fn what_can_be_done_is_kept_apart_until_it_is_kept() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, copy) = day(folder.path());
    let (lesson, before) = plan(&session);
    let (group, late, first) = one_too_late(&session);
    let now = first + late;
    at(&mut session, now);
    assert!(session.responses().is_none(), "nobody is known to be late");
    if late.get() > 1 {
        tell(&mut session, group, FactKind::Late(late - Minutes::new(1)));
        settle(&mut session);
        assert!(session.responses().is_none(), "what is to give takes it up");
        assert_eq!(session.standing_now().unwrap().standing.behind().count(), 1);
    }
    tell(&mut session, group, FactKind::Late(late));
    settle(&mut session);
    let responses = session.responses().unwrap().clone();
    assert!(!responses.looking && !responses.found.is_empty(), "{responses:?}");
    assert_eq!(*plan(&session).1.plan(), *before.plan(), "nothing is changed by looking");

    session.apply(Command::LeaveAsItWas);
    session.listen(None);
    assert!(session.responses().unwrap().left);
    session.apply(Command::RespondAgain);
    settle(&mut session);
    // It is worked out anew, and may find another plan.
    let response = session.responses().unwrap().found[0].clone();
    let words = response.words.clone();
    session.apply(Command::KeepResponse(words.clone()));
    settle(&mut session);
    let kept = plan(&session);
    assert_eq!(*kept.1.plan(), *response.after.plan.plan());
    assert!(session.standing_now().unwrap().standing.all_out(), "it does what it says");
    assert!(session.responses().is_none());
    let held = begun((&lesson, &before), now - late);
    let is = begun((&kept.0, &kept.1), now - late);
    assert!(held.iter().all(|(what, start)| is.get(what) == Some(start)), "{held:?} {is:?}");
    let file = load_lesson(&copy).unwrap();
    let today = file.lesson.today.as_ref().unwrap();
    assert!(today.happened.last().unwrap().what.contains(&words));
    assert!(today.facts.iter().all(|fact| fact.settled));
    // One step of undo, and the file goes with it.
    session.apply(Command::Undo);
    settle(&mut session);
    assert_eq!(*plan(&session).1.plan(), *before.plan());
    assert!(load_lesson(&copy).unwrap().lesson.today.as_ref().unwrap().happened.is_empty());
}

#[test]
fn what_was_worked_out_before_something_else_began_is_not_kept() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, _) = day(folder.path());
    let (_, before) = plan(&session);
    let (group, late, first) = one_too_late(&session);
    at(&mut session, first + late);
    tell(&mut session, group, FactKind::Late(late));
    settle(&mut session);
    let words = session.responses().unwrap().found[0].words.clone();
    let by = first + late;
    let next = before.plan().steps.iter().map(|s| s.start).filter(|s| by <= *s).min().unwrap();
    at(&mut session, next + Minutes::new(1));
    session.apply(Command::KeepResponse(words));
    assert!(session.message().unwrap().contains("worked out again"));
    assert_eq!(*plan(&session).1.plan(), *before.plan());
    settle(&mut session);
    let again = session.responses().map(|r| r.at);
    assert!(again.is_none_or(|at| Some(at) == session.time_of_lesson()));
}

#[test]
fn a_slip_thrown_into_the_rehearsal_changes_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, _) = day(folder.path());
    let before = session.document().unwrap().file().clone();
    let (lesson, plan) = plan(&session);
    let (group, late, first) = one_too_late(&session);
    let name = lesson.group(group).name.clone();
    let at = lesson.periods[0].start_clock.after(first + late - Minute::BELL);
    session.apply(Command::ThrowIn(Thrown::Behind(name.clone(), late), at));
    settle(&mut session);
    let slip = session.slip().unwrap();
    assert!(!slip.looking && !slip.responses.is_empty());
    let standing = slip.standing.as_ref().unwrap();
    assert_eq!(standing.behind().map(|g| g.group).collect::<Vec<_>>(), [group]);
    assert!(!standing.all_out());
    let behind = standing.groups.iter().find(|g| g.group == group).unwrap();
    let minutes = &session.rehearsal().unwrap().minutes;
    let mut at_work = minutes.iter().filter(|card| {
        let doing = card.groups.iter().find(|doing| doing.who == name).unwrap();
        doing.what != "ready" && doing.what != "gone" && doing.what != "with the class"
    });
    let last = at_work.next_back().unwrap().minute + Minutes::new(1);
    assert_eq!(Some(last), behind.ready.ready, "it is told as it is with the slip");
    assert_eq!(*session.document().unwrap().file(), before);
    assert_eq!(session.current_plan().unwrap().plan(), plan.plan());
    if late.get() > 1 {
        session.apply(Command::ThrowIn(Thrown::Behind(name, late - Minutes::new(1)), at));
        settle(&mut session);
        assert!(
            session.slip().unwrap().standing.as_ref().unwrap().all_out(),
            "what is to give takes it up"
        );
    }
    session.apply(Command::TakeSlipOut);
    assert!(session.slip().is_none());
}

#[test]
fn an_oven_that_fails_in_a_rehearsal_loses_what_is_in_it_and_moves_nothing_that_has_begun() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, _) = day(folder.path());
    let file = session.document().unwrap().file().clone();
    let (lesson, before) = plan(&session);
    let load = before.plan().loads.iter().min_by_key(|l| l.start).unwrap();
    let now = load.start + Minutes::new(5);
    let at = lesson.periods[0].start_clock.after(now - Minute::BELL);
    let oven = lesson.ovens[load.oven.0].name.clone();
    let fails = Thrown::Happens(Happening::OvenOut { oven: oven.clone() });
    session.apply(Command::ThrowIn(fails, at));
    settle(&mut session);
    let slip = session.slip().unwrap();
    assert!(slip.standing.is_none() && !slip.looking);
    let [response] = slip.responses.as_slice() else { panic!("{:?}", slip.responses) };
    let after = &response.after;
    let lost: Vec<GroupId> = before
        .plan()
        .loads
        .iter()
        .filter(|l| l.oven == load.oven && l.start <= now && now < l.end)
        .map(|l| l.group)
        .collect();
    assert!(lost.iter().all(|g| after.plan.plan().choice(*g).is_none()), "{lost:?}");
    assert!(after.plan.objective().served < before.objective().served);
    let (held, is) = (begun((&lesson, &before), now), begun((&after.lesson, &after.plan), now));
    let of_lost =
        |what: &str| lost.iter().any(|g| what.starts_with(&format!("{} ", lesson.group(*g).name)));
    assert!(held.iter().all(|(what, at)| of_lost(what) || is.get(what) == Some(at)));
    assert_eq!(*session.document().unwrap().file(), file, "nothing of the lesson is changed");
    assert!(session.planned().unwrap().lesson.ovens[load.oven.0].out_from.is_none());
    // From then on the minutes are told with it, and what is past as it was planned.
    let (planned, with) = (session.planned().unwrap().rehearsal(), session.rehearsal().unwrap());
    for card in &with.minutes {
        let of_oven = (&card.ovens[load.oven.0].what, &card.cabinets[load.oven.0]);
        if card.minute < now {
            assert_eq!(Some(card), planned.at(card.minute));
        } else {
            assert_eq!(of_oven.0, "out of order", "{}", card.at);
            assert!(of_oven.1.out_of_order && of_oven.1.shelves.iter().all(|taken| !taken));
        }
    }
    session.apply(Command::TakeSlipOut);
    assert_eq!(session.rehearsal(), Some(session.planned().unwrap().rehearsal()));
}

#[test]
fn a_day_that_is_over_is_answered_and_noted_beside_what_was_known_before_it() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, copy) = day(folder.path());
    let (lesson, before) = plan(&session);
    let group = before.plan().choices[0].group;
    let of_group = |kind: StepKind| {
        let method = lesson.method_of(group, before.plan().choice(group).unwrap().method);
        let steps = before.plan().steps.iter().filter(|s| s.group == group);
        let mut of_kind = steps.filter(|s| method.steps[s.step.0].kind == kind);
        of_kind.next().unwrap().end
    };
    let steps = before.plan().steps.iter().filter(|s| s.group == group);
    let go = steps.map(|s| s.start).filter(|s| Minute::BELL <= *s).min().unwrap();
    let (load, out) = (of_group(StepKind::Load), of_group(StepKind::TakeOut));
    for (minute, what) in [
        (go + Minutes::new(1), FactKind::Go),
        (load + Minutes::new(3), FactKind::In),
        (out + Minutes::new(5), FactKind::Out),
    ] {
        at(&mut session, minute);
        tell(&mut session, group, what);
        settle(&mut session);
        assert!(session.day_over().is_none());
    }
    at(&mut session, lesson.periods[0].end);
    settle(&mut session);
    let over = session.day_over().unwrap().clone();
    let told = |minute: Minute| lesson.periods[0].start_clock.after(minute - Minute::BELL);
    assert_eq!(over.asked.set_to_work.unwrap().answer, Some(told(go + Minutes::new(1))));
    assert!(over.asked.last.unwrap().1.answer.is_none(), "nobody was told to be ready");
    assert!(!over.noted && over.observed.bakes.len() == 1);
    let name = lesson.group(group).name.clone();
    session.apply(Command::Answer(Answer::Last(name, told(out + Minutes::new(20)))));
    session.apply(Command::Answer(Answer::Next("Shorter demo.".into())));
    settle(&mut session);
    assert_eq!(
        session.day_over().unwrap().asked.last.unwrap().1.answer,
        Some(told(out + Minutes::new(20)))
    );
    let today = load_lesson(&copy).unwrap().lesson.today.clone().unwrap();
    assert_eq!(today.afterwards.unwrap().next, "Shorter demo.");
    assert_eq!(today.facts.len(), 4);
    assert!(!folder.path().join("minutes.csv").exists(), "nothing is noted unasked");
    session.apply(Command::NoteTheDay);
    settle(&mut session);
    assert!(session.day_over().unwrap().noted);
    let minutes = load_minutes(&folder.path().join("minutes.csv")).0;
    assert_eq!(minutes.len(), 3, "{minutes:?}");
    assert_eq!(load_outcomes(&folder.path().join("outcomes.csv")).0, over.observed.bakes);
    // Opened again, the day goes by what was known before it.
    session.begin(Some(copy), None);
    settle(&mut session);
    assert_eq!(*plan(&session).1.plan(), *before.plan());
    assert!(session.day_over().unwrap().noted);
    assert!(session.class_took().iter().all(|took| took.offer.is_none()));
    assert_eq!(session.class_took().len(), 3, "{:?}", session.class_took());
}

#[test]
fn what_a_class_took_is_offered_after_five_lessons_and_used_once() {
    let folder = tempfile::tempdir().unwrap();
    let (session, _) = day(folder.path());
    let (lesson, _) = plan(&session);
    drop(session);
    let opening = |lesson: &Lesson| -> f64 {
        let steps = lesson.class_steps_in(PeriodId(0), Phase::Opening);
        steps.map(|(_, step)| step.minutes.usual().get()).sum()
    };
    let planned = opening(&lesson);
    let row = |day: u32, took: f64| PastMinutes {
        date: NaiveDate::from_ymd_opt(2026, 11, day).unwrap(),
        class: lesson.class.name.clone(),
        part: LessonPart::Opening,
        planned: ExactMinutes::new(planned).unwrap(),
        took: ExactMinutes::new(took).unwrap(),
    };
    let table = folder.path().join("minutes.csv");
    let mut session = self::session(folder.path());
    for (lessons, offered) in [(1, false), (2, false), (4, false), (5, true)] {
        let rows: Vec<PastMinutes> = (1..=lessons).map(|d| row(d, planned * 1.5)).collect();
        note_minutes(&table, &rows).unwrap();
        session.begin(Some(folder.path().join("demo.ron")), None);
        settle(&mut session);
        let [took] = session.class_took() else { panic!("{:?}", session.class_took()) };
        assert!(took.words.starts_with(&lesson.class.name), "{}", took.words);
        assert_eq!(took.offer.is_some(), offered, "{lessons} lessons: {}", took.words);
    }
    let (words, change) = session.class_took()[0].offer.clone().unwrap();
    assert!(words.ends_with("from 5 lessons"), "{words}");
    // Five lessons and the four the plan is worth: the factor's logarithm times 5/9.
    assert!((change.factor - 1.5_f64.powf(5.0 / 9.0)).abs() < 1e-9, "{change:?}");
    let file = session.document().unwrap().file();
    let file = Box::new(change.made(file).unwrap());
    let (what, at) = (change.label(), Field::root());
    session.apply(Command::Edit(Edit::Enter { what, at, typing: false, file }));
    settle(&mut session);
    let now = opening(&plan(&session).0);
    assert!((now - planned * change.factor).abs() <= 2.0, "{now} of {planned}");
    assert!(session.class_took()[0].offer.is_none(), "it is not offered twice");
    session.apply(Command::Undo);
    settle(&mut session);
    assert!((opening(&plan(&session).0) - planned).abs() < 1e-9);
}

#[test]
fn the_clock_is_set_to_the_bell_that_is_near() {
    let folder = tempfile::tempdir().unwrap();
    let (mut session, _) = day(folder.path());
    session.apply(Command::BellNow);
    assert!(session.message().unwrap().contains("No bell"), "it is an hour before the bell");
    at(&mut session, Minute::new(2));
    session.events();
    session.apply(Command::BellNow);
    assert_eq!(session.time_of_lesson(), ClockTime::parse("10:05").ok());
    assert!(session.events().contains(&Event::BellAhead(-120)));
    session.apply(Command::BellAsComputer);
    assert_eq!(session.time_of_lesson(), ClockTime::parse("10:07").ok());
}
