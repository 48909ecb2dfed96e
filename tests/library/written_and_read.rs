//! What is written can be read again and says the same.

use std::fs;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::common::cases::{cases, shown};
use crate::common::generate;
use ovenbell::change::{Goal, menu};
use ovenbell::check::{CheckedPlan, check};
use ovenbell::edit::FileChange;
use ovenbell::file::open_lesson::{OpenLesson, Over, Safekeeping};
use ovenbell::file::{
    backup_path, load_lesson, load_plan, merged, read_lesson, read_lesson_shapes, read_plan,
    write_lesson, write_plan,
};
use ovenbell::finding::Place;
use ovenbell::model::{
    AdultId, ClassStepId, GroupId, Lesson, MethodId, OvenId, PoolId, ShelfId, StepId, TinChoiceId,
    TinId,
};
use ovenbell::plan::why::By;
use ovenbell::plan::{
    Bounds, Choice, ClassPlacement, DoorWatch, KitUse, Load, NotServed, OvenSetting,
    Place as TinPlace, Plan, Refusal, Rule, StepPlacement, Stock,
};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::units::{Celsius, FineMillimetres, Minute};
use proptest::prelude::*;

#[test]
fn a_saved_lesson_is_the_same_lesson() {
    for (path, text) in cases("good") {
        let first = read_lesson(&text).unwrap();
        let written = write_lesson(&first.file).unwrap();
        let again = read_lesson(&written);
        let again =
            again.unwrap_or_else(|f| panic!("{}: {}\n{written}", path.display(), shown(&f)));
        assert_eq!(again.file, first.file, "{written}");
        assert_eq!(again.lesson, first.lesson);
        assert_eq!(write_lesson(&again.file).unwrap(), written, "written twice, it is the same");
        assert!(written.starts_with("(\n    format: 2,\n"), "{written}");
        assert!(written.lines().all(|l| l.chars().count() <= 120), "{written}");
        assert_eq!(merged(&text, &first.file).unwrap(), text, "nothing changed, nothing written");
    }
}

#[test]
fn saving_keeps_what_was_there() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.ron");
    let (_, text) = cases("good").into_iter().find(|(p, _)| p.ends_with("scones.ron")).unwrap();
    fs::write(&path, &text).unwrap();
    let mut file = load_lesson(&path).unwrap().file;
    file.title = "Scones again".into();
    let text: Arc<str> = Arc::from(text);
    let mut care = OpenLesson::open(&Safekeeping::default(), &path).unwrap().care;
    care.save(&text, &file, Over::Nothing).unwrap();
    assert_eq!(fs::read_to_string(backup_path(&path)).unwrap(), *text);
    assert_eq!(load_lesson(&path).unwrap().lesson.title, "Scones again");
    let comment = |text: &str| text.lines().next().unwrap().to_owned();
    assert_eq!(comment(&fs::read_to_string(&path).unwrap()), comment(&text));
    let nowhere = folder.path().join("no/folder.ron");
    let refused = care.save_as(&nowhere, &text, &file, Over::Nothing).unwrap_err().to_string();
    assert!(refused.contains("is not there"), "{refused}");
}

/// Whatever change of the menu is made to a lesson written by hand, what it is
/// not about stays to the letter.
#[test]
fn changes_are_written_into_the_text_as_it_is() {
    for name in ["e-ginger-square", "f-lemon-creamed", "d-sponges-gas", "g-whisks-ten"] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("lessons/{name}.ron"));
        let text = fs::read_to_string(path).unwrap();
        let read = read_lesson(&text).unwrap();
        let budget = Budget { within: None, decodings: Some(50), seed: 1 };
        let judge = |plan| check(&read.lesson, plan).map_err(|b| format!("{b:?}"));
        let on = |_: &CheckedPlan| ControlFlow::Continue(());
        let stop = AtomicBool::new(false);
        let plan = plan_until(&read.lesson, &budget, &stop, judge, on).unwrap().judged;
        let items = menu((&read.file, &read.lesson), &[], &plan, Goal::Everyone);
        assert!(items.len() > 10, "{name}: {}", items.len());
        for item in items {
            let mut file = read.file.clone();
            assert!(item.apply(&mut file).is_ok(), "{name}: {}", item.words);
            let new = merged(&text, &file).unwrap();
            assert_eq!(read_lesson(&new).unwrap().file, file, "{name}: {}", item.words);
            // The head of the file is a comment of several lines; and most of
            // what follows is as it was.
            let kept = text.lines().filter(|l| new.lines().any(|n| n == *l)).count();
            assert!(new.starts_with("// ") && 2 * kept > text.lines().count(), "{new}");
        }
    }
}

