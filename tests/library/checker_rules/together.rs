//! A plan as a whole: rooms beside each other, several breaches at once, plans that are none.

use std::collections::BTreeSet;

use ovenbell::check::{Rule, Verdict, check};
use ovenbell::model::*;
use ovenbell::plan::*;

use super::{Case, breaks, breaks_all, keeps_all};
use crate::common::rich::*;

#[test]
fn the_valid_plan_keeps_every_rule() {
    keeps_all(|_| {});
}

/// The same lesson again in a room of its own, at the same time.
fn another_room(case: &mut Case) {
    let (once, plan) = (parts(), plan());
    let Case { parts: to, plan: all } = case;
    let (room, ovens, pools) = (RoomId(to.rooms.len()), to.ovens.len(), to.kit_pools.len());
    let (adults, groups) = (to.adults.len(), to.groups.len());
    let group = |g: GroupId| GroupId(g.0 + groups);
    let adult = |a: AdultId| AdultId(a.0 + adults);
    to.rooms.push(once.rooms[0].clone());
    let in_room = Some(room);
    to.ovens.extend(once.ovens.into_iter().map(|o| Oven { room, unit: None, ..o }));
    let pool = |p| KitPool { room: in_room, unit: None, ..p };
    to.kit_pools.extend(once.kit_pools.into_iter().map(pool));
    to.tin_pools.extend(once.tin_pools.into_iter().map(|p| TinPool { room, ..p }));
    let attached = |a: &Adult| a.attached_to.map(group);
    let adult_of = |a: Adult| Adult { room: in_room, attached_to: attached(&a), ..a };
    to.adults.extend(once.adults.into_iter().map(adult_of));
    let served = once.groups.into_iter().take(3);
    to.groups.extend(served.map(|g| Group { room, unit: None, ..g }));
    let choices = plan.choices.into_iter();
    all.choices.extend(choices.map(|c| Choice { group: group(c.group), ..c }));
    all.steps.extend(plan.steps.into_iter().map(|s| StepPlacement {
        group: group(s.group),
        adult: s.adult.map(adult),
        ..s
    }));
    let oven = |o: OvenId| OvenId(o.0 + ovens);
    let loads = plan.loads.into_iter();
    all.loads.extend(loads.map(|l| Load { group: group(l.group), oven: oven(l.oven), ..l }));
    all.uses.extend(plan.uses.into_iter().map(|u| {
        let of = match u.of {
            Stock::Kit(pool) => Stock::Kit(PoolId(pool.0 + pools)),
            Stock::Tin(tin) => Stock::Tin(tin),
        };
        KitUse { group: group(u.group), of, ..u }
    }));
    let settings = plan.settings.into_iter();
    all.settings.extend(settings.map(|s| OvenSetting { oven: oven(s.oven), ..s }));
    let watches = plan.door_watches.into_iter();
    all.door_watches.extend(watches.map(|w| DoorWatch {
        oven: oven(w.oven),
        adult: adult(w.adult),
        ..w
    }));
}

#[test]
fn rooms_do_not_get_in_each_others_way() {
    keeps_all(|c| (0..7).for_each(|_| another_room(c)));
    // The tins of one room are not those of another.
    breaks("tin", |c| {
        another_room(c);
        c.parts.tin_pools[2].count = 1;
    });
}

#[test]
fn every_rule_has_a_name_of_its_own() {
    let names: BTreeSet<&str> = Rule::ALL.iter().map(|r| r.name()).collect();
    assert_eq!(names.len(), 19);
    assert_eq!(Rule::ALL.len(), 19);
}

#[test]
fn all_breaches_are_told_at_once() {
    breaks_all(&["whole-group", "pupils", "kit", "bell", "shelf"], |c| {
        c.plan.not_served.clear();
        c.step(FLAPJACK, flapjack::PRESS).pupils = vec![];
        c.plan.uses.remove(0);
        c.moved(BUNS, buns::COOL, 32, 55);
        c.plan.loads[1].place = corner(215, 0);
    });
}

#[test]
fn a_group_in_pieces_hides_no_breach_of_the_others() {
    breaks_all(&["whole-group", "pupils"], |c| {
        c.plan.steps.retain(|s| s.group != FLAPJACK || s.step != StepId(flapjack::LOAD));
        c.step(SPONGE, sponge::FILL).pupils = vec![];
    });
}

#[test]
fn ids_out_of_range_are_reported_by_their_rule() {
    let far = usize::MAX;
    breaks("whole-group", |c| c.plan.choices[0].group = GroupId(5));
    breaks("whole-group", |c| c.plan.choices[0].method = MethodId(far));
    breaks("whole-group", |c| c.plan.steps[0].group = GroupId(far));
    breaks("whole-group", |c| c.plan.steps[0].step = StepId(far));
    breaks("whole-group", |c| c.plan.loads[0].group = GroupId(far));
    breaks("whole-group", |c| c.plan.uses[0].group = GroupId(far));
    breaks("whole-group", |c| c.plan.not_served[0].group = GroupId(far));
    breaks("tin", |c| c.plan.choices[0].tin = Some(TinChoiceId(2)));
    breaks("tin", |c| c.plan.uses[5].of = Stock::Tin(TinId(far)));
    breaks("kit", |c| c.plan.uses[0].of = Stock::Kit(PoolId(far)));
    breaks("adults", |c| c.plan.steps[0].adult = Some(AdultId(3)));
    breaks("one-oven", |c| c.plan.loads[0].oven = OvenId(3));
    breaks("shelf", |c| c.plan.loads[0].shelf = ShelfId(2));
    breaks("class-step", |c| c.plan.class_steps[0].step = ClassStepId(far));
    breaks("temperature", |c| c.plan.settings[0].oven = OvenId(far));
    breaks("door-hands", |c| c.plan.door_watches[0].oven = OvenId(far));
    breaks("door-hands", |c| c.plan.door_watches[0].adult = AdultId(far));
}

#[test]
fn an_empty_plan_is_no_plan() {
    breaks_all(&["whole-group", "class-step"], |c| c.plan = Plan::default());
}

#[test]
fn a_refusal_is_a_verdict() {
    let lesson = Lesson::new(parts()).unwrap();
    let checked = check(&lesson, plan()).unwrap();
    let verdict = |g| checked.group_outcome(g).unwrap().verdict.name();
    assert_eq!(verdict(SPONGE), "fits");
    assert_eq!(verdict(BUNS), "fits");
    assert_eq!(verdict(FLAPJACK), "tight");
    assert_eq!(verdict(LEFT_OUT), "left-out");
    assert_eq!(verdict(REFUSED), "cannot-all");
    assert!(checked.group_outcome(GroupId(5)).is_none());
    assert_eq!(checked.verdict(), Verdict::CannotAll);
    for (refusal, name) in [(Refusal::Cannot, "cannot"), (Refusal::NotFound, "not-realistically")] {
        let mut plan = plan();
        plan.not_served[0].refusal = refusal;
        assert_eq!(check(&lesson, plan).unwrap().verdict().name(), name);
    }
}
