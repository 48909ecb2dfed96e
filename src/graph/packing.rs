//! How many tins of one kind stand on a shelf, and where.

use std::cell::RefCell;
use std::collections::HashMap;

/// A rectangle in millimetres, as it lies: `w` left to right, `d` front to back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TinSpot {
    /// Left edge from the shelf's left.
    pub x: i32,
    /// Front edge from the shelf's front.
    pub y: i32,
    /// Turned by a right angle.
    pub turned: bool,
}

/// A shelf and the air wanted between tins, in millimetres. None is wanted to
/// the wall, so a shelf is as good as one larger by a gap on which every tin
/// takes its rim and a gap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Space {
    /// Usable width.
    pub width: i32,
    /// Usable depth.
    pub depth: i32,
    /// Air between tins.
    pub gap: i32,
}

/// Tins of one kind on one empty shelf.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pattern {
    /// Where they stand; as many as were found to fit.
    pub spots: Vec<TinSpot>,
    /// No arrangement holds more than this.
    pub at_most: usize,
}

/// Beyond this many by area, the grid arrangements are good enough and the
/// search for better ones would take too long.
const SEARCHED: usize = 12;
/// Search nodes before settling for the best found.
const NODES: usize = 200_000;

/// So many arrangements are remembered.
const REMEMBERED: usize = 1_000;

thread_local! {
    /// Arrangements found before: lessons are expanded again and again with the
    /// same tins and shelves.
    static KNOWN: RefCell<HashMap<(i32, i32, Space), Pattern>> = RefCell::default();
}

/// The best arrangement of tins with a rim of `long` by `wide` millimetres.
pub fn pattern(long: i32, wide: i32, space: Space) -> Pattern {
    let key = (long, wide, space);
    if let Some(known) = KNOWN.with_borrow(|known| known.get(&key).cloned()) {
        return known;
    }
    let found = arranged(long, wide, space);
    KNOWN.with_borrow_mut(|known| {
        if known.len() >= REMEMBERED {
            known.clear();
        }
        known.insert(key, found.clone());
    });
    found
}

fn arranged(long: i32, wide: i32, space: Space) -> Pattern {
    let tin = (long.max(1) + space.gap, wide.max(1) + space.gap);
    let room = (space.width + space.gap, space.depth + space.gap);
    let by_area = i64::from(room.0) * i64::from(room.1) / (i64::from(tin.0) * i64::from(tin.1));
    let by_area = usize::try_from(by_area).unwrap_or(0);
    let mut spots = grid(tin, room, false);
    let turned = grid(tin, room, true);
    if turned.len() > spots.len() {
        spots = turned;
    }
    if tin.0 == tin.1 {
        // Squares of one size cannot beat the grid.
        let at_most = spots.len();
        return Pattern { spots, at_most };
    }
    if spots.len() >= by_area {
        return Pattern { spots, at_most: by_area };
    }
    if by_area > SEARCHED {
        return Pattern { spots, at_most: by_area };
    }
    let mut search = PackingSearch {
        sites: sites(tin, room),
        best: spots,
        chosen: Vec::new(),
        room,
        area: i64::from(tin.0) * i64::from(tin.1),
        most: by_area,
        nodes: 0,
    };
    search.run(0);
    let complete = search.nodes < NODES;
    let at_most = if complete { search.best.len() } else { by_area };
    Pattern { spots: search.best, at_most }
}

fn grid(tin: (i32, i32), room: (i32, i32), turned: bool) -> Vec<TinSpot> {
    let (w, d) = if turned { (tin.1, tin.0) } else { tin };
    let mut spots = Vec::new();
    for row in 0..room.1 / d {
        for column in 0..room.0 / w {
            spots.push(TinSpot { x: column * w, y: row * d, turned });
        }
    }
    spots
}

#[derive(Debug, Clone, Copy)]
struct Site {
    spot: TinSpot,
    right: i32,
    back: i32,
}

/// Any arrangement can be pushed front and left until each tin touches others
/// or the wall, so edges at sums of the two sides are all that need be tried.
fn sites(tin: (i32, i32), room: (i32, i32)) -> Vec<Site> {
    let sums = |most: i32| -> Vec<i32> {
        let mut sums: Vec<i32> = (0..=most / tin.0)
            .flat_map(|a| (0..=most / tin.1).map(move |b| a * tin.0 + b * tin.1))
            .filter(|&s| s < most)
            .collect();
        sums.sort_unstable();
        sums.dedup();
        sums
    };
    let (xs, ys) = (sums(room.0), sums(room.1));
    let mut all = Vec::new();
    for &y in &ys {
        for &x in &xs {
            for turned in [false, true] {
                let (w, d) = if turned { (tin.1, tin.0) } else { tin };
                let site = Site { spot: TinSpot { x, y, turned }, right: x + w, back: y + d };
                if site.right <= room.0 && site.back <= room.1 {
                    all.push(site);
                }
            }
        }
    }
    all
}

