//! Cooling that is collected after the bell may begin late, so that what is held
//! from it on serves more groups than there are places.

use crate::common::planned::planned;
use ovenbell::file::read_lesson;

/// Three groups, one oven for all of them, and one place on the rack, held from the
/// cooling on, which nobody waits for in the lesson.
const LESSON: &str = r#"(
    format: 2,
    period: (start: "10:00", end: "11:00", opening: [(name: "register", minutes: 2)]),
    room: (
        ovens: [(name: "Oven", kind: Fan, shelves: 3, warm_up: 8)],
        kit: {"rack place": 1},
    ),
    collected: ["cool", "box"],
    recipes: [(
        name: "buns",
        methods: [(
            name: "rubbing in",
            steps: [
                (name: "mix", minutes: 8),
                (name: "bake", kind: Bake),
                (name: "cool", kind: Cool, minutes: 10, may_be_collected: true),
                (name: "box", minutes: 1, may_be_collected: true),
            ],
            holds: [(kit: "rack place", from: "cool", to: "box")],
        )],
        tins: [(tin: "bun tray", celsius: 200, minutes: 15)],
    )],
    tins: [(name: "bun tray", form: Holes(count: 12, across_mm: 65), rim_mm: (350, 270), height_mm: 40)],
    groups: [(name: "Unit", count: 3, recipe: "buns")],
)"#;

#[test]
fn a_place_held_until_the_bell_serves_one_group_and_the_others_cool_after_it() {
    let lesson = read_lesson(LESSON).unwrap().lesson;
    let plan = planned(&lesson, 300);
    assert_eq!((plan.objective().served, plan.objective().shortfall), (3, 0));
}
