//! How many tins of two kinds stand together on a shelf at most.

use std::collections::HashMap;

use super::footprint::{Footprint, Together, pattern, stand};
use super::packing::Space;

/// Search nodes before it is taken that the tins fit.
const NODES: usize = 5_000;

/// Of more tins than this, with round ones among them, only the area is
/// counted.
const ARRANGED: usize = 6;

/// A rim: two sides in millimetres.
type Rim = (i32, i32);

/// For no, one, two … tins of the first kind, how many of the second may stand
/// beside them at most; ends at the most of the first.
pub type Staircase = Vec<usize>;

/// Staircases worked out so far.
#[derive(Debug, Clone, Default)]
pub struct Mixed {
    known: HashMap<(Footprint, Footprint, Space), Staircase>,
}

impl Mixed {
    /// On one shelf. Never too few: where the search would take too long,
    /// tins are taken to fit as far as their area does.
    pub fn on_shelf(&mut self, first: Footprint, second: Footprint, space: Space) -> &Staircase {
        self.known.entry((first, second, space)).or_insert_with(|| {
            let most = pattern(first, space).at_most;
            let mut beside = pattern(second, space).at_most;
            let mut stairs = vec![beside];
            for n in 1..=most {
                while beside > 0 && !may_fit((first, n), (second, beside), space) {
                    beside -= 1;
                }
                stairs.push(beside);
            }
            stairs
        })
    }
}

/// Two places together: of every split of the first kind, the most of the
/// second.
pub fn together(a: &[usize], b: &[usize]) -> Staircase {
    let mut stairs = vec![0; (a.len() + b.len()).saturating_sub(1)];
    for (i, x) in a.iter().enumerate() {
        for (j, y) in b.iter().enumerate() {
            stairs[i + j] = stairs[i + j].max(x + y);
        }
    }
    stairs
}

/// Sums of the kind `a × first + b × second ≤ c` that hold for a staircase,
/// with both counted: its upper hull.
pub fn sums(stairs: &[usize]) -> Vec<(i32, i32, i32)> {
    let whole = |n: usize| i64::try_from(n).unwrap_or(0);
    let points: Vec<(i64, i64)> =
        stairs.iter().enumerate().map(|(x, &y)| (whole(x), whole(y))).collect();
    let mut hull: Vec<(i64, i64)> = Vec::new();
    for &p in &points {
        while let [.., a, b] = hull[..] {
            // Drop what lies on or below the line from the one before to this.
            if (b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0) < 0 {
                break;
            }
            hull.pop();
        }
        hull.push(p);
    }
    let narrow = |n: i64| i32::try_from(n).unwrap_or(i32::MAX);
    hull.windows(2)
        .map(|w| {
            let (a, b) = (w[0].1 - w[1].1, w[1].0 - w[0].0);
            (narrow(a), narrow(b), narrow(a * w[0].0 + b * w[0].1))
        })
        .filter(|&(a, b, _)| a > 0 && b > 0)
        .collect()
}

struct RimSite {
    x: i32,
    y: i32,
    right: i32,
    back: i32,
}

/// Whether so many tins of two kinds fit on a shelf, or may for all that is
/// known.
fn may_fit(first: (Footprint, usize), second: (Footprint, usize), space: Space) -> bool {
    match (first.0, second.0) {
        (Footprint::Rect { .. }, Footprint::Rect { .. }) => {
            let of = |(tin, n): (Footprint, usize)| (tin.sides(false), n);
            rectangles_may_fit(of(first), of(second), space)
        }
        _ => round_may_fit(first, second, space),
    }
}

/// The same where one kind is round.
fn round_may_fit(first: (Footprint, usize), second: (Footprint, usize), space: Space) -> bool {
    let area = |(tin, n): (Footprint, usize)| {
        tin.area_with_air(space.gap, true).saturating_mul(i64::try_from(n).unwrap_or(i64::MAX))
    };
    let room = i64::from(space.width + space.gap) * i64::from(space.depth + space.gap);
    if area(first).saturating_add(area(second)) > room {
        return false;
    }
    let tins = first.1 + second.1;
    let all: Vec<Footprint> = std::iter::repeat_n(first.0, first.1)
        .chain(std::iter::repeat_n(second.0, second.1))
        .collect();
    tins > ARRANGED || stand(&all, space) != Together::Refuted
}

fn rectangles_may_fit(first: (Rim, usize), second: (Rim, usize), space: Space) -> bool {
    let grown = |rim: Rim| (rim.0.max(1) + space.gap, rim.1.max(1) + space.gap);
    let room = (space.width + space.gap, space.depth + space.gap);
    let kinds = [(grown(first.0), first.1), (grown(second.0), second.1)];
    let area = |(rim, n): ((i32, i32), usize)| {
        i64::from(rim.0) * i64::from(rim.1) * i64::try_from(n).unwrap_or(i64::MAX / (1 << 40))
    };
    if kinds.iter().map(|&k| area(k)).sum::<i64>() > i64::from(room.0) * i64::from(room.1) {
        return false;
    }
    let sites = [sites(&kinds, 0, room), sites(&kinds, 1, room)];
    let mut search =
        MixedSearch { sites, counts: [kinds[0].1, kinds[1].1], chosen: Vec::new(), nodes: 0 };
    // The larger kind first: it leaves the fewest ways.
    let order = if area((kinds[0].0, 1)) >= area((kinds[1].0, 1)) { [0, 1] } else { [1, 0] };
    search.place(order, 0, 0, 0)
}

