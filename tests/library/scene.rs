//! Pictures as geometry: the board, shelves from above and tins in section hold
//! what they should, to scale, and within their size; words on a week keep clear of ovens.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use crate::common::collecting::collecting;
use crate::week::{EIGHT, OTHER, TEN, day, department, sound, told, week_of};
use ovenbell::bake::tin_table::tin_table;
use ovenbell::check::{CheckedPlan, Verdict, judge_of};
use ovenbell::file::load_lesson;
use ovenbell::model::{AdultId, Lesson, OvenId};
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::units::{Minute, Minutes};
use ovenbell::view::area::{Area, at};
use ovenbell::view::board::{BarId, Board, Work};
use ovenbell::view::cards::{self, ShelfPicture};
use ovenbell::view::laid_out::{LaidOut, Over, Sizes, lay_out_over};
use ovenbell::view::overlay::{Ghosts, Tense};
use ovenbell::view::scale::TimeScale;
use ovenbell::view::scene::board::{BoardPicture, CLOCK_HEIGHT, inside};
use ovenbell::view::scene::week::{StandsOut, WeekPicture};
use ovenbell::view::scene::{
    Colour, Item, Measure, Of, Scene, Shape, Stretch, Weight, shelf, sign, tins,
};
use ovenbell::view::section::section;
use ovenbell::view::week::WeekBoard;

/// Letters about as wide as those of a usual typeface, wide ones wider.
struct Even;

impl Measure for Even {
    fn width(&self, words: &str, size: f32, weight: Weight) -> f32 {
        let wide = if weight == Weight::Bold { 0.62 } else { 0.56 };
        let of = |c: char| if "mwMW…".contains(c) { 1.5 * wide } else { wide };
        words.chars().map(|c| of(c) * size).sum()
    }

    fn height(&self, size: f32, _: Weight) -> f32 {
        1.25 * size
    }
}

fn demo() -> (Lesson, CheckedPlan) {
    planned("demo.ron")
}

fn planned(name: &str) -> (Lesson, CheckedPlan) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    let lesson = load_lesson(&path).unwrap().lesson;
    let budget = Budget { within: None, decodings: Some(1_000), seed: 1 };
    let judge = judge_of(&lesson);
    let best = plan_lesson(&lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap();
    (lesson, best.judged)
}

/// The mark of a verdict by itself.
fn mark(of: Verdict) -> Scene {
    let mut scene = Scene::new((20.0, 20.0));
    sign::verdict(&mut scene, Stretch::default(), at(10.0, 10.0), of);
    scene
}

#[test]
fn verdicts_are_tins_and_no_two_are_alike() {
    let all = [
        Verdict::Fits,
        Verdict::Tight,
        Verdict::NotRealistically,
        Verdict::Cannot,
        Verdict::CannotAll,
        Verdict::LeftOut,
    ];
    let marks = all.map(mark);
    for (i, scene) in marks.iter().enumerate() {
        for (j, other) in marks.iter().enumerate() {
            assert_eq!(scene.items == other.items, i == j, "{:?} and {:?}", all[i], all[j]);
        }
    }
    // Filled to a line: all of it, part of it, nothing.
    let filled = |of: Verdict| -> f32 {
        let areas = mark(of).items.into_iter().filter_map(|item| match item.shape {
            Shape::Polygon(polygon) => {
                let ys = || polygon.points.iter().map(|p| p.y);
                Some(ys().fold(f32::MIN, f32::max) - ys().fold(f32::MAX, f32::min))
            }
            _ => None,
        });
        areas.sum()
    };
    let (full, part) = (filled(Verdict::Fits), filled(Verdict::Tight));
    assert!(part > 2.0 && full > 1.7 * part, "{full}, {part}");
    for empty in [Verdict::NotRealistically, Verdict::Cannot, Verdict::CannotAll] {
        assert!(filled(empty) == 0.0, "{empty:?}");
    }
}

#[test]
fn the_first_adults_card_says_what_is_next_after_a_minute() {
    let (lesson, plan) = demo();
    let of = |now: Option<i32>| {
        cards::adult(&lesson, &plan, AdultId(0), now.map(Minute::new)).lines[0].clone()
    };
    let duties = cards::adult(&lesson, &plan, AdultId(0), None).lines;
    assert_eq!(of(None).0, "Next for you");
    assert!(duties.len() > 2, "{duties:?}");
    assert!(duties[1].0.starts_with(&of(None).1[..5]), "the first of all: {duties:?}");
    assert_eq!(of(Some(600)).1, "nothing more in this plan");
    let later = of(Some(30)).1;
    assert!(later[..5] > *"10:35", "{later} is after 10:35");
}

