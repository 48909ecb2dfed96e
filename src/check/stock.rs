//! `kit` and the stock side of `tin`: what is needed is named, item by item,
//! and no item is in two hands.

use std::collections::BTreeMap;

use super::rule::{Breaches, Rule};
use super::span::{Busy, Span, clashes};
use super::view::{Served, View, shown};
use crate::model::{GroupId, KitId, PoolId, RoomId, TinId};
use crate::plan::{KitUse, Stock};

/// A kind of thing that is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Kit(KitId),
    Tin(TinId),
}

/// A heap of one kind, whose items are numbered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Heap {
    Kit(PoolId),
    Tin(RoomId, TinId),
}

/// What a group needs of one kind for one span, and what the plan names.
#[derive(Debug, Default)]
struct Tally {
    needed: u64,
    named: u64,
    /// There in any number: need not be named.
    uncounted: bool,
}

type Tallies = BTreeMap<(GroupId, Kind, Span), Tally>;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    let mut tallies = Tallies::new();
    for group in &view.served {
        needs(view, group, &mut tallies);
    }
    for used in &view.plan.uses {
        items(view, used, out);
        if view.served(used.group).is_some() {
            let key = (used.group, kind(view, used), Span::of(used.start, used.end));
            tallies.entry(key).or_default().named += used.items.len() as u64;
        }
    }
    balance(view, &tallies, out);
    twice(view, out);
}

/// The heap a use takes from.
pub(super) fn heap(view: &View<'_>, used: &KitUse) -> Heap {
    match used.of {
        Stock::Kit(pool) => Heap::Kit(pool),
        Stock::Tin(tin) => Heap::Tin(view.lesson.group(used.group).room, tin),
    }
}

/// The items a use names, each once.
pub(super) fn distinct(used: &KitUse) -> Vec<u32> {
    let mut items = used.items.clone();
    items.sort_unstable();
    items.dedup();
    items
}

/// What a heap is of.
pub(super) fn heap_name(view: &View<'_>, heap: Heap) -> String {
    match heap {
        Heap::Kit(pool) => kind_name(view, Kind::Kit(view.lesson.kit_pools[pool.0].kit)),
        Heap::Tin(_, tin) => kind_name(view, Kind::Tin(tin)),
    }
}

fn kind(view: &View<'_>, used: &KitUse) -> Kind {
    match used.of {
        Stock::Kit(pool) => Kind::Kit(view.lesson.kit_pools[pool.0].kit),
        Stock::Tin(tin) => Kind::Tin(tin),
    }
}

fn kind_name(view: &View<'_>, kind: Kind) -> String {
    shown(match kind {
        Kind::Kit(kit) => &view.lesson.kit_kinds[kit.0].name,
        Kind::Tin(tin) => &view.lesson.tins[tin.0].name,
    })
}

fn rule(kind: Kind) -> Rule {
    match kind {
        Kind::Kit(_) => Rule::Kit,
        Kind::Tin(_) => Rule::Tin,
    }
}

/// Adds what a group needs: by step, by hold, and its tins.
fn needs(view: &View<'_>, group: &Served<'_>, tallies: &mut Tallies) {
    let bells = view.bells_of(group.id);
    let mut need = |kind, span: Span, count: u32, uncounted| {
        if !span.is_empty() && count > 0 {
            let tally = tallies.entry((group.id, kind, span)).or_default();
            tally.needed += u64::from(count);
            tally.uncounted = uncounted;
        }
    };
    for step in group.steps().filter(|s| !s.beforehand && !s.collected) {
        for &(kit, count) in &step.step.kit {
            need(Kind::Kit(kit), step.span, count, false);
        }
    }
    for hold in &group.method.holds {
        need(Kind::Kit(hold.kit), group.held(hold.from, hold.to, bells), hold.count, false);
    }
    if let (Some((from, to)), Some(tin)) = (group.method.tin_held, group.tin) {
        let uncounted = view.lesson.tin_pool(group.group.room, tin.tin).is_none();
        need(Kind::Tin(tin.tin), group.held(from, to, bells), tin.count, uncounted);
    }
}

/// Whether the items of one use can be used by that group at all.
fn items(view: &View<'_>, used: &KitUse, out: &mut Breaches) {
    let kind = kind(view, used);
    let span = Span::of(used.start, used.end);
    let mut add = |what: String| {
        let message =
            format!("{}, {span}: {} {what}", view.group_name(used.group), kind_name(view, kind));
        out.add(rule(kind), used.group, span.start, message);
    };
    let there = match used.of {
        Stock::Kit(pool) => {
            if !view.lesson.may_use_pool(used.group, pool) {
                add("belongs to another unit or room".into());
            }
            Some(view.lesson.kit_pools[pool.0].count)
        }
        Stock::Tin(tin) => {
            let room = view.lesson.group(used.group).room;
            view.lesson.tin_pool(room, tin).map(|p| view.lesson.tin_pools[p.0].count)
        }
    };
    let distinct = distinct(used);
    if distinct.len() != used.items.len() {
        add("is named twice over".into());
    }
    let last = distinct.last().map(|&i| u64::from(i) + 1);
    if let (Some(last), Some(there)) = (last, there.map(u64::from))
        && last > there
    {
        add(format!("number {last} is named; there are {there}"));
    }
}

fn balance(view: &View<'_>, tallies: &Tallies, out: &mut Breaches) {
    for (&(group, kind, span), tally) in tallies {
        let Tally { needed, named, uncounted } = *tally;
        if needed == named && named > 0 || uncounted && named == 0 {
            continue;
        }
        let message = format!(
            "{} needs {needed} × {} {span}; the plan names {named}",
            view.group_name(group),
            kind_name(view, kind)
        );
        out.add(rule(kind), group, span.start, message);
    }
}

/// No item is in use twice in one minute.
fn twice(view: &View<'_>, out: &mut Breaches) {
    let mut busy = Vec::new();
    for used in &view.plan.uses {
        let (heap, span) = (heap(view, used), Span::of(used.start, used.end));
        for item in distinct(used) {
            busy.push(Busy { thing: (heap, item), span, by: used.group });
        }
    }
    clashes(busy, |a, b| {
        let (heap, item) = a.thing;
        let message = format!(
            "{} number {} is with {} {} and with {} {}",
            heap_name(view, heap),
            u64::from(item) + 1,
            view.group_name(a.by),
            a.span,
            view.group_name(b.by),
            b.span
        );
        let rule = if matches!(heap, Heap::Kit(_)) { Rule::Kit } else { Rule::Tin };
        out.add(rule, b.by, b.span.start, message);
    });
}
