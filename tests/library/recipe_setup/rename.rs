//! Renaming: every reference follows, nothing else changes.

use ovenbell::file::format::{LessonFile, RoomShape};
use ovenbell::file::{lesson_or_findings, load_lesson, read_lesson, write_lesson};
use ovenbell::graph::expand;
use ovenbell::setup::rename::{Named, name_of, rename};

use crate::common::generate;

/// Everything in a lesson that has a name.
fn all(file: &LessonFile) -> Vec<Named> {
    let mut all = Vec::new();
    let mut kit: Vec<String> = file.shared_kit.0.iter().map(|(n, _)| n.clone()).collect();
    let rooms: Vec<&RoomShape> = file.rooms().collect();
    for (room, of) in rooms.iter().enumerate() {
        all.push(Named::Room(room));
        all.extend((0..of.ovens.len()).map(|oven| Named::Oven { room, unit: None, oven }));
        kit.extend(of.kit.0.iter().map(|(n, _)| n.clone()));
        for (unit, bay) in of.units.iter().enumerate() {
            all.push(Named::Unit { room, unit });
            let ovens = 0..bay.ovens.len();
            all.extend(ovens.map(|oven| Named::Oven { room, unit: Some(unit), oven }));
            kit.extend(bay.kit.0.iter().map(|(n, _)| n.clone()));
        }
    }
    kit.sort();
    kit.dedup();
    all.extend(kit.into_iter().map(Named::Kit));
    all.extend((0..=file.other_periods.len()).map(Named::Period));
    all.extend((0..file.adults.len()).map(Named::Adult));
    all.extend((0..file.groups.len()).map(Named::Group));
    all.extend((0..file.tins.len()).map(Named::TinKind));
    for (recipe, of) in file.recipes.iter().enumerate() {
        all.push(Named::Recipe(recipe));
        all.extend((0..of.tins.len()).map(|tin| Named::TinLabel { recipe, tin }));
        let mut steps = Vec::new();
        for (method, shape) in of.methods.iter().enumerate() {
            all.push(Named::Method { recipe, method });
            for (step, s) in shape.steps.iter().enumerate() {
                all.push(Named::Step { recipe, method, step });
                steps.push(s.name.clone());
            }
        }
        steps.sort();
        steps.dedup();
        all.extend(steps.into_iter().map(|step| Named::StepOfAll { recipe, step }));
    }
    all
}

const FRESH: &str = "quite another";

fn back(what: &Named) -> Named {
    match what {
        Named::Kit(_) => Named::Kit(FRESH.into()),
        Named::StepOfAll { recipe, .. } => Named::StepOfAll { recipe: *recipe, step: FRESH.into() },
        _ => what.clone(),
    }
}

/// What is planned, names apart.
fn problem(file: &LessonFile) -> String {
    let (lesson, findings) = lesson_or_findings(file, &[]);
    let lesson = lesson.unwrap_or_else(|| panic!("{findings:?}"));
    format!("{:?}", expand(&lesson))
}

/// There and back; the problem is looked at for each `every`-th thing.
fn there_and_back(file: &LessonFile, about: &str, every: usize) -> usize {
    let before = problem(file);
    let things = all(file);
    for (i, what) in things.iter().enumerate() {
        let mut renamed = file.clone();
        let old = name_of(file, what).expect(about);
        rename(&mut renamed, what, FRESH).unwrap_or_else(|e| panic!("{about} {what:?}: {e}"));
        assert_eq!(name_of(&renamed, &back(what)).as_deref(), Some(FRESH), "{about} {what:?}");
        if i % every == 0 {
            assert!(before == problem(&renamed), "{about} {what:?}: another problem");
        }
        rename(&mut renamed, &back(what), &old).unwrap_or_else(|e| panic!("{about} {what:?}: {e}"));
        assert!(renamed == *file, "{about} {what:?}: not what it was");
    }
    things.len()
}

#[test]
fn the_lessons_come_back_as_they_were() {
    let folder = format!("{}/lessons", env!("CARGO_MANIFEST_DIR"));
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "ron") {
            continue;
        }
        let file = load_lesson(&path).unwrap().file;
        assert!(there_and_back(&file, &path.display().to_string(), 3) > 20);
        seen += 1;
    }
    assert!(seen >= 11, "{seen}");
}

