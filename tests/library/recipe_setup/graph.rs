//! The picture of a method's steps, as numbers.

use ovenbell::file::format::{MethodShape, StepKindShape};
use ovenbell::file::library;
use ovenbell::setup::field;
use ovenbell::setup::steps::arrows;
use ovenbell::view::step_graph::{
    Sizes, Step, StepBar, StepGraph, Wait, lay_out, spoken, tins_way,
};
use proptest::prelude::*;

use crate::common::generate;

const SIZES: Sizes = Sizes {
    head: 20.0,
    height: 24.0,
    minute: 5.0,
    air: 11.0,
    told: 40.0,
    between: 10.0,
    track: 4.0,
};
const NEAR: f32 = 0.01;

fn of(method: &MethodShape) -> (Vec<Step>, Option<usize>, Vec<Wait>) {
    let band = ovenbell::file::format::PaceBand::Ages11To12;
    let steps = method.steps.iter().map(|s| Step {
        minutes: s.minutes.map_or(12.0, |m| field::usual(&m, band)),
        width: 20.0 + 6.5 * s.name.chars().count() as f32,
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

/// Steps of so many minutes, with short names.
fn steps(minutes: &[f64]) -> Vec<Step> {
    minutes.iter().map(|&minutes| Step { minutes, width: 30.0 }).collect()
}

/// Whether a stretch of a line goes through the inside of a bar.
fn goes_through(a: (f32, f32), b: (f32, f32), at: &StepBar) -> bool {
    (1..100).any(|i| {
        let t = i as f32 / 100.0;
        let (x, y) = (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1));
        x > at.x + NEAR && x < at.right() - NEAR && y > at.y + NEAR && y < at.y + at.height - NEAR
    })
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
            assert_eq!(a.lane == b.lane, a.y == b.y);
        }
    }
    for thread in &graph.threads {
        threads_are_sound(&graph, thread);
    }
    for pair in graph.ticks.windows(2) {
        assert!(pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1, "{:?}", graph.ticks);
    }
    assert_eq!(graph, lay_out(steps, bake, waits, SIZES), "the same every time");
    graph
}

fn threads_are_sound(graph: &StepGraph, thread: &ovenbell::view::step_threads::Thread) {
    let (from, to) = (graph.bars[thread.from], graph.bars[thread.to]);
    let pieces = &thread.pieces;
    let (first, last) = (pieces[0][0], *pieces.last().unwrap().last().unwrap());
    assert_eq!((first.0, last.0), (from.right(), to.x));
    assert!(first.1 > from.y && first.1 < from.y + from.height);
    assert!(last.1 > to.y && last.1 < to.y + to.height);
    for piece in pieces {
        for pair in piece.windows(2) {
            assert!(pair[0].0 <= pair[1].0, "from right to left: {pieces:?}");
            let through = graph.bars.iter().find(|b| goes_through(pair[0], pair[1], b));
            assert!(through.is_none(), "through {through:?}: {pieces:?}");
            assert!(pair.iter().all(|p| p.1 >= SIZES.head - NEAR && p.1 <= graph.height + NEAR));
        }
    }
    // Out of sight only under one bar, straight up or down.
    for pair in pieces.windows(2) {
        let (end, start) = (*pair[0].last().unwrap(), pair[1][0]);
        assert_eq!(end.0, start.0, "{pieces:?}");
        let (top, bottom) = (end.1.min(start.1), end.1.max(start.1));
        let under = |b: &&StepBar| {
            b.x < end.0
                && end.0 < b.right()
                && (b.y - top).abs() < NEAR
                && (b.y + b.height - bottom).abs() < NEAR
        };
        assert_eq!(graph.bars.iter().filter(under).count(), 1, "{pieces:?}");
    }
    assert_eq!(thread.passes(), pieces.len() - 1);
}

#[test]
fn every_method_has_its_picture() {
    let mut seen = 0;
    for method in methods() {
        let (steps, bake, waits) = of(&method);
        let graph = sound(&steps, bake, &waits);
        assert_eq!(graph.threads.len(), waits.len(), "{}", method.name);
        for (thread, wait) in graph.threads.iter().zip(&waits) {
            assert_eq!(
                (thread.from, thread.to, thread.longest),
                (wait.from, wait.to, wait.longest)
            );
        }
        seen += 1;
    }
    assert!(seen > 80, "{seen}");
}

