//! What a valid plan comes to, by sums done by hand.

use crate::common::rich;
use crate::common::rich::*;
use ovenbell::check::{CheckedPlan, Objective, Verdict, check};
use ovenbell::model::*;
use ovenbell::plan::*;
use ovenbell::units::*;

fn checked(change: impl FnOnce(&mut LessonParts)) -> CheckedPlan {
    let mut parts = parts();
    change(&mut parts);
    check(&Lesson::new(parts).unwrap(), plan()).unwrap()
}

#[test]
fn objective_of_the_valid_plan() {
    // Ready: the sponge boxed at 38, the buns cooled at 35 (the wiping is
    // collected), the flapjack's washing done at 51. Closing from 54, so the
    // flapjack's spare is 3 of 5 wanted. Loading in minutes 16, 17 and 34: two
    // calls of 3 minutes. 6 closing minutes.
    let checked = checked(|_| {});
    let wanted = Objective {
        served: 3,
        departures: 0,
        shortfall: 2,
        calls: 2,
        latest_ready: 51,
        sum_ready: 38 + 35 + 51,
        ends: 57,
    };
    assert_eq!(checked.objective(), wanted);
    let outcome = |g| *checked.group_outcome(g).unwrap();
    assert_eq!(outcome(SPONGE).ready, Some(at(38)));
    assert_eq!(outcome(SPONGE).spare, Some(Minutes::new(16)));
    assert_eq!(outcome(BUNS).spare, Some(Minutes::new(19)));
    assert_eq!(outcome(FLAPJACK).spare, Some(Minutes::new(3)));
    assert_eq!(outcome(REFUSED).ready, None);
    assert_eq!(outcome(REFUSED).departure, None);
    assert_eq!(checked.plan(), &plan());
    assert_eq!(checked.into_plan(), plan());
}

#[test]
fn departures_count_tins_and_methods() {
    // The tin is the second of the sponge's list, its method the second too.
    let tin = checked(|p| p.groups[0].tins = vec![TinChoiceId(1), TinChoiceId(0)]);
    assert_eq!(tin.objective().departures, 1);
    let both = checked(|p| {
        p.groups[0].tins = vec![TinChoiceId(1), TinChoiceId(0)];
        p.groups[0].methods = vec![MethodId(1), MethodId(0)];
    });
    assert_eq!(both.objective().departures, 101);
    assert_eq!(both.group_outcome(SPONGE).unwrap().departure, Some(101));
    assert_eq!(both.group_outcome(BUNS).unwrap().departure, Some(0));
}

#[test]
fn shortfall_is_the_worst_groups() {
    let wanted =
        |minutes| checked(|p| p.rules.wanted_spare = Figure::entered(Minutes::new(minutes)));
    // The worst spare is 3.
    assert_eq!(wanted(3).objective().shortfall, 0);
    assert_eq!(wanted(3).group_outcome(FLAPJACK).unwrap().verdict, Verdict::Fits);
    assert_eq!(wanted(4).objective().shortfall, 1);
    assert_eq!(wanted(4).group_outcome(FLAPJACK).unwrap().verdict, Verdict::Tight);
    assert_eq!(wanted(60).objective().shortfall, 57);
    assert_eq!(wanted(0).objective().shortfall, 0);
}

#[test]
fn calls_cover_every_minute_of_loading() {
    let calls = |call| {
        let checked = checked(|p| {
            p.rules.call = Figure::entered(Minutes::new(call));
            p.recipes[0].bake.shut = None;
        });
        checked.objective().calls
    };
    // Minutes 16, 17 and 34.
    assert_eq!(calls(1), 3);
    assert_eq!(calls(2), 2); // 16 and 17 | 34
    assert_eq!(calls(18), 2); // 16 to 33 | 34
    assert_eq!(calls(19), 1); // 16 to 34
    // A call of no length is read as one minute.
    assert_eq!(calls(0), 3);
    assert_eq!(calls(-5), 3);
}

#[test]
fn nobody_served_is_a_plan_too() {
    let mut none = Plan { class_steps: plan().class_steps, ..Plan::default() };
    for group in [SPONGE, BUNS, FLAPJACK, REFUSED] {
        none.not_served.push(refused(group, Refusal::NotFound));
    }
    let lesson = Lesson::new(parts()).unwrap();
    let checked = check(&lesson, none).unwrap();
    assert_eq!(checked.objective(), Objective::default());
    assert_eq!(checked.verdict(), Verdict::NotRealistically);
    let mut parts = parts();
    for group in &mut parts.groups {
        group.attendance = Attendance::LeftOut;
    }
    let lesson = Lesson::new(parts).unwrap();
    let none = Plan { class_steps: plan().class_steps, ..Plan::default() };
    assert_eq!(check(&lesson, none).unwrap().verdict(), Verdict::LeftOut);
}

/// Two periods, a class in each: from 0 to 50 and from 60 to 110. Each closes
/// for some minutes; each group has one hand step of 10 minutes.
fn two_periods() -> (Lesson, Plan) {
    let mut two = parts();
    two.periods = vec![period(0, 50), period(60, 110)];
    let closing = |period, minutes| ClassStep {
        period: PeriodId(period),
        adults: vec![],
        ..class_step("dismissal", Phase::Closing, Timing::InTurn, minutes)
    };
    two.class_steps = vec![closing(0, 3.0), closing(1, 5.0)];
    two.recipes = vec![Recipe {
        methods: vec![Method {
            name: "cutting".into(),
            steps: vec![hand("cut", 10.0, 1, &[])],
            links: vec![],
            holds: vec![],
            tin_held: None,
        }],
        tins: vec![],
        ..two.recipes.remove(0)
    }];
    let salad = |name: &str, period| Group {
        period: PeriodId(period),
        tins: vec![],
        ..group(name, None, 0)
    };
    two.groups = vec![salad("A", 0), salad("B", 1)];
    two.locks.clear();
    two.adults.clear();
    let plan = Plan {
        choices: vec![choice(GroupId(0), None), choice(GroupId(1), None)],
        steps: vec![placed(GroupId(0), 0, 5, 15, &[0]), placed(GroupId(1), 0, 72, 82, &[1])],
        class_steps: vec![class_placed(0, 47, 50), class_placed(1, 105, 110)],
        ..Plan::default()
    };
    (Lesson::new(two).unwrap(), plan)
}

#[test]
fn ready_counts_from_the_groups_own_bell() {
    let (lesson, plan) = two_periods();
    let checked = check(&lesson, plan).unwrap();
    // A is ready 15 after its bell, B at 82, 22 after its own; B's closing is 5.
    assert_eq!(checked.group_outcome(GroupId(1)).unwrap().ready, Some(at(22)));
    assert_eq!(checked.group_outcome(GroupId(1)).unwrap().spare, Some(Minutes::new(23)));
    let objective = checked.objective();
    assert_eq!((objective.latest_ready, objective.sum_ready, objective.ends), (22, 37, 27));
    assert_eq!((objective.calls, objective.shortfall), (0, 0));
    assert_eq!(checked.verdict(), Verdict::Fits);
}

#[test]
fn a_method_without_a_bake_takes_no_tin() {
    let (lesson, mut plan) = two_periods();
    let mut parts = lesson.into_parts();
    parts.recipes[0].tins = rich::parts().recipes.remove(0).tins;
    let lesson = Lesson::new(parts).unwrap();
    plan.choices[0].tin = Some(TinChoiceId(0));
    let names: Vec<&str> =
        check(&lesson, plan).unwrap_err().iter().map(|b| b.rule.name()).collect();
    assert_eq!(names, ["tin", "tin"]); // not accepted, and not baked
}