/// A finding is shown where its group stands, and a change is written there,
/// whatever the lesson and with comments over groups.
#[test]
fn places_and_changes_are_where_the_reader_finds_them() {
    let mut commented = 0;
    for seed in 0..60 {
        let mut file = generate::lesson(seed);
        file.groups.iter_mut().enumerate().for_each(|(i, g)| g.name = format!("of number {i}"));
        let plain = write_lesson(&file).unwrap();
        let text = plain.replace("(name: \"of number", "// (\"all\",\n        (name: \"of number");
        let comments = text.matches("// (").count();
        // A long entry begins on a line of its own and gets none.
        commented += comments;
        assert_eq!(merged(&text, &file).unwrap(), text);
        for i in 0..file.groups.len() {
            let mut changed = file.clone();
            changed.groups[i].recipe = "no such recipe".into();
            let new = merged(&text, &changed).unwrap();
            assert_eq!(read_lesson_shapes(&new).unwrap(), changed);
            assert_eq!(new.matches("// (").count(), comments, "{new}");
            let at = new.find("recipe: \"no such recipe\"").unwrap();
            let line = new[..at].matches('\n').count() + 1;
            let column = new[..at].chars().rev().take_while(|c| *c != '\n').count() + 1;
            let findings = read_lesson(&new).unwrap_err();
            let found = findings.iter().find(|f| f.path.to_string().ends_with(".recipe")).unwrap();
            assert_eq!(found.path.to_string(), format!("groups[{i}].recipe"));
            assert_eq!(found.place, Some(Place { line, column }), "{new}");
        }
    }
    assert!(commented > 100, "only {commented} groups had a comment");
}

fn lesson() -> Lesson {
    let mut all = cases("good");
    all.retain(|(path, _)| path.ends_with("two_rooms.ron"));
    read_lesson(&all[0].1).unwrap().lesson
}