#[test]
fn generated_lessons_come_back_as_they_were() {
    let mut lessons = 0;
    for seed in 0..80 {
        let file = generate::lesson(seed);
        if lesson_or_findings(&file, &[]).0.is_none() {
            continue;
        }
        there_and_back(&file, &format!("seed {seed}"), 17);
        lessons += 1;
    }
    assert!(lessons >= 50, "{lessons} lessons of 80");
}

/// Everything that refers to anything, each name once where it is defined.
const WHOLE: &str = r#"(
    format: 2,
    period: (
        name: "before break", start: "10:00", end: "11:40",
        opening: [(name: "register", minutes: 3, adults: ["the teacher"])],
        during: [(name: "look", minutes: 1, between: (20, 60), adults: ["the teacher"])],
        closing: [(name: "leave", minutes: 2, adults: ["the teacher", "the helper"])],
    ),
    other_periods: [(name: "after break", start: "12:00", end: "13:40")],
    room: (
        name: "upstairs",
        ovens: [(name: "Tall oven", count: 2, kind: Fan)],
        kit: {"mixing bowl": 9, "basin": 4},
        units: [
            (name: "Window bay", ovens: [(name: "Low oven", kind: Fan)], kit: {"mixing bowl": 2}),
        ],
        tins: {"bun sheet": 6},
        out_of_order: ["Tall oven 2"],
    ),
    other_rooms: [(
        name: "downstairs",
        ovens: [(name: "Cellar oven", kind: Fan)],
        kit: {"basin": 2},
        units: [(name: "Window bay")],
    )],
    shared_kit: {"mixing bowl": 1},
    adults: [
        (name: "the teacher", room: "upstairs"),
        (name: "the helper", only_for: "Crew 2"),
    ],
    beforehand: ["measure"],
    collected: ["parcel"],
    recipes: [
        (
            name: "plain buns",
            methods: [
                (
                    name: "slow way",
                    steps: [
                        (name: "measure", minutes: 4, may_be_beforehand: true),
                        (name: "stir", minutes: 5, kit: {"mixing bowl": 1}),
                        (name: "spoon out", minutes: 2, after: ["stir"]),
                        (name: "oven", kind: Bake, after: ["spoon out"]),
                        (name: "stand", kind: Cool, minutes: 5),
                        (name: "parcel", minutes: 1, may_be_collected: true),
                        (name: "scrub", minutes: 5, after: ["spoon out"], kit: {"basin": 1}),
                    ],
                    links: [(from: "stir", to: "oven", longest: 20)],
                    holds: [(kit: "mixing bowl", from: "measure", to: "spoon out")],
                    tin_held: ("spoon out", "stand"),
                ),
                (
                    name: "quick way",
                    steps: [
                        (name: "measure", minutes: 4, may_be_beforehand: true),
                        (name: "beat", minutes: 2),
                        (name: "spoon out", minutes: 2),
                        (name: "oven", kind: Bake),
                        (name: "stand", kind: Cool, minutes: 5),
                        (name: "parcel", minutes: 1, may_be_collected: true),
                    ],
                ),
            ],
            tins: [
                (tin: "bun sheet", label: "twelve", celsius: 180, minutes: 14,
                 methods: ["slow way", "quick way"], step_minutes: {"spoon out": 3, "stand": 4}),
                (tin: "bun sheet", celsius: 190, minutes: 12),
                (tin: "deep form", celsius: 180, minutes: 30, methods: ["slow way"]),
            ],
        ),
    ],
    tins: [
        (name: "bun sheet", rim_mm: (350, 270), height_mm: 30),
        (name: "deep form", rim_mm: (200, 200), height_mm: 60),
    ],
    groups: [
        (name: "Crew", count: 3, recipe: "plain buns", room: "upstairs", unit: "Window bay",
         period: "before break", methods: ["slow way", "quick way"],
         tins: ["twelve", "bun sheet", "deep form"]),
        (name: "Late crew", recipe: "plain buns", room: "downstairs", unit: "Window bay",
         period: "after break", methods: ["slow way"], beforehand: ["measure"],
         collected: ["parcel"]),
    ],
    locks: [
        (group: "Crew 1", method: "slow way", step: "stir", at: 20),
        (group: "Crew 1", step: "oven", at: 40),
        (group: "Crew 3", tin: "twelve", oven: "Tall oven 1", shelf: 1),
        (group: "Late crew", tin: "deep form", oven: "Cellar oven"),
    ],
    teacher: [
        (at: "end bell", say: "Out."),
        (at: "start bell of after break", do: "Look at the ovens."),
        (at: "look", say: "Eyes here."),
        (at: "load Tall oven 1", say: "Gloves on."),
        (at: "take out Cellar oven", say: "Skewer first."),
        (at: "stir Crew 3", do: "Look at the spoon."),
        (at: "spoon out Crew 1", do: "Count them."),
        (at: "load Late crew", say: "Level."),
    ],
)"#;