/// All between the bells, or the middle of the lesson.
const WHOLE: TimeScale = TimeScale { from: -1.0, until: 61.0, left: 166.0, width: 620.0 };
/// As far as the last bell.
const TO_THE_BELL: TimeScale = TimeScale { until: 66.0, width: 670.0, ..WHOLE };
const CLOSE: TimeScale = TimeScale { from: 20.0, until: 35.0, ..WHOLE };

/// A board's picture with what it is drawn from.
struct Drawn {
    board: Board,
    laid: LaidOut,
    scene: Scene,
}

fn drawn(lesson: &Lesson, plan: &CheckedPlan, over: Over<'_>, scale: TimeScale) -> Drawn {
    let board = Board::of(lesson, plan);
    let laid = lay_out_over(&board, over, &scale, &Sizes::default());
    let size = (900.0, laid.height);
    let picture = BoardPicture {
        lesson,
        board: &board,
        over,
        laid: &laid,
        bars: &laid.bars,
        scale,
        size,
        seen: Area { x: 0.0, y: 0.0, w: size.0, h: size.1 },
    };
    let scene = picture.whole(&Even);
    Drawn { board, laid, scene }
}

/// The demo's board, once as it is, once with a plan that begins later laid
/// over it, once from near; and one whose groups are not served.
fn boards() -> Vec<(&'static str, Drawn)> {
    let (lesson, plan) = demo();
    let board = Board::of(&lesson, &plan);
    let ghosts = Ghosts::of(&board, &board, Minutes::new(3), Tense::Then);
    let over = Over { ghosts: Some(&ghosts), ..Over::default() };
    let (square, none) = planned("e-ginger-square.ron");
    vec![
        ("whole", drawn(&lesson, &plan, Over::default(), WHOLE)),
        ("over", drawn(&lesson, &plan, over, WHOLE)),
        ("close", drawn(&lesson, &plan, over, CLOSE)),
        ("not served", drawn(&square, &none, Over::default(), WHOLE)),
    ]
}

fn near(a: f32, b: f32) -> bool {
    (a - b).abs() < 1e-2
}

fn is_within(inner: &Area, outer: &Area) -> bool {
    inner.x >= outer.x - 1e-2
        && inner.y >= outer.y - 1e-2
        && inner.right() <= outer.right() + 1e-2
        && inner.bottom() <= outer.bottom() + 1e-2
}

#[test]
fn that_a_bake_is_collected_later_is_read_in_its_row_beside_what_there_is_to_give() {
    let lesson = collecting();
    let plan = crate::common::planned::planned(&lesson, 100);
    let right = 106.0 + BoardPicture::more_for_ready(&Board::of(&lesson, &plan)) + 12.0;
    let scale = TimeScale { width: 900.0 - WHOLE.left - right, ..TO_THE_BELL };
    let drawn = drawn(&lesson, &plan, Over::default(), scale);
    let texts = drawn.scene.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text),
        _ => None,
    });
    let read = |end: &str| {
        let of = texts.clone().filter(|text| text.words.ends_with(end) && !text.is_cut);
        of.count()
    };
    assert_eq!(read("collected later"), drawn.board.rows.len());
    let gives =
        drawn.board.rows.iter().filter(|row| row.to_give.as_deref() != Some("nothing to give"));
    let gives = gives.count();
    assert!(gives > 0 && gives <= read(" to give"), "{gives}");
}

/// Rectangles with an edge, by what they stand for: bars, not the patches
/// behind their words.
fn edged(scene: &Scene, of: impl Fn(Of) -> Option<BarId>) -> Vec<(BarId, Area)> {
    let bar = |item: &Item| match (&item.shape, item.of.and_then(&of)) {
        (Shape::Rect(rect), Some(id)) if rect.edge.is_some() => Some((id, rect.area)),
        _ => None,
    };
    scene.items.iter().filter_map(bar).collect()
}

fn texts(scene: &Scene) -> impl Iterator<Item = &ovenbell::view::scene::Text> {
    scene.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(text) => Some(text),
        _ => None,
    })
}