/// A plan that speaks of everything, sensible or not.
fn plan() -> impl Strategy<Value = Plan> {
    let lesson = lesson();
    let minute = || (-60..200_i32).prop_map(Minute::new);
    let group = || (0..2_usize).prop_map(GroupId);
    let oven = || (0..5_usize).prop_map(OvenId);
    let celsius = || (50.0..300.0_f64).prop_map(|c| Celsius::new(c).unwrap());
    let choices = (0..2_usize, prop::option::of(0..2_usize)).prop_map(|(method, tin)| {
        let choice =
            |g| Choice { group: GroupId(g), method: MethodId(method), tin: tin.map(TinChoiceId) };
        vec![choice(0), choice(1)]
    });
    let step = (
        group(),
        0..5_usize,
        minute(),
        minute(),
        prop::collection::vec(0..3_u32, 0..3),
        prop::option::of(0..3_usize),
    )
        .prop_map(|(group, step, start, end, pupils, adult)| StepPlacement {
            group,
            step: StepId(step),
            start,
            end,
            pupils,
            adult: adult.map(AdultId),
        });
    let load = (
        group(),
        0..3_u32,
        oven(),
        0..4_usize,
        (minute(), minute()),
        celsius(),
        (-400..40_000, 0..40_000, any::<bool>(), any::<bool>()),
    )
        .prop_map(
            |(group, number, oven, shelf, (start, end), celsius, (x, y, turned, round))| Load {
                group,
                number,
                oven,
                shelf: ShelfId(shelf),
                start,
                end,
                celsius,
                place: if round {
                    TinPlace::Centre {
                        x: FineMillimetres::hundredths(x),
                        y: FineMillimetres::hundredths(y),
                    }
                } else {
                    TinPlace::Corner {
                        x: FineMillimetres::whole(x / 100),
                        y: FineMillimetres::whole(y / 100),
                        turned,
                    }
                },
            },
        );
    let pools = lesson.kit_pools.len();
    let stock = prop_oneof![
        (0..pools).prop_map(|p| Stock::Kit(PoolId(p))),
        (0..3_usize).prop_map(|t| Stock::Tin(TinId(t))),
    ];
    let used = (group(), stock, prop::collection::vec(0..9_u32, 1..4), minute(), minute())
        .prop_map(|(group, of, items, start, end)| KitUse { group, of, items, start, end });
    let class = (0..lesson.class_steps.len(), minute(), minute())
        .prop_map(|(step, start, end)| ClassPlacement { step: ClassStepId(step), start, end });
    let setting = (oven(), celsius(), minute(), minute(), minute()).prop_map(
        |(oven, celsius, set_at, hot_from, until)| OvenSetting {
            oven,
            celsius,
            set_at,
            hot_from,
            until,
        },
    );
    let watch = (oven(), minute(), 0..3_usize).prop_map(|(oven, minute, adult)| DoorWatch {
        oven,
        minute,
        adult: AdultId(adult),
    });
    let refusal = prop_oneof![
        Just(Refusal::Cannot),
        Just(Refusal::CannotAll),
        Just(Refusal::NotFound),
        Just(Refusal::LeftOut)
    ];
    let by = prop::sample::select(By::ALL.to_vec());
    let rules = prop::sample::subsequence(vec![Rule::Bell, Rule::Period, Rule::DoorHands], 0..3);
    let not_served =
        (refusal, by, rules, "[a-z \"\\\\\n]{0,30}").prop_map(|(refusal, by, rules, reason)| {
            NotServed { group: GroupId(3), refusal, by, rules, reason }
        });
    let bounds = prop::option::of((any::<u32>(), any::<u64>(), any::<i32>()).prop_map(
        |(served_at_most, departures_at_least, shortfall_at_least)| Bounds {
            served_at_most,
            departures_at_least,
            shortfall_at_least,
        },
    ));
    let some = 0..4_usize;
    (
        choices,
        prop::collection::vec(step, some.clone()),
        prop::collection::vec(load, some.clone()),
        prop::collection::vec(used, some.clone()),
        prop::collection::vec(class, some.clone()),
        prop::collection::vec(setting, some.clone()),
        prop::collection::vec(watch, some.clone()),
        prop::collection::vec(not_served, some),
        bounds,
    )
        .prop_map(
            |(
                choices,
                steps,
                loads,
                uses,
                class_steps,
                settings,
                door_watches,
                not_served,
                bounds,
            )| Plan {
                choices,
                steps,
                loads,
                uses,
                class_steps,
                settings,
                door_watches,
                not_served,
                bounds,
            },
        )
}

proptest! {
    #[test]
    fn a_plan_is_read_as_it_was_written(plan in plan()) {
        let lesson = lesson();
        let text = write_plan(&lesson, &plan);
        match read_plan(&lesson, &text) {
            Ok(again) => prop_assert_eq!(&again, &plan, "{}", text),
            Err(findings) => prop_assert!(false, "{}\n{}", shown(&findings), text),
        }
        // Positions that are nowhere are written, and refused when read.
        let mut astray = plan;
        astray.choices.push(Choice { group: GroupId(99), method: MethodId(9), tin: None });
        let refused = read_plan(&lesson, &write_plan(&lesson, &astray)).unwrap_err();
        prop_assert!(refused.iter().all(|f| f.code == "unknown-name"));
    }
}

