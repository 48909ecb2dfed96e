//! The picture of a method's steps, as numbers.

use ovenbell::file::format::MethodShape;
use ovenbell::file::library;
use ovenbell::setup::steps::arrows;
use ovenbell::view::step_graph::{Arrow, Sizes, StepGraph, lay_out, spoken};
use proptest::prelude::*;

use crate::generate;

const SIZES: Sizes = Sizes { height: 24.0, across: 28.0, between: 10.0 };

fn of(method: &MethodShape) -> (Vec<f32>, Vec<Arrow>) {
    let widths = method.steps.iter().map(|s| 20.0 + 6.5 * s.name.chars().count() as f32).collect();
    let arrow =
        |a: ovenbell::setup::steps::Arrow| Arrow { from: a.from, to: a.to, longest: a.longest };
    (widths, arrows(method).into_iter().map(arrow).collect())
}

fn methods() -> Vec<MethodShape> {
    let of_library = library::recipes().unwrap().into_iter();
    let generated = (0..60).flat_map(|seed| generate::lesson(seed).recipes);
    of_library.chain(generated).flat_map(|r| r.methods).collect()
}

/// Whether a stretch of a line goes through the inside of a box.
fn goes_through(a: (f32, f32), b: (f32, f32), at: &ovenbell::view::step_graph::StepBox) -> bool {
    (1..100).any(|i| {
        let t = i as f32 / 100.0;
        let (x, y) = (a.0 + t * (b.0 - a.0), a.1 + t * (b.1 - a.1));
        x > at.x + 0.01
            && x < at.x + at.width - 0.01
            && y > at.y + 0.01
            && y < at.y + at.height - 0.01
    })
}

fn sound(widths: &[f32], arrows: &[Arrow]) -> StepGraph {
    let graph = lay_out(widths, arrows, SIZES);
    assert_eq!(graph.boxes.len(), widths.len());
    for (i, a) in graph.boxes.iter().enumerate() {
        assert_eq!((a.width, a.height), (widths[i], SIZES.height));
        assert!(a.x >= 0.0 && a.x + a.width <= graph.width + 0.01);
        assert!(a.y >= -0.01 && a.y + a.height <= graph.height + 0.01);
        for b in &graph.boxes[i + 1..] {
            let beside = a.x + a.width + SIZES.across <= b.x + 0.01
                || b.x + b.width + SIZES.across <= a.x + 0.01;
            let apart = (a.y - b.y).abs() >= SIZES.height + SIZES.between - 0.01;
            assert!(beside || apart, "boxes lie on each other: {a:?} {b:?}");
        }
    }
    for arrow in &graph.arrows {
        let (from, to) = (graph.boxes[arrow.from], graph.boxes[arrow.to]);
        let (first, last) = (arrow.points[0], arrow.points[arrow.points.len() - 1]);
        assert_eq!((first.0, last.0), (from.x + from.width, to.x));
        assert!(first.1 > from.y && first.1 < from.y + from.height);
        assert!(last.1 > to.y && last.1 < to.y + to.height);
        for pair in arrow.points.windows(2) {
            assert!(pair[0].0 <= pair[1].0, "from right to left: {:?}", arrow.points);
            let through = graph.boxes.iter().find(|b| goes_through(pair[0], pair[1], b));
            assert!(through.is_none(), "through {through:?}");
            assert!(pair.iter().all(|p| p.1 >= -0.01 && p.1 <= graph.height + 0.01));
        }
    }
    assert_eq!(graph, lay_out(widths, arrows, SIZES), "the same every time");
    graph
}

#[test]
fn every_method_has_its_picture() {
    let mut seen = 0;
    for method in methods() {
        let (widths, arrows) = of(&method);
        let graph = sound(&widths, &arrows);
        assert_eq!(graph.arrows.len(), arrows.len(), "{}", method.name);
        for (line, arrow) in graph.arrows.iter().zip(&arrows) {
            assert_eq!((line.from, line.to, line.longest), (arrow.from, arrow.to, arrow.longest));
        }
        seen += 1;
    }
    assert!(seen > 80, "{seen}");
}

