//! Rehearse in the window: a minute as its card has it, the clock moved by mouse, keys
//! or the accessibility tree, a lesson played through, notes that change no plan.

use std::collections::BTreeSet;
use std::sync::Arc;

use crate::common::hands::{Hands, How};
use crate::common::spoken::{lesson, quick, says, spoken};
use egui::Key;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Command, Place, RehearseChoice, Start};
use ovenbell::edit::Edit;
use ovenbell::session::Command as LessonCommand;
use ovenbell::units::Minute;
use ovenbell::view::day::help_words;
use ovenbell::view::rehearsal::Rehearsal;
use ovenbell::view::words::{in_short, list};

const WIDE: [f32; 2] = [1280.0, 800.0];

/// At the rehearsal of the sample lesson.
fn at(how: How, size: [f32; 2]) -> Hands {
    let mut hands = Hands::sized(how, size, |_| {});
    hands.apply(Command::Go(Place::Rehearse));
    hands.wait(2);
    hands
}

fn rehearsal(app: &App) -> Arc<Rehearsal> {
    Arc::clone(app.session().planned().unwrap().rehearsal())
}

fn focused(hands: &Hands) -> String {
    let focused = hands.window().root().query_all_by(|n| n.is_focused()).next();
    focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
}

/// The time at which the clock says it is.
fn time(hands: &Hands) -> String {
    let heard = hands.heard();
    let clock = heard.iter().find_map(|h| h.strip_prefix("Clock of the rehearsal at "));
    clock.unwrap_or_else(|| panic!("{heard:?}"))[..5].to_owned()
}

#[test]
fn a_minute_is_what_its_card_says() {
    let mut hands = at(How::Mouse, [1280.0, 1600.0]);
    let rehearsal = rehearsal(hands.app());
    let cards = rehearsal
        .minutes
        .iter()
        .enumerate()
        .filter(|(i, card)| i % 9 == 0 || (!card.say.is_empty() && i % 2 == 0));
    let mut looked = 0;
    for (_, card) in cards {
        hands.apply(Command::Minute(Some(card.minute.get())));
        assert_eq!(time(&hands), card.at.to_string());
        let heard: BTreeSet<String> = hands.heard().into_iter().collect();
        let own = rehearsal.own_at(card);
        let groups = card.groups.iter().map(|doing| doing.what.clone());
        let ovens = card.ovens.iter().map(|doing| doing.what.clone());
        let others = card.adults.iter().skip(1).map(|d| format!("{}: {}", d.who, d.what));
        let next = card.next.iter().cloned();
        for line in
            card.say.iter().cloned().chain(own).chain(groups).chain(ovens).chain(others).chain(next)
        {
            assert!(heard.contains(&line), "{}: {line} is not said: {heard:?}", card.at);
        }
        for gap in rehearsal.gaps_from(card.minute).take(1) {
            let lesson = hands.app().document().unwrap().lesson().unwrap();
            assert!(heard.contains(&gap.sentence(lesson)), "{heard:?}");
        }
        looked += 1;
    }
    assert!(looked > 10, "{looked}");
}

#[test]
fn who_has_nothing_in_hand_is_named_as_waiting() {
    let mut hands = at(How::Mouse, WIDE);
    let rehearsal = rehearsal(hands.app());
    let waiting = rehearsal.minutes.iter().filter(|card| card.waiting().len() > 1);
    let card = waiting.max_by_key(|card| card.waiting().len()).unwrap();
    hands.apply(Command::Minute(Some(card.minute.get())));
    hands.wait(2);
    let names = list(&in_short(&card.waiting()));
    assert!(hands.says(&names), "{}: {names}: {:?}", card.at, hands.heard());
    hands.apply(Command::Minute(Some(0)));
    hands.wait(2);
    assert!(hands.says("Nobody."), "{:?}", hands.heard());
}

#[test]
fn the_clock_is_moved_with_keys_or_without() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at(how, WIDE);
        let rehearsal = rehearsal(hands.app());
        assert_eq!(time(&hands), "10:05", "it begins at the bell");
        hands.press("Next call");
        let first = rehearsal.call_beside(Minute::BELL, true).unwrap();
        assert_eq!(time(&hands), rehearsal.at(first).unwrap().at.to_string());
        hands.press("A minute on");
        hands.press("Call before");
        assert_eq!(time(&hands), rehearsal.at(first).unwrap().at.to_string());
        hands.press("A minute back");
        let before = rehearsal.at(Minute::new(first.get() - 1)).unwrap();
        assert_eq!(time(&hands), before.at.to_string());
    }
}

