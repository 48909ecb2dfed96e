//! The lessons that come with the program are read, and their sums are right.

use std::fs;
use std::path::Path;

use ovenbell::file::format::{
    GroupShape, LessonFile, MethodShape, PeriodShape, StatedMinutes, StepKindShape, TinChoiceShape,
};
use ovenbell::file::load_lesson;
use ron::Options;
use ron::extensions::Extensions;

const NAMES: [&str; 10] = [
    "a-scones-hour",
    "b-rolls-double",
    "c-rolls-single",
    "d-sponges-gas",
    "e-ginger-buns",
    "e-ginger-square",
    "f-lemon-all-in-one",
    "f-lemon-creamed",
    "g-whisks-eighteen",
    "g-whisks-ten",
];

fn lesson(name: &str) -> LessonFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(format!("{name}.ron"));
    let text = fs::read_to_string(&path).unwrap();
    let options = Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    options.from_str(&text).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// Quick and usual minutes.
type Two = (f64, f64);

fn two(minutes: &StatedMinutes) -> Two {
    match *minutes {
        StatedMinutes::Usual(usual) => (0.75 * usual, usual),
        StatedMinutes::Three(quick, usual, _) => (quick, usual),
        StatedMinutes::ByBand(_) => panic!("these lessons state the minutes of their own class"),
    }
}

fn plus(a: Two, b: Two) -> Two {
    (a.0 + b.0, a.1 + b.1)
}

fn most(a: Two, b: Two) -> Two {
    (a.0.max(b.0), a.1.max(b.1))
}

fn step_minutes(method: &MethodShape, at: usize, tin: &TinChoiceShape) -> Two {
    let step = &method.steps[at];
    tin.step_minutes
        .0
        .iter()
        .find(|(name, _)| *name == step.name)
        .map(|(_, minutes)| two(minutes))
        .unwrap_or_else(|| two(step.minutes.as_ref().unwrap()))
}

/// Lengths of the longest chain of a group's steps up to the start of the
/// loading, and from there to its end, quick and usual, each by itself.
fn chain(lesson: &LessonFile, tin: &TinChoiceShape) -> (Two, Two) {
    let recipe = &lesson.recipes[0];
    let method = &recipe.methods[0];
    let beforehand = |name: &String| lesson.beforehand.contains(name);
    let mut ends: Vec<Two> = Vec::new();
    let (mut loaded, mut last) = ((0.0, 0.0), (0.0, 0.0));
    for (at, step) in method.steps.iter().enumerate() {
        let before: Vec<usize> = match &step.after {
            Some(names) => names
                .iter()
                .map(|n| method.steps[..at].iter().position(|s| s.name == *n).unwrap())
                .collect(),
            None => at.checked_sub(1).into_iter().collect(),
        };
        let start = before.into_iter().map(|b| ends[b]).fold((0.0, 0.0), most);
        let end = if beforehand(&step.name) {
            start
        } else if step.kind == StepKindShape::Bake {
            loaded = start;
            let load = two(recipe.bake.load.as_ref().unwrap());
            let out = two(recipe.bake.take_out.as_ref().unwrap());
            plus(plus(plus(start, load), two(tin.minutes.as_ref().unwrap())), out)
        } else {
            plus(start, step_minutes(method, at, tin))
        };
        ends.push(end);
        last = most(last, end);
    }
    (loaded, (last.0 - loaded.0, last.1 - loaded.1))
}

fn opening(period: &PeriodShape) -> Two {
    period.opening.iter().map(|s| two(&s.minutes)).fold((0.0, 0.0), plus)
}

fn closing(period: &PeriodShape) -> Two {
    period.closing.iter().map(|s| two(&s.minutes)).fold((0.0, 0.0), plus)
}

