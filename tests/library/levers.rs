//! What the menu of changes offers: only what can be taken, bells last.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use ovenbell::change::{Alteration, Goal, Item, menu};
use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::edit::FileChange;
use ovenbell::file::format::{GroupShape, LessonFile};
use ovenbell::file::{lesson_of_shapes, load_lesson, write_lesson};
use ovenbell::model::{ChangeKind, Lesson, StepKind};
use ovenbell::planner::{Budget, plan_lesson};

fn lesson_file(name: &str) -> LessonFile {
    load_lesson(&Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name)).unwrap().file
}

fn plan(lesson: &Lesson) -> Arc<CheckedPlan> {
    let budget = Budget { within: None, decodings: Some(100), seed: 1 };
    let judge = |plan| judge_of(lesson)(plan).map(Arc::new);
    plan_lesson(lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap().judged
}

/// The menu of a lesson some of whose groups are left out.
fn offered(file: &LessonFile) -> Vec<Item> {
    let lesson = lesson_of_shapes(file, &[]).unwrap();
    menu((file, &lesson), &[], &plan(&lesson), Goal::Everyone)
}

/// The only item of a kind, and the lesson with it.
fn made(file: &LessonFile, kind: ChangeKind) -> (Item, LessonFile, Lesson) {
    let mut all = offered(file);
    all.retain(|item| item.kind == kind);
    assert_eq!(all.len(), 1, "{kind:?}: {all:?}");
    let item = all.remove(0);
    let changed = item.made(file).unwrap();
    let lesson = lesson_of_shapes(&changed, &[]);
    let lesson = lesson.unwrap_or_else(|f| panic!("{}: {f:?}", item.words));
    (item, changed, lesson)
}

/// In half an hour nobody is out by the bell.
fn in_half_an_hour(name: &str) -> LessonFile {
    let mut file = lesson_file(name);
    let start = ovenbell::units::ClockTime::parse(&file.period.start).unwrap();
    file.period.end = start.after(ovenbell::units::Minutes::new(30)).to_string();
    file.period.during.clear();
    file
}

#[test]
fn what_moves_a_bell_comes_last() {
    let bells = [ChangeKind::Longer, ChangeKind::TwoLessons];
    let others = ChangeKind::ALL.into_iter().filter(|k| !bells.contains(k));
    let dearest = others.map(ChangeKind::usual_cost).reduce(f64::max).unwrap();
    assert!(bells.into_iter().all(|bell| bell.usual_cost() > dearest));
    // Two changes within the bells, too, unless they are the dearest there are.
    let pair = ChangeKind::Collect.usual_cost() + ChangeKind::Recipe.usual_cost();
    assert!(bells.into_iter().all(|bell| bell.usual_cost() > pair));
}

#[test]
fn on_the_day_nothing_is_offered_that_belonged_to_yesterday() {
    let mut file = lesson_file("e-ginger-square.ron");
    let gone = [
        ChangeKind::OvensEarlier,
        ChangeKind::Beforehand,
        ChangeKind::Demo,
        ChangeKind::Recipe,
        ChangeKind::Longer,
        ChangeKind::TwoLessons,
    ];
    let before = offered(&file);
    assert!(before.iter().any(|i| i.kind == ChangeKind::Beforehand));
    assert!(before.iter().any(|i| i.kind == ChangeKind::Longer));
    file.today = Some(Default::default());
    let now = offered(&file);
    assert!(!now.is_empty());
    let late: Vec<&str> =
        now.iter().filter(|i| gone.contains(&i.kind)).map(|i| i.words.as_str()).collect();
    assert!(late.is_empty(), "{late:?}");
}

/// A teacher's own recipe often says nothing of gaps.
#[test]
fn what_powder_raises_does_not_wait_for_the_second_lesson() {
    let mut file = in_half_an_hour("f-lemon-creamed.ron");
    for method in file.recipes.iter_mut().flat_map(|r| &mut r.methods) {
        method.links.clear();
    }
    for item in offered(&file) {
        let Alteration::TwoLessons { recipe, method, first } = &item.what else { continue };
        let recipe = file.recipes.iter().find(|r| r.name == *recipe).unwrap();
        let method = recipe.methods.iter().find(|m| m.name == *method).unwrap();
        let wet = ["cream", "mix", "beat", "fold", "fill"];
        let left: Vec<&str> = method.steps[..*first]
            .iter()
            .map(|s| s.name.as_str())
            .filter(|name| wet.iter().any(|w| name.contains(w)))
            .collect();
        assert!(left.is_empty(), "{}: {left:?} is left wet", item.words);
    }
    // Dough that rises by yeast may wait in the cold.
    let rolls = in_half_an_hour("c-rolls-single.ron");
    assert!(offered(&rolls).iter().any(|i| i.kind == ChangeKind::TwoLessons));
}

#[test]
fn a_demo_or_plenary_is_kept_shorter() {
    let mut file = in_half_an_hour("demo.ron");
    file.period.opening[2].minutes = ovenbell::file::format::StatedMinutes::Three(4.0, 6.0, 9.0);
    let (item, changed, _) = made(&file, ChangeKind::Shorten);
    assert_eq!(item.words, "demo in 3 minutes instead of 6");
    assert!(item.asks.iter().any(|a| a.contains("goes wrong most")));
    let three = ovenbell::file::format::StatedMinutes::Three(2.0, 3.0, 4.5);
    assert_eq!(changed.period.opening[2].minutes, three);
}

#[test]
fn partners_share_what_two_can_do() {
    // The demo has its weighing done before the lesson; now it has not.
    let mut file = in_half_an_hour("demo.ron");
    file.beforehand.clear();
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let items = offered(&file);
    let items: Vec<&Item> = items.iter().filter(|i| i.kind == ChangeKind::SideBySide).collect();
    assert!(!items.is_empty());
    for item in items {
        let Alteration::SideBySide { recipe, steps } = &item.what else { panic!("{item:?}") };
        let changed = item.made(&file).unwrap();
        let now = lesson_of_shapes(&changed, &[]).unwrap();
        let id = lesson.recipes.iter().position(|r| r.name == *recipe).unwrap();
        let work = |l: &Lesson| -> f64 {
            let steps = l.recipes[id].methods.iter().flat_map(|m| &m.steps);
            steps.filter_map(|s| s.minutes).map(|m| m.usual().get()).sum()
        };
        assert!((work(&lesson) - work(&now)).abs() < 1e-9, "halves make the whole");
        let named = |l: &Lesson, name: &str| {
            l.recipes[id].methods.iter().flat_map(|m| &m.steps).filter(|s| s.name == name).count()
        };
        for step in steps {
            assert_eq!(named(&now, step), 0);
            assert_eq!(named(&now, &format!("{step}, one half")), named(&lesson, step));
        }
        assert!(write_lesson(&changed).is_ok());
    }
}

/// The demo lesson with a pupil by themselves.
fn with_one_alone() -> LessonFile {
    let mut file = in_half_an_hour("demo.ron");
    let like = file.groups[0].clone();
    let alone = GroupShape { name: "Alone".into(), count: None, pupils: Some(1), ..like };
    file.groups.push(alone);
    file.locks.clear();
    file
}

#[test]
fn the_one_pupil_alone_joins_a_pair_that_makes_the_same() {
    let file = with_one_alone();
    let pupils = |l: &Lesson| l.attending().map(|g| l.group(g).pupils).sum::<u32>();
    let before = lesson_of_shapes(&file, &[]).unwrap();
    let (item, _, lesson) = made(&file, ChangeKind::Join);
    assert_eq!(lesson.attending().count() + 1, before.attending().count());
    assert_eq!(pupils(&lesson), pupils(&before), "nobody is lost");
    assert!(item.asks[0].contains("3 pupils share one batch"), "{:?}", item.asks);
    // On the day the group stays in the list.
    let mut day = file.clone();
    day.today = Some(Default::default());
    let (_, changed, lesson) = made(&day, ChangeKind::Join);
    assert_eq!(lesson.groups.len(), before.groups.len());
    assert_eq!(changed.today.unwrap().joined.0[0].0, "Alone");
    // Who has needs of their own bakes alone.
    let mut needs = file.clone();
    needs.groups.last_mut().unwrap().needs = vec!["made without egg".into()];
    assert!(offered(&needs).iter().all(|i| i.kind != ChangeKind::Join));
}

#[test]
fn the_technician_finishes_a_bake_whose_recipe_does_not_say_so() {
    let mut file = in_half_an_hour("a-scones-hour.ron");
    for step in file.recipes.iter_mut().flat_map(|r| &mut r.methods).flat_map(|m| &mut m.steps) {
        step.may_be_collected = false;
    }
    file.collected.clear();
    if file.adults.iter().all(|a| a.name != "technician") {
        let name = "technician".to_owned();
        file.adults.push(ovenbell::file::format::AdultShape { name, ..Default::default() });
    }
    let (item, _, lesson) = made(&file, ChangeKind::Collect);
    assert!(item.asks[0].starts_with("The technician minds hot tins"), "{:?}", item.asks);
    let collected = &lesson.groups[0].collected;
    let steps = &lesson.recipes[lesson.groups[0].recipe.0].methods[0].steps;
    assert!(steps.iter().any(|s| collected.contains(&s.name) && s.kind == StepKind::Cool));
    // Pupils' own washing up is not left to others.
    assert!(collected.iter().all(|name| !name.contains("wash")), "{collected:?}");
}

#[test]
fn another_recipe_teaches_the_same_method() {
    let mut file = in_half_an_hour("a-scones-hour.ron");
    file.recipes[0].methods[0].name = "rubbing-in".into();
    for group in &mut file.groups {
        group.methods.clear();
    }
    for tin in &mut file.recipes[0].tins {
        tin.methods.clear();
    }
    let items = offered(&file);
    let items: Vec<&Item> = items.iter().filter(|i| i.kind == ChangeKind::Recipe).collect();
    assert!(!items.is_empty());
    let mut lessons = 0;
    for item in items {
        let Ok(lesson) = lesson_of_shapes(&item.made(&file).unwrap(), &[]) else { continue };
        lessons += 1;
        for g in lesson.attending() {
            let methods = &lesson.recipe_of(g).methods;
            assert!(methods.iter().all(|m| m.name == "rubbing-in"), "{}", item.words);
        }
        assert!(item.asks[0].contains("its labels"), "{:?}", item.asks);
    }
    assert!(lessons > 0, "none of them can be taken");
}

#[test]
fn two_of_a_tin_are_told_as_two() {
    let mut file = lesson_file("demo.ron");
    let way = file.recipes.iter_mut().flat_map(|r| &mut r.tins).find(|t| t.count == Some(2));
    let way = way.unwrap();
    let kind = way.tin.clone();
    let says = |file: &LessonFile| {
        let lesson = lesson_of_shapes(file, &[]).unwrap();
        let choices = lesson.recipes.iter().flat_map(|r| &r.tins);
        choices
            .filter(|c| c.count == 2 && lesson.tins[c.tin.0].name == kind)
            .map(|c| lesson.tin_in_words(c))
            .collect::<Vec<_>>()
    };
    way.label = None;
    for group in &mut file.groups {
        group.tins.clear();
    }
    assert_eq!(says(&file), [format!("2 × {kind}")]);
    let way = file.recipes.iter_mut().flat_map(|r| &mut r.tins).find(|t| t.count == Some(2));
    way.unwrap().label = Some("a pair of layers".into());
    assert_eq!(says(&file), ["a pair of layers"]);
}
