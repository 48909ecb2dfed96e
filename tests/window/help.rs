//! The hints of the first start, the help, and the list of keys.

use std::collections::HashSet;
use std::fs;
use std::path::Path;
use std::time::{Duration, Instant};

use crate::common::spoken::{lesson, quick, says, spoken};
use egui::{Key, Modifiers, Rect};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Command, Place, Selection, Start, Where, keys, lines};
use ovenbell::check::Verdict;
use ovenbell::edit::Edit;
use ovenbell::model::GroupId;
use ovenbell::session::Command as LessonCommand;
use ovenbell::view::board::Work;
use ovenbell::view::cautions::{CAUTIONS, FIRST};
use ovenbell::view::help::{Live, Part, Sign, Topic};
use ovenbell::view::licences::{Licence, licences};

type Window = Harness<'static, App>;

fn sized(start: Start, size: [f32; 2]) -> Window {
    let mut harness = Harness::builder()
        .with_size(size)
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    settle(&mut harness);
    harness
}

/// A first start: with the demo, and a folder of settings.
fn first(settings: &Path) -> Window {
    first_sized(settings, [1280.0, 800.0])
}

fn first_sized(settings: &Path, size: [f32; 2]) -> Window {
    sized(Start { settings: Some(settings.to_owned()), ..quick() }, size)
}

fn demo() -> Window {
    sized(Start { file: Some(lesson("demo.ron")), ..quick() }, [1280.0, 800.0])
}

fn settle(harness: &mut Window) {
    let begun = Instant::now();
    loop {
        harness.run_steps(4);
        if !harness.state().is_planning() && harness.state().plan().is_some() {
            break;
        }
        assert!(begun.elapsed() < Duration::from_secs(60), "the planner says nothing");
        std::thread::sleep(Duration::from_millis(5));
    }
    harness.run_steps(10);
}

fn key(harness: &mut Window, key: Key) {
    harness.key_press(key);
    harness.run_steps(4);
}

/// Presses a button or a link; a title may say the same.
fn press(harness: &mut Window, label: &str) {
    let acts = [egui::Role::Button, egui::Role::Link];
    harness.get_by(|n| acts.contains(&n.role()) && n.label().as_deref() == Some(label)).click();
    harness.run_steps(4);
}

/// The number of the hint that is shown.
fn hint(harness: &Window) -> Option<usize> {
    let heard = spoken(harness);
    let shown: Vec<_> = heard.iter().filter_map(|h| h.strip_prefix("Hint ")).collect();
    let number = shown.first()?.split(' ').next()?.parse().unwrap();
    assert!(shown.iter().all(|h| h.starts_with(&format!("{number} of 3:"))), "{shown:?}");
    Some(number)
}

fn has_focus(harness: &Window) -> bool {
    harness.root().query_all_by(|n| n.is_focused()).next().is_some()
}

#[test]
fn the_first_start_shows_three_hints_that_never_come_back() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = first(folder.path());
    let sentence = "All eight groups are out by the bell.";
    assert!(says(&harness, sentence));
    for number in 1..=3 {
        assert_eq!(hint(&harness), Some(number));
        assert!(!has_focus(&harness), "hint {number} takes the keyboard");
        // Told as it appears: the whole of it, and politely.
        let live = harness.root().query_all_by(|n| {
            n.live() == egui::accesskit::Live::Polite && n.role() == egui::Role::Label
        });
        let heard: Vec<_> = live.filter_map(|n| n.accesskit_node().value()).collect();
        assert_eq!(heard.len(), 1, "{heard:?}");
        assert!(heard[0].starts_with(&format!("Hint {number} of 3: ")), "{heard:?}");
        match number {
            1 => press(&mut harness, "Put away"),
            _ => key(&mut harness, Key::Escape),
        }
    }
    assert_eq!(hint(&harness), None);
    drop(harness);
    let mut harness = first(folder.path());
    assert_eq!(hint(&harness), None, "they were put away");
    // The help shows them again, and all go at once.
    key(&mut harness, Key::F1);
    press(&mut harness, "Where to begin");
    press(&mut harness, "Show the hints of the first start again");
    harness.run_steps(4);
    assert_eq!(hint(&harness), Some(1));
    press(&mut harness, "Put all away");
    assert_eq!(hint(&harness), None);
    drop(harness);
    assert_eq!(hint(&first(folder.path())), None);
}

