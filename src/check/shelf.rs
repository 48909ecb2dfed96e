//! `shelf`: tins fit on their shelf with air between them. All lengths in
//! millimetres.

use std::collections::BTreeMap;

use super::rule::{Breaches, Rule};
use super::span::{Span, wide};
use super::view::{Served, View};
use crate::model::{OvenId, ShelfId, Tin};
use crate::plan::Load;

/// A rectangle round a rim, for as long as it stands there.
struct Standing<'a> {
    load: &'a Load,
    span: Span,
    left: i64,
    right: i64,
    front: i64,
    back: i64,
}

impl<'a> Standing<'a> {
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
    let mut shelves: BTreeMap<(OvenId, ShelfId), Vec<Standing<'_>>> = BTreeMap::new();
    for group in &view.served {
        for load in &group.loads {
            let Some(tin) = tin(view, group) else {
                continue;
            };
            let standing = Standing::new(load, tin);
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

/// "Oven 2's top shelf".
fn shelf_name(view: &View<'_>, oven: OvenId, shelf: ShelfId) -> String {
    let of = view.lesson.ovens[oven.0].shelves.len();
    let which = match shelf.0 {
        0 if of == 1 => "shelf".to_owned(),
        0 => "top shelf".to_owned(),
        n if n + 1 == of => "bottom shelf".to_owned(),
        n => format!("shelf {} from the top", n + 1),
    };
    format!("{}'s {which}", view.oven_name(oven))
}

fn inside(view: &View<'_>, standing: &Standing<'_>, tin: &Tin, out: &mut Breaches) {
    let load = standing.load;
    let shelf = view.lesson.ovens[load.oven.0].shelves[load.shelf.0];
    let where_ = shelf_name(view, load.oven, load.shelf);
    let mut add = |what: String| {
        let tin = u64::from(load.number) + 1;
        let message = format!("tin {tin} of {} {what} {where_}", view.group_name(load.group));
        out.add(Rule::Shelf, load.group, wide(load.start), message);
    };
    let (width, depth) = (i64::from(shelf.width.get()), i64::from(shelf.depth.get()));
    if standing.left < 0 || standing.right > width || standing.front < 0 || standing.back > depth {
        add(format!(
            "reaches from {} to {} mm and {} to {} mm, over the {width} by {depth} mm of",
            standing.left, standing.right, standing.front, standing.back
        ));
    }
    if tin.height > shelf.clear {
        add(format!("is {} high, too high for the {} clear above", tin.height, shelf.clear));
    }
}

fn apart(view: &View<'_>, standing: &mut [Standing<'_>], out: &mut Breaches) {
    standing.sort_by_key(|s| s.span);
    for (i, a) in standing.iter().enumerate() {
        let gap = i64::from(view.lesson.ovens[a.load.oven.0].gap.value.get());
        // Sorted by start: from the first that starts after `a` on, none meets it.
        for b in standing[i + 1..].iter().take_while(|b| b.span.start < a.span.end) {
            let air = a.air(b);
            if air >= gap || !a.span.meets(b.span) {
                continue;
            }
            let (first, second) = (view.group_name(a.load.group), view.group_name(b.load.group));
            let who = if a.load.group == b.load.group {
                format!("two tins of {first}")
            } else {
                format!("{first} and {second}")
            };
            let stand =
                if air < 0 { "overlap".to_owned() } else { format!("stand {air} mm apart") };
            let message = format!(
                "{who} {stand} on {}; {gap} mm of air is wanted",
                shelf_name(view, a.load.oven, a.load.shelf)
            );
            out.add(Rule::Shelf, b.load.group, b.span.start, message);
        }
    }
}