fn whole() -> LessonFile {
    read_lesson(WHOLE).unwrap_or_else(|f| panic!("{f:?}")).file
}

#[test]
fn what_refers_to_everything_comes_back_as_it_was() {
    there_and_back(&whole(), "the whole", 1);
}

/// How often a name stands in a file as a text of its own.
fn times(file: &LessonFile, name: &str) -> usize {
    write_lesson(file).unwrap().matches(&format!("\"{name}\"")).count()
}

#[test]
fn no_reference_keeps_an_old_name() {
    let file = whole();
    for (what, stem, count) in [
        (Named::Room(0), "upstairs", 3),
        (Named::Room(1), "downstairs", 2),
        (Named::Period(0), "before break", 2),
        (Named::Adult(0), "the teacher", 4),
        (Named::Adult(1), "the helper", 2),
        (Named::Kit("mixing bowl".into()), "mixing bowl", 5),
        (Named::Kit("basin".into()), "basin", 3),
        (Named::TinKind(0), "bun sheet", 5),
        (Named::TinKind(1), "deep form", 4),
        (Named::Recipe(0), "plain buns", 3),
        (Named::Method { recipe: 0, method: 0 }, "slow way", 6),
        (Named::TinLabel { recipe: 0, tin: 0 }, "twelve", 3),
        (Named::StepOfAll { recipe: 0, step: "measure".into() }, "measure", 5),
        (Named::StepOfAll { recipe: 0, step: "parcel".into() }, "parcel", 4),
        (Named::StepOfAll { recipe: 0, step: "oven".into() }, "oven", 4),
        (Named::Step { recipe: 0, method: 0, step: 1 }, "stir", 4),
    ] {
        assert_eq!(times(&file, stem), count, "{stem}");
        let mut renamed = file.clone();
        rename(&mut renamed, &what, FRESH).unwrap();
        assert_eq!(times(&renamed, stem), 0, "{stem}");
        assert_eq!(times(&renamed, FRESH), count, "{stem}");
    }
}

#[test]
fn names_with_a_count_follow_one_by_one() {
    let mut file = whole();
    rename(&mut file, &Named::Group(0), "Team").unwrap();
    let of_locks: Vec<&str> = file.locks.iter().map(|l| l.group.as_str()).collect();
    assert_eq!(of_locks, ["Team 1", "Team 1", "Team 3", "Late crew"]);
    assert_eq!(file.adults[1].only_for.as_deref(), Some("Team 2"));
    rename(&mut file, &Named::Oven { room: 0, unit: None, oven: 0 }, "Big").unwrap();
    assert_eq!(file.room.out_of_order, ["Big 2"]);
    assert_eq!(file.locks[2].oven.as_deref(), Some("Big 1"));
    assert_eq!(file.locks[3].oven.as_deref(), Some("Cellar oven"));
}

#[test]
fn notes_follow_what_they_hang_on() {
    let at = |file: &LessonFile| -> Vec<String> {
        file.teacher.iter().map(|note| note.at.clone()).collect()
    };
    let mut file = whole();
    rename(&mut file, &Named::Period(1), "late").unwrap();
    rename(&mut file, &Named::Oven { room: 0, unit: None, oven: 0 }, "Big").unwrap();
    rename(&mut file, &Named::Oven { room: 1, unit: None, oven: 0 }, "Deep").unwrap();
    rename(&mut file, &Named::Group(0), "Team").unwrap();
    let step = |step| Named::Step { recipe: 0, method: 0, step };
    rename(&mut file, &step(1), "beat well").unwrap();
    // Team 1 may use another method that has a step of the old name.
    rename(&mut file, &step(2), "portion").unwrap();
    ovenbell::setup::rename::class_step(&mut file, 0, "look", "stop");
    assert_eq!(at(&file)[2], "look", "there is still a step of the class called so");
    file.period.during[0].name = "stop".into();
    ovenbell::setup::rename::class_step(&mut file, 0, "look", "stop");
    let expected = [
        "end bell",
        "start bell of late",
        "stop",
        "load Big 1",
        "take out Deep",
        "beat well Team 3",
        "spoon out Team 1",
        "load Late crew",
    ];
    assert_eq!(at(&file), expected);
    rename(&mut file, &Named::StepOfAll { recipe: 0, step: "spoon out".into() }, "fill").unwrap();
    assert_eq!(at(&file)[6], "fill Team 1");
    rename(&mut file, &Named::Group(1), "Last").unwrap();
    assert_eq!(at(&file)[7], "load Last");
}