/// When a group is ready that waits for nothing, plus the closing steps.
fn whole(lesson: &LessonFile, tin: usize) -> Two {
    let (up_to, from) = chain(lesson, &lesson.recipes[0].tins[tin]);
    plus(plus(opening(&lesson.period), up_to), plus(from, closing(&lesson.period)))
}

#[test]
fn every_lesson_is_read() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons");
    let there: Vec<_> = fs::read_dir(folder).unwrap().map(|e| e.unwrap().file_name()).collect();
    for name in NAMES {
        assert!(there.iter().any(|f| f.to_str() == Some(&format!("{name}.ron"))), "{name}");
        let lesson = lesson(name);
        assert_eq!(lesson.format, 2);
        assert_eq!(lesson.recipes.len(), 1, "{name}");
        assert_eq!(lesson.recipes[0].methods.len(), 1, "{name}");
    }
}

/// Every lesson passes all that is checked when a file is opened, and nothing
/// in it is even worth a remark.
#[test]
fn nothing_is_found_wrong_with_a_lesson() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons");
    for name in NAMES {
        let loaded = load_lesson(&folder.join(format!("{name}.ron")))
            .unwrap_or_else(|findings| panic!("{name}: {findings:#?}"));
        assert!(loaded.warnings.is_empty(), "{name}: {:#?}", loaded.warnings);
    }
}

/// Hand sums of the trade: own scenarios, minutes of common practice, worked
/// out with pencil and paper before the lessons were written.
#[test]
fn chains_come_to_the_hand_sums() {
    for (name, quick, usual) in [
        ("a-scones-hour", None, Some(53.5)), // the sum takes 2 for boxing: 54
        ("b-rolls-double", None, Some(90.0)),
        ("e-ginger-square", Some(51.5), Some(64.5)),
        ("e-ginger-buns", None, Some(43.5)),
        ("f-lemon-creamed", Some(53.5), Some(67.5)), // 2 for boxing: 68
        ("f-lemon-all-in-one", None, Some(57.5)),    // 2 for boxing: 58
        ("g-whisks-ten", None, Some(56.5)),          // 2 for boxing: 57
        ("g-whisks-eighteen", None, Some(56.5)),     // 2 for boxing: 57
    ] {
        let sum = whole(&lesson(name), 0);
        assert!(quick.is_none_or(|q| q == sum.0), "{name}: quick {}", sum.0);
        assert!(usual.is_none_or(|u| u == sum.1), "{name}: usual {}", sum.1);
    }
    let rolls = lesson("c-rolls-single");
    let minis =
        rolls.recipes[0].tins.iter().position(|t| t.label.as_deref() == Some("12 mini rolls"));
    assert_eq!(whole(&rolls, minis.unwrap()).0, 55.0);
}

#[test]
fn five_turns_of_sponges_take_65_quick_minutes() {
    let lesson = lesson("d-sponges-gas");
    let recipe = &lesson.recipes[0];
    let places: i64 =
        lesson.room.ovens.iter().map(|o| o.count.unwrap_or(1) * o.shelves.unwrap()).sum();
    let pupils: i64 = lesson.groups.iter().map(|g: &GroupShape| g.count.unwrap_or(1)).sum();
    assert_eq!((places, pupils), (4, 20));
    let turns = (pupils + places - 1) / places;
    let load = two(recipe.bake.load.as_ref().unwrap()).0;
    let out = two(recipe.bake.take_out.as_ref().unwrap()).0;
    let ends = recipe.tins.iter().map(|tin| {
        let (up_to, from) = chain(&lesson, tin);
        let first_in = opening(&lesson.period).0 + up_to.0 + load;
        let turn = two(tin.minutes.as_ref().unwrap()).0 + out + load;
        assert_eq!(first_in, 13.5);
        let waited = f64::from(i32::try_from(turns - 1).unwrap()) * turn;
        first_in - load + waited + from.0 + closing(&lesson.period).0
    });
    assert_eq!(ends.fold(f64::INFINITY, f64::min), 65.0);
}