#[test]
fn every_bar_is_there_once_where_its_minutes_are() {
    let (lesson, plan) = demo();
    let Drawn { board, scene, .. } = drawn(&lesson, &plan, Over::default(), TO_THE_BELL);
    let own = |of| if let Of::Bar(id) = of { Some(id) } else { None };
    let mut found: BTreeMap<BarId, Vec<Area>> = BTreeMap::new();
    for (id, area) in edged(&scene, own) {
        found.entry(id).or_default().push(area);
    }
    assert_eq!(found.len(), board.bars().count());
    for bar in board.bars() {
        let [area] = found[&bar.id][..] else { panic!("{} is there several times", bar.spoken) };
        // A minute is 10 wide; half of 1 on each side tells neighbours apart.
        let minutes = (bar.until - bar.from).get() as f32;
        assert!(near(area.x, 176.0 + 10.0 * bar.from.get() as f32 + 0.5), "{}", bar.spoken);
        assert!(near(area.w, 10.0 * minutes - 1.0), "{}", bar.spoken);
    }
    // The class's own steps go through all rows.
    for band in &board.bands {
        let of = Some(Of::Bar(BarId::Class(band.step)));
        let is_band = |item: &&Item| item.of == of && matches!(item.shape, Shape::Rect(_));
        let area = scene.items.iter().find(is_band).unwrap().seen(&Even);
        assert!(near(area.x, TO_THE_BELL.x(band.from.get() as f32)), "{}", band.name);
        assert!(near(area.right(), TO_THE_BELL.x(band.until.get() as f32)), "{}", band.name);
        assert!(near(area.h, scene.size.1 - CLOCK_HEIGHT), "{}", band.name);
    }
}

#[test]
fn outlines_of_a_plan_laid_over_are_in_their_own_lanes() {
    let all = boards();
    let Drawn { laid, scene, .. } = &all[1].1;
    let other = |of| if let Of::Other(id) = of { Some(id) } else { None };
    let outlines = edged(scene, other);
    assert!(!outlines.is_empty());
    assert_eq!(outlines.len(), laid.ghosts.len());
    let own = |of| if let Of::Bar(id) = of { Some(id) } else { None };
    let bars = edged(scene, own);
    for (id, area) in &outlines {
        let covered = bars.iter().find(|(_, bar)| {
            let both = bar.shared(area);
            both.w > 0.01 && both.h > 0.01
        });
        assert!(covered.is_none(), "{id:?} covers {covered:?}");
    }
}

#[test]
fn what_is_drawn_of_a_part_is_what_lies_in_it() {
    let (lesson, plan) = demo();
    let Drawn { board, laid, .. } = drawn(&lesson, &plan, Over::default(), WHOLE);
    let seen = Area { x: 0.0, y: 90.0, w: 900.0, h: 60.0 };
    let picture = BoardPicture {
        lesson: &lesson,
        board: &board,
        over: Over::default(),
        laid: &laid,
        bars: &laid.bars,
        scale: WHOLE,
        size: (900.0, laid.height),
        seen,
    };
    let own = |of| if let Of::Bar(id) = of { Some(id) } else { None };
    let part: Vec<BarId> =
        edged(&picture.front(&Even), own).into_iter().map(|(id, _)| id).collect();
    let lie_in: Vec<BarId> =
        laid.bars.iter().filter(|(_, a)| inside(a).meets(&seen)).map(|(id, _)| *id).collect();
    assert!(!lie_in.is_empty() && lie_in.len() < laid.bars.len());
    assert_eq!(part, lie_in);
}

#[test]
fn words_fit_their_room_and_keep_to_the_picture() {
    for (name, Drawn { scene, .. }) in boards() {
        for text in texts(&scene) {
            let (width, height) = text.size(&Even);
            assert!(width <= text.room + 1e-3, "{name}: {} is {width} wide", text.words);
            assert!(height > 0.0 && !text.words.is_empty());
        }
        let whole = Area { x: 0.0, y: 0.0, w: scene.size.0, h: scene.size.1 };
        for item in &scene.items {
            let seen = item.seen(&Even);
            if item.within.is_some_and(|within| !within.meets(&item.shape.area(&Even))) {
                continue;
            }
            assert!(is_within(&seen, &whole), "{name}: {item:?} leaves the picture at {seen:?}");
            if let (Shape::Text(text), None) = (&item.shape, item.within) {
                let all = text.area(&Even);
                assert!(is_within(&all, &whole), "{name}: {} is not seen whole", text.words);
            }
        }
    }
}

