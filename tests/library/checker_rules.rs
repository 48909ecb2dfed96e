//! Every rule: a valid plan keeps them all, and a change that breaks one is
//! reported under that name and no other.

use std::collections::BTreeSet;

use crate::common::rich::*;
use ovenbell::check::fault::{Fault, WholeGroupFault};
use ovenbell::check::{Breach, Rule, Verdict, check};
use ovenbell::model::*;
use ovenbell::plan::*;
use ovenbell::units::*;

/// The plan, changed together with its lesson.
struct Case {
    parts: LessonParts,
    plan: Plan,
}

impl Case {
    fn step(&mut self, group: GroupId, step: usize) -> &mut StepPlacement {
        let found = |s: &&mut StepPlacement| s.group == group && s.step == StepId(step);
        self.plan.steps.iter_mut().find(found).unwrap()
    }

    fn moved(&mut self, group: GroupId, step: usize, start: i32, end: i32) {
        let step = self.step(group, step);
        (step.start, step.end) = (at(start), at(end));
    }

    fn used(&mut self, group: GroupId, of: Stock) -> &mut KitUse {
        self.plan.uses.iter_mut().find(|u| u.group == group && u.of == of).unwrap()
    }

    fn kit(&mut self, group: GroupId, pool: PoolId) -> &mut KitUse {
        self.used(group, Stock::Kit(pool))
    }

    fn recipe_step(&mut self, group: GroupId, step: usize) -> &mut Step {
        &mut self.recipe(group).methods[0].steps[step]
    }

    fn recipe(&mut self, group: GroupId) -> &mut Recipe {
        &mut self.parts.recipes[group.0]
    }

    fn link(&mut self, group: GroupId, from: usize, to: usize) -> &mut Link {
        let found = |l: &&mut Link| (l.from, l.to) == (StepId(from), StepId(to));
        self.recipe(group).methods[0].links.iter_mut().find(found).unwrap()
    }

    fn judged(self) -> Vec<Breach> {
        check(&Lesson::new(self.parts).unwrap(), self.plan).err().unwrap_or_default()
    }
}

fn changed(change: impl FnOnce(&mut Case)) -> Vec<Breach> {
    let mut case = Case { parts: parts(), plan: plan() };
    change(&mut case);
    case.judged()
}

#[track_caller]
fn breaks(rule: &'static str, change: impl FnOnce(&mut Case)) {
    breaks_all(&[rule], change);
}

