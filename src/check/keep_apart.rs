//! `keep-apart`: no shared oven, and nothing another group has used before.

use std::collections::{BTreeMap, BTreeSet};

use super::breach::Breaches;
use super::fault::{Heap, KeepApartFault, Kind};
use super::span::{Span, to_minute, wide};
use super::stock::{distinct, heap};
use super::view::View;
use crate::model::GroupId;
use crate::plan::{Load, Rule};

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    if !view.lesson.groups.iter().any(|g| g.keep_apart) {
        return;
    }
    ovens(view, out);
    if !view.lesson.rules.washed_is_unused {
        kit(view, out);
    }
}

fn ovens(view: &View<'_>, out: &mut Breaches) {
    let apart = |group| view.lesson.group(group).keep_apart;
    let mut loads: Vec<&Load> = view.plan.loads.iter().collect();
    loads.sort_by_key(|l| (l.oven, l.start));
    let mut said = BTreeSet::new();
    for (i, a) in loads.iter().enumerate() {
        let together = Span::of(a.start, a.end);
        let later = loads[i + 1..].iter();
        for b in later.take_while(|b| b.oven == a.oven && b.start < a.end) {
            let meets = together.meets(Span::of(b.start, b.end));
            if !meets || a.group == b.group || !(apart(a.group) || apart(b.group)) {
                continue;
            }
            let (kept, other) =
                if apart(a.group) { (a.group, b.group) } else { (b.group, a.group) };
            if said.insert((a.oven, kept, other)) {
                let (oven, minute) = (a.oven, b.start);
                let fault = KeepApartFault::OneOven { kept, oven, other, minute };
                out.add(Rule::KeepApart, kept, wide(b.start), fault);
            }
        }
    }
}

/// The earliest use of an item, and the earliest by any other group.
struct First {
    start: i64,
    group: GroupId,
    by_another: Option<(i64, GroupId)>,
}

impl First {
    /// The earliest use by a group other than `group`.
    fn other_than(&self, group: GroupId) -> Option<(i64, GroupId)> {
        if self.group == group { self.by_another } else { Some((self.start, self.group)) }
    }
}

fn kit(view: &View<'_>, out: &mut Breaches) {
    let touches_food = |heap: Heap| match heap.kind(view.lesson) {
        Kind::Kit(kit) => view.lesson.kit_kinds[kit.0].touches_food,
        Kind::Tin(_) => true,
    };
    let mut uses: Vec<(i64, GroupId, Heap, u32)> = Vec::new();
    for used in &view.plan.uses {
        let heap = heap(view, used);
        if touches_food(heap) {
            let items = distinct(used).into_iter();
            uses.extend(items.map(|item| (wide(used.start), used.group, heap, item)));
        }
    }
    uses.sort_unstable();
    let mut firsts: BTreeMap<(Heap, u32), First> = BTreeMap::new();
    let mut said = BTreeSet::new();
    for (start, group, heap, item) in uses {
        let first = firsts.entry((heap, item)).or_insert(First { start, group, by_another: None });
        if first.group != group && first.by_another.is_none() {
            first.by_another = Some((start, group));
        }
        let before = first.other_than(group).filter(|&(since, _)| since < start);
        let Some((since, other)) = before.filter(|_| view.lesson.group(group).keep_apart) else {
            continue;
        };
        if said.insert((group, heap, item)) {
            let (minute, since) = (to_minute(start), to_minute(since));
            let kept = group;
            let fault = KeepApartFault::UsedBefore { kept, heap, item, minute, other, since };
            out.add(Rule::KeepApart, group, start, fault);
        }
    }
}
