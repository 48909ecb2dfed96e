//! What is moved, in words: a minute is named as what it is.

use ovenbell::hand::words::put_words;
use ovenbell::hand::{Spot, Thing};
use ovenbell::units::Minutes;
use ovenbell::view::words::clock;

use super::Scene;

#[test]
fn the_minute_to_which_a_bake_is_moved_is_that_of_its_loading() {
    let of = Scene::named("demo.ron", |_| {});
    for load in &of.plan.plan().loads {
        let name = &of.lesson.group(load.group).name;
        let at = load.start + Minutes::new(2);
        let put = |place| {
            let spot = Spot { at: Some(at), place };
            put_words(&of.lesson, &of.plan, &[(Thing::Bake(load.group), spot)])
        };
        let time = clock(&of.lesson, at);
        assert_eq!(put(None), format!("{name}'s bake to load at {time}"));
        let placed = put(Some((load.oven, Some(load.shelf))));
        assert!(placed.ends_with(&format!(" shelf, load at {time}")), "{placed}");
        let step = of.plan.plan().steps.iter().find(|s| s.group == load.group).unwrap();
        let spot = Spot { at: Some(at), place: None };
        let thing = Thing::Step(load.group, step.step);
        let words = put_words(&of.lesson, &of.plan, &[(thing, spot)]);
        assert!(words.ends_with(&format!(" to {time}")), "{words}");
    }
}