#[test]
fn with_keys_alone_the_clock_is_reached_and_steps() {
    let mut hands = at(How::Keyboard, WIDE);
    hands.command(Key::Num2);
    hands.command(Key::Num4);
    hands.reach("Clock of the rehearsal at 10:05, minute 0 of 65");
    hands.key(Key::ArrowRight);
    hands.key(Key::ArrowRight);
    hands.key(Key::ArrowLeft);
    assert_eq!(time(&hands), "10:06");
    assert!(focused(&hands).starts_with("Clock of the rehearsal at 10:06"));
    hands.key(Key::PageDown);
    let rehearsal = rehearsal(hands.app());
    let call = rehearsal.call_beside(Minute::new(1), true).unwrap();
    assert_eq!(time(&hands), rehearsal.at(call).unwrap().at.to_string());
    hands.key(Key::PageUp);
    assert_eq!(time(&hands), "10:05");
    // The minute line of the running order is the same minute.
    hands.harness().key_press_modifiers(egui::Modifiers::COMMAND, Key::ArrowRight);
    hands.wait(2);
    assert_eq!(time(&hands), "10:06");
    hands.command(Key::Num2);
    assert!(hands.says("Minute line at 10:06"), "{:?}", hands.heard());
}

/// A window whose frames lie so far apart, in seconds, at the rehearsal of a lesson.
fn playing(name: &str, frame: f32) -> Harness<'static, App> {
    let start = Start { file: Some(lesson(name)), ..quick() };
    let mut harness = Harness::builder()
        .with_size(WIDE)
        .with_max_steps(20)
        .with_step_dt(frame)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    for _ in 0..4000 {
        harness.run_steps(1);
        if !harness.state().is_planning() && harness.state().plan().is_some() {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(5));
    }
    harness.state_mut().apply(Command::Go(Place::Rehearse));
    harness.run_steps(2);
    harness
}

fn choose(harness: &mut Harness<'static, App>, choice: RehearseChoice) {
    harness.state_mut().apply(Command::Rehearse(choice));
    harness.run_steps(1);
}

#[test]
fn a_whole_lesson_is_played_without_a_missed_cue() {
    // The second window sleeps longer than a minute of the rehearsal lasts.
    for frame in [0.5, 7.0] {
        let mut harness = playing("a-scones-hour.ron", frame);
        let rehearsal = rehearsal(harness.state());
        let (first, last) = rehearsal.ends().unwrap();
        harness.state_mut().apply(Command::Minute(Some(first.get())));
        choose(&mut harness, RehearseChoice::Pace(60));
        let mut seen = BTreeSet::new();
        for frame in 0..1000 {
            let heard = spoken(&harness);
            let clock = heard.iter().find(|h| h.starts_with("Clock of the rehearsal at "));
            let at = clock.unwrap()["Clock of the rehearsal at ".len()..][..5].to_owned();
            if seen.insert(at.clone()) {
                let card = rehearsal.minutes.iter().find(|card| card.at.to_string() == at).unwrap();
                for line in card.say.iter().cloned().chain(rehearsal.own_at(card)) {
                    assert!(heard.contains(&line), "{at}: {line} is missed");
                }
            }
            if heard.iter().any(|h| h == "Let it run") && seen.len() > 1 {
                break;
            }
            if frame == 0 {
                harness.state_mut().apply(Command::Rehearse(RehearseChoice::Play));
            }
            harness.run_steps(1);
        }
        let all = usize::try_from((last - first).get() + 1).unwrap();
        assert_eq!(seen.len(), all, "{frame}: a minute is missed");
        assert!(says(&harness, "The last bell has gone"));
        // Stopped, the window sleeps: more than a few frames would be a fault here.
        harness.run();
    }
}

