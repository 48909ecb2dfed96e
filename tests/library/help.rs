//! What an adult's help would have to bring so that all are out: the least that does, and
//! adults who are free for it by a count from the plan alone.

use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use crate::common::generate;
use crate::common::how_many::how_many_lessons;
use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::edit::FileChange;
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson};
use ovenbell::model::{AdultId, FactKind, GroupId, Lesson, Slip, StepKind};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::play::{MadeUp, outlook};
use ovenbell::today::{Help, Standing, Tell, helps, start_of_day};
use ovenbell::units::{Minute, Minutes};
use ovenbell::view::day::help_words;

fn planned(lesson: &Lesson) -> CheckedPlan {
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let never = AtomicBool::new(false);
    let budget = Budget { within: None, decodings: Some(200), seed: 1 };
    plan_until(lesson, &budget, &never, judge_of(lesson), on).unwrap().judged
}

fn sample() -> LessonFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    load_lesson(&path).unwrap().file
}

/// A group told to be late, at a minute by so many.
#[derive(Debug, Clone, Copy)]
struct Late {
    group: GroupId,
    at: i32,
    late: i32,
}

/// The lesson in which that was told, and how it stands.
fn told(file: &LessonFile, plan: &CheckedPlan, of: Late) -> (Lesson, Standing) {
    let lesson = lesson_of_shapes(file, &[]).unwrap();
    let at = lesson.periods[0].start_clock.after(Minutes::new(of.at));
    let name = lesson.group(of.group).name.clone();
    let what = FactKind::Late(Minutes::new(of.late));
    let day = Tell { group: &name, what, at, past: &[] }.made(file).unwrap();
    let lesson = lesson_of_shapes(&day, &[]).unwrap();
    let facts = &lesson.today.as_ref().unwrap().facts;
    let standing = Standing::of(&lesson, plan, facts, Minute::new(of.at));
    (lesson, standing)
}

/// Whether the plan, a step of it with a group, at a door or with the class, has an adult at
/// a minute, or they are not there.
fn is_taken(lesson: &Lesson, plan: &CheckedPlan, adult: AdultId, minute: i32) -> bool {
    let plan = plan.plan();
    let at = |from: Minute, until: Minute| from.get() <= minute && minute < until.get();
    let of = &lesson.adults[adult.0];
    !of.hours.iter().any(|&(from, until)| at(from, until))
        || plan.steps.iter().any(|s| s.adult == Some(adult) && at(s.start, s.end))
        || plan.door_watches.iter().any(|w| w.adult == adult && w.minute.get() == minute)
        || plan
            .class_steps
            .iter()
            .any(|c| lesson.class_steps[c.step.0].adults.contains(&adult) && at(c.start, c.end))
}

/// Whether all would be out had the group been so much less late all along.
fn was_less_late(lesson: &Lesson, plan: &CheckedPlan, standing: &Standing, help: &Help) -> bool {
    let less = |s: &Slip| Slip { late: s.late - help.made_up.gain, ..*s };
    let slips: Vec<Slip> = standing.slips.iter().map(less).collect();
    outlook(lesson, plan, &slips, standing.now).iter().all(|group| group.is_out())
}

/// Minutes of a group's hand work by its plan, as late as it is, from now until then.
fn hands(lesson: &Lesson, plan: &CheckedPlan, of: Late, until: Minute) -> i32 {
    let method = lesson.method_of(of.group, plan.plan().choice(of.group).unwrap().method);
    let steps = plan.plan().steps.iter().filter(|s| s.group == of.group);
    let hand = steps.filter(|s| method.steps[s.step.0].kind == StepKind::Hand);
    let spans: Vec<_> = hand.map(|s| (s.start.get(), s.end.get() + of.late)).collect();
    let at = |minute: &i32| spans.iter().any(|&(from, until)| from <= *minute && *minute < until);
    (of.at..until.get()).filter(at).count() as i32
}

