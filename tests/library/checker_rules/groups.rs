//! Groups: whole, in order, their pupils, their tins and what the lesson's file locks.

use ovenbell::check::fault::{Fault, WholeGroupFault};
use ovenbell::model::*;
use ovenbell::plan::*;
use ovenbell::units::*;

use super::{Case, breaks, changed, keeps_all};
use crate::common::rich::*;

#[test]
fn whole_group_once_or_not_at_all() {
    breaks("whole-group", |c| {
        c.plan.choices.remove(1);
    });
    breaks("whole-group", |c| c.plan.choices.push(choice(SPONGE, Some(0))));
    breaks("whole-group", |c| c.plan.not_served.clear());
    breaks("whole-group", |c| c.plan.not_served.push(refused(REFUSED, Refusal::Cannot)));
    breaks("whole-group", |c| c.plan.not_served.push(refused(BUNS, Refusal::Cannot)));
    breaks("whole-group", |c| c.plan.not_served[0].refusal = Refusal::LeftOut);
    breaks("whole-group", |c| c.plan.not_served.push(refused(LEFT_OUT, Refusal::NotFound)));
    breaks("whole-group", |c| c.parts.groups[BUNS.0].attendance = Attendance::LeftOut);
    keeps_all(|c| c.plan.not_served.push(refused(LEFT_OUT, Refusal::LeftOut)));
}

#[test]
fn whole_group_every_step_once_with_its_minutes() {
    breaks("whole-group", |c| {
        c.plan.steps.pop();
    });
    breaks("whole-group", |c| c.plan.steps.push(plan().steps[3].clone()));
    breaks("whole-group", |c| c.plan.steps.push(placed(REFUSED, 0, 10, 14, &[0])));
    breaks("whole-group", |c| c.moved(FLAPJACK, flapjack::REST, 26, 30));
    breaks("whole-group", |c| c.moved(FLAPJACK, flapjack::REST, 26, 28));
    // At full caution the rest takes its slow minutes: 3 × 1.5 = 4.5, so 5.
    let rest_of = |minutes: i32| {
        let breaches = changed(|c| {
            c.parts.rules.caution = 1.0;
            c.moved(FLAPJACK, flapjack::REST, 26, 26 + minutes);
        });
        let of_rest = |fault: &Fault| {
            let Fault::WholeGroup(WholeGroupFault::Lasts { step, .. }) = fault else {
                return false;
            };
            (step.group, step.step) == (FLAPJACK, StepId(flapjack::REST))
        };
        breaches.iter().any(|b| of_rest(&b.fault))
    };
    assert!(rest_of(4) && !rest_of(5));
    // Pace makes no wait longer.
    keeps_all(|c| c.recipe_step(BUNS, buns::COOL).minutes = Some(usual(3.0)));
    breaks("whole-group", |c| c.parts.groups[BUNS.0].pace = 1.6);
}

#[test]
fn order_gaps_round_against_the_plan() {
    // The rest ends at 29 and loading starts at 34, 5 min later.
    keeps_all(|c| c.link(FLAPJACK, 2, 3).least = exact(4.5));
    breaks("order", |c| c.link(FLAPJACK, 2, 3).least = exact(5.1));
    // Pressing ends at 26, 8 min before.
    let longest = |l| Some(Figure::entered(exact(l)));
    keeps_all(|c| c.link(FLAPJACK, 1, 3).longest = longest(8.5));
    breaks("order", |c| c.link(FLAPJACK, 1, 3).longest = longest(7.9));
    breaks("order", |c| c.moved(FLAPJACK, flapjack::REST, 25, 28));
}

#[test]
fn order_of_a_bake_has_no_gap() {
    let apart = |c: &mut Case| {
        c.moved(FLAPJACK, flapjack::TAKE_OUT, 46, 47);
        c.plan.loads[3].end = at(47);
        c.plan.settings[1].until = at(47);
        c.plan.door_watches[6].minute = at(46);
    };
    breaks("order", apart);
    assert_eq!(changed(apart).len(), 1);
}