#[test]
fn no_thread_of_the_library_goes_under_a_bar() {
    for recipe in library::recipes().unwrap() {
        for method in &recipe.methods {
            let (steps, bake, waits) = of(method);
            let passes = sound(&steps, bake, &waits).passes();
            assert_eq!(passes, 0, "{} {}", recipe.name, method.name);
        }
    }
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
fn the_tin_has_the_first_lane_and_clearing_lies_below() {
    // weigh, beat, line tin, fill, bake, cool, wash up, wipe.
    let minutes = steps(&[5.0, 3.0, 2.0, 2.0, 20.0, 10.0, 8.0, 3.0]);
    let waits =
        [(0, 1), (1, 3), (2, 3), (3, 4), (4, 5), (3, 6), (6, 7)].map(|(from, to)| wait(from, to));
    let graph = sound(&minutes, Some(4), &waits);
    let lanes: Vec<usize> = graph.bars.iter().map(|b| b.lane).collect();
    assert_eq!(lanes, [0, 0, 1, 0, 0, 0, 1, 1]);
    assert_eq!(
        tins_way(8, Some(4), &waits),
        [true, true, true, true, true, true, false, false],
        "washing up is no way of the tin"
    );
    assert_eq!(tins_way(3, None, &[wait(0, 1)]), [true; 3], "without a bake all are");
    // At any time nothing of the tin's way lies below what is cleared then,
    // and the bake is always in the first lane.
    for method in methods() {
        let (steps, bake, waits) = of(&method);
        let graph = sound(&steps, bake, &waits);
        let way = tins_way(steps.len(), bake, &waits);
        if let Some(bake) = bake {
            assert_eq!(graph.bars[bake].lane, 0, "{}", method.name);
        }
        for (bar, on_way) in graph.bars.iter().zip(way) {
            assert!(on_way || bar.lane > 0, "{}", method.name);
        }
    }
}

#[test]
fn a_longest_wait_has_room_for_its_words() {
    let within = Wait { longest: Some(15.0), ..wait(0, 1) };
    for waits in [[within, wait(0, 2)], [wait(0, 2), within]] {
        let graph = sound(&steps(&[4.0, 2.0, 6.0]), None, &waits);
        assert!(graph.bars[1].x - graph.bars[0].right() >= SIZES.told);
    }
}

#[test]
fn threads_in_one_space_run_side_by_side() {
    // Two chains in two lanes, and threads from each to the end of the other.
    let all = [wait(0, 1), wait(1, 2), wait(2, 3), wait(0, 3), wait(4, 3), wait(1, 5), wait(5, 3)];
    let graph = sound(&steps(&[5.0, 5.0, 5.0, 5.0, 2.0, 2.0]), None, &all);
    let long = graph.threads.iter().find(|t| (t.from, t.to) == (0, 3)).unwrap();
    assert!(long.pieces[0].len() >= 5, "it goes round: {:?}", long.pieces);
    let level = |piece: &Vec<(f32, f32)>| -> Vec<(f32, f32, f32)> {
        let pairs = piece.windows(2).filter(|p| p[0].1 == p[1].1 && p[1].0 - p[0].0 > 12.0);
        pairs.map(|p| (p[0].1, p[0].0, p[1].0)).collect()
    };
    let runs: Vec<_> =
        graph.threads.iter().map(|t| t.pieces.iter().flat_map(level).collect::<Vec<_>>()).collect();
    for (i, a) in runs.iter().enumerate() {
        for b in &runs[i + 1..] {
            for (x, y) in a.iter().flat_map(|x| b.iter().map(move |y| (x, y))) {
                let on_each_other = x.0 == y.0 && x.1 < y.2 && y.1 < x.2;
                assert!(!on_each_other, "{x:?} {y:?}");
            }
        }
    }
}

#[test]
fn rings_and_nonsense_are_drawn_as_far_as_they_can_be() {
    let within = |from, to| Wait { longest: Some(5.0), ..wait(from, to) };
    let three = steps(&[3.0; 3]);
    let graph = sound(&three, Some(7), &[within(0, 1), within(1, 2), within(2, 0), within(1, 1)]);
    assert_eq!(graph.threads.len(), 2);
    assert_eq!(sound(&three[..1], None, &[within(0, 9)]).threads.len(), 0);
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
        each in prop::collection::vec((0.5_f64..40.0, 10.0_f32..300.0), 1..25),
        ends in prop::collection::vec((0_usize..25, 0_usize..25), 0..50),
        bake in prop::option::of(0_usize..25),
    ) {
        let steps: Vec<Step> =
            each.into_iter().map(|(minutes, width)| Step { minutes, width }).collect();
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
