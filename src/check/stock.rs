//! `kit` and the stock side of `tin`: what is needed is named, item by item,
//! and no item is in two hands.

use std::collections::BTreeMap;

use super::breach::Breaches;
use super::fault::{Heap, Kind, StockFault};
use super::span::{Busy, Span, clashes};
use super::view::{Served, View};
use crate::model::GroupId;
use crate::plan::{KitUse, Rule, Stock};

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
    balance(&tallies, out);
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

fn kind(view: &View<'_>, used: &KitUse) -> Kind {
    heap(view, used).kind(view.lesson)
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
    let group = used.group;
    let mut add = |fault| out.add(rule(kind), group, span.start, fault);
    let there = match used.of {
        Stock::Kit(pool) => {
            if !view.lesson.may_use_pool(used.group, pool) {
                add(StockFault::NotTheirs { group, span, kind });
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
        add(StockFault::NamedTwice { group, span, kind });
    }
    if let (Some(&item), Some(there)) = (distinct.last(), there)
        && item >= there
    {
        add(StockFault::NoSuchItem { group, span, kind, item, there });
    }
}

fn balance(tallies: &Tallies, out: &mut Breaches) {
    for (&(group, kind, span), tally) in tallies {
        let Tally { needed, named, uncounted } = *tally;
        if needed == named && named > 0 || uncounted && named == 0 {
            continue;
        }
        let fault = StockFault::OtherNumber { group, span, kind, needed, named };
        out.add(rule(kind), group, span.start, fault);
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
        let (first, second) = ((a.by, a.span), (b.by, b.span));
        let fault = StockFault::Shared { heap, item, first, second };
        out.add(rule(heap.kind(view.lesson)), b.by, b.span.start, fault);
    });
}
