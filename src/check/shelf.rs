//! `shelf`: tins fit on their shelf with air between them. All lengths in
//! millimetres.

use std::collections::BTreeMap;

use super::breach::Breaches;
use super::fault::ShelfFault;
use super::span::{Span, wide};
use super::view::{Served, View, tin_of};
use crate::model::{OvenId, ShelfId, Tin};
use crate::plan::{Load, Rule};

/// A rectangle round a rim, for as long as it stands there.
struct RimOnShelf<'a> {
    load: &'a Load,
    span: Span,
    left: i64,
    right: i64,
    front: i64,
    back: i64,
}

impl<'a> RimOnShelf<'a> {
    fn new(load: &'a Load, tin: &Tin) -> Self {
        let (long, wide) = (i64::from(tin.rim.0.get()), i64::from(tin.rim.1.get()));
        let (across, deep) = if load.turned { (wide, long) } else { (long, wide) };
        let (left, front) = (i64::from(load.x.get()), i64::from(load.y.get()));
        let span = Span::of(load.start, load.end);
        Self { load, span, left, right: left + across, front, back: front + deep }
    }

    /// The wider of the two distances, left to right and front to back;
    /// negative if the rectangles overlap.
    fn air(&self, other: &Self) -> i64 {
        let across = (other.left - self.right).max(self.left - other.right);
        let deep = (other.front - self.back).max(self.front - other.back);
        across.max(deep)
    }
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
    let (width, depth) = (i64::from(shelf.width.get()), i64::from(shelf.depth.get()));
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
        let gap = i64::from(view.lesson.ovens[a.load.oven.0].gap.value.get());
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
