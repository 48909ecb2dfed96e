//! Two groups at one oven: every combination of three-valued minutes, played
//! and worked out apart.

use super::lessons::{all_served, queue};
use ovenbell::check::CheckedPlan;
use ovenbell::model::{GroupId, Lesson};
use ovenbell::plan::Load;
use ovenbell::play::{Minutes, Network, Order, Play, Started};

/// Minutes with their odds.
const MIX: [(f64, f64); 3] = [(2.0, 0.2), (3.5, 0.5), (6.0, 0.3)];
const BAKE: [(f64, f64); 3] = [(9.0, 0.25), (10.25, 0.5), (13.0, 0.25)];
const BOX: [(f64, f64); 2] = [(1.0, 0.6), (3.0, 0.4)];

/// A group's minutes of one run: mix, bake, box.
type Takes = [f64; 3];

/// Every combination for one group, with its odds.
fn combinations() -> Vec<(Takes, f64)> {
    let mut all = Vec::new();
    for (mix, p) in MIX {
        for (bake, q) in BAKE {
            all.extend(BOX.map(|(boxing, r)| ([mix, bake, boxing], p * q * r)));
        }
    }
    all
}

/// When both are ready, by hand: nothing begins before the register is over;
/// no load before its planned minute; the second waits for the first one's
/// place; a bake is looked at on the minute.
fn by_hand(first: Takes, second: Takes, loads: (f64, f64)) -> (f64, f64) {
    let opened = 2.0;
    let load = f64::max(loads.0, opened + first[0]);
    let out = (load + 1.0 + first[1]).ceil() + 1.0;
    let ready = out + first[2];
    let load = loads.1.max(opened + second[0]).max(out);
    let out = (load + 1.0 + second[1]).ceil() + 1.0;
    (ready, out + second[2])
}

/// The two in the order in which they load, with their planned minutes.
fn in_turn(plan: &CheckedPlan) -> [&Load; 2] {
    let loads = &plan.plan().loads;
    if loads[0].start < loads[1].start { [&loads[0], &loads[1]] } else { [&loads[1], &loads[0]] }
}

fn set(
    network: &Network<'_>,
    lesson: &Lesson,
    minutes: &mut Minutes,
    group: GroupId,
    takes: Takes,
) {
    let choice = network.plan().plan().choice(group).unwrap();
    let method = lesson.method_of(group, choice.method);
    for (name, takes) in ["mix", "bake", "box"].into_iter().zip(takes) {
        let node = network.node(group, method.step_named(name).unwrap()).unwrap();
        minutes.nodes[node] = takes;
    }
}

#[test]
fn a_queue_of_two_is_played_as_every_outcome_worked_out_apart() {
    let lesson = queue(40);
    let plan = all_served(&lesson);
    let [first, second] = in_turn(&plan);
    let network = Network::new(&lesson, &plan);
    let mut minutes = network.usual_minutes();
    let quick = vec![0.0; network.nodes.len()];
    let mut play = Play::new(&network, network.earliest_starts(&quick));
    let (mut played, mut enumerated, mut outcomes) = ([0.0; 2], [0.0; 2], 0);
    for (one, p) in combinations() {
        for (two, q) in combinations() {
            set(&network, &lesson, &mut minutes, first.group, one);
            set(&network, &lesson, &mut minutes, second.group, two);
            play.run(&minutes);
            let starts = (f64::from(first.start.get()), f64::from(second.start.get()));
            let hand = by_hand(one, two, starts);
            let both = [(first.group, hand.0), (second.group, hand.1)];
            for (i, (group, ready)) in both.into_iter().enumerate() {
                assert!((play.ready(group.0) - ready).abs() < 1e-9, "{one:?} {two:?}");
                played[i] += p * q * f64::from(u8::from(play.is_out(group.0, &minutes)));
                enumerated[i] += p * q * f64::from(u8::from(ready <= 38.0));
            }
            outcomes += 1;
        }
    }
    assert_eq!(outcomes, 324);
    for i in 0..2 {
        assert!((played[i] - enumerated[i]).abs() < 1e-9);
    }
    assert!(enumerated[1] > 0.05 && enumerated[1] < 0.95, "all alike: {enumerated:?}");
}

#[test]
fn who_waits_for_a_place_says_so() {
    let lesson = queue(40);
    let plan = all_served(&lesson);
    let [first, second] = in_turn(&plan);
    let network = Network::new(&lesson, &plan);
    let mut minutes = network.usual_minutes();
    set(&network, &lesson, &mut minutes, first.group, [3.0, 20.0, 2.0]);
    let quick = vec![0.0; network.nodes.len()];
    let mut play = Play::new(&network, network.earliest_starts(&quick));
    play.run(&minutes);
    let (load, _, _) = lesson.recipes[0].methods[0].bake_steps().unwrap();
    let node = network.node(second.group, load).unwrap();
    let Started::After(_, Order::Place(oven)) = play.why(node) else {
        panic!("{:?}", play.why(node));
    };
    assert_eq!(oven, second.oven);
}
