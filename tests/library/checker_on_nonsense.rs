//! Whatever a plan holds, the checker answers and never panics.

use std::collections::BTreeSet;

use crate::common::rich::*;
use ovenbell::check::check;
use ovenbell::model::*;
use ovenbell::plan::*;
use ovenbell::units::*;
use proptest::prelude::*;

const EXTREMES: [i32; 5] = [i32::MIN, i32::MAX, 0, -1, 1];

#[test]
fn extreme_minutes_everywhere_are_refused() {
    let lesson = Lesson::new(parts()).unwrap();
    for start in EXTREMES.map(at) {
        for end in EXTREMES.map(at) {
            let mut plan = plan();
            plan.steps.iter_mut().for_each(|s| (s.start, s.end) = (start, end));
            plan.loads.iter_mut().for_each(|l| (l.start, l.end) = (start, end));
            plan.uses.iter_mut().for_each(|u| (u.start, u.end) = (start, end));
            plan.class_steps.iter_mut().for_each(|c| (c.start, c.end) = (start, end));
            for s in &mut plan.settings {
                (s.set_at, s.hot_from, s.until) = (start, end, end);
            }
            plan.door_watches.iter_mut().for_each(|w| w.minute = start);
            assert!(check(&lesson, plan).is_err());
        }
    }
}

#[test]
fn a_lesson_of_extremes_is_survived() {
    let mut parts = parts();
    parts.periods[0].start = at(i32::MIN);
    parts.periods[0].end = at(i32::MAX);
    parts.rules.tins_per_opening.value = 0;
    parts.rules.call = Figure::entered(Minutes::new(i32::MIN));
    parts.rules.wanted_spare = Figure::entered(Minutes::new(i32::MIN));
    parts.rules.caution = f64::NAN;
    parts.recipes[0].tins[0].count = u32::MAX;
    parts.recipes[0].bake.shut_share = f64::NAN;
    parts.groups[0].pupils = u32::MAX;
    parts.ovens[0].gap = Figure::entered(mm(i32::MAX));
    parts.tins[0].rim = (mm(i32::MAX), mm(i32::MIN));
    assert!(check(&Lesson::new(parts).unwrap(), plan()).is_err());
}

#[test]
fn everything_twice_is_refused() {
    let lesson = Lesson::new(parts()).unwrap();
    let mut twice = plan();
    twice.choices.extend(plan().choices);
    twice.steps.extend(plan().steps);
    twice.loads.extend(plan().loads);
    twice.uses.extend(plan().uses);
    twice.class_steps.extend(plan().class_steps);
    twice.settings.extend(plan().settings);
    twice.door_watches.extend(plan().door_watches);
    twice.not_served.extend(plan().not_served);
    assert!(check(&lesson, twice).is_err());
}

fn minute() -> impl Strategy<Value = i32> {
    prop_oneof![6 => -20..70_i32, 1 => any::<i32>(), 1 => prop::sample::select(&EXTREMES[..])]
}

fn number() -> impl Strategy<Value = u32> {
    prop_oneof![6 => 0..4_u32, 1 => any::<u32>(), 1 => Just(u32::MAX)]
}

/// Mostly below `count`; never beyond if `wild` is not set.
fn id(count: usize, wild: bool) -> BoxedStrategy<usize> {
    if wild {
        prop_oneof![30 => 0..count, 1 => 0..2 * count, 1 => Just(usize::MAX)].boxed()
    } else {
        (0..count).boxed()
    }
}

fn some<S: Strategy>(one: S) -> impl Strategy<Value = Vec<S::Value>> {
    prop::collection::vec(one, 0..8)
}

fn any_step(wild: bool) -> impl Strategy<Value = StepPlacement> {
    let adult = prop::option::of(id(3, wild));
    (id(5, wild), id(10, wild), minute(), minute(), some(number()), adult).prop_map(
        |(group, step, start, end, pupils, adult)| StepPlacement {
            adult: adult.map(AdultId),
            ..placed(GroupId(group), step, start, end, &pupils)
        },
    )
}

fn any_load(wild: bool) -> impl Strategy<Value = Load> {
    let kind = (any::<bool>(), any::<bool>());
    let place = (id(3, wild), id(1, wild), minute(), minute(), kind);
    (id(5, wild), number(), minute(), minute(), -40.0..400.0_f64, place).prop_map(
        |(group, number, start, end, degrees, (oven, shelf, x, y, (turned, round)))| Load {
            oven: OvenId(oven),
            shelf: ShelfId(shelf),
            place: if round {
                Place::Centre {
                    x: FineMillimetres::hundredths(x),
                    y: FineMillimetres::hundredths(y),
                }
            } else {
                Place::Corner { x: FineMillimetres::whole(x), y: FineMillimetres::whole(y), turned }
            },
            ..load(GroupId(group), number, start, end, degrees)
        },
    )
}

fn any_use(wild: bool) -> impl Strategy<Value = KitUse> {
    let of = prop_oneof![
        id(8, wild).prop_map(|p| Stock::Kit(PoolId(p))),
        id(4, wild).prop_map(|t| Stock::Tin(TinId(t))),
    ];
    (id(5, wild), of, some(number()), minute(), minute())
        .prop_map(|(group, of, items, start, end)| in_use(GroupId(group), of, &items, start, end))
}