#[test]
fn hints_are_for_the_demo_of_those_who_are_remembered() {
    assert_eq!(hint(&sized(Start::default(), [1280.0, 800.0])), None);
    let folder = tempfile::tempdir().unwrap();
    let settings = Some(folder.path().to_owned());
    let file = Some(lesson("a-scones-hour.ron"));
    let mut harness = sized(Start { settings, file, ..quick() }, [1280.0, 800.0]);
    assert_eq!(hint(&harness), None, "a lesson of one's own");
    harness.state_mut().apply(LessonCommand::OpenDemo);
    settle(&mut harness);
    assert_eq!(hint(&harness), Some(1));
}

#[test]
fn hints_go_by_themselves_once_their_matter_is_done() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = first(folder.path());
    harness.get_by_label_contains("Unit 5, 12 buns, ready").click();
    settle(&mut harness);
    assert_eq!(hint(&harness), Some(1), "the sentence is still to be read");
    let edit = Edit::Pupils { group: "Unit 1".into(), pupils: 1 };
    harness.state_mut().apply(LessonCommand::Edit(edit));
    settle(&mut harness);
    assert_eq!(hint(&harness), Some(3), "a group was selected");
    press(&mut harness, "Set up");
    press(&mut harness, "Plan");
    settle(&mut harness);
    assert_eq!(hint(&harness), None);
    drop(harness);
    assert_eq!(hint(&first(folder.path())), None);
}

#[test]
fn hints_cover_nothing_of_what_they_speak_of() {
    for size in [[1280.0, 800.0], [1092.0, 614.0], [800.0, 520.0], [1920.0, 1080.0]] {
        let folder = tempfile::tempdir().unwrap();
        let mut harness = first_sized(folder.path(), size);
        let window = Rect::from_min_size(egui::Pos2::ZERO, size.into());
        let spoken_of: [(&str, bool); 3] = [
            ("All eight groups are out by the bell.", false),
            ("Minute line, hidden; arrow keys show it", true),
            ("Set up", false),
        ];
        for (number, (label, below)) in spoken_of.into_iter().enumerate() {
            assert_eq!(hint(&harness), Some(number + 1));
            let of = harness.get_by_label(label).rect();
            let card = card(&harness, number + 1);
            assert!(!card.intersects(of.shrink(1.0)), "{size:?}: {card:?} covers {label}: {of:?}");
            assert_eq!(of.top() > card.bottom() - 1.0, below, "{size:?}: beside {label}");
            assert!(window.contains_rect(card), "{size:?}: {card:?}");
            key(&mut harness, Key::Escape);
        }
    }
}

/// Where the words and buttons of a hint are.
fn card(harness: &Window, number: usize) -> Rect {
    let mut rect = harness.get_by_label("Put away").rect();
    for node in harness.root().query_all_by(|_| true) {
        let heard = node.accesskit_node().value().unwrap_or_default();
        if heard.starts_with(&format!("Hint {number} of 3:")) {
            rect = rect.union(node.rect());
        }
    }
    rect
}

/// Verdicts, by a match that must grow with them.
fn verdicts() -> Vec<Verdict> {
    let next = |v: Verdict| match v {
        Verdict::LeftOut => Some(Verdict::Fits),
        Verdict::Fits => Some(Verdict::Tight),
        Verdict::Tight => Some(Verdict::NotRealistically),
        Verdict::NotRealistically => Some(Verdict::CannotAll),
        Verdict::CannotAll => Some(Verdict::Cannot),
        Verdict::Cannot => None,
    };
    std::iter::successors(Some(Verdict::LeftOut), |v| next(*v)).collect()
}

/// Kinds of work, likewise.
fn works() -> Vec<Work> {
    let next = |w: Work| match w {
        Work::Bench => Some(Work::Door),
        Work::Door => Some(Work::Bake),
        Work::Bake => Some(Work::Cool),
        Work::Cool => Some(Work::Wait),
        Work::Wait => Some(Work::Clear),
        Work::Clear => None,
    };
    std::iter::successors(Some(Work::Bench), |w| next(*w)).collect()
}