#[test]
fn a_minute_with_a_cue_stays_for_two_seconds_and_another_for_one() {
    let mut harness = playing("a-scones-hour.ron", 0.25);
    let rehearsal = rehearsal(harness.state());
    let cards = &rehearsal.minutes;
    let quiet = cards.iter().find(|card| {
        let next = Minute::new(card.minute.get() + 1);
        !rehearsal.is_cue(card.minute) && rehearsal.is_cue(next)
    });
    let quiet = quiet.unwrap();
    harness.state_mut().apply(Command::Minute(Some(quiet.minute.get())));
    choose(&mut harness, RehearseChoice::Pace(60));
    choose(&mut harness, RehearseChoice::Play);
    let mut frames = Vec::new();
    for after in 0..3 {
        let at = cards.iter().find(|c| c.minute.get() == quiet.minute.get() + after).unwrap().at;
        let mut shown = 0;
        while says(&harness, &format!("Clock of the rehearsal at {at}")) {
            harness.run_steps(1);
            shown += 1;
            assert!(shown < 100, "it stands still at {at}");
        }
        frames.push(shown);
    }
    assert!((3..=6).contains(&frames[0]) && (8..=10).contains(&frames[1]), "{frames:?}");
}

#[test]
fn paused_at_a_call_what_is_said_is_covered_until_space_shows_it() {
    let mut hands = at(How::Keyboard, WIDE);
    let rehearsal = rehearsal(hands.app());
    let call = rehearsal.call_beside(Minute::BELL, true).unwrap();
    let card = rehearsal.at(call).unwrap();
    hands.apply(Command::Minute(Some(call.get() - 1)));
    hands.press("Pauses at each call");
    hands.apply(Command::Rehearse(RehearseChoice::Pace(60)));
    hands.press("Let it run");
    for _ in 0..200 {
        hands.wait(1);
        if time(&hands) == card.at.to_string() {
            break;
        }
    }
    hands.wait(3);
    assert!(hands.says("What do you say now?"), "{:?}", hands.heard());
    assert!(!hands.heard().contains(&card.say[0]), "it is covered");
    assert_eq!(focused(&hands), "Show it");
    hands.wait(40);
    assert_eq!(time(&hands), card.at.to_string(), "it waits");
    hands.key(Key::Space);
    hands.wait(2);
    assert!(hands.heard().contains(&card.say[0]), "{:?}", hands.heard());
    assert_eq!(focused(&hands), "Let it run");
    hands.key(Key::Space);
    hands.wait(40);
    assert_ne!(time(&hands), card.at.to_string(), "it goes on");
}

#[test]
fn a_note_is_written_told_and_put_away_and_no_plan_changes() {
    let mut hands = at(How::Keyboard, WIDE);
    hands.press("Next call");
    let before = hands.app().plan().unwrap().plan().clone();
    let aprons = time(&hands);
    hands.press("Add a note");
    hands.press(&format!("{aprons}, aprons and hands"));
    hands.fill("aprons and hands, what I say", "Hair back.");
    hands.fill("aprons and hands, what I do", "Look at the ovens.");
    hands.settle();
    assert!(hands.says("My words: Hair back.") && hands.says("Look at the ovens."));
    let file = hands.app().document().unwrap().file().clone();
    assert_eq!(file.teacher.len(), 1);
    assert_eq!(
        (file.teacher[0].at.as_str(), file.teacher[0].say.as_str()),
        ("aprons and hands", "Hair back.")
    );
    assert_eq!(*hands.app().plan().unwrap().plan(), before, "nothing is planned anew");
    assert!(hands.app().current_plan().is_some());
    hands.press("Drop the note at aprons and hands");
    assert!(!hands.says("Hair back.") && hands.says("None yet. For example"));
    hands.apply(LessonCommand::Undo);
    hands.settle();
    assert!(hands.says("My words: Hair back."));
    assert_eq!(*hands.app().plan().unwrap().plan(), before);
}

#[test]
fn a_note_whose_place_is_gone_is_told_and_hung_elsewhere() {
    let mut hands = Hands::sized(How::Mouse, WIDE, |_| {});
    let path = lesson("demo.ron");
    let text = std::fs::read_to_string(&path).unwrap();
    let notes = "    teacher: [(at: \"load Oven 9\", say: \"Gloves on.\")],\n    groups: [";
    std::fs::write(&path, text.replace("    groups: [", notes)).unwrap();
    hands.open(&path);
    hands.apply(Command::Go(Place::Rehearse));
    hands.wait(2);
    assert!(hands.says("\"load Oven 9\" belongs nowhere now: Gloves on."), "{:?}", hands.heard());
    hands.press("Hang it here");
    hands.press("10:05, start bell");
    hands.settle();
    assert!(!hands.says("belongs nowhere now") && hands.says("My words: Gloves on."));
}