#[test]
fn names_that_a_lesson_does_not_know_are_found_in_its_plan() {
    let lesson = lesson();
    let text = r##"(
    format: 1,
    choices: [(group: "Ambre", method: "creaming"), (group: "Amber", method: "creeming", tin: "12 bun")],
    steps: [(group: "Basil 1", step: "#9", start: 0, end: 3, adult: "nobody")],
    loads: [(group: "Amber", number: 0, oven: "Oven", shelf: 1, start: 1, end: 2, celsius: NaN, x_mm: 0, y_mm: 0)],
    uses: [
        (group: "Amber", kit: "hob ring", room: "Room 4", items: [1], start: 0, end: 4),
        (group: "Amber", items: [1], start: 0, end: 4),
    ],
    class_steps: [(period: "third", step: "taster", start: 0, end: 4)],
    not_served: [(group: "Amber", refusal: Cannot, rules: ["belle"])],
)"##;
    let findings = read_plan(&lesson, text).unwrap_err();
    let found: Vec<String> = findings
        .iter()
        .map(|f| format!("{} {}", f.place.map(|p| p.to_string()).unwrap_or_default(), f.code))
        .collect();
    let expected = [
        "3:16 unknown-name",
        "3:70 unknown-name",
        "3:90 unknown-name",
        "4:32 unknown-name",
        "4:62 unknown-name",
        "5:30 count",
        "5:41 unknown-name",
        "5:83 not-a-number",
        "7:26 unknown-name",
        "8:9 use-of-what",
        "10:37 unknown-name",
        "11:60 unknown-name",
    ];
    assert_eq!(found, expected, "{}", shown(&findings));

    for (broken, code) in [
        ("(format: 2, later: 1)", "newer-format"),
        ("()", "no-format"),
        ("(format: 1, step: [])", "unknown-field"),
        ("(format: 1, steps: [", "syntax"),
    ] {
        assert_eq!(read_plan(&lesson, broken).unwrap_err()[0].code, code);
    }
}

#[test]
fn minutes_weeks_away_are_found_in_a_plan() {
    let lesson = lesson();
    let far = [i32::MIN, -40_321, 40_321, i32::MAX];
    let places = [
        r##"class_steps: [(period: "#1", step: "#1", start: START, end: END)]"##,
        r##"choices: [(group: "#1", method: "#1")],
            steps: [(group: "#1", step: "#1", start: START, end: END)]"##,
        r##"loads: [(group: "#1", number: 1, oven: "#1", shelf: 1, start: START, end: END,
            celsius: 180, x_mm: 0, y_mm: 0)]"##,
        r##"uses: [(group: "#1", tin: "#1", items: [1], start: START, end: END)]"##,
        r##"settings: [(oven: "#1", celsius: 180, set_at: START, hot_from: 0, until: END)]"##,
        r##"settings: [(oven: "#1", celsius: 180, set_at: 0, hot_from: START, until: END)]"##,
        r##"door_watches: [(oven: "#1", adult: "#1", minute: START),
            (oven: "#1", adult: "#1", minute: END)]"##,
    ];
    for place in places {
        let with = |start: i32, end: i32| {
            let place = place.replace("START", &start.to_string());
            format!("(format: 1, {})", place.replace("END", &end.to_string()))
        };
        read_plan(&lesson, &with(-40_320, 40_320)).unwrap_or_else(|f| panic!("{}", shown(&f)));
        for minute in far {
            for text in [with(minute, 0), with(0, minute)] {
                let findings = read_plan(&lesson, &text).unwrap_err();
                let codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
                assert_eq!(codes, ["out-of-range"], "{text}\n{}", shown(&findings));
                let at = findings[0].place.unwrap();
                let line = text.lines().nth(at.line - 1).unwrap();
                let entry: String = line.chars().skip(at.column - 1).collect();
                let value = entry.split_once(": ").unwrap().1;
                assert!(value.starts_with(&minute.to_string()), "{entry} in {text}");
            }
        }
    }
}

#[test]
fn a_plan_is_loaded_from_its_file() {
    let lesson = lesson();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("plan.ron");
    assert!(load_plan(&path, &lesson).is_err());
    fs::write(&path, write_plan(&lesson, &Plan::default())).unwrap();
    assert_eq!(load_plan(&path, &lesson).unwrap(), Plan::default());
}