/// Where tins of a kind need be tried: any arrangement can be pushed front and
/// left until edges lie at sums of sides.
fn sites(kinds: &[((i32, i32), usize); 2], kind: usize, room: (i32, i32)) -> Vec<RimSite> {
    let sums = |most: i32| -> Vec<i32> {
        let mut reached = vec![false; usize::try_from(most.max(0)).unwrap_or(0)];
        if let Some(first) = reached.first_mut() {
            *first = true;
        }
        for &(rim, n) in kinds {
            for side in [rim.0, rim.1] {
                for _ in 0..n {
                    let step = usize::try_from(side).unwrap_or(usize::MAX);
                    for at in (0..reached.len()).rev() {
                        if at >= step && reached[at - step] {
                            reached[at] = true;
                        }
                    }
                }
            }
        }
        let at = |i: usize| i32::try_from(i).unwrap_or(i32::MAX);
        (0..reached.len()).filter(|&i| reached[i]).map(at).collect()
    };
    let (xs, ys) = (sums(room.0), sums(room.1));
    let rim = kinds[kind].0;
    let turns = if rim.0 == rim.1 { vec![rim] } else { vec![rim, (rim.1, rim.0)] };
    let mut all = Vec::new();
    for &y in &ys {
        for &x in &xs {
            for &(w, d) in &turns {
                if x + w <= room.0 && y + d <= room.1 {
                    all.push(RimSite { x, y, right: x + w, back: y + d });
                }
            }
        }
    }
    all
}

struct MixedSearch {
    sites: [Vec<RimSite>; 2],
    counts: [usize; 2],
    chosen: Vec<(usize, usize)>,
    nodes: usize,
}

impl MixedSearch {
    /// Places the rest of the kinds in `order` from kind `at` on, of which
    /// `placed` stand, on sites from `from` on.
    fn place(&mut self, order: [usize; 2], at: usize, placed: usize, from: usize) -> bool {
        let Some(&kind) = order.get(at) else { return true };
        if placed == self.counts[kind] {
            return self.place(order, at + 1, 0, 0);
        }
        self.nodes += 1;
        if self.nodes > NODES {
            return true;
        }
        for i in from..self.sites[kind].len() {
            let site = &self.sites[kind][i];
            let free = self.chosen.iter().all(|&(k, j)| {
                let other = &self.sites[k][j];
                site.x >= other.right
                    || other.x >= site.right
                    || site.y >= other.back
                    || other.y >= site.back
            });
            if free {
                self.chosen.push((kind, i));
                if self.place(order, at, placed + 1, i + 1) {
                    return true;
                }
                self.chosen.pop();
            }
        }
        false
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rect(long: i32, wide: i32) -> Footprint {
        Footprint::Rect { long, wide }
    }

    #[test]
    fn round_tins_stand_into_each_others_corners() {
        // Two of 20 cm stand corner to corner and leave no room for one of 15
        // cm; of squares that size there is but one.
        let round = |across| Footprint::Circle { across };
        let space = Space { width: 420, depth: 360, gap: 20 };
        let mut mixed = Mixed::default();
        assert_eq!(mixed.on_shelf(round(215), round(165), space), &vec![4, 2, 0]);
        assert_eq!(mixed.on_shelf(rect(215, 215), round(165), space), &vec![4, 2]);
    }

    const SHELF: Space = Space { width: 450, depth: 380, gap: 10 };

    #[test]
    fn a_bun_tray_leaves_a_strip_at_its_side_when_turned() {
        // With its air a tray takes 360 by 280 of 460 by 390. As it lies, 100
        // and 110 are left, and a foil wants 135. Turned, 180 by 390 are left:
        // two foils of 160 by 135 behind one another, a third would want 405.
        let mut mixed = Mixed::default();
        assert_eq!(mixed.on_shelf(rect(350, 270), rect(150, 125), SHELF), &vec![6, 2]);
    }

    #[test]
    fn squares_leave_a_strip() {
        // Two squares of 195 side by side take 410 of 450 and 205 of 390 in
        // depth: the strip of 185 behind holds two foils lying along it.
        let mut mixed = Mixed::default();
        let stairs = mixed.on_shelf(rect(195, 195), rect(150, 125), SHELF).clone();
        assert_eq!(stairs[0], 6);
        assert!(stairs[2] >= 2, "{stairs:?}");
        assert!(stairs.windows(2).all(|w| w[0] >= w[1]));
    }

    #[test]
    fn hulls_hold_for_every_step_and_touch_some() {
        for stairs in [vec![6, 0], vec![6, 3, 2], vec![4, 4, 1], vec![7, 5, 4, 0]] {
            for (a, b, c) in sums(&stairs) {
                let at = |x: usize| {
                    a * i32::try_from(x).unwrap_or(0) + b * i32::try_from(stairs[x]).unwrap_or(0)
                };
                assert!((0..stairs.len()).all(|x| at(x) <= c), "{stairs:?}: {a} {b} {c}");
                assert!((0..stairs.len()).filter(|&x| at(x) == c).count() >= 2);
            }
        }
        assert_eq!(sums(&[6, 0]), [(6, 1, 6)]);
    }

    #[test]
    fn two_shelves_add_up() {
        assert_eq!(together(&[6, 0], &[6, 0]), [12, 6, 0]);
        assert_eq!(together(&[2], &[1, 1]), [3, 3]);
    }
}