/// Throws a slip in, by the button of that name; what is said of it.
fn throw(hands: &mut Hands, what: &str, words: &str) -> String {
    let thrown = format!("Thrown in at {}: {words}", time(hands));
    hands.press("Slip…");
    hands.press(what);
    hands.settle();
    assert!(hands.says(&thrown), "{:?}", hands.heard());
    thrown
}

#[test]
fn a_slip_is_thrown_in_and_taken_out_again() {
    for how in [How::Mouse, How::Access] {
        let mut hands = at(how, WIDE);
        hands.press("Next call");
        let thrown = throw(&mut hands, "Unit 3: 8 behind", "Unit 3 is 8 minutes behind");
        assert!(hands.says("Unit 3 is 8 behind"), "{:?}", hands.heard());
        assert!(hands.app().document().unwrap().can_undo().is_none(), "nothing is changed");
        hands.press("As planned again");
        assert!(!hands.says(&thrown));
    }
}

#[test]
fn a_slip_leaves_what_comes_next_in_sight_and_is_told_in_what_groups_do() {
    let mut hands = at(How::Mouse, WIDE);
    hands.apply(Command::Minute(Some(25)));
    hands.wait(2);
    let planned = rehearsal(hands.app());
    throw(&mut hands, "Unit 6: 4 behind", "Unit 6 is 4 minutes behind");
    assert!(hands.says("At 10:30 it is where the plan has it at 10:26."), "{:?}", hands.heard());
    let notes = hands.place("My notes at 10:30").top();
    for label in ["Now", "Next", "As planned again"] {
        assert!(hands.place(label).bottom() < notes, "{label} is out of sight");
    }
    assert!(hands.place("As planned again").width() < 200.0, "a button as wide as its words");
    hands.apply(Command::Minute(Some(41)));
    hands.wait(2);
    let with = Arc::clone(hands.app().session().rehearsal().unwrap());
    let (was, is) = (planned.at(Minute::new(41)).unwrap(), with.at(Minute::new(41)).unwrap());
    assert_ne!(was.groups, is.groups);
    for doing in is.groups.iter().chain(&is.ovens) {
        assert!(hands.says(&doing.what), "{doing:?}: {:?}", hands.heard());
    }
    let held = &hands.app().session().slip().unwrap().held_up;
    assert!(!held.is_empty(), "it is ready later still, and that has a reason");
    throw(&mut hands, "Oven 2 fails", "Oven 2 out of order");
    assert!(hands.says("out of order"), "{:?}", hands.heard());
}

#[test]
fn the_menu_of_slips_names_a_group_before_what_may_happen_to_it() {
    let mut hands = at(How::Mouse, WIDE);
    hands.press("Slip…");
    hands.wait(2);
    let (name, late) = (hands.place("Unit 3"), hands.place("Unit 3: 2 behind"));
    let dropped = hands.place("Unit 3: tray dropped");
    assert!(name.right() <= late.left() && late.right() <= dropped.left());
    assert!((name.center().y - late.center().y).abs() < 4.0);
}

#[test]
fn buttons_keep_their_place_while_the_clock_runs() {
    let mut hands = at(How::Mouse, WIDE);
    let place = |hands: &Hands| {
        ["Call before", "Next call", "A minute on", "Slip…"].map(|label| hands.place(label))
    };
    let first = place(&hands);
    for minute in [1, 6, 15, 16, 41] {
        hands.apply(Command::Minute(Some(minute)));
        hands.wait(2);
        assert_eq!(place(&hands), first, "minute {minute}");
    }
    hands.press("Let it run");
    hands.wait(2);
    assert_eq!(place(&hands), first, "it runs");
}

#[test]
fn what_an_adults_help_would_have_to_bring_is_said_of_a_slip() {
    let mut hands = at(How::Mouse, WIDE);
    let mut said = 0;
    for minute in [11, 13, 15] {
        hands.apply(Command::Minute(Some(minute)));
        hands.press("Slip…");
        hands.press("Unit 3: 4 behind");
        hands.settle();
        let slip = hands.app().session().slip().unwrap();
        for words in slip.help.iter().map(|help| help_words(&slip.lesson, help)) {
            assert!(hands.says(&words), "{words}: {:?}", hands.heard());
            said += 1;
        }
        hands.press("As planned again");
        assert!(!hands.says("An adult to Unit 3"));
    }
    assert!(said > 0);
}

