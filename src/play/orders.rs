//! The orders of a plan: what serves whom after whom. In a run every item of
//! kit, pupil, adult and place in an oven serves in the plan's order.
//!
//! That a checked plan's orders, kept while minutes change, are a schedule of
//! their own: Policella, Cesta, Oddi and Smith, *From Precedence Constraint
//! Posting to Partial Order Schedules*, AI Communications 20, 2007.

use std::collections::BTreeMap;

use super::network::{LongestGap, Network, Order, Wait, What, Work, minutes};
use super::uses::{Kind, item_uses};
use crate::check::in_each_others_place;
use crate::model::{AdultId, GroupId, OvenId, StepId, StepKind, Tin};
use crate::plan::Load;

/// Adds every wait to a network that has its nodes.
pub(super) fn lay_down(network: &mut Network<'_>) {
    let mut nodes = BTreeMap::new();
    for (i, node) in network.nodes.iter().enumerate() {
        nodes.insert(node.what, i);
    }
    let step = |group: GroupId, step: StepId| nodes.get(&What::Step(group, step)).copied();
    links(network, &step);
    pupils(network, &step);
    items(network, &step);
    adults(network);
    places(network, &step);
    temperatures(network, &step);
    class_steps(network);
    keep_the_longest(&mut network.waits);
}

/// Of waits between two nodes for one reason only the longest counts.
fn keep_the_longest(waits: &mut Vec<Wait>) {
    waits.sort_by(|a, b| {
        (a.from, a.to, a.order).cmp(&(b.from, b.to, b.order)).then(b.lag.total_cmp(&a.lag))
    });
    waits.dedup_by_key(|w| (w.from, w.to, w.order));
}

/// A planned stretch, from and until, and its node.
type Stretch = (f64, f64, usize);

type NodeOf<'f> = &'f dyn Fn(GroupId, StepId) -> Option<usize>;

fn links(network: &mut Network<'_>, node: NodeOf<'_>) {
    let (lesson, plan) = (network.lesson, network.plan.plan());
    for choice in &plan.choices {
        let id = choice.group;
        let method = lesson.method_of(id, choice.method);
        let kind = |s: StepId| method.steps[s.0].kind;
        for link in &method.links {
            let Some(to) = node(id, link.to) else { continue };
            let from = node(id, link.from);
            let lag = link.least.get();
            let placed = plan.steps.iter().find(|s| s.group == id && s.step == link.from);
            let over = placed.map_or(f64::NEG_INFINITY, |s| minutes(s.end));
            match from {
                Some(from) => network.waits.push(Wait { from, to, lag, order: Order::Link }),
                None => network.nodes[to].earliest = network.nodes[to].earliest.max(over + lag),
            }
            let of_bake = matches!(kind(link.from), StepKind::Load | StepKind::Bake)
                && matches!(kind(link.to), StepKind::Bake | StepKind::TakeOut);
            if let Some(longest) = link.longest.filter(|_| !of_bake) {
                let group = network.groups.iter().position(|g| g.group == id).unwrap_or(0);
                let from = from.ok_or(over);
                let longest = longest.value.get();
                network.gaps.push(LongestGap { from, to, longest, group });
            }
        }
    }
}

fn pupils(network: &mut Network<'_>, node: NodeOf<'_>) {
    let mut of: BTreeMap<(GroupId, u32), Vec<Stretch>> = BTreeMap::new();
    for placed in &network.plan.plan().steps {
        let Some(i) = node(placed.group, placed.step) else { continue };
        for &pupil in &placed.pupils {
            let stretch = (minutes(placed.start), minutes(placed.end), i);
            of.entry((placed.group, pupil)).or_default().push(stretch);
        }
    }
    for stretches in of.values_mut() {
        one_after_another(stretches, Order::Pupil, &mut network.waits);
    }
}

/// Stretches of one thing that can do only one at a time.
fn one_after_another(stretches: &mut [Stretch], order: Order, waits: &mut Vec<Wait>) {
    stretches.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    for pair in stretches.windows(2) {
        let (from, to) = (pair[0].2, pair[1].2);
        if from != to {
            waits.push(Wait { from, to, lag: 0.0, order });
        }
    }
}

fn items(network: &mut Network<'_>, node: NodeOf<'_>) {
    let mut uses = item_uses(network.lesson, network.plan);
    uses.sort_by_key(|u| (u.item, u.start, u.end));
    for pair in uses.windows(2).filter(|p| p[0].item == p[1].item) {
        let ends = (node(pair[0].group, pair[0].to), node(pair[1].group, pair[1].from));
        let (Some(from), Some(to)) = ends else { continue };
        let order = match pair[0].kind {
            Kind::Kit(kit) => Order::Kit(kit),
            Kind::Tin(tin) => Order::Tin(tin),
        };
        network.waits.push(Wait { from, to, lag: 0.0, order });
    }
}