#[test]
fn a_unit_is_renamed_in_its_own_room() {
    let mut file = whole();
    rename(&mut file, &Named::Unit { room: 1, unit: 0 }, "Cellar bay").unwrap();
    assert_eq!(file.groups[0].unit.as_deref(), Some("Window bay"));
    assert_eq!(file.groups[1].unit.as_deref(), Some("Cellar bay"));
    assert_eq!(file.room.units[0].name, "Window bay");
}

#[test]
fn a_step_of_one_method_leaves_those_of_others() {
    let mut file = whole();
    rename(&mut file, &Named::Step { recipe: 0, method: 0, step: 0 }, "weigh").unwrap();
    // Those of both methods are still done beforehand.
    assert_eq!(file.beforehand, ["measure", "weigh"]);
    // The late crew knows only the method that was changed.
    assert_eq!(file.groups[1].beforehand, ["weigh"]);
    assert_eq!(file.recipes[0].methods[1].steps[0].name, "measure");
    rename(&mut file, &Named::Step { recipe: 0, method: 0, step: 4 }, "rest").unwrap();
    let minutes = &file.recipes[0].tins[0].step_minutes.0;
    let names: Vec<&str> = minutes.iter().map(|(n, _)| n.as_str()).collect();
    assert_eq!(names, ["spoon out", "stand", "rest"]);
    assert_eq!(minutes[1].1, minutes[2].1);
    assert_eq!(file.recipes[0].methods[0].tin_held, Some(("spoon out".into(), "rest".into())));
}

#[test]
fn what_cannot_be_is_refused_and_changes_nothing() {
    let file = whole();
    let step = |method, step| Named::Step { recipe: 0, method, step };
    for (what, to, why) in [
        (Named::Room(0), "downstairs", "there is another room called downstairs"),
        (Named::Group(1), "Crew 2", "there is another group called Crew 2"),
        (Named::Oven { room: 1, unit: None, oven: 0 }, "Low oven", "another oven called Low oven"),
        (Named::Kit("basin".into()), "mixing bowl", "another kind of kit called mixing bowl"),
        (Named::TinKind(1), "bun sheet", "another tin called bun sheet"),
        (Named::TinLabel { recipe: 0, tin: 2 }, "bun sheet", "another tin of this recipe"),
        // The second way of baking has no label and would be called so too.
        (Named::TinKind(0), "twelve", "another tin of plain buns called twelve"),
        (Named::Method { recipe: 0, method: 1 }, "slow way", "another method called slow way"),
        (step(0, 0), "stir", "another step in this method called stir"),
        (step(0, 0), "take out", "has a step take out of its own"),
        (step(0, 3), "load", "has a step load of its own"),
        (step(0, 0), "  ", "needs a name"),
        (step(7, 0), "x", "not there any more"),
        (Named::Adult(9), "x", "not there any more"),
    ] {
        let mut renamed = file.clone();
        let told = rename(&mut renamed, &what, to).unwrap_err();
        assert!(told.contains(why), "{what:?}: {told}");
        assert!(renamed == file, "{what:?}");
    }
    // A lock that means steps of two methods cannot follow one of them.
    let mut file = file;
    file.locks[0].method = None;
    file.locks[0].step = Some("measure".into());
    let told = rename(&mut file.clone(), &step(0, 0), "weigh").unwrap_err();
    assert!(told.contains("measure is fixed for Crew 1"), "{told}");
    let all = Named::StepOfAll { recipe: 0, step: "measure".into() };
    rename(&mut file, &all, "weigh").unwrap();
    assert_eq!(file.locks[0].step.as_deref(), Some("weigh"));
}

#[test]
fn the_second_of_a_name_is_renamed_alone() {
    let mut file = whole();
    file.recipes.push(file.recipes[0].clone());
    rename(&mut file, &Named::Recipe(1), "other buns").unwrap();
    assert!(file.groups.iter().all(|g| g.recipe == "plain buns"));
    assert_eq!(file.recipes[1].name, "other buns");
    let twice = file.groups[1].clone();
    file.groups.push(twice);
    rename(&mut file, &Named::Group(2), "Last crew").unwrap();
    assert_eq!(file.locks[3].group, "Late crew");
}