fn all_words(part: &Part) -> Vec<&'static str> {
    match *part {
        Part::Heading(a) | Part::Words(a) => vec![a],
        Part::Term(a, b) => vec![a, b],
        Part::Verdict(_, a) | Part::Work(_, a) | Part::Sign(_, a) => vec![a],
        Part::Caution(c) => vec![c.about, c.words, c.source],
        Part::Live(_) => Vec::new(),
    }
}

#[test]
fn every_verdict_and_every_fill_is_explained_once() {
    let verdict = |v| move |p: &Part| matches!(*p, Part::Verdict(of, _) if of == v);
    for v in verdicts() {
        assert_eq!(Topic::Verdicts.parts().iter().filter(|p| verdict(v)(p)).count(), 1, "{v:?}");
    }
    let board = Topic::Board.parts();
    for w in works() {
        let is = |p: &&Part| matches!(**p, Part::Work(of, _) if of == w);
        assert_eq!(board.iter().filter(is).count(), 1, "{w:?}");
    }
    for s in Sign::ALL {
        let is = |p: &&Part| matches!(**p, Part::Sign(of, _) if of == s);
        assert_eq!(board.iter().filter(is).count(), 1, "{s:?}");
    }
    let parts: Vec<Part> = Topic::ALL.into_iter().flat_map(Topic::parts).collect();
    for (live, times) in [
        (Live::Sample, 1),
        (Live::Hints, 1),
        (Live::Figures, 1),
        (Live::HangsOn, 1),
        (Live::Keys, 1),
        (Live::Licences, 1),
        // Where files are kept, and what the program touches.
        (Live::Folders, 2),
    ] {
        assert_eq!(parts.iter().filter(|p| **p == Part::Live(live)).count(), times, "{live:?}");
    }
    let words: Vec<&str> = parts.iter().flat_map(all_words).collect();
    let titles: HashSet<&str> = Topic::ALL.map(Topic::title).into();
    assert_eq!(titles.len(), Topic::ALL.len());
    for word in words {
        assert!(!word.contains("  ") && !word.trim().is_empty(), "{word:?}");
        // Words of those who wrote the program, not of those who use it.
        for ours in
            ["solver", "constraint", "infeasible", "horizon", "heuristic", "node", "gluten-free"]
        {
            assert!(!word.to_lowercase().contains(ours), "{ours}: {word}");
        }
    }
}

#[test]
fn cautions_name_their_sources_and_promise_nothing() {
    for caution in CAUTIONS {
        let named = ["FSA", "HSE", "Fire and Rescue", "Regulations", "common practice"];
        assert!(named.iter().any(|n| caution.source.contains(n)), "{caution:?}");
        for promise in ["is safe", "are safe", "safely baked", "makes it safe"] {
            let said = caution.words.replace("says that food is safe to eat", "");
            assert!(!said.contains(promise), "{promise}: {}", caution.words);
        }
    }
    assert!(CAUTIONS[0].words.contains("no time worked out here says that food is safe to eat"));
    for about in ["Hot ovens", "Allergens", "Gas", "Eggs", "Cooling and keeping"] {
        assert!(CAUTIONS.iter().any(|c| c.about == about), "{about}");
    }
    let of = |about: &str| CAUTIONS.iter().find(|c| c.about == about).unwrap();
    assert!(of("Eggs").words.contains("not by anybody who is severely immunocompromised"));
    assert_eq!(of("Raw mixture").source, "FSA, advice on flour of August 2024");
    // What holds in Great Britain alone, and who says so.
    for about in ["Risk assessment", "Gas"] {
        assert!(of(about).source.contains("(Great Britain)"), "{about}");
    }
    for (about, who) in [("Burns", "Fire and Rescue Service"), ("Allergens", "Annex II")] {
        assert!(of(about).source.contains(who), "{about}");
    }
    assert!(FIRST.starts_with("Your school's policy and risk assessment come first"));
    assert_eq!(Topic::Cautions.parts()[0], Part::Words(FIRST));
}