#[test]
fn the_library_is_drawn_without_tangles() {
    let mut all = 0;
    for recipe in library::recipes().unwrap() {
        for method in &recipe.methods {
            let (widths, arrows) = of(method);
            let crossings = sound(&widths, &arrows).crossings;
            assert!(crossings <= 1, "{} {}: {crossings}", recipe.name, method.name);
            all += crossings;
        }
    }
    assert!(all <= 2, "{all}");
}

#[test]
fn columns_go_by_the_longest_way() {
    // 0 → 1 → 2 → 3 and 0 → 3, 4 by itself.
    let arrow = |from, to| Arrow { from, to, longest: None };
    let arrows = [arrow(0, 1), arrow(1, 2), arrow(2, 3), arrow(0, 3)];
    let graph = sound(&[30.0; 5], &arrows);
    let columns: Vec<usize> = graph.boxes.iter().map(|b| b.column).collect();
    assert_eq!(columns, [0, 1, 2, 3, 0]);
    let long = graph.arrows.iter().find(|a| (a.from, a.to) == (0, 3)).unwrap();
    assert!(long.points.len() >= 5, "it has places of its own: {:?}", long.points);
}

#[test]
fn crossed_pairs_are_uncrossed() {
    let arrow = |from, to| Arrow { from, to, longest: None };
    // 0 and 1 lead to 3 and 2.
    let graph = sound(&[30.0; 4], &[arrow(0, 3), arrow(1, 2)]);
    assert_eq!(graph.crossings, 0);
    // Three to three the other way round.
    let graph = sound(&[30.0; 6], &[arrow(0, 5), arrow(1, 4), arrow(2, 3)]);
    assert_eq!(graph.crossings, 0);
}

#[test]
fn rings_and_nonsense_are_drawn_as_far_as_they_can_be() {
    let arrow = |from, to| Arrow { from, to, longest: Some(5.0) };
    let graph = sound(&[30.0; 3], &[arrow(0, 1), arrow(1, 2), arrow(2, 0), arrow(1, 1)]);
    assert_eq!(graph.arrows.len(), 2);
    assert_eq!(sound(&[30.0], &[arrow(0, 9)]).arrows.len(), 0);
    assert_eq!(sound(&[], &[]), StepGraph::default());
}

#[test]
fn a_box_is_spoken_with_what_is_before_and_after_it() {
    let names = ["collect tray", "beat", "fill", "bake"].map(str::to_owned);
    let arrow = |from, to, longest| Arrow { from, to, longest };
    let arrows = [arrow(0, 1, None), arrow(1, 2, None), arrow(1, 3, Some(15.0))];
    assert_eq!(
        spoken(1, &names, "3 minutes", &arrows),
        "beat, 3 minutes, after collect tray, before fill and bake within 15 minutes"
    );
    assert_eq!(
        spoken(1, &names, "3 minutes", &arrows[..2]),
        "beat, 3 minutes, after collect tray, before fill"
    );
    assert_eq!(spoken(3, &names, "", &arrows), "bake, after beat");
    let at_once = [arrow(0, 1, Some(0.0)), arrow(0, 2, Some(1.0))];
    assert_eq!(
        spoken(0, &names, "2 minutes", &at_once),
        "collect tray, 2 minutes, before beat at once and fill within 1 minute"
    );
}

proptest! {
    #[test]
    fn any_steps_are_laid_out(
        widths in prop::collection::vec(10.0_f32..300.0, 1..25),
        ends in prop::collection::vec((0_usize..25, 0_usize..25), 0..50),
    ) {
        let arrows: Vec<Arrow> = ends
            .into_iter()
            .map(|(from, to)| Arrow { from, to, longest: (from % 3 == 0).then_some(5.0) })
            .collect();
        let graph = sound(&widths, &arrows);
        // Every pair that makes no ring by itself is there, one way at least.
        for a in arrows.iter().filter(|a| a.from != a.to) {
            if a.from < widths.len() && a.to < widths.len() {
                prop_assert!(graph.boxes[a.from].column != graph.boxes[a.to].column);
            }
        }
    }
}