#[track_caller]
fn breaks_all(rules: &[&'static str], change: impl FnOnce(&mut Case)) {
    let breaches = changed(change);
    let names: BTreeSet<&str> = breaches.iter().map(|b| b.rule.name()).collect();
    let wanted: BTreeSet<&str> = rules.iter().copied().collect();
    assert_eq!(names, wanted, "{breaches:#?}");
}

#[track_caller]
fn keeps_all(change: impl FnOnce(&mut Case)) {
    let breaches = changed(change);
    assert!(breaches.is_empty(), "{breaches:#?}");
}

/// One tin of the sponge in the other oven, with an adult of its own.
fn second_tin_in_oven_2(case: &mut Case, adult: AdultId) {
    case.parts.locks.clear();
    case.plan.loads[1].oven = OvenId(1);
    case.plan.door_watches.extend([watch(1, 16, adult), watch(1, 29, adult)]);
}

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
fn class_steps_are_in_their_places() {
    let moved = |c: &mut Case, step: usize, start: i32, end: i32| {
        c.plan.class_steps[step] = class_placed(step, start, end);
    };
    breaks("class-step", |c| {
        c.plan.class_steps.pop();
    });
    breaks("class-step", |c| c.plan.class_steps.push(class_placed(2, 38, 40)));
    // The demo first, then the register.
    breaks("class-step", |c| {
        moved(c, 1, 0, 5);
        moved(c, 0, 5, 8);
    });
    breaks("class-step", |c| moved(c, 0, 0, 2)); // 2.5 min rounds up
    breaks("class-step", |c| moved(c, 4, 53, 57));
    breaks("class-step", |c| moved(c, 3, 46, 47)); // fixed at 47
    breaks("class-step", |c| moved(c, 2, 51, 53)); // after its window
    keeps_all(|c| moved(c, 2, 43, 45));
    breaks("class-step", |c| moved(c, 2, 44, 46));
    breaks("class-step", |c| moved(c, 2, 38, 41));
}

#[test]
fn class_steps_take_everyone() {
    // The sponge is boxed from 36 to 38.
    let tasting_while_boxing = |c: &mut Case| {
        c.plan.class_steps[2] = class_placed(2, 37, 39);
        c.parts.class_steps[2].adults.clear();
    };
    breaks("class-step", tasting_while_boxing);
    let breach = changed(tasting_while_boxing).remove(0);
    assert_eq!(breach.group, Some(SPONGE));
    assert_eq!(breach.minute, Some(at(37)));
    // Two at once.
    breaks("class-step", |c| {
        c.parts.class_steps[3].timing = Timing::At(at(39));
        c.parts.class_steps[3].adults.clear();
        c.plan.class_steps[3] = class_placed(3, 39, 40);
    });
}

#[test]
fn kit_is_named_for_exactly_its_span() {
    breaks("kit", |c| {
        c.plan.uses.remove(0);
    });
    breaks("kit", |c| c.kit(SPONGE, WHISKS).end = at(13));
    breaks("kit", |c| c.kit(SPONGE, WHISKS).start = at(7));
    breaks("kit", |c| c.kit(SPONGE, WHISKS).items = vec![]);
    breaks("kit", |c| c.kit(SPONGE, RACKS).items = vec![]);
    breaks("kit", |c| c.kit(SPONGE, SINK_1).items = vec![0, 0]);
    breaks("kit", |c| {
        c.parts.kit_pools[SINK_1.0].count = 2;
        c.kit(SPONGE, SINK_1).items = vec![0, 1];
    });
    breaks("kit", |c| c.kit(SPONGE, BOWLS).start = at(-8)); // from the bell, not before
    breaks("kit", |c| c.kit(BUNS, RACKS).end = at(65)); // to the bell, not after
    breaks("kit", |c| c.plan.uses.push(in_use(BUNS, Stock::Kit(SINK_2), &[0], 40, 42)));
    breaks("kit", |c| c.plan.uses.push(in_use(BUNS, Stock::Kit(SINK_2), &[], 40, 42)));
    // A collected step wipes with a sink that is not the room's.
    breaks("kit", |c| c.plan.uses.push(in_use(BUNS, Stock::Kit(SINK_2), &[0], 60, 65)));
}

#[test]
fn kit_is_there_and_free() {
    breaks("kit", |c| c.kit(SPONGE, WHISKS).items = vec![2]);
    breaks("kit", |c| c.kit(SPONGE, WHISKS).items = vec![u32::MAX]);
    breaks("kit", |c| c.kit(BUNS, RACKS).items = vec![0]);
    breaks("kit", |c| c.parts.kit_pools[WHISKS.0].count = 0);
    // Another unit's sink, allowed only where the room shares.
    let other_sink = |c: &mut Case| c.kit(FLAPJACK, SINK_3).of = Stock::Kit(SINK_1);
    breaks("kit", other_sink);
    keeps_all(|c| {
        other_sink(c);
        c.parts.rules.sharing = Some(true);
    });
    // Another room's.
    breaks("kit", |c| c.parts.kit_pools[WHISKS.0].room = Some(RoomId(1)));
    // One need from two pools.
    let two_whisks = |c: &mut Case, other: PoolId| {
        c.recipe_step(SPONGE, sponge::MIX).kit = vec![(KitId(0), 2)];
        let mut pool = c.parts.kit_pools[WHISKS.0].clone();
        pool.count = 1;
        c.parts.kit_pools.push(pool);
        c.plan.uses.push(in_use(SPONGE, Stock::Kit(other), &[0], 8, 14));
    };
    keeps_all(|c| two_whisks(c, PoolId(8)));
    breaks("kit", |c| two_whisks(c, WHISKS)); // the same whisk again
}

#[test]
fn adults_who_are_asked_for() {
    breaks("adults", |c| c.step(SPONGE, sponge::BOX).adult = None);
    breaks("adults", |c| c.step(SPONGE, sponge::BOX).adult = Some(ASSISTANT));
    breaks("adults", |c| c.step(SPONGE, sponge::WASH).adult = Some(TECHNICIAN));
    keeps_all(|c| c.step(SPONGE, sponge::BOX).adult = Some(TECHNICIAN));
    // In the room for only a part of the boxing.
    breaks("adults", |c| {
        c.step(SPONGE, sponge::BOX).adult = Some(TECHNICIAN);
        c.parts.adults[TECHNICIAN.0].hours = vec![(at(-30), at(37)), (at(38), at(70))];
    });
    breaks("adults", |c| {
        c.parts.adults[TECHNICIAN.0].room = Some(RoomId(1));
        c.step(SPONGE, sponge::BOX).adult = Some(TECHNICIAN);
        for watch in &mut c.plan.door_watches[3..5] {
            watch.adult = TEACHER;
        }
    });
}

#[test]
fn adults_are_in_one_place() {
    // The technician is at the door in minutes 30 and 31.
    breaks("adults", |c| {
        c.recipe_step(SPONGE, sponge::COOL).adult = AdultNeed::With;
        c.step(SPONGE, sponge::COOL).adult = Some(TECHNICIAN);
    });
    // Two doors in one minute.
    keeps_all(|c| second_tin_in_oven_2(c, TECHNICIAN));
    breaks("adults", |c| second_tin_in_oven_2(c, TEACHER));
    // A step of the class and a step of a group.
    breaks("adults", |c| {
        c.parts.class_steps[2].adults = vec![ASSISTANT];
        c.recipe_step(FLAPJACK, flapjack::BAKE).adult = AdultNeed::With;
        c.step(FLAPJACK, flapjack::BAKE).adult = Some(ASSISTANT);
    });
    // A step of the class outside their hours.
    breaks("adults", |c| {
        c.parts.class_steps[4].adults = vec![TECHNICIAN];
        c.parts.adults[TECHNICIAN.0].hours = vec![(at(-30), at(57))];
    });
}

#[test]
fn adults_near_need_only_be_there() {
    let near = |c: &mut Case, technician_from: i32| {
        c.recipe_step(SPONGE, sponge::MIX).adult = AdultNeed::Near;
        c.parts.adults[TEACHER.0].hours = vec![(at(-10), at(9)), (at(13), at(70))];
        c.parts.adults[TECHNICIAN.0].hours = vec![(at(technician_from), at(70))];
        c.parts.adults[ASSISTANT.0].hours = vec![(at(14), at(70))];
    };
    // From 9 to 13 the technician covers what the teacher does not.
    keeps_all(|c| near(c, 9));
    breaks("adults", |c| near(c, 10));
    breaks("adults", |c| {
        near(c, 10);
        c.parts.adults[TECHNICIAN.0].hours.push((at(8), at(9)));
    });
    // The assistant counts too, but nobody in another room does.
    let assistant = |c: &mut Case, room: usize| {
        near(c, 10);
        c.parts.adults[ASSISTANT.0].hours = vec![(at(8), at(70))];
        c.parts.adults[ASSISTANT.0].room = Some(RoomId(room));
        for watch in &mut c.plan.door_watches[5..] {
            watch.adult = TECHNICIAN;
        }
        c.step(FLAPJACK, flapjack::MELT).adult = Some(TECHNICIAN);
    };
    keeps_all(|c| assistant(c, 0));
    breaks("adults", |c| assistant(c, 1));
}

#[test]
fn what_is_done_beforehand_asks_for_no_adult_of_the_lesson() {
    for need in [AdultNeed::Near, AdultNeed::With] {
        keeps_all(|c| c.recipe_step(SPONGE, sponge::BUTTER_OUT).adult = need);
    }
    breaks("adults", |c| c.step(SPONGE, sponge::BUTTER_OUT).adult = Some(TEACHER));
}

#[test]
fn period_bounds_hand_steps() {
    breaks("period", |c| {
        c.moved(BUNS, buns::RUB_IN, 7, 10);
        (c.kit(BUNS, SCALES).start, c.kit(BUNS, SCALES).end) = (at(7), at(10));
    });
    breaks("period", |c| c.moved(SPONGE, sponge::BUTTER_OUT, -4, 1));
    keeps_all(|c| c.moved(SPONGE, sponge::BUTTER_OUT, -5, 0));
    breaks("period", |c| c.moved(BUNS, buns::WIPE, 59, 64));
    keeps_all(|c| c.moved(BUNS, buns::WIPE, 90, 95));
    let late = |c: &mut Case, start: i32| {
        c.moved(FLAPJACK, flapjack::WASH, start, start + 3);
        let sink = c.kit(FLAPJACK, SINK_3);
        (sink.start, sink.end) = (at(start), at(start + 3));
    };
    keeps_all(|c| late(c, 51));
    breaks_all(&["period", "bell"], |c| late(c, 52));
}

#[test]
fn one_oven_from_start_to_end() {
    breaks("one-oven", |c| {
        c.plan.loads.remove(1);
    });
    breaks("one-oven", |c| c.plan.loads[1].number = 0);
    breaks("one-oven", |c| c.plan.loads[1].number = u32::MAX);
    breaks("one-oven", |c| c.plan.loads[3].start = at(35));
    breaks("one-oven", |c| c.plan.loads[3].end = at(45));
    breaks("one-oven", |c| {
        second_tin_in_oven_2(c, TECHNICIAN);
        c.parts.ovens[1].out_of_order = true;
    });
    // Unit 2's own oven, and the room does not share.
    let unit_2s = |c: &mut Case| {
        second_tin_in_oven_2(c, TECHNICIAN);
        c.parts.ovens[1].unit = Some(UnitId(1));
    };
    breaks("one-oven", unit_2s);
    keeps_all(|c| {
        unit_2s(c);
        c.parts.rooms[0].sharing = true;
    });
}

#[test]
fn temperature_is_kept_and_right() {
    breaks("temperature", |c| c.plan.settings[1].until = at(45));
    breaks("temperature", |c| {
        c.plan.settings.remove(1);
    });
    breaks("temperature", |c| c.plan.loads[3].celsius = celsius(211.0));
    // Over the recipe's tolerance of 10 K, in an oven quick enough.
    breaks("temperature", |c| {
        c.parts.ovens[0].warm_up = Figure::entered(exact(5.0));
        c.plan.settings[1].celsius = celsius(211.0);
        c.plan.loads[3].celsius = celsius(211.0);
    });
}

#[test]
fn warm_up_takes_its_minutes() {
    breaks("warm-up", |c| c.plan.settings[1].hot_from = at(33));
    breaks("warm-up", |c| c.plan.settings[0].set_at = at(-11));
    breaks("warm-up", |c| c.parts.periods[0].ovens_on_from = at(-11));
    keeps_all(|c| c.parts.periods[0].ovens_on_from = at(-12));
    // The earliest of the periods counts.
    keeps_all(|c| c.parts.periods.push(period(100, 160)));
    // Still at 180 when set to 200.
    breaks("warm-up", |c| c.plan.settings[0].until = at(33));
    // In the oven while it heats.
    breaks("warm-up", |c| c.plan.settings[1].hot_from = at(35));
    // Cooling by 20 K takes 5 min.
    keeps_all(|c| c.plan.settings.push(setting(0, 180.0, 46, 51, 60)));
    breaks("warm-up", |c| c.plan.settings.push(setting(0, 180.0, 46, 50, 60)));
    // Never reached, so the next change cannot begin from it.
    breaks("warm-up", |c| c.plan.settings.push(setting(0, 180.0, 46, 51, 47)));
}

#[test]
fn shelf_has_room_and_air() {
    breaks("shelf", |c| c.plan.loads[1].place = corner(215, 0));
    let breach = changed(|c| c.plan.loads[1].place = corner(215, 0)).remove(0);
    assert_eq!(
        breach.told(&Lesson::new(parts()).unwrap()).to_string(),
        "[shelf] two tins of Unit 1 stand 15 mm apart on Oven 1's top shelf; 20 mm of air is wanted"
    );
    breaks("shelf", |c| c.plan.loads[1].place = corner(150, 0));
    breaks("shelf", |c| c.plan.loads[1].place = corner(251, 0)); // 451 mm of 450
    keeps_all(|c| c.plan.loads[1].place = corner(250, 0));
    breaks("shelf", |c| c.plan.loads[0].place = corner(-1, 0));
    breaks("shelf", |c| c.plan.loads[0].place = corner(0, -1));
    keeps_all(|c| c.plan.loads[0].place = corner(0, 160));
    breaks("shelf", |c| c.plan.loads[0].place = corner(0, 161));
    breaks("shelf", |c| c.plan.loads[1].place = corner(i32::MAX, 0));
    breaks("shelf", |c| c.parts.ovens[0].shelves[0].clear = mm(39));
    breaks("shelf", |c| c.parts.ovens[0].shelves[1].width = mm(349));
    // 260 across and 350 deep fits; 350 across does not.
    keeps_all(|c| {
        c.parts.ovens[0].shelves[1].width = mm(260);
        c.plan.loads[2].place = turned(c.plan.loads[2].place);
    });
    // Front to back: two sandwich tins one behind the other.
    let behind = |c: &mut Case, y: i32| {
        c.parts.ovens[0].shelves[0].depth = mm(450);
        c.plan.loads[1].place = corner(10, y);
    };
    keeps_all(|c| behind(c, 220));
    breaks("shelf", |c| behind(c, 219));
    // Corner to corner, but less than the gap apart both ways.
    breaks("shelf", |c| {
        behind(c, 215);
        c.plan.loads[1].place = corner(215, 215);
    });
    // Different groups on one shelf.
    breaks("shelf", |c| c.plan.loads[2].shelf = ShelfId(0));
}

#[test]
fn round_tins_stand_as_circles() {
    // Rims of 200 mm and 20 mm of air: middles at least 220 mm apart, one way
    // and the other 155.57 at the least if it is the same both ways.
    let diagonal = |c: &mut Case, hundredths: i32| {
        c.parts.tins[0].form = Some(TinForm::Round { across: mm(190) });
        let at = FineMillimetres::hundredths(10_000 + hundredths);
        c.plan.loads[1].place = Place::Centre { x: at, y: at };
    };
    keeps_all(|c| diagonal(c, 15_557));
    breaks("shelf", |c| diagonal(c, 15_556));
    let breach = changed(|c| diagonal(c, 15_556)).remove(0);
    assert_eq!(
        breach.told(&Lesson::new(parts()).unwrap()).to_string(),
        "[shelf] two tins of Unit 1 stand 19.99 mm apart on Oven 1's top shelf; 20 mm of air is \
         wanted"
    );
    // 26 000 hundredths are the last at which the circle is on a shelf 360 deep.
    keeps_all(|c| diagonal(c, 16_000));
    breaks("shelf", |c| diagonal(c, 16_001));
    // The square round a rim says the same of where a round tin stands.
    keeps_all(|c| {
        diagonal(c, 0);
        c.plan.loads[1].place = corner(156, 156);
    });
    // A tin with handles takes the rectangle round them, and so does one of
    // which it is not known whether it is round.
    breaks("shelf", |c| {
        diagonal(c, 15_557);
        c.parts.tins[0].rim = (mm(200), mm(198));
    });
    breaks("shelf", |c| {
        diagonal(c, 15_557);
        c.parts.tins[0].form = None;
    });
}

#[test]
fn a_circle_is_clear_of_a_rectangle_round_its_corner() {
    // Unit 1's first tin is round, 200 mm across; its second a square of
    // 100 mm, by way of another kind of tin that nobody else has.
    let beside = |c: &mut Case, hundredths: i32| {
        c.parts.tins[0].form = Some(TinForm::Round { across: mm(190) });
        let at = FineMillimetres::hundredths(hundredths);
        // The bun tray of 350 by 260 is moved there, its corner towards the
        // round tin's middle at 100, 100; the shelf is large enough.
        c.parts.ovens[0].shelves[0].width = mm(900);
        c.parts.ovens[0].shelves[0].depth = mm(900);
        c.plan.loads[1].place = corner(600, 600);
        c.plan.loads[2].shelf = ShelfId(0);
        c.plan.loads[2].place = Place::Corner { x: at, y: at, turned: false };
    };
    // 120 mm from the middle: 84.86 one way and the other.
    keeps_all(|c| beside(c, 10_000 + 8_486));
    breaks("shelf", |c| beside(c, 10_000 + 8_485));
}

#[test]
fn door_stays_shut_for_a_delicate_bake() {
    // Loading from 16 to 17; bake 12, so shut for 9 min, until 26. One call
    // is 3 min, so the buns' loading until 18 may join it.
    let call = |minutes| Figure::entered(Minutes::new(minutes));
    breaks("door", |c| c.parts.rules.call = call(1));
    keeps_all(|c| c.parts.rules.call = call(2));
    // The recipe's minutes are less than the share.
    keeps_all(|c| {
        c.parts.rules.call = call(1);
        c.recipe(SPONGE).bake.shut = Some(Figure::entered(exact(0.0)));
    });
    breaks("door", |c| {
        c.parts.rules.call = call(1);
        c.recipe(SPONGE).bake.shut = Some(Figure::entered(exact(0.2)));
    });
    // Its own loading is never too late, however short a call.
    keeps_all(|c| {
        c.parts.rules.call = call(1);
        c.recipe(SPONGE).bake.shut = None;
        c.recipe(BUNS).bake.shut = Some(Figure::entered(exact(9.0)));
    });
    // Shut until its own end is as long as it can be.
    let shut = |c: &mut Case, minutes: f64, share: f64| {
        c.recipe(SPONGE).bake.shut = Some(Figure::entered(exact(minutes)));
        c.recipe(SPONGE).bake.shut_share = share;
    };
    keeps_all(|c| shut(c, 20.0, 1.0));
    breaks("door", |c| shut(c, 20.0, 1.1));
    // Another oven's door is another matter.
    keeps_all(|c| {
        second_tin_in_oven_2(c, TECHNICIAN);
        c.recipe(BUNS).bake.shut = Some(Figure::entered(exact(9.0)));
    });
    // The buns, loaded from 16 to 18 and shut from 19 until 27, are no trouble
    // either; shut until 30 they are, when the sponge comes out at 29.
    breaks("door", |c| {
        c.recipe(BUNS).bake.shut = Some(Figure::entered(exact(12.0)));
        c.recipe(BUNS).bake.shut_share = 1.0;
    });
}

#[test]
fn door_hands_move_few_tins() {
    // Two of the sponge and one of the buns in minute 16.
    keeps_all(|c| c.parts.rules.tins_per_opening.value = 3);
    breaks("door-hands", |c| c.parts.rules.tins_per_opening.value = 2);
    // By the tins it has, loading the sponge takes two openings.
    let breaches = changed(|c| c.parts.rules.tins_per_opening.value = 1);
    assert!(breaches.iter().any(|b| b.rule == Rule::WholeGroup && b.group == Some(SPONGE)));
    breaks("door-hands", |c| {
        second_tin_in_oven_2(c, TECHNICIAN);
        c.parts.rules.tins_per_opening.value = 1;
        // With one tin each, one minute each is enough, but not one together.
        c.recipe(SPONGE).tins[0].count = 1;
        c.plan.loads.remove(1);
        c.plan.door_watches.truncate(7);
        c.plan.uses[5].items = vec![0];
        c.recipe(SPONGE).batter = None;
    });
}

#[test]
fn door_hands_have_an_adult() {
    breaks("door-hands", |c| {
        c.plan.door_watches.remove(1);
    });
    breaks("door-hands", |c| c.plan.door_watches[2].adult = ASSISTANT);
    breaks("door-hands", |c| c.parts.adults[TECHNICIAN.0].hours = vec![(at(-30), at(31))]);
    breaks("door-hands", |c| c.parts.adults[TECHNICIAN.0].room = Some(RoomId(1)));
    breaks("door-hands", |c| c.plan.door_watches.push(watch(0, 22, TECHNICIAN)));
    breaks("door-hands", |c| c.plan.door_watches.push(watch(0, 16, TEACHER)));
    breaks("door-hands", |c| c.plan.door_watches.clear());
    keeps_all(|c| {
        c.plan.door_watches.clear();
        c.parts.rules.at_ovens = AtOvens::InRoom;
    });
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