#[test]
fn the_help_is_read_by_mouse_and_by_keyboard() {
    let mut harness = demo();
    key(&mut harness, Key::F1);
    for topic in Topic::ALL {
        press(&mut harness, topic.title());
        let heard = spoken(&harness);
        for words in topic.parts().iter().flat_map(all_words) {
            assert!(heard.iter().any(|h| h.contains(words)), "{topic:?} does not say {words:?}");
        }
    }
    key(&mut harness, Key::Escape);
    assert!(says(&harness, "Minute line, hidden"), "the board is back");
    // By Tab alone, and what was read last is open again.
    key(&mut harness, Key::F1);
    assert!(says(&harness, "press what has the keyboard"));
    let mut reached = Vec::new();
    for _ in 0..60 {
        key(&mut harness, Key::Tab);
        let focused = harness.root().query_all_by(|n| n.is_focused()).next();
        let label = focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default();
        if label == Topic::Cautions.title() {
            key(&mut harness, Key::Space);
            assert!(says(&harness, FIRST));
            key(&mut harness, Key::F1);
            assert!(says(&harness, "Minute line, hidden"));
            return;
        }
        reached.push(label);
    }
    panic!("Tab does not reach the topics: {reached:?}");
}

#[test]
fn the_help_tells_which_program_this_is_and_opens_every_licence() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = first(folder.path());
    key(&mut harness, Key::F1);
    press(&mut harness, Topic::About.title());
    assert!(says(&harness, concat!("ovenbell ", env!("CARGO_PKG_VERSION"))));
    assert!(says(&harness, "It works offline"));
    assert!(says(&harness, &folder.path().display().to_string()), "the folder of settings");
    let opened = |harness: &Window, licence: &Licence| {
        let text = licence.texts[0].split_whitespace().next_back().unwrap();
        spoken(harness).iter().any(|h| h.trim_end().ends_with(text) && h.len() > 200)
    };
    let all = licences();
    // One by mouse, another by keyboard.
    assert!(!opened(&harness, &all[0]));
    harness.get_by_label(&all[0].title()).scroll_to_me();
    harness.run_steps(20);
    harness.get_by_label(&all[0].title()).click();
    harness.run_steps(20);
    assert!(opened(&harness, &all[0]), "{:?}", spoken(&harness));
    harness.get_by_label(&all[0].title()).click();
    harness.run_steps(20);
    assert!(!opened(&harness, &all[0]));
    for _ in 0..80 {
        key(&mut harness, Key::Tab);
        let focused = harness.root().query_all_by(|n| n.is_focused()).next();
        let label = focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default();
        if label == all[2].title() {
            key(&mut harness, Key::Space);
            harness.run_steps(20);
            assert!(opened(&harness, &all[2]), "{:?}", spoken(&harness));
            return;
        }
    }
    panic!("Tab does not reach the licences");
}

#[test]
fn an_assumed_figure_leads_to_its_field_and_is_gone_once_stated() {
    let mut harness = demo();
    let shown = |harness: &Window| {
        let app = harness.state();
        let (lesson, plan) = (app.document().unwrap().lesson().unwrap(), app.plan().unwrap());
        ovenbell::view::assumed::where_stated(lesson, plan)
    };
    let figures = shown(&harness);
    assert!(!figures.is_empty());
    for (figure, at) in &figures {
        let Some(at) = at else { continue };
        harness.state_mut().apply(Command::Help(Some(Topic::Assumed)));
        harness.run_steps(3);
        let label = ovenbell::view::words::capital(figure);
        harness.get_by_label(&label).scroll_to_me();
        harness.run_steps(20);
        press(&mut harness, &label);
        assert!(says(&harness, "Still to do") || says(&harness, "It can be planned."), "{at}");
        assert!(!says(&harness, Topic::Assumed.title()), "the help is left for {at}");
    }
    // One of them, all the way.
    let cools = "oven cool-down by 20 °C: 10 min (Oven 1 to Oven 4)";
    assert!(figures.iter().any(|(figure, _)| figure == cools), "{figures:?}");
    harness.state_mut().apply(Command::Help(Some(Topic::Assumed)));
    harness.run_steps(3);
    press(&mut harness, "Oven cool-down by 20 °C: 10 min (Oven 1 to Oven 4)");
    harness.run_steps(20);
    let focused = harness.root().query_all_by(|n| n.is_focused()).next();
    let name = focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default();
    assert_eq!(name, "Oven, cools 20 °C in, min");
    harness.event(egui::Event::Text("12".into()));
    harness.run_steps(3);
    settle(&mut harness);
    assert!(shown(&harness).iter().all(|(figure, _)| figure != cools));
}