fn any_choice(wild: bool) -> impl Strategy<Value = Choice> {
    (id(5, wild), id(1, wild), prop::option::of(id(1, wild))).prop_map(|(group, method, tin)| {
        Choice { method: MethodId(method), ..choice(GroupId(group), tin) }
    })
}

fn any_setting(wild: bool) -> impl Strategy<Value = OvenSetting> {
    (id(3, wild), -40.0..400.0_f64, minute(), minute(), minute())
        .prop_map(|(oven, degrees, a, b, c)| setting(oven, degrees, a, b, c))
}

fn any_refusal(wild: bool) -> impl Strategy<Value = NotServed> {
    let why = prop::sample::select(vec![
        Refusal::Cannot,
        Refusal::CannotAll,
        Refusal::NotFound,
        Refusal::LeftOut,
    ]);
    (id(5, wild), why).prop_map(|(group, why)| refused(GroupId(group), why))
}

fn any_plan(wild: bool) -> impl Strategy<Value = Plan> {
    let class = (id(6, wild), minute(), minute()).prop_map(|(s, a, b)| class_placed(s, a, b));
    let door = (id(3, wild), minute(), id(3, wild))
        .prop_map(|(oven, minute, adult)| watch(oven, minute, AdultId(adult)));
    let of_groups = (
        some(any_choice(wild)),
        some(any_step(wild)),
        some(any_load(wild)),
        some(any_use(wild)),
        some(any_refusal(wild)),
    );
    (of_groups, some(class), some(any_setting(wild)), some(door)).prop_map(
        |((choices, steps, loads, uses, not_served), class_steps, settings, door_watches)| Plan {
            choices,
            steps,
            loads,
            uses,
            class_steps,
            settings,
            door_watches,
            not_served,
            bounds: None,
        },
    )
}

/// A change to one figure of the valid plan: which list, which entry, which
/// of its figures, to what.
type Tweak = (usize, usize, usize, i32);

fn tweak(plan: &mut Plan, (list, entry, figure, value): Tweak) {
    let to = at(value);
    let item = value.unsigned_abs();
    match list {
        0 => {
            let n = plan.steps.len();
            let step = &mut plan.steps[entry % n];
            match figure {
                0 => step.start = to,
                1 => step.end = to,
                2 => step.pupils = vec![item],
                _ => step.adult = Some(AdultId(entry % 3)),
            }
        }
        1 => {
            let n = plan.loads.len();
            let load = &mut plan.loads[entry % n];
            match figure {
                0 => load.start = to,
                1 => load.end = to,
                2 => load.place = corner(value, 0),
                _ => load.oven = OvenId(entry % 3),
            }
        }
        2 => {
            let n = plan.uses.len();
            let used = &mut plan.uses[entry % n];
            match figure {
                0 => used.start = to,
                1 => used.end = to,
                _ => used.items = vec![item],
            }
        }
        3 => {
            let n = plan.settings.len();
            let setting = &mut plan.settings[entry % n];
            match figure {
                0 => setting.set_at = to,
                1 => setting.hot_from = to,
                _ => setting.until = to,
            }
        }
        4 => {
            let n = plan.class_steps.len();
            let class = &mut plan.class_steps[entry % n];
            if figure == 0 { class.start = to } else { class.end = to }
        }
        _ => {
            let n = plan.door_watches.len();
            plan.door_watches[entry % n].minute = to;
        }
    }
}

fn reversed(mut plan: Plan) -> Plan {
    plan.choices.reverse();
    plan.steps.reverse();
    plan.loads.reverse();
    plan.uses.reverse();
    plan.class_steps.reverse();
    plan.settings.reverse();
    plan.door_watches.reverse();
    plan.not_served.reverse();
    plan
}

fn broken(lesson: &Lesson, plan: Plan) -> BTreeSet<&'static str> {
    let breaches = check(lesson, plan).err().unwrap_or_default();
    assert!(breaches.iter().all(|b| !b.sentence(lesson).is_empty()));
    breaches.iter().map(|b| b.rule.name()).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]

    #[test]
    fn plans_that_point_anywhere_are_refused(plan in any_plan(true)) {
        let lesson = Lesson::new(parts()).unwrap();
        prop_assert!(check(&lesson, plan).is_err());
    }

    #[test]
    fn plans_of_random_figures_are_refused(plan in any_plan(false)) {
        let lesson = Lesson::new(parts()).unwrap();
        prop_assert!(check(&lesson, plan).is_err());
    }

    #[test]
    fn the_order_in_which_a_plan_is_written_says_nothing(
        tweaks in prop::collection::vec((0..6_usize, 0..40_usize, 0..4_usize, minute()), 0..4),
    ) {
        let lesson = Lesson::new(parts()).unwrap();
        let mut plan = plan();
        for change in tweaks {
            tweak(&mut plan, change);
        }
        prop_assert_eq!(broken(&lesson, plan.clone()), broken(&lesson, reversed(plan)));
    }
}