fn adults(network: &mut Network<'_>) {
    let mut duties: Vec<Vec<Stretch>> = vec![Vec::new(); network.lesson.adults.len()];
    for (i, node) in network.nodes.iter().enumerate() {
        for (adult, _) in &node.adults {
            duties[adult.0].push((node.start, node.end, i));
        }
        // Who comes to a door in a later minute of the opening is taken too.
        for door in &node.doors {
            for watch in &network.plan.plan().door_watches {
                let at = minutes(watch.minute);
                if watch.oven == door.oven && node.start < at && at < node.end {
                    duties[watch.adult.0].push((at, node.end, i));
                }
            }
        }
    }
    for (a, duties) in duties.iter().enumerate() {
        in_turn(network, AdultId(a), duties);
    }
}

/// A duty waits for those that were over when it was to begin. A step of the
/// class waits for no group: only for what its adult is in the middle of.
fn in_turn(network: &mut Network<'_>, adult: AdultId, duties: &[Stretch]) {
    let class = |d: &Stretch| network.nodes[d.2].work == Work::Class;
    let before = |a: &Stretch, b: &Stretch| a.1 <= b.0 && a.2 != b.2;
    let mut waits = Vec::new();
    for later in duties {
        for earlier in duties.iter().filter(|e| before(e, later)) {
            if class(later) && !class(earlier) {
                continue;
            }
            let between = |m: &&Stretch| !class(m) && before(earlier, m) && before(m, later);
            // What comes to a door late does not hold up its beginning.
            let at_beginning = network.nodes[later.2].start >= later.0;
            if at_beginning && !duties.iter().any(|m| between(&m)) {
                let order = Order::Adult(adult);
                waits.push(Wait { from: earlier.2, to: later.2, lag: 0.0, order });
            }
        }
    }
    network.waits.extend(waits);
}

/// Tins that cannot stand in an oven at one time, one after the other.
fn places(network: &mut Network<'_>, node: NodeOf<'_>) {
    let (lesson, plan) = (network.lesson, network.plan.plan());
    let ends = |group: GroupId| -> Option<(StepId, StepId, &Tin)> {
        let choice = plan.choice(group)?;
        let (load, _, out) = lesson.method_of(group, choice.method).bake_steps()?;
        Some((load, out, &lesson.tins[lesson.tin_choice_of(group, choice.tin?).tin.0]))
    };
    let apart = |a: GroupId, b: GroupId| lesson.group(a).keep_apart || lesson.group(b).keep_apart;
    let mut loads: Vec<&Load> = plan.loads.iter().collect();
    loads.sort_by_key(|l| (l.oven, l.start));
    for (i, first) in loads.iter().enumerate() {
        let later = loads[i + 1..].iter().take_while(|l| l.oven == first.oven);
        for second in later.filter(|l| l.group != first.group && first.end <= l.start) {
            let (Some(a), Some(b)) = (ends(first.group), ends(second.group)) else { continue };
            let meet = apart(first.group, second.group)
                || in_each_others_place(lesson, (first, a.2), (second, b.2));
            let steps = (node(first.group, a.1), node(second.group, b.0));
            if let (true, (Some(from), Some(to))) = (meet, steps) {
                network.waits.push(Wait { from, to, lag: 0.0, order: Order::Place(first.oven) });
            }
        }
    }
}

/// An oven in use is not reset, and the change to another temperature takes
/// its minutes.
fn temperatures(network: &mut Network<'_>, node: NodeOf<'_>) {
    let (lesson, plan) = (network.lesson, network.plan.plan());
    for oven in (0..lesson.ovens.len()).map(OvenId) {
        let mut settings: Vec<_> = plan.settings.iter().filter(|s| s.oven == oven).collect();
        settings.sort_by_key(|s| s.set_at);
        for pair in settings.windows(2) {
            let within = |s: &crate::plan::OvenSetting, l: &&Load| {
                l.oven == oven && s.set_at <= l.start && l.end <= s.until
            };
            let lag = f64::from((pair[1].hot_from - pair[1].set_at).get());
            for first in plan.loads.iter().filter(|l| within(pair[0], l)) {
                for second in plan.loads.iter().filter(|l| within(pair[1], l)) {
                    let steps = |l: &Load| {
                        let choice = plan.choice(l.group)?;
                        lesson.method_of(l.group, choice.method).bake_steps()
                    };
                    let (Some(a), Some(b)) = (steps(first), steps(second)) else { continue };
                    let ends = (node(first.group, a.2), node(second.group, b.0));
                    if let (Some(from), Some(to)) = ends {
                        let order = Order::Temperature(oven);
                        network.waits.push(Wait { from, to, lag, order });
                    }
                }
            }
        }
    }
}

fn class_steps(network: &mut Network<'_>) {
    for period in 0..network.lesson.periods.len() {
        let of_period = network.nodes.iter().enumerate();
        let mut steps: Vec<Stretch> = of_period
            .filter(|(_, n)| n.work == Work::Class && n.period.0 == period)
            .map(|(i, n)| (n.start, n.end, i))
            .collect();
        one_after_another(&mut steps, Order::Class, &mut network.waits);
    }
}