fn holds(lesson: &Lesson, plan: &CheckedPlan, standing: &Standing, of: Late, help: &Help) {
    let about = format!("{of:?}: {help:?}");
    let Help { made_up, by, free } = help;
    assert_eq!(made_up.group, of.group, "{about}");
    let gain = made_up.gain.get();
    assert!(1 <= gain && gain <= of.late, "{about}");
    assert!(standing.now < *by, "{about}: too late");
    for more in gain..=of.late {
        let more = MadeUp { gain: Minutes::new(more), ..*made_up };
        assert!(more.is_enough(lesson, plan, standing), "{about}: {more:?} is not enough");
    }
    let less = MadeUp { gain: Minutes::new(gain - 1), ..*made_up };
    assert!(!less.is_enough(lesson, plan, standing), "{about}: less is enough");
    let work = hands(lesson, plan, of, *by + made_up.gain);
    assert!(gain < work, "{about}: {work} minutes of hand work");
    assert!(!free.is_empty(), "{about}: nobody is free");
    for free in free {
        assert!(standing.now <= free.from && free.until <= *by, "{about}");
        assert!(made_up.gain <= free.until - free.from, "{about}: {free:?} is too short");
        let may = lesson.group(of.group).may_have(of.group, free.adult, &lesson.adults);
        assert!(may, "{about}: {free:?}");
        let mut minutes = free.from.get()..free.until.get();
        assert!(!minutes.any(|m| is_taken(lesson, plan, free.adult, m)), "{about}: {free:?}");
    }
}

#[test]
fn what_help_would_have_to_bring_is_the_least_and_somebody_is_free_for_it() {
    let (mut asked, mut offered, mut part, mut as_if_less_late) = (0, 0, 0, 0);
    let generated = (0..how_many_lessons(20)).map(generate::lesson);
    for file in std::iter::once(sample()).chain(generated) {
        let file = start_of_day(&file);
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let plan = planned(&lesson);
        let end = lesson.periods[0].end.get();
        for choice in plan.plan().choices.iter().step_by(2) {
            for at in (3..end - 5).step_by(8) {
                for late in [3, 6, 11] {
                    let of = Late { group: choice.group, at, late };
                    let (lesson, standing) = told(&file, &plan, of);
                    let found = helps(&lesson, &plan, &standing);
                    if standing.all_out() {
                        assert!(found.is_empty(), "{of:?}: nothing is asked");
                        continue;
                    }
                    asked += 1;
                    assert!(found.len() <= 1, "{of:?}: only one group is behind");
                    for help in &found {
                        holds(&lesson, &plan, &standing, of, help);
                        offered += 1;
                        let as_if = was_less_late(&lesson, &plan, &standing, help);
                        as_if_less_late += usize::from(as_if);
                        part += usize::from(help.made_up.gain.get() < late);
                    }
                }
            }
        }
    }
    println!("{asked} asked, {offered} offered, {part} of them less than all");
    // It is sooner then at other steps too, and doors are open at other minutes.
    assert!(as_if_less_late * 20 >= offered * 19, "{as_if_less_late} of {offered}");
    assert!(offered > 30 && part > 10 && offered < asked, "{asked}, {offered}, {part}");
}

#[test]
fn help_is_told_with_what_it_must_bring_and_who_is_free() {
    let file = start_of_day(&sample());
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let plan = planned(&lesson);
    let groups = plan.plan().choices.iter().map(|choice| choice.group);
    let cases = groups.flat_map(|group| {
        (10..30).flat_map(move |at| (2..12).map(move |late| Late { group, at, late }))
    });
    let mut told = cases.filter_map(|of| {
        let (lesson, standing) = told(&file, &plan, of);
        let help = helps(&lesson, &plan, &standing).pop()?;
        let words = help_words(&lesson, &help);
        Some((lesson, help, words))
    });
    let (lesson, help, words) = told.next().expect("help is offered in none of these");
    let clock = |at: Minute| lesson.periods[0].start_clock.after(at - Minute::BELL).to_string();
    let name = &lesson.group(help.made_up.group).name;
    assert!(
        words.starts_with(&format!("An adult to {name}: all are out if it makes up ")),
        "{words}"
    );
    assert!(words.contains(&format!(" by {}. The ", clock(help.by))), "{words}");
    let first = help.free[0];
    let adult = &lesson.adults[first.adult.0].name;
    let free = format!("The {adult} is free {} to {}", clock(first.from), clock(first.until));
    assert!(words.contains(&free) && words.ends_with('.'), "{words}");
}
