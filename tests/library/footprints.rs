//! Which tins stand on a shelf together: arrangements are judged here with
//! arithmetic of their own, proofs by arrangements and by published optima.

use ovenbell::graph::footprint::{
    Effort, Footprint, OnShelf, Together, is_refuted, pattern, placed, stand_with,
};
use ovenbell::graph::packing::Space;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// Left, front, right and back edge in millimetres.
fn edges(tin: &OnShelf) -> (f64, f64, f64, f64) {
    let (w, d) = match tin.footprint {
        Footprint::Circle { across } => (across, across),
        Footprint::Rect { long, wide } if tin.spot.turned => (wide, long),
        Footprint::Rect { long, wide } => (long, wide),
    };
    let (x, y) = (f64::from(tin.spot.x) / 100.0, f64::from(tin.spot.y) / 100.0);
    (x, y, x + f64::from(w), y + f64::from(d))
}

/// How far apart two tins are in the sense of the rule.
fn air(a: &OnShelf, b: &OnShelf) -> f64 {
    let (p, q) = (edges(a), edges(b));
    let middle = |e: (f64, f64, f64, f64)| (f64::midpoint(e.0, e.2), f64::midpoint(e.1, e.3));
    let to_rect = |of: (f64, f64, f64, f64), r: (f64, f64, f64, f64)| {
        let (x, y) = middle(of);
        let (dx, dy) = ((r.0 - x).max(x - r.2).max(0.0), (r.1 - y).max(y - r.3).max(0.0));
        dx.hypot(dy) - (of.2 - of.0) / 2.0
    };
    match (a.footprint, b.footprint) {
        (Footprint::Circle { across: c }, Footprint::Circle { across: d }) => {
            let (m, n) = (middle(p), middle(q));
            (m.0 - n.0).hypot(m.1 - n.1) - f64::from(c + d) / 2.0
        }
        (Footprint::Circle { .. }, _) => to_rect(p, q),
        (_, Footprint::Circle { .. }) => to_rect(q, p),
        _ => (q.0 - p.2).max(p.0 - q.2).max(q.1 - p.3).max(p.1 - q.3),
    }
}

fn assert_stands(tins: &[OnShelf], space: Space) {
    const DUST: f64 = 1e-9;
    for (i, a) in tins.iter().enumerate() {
        let (left, front, right, back) = edges(a);
        assert!(left >= 0.0 && front >= 0.0, "{a:?} on {space:?}");
        assert!(right <= f64::from(space.width) && back <= f64::from(space.depth), "{a:?}");
        for b in &tins[..i] {
            assert!(air(a, b) >= f64::from(space.gap) - DUST, "{a:?} and {b:?} on {space:?}");
        }
    }
}

fn random(rng: &mut Pcg64Mcg, most: usize) -> (Vec<Footprint>, Space) {
    let space = Space {
        width: rng.random_range(250..=650),
        depth: rng.random_range(200..=500),
        gap: rng.random_range(0..=40),
    };
    let tin = |rng: &mut Pcg64Mcg| {
        if rng.random_bool(0.65) {
            Footprint::Circle { across: rng.random_range(60..=300) }
        } else {
            Footprint::Rect { long: rng.random_range(60..=350), wide: rng.random_range(60..=300) }
        }
    };
    let mut tins: Vec<Footprint> = (0..rng.random_range(1..=most)).map(|_| tin(rng)).collect();
    // Equal ones are what lessons have.
    if rng.random_bool(0.4) {
        let first = tins[0];
        tins.fill(first);
    }
    (tins, space)
}

#[test]
fn random_shelves_are_never_both_placed_and_refuted_and_up_to_four_tins_are_decided() {
    let mut rng = Pcg64Mcg::seed_from_u64(7);
    let (mut stand, mut do_not) = (0, 0);
    for _ in 0..2_000 {
        let (tins, space) = random(&mut rng, 6);
        let found = placed(&tins, space, Effort::LESSON);
        let refuted = is_refuted(&tins, space, Effort::LESSON.boxes);
        assert!(!(found.is_some() && refuted), "{tins:?} on {space:?}: both");
        if let Some(standing) = &found {
            assert_eq!(standing.iter().map(|s| s.footprint).collect::<Vec<_>>(), tins);
            assert_stands(standing, space);
        }
        if tins.len() <= 4 {
            let decided = stand_with(&tins, space, Effort::THOROUGH);
            assert_ne!(decided, Together::Unknown, "{tins:?} on {space:?}");
            assert_eq!(decided == Together::Refuted, refuted, "{tins:?} on {space:?}");
            if let Together::Placed(standing) = decided {
                assert_stands(&standing, space);
            }
        }
        stand += i32::from(found.is_some());
        do_not += i32::from(refuted);
    }
    assert!(stand > 500 && do_not > 500, "{stand} stand, {do_not} do not");
}

#[test]
fn a_tin_more_never_makes_room() {
    let mut rng = Pcg64Mcg::seed_from_u64(8);
    for _ in 0..300 {
        let (mut tins, space) = random(&mut rng, 4);
        let all = stand_with(&tins, space, Effort::THOROUGH);
        tins.pop();
        let fewer = stand_with(&tins, space, Effort::THOROUGH);
        assert!(
            fewer != Together::Refuted || all == Together::Refuted,
            "{tins:?} on {space:?}: more stand than fewer"
        );
    }
}