#[test]
fn the_help_is_there_for_a_file_with_slips_too() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("broken.ron");
    let text = fs::read_to_string(lesson("demo.ron")).unwrap();
    fs::write(&path, text.replace("recipe: \"whisked sponge\"", "recipe: \"wisk\"")).unwrap();
    let mut harness = demo();
    harness.state_mut().apply(LessonCommand::Open(path));
    harness.run_steps(5);
    key(&mut harness, Key::F1);
    assert!(says(&harness, "Where files are kept"));
    key(&mut harness, Key::Escape);
    assert!(says(&harness, "cannot be planned yet"));
}

#[test]
fn every_key_has_a_line_and_no_key_two_meanings() {
    let lines = lines();
    for (modifiers, key, command) in keys() {
        let has = lines.iter().filter(|l| l.keys.contains(&(modifiers, key))).count();
        assert!(has >= 1, "{command:?} is not listed");
        let same = keys().filter(|(m, k, _)| (*m, *k) == (modifiers, key)).count();
        assert_eq!(same, 1, "{key:?} stands for two commands");
    }
    for place in Where::ALL {
        let of: Vec<_> = lines.iter().filter(|l| l.place == place).collect();
        assert!(!of.is_empty(), "nothing is listed under {}", place.title());
        let keys: Vec<_> = of.iter().flat_map(|l| &l.keys).collect();
        for (i, key) in keys.iter().enumerate() {
            assert!(!keys[..i].contains(key), "{key:?} twice under {}", place.title());
        }
    }
    // What a part heeds by itself is no command's key, which would be heeded
    // in its stead.
    let of_commands: HashSet<_> = keys().map(|(m, k, _)| (m, k)).collect();
    let all: usize = lines.iter().map(|l| l.keys.len()).sum();
    let own = lines.iter().flat_map(|l| &l.keys).filter(|k| !of_commands.contains(k)).count();
    assert_eq!(all, own + keys().count());
    let said: HashSet<&str> = lines.iter().map(|l| l.does).collect();
    assert_eq!(said.len(), lines.len(), "two lines say the same");
}

#[test]
fn the_keys_come_and_go_by_their_own_keys() {
    let mut harness = demo();
    let shown = |harness: &Window| says(harness, "Close the keys");
    for (modifiers, open) in
        [(Modifiers::SHIFT, Key::Questionmark), (Modifiers::COMMAND, Key::Slash)]
    {
        harness.key_press_modifiers(modifiers, open);
        harness.run_steps(4);
        assert!(shown(&harness), "{open:?}");
        let heard = spoken(&harness);
        for line in lines() {
            assert!(heard.iter().any(|h| h.ends_with(&format!(": {}", line.does))), "{line:?}");
        }
        key(&mut harness, Key::Escape);
        assert!(!shown(&harness));
    }
    harness.key_press_modifiers(Modifiers::COMMAND, Key::Slash);
    harness.run_steps(4);
    press(&mut harness, "Close the keys");
    assert!(!shown(&harness));
    // In a field a question mark is a letter, and F1 still is help.
    harness.state_mut().apply(Command::SetUp(ovenbell::app::Page::Lesson));
    harness.run_steps(4);
    harness.get_by_label("Title").focus();
    harness.run_steps(4);
    harness.key_press_modifiers(Modifiers::SHIFT, Key::Questionmark);
    harness.event(egui::Event::Text("?".into()));
    harness.run_steps(4);
    assert!(!shown(&harness));
    assert!(harness.state().document().unwrap().file().title.ends_with('?'));
    key(&mut harness, Key::F1);
    assert!(says(&harness, "Leave help"));
}

