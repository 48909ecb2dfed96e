//! `shelf`: tins fit on their shelf with air between them. All lengths in
//! hundredths of a millimetre.

use std::collections::BTreeMap;

use super::breach::Breaches;
use super::fault::ShelfFault;
use super::span::{Span, wide};
use super::view::{Served, View, tin_of};
use crate::model::{Lesson, OvenId, ShelfId, Tin};
use crate::plan::{Load, Place, Rule};
use crate::units::Millimetres;

/// Hundredths of a length.
fn fine(length: Millimetres) -> i64 {
    i64::from(length.get()) * 100
}

/// What a tin takes of its shelf, for as long as it stands there.
struct RimOnShelf<'a> {
    load: &'a Load,
    span: Span,
    left: i64,
    right: i64,
    front: i64,
    back: i64,
    /// It takes the circle within these edges.
    round: bool,
}

impl<'a> RimOnShelf<'a> {
    fn new(load: &'a Load, tin: &Tin) -> Self {
        let (long, wide) = (fine(tin.rim.0), fine(tin.rim.1));
        let (left, front, across, deep) = match load.place {
            Place::Corner { x, y, turned } => {
                let (across, deep) = if turned { (wide, long) } else { (long, wide) };
                (i64::from(x.get()), i64::from(y.get()), across, deep)
            }
            Place::Centre { x, y } => {
                (i64::from(x.get()) - long / 2, i64::from(y.get()) - wide / 2, long, wide)
            }
        };
        let span = Span::of(load.start, load.end);
        let (right, back) = (left + across, front + deep);
        Self { load, span, left, right, front, back, round: tin.round_rim().is_some() }
    }

    /// The air between this and another; negative if they overlap. Of two
    /// rectangles it is the wider of the two distances, left to right and front
    /// to back; of a circle and what is beside it the nearest way, rounded down.
    fn air(&self, other: &Self) -> i64 {
        match (self.round, other.round) {
            (false, false) => {
                let across = (other.left - self.right).max(self.left - other.right);
                let deep = (other.front - self.back).max(self.front - other.back);
                across.max(deep)
            }
            (true, true) => {
                let (a, b) = (self.middle(), other.middle());
                hypotenuse(a.0 - b.0, a.1 - b.1) - self.radius() - other.radius()
            }
            (true, false) => self.to_edges_of(other),
            (false, true) => other.to_edges_of(self),
        }
    }

    /// From this circle to the nearest point of a rectangle.
    fn to_edges_of(&self, rectangle: &Self) -> i64 {
        let (x, y) = self.middle();
        let across = (rectangle.left - x).max(x - rectangle.right);
        let deep = (rectangle.front - y).max(y - rectangle.back);
        if across < 0 && deep < 0 {
            return across.max(deep) - self.radius();
        }
        hypotenuse(across.max(0), deep.max(0)) - self.radius()
    }

    /// Rims are whole millimetres, so the half of one is whole hundredths.
    fn middle(&self) -> (i64, i64) {
        (self.left + self.radius(), self.front + (self.back - self.front) / 2)
    }

    fn radius(&self) -> i64 {
        (self.right - self.left) / 2
    }
}

/// Rounded down. Plans may put tins kilometres away.
fn hypotenuse(across: i64, deep: i64) -> i64 {
    let (across, deep) = (i128::from(across), i128::from(deep));
    i64::try_from((across * across + deep * deep).isqrt()).unwrap_or(i64::MAX)
}

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    let mut shelves: BTreeMap<(OvenId, ShelfId), Vec<RimOnShelf<'_>>> = BTreeMap::new();
    for group in &view.served {
        for load in &group.loads {
            let Some(tin) = tin(view, group) else {
                continue;
            };
            let standing = RimOnShelf::new(load, tin);
            inside(view, &standing, tin, out);
            shelves.entry((load.oven, load.shelf)).or_default().push(standing);
        }
    }
    for standing in shelves.values_mut() {
        apart(view, standing, out);
    }
}

fn tin<'a>(view: &View<'a>, group: &Served<'_>) -> Option<&'a Tin> {
    group.tin.map(|t| &view.lesson.tins[t.tin.0])
}

fn inside(view: &View<'_>, standing: &RimOnShelf<'_>, tin: &Tin, out: &mut Breaches) {
    let load = standing.load;
    let shelf = view.lesson.ovens[load.oven.0].shelves[load.shelf.0];
    let (of, on) = (tin_of(load), (load.oven, load.shelf));
    let mut add = |fault| out.add(Rule::Shelf, load.group, wide(load.start), fault);
    let (width, depth) = (fine(shelf.width), fine(shelf.depth));
    if standing.left < 0 || standing.right > width || standing.front < 0 || standing.back > depth {
        add(ShelfFault::OverEdge {
            tin: of,
            shelf: on,
            across: (standing.left, standing.right),
            deep: (standing.front, standing.back),
            room: (width, depth),
        });
    }
    if tin.height > shelf.clear {
        let (height, clear) = (tin.height, shelf.clear);
        add(ShelfFault::TooHigh { tin: of, shelf: on, height, clear });
    }
}

fn apart(view: &View<'_>, standing: &mut [RimOnShelf<'_>], out: &mut Breaches) {
    standing.sort_by_key(|s| s.span);
    for (i, a) in standing.iter().enumerate() {
        let gap = fine(view.lesson.ovens[a.load.oven.0].gap.value);
        // Sorted by start: from the first that starts after `a` on, none meets it.
        for b in standing[i + 1..].iter().take_while(|b| b.span.start < a.span.end) {
            let air = a.air(b);
            if air >= gap || !a.span.meets(b.span) {
                continue;
            }
            let fault = ShelfFault::TooNear {
                first: a.load.group,
                second: b.load.group,
                shelf: (a.load.oven, a.load.shelf),
                air,
                wanted: gap,
            };
            out.add(Rule::Shelf, b.load.group, b.span.start, fault);
        }
    }
}

/// Whether two tins cannot stand at one time where a plan puts them, each with
/// its kind of tin.
pub fn in_each_others_place(lesson: &Lesson, a: (&Load, &Tin), b: (&Load, &Tin)) -> bool {
    let gap = fine(lesson.ovens[a.0.oven.0].gap.value);
    let same_shelf = (a.0.oven, a.0.shelf) == (b.0.oven, b.0.shelf);
    same_shelf && RimOnShelf::new(a.0, a.1).air(&RimOnShelf::new(b.0, b.1)) < gap
}
