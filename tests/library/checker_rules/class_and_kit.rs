//! What the class shares: its own steps, kit, adults, the period.

use ovenbell::model::*;
use ovenbell::plan::*;

use super::{Case, breaks, breaks_all, changed, keeps_all, second_tin_in_oven_2};
use crate::common::rich::*;

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
