//! The picture of a method's steps, as numbers.

use std::collections::BTreeSet;

use ovenbell::file::format::{MethodShape, StepKindShape};
use ovenbell::file::library;
use ovenbell::setup::field;
use ovenbell::setup::steps::arrows;
use ovenbell::view::step_graph::{
    Band, Sizes, Step, StepBar, StepGraph, Wait, lay_out, spoken, tins_way,
};
use proptest::prelude::*;

use crate::common::generate;

const SIZES: Sizes =
    Sizes { head: 20.0, height: 24.0, minute: 5.0, air: 3.0, between: 5.0, apart: 12.0 };
const NEAR: f32 = 0.01;

fn of(method: &MethodShape) -> (Vec<Step>, Option<usize>, Vec<Wait>) {
    let band = ovenbell::file::format::PaceBand::Ages11To12;
    let steps = method.steps.iter().map(|s| Step {
        minutes: s.minutes.map_or(12.0, |m| field::usual(&m, band)),
        width: 20.0 + 6.5 * s.name.chars().count() as f32,
        band: match s.kind {
            StepKindShape::Hand => Band::Hands,
            StepKindShape::Bake => Band::Oven,
            StepKindShape::Wait | StepKindShape::Cool => Band::ByItself,
        },
    });
    let wait = |a: ovenbell::setup::steps::Arrow| Wait {
        from: a.from,
        to: a.to,
        least: a.least,
        longest: a.longest,
    };
    let bake = method.steps.iter().position(|s| s.kind == StepKindShape::Bake);
    (steps.collect(), bake, arrows(method).into_iter().map(wait).collect())
}

fn methods() -> Vec<MethodShape> {
    let of_library = library::recipes().unwrap().into_iter();
    let generated = (0..60).flat_map(|seed| generate::lesson(seed).recipes);
    of_library.chain(generated).flat_map(|r| r.methods).collect()
}

fn wait(from: usize, to: usize) -> Wait {
    Wait { from, to, least: None, longest: None }
}

/// Steps of so many minutes that hands do, with short names.
fn steps(minutes: &[f64]) -> Vec<Step> {
    minutes.iter().map(|&minutes| Step { minutes, width: 30.0, band: Band::Hands }).collect()
}

fn sound(steps: &[Step], bake: Option<usize>, waits: &[Wait]) -> StepGraph {
    let graph = lay_out(steps, bake, waits, SIZES);
    assert_eq!(graph.bars.len(), steps.len());
    for (i, a) in graph.bars.iter().enumerate() {
        assert!(a.width >= steps[i].width - NEAR, "no room for its words: {a:?}");
        let least = SIZES.minute * (a.until - a.from) as f32;
        assert!(a.width >= least - NEAR, "a minute is narrower than it may be: {a:?}");
        assert_eq!(a.height, SIZES.height);
        assert!(a.x >= 0.0 && a.right() <= graph.width + NEAR);
        assert!(a.y >= SIZES.head && a.y + a.height <= graph.height + NEAR);
        for b in &graph.bars[i + 1..] {
            // One line of minutes for all: what is earlier lies further left,
            // and what is at one time at one place.
            for (first, then) in [(a, b), (b, a)] {
                if first.until <= then.from + 1e-9 {
                    assert!(first.right() + SIZES.air <= then.x + NEAR, "{first:?} {then:?}");
                }
                if first.from + 1e-6 < then.from {
                    assert!(first.x < then.x, "{first:?} {then:?}");
                }
                if (first.from - then.from).abs() < 1e-9 {
                    assert_eq!(first.x, then.x);
                }
            }
            let beside = a.right() <= b.x || b.right() <= a.x;
            let apart = (a.y - b.y).abs() >= SIZES.height + SIZES.between - NEAR;
            assert!(beside || apart, "bars lie on each other: {a:?} {b:?}");
            assert_eq!((a.band, a.lane) == (b.band, b.lane), a.y == b.y);
        }
    }
    bands_are_sound(steps, &graph);
    for pair in graph.ticks.windows(2) {
        assert!(pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1, "{:?}", graph.ticks);
    }
    assert_eq!(graph, lay_out(steps, bake, waits, SIZES), "the same every time");
    graph
}