#[test]
fn pupils_are_named_and_do_one_thing() {
    let pupils = |c: &mut Case, step, pupils: &[u32]| {
        c.step(FLAPJACK, step).pupils = pupils.to_vec();
    };
    breaks("pupils", |c| pupils(c, flapjack::PRESS, &[0]));
    breaks("pupils", |c| pupils(c, flapjack::PRESS, &[0, 0]));
    breaks("pupils", |c| pupils(c, flapjack::PRESS, &[0, 1, 2]));
    breaks("pupils", |c| pupils(c, flapjack::PRESS, &[0, 3]));
    breaks("pupils", |c| pupils(c, flapjack::PRESS, &[0, u32::MAX]));
    breaks("pupils", |c| pupils(c, flapjack::WASH, &[0, 1]));
    breaks("pupils", |c| c.step(SPONGE, sponge::GREASE).pupils = vec![0]);
    breaks("pupils", |c| c.step(SPONGE, sponge::BUTTER_OUT).pupils = vec![0]);
    breaks("pupils", |c| c.step(BUNS, buns::WIPE).pupils = vec![0]);
    breaks("pupils", |c| c.step(BUNS, buns::BAKE).pupils = vec![1]);
    keeps_all(|c| pupils(c, flapjack::PRESS, &[2, 0]));
}

#[test]
fn tin_is_one_the_group_accepts() {
    breaks("tin", |c| c.parts.groups[SPONGE.0].tins = vec![TinChoiceId(1)]);
    breaks("tin", |c| c.parts.groups[SPONGE.0].methods = vec![MethodId(1)]);
    breaks("tin", |c| c.recipe(SPONGE).tins[0].methods = vec![MethodId(1)]);
    keeps_all(|c| c.recipe(SPONGE).tins[0].methods = vec![MethodId(1), MethodId(0)]);
    // 450 ml each; the tin holds 800 ml and is filled to 60 %, 480 ml.
    let batter = |ml| Some(Figure::entered(Millilitres::new(ml).unwrap()));
    keeps_all(|c| c.recipe(SPONGE).batter = batter(960.0));
    breaks("tin", |c| c.recipe(SPONGE).batter = batter(961.0));
    breaks("tin", |c| c.recipe(SPONGE).tins[0].batch = 1.1);
    keeps_all(|c| {
        c.recipe(SPONGE).batter = batter(961.0);
        c.parts.tins[0].capacity = None;
    });
}

#[test]
fn tins_are_in_stock() {
    let tins = Stock::Tin(TinId(0));
    breaks("tin", |c| c.parts.tin_pools[0].count = 1);
    breaks("tin", |c| c.used(SPONGE, tins).items = vec![0]);
    breaks("tin", |c| c.used(SPONGE, tins).items = vec![1, 1]);
    breaks("tin", |c| c.used(SPONGE, tins).start = at(14));
    breaks("tin", |c| c.used(SPONGE, tins).end = at(30));
    // Not counted: need not be named, but if so, then rightly.
    let foil = |start| in_use(FLAPJACK, Stock::Tin(TinId(3)), &[7], start, 46);
    keeps_all(|c| c.plan.uses.push(foil(24)));
    breaks("tin", |c| c.plan.uses.push(foil(25)));
    // Two groups with the same tin: the buns' tray from 11 to 32.
    breaks("tin", |c| {
        c.recipe(FLAPJACK).tins[0].tin = TinId(2);
        c.parts.groups[FLAPJACK.0].keep_apart = false;
        c.plan.uses.push(in_use(FLAPJACK, Stock::Tin(TinId(2)), &[0], 24, 46));
    });
}

#[test]
fn bake_time_is_the_tins_own() {
    breaks("bake-time", |c| c.recipe(FLAPJACK).tins[0].minutes = Some(usual(10.1)));
    breaks("bake-time", |c| c.recipe(FLAPJACK).tins[0].minutes = Some(usual(9.0)));
    breaks("bake-time", |c| c.recipe(FLAPJACK).tins[0].minutes = None);
    keeps_all(|c| c.recipe(FLAPJACK).tins[0].minutes = Some(usual(9.2)));
    // Within the tolerance, but for 195 °C no minutes are known.
    breaks("bake-time", |c| {
        c.plan.settings[1].celsius = celsius(195.0);
        c.plan.loads[3].celsius = celsius(195.0);
    });
}

