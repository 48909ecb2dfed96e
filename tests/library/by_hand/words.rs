//! What is moved, in words: a minute is named as what it is.

use ovenbell::check::CheckedPlan;
use ovenbell::hand::words::put_words;
use ovenbell::hand::{Spot, Thing};
use ovenbell::model::GroupId;
use ovenbell::session::words::fit_words;
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

/// Who bakes in another tin or by another method once something is moved is named; where
/// nobody does, nothing is said of tins.
#[test]
fn another_tin_that_a_move_brings_is_told() {
    let of = Scene::named("demo.ron", |_| {});
    let (mut others, mut same) = (0, 0);
    for load in &of.plan.plan().loads {
        for later in [3, 8] {
            let at = load.start + Minutes::new(later);
            let Ok(put) = of.put(Thing::Bake(load.group), Spot { at: Some(at), place: None })
            else {
                continue;
            };
            let told = fit_words((&of.lesson, &of.plan), &put);
            let baked = |plan: &CheckedPlan| -> Vec<(GroupId, String)> {
                let choices = plan.plan().choices.iter().filter(|c| {
                    // Who was not served before, or no longer is, bakes in no other tin.
                    of.plan.plan().choice(c.group).is_some()
                        && put.plan.plan().choice(c.group).is_some()
                });
                choices.map(|c| (c.group, format!("{:?} {:?}", c.method, c.tin))).collect()
            };
            let sorted = |mut all: Vec<(GroupId, String)>| {
                all.sort();
                all
            };
            let differ = sorted(baked(&of.plan)) != sorted(baked(&put.plan));
            assert_eq!(told.contains("in another tin or by another method: "), differ, "{told}");
            if differ { others += 1 } else { same += 1 }
        }
    }
    assert!(others > 0 && same > 0, "{others} with other tins, {same} without");
}