/// Bands lie one under another in their order, and each step with all it stands
/// in or on lies in its own.
fn bands_are_sound(steps: &[Step], graph: &StepGraph) {
    let has_steps = |band: &Band| steps.iter().any(|s| s.band == *band);
    let wanted: Vec<Band> =
        [Band::Hands, Band::Oven, Band::ByItself].into_iter().filter(has_steps).collect();
    assert_eq!(graph.bands.iter().map(|b| b.0).collect::<Vec<_>>(), wanted);
    for &(band, top, bottom) in &graph.bands {
        assert!(top >= SIZES.head && bottom <= graph.height + NEAR, "{band:?}");
        for (bar, step) in graph.bars.iter().zip(steps) {
            let (mut from, mut until) = (bar.y, bar.y + bar.height);
            if bar.band == Band::Oven {
                let cabinet = bar.cabinet();
                (from, until) = (cabinet.y, cabinet.bottom());
                assert!(cabinet.x < bar.x && cabinet.right() > bar.right());
                // Its one shelf is half way up.
                assert!((cabinet.centre().y - (bar.y + bar.height)).abs() < NEAR);
            }
            let within = from >= top - NEAR && until <= bottom + NEAR;
            let clear = until <= top + NEAR || from >= bottom - NEAR;
            assert_eq!(bar.band, step.band);
            assert!(if bar.band == band { within } else { clear }, "{band:?} {bar:?}");
        }
        let mine = |b: &&StepBar| b.band == band;
        let lanes: BTreeSet<usize> = graph.bars.iter().filter(mine).map(|b| b.lane).collect();
        assert!(lanes.iter().copied().eq(0..lanes.len()), "a lane without a step: {lanes:?}");
        for bar in graph.bars.iter().filter(mine) {
            // Hands pile up from the worktop, all else goes down from the top.
            let from_first = match band {
                Band::Hands => bottom - (bar.y + bar.height),
                Band::Oven => bar.cabinet().y - top,
                Band::ByItself => bar.y - top,
            };
            assert_eq!(bar.lane == 0, from_first.abs() < NEAR, "{bar:?}");
        }
    }
    for pair in graph.bands.windows(2) {
        assert!((pair[1].1 - pair[0].2 - SIZES.apart).abs() < NEAR, "{:?}", graph.bands);
    }
}

#[test]
fn every_method_has_its_picture() {
    let mut seen = 0;
    let mut bands = Vec::new();
    for method in methods() {
        let (steps, bake, waits) = of(&method);
        let graph = sound(&steps, bake, &waits);
        for (bar, step) in graph.bars.iter().zip(&method.steps) {
            // The oven's band is the bake's alone, and no bake is elsewhere.
            assert_eq!(bar.band == Band::Oven, step.kind == StepKindShape::Bake, "{}", step.name);
        }
        bands.extend(graph.bands.iter().map(|b| b.0));
        seen += 1;
    }
    assert!(seen > 80, "{seen}");
    assert!([Band::Hands, Band::Oven, Band::ByItself].iter().all(|b| bands.contains(b)));
}

#[test]
fn what_hands_do_during_the_bake_stands_above_it() {
    let mut five = steps(&[5.0, 20.0, 8.0, 10.0, 2.0]);
    (five[1].band, five[3].band) = (Band::Oven, Band::ByItself);
    // Weighed while the tin is lined, then baked while somebody washes up, then cooled.
    let waits = [wait(0, 1), wait(0, 2), wait(1, 3), wait(4, 1)];
    let graph = sound(&five, Some(1), &waits);
    let [weigh, bake, wash, cool, line] = graph.bars[..] else { panic!("{:?}", graph.bars) };
    assert_eq!([weigh, bake, wash, cool, line].map(|b| b.lane), [0, 0, 0, 0, 1]);
    assert!(line.y + line.height < wash.y, "nothing lies between washing up and the bake");
    assert_eq!(wash.x, bake.x);
    assert!(wash.right() < bake.right(), "it falls within the bake");
    assert!(wash.y + wash.height <= bake.cabinet().y && bake.cabinet().bottom() <= cool.y);
    // A band without a step has no room.
    let graph = sound(&five[..2], Some(1), &[wait(0, 1)]);
    assert_eq!(graph.bands.len(), 2);
}

#[test]
fn steps_start_as_early_as_they_can() {
    for method in methods() {
        let (steps, bake, waits) = of(&method);
        let graph = sound(&steps, bake, &waits);
        for (i, bar) in graph.bars.iter().enumerate() {
            let soonest = waits.iter().filter(|w| w.to == i);
            let soonest = soonest.map(|w| graph.bars[w.from].until + w.least.unwrap_or(0.0));
            assert_eq!(bar.from, soonest.fold(0.0, f64::max), "{} {i}", method.name);
            assert_eq!(bar.until, bar.from + steps[i].minutes);
        }
    }
    let apart = Wait { least: Some(3.0), ..wait(0, 1) };
    let graph = sound(&steps(&[4.0, 2.0]), None, &[apart]);
    assert_eq!((graph.bars[1].from, graph.bars[1].until), (7.0, 9.0));
    assert_eq!(graph.ticks.iter().map(|t| t.0).collect::<Vec<_>>(), [0.0, 4.0, 7.0, 9.0]);
}