#[test]
fn names_bells_and_ready_times_can_be_read() {
    let all = boards();
    let Drawn { board, scene, .. } = &all[0].1;
    let written: Vec<&str> = texts(scene).map(|t| t.words.as_str()).collect();
    for row in &board.rows {
        assert!(written.contains(&row.name.as_str()), "{}", row.name);
        assert!(written.contains(&row.ready.as_str()), "{}", row.ready);
    }
    for words in ["10:05", "11:05", "ready", "stop and look", "register"] {
        assert!(written.contains(&words), "{words}");
    }
    let Drawn { board, scene, .. } = &all[3].1;
    let why: Vec<_> = scene
        .items
        .iter()
        .filter_map(|item| match (&item.shape, item.of) {
            (Shape::Text(text), Some(Of::WhyNot(group))) => Some((group, &text.words)),
            _ => None,
        })
        .collect();
    assert_eq!(why.len(), board.rows.iter().filter(|r| r.reason.is_some()).count());
    assert!(why[0].1.starts_with("Even at the quickest"), "{}", why[0].1);
    let first = format!("as for {}", board.rows[0].name);
    assert!(why[1..].iter().all(|(_, words)| **words == first));
}

fn shelves() -> Vec<ShelfPicture> {
    let (lesson, plan) = demo();
    let ovens = (0..lesson.ovens.len()).map(OvenId);
    ovens.flat_map(|oven| cards::oven(&lesson, &plan, oven, None).1).collect()
}

#[test]
fn tins_on_a_shelf_are_true_to_scale_and_do_not_overlap() {
    let all = shelves();
    assert!(all.iter().any(|picture| picture.tins.len() > 1));
    for picture in &all {
        let scene = shelf::shelf(picture, 300.0, &Even);
        let scale = 300.0 / picture.size.0;
        assert!(near(scene.size.1, picture.size.1 * scale));
        let mut tins: Vec<(Area, bool)> = Vec::new();
        for tin in &picture.tins {
            let is_tin = |item: &&Item| {
                item.of == Some(Of::Bar(tin.bar)) && !matches!(item.shape, Shape::Text(_))
            };
            let found: Vec<&Item> = scene.items.iter().filter(is_tin).collect();
            let [item] = found[..] else { panic!("{} is there {} times", tin.tin, found.len()) };
            let area = item.seen(&Even);
            let (x, y, w, d) = tin.rim;
            assert!(near(area.x, x * scale) && near(area.w, w * scale), "{}", tin.tin);
            assert!(near(area.bottom(), scene.size.1 - y * scale) && near(area.h, d * scale));
            let floor = Area { x: 0.0, y: 0.0, w: 300.0, h: scene.size.1 };
            assert!(is_within(&area, &floor), "{} hangs over the edge", tin.tin);
            assert_eq!(matches!(item.shape, Shape::Circle(_)), tin.round, "{}", tin.tin);
            for &(other, round) in &tins {
                let both = other.shared(&area);
                let (a, b) = (other.centre(), area.centre());
                // Two circles may stand corner to corner.
                let apart = (a.x - b.x).hypot(a.y - b.y) >= (area.w + other.w) / 2.0;
                let clear = both.w < 1e-2 || both.h < 1e-2 || (round && tin.round && apart);
                assert!(clear, "{} stands on another", tin.tin);
            }
            tins.push((area, tin.round));
        }
    }
}

#[test]
fn tins_in_section_are_to_one_scale_and_filled_to_their_depth() {
    let (lesson, _) = demo();
    let recipe = &lesson.recipes[0];
    let sections: Vec<_> = tin_table(recipe, &lesson.tins, &[])
        .iter()
        .filter_map(|row| section(&lesson, recipe, row))
        .filter(|section| section.depth.is_some())
        .take(2)
        .collect();
    assert_eq!(sections.len(), 2, "two tins are to be compared");
    let scene = tins::in_section(&sections, 300.0, &Even);
    let mixtures: Vec<Area> = scene
        .items
        .iter()
        .filter_map(|item| if let Shape::Rect(rect) = &item.shape { Some(rect.area) } else { None })
        .collect();
    assert_eq!(mixtures.len(), 2);
    let scale = mixtures[0].w / sections[0].width as f32;
    let floor = mixtures[0].bottom();
    for (mixture, section) in mixtures.iter().zip(&sections) {
        assert!(near(mixture.w, section.width as f32 * scale), "{}", section.name);
        assert!(near(mixture.h, section.depth.unwrap() as f32 * scale), "{}", section.name);
        assert!(near(mixture.bottom(), floor));
    }
    assert!(mixtures[0].right() < mixtures[1].x);
    let whole = Area { x: 0.0, y: 0.0, w: scene.size.0, h: scene.size.1 };
    for item in &scene.items {
        assert!(is_within(&item.seen(&Even), &whole), "{item:?}");
    }
}