#[test]
fn help_gives_way_to_what_is_asked_for() {
    let mut harness = demo();
    for command in [
        Command::Select(Selection::Group(GroupId(0))),
        Command::SetUp(ovenbell::app::Page::Groups),
        Command::Go(Place::Plan),
    ] {
        harness.state_mut().apply(Command::Help(Some(Topic::Verdicts)));
        harness.run_steps(3);
        assert!(says(&harness, "Proved impossible, even if every step went quickly."));
        harness.state_mut().apply(command);
        harness.run_steps(3);
        assert!(!says(&harness, "Proved impossible, even if every step went quickly."));
    }
}

#[test]
fn every_empty_list_says_how_to_add_its_first_entry() {
    let mut harness = demo();
    let mut file = harness.state().document().unwrap().file().clone();
    file.period.opening.clear();
    file.period.during.clear();
    file.period.closing.clear();
    file.groups.clear();
    file.locks.clear();
    file.adults.clear();
    file.room.ovens.clear();
    file.room.kit.0.clear();
    file.room.tins.0.clear();
    file.tins.clear();
    file.beforehand.clear();
    file.collected.clear();
    let recipe = &mut file.recipes[0];
    (recipe.ingredients, recipe.tins) = (Vec::new(), Vec::new());
    let method = &mut recipe.methods[0];
    (method.steps, method.links, method.holds) = (Vec::new(), Vec::new(), Vec::new());
    method.tin_held = None;
    file.recipes[1].methods.clear();
    for recipe in &mut file.recipes[1..] {
        for step in recipe.methods.iter_mut().flat_map(|m| &mut m.steps) {
            (step.may_be_beforehand, step.may_be_collected) = (false, false);
        }
    }
    let enter = |harness: &mut Window, file: &ovenbell::file::format::LessonFile| {
        let edit = Edit::Enter {
            what: "emptied".into(),
            at: ovenbell::finding::Path::root(),
            typing: false,
            file: Box::new(file.clone()),
        };
        harness.state_mut().apply(LessonCommand::Edit(edit));
        harness.run_steps(4);
    };
    enter(&mut harness, &file);
    let room_without = ovenbell::app::Page::Room(0);
    let pages = [
        (ovenbell::app::Page::Start, vec!["Choose one to start from"]),
        (
            ovenbell::app::Page::Lesson,
            vec![
                "None yet: add the register",
                "None yet: add what stops every group",
                "None yet: add the unit check",
                "More of a step allows it",
            ],
        ),
        (ovenbell::app::Page::Groups, vec!["No group yet: say above how many pupils"]),
        (
            room_without,
            vec![
                "No oven here yet: add one line",
                "None yet. Add what the recipes use",
                "The lesson has no kinds of tins yet",
            ],
        ),
        (ovenbell::app::Page::Tins, vec!["None yet: a recipe brings its own"]),
        (ovenbell::app::Page::Adults, vec!["Nobody yet: add the teacher"]),
        (
            ovenbell::app::Page::Recipe(0),
            vec![
                "Nothing yet. A recipe can be planned without",
                "No step yet: write the name",
                "None yet: add a tin for each way",
                "add it on the room's page",
            ],
        ),
        (ovenbell::app::Page::Recipe(1), vec!["No way of making it yet: add one"]),
    ];
    for (page, all) in pages {
        harness.state_mut().apply(Command::SetUp(page));
        harness.run_steps(4);
        for words in all {
            assert!(
                says(&harness, words),
                "{page:?} does not say {words:?}: {:?}",
                spoken(&harness)
            );
        }
    }
    // A recipe without a method gets one at a press.
    harness.get_by_label("Add a method").scroll_to_me();
    harness.run_steps(20);
    press(&mut harness, "Add a method");
    harness.run_steps(4);
    let methods = &harness.state().document().unwrap().file().recipes[1].methods;
    assert_eq!(methods.len(), 1);
    assert!(methods[0].steps.len() > 3);
    file.recipes.clear();
    enter(&mut harness, &file);
    harness.state_mut().apply(Command::SetUp(ovenbell::app::Page::Start));
    harness.run_steps(4);
    assert!(says(&harness, "Choose one or more. Each brings its steps, minutes and tins."));
}