struct PackingSearch {
    sites: Vec<Site>,
    best: Vec<TinSpot>,
    chosen: Vec<Site>,
    room: (i32, i32),
    area: i64,
    most: usize,
    nodes: usize,
}

impl PackingSearch {
    /// How many more tins the area from `front` to the back could hold.
    fn room_behind(&self, front: i32) -> usize {
        let whole = i64::from(self.room.0) * i64::from(self.room.1 - front);
        let taken: i64 = self
            .chosen
            .iter()
            .map(|c| {
                let depth = c.back - c.spot.y.max(front);
                i64::from(c.right - c.spot.x) * i64::from(depth.max(0))
            })
            .sum();
        usize::try_from((whole - taken) / self.area).unwrap_or(0)
    }

    fn run(&mut self, from: usize) {
        self.nodes += 1;
        if self.chosen.len() > self.best.len() {
            self.best = self.chosen.iter().map(|s| s.spot).collect();
        }
        if self.best.len() >= self.most || self.nodes >= NODES {
            return;
        }
        for i in from..self.sites.len() {
            let site = self.sites[i];
            if self.chosen.len() + self.room_behind(site.spot.y) <= self.best.len() {
                // Sites run from the front to the back: later ones have less.
                return;
            }
            let free = self.chosen.iter().all(|c| {
                site.spot.x >= c.right
                    || c.spot.x >= site.right
                    || site.spot.y >= c.back
                    || c.spot.y >= site.back
            });
            if free {
                self.chosen.push(site);
                self.run(i + 1);
                self.chosen.pop();
                if self.best.len() >= self.most || self.nodes >= NODES {
                    return;
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Places per shelf with 2 cm of air, by tin and shelf: common practice of
    /// the trade, worked out by hand from outside rims. The columns are
    /// shelves of 42 x 36, 38 x 32 and 45 x 38 cm.
    const PLACES: [(&str, (i32, i32), [usize; 3]); 10] = [
        ("20 cm square", (215, 215), [1, 1, 2]),
        ("18 cm square or sandwich", (195, 195), [2, 1, 2]),
        ("20 cm sandwich", (215, 215), [1, 1, 2]),
        ("15 cm round", (165, 165), [4, 2, 4]),
        ("12-hole bun tray", (350, 270), [1, 1, 1]),
        ("6-hole muffin tray", (270, 180), [2, 2, 2]),
        ("Swiss roll", (300, 200), [2, 1, 2]),
        ("450 ml foil", (150, 125), [6, 4, 6]),
        ("1 lb loaf", (170, 100), [7, 5, 7]),
        ("baking sheet", (350, 250), [1, 1, 1]),
    ];

    #[test]
    fn places_per_shelf_are_those_of_the_trade() {
        let shelves = [(420, 360), (380, 320), (450, 380)];
        for (name, (long, wide), places) in PLACES {
            for ((width, depth), wanted) in shelves.into_iter().zip(places) {
                let found = pattern(long, wide, Space { width, depth, gap: 20 });
                assert_eq!(found.spots.len(), wanted, "{name} on {width} x {depth}");
                assert_eq!(found.at_most, wanted, "bound for {name} on {width} x {depth}");
            }
        }
    }

    #[test]
    fn spots_of_a_pattern_keep_their_air_and_stay_inside() {
        for (long, wide) in [(150, 125), (170, 100), (80, 50), (300, 200)] {
            let space = Space { width: 420, depth: 360, gap: 20 };
            let spots = pattern(long, wide, space).spots;
            let rim = |s: &TinSpot| {
                let (w, d) = if s.turned { (wide, long) } else { (long, wide) };
                (s.x, s.y, s.x + w, s.y + d)
            };
            for (i, a) in spots.iter().enumerate() {
                let a = rim(a);
                assert!(a.0 >= 0 && a.1 >= 0 && a.2 <= 420 && a.3 <= 360);
                for b in &spots[..i] {
                    let b = rim(b);
                    let apart = |from: i32, to: i32| to - from >= 20;
                    assert!(
                        apart(a.2, b.0) || apart(b.2, a.0) || apart(a.3, b.1) || apart(b.3, a.1)
                    );
                }
            }
        }
    }
}