#[test]
fn the_tin_has_the_first_lane_of_its_band_and_clearing_what_is_left() {
    // weigh, beat, line tin, fill, bake, cool, wash up, wipe, scrape the bowl.
    let mut minutes = steps(&[5.0, 3.0, 2.0, 2.0, 20.0, 10.0, 8.0, 3.0, 1.0]);
    (minutes[4].band, minutes[5].band) = (Band::Oven, Band::ByItself);
    let waits = [(0, 1), (1, 3), (2, 3), (3, 4), (4, 5), (3, 6), (6, 7), (1, 8)]
        .map(|(from, to)| wait(from, to));
    let graph = sound(&minutes, Some(4), &waits);
    let lanes: Vec<usize> = graph.bars.iter().map(|b| b.lane).collect();
    assert_eq!(lanes, [0, 0, 1, 0, 0, 0, 0, 0, 1]);
    assert_eq!(
        tins_way(9, Some(4), &waits),
        [true, true, true, true, true, true, false, false, false],
        "washing up is no way of the tin"
    );
    assert_eq!(tins_way(3, None, &[wait(0, 1)]), [true; 3], "without a bake all are");
    // At any time the tin's way has the earlier lanes of a band than what is
    // cleared then, and the bake is always in the oven's first.
    for method in methods() {
        let (steps, bake, waits) = of(&method);
        let graph = sound(&steps, bake, &waits);
        let way = tins_way(steps.len(), bake, &waits);
        if let Some(bake) = bake {
            assert_eq!((graph.bars[bake].band, graph.bars[bake].lane), (Band::Oven, 0));
        }
        let each = || graph.bars.iter().zip(&way);
        for (on_way, _) in each().filter(|e| *e.1) {
            for (other, _) in each().filter(|e| !*e.1 && e.0.band == on_way.band) {
                let at_once = on_way.from < other.until && other.from < on_way.until;
                assert!(!at_once || on_way.lane < other.lane, "{}", method.name);
            }
        }
    }
}

#[test]
fn rings_and_nonsense_are_drawn_as_far_as_they_can_be() {
    let within = |from, to| Wait { longest: Some(5.0), ..wait(from, to) };
    let three = steps(&[3.0; 3]);
    let graph = sound(&three, Some(7), &[within(0, 1), within(1, 2), within(2, 0), within(1, 1)]);
    let from: Vec<f64> = graph.bars.iter().map(|b| b.from).collect();
    assert_eq!(from, [0.0, 3.0, 6.0], "what would close the ring is left out");
    assert_eq!(sound(&three[..1], None, &[within(0, 9)]).bars[0].from, 0.0);
    assert_eq!(sound(&[], None, &[]), StepGraph::default());
    // Steps of no time have a bar all the same.
    sound(&steps(&[0.0, 0.0]), Some(1), &[wait(0, 1)]);
}

#[test]
fn a_step_is_spoken_with_what_it_waits_for_and_what_is_after_it() {
    let names = ["collect tray", "beat", "fill", "bake"].map(str::to_owned);
    let wait = |from, to, longest| Wait { from, to, least: None, longest };
    let waits = [wait(0, 1, None), wait(1, 2, None), wait(1, 3, Some(15.0))];
    assert_eq!(
        spoken(1, &names, "3 minutes", &waits),
        "beat, 3 minutes, waits for collect tray, before fill and bake within 15 minutes"
    );
    assert_eq!(
        spoken(1, &names, "3 minutes", &waits[..2]),
        "beat, 3 minutes, waits for collect tray, before fill"
    );
    assert_eq!(spoken(3, &names, "", &waits), "bake, waits for beat");
    let at_once = [wait(0, 1, Some(0.0)), wait(0, 2, Some(1.0))];
    assert_eq!(
        spoken(0, &names, "2 minutes", &at_once),
        "collect tray, 2 minutes, before beat at once and fill within 1 minute"
    );
}

proptest! {
    #[test]
    fn any_steps_are_laid_out(
        each in prop::collection::vec((0.5_f64..40.0, 10.0_f32..300.0, 0_usize..3), 1..25),
        ends in prop::collection::vec((0_usize..25, 0_usize..25), 0..50),
        bake in prop::option::of(0_usize..25),
    ) {
        let bands = [Band::Hands, Band::Oven, Band::ByItself];
        let steps: Vec<Step> = each
            .into_iter()
            .map(|(minutes, width, band)| Step { minutes, width, band: bands[band] })
            .collect();
        let waits: Vec<Wait> = ends
            .into_iter()
            .map(|(from, to)| Wait {
                least: (to % 5 == 0).then_some(2.0),
                longest: (from % 3 == 0).then_some(5.0),
                ..wait(from, to)
            })
            .collect();
        let graph = sound(&steps, bake, &waits);
        // Every pair that makes no ring by itself is one after the other.
        for a in waits.iter().filter(|a| a.from != a.to) {
            if a.from < steps.len() && a.to < steps.len() {
                let (a, b) = (graph.bars[a.from], graph.bars[a.to]);
                prop_assert!(a.right() <= b.x || b.right() <= a.x);
            }
        }
    }
}