#[cfg(feature = "gui")]
mod in_the_window {
    use super::*;
    use ovenbell::app::{Palette, contrast};
    use ovenbell::view::scene::Colour;

    /// What lies below a point: the fill of the last of the items before it
    /// that covers it.
    fn below(items: &[Item], area: &Area) -> Colour {
        let covers = |item: &&Item| {
            let fill = match &item.shape {
                Shape::Rect(rect) => rect.fill,
                Shape::Circle(circle) => circle.fill,
                _ => None,
            };
            fill.is_some() && is_within(area, &item.seen(&Even))
        };
        match items.iter().rev().find(covers).map(|item| &item.shape) {
            Some(Shape::Rect(rect)) => rect.fill.unwrap(),
            Some(Shape::Circle(circle)) => circle.fill.unwrap(),
            _ => Colour::Card,
        }
    }

    #[test]
    fn every_colour_in_use_is_in_every_palette_and_words_stand_out() {
        let mut scenes: Vec<Scene> = boards().into_iter().map(|(_, d)| d.scene).collect();
        scenes.extend(shelves().iter().map(|picture| shelf::shelf(picture, 300.0, &Even)));
        for (name, palette) in Palette::ALL {
            let least = if palette.strong { 7.0 } else { 4.5 };
            for scene in &scenes {
                for (i, item) in scene.items.iter().enumerate() {
                    for colour in colours(&item.shape) {
                        assert!(palette.colour(colour).is_opaque(), "{name}: {colour:?}");
                    }
                    let Shape::Text(text) = &item.shape else { continue };
                    let under = below(&scene.items[..i], &text.area(&Even));
                    let (ink, ground) = (text.letters.colour, under);
                    let stands_out = contrast(palette.colour(ink), palette.colour(ground));
                    assert!(
                        stands_out >= least,
                        "{name}: {} in {ink:?} on {ground:?}: {stands_out:.1}",
                        text.words
                    );
                }
            }
        }
    }

    fn colours(shape: &Shape) -> Vec<Colour> {
        match shape {
            Shape::Rect(rect) => {
                let edge = rect.edge.map(|pen| pen.colour);
                rect.fill.into_iter().chain(edge).chain([rect.pattern.1]).collect()
            }
            Shape::Line(_, pen) => vec![pen.colour],
            Shape::Polygon(polygon) => vec![polygon.fill],
            Shape::Circle(circle) => {
                circle.fill.into_iter().chain(circle.edge.map(|pen| pen.colour)).collect()
            }
            Shape::Text(text) => vec![text.letters.colour],
        }
    }
}

#[test]
fn what_is_written_of_a_lesson_of_a_week_keeps_clear_of_its_ovens() {
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let report = told(&week);
    let board = WeekBoard::of(&week, Some(&report));
    let thursday = day(&week, "thu");
    // As the window has them at 1092 by 614, 1280 by 800 and 1920 by 1080.
    for (width, height) in [(770.0, 375.0), (920.0, 560.0), (1500.0, 830.0)] {
        for day in [None, Some(thursday)] {
            let picture = WeekPicture { board: &board, day, width, height };
            let scene = picture.scene(&StandsOut::default(), &Even);
            let (mut written, mut ovens) = (Vec::new(), Vec::new());
            for item in &scene.items {
                match &item.shape {
                    Shape::Text(text) => written.push((text.area(&Even), &text.words)),
                    Shape::Rect(rect) if rect.fill == Some(Colour::Work(Work::Bake)) => {
                        ovens.push(rect.area);
                    }
                    _ => {}
                }
            }
            assert!(ovens.len() >= 2 && written.len() > ovens.len(), "{ovens:?}");
            for (area, words) in written {
                let over = ovens.iter().find(|oven| {
                    let across = area.x < oven.right() && oven.x < area.right();
                    across && area.y < oven.bottom() && oven.y < area.bottom()
                });
                assert_eq!(over, None, "{width} by {height}: {words:?} at {area:?}");
                let is_within = 0.0 <= area.x && area.right() <= width && 0.0 <= area.y;
                assert!(is_within, "{width} by {height}: {words:?} at {area:?}");
            }
        }
    }
}