#[test]
fn an_adult_is_called_away_in_a_rehearsal() {
    for how in [How::Mouse, How::Keyboard, How::Access] {
        let mut hands = at(how, WIDE);
        hands.press("Next call");
        hands.press("Next call");
        throw(&mut hands, "The technician is called away", "technician called away");
        let slip = hands.app().session().slip().unwrap();
        let [response] = slip.responses.as_slice() else { panic!("{:?}", slip.responses) };
        let log = response.after.lesson.today.as_ref().unwrap().happened.last().unwrap();
        assert!(log.what.starts_with("The technician is away"), "{log:?}");
        assert!(hands.app().document().unwrap().can_undo().is_none(), "nothing is changed");
        hands.press("As planned again");
        // The plenary is still to come, and is the teacher's.
        hands.press("Slip…");
        hands.press("The teacher is called away");
        hands.settle();
        assert!(hands.says("Not thrown in: The teacher is named for"), "{:?}", hands.heard());
        assert!(hands.app().session().slip().is_none());
    }
}

#[test]
fn without_an_adult_or_a_plan_it_says_what_to_do() {
    let mut hands = at(How::Mouse, WIDE);
    let mut file = hands.app().document().unwrap().file().clone();
    file.adults.clear();
    for step in file.period.class_steps_mut() {
        step.adults.clear();
    }
    file.period.ovens_on_by = None;
    hands.apply(LessonCommand::Edit(Edit::Enter {
        what: "nobody".to_owned(),
        at: ovenbell::finding::Path::root(),
        typing: false,
        file: Box::new(file),
    }));
    hands.settle();
    assert!(hands.says("Who is in the room? Add an adult."), "{:?}", hands.heard());
    hands.press("Add an adult");
    assert!(hands.says("Adults and rules"));
    hands.apply(LessonCommand::New);
    hands.press("Go without saving");
    hands.settle();
    hands.apply(Command::Go(Place::Rehearse));
    hands.wait(4);
    assert!(hands.says("there is nothing to rehearse yet"), "{:?}", hands.heard());
}

#[test]
fn it_has_room_in_small_windows_and_large() {
    let mut hands = at(How::Mouse, WIDE);
    for size in [[1920.0, 1080.0], WIDE, [1092.0, 614.0], [728.0, 409.3]] {
        hands.harness().set_size(size.into());
        hands.wait(3);
        let window = egui::Rect::from_min_size(egui::Pos2::ZERO, size.into());
        let clock = hands.place("Clock of the rehearsal at 10:05, minute 0 of 65");
        for label in ["Call before", "A minute back", "Let it run", "A minute on", "Next call"] {
            let place = hands.place(label);
            assert!(window.contains_rect(place), "{size:?}: {label} at {place:?}");
            assert!(!clock.intersects(place), "{size:?}: {label} lies over the ribbons");
        }
        let is_narrow = size[0] <= 1092.0;
        if !is_narrow {
            let last = rehearsal(hands.app());
            let lesson = hands.app().document().unwrap().lesson().unwrap();
            let last = last.who_has_ovens_on(lesson).pop().unwrap();
            let notes = hands.place("My notes at 10:05");
            let board = hands.window().query_by_label("Running order").map(|b| b.rect());
            let below = board.map_or(notes.top(), |board| board.top());
            assert!(hands.place(&last).bottom() <= below, "{size:?}: {last} is cut");
        }
        assert_eq!(hands.says("Who has the ovens on?"), !is_narrow, "{size:?}");
        if is_narrow {
            for (tab, says) in
                [("Ovens", "Who has the ovens on?"), ("Groups", "Waits"), ("My notes", "None yet.")]
            {
                hands.press(tab);
                assert!(hands.says(says), "{size:?}: {tab}: {:?}", hands.heard());
            }
        }
        let has_board = hands.window().query_by_label("Running order").is_some();
        assert_eq!(has_board, size[0] > 1600.0, "{size:?}");
    }
}