#[test]
fn cool_enough_by_tin() {
    breaks("cool-enough", |c| {
        c.recipe(SPONGE).tins[0].step_minutes[0].1 = usual(6.5);
    });
    breaks("cool-enough", |c| c.moved(BUNS, buns::COOL, 32, 34));
    keeps_all(|c| c.moved(BUNS, buns::COOL, 32, 50));
    breaks("cool-enough", |c| c.moved(BUNS, buns::COOL, 33, 32));
}

#[test]
fn keep_apart_shares_no_oven_and_no_used_kit() {
    // The sponge's whisk of minute 8.
    let same_whisk = |c: &mut Case| c.kit(FLAPJACK, WHISKS).items = vec![0];
    breaks("keep-apart", same_whisk);
    keeps_all(|c| {
        same_whisk(c);
        c.parts.rules.washed_is_unused = true;
    });
    keeps_all(|c| {
        same_whisk(c);
        c.parts.kit_kinds[0].touches_food = false;
    });
    // Kept apart, but first: others may use it afterwards.
    keeps_all(|c| {
        same_whisk(c);
        c.parts.groups[FLAPJACK.0].keep_apart = false;
        c.parts.groups[SPONGE.0].keep_apart = true;
        c.plan.loads[2].oven = OvenId(1);
        c.plan.loads[2].shelf = ShelfId(0);
        for minute in [16, 17, 30, 31] {
            c.plan.door_watches.push(watch(1, minute, TECHNICIAN));
        }
        c.plan
            .door_watches
            .retain(|w| !(w.oven == OvenId(0) && [17, 30, 31].contains(&w.minute.get())));
    });
    breaks("keep-apart", |c| c.parts.groups[BUNS.0].keep_apart = true);
    breaks("keep-apart", |c| c.parts.groups[SPONGE.0].keep_apart = true);
    // In one minute with another: nobody was before, but there is only one.
    breaks("kit", |c| c.plan.uses.push(in_use(BUNS, Stock::Kit(WHISKS), &[1], 24, 26)));
    // A tin that another has used.
    let same_tray = |c: &mut Case, item: u32| {
        c.recipe(FLAPJACK).tins[0].tin = TinId(0);
        c.parts.recipes[FLAPJACK.0].methods[0].tin_held = Some((StepId(5), StepId(5)));
        c.plan.uses.push(in_use(FLAPJACK, Stock::Tin(TinId(0)), &[item], 45, 46));
        c.parts.tin_pools[0].count = 3;
    };
    breaks("keep-apart", |c| same_tray(c, 1));
    keeps_all(|c| same_tray(c, 2));
}

#[test]
fn locked_is_where_the_lesson_says() {
    let lock = |group, to| move |c: &mut Case| c.parts.locks.push(Lock { group, to });
    breaks("locked", lock(SPONGE, LockedTo::Tin(TinChoiceId(1))));
    breaks("locked", lock(SPONGE, LockedTo::Method(MethodId(1))));
    breaks("locked", lock(SPONGE, LockedTo::Oven(OvenId(1), None)));
    breaks("locked", lock(SPONGE, LockedTo::Oven(OvenId(0), Some(ShelfId(1)))));
    breaks("locked", lock(SPONGE, LockedTo::Start("mix".into(), at(9))));
    breaks("locked", lock(SPONGE, LockedTo::Start("ice".into(), at(9))));
    keeps_all(lock(SPONGE, LockedTo::Start("mix".into(), at(8))));
    // Not served, so not elsewhere.
    keeps_all(lock(REFUSED, LockedTo::Tin(TinChoiceId(0))));
}

#[test]
fn bell_waits_for_everyone_ready() {
    keeps_all(|c| c.moved(BUNS, buns::COOL, 32, 54));
    breaks("bell", |c| c.moved(BUNS, buns::COOL, 32, 55));
}