/// The least distance of points in a square of side 1, made as great as
/// possible. From memory. 2 to 5: folklore; 6: R. L. Graham, 1963; 7 to 9: J.
/// Schaer and A. Meir, *On a geometric extremum problem*, and J. Schaer, *The
/// densest packing of nine circles in a square*, Canadian Mathematical Bulletin
/// 8, 1965; 10 to 13: R. Peikert, D. Würtz, M. Monagan and C. de Groot, *Packing
/// circles in a square: a review and new results*, 1992.
fn published() -> [(usize, f64); 12] {
    [
        (2, 2.0_f64.sqrt()),
        (3, 6.0_f64.sqrt() - 2.0_f64.sqrt()),
        (4, 1.0),
        (5, 0.5_f64.sqrt()),
        (6, 13.0_f64.sqrt() / 6.0),
        (7, 4.0 - 2.0 * 3.0_f64.sqrt()),
        (8, (6.0_f64.sqrt() - 2.0_f64.sqrt()) / 2.0),
        (9, 0.5),
        (10, 0.421_279_543_983_903),
        (11, 0.398_207_310_236_844),
        (12, 34.0_f64.sqrt() / 15.0),
        (13, 0.366_096_007_696_425),
    ]
}

/// A square shelf on which centres have so many millimetres each way.
fn square(across: i32, room: i32) -> Space {
    Space { width: across + room, depth: across + room, gap: 0 }
}

#[test]
fn equal_circles_in_a_square_agree_with_published_optima() {
    let across = 100;
    let tin = Footprint::Circle { across };
    for (n, distance) in published() {
        #[allow(clippy::cast_possible_truncation)] // a few hundred
        let enough = (f64::from(across) / distance - 1e-9).ceil() as i32;
        let tins = vec![tin; n];
        let effort = Effort { boxes: 400_000, ..Effort::THOROUGH };
        let Together::Placed(standing) = stand_with(&tins, square(across, enough), effort) else {
            panic!("{n} circles stand in {enough}, but were not placed");
        };
        assert_stands(&standing, square(across, enough));
        // One millimetre less is not enough.
        let too_little = square(across, enough - 1);
        assert_eq!(placed(&tins, too_little, Effort::LESSON), None, "{n} in {enough} less one");
        if n <= 7 {
            assert!(is_refuted(&tins, too_little, Effort::THOROUGH.boxes), "{n} in {enough}");
        }
    }
}

#[test]
fn more_circles_than_a_pattern_says_at_most_are_never_placed() {
    for (n, distance) in published() {
        for across in [100, 137, 215] {
            #[allow(clippy::cast_possible_truncation)] // a few hundred
            let enough = (f64::from(across) / distance - 1e-9).ceil() as i32;
            let space = square(across, enough);
            let found = pattern(Footprint::Circle { across }, space);
            assert!(found.at_most >= n, "{n} of {across} stand in {enough}: {found:?}");
            assert!(found.spots.len() <= found.at_most);
            let on_shelf = |&spot| OnShelf { footprint: Footprint::Circle { across }, spot };
            assert_stands(&found.spots.iter().map(on_shelf).collect::<Vec<_>>(), space);
        }
    }
}

#[test]
fn two_circles_stand_corner_to_corner_or_not_at_all() {
    // Centres have 205 by 145 mm, corner to corner 251.09: a rim of 215 and up
    // to 36 mm of air.
    let tins = [Footprint::Circle { across: 215 }; 2];
    let with_gap = |gap| Space { width: 420, depth: 360, gap };
    assert!(placed(&tins, with_gap(36), Effort::LESSON).is_some());
    assert!(!is_refuted(&tins, with_gap(36), 1_000));
    assert!(placed(&tins, with_gap(37), Effort::LESSON).is_none());
    assert!(is_refuted(&tins, with_gap(37), 0));
}

#[test]
fn round_tins_of_the_library_stand_as_the_trade_has_them() {
    // Rim, and how many stand on 420 x 360, 380 x 320, 450 x 380 and 600 x 400
    // with 2 cm of air.
    let places = [(215, [2, 1, 2, 3]), (195, [2, 2, 3, 4]), (165, [4, 3, 4, 6])];
    let shelves = [(420, 360), (380, 320), (450, 380), (600, 400)];
    for (across, wanted) in places {
        for ((width, depth), wanted) in shelves.into_iter().zip(wanted) {
            let space = Space { width, depth, gap: 20 };
            let found = pattern(Footprint::Circle { across }, space);
            assert_eq!(found.spots.len(), wanted, "{across} on {width} x {depth}");
            assert_eq!(found.at_most, wanted, "at most {across} on {width} x {depth}");
        }
    }
}

#[test]
fn rectangles_alone_stand_as_before() {
    let space = Space { width: 420, depth: 360, gap: 20 };
    for (long, wide) in [(350, 270), (170, 100), (150, 125)] {
        let before = ovenbell::graph::packing::pattern(long, wide, space);
        let now = pattern(Footprint::Rect { long, wide }, space);
        let corner = |s: &ovenbell::graph::packing::TinSpot| (s.x * 100, s.y * 100, s.turned);
        let spots: Vec<_> = now.spots.iter().map(|s| (s.x, s.y, s.turned)).collect();
        assert_eq!(spots, before.spots.iter().map(corner).collect::<Vec<_>>());
        assert_eq!(now.at_most, before.at_most);
    }
}
