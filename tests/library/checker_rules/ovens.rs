//! Ovens: their heat, their shelves, their doors.

use ovenbell::check::Rule;
use ovenbell::model::*;
use ovenbell::plan::*;
use ovenbell::units::*;

use super::{Case, breaks, changed, keeps_all, second_tin_in_oven_2};
use crate::common::rich::*;

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
