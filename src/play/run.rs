//! One run: a plan played with the minutes that everything takes.
//!
//! Events are taken in the order of their time; at one time what ends comes
//! before who takes over at a door, that before what the class begins, and that
//! before what groups begin, in the plan's order.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::calls::{Call, calls};
use super::network::{Minutes, Network, Node, Order, What, Work};
use crate::model::{AdultId, OvenId, lesson};
use crate::units::Minute;

/// What a difference of times is forgiven, in minutes.
pub(super) const DUST: f64 = 1e-6;

/// Why a node began when it did, and no sooner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Started {
    /// Its own time: a timetable, or the opening of the period was over.
    OnTime,
    /// A node it waited for was over.
    After(usize, Order),
    /// The door had to stay shut, or too many tins were being moved.
    Door(OvenId),
    /// No adult who could have served was there.
    Nobody(AdultId),
    /// No adult was near.
    NobodyNear,
    /// An adult was busy.
    Busy(AdultId),
    /// The call waited for its slowest group.
    Call,
    /// The class was called together.
    Stop,
}

const END: u8 = 0;
const RELIEF: u8 = 1;
const CLASS: u8 = 2;
const START: u8 = 3;

/// An event: its time in an order of whole numbers, its kind, its node.
type Event = Reverse<(i64, u8, usize)>;

/// An adult who serves, and at whose door.
type Serving = (AdultId, Option<OvenId>);

/// When it is worth trying again, and why not now.
type NotYet = (f64, Started);

/// Times as whole numbers in the same order.
fn ordered(time: f64) -> i64 {
    let bits = (time + 0.0).to_bits().cast_signed();
    bits ^ ((bits >> 63).cast_unsigned() >> 1).cast_signed()
}

/// A door that must stay shut.
#[derive(Debug, Clone, Copy)]
struct Shut {
    from: f64,
    until: f64,
}

/// Everything that does not change from run to run, and room to work in.
#[derive(Debug)]
pub struct Play<'n> {
    network: &'n Network<'n>,
    earliest: Vec<f64>,
    /// By node: what waits for it, as positions in the network's waits.
    next: Vec<Vec<usize>>,
    waits_of: Vec<u32>,
    /// By oven: nodes that open its door.
    door_nodes: Vec<Vec<usize>>,
    /// By adult: stretches in the room, sorted.
    hours: Vec<Vec<(f64, f64)>>,
    call: f64,
    /// Calls that wait for their slowest group; none where nobody is waited for.
    calls: Vec<Call>,
    /// By node: the call it loads in, as a position in `calls`.
    call_of: Vec<Option<usize>>,
    /// By node: how much of its own group it waits for.
    own_waits_of: Vec<u32>,
    tins_per_opening: u32,
    planned: Minutes,
    /// By node: when it began, as far as that is known. Then it waits for nothing.
    begun: Vec<Option<f64>>,
    // What follows belongs to one run.
    waiting: Vec<u32>,
    ready: Vec<f64>,
    own_ready: Vec<f64>,
    own_waiting: Vec<u32>,
    start: Vec<f64>,
    end: Vec<f64>,
    why: Vec<Started>,
    ready_why: Vec<Started>,
    events: BinaryHeap<Event>,
    shut: Vec<Vec<Shut>>,
    moving: Vec<Vec<usize>>,
    serving: Vec<Vec<usize>>,
    at_oven: Vec<Option<OvenId>>,
    stopped_until: Vec<f64>,
    at_work: Vec<usize>,
}

impl<'n> Play<'n> {
    /// A plan ready to be played; `earliest` as [`Network::earliest_starts`]
    /// has it.
    pub fn new(network: &'n Network<'n>, earliest: Vec<f64>) -> Self {
        let (lesson, nodes) = (network.lesson, network.nodes.len());
        let mut next = vec![Vec::new(); nodes];
        let (mut waits_of, mut own_waits_of) = (vec![0; nodes], vec![0; nodes]);
        for (i, wait) in network.waits.iter().enumerate() {
            next[wait.from].push(i);
            waits_of[wait.to] += 1;
            own_waits_of[wait.to] += u32::from(is_own(wait.order));
        }
        let calls = if lesson.rules.call_waits { calls(network) } else { Vec::new() };
        let mut call_of = vec![None; nodes];
        for (i, call) in calls.iter().enumerate() {
            call.loads.iter().for_each(|&load| call_of[load] = Some(i));
        }
        let mut door_nodes = vec![Vec::new(); lesson.ovens.len()];
        for (i, node) in network.nodes.iter().enumerate() {
            for door in &node.doors {
                door_nodes[door.oven.0].push(i);
            }
        }
        let at = |m: Minute| f64::from(m.get());
        let hours = lesson.adults.iter().map(|a| {
            let mut hours: Vec<_> = a.hours.iter().map(|&(f, u)| (at(f), at(u))).collect();
            hours.sort_by(|a, b| a.0.total_cmp(&b.0));
            hours
        });
        Self {
            network,
            earliest,
            next,
            waits_of,
            door_nodes,
            hours: hours.collect(),
            call: f64::from(lesson.rules.call.value.get()),
            calls,
            call_of,
            own_waits_of,
            tins_per_opening: lesson.rules.tins_per_opening.value,
            planned: network.planned_minutes(),
            begun: vec![None; nodes],
            waiting: Vec::new(),
            ready: Vec::new(),
            own_ready: Vec::new(),
            own_waiting: Vec::new(),
            start: Vec::new(),
            end: Vec::new(),
            why: Vec::new(),
            ready_why: Vec::new(),
            events: BinaryHeap::new(),
            shut: vec![Vec::new(); lesson.ovens.len()],
            moving: vec![Vec::new(); lesson.ovens.len()],
            serving: vec![Vec::new(); lesson.adults.len()],
            at_oven: vec![None; lesson.adults.len()],
            stopped_until: Vec::new(),
            at_work: Vec::new(),
        }
    }

    /// The network that is played.
    pub fn network(&self) -> &'n Network<'n> {
        self.network
    }

    /// The planned minutes of everything.
    pub(super) fn planned(&self) -> &Minutes {
        &self.planned
    }

    /// Lets no node begin before these minutes.
    pub fn set_earliest(&mut self, earliest: &[f64]) {
        self.earliest.clear();
        self.earliest.extend_from_slice(earliest);
    }

    /// Has nodes begin when they are known to have begun, whatever they would
    /// wait for; `None` of one that is not known.
    pub(super) fn set_begun(&mut self, begun: Vec<Option<f64>>) {
        self.begun = begun;
    }

    /// Plays the plan once.
    pub fn run(&mut self, minutes: &Minutes) {
        self.begin(minutes);
        while let Some(Reverse((key, kind, node))) = self.events.pop() {
            let now = f64::from_bits(
                (key ^ ((key >> 63).cast_unsigned() >> 1).cast_signed()).cast_unsigned(),
            );
            match kind {
                // An end that has been put off since is none.
                END if self.end[node] != now => {}
                END => self.over(node, now),
                RELIEF => self.relieve(node, now),
                _ => self.try_to_start(node, now, minutes),
            }
        }
    }

    fn begin(&mut self, minutes: &Minutes) {
        let nodes = self.network.nodes.len();
        self.waiting.clone_from(&self.waits_of);
        self.own_waiting.clone_from(&self.own_waits_of);
        for times in [&mut self.start, &mut self.end] {
            times.clear();
            times.resize(nodes, f64::INFINITY);
        }
        self.ready.clear();
        self.ready.extend(self.earliest.iter().zip(&self.network.nodes).map(|(&at, node)| {
            let opened = minutes.opened[node.period.0];
            if node.work == Work::Alone { at } else { at.max(opened) }
        }));
        self.own_ready.clone_from(&self.ready);
        self.ready_why.clear();
        self.ready_why.resize(nodes, Started::OnTime);
        self.why.clone_from(&self.ready_why);
        self.events.clear();
        for list in self.shut.iter_mut() {
            list.clear();
        }
        for list in self.moving.iter_mut().chain(&mut self.serving) {
            list.clear();
        }
        self.at_oven.fill(None);
        self.at_work.clear();
        self.stopped_until.clear();
        self.stopped_until.resize(minutes.opened.len(), f64::NEG_INFINITY);
        for node in 0..nodes {
            if let Some(at) = self.begun[node] {
                self.try_at(node, at);
            } else if self.waiting[node] == 0 {
                self.freed(node, f64::NEG_INFINITY);
            }
        }
    }

    /// What it waited for is over.
    fn freed(&mut self, node: usize, now: f64) {
        let of = &self.network.nodes[node];
        let ready = self.ready[node].max(now);
        self.why[node] = self.ready_why[node];
        // A bake is looked at on the minute.
        let at = if of.work == Work::TakeOut { on_the_minute(ready) } else { ready };
        // What waits for nothing and goes by itself would begin at no time.
        let at = if at.is_finite() { at } else { of.start };
        self.try_at(node, at);
    }

    fn try_at(&mut self, node: usize, at: f64) {
        let class = self.network.nodes[node].work == Work::Class;
        self.events.push(Reverse((ordered(at), if class { CLASS } else { START }, node)));
    }

    fn over(&mut self, node: usize, now: f64) {
        let network = self.network;
        let of = &network.nodes[node];
        for door in &of.doors {
            self.moving[door.oven.0].retain(|&n| n != node);
        }
        if of.work == Work::Hands {
            self.at_work.retain(|&n| n != node);
        }
        for adult in 0..self.serving.len() {
            self.is_done_with(AdultId(adult), node);
        }
        for i in 0..self.next[node].len() {
            let wait = network.waits[self.next[node][i]];
            let ready = now + wait.lag;
            if ready > self.ready[wait.to] {
                self.ready[wait.to] = ready;
                self.ready_why[wait.to] = Started::After(node, wait.order);
            }
            if is_own(wait.order) {
                self.own_ready[wait.to] = self.own_ready[wait.to].max(ready);
                self.own_waiting[wait.to] -= 1;
                if self.own_waiting[wait.to] == 0 {
                    self.joins_its_call(wait.to);
                }
            }
            self.waiting[wait.to] -= 1;
            if self.waiting[wait.to] == 0 && self.begun[wait.to].is_none() {
                self.freed(wait.to, now);
            }
        }
    }

    fn is_done_with(&mut self, adult: AdultId, node: usize) {
        let serving = &mut self.serving[adult.0];
        serving.retain(|&n| n != node);
        if serving.is_empty() {
            self.at_oven[adult.0] = None;
        }
    }

    /// Lets another stand at an open door; who is busy takes over from nobody.
    fn relieve(&mut self, node: usize, now: f64) {
        let reliefs = self.network.nodes[node].reliefs.iter();
        let due = reliefs.filter(|r| self.start[node] + r.after <= now + DUST);
        for relief in due.copied().collect::<Vec<_>>() {
            let stands = self.serving[relief.from.0].contains(&node);
            let comes = self.there(relief.to, now) && self.is_free(relief.to, Some(relief.oven));
            if stands && comes && now < self.end[node] {
                self.is_done_with(relief.from, node);
                self.serving[relief.to.0].push(node);
                self.at_oven[relief.to.0] = Some(relief.oven);
            }
        }
    }

    /// A group is there for its load: who waited for it at the call tries again.
    fn joins_its_call(&mut self, load: usize) {
        let Some(call) = self.call_of[load] else { return };
        for i in 0..self.calls[call].loads.len() {
            let other = self.calls[call].loads[i];
            if other != load && self.waiting[other] == 0 && self.start[other].is_infinite() {
                self.try_at(other, self.own_ready[load].max(self.ready[other]));
            }
        }
    }

    /// Until when a load waits for others of its call, if it does: for groups
    /// whose planned minute has come and who are not there.
    fn waits_for_call(&self, node: usize, now: f64) -> Option<f64> {
        let call = &self.calls[self.call_of[node]?];
        let is_there = |n: usize| {
            self.start[n].is_finite() || self.own_waiting[n] == 0 && self.own_ready[n] <= now + DUST
        };
        let mut due = call.loads.iter().filter(|&&n| self.network.nodes[n].start <= now + DUST);
        let slow = now < call.until - DUST && due.any(|&n| n != node && !is_there(n));
        slow.then_some(call.until)
    }

    /// Begins, or says when it is worth trying again and why.
    fn try_to_start(&mut self, node: usize, now: f64, minutes: &Minutes) {
        // Who waited at a call may have been told to try more than once.
        if self.start[node].is_finite() {
            return;
        }
        let of = &self.network.nodes[node];
        if self.begun[node].is_some() {
            let adults = of.adults.clone();
            self.begin_node(node, now, minutes, &adults);
            return;
        }
        let called = self.waits_for_call(node, now).map_or(Ok(()), |at| Err((at, Started::Call)));
        match called.and_then(|()| self.may_start(of, now)) {
            Ok(adults) => self.begin_node(node, now, minutes, &adults),
            Err((later, why)) => {
                self.why[node] = why;
                let later = if later > now { later } else { now + 1.0 };
                // A crumb of a minute later is no other minute.
                let minute = Some(on_the_minute(later)).filter(|&m| m > now);
                let at = minute.filter(|_| of.work == Work::TakeOut).unwrap_or(later);
                if at.is_finite() {
                    self.try_at(node, at);
                }
            }
        }
    }

    /// The adults who serve it, each with the oven, or when to try again.
    fn may_start(&self, of: &Node, now: f64) -> Result<Vec<Serving>, NotYet> {
        let by_hand = !matches!(of.work, Work::Alone | Work::Class);
        let stopped = self.stopped_until[of.period.0];
        if by_hand && now < stopped - DUST {
            return Err((stopped, Started::Stop));
        }
        for door in &of.doors {
            let shut = self.shut[door.oven.0].iter();
            let until = shut
                .filter(|s| s.from - DUST <= now && now < s.until - DUST)
                .map(|s| s.until)
                .fold(f64::NEG_INFINITY, f64::max);
            if until > now {
                return Err((until, Started::Door(door.oven)));
            }
            self.room_at_door(of, door.oven, door.tins, now)?;
        }
        if of.near
            && let Some(later) = self.somebody_near(of, now)
        {
            return Err((later, Started::NobodyNear));
        }
        of.adults.iter().map(|&(adult, oven)| Ok((self.who(of, adult, oven, now)?, oven))).collect()
    }

    /// Few enough tins are being moved. Who comes before the planned minute
    /// leaves room for those whose minute comes meanwhile.
    fn room_at_door(&self, of: &Node, oven: OvenId, tins: u32, now: f64) -> Result<(), NotYet> {
        let uses = |n: usize| {
            let doors = &self.network.nodes[n].doors;
            doors.iter().filter(|d| d.oven == oven).map(|d| d.tins).sum::<u32>()
        };
        let moving = &self.moving[oven.0];
        let mut all = tins + moving.iter().map(|&n| uses(n)).sum::<u32>();
        let early = now < of.start - DUST;
        if early {
            let lasts = of.end - of.start;
            let expected = self.door_nodes[oven.0].iter().filter(|&&n| {
                let other = &self.network.nodes[n];
                let comes = now - DUST <= other.start && other.start < now + lasts - DUST;
                self.start[n].is_infinite() && comes && other.what != of.what
            });
            all += expected.map(|&n| uses(n)).sum::<u32>();
        }
        if all <= self.tins_per_opening.max(tins) {
            return Ok(());
        }
        let free = moving.iter().map(|&n| self.end[n]).fold(f64::INFINITY, f64::min);
        let later = if early || !free.is_finite() { now + 1.0 } else { free.max(now) };
        Err((later, Started::Door(oven)))
    }

    fn there(&self, adult: AdultId, now: f64) -> bool {
        self.hours[adult.0].iter().any(|&(from, until)| from - DUST <= now && now < until - DUST)
    }

    /// When an adult is there again.
    fn back(&self, adult: AdultId, now: f64) -> f64 {
        let later = self.hours[adult.0].iter().map(|h| h.0).filter(|&from| from > now);
        later.fold(f64::INFINITY, f64::min)
    }

    /// When somebody is in the room again; `None` if somebody is.
    fn somebody_near(&self, of: &Node, now: f64) -> Option<f64> {
        let What::Step(group, _) = of.what else { return None };
        let room = self.network.lesson.group(group).room;
        let adults = self.network.lesson.adults.iter().enumerate();
        let here = adults.filter(|(_, a)| a.room.is_none_or(|r| r == room));
        let mut back = f64::INFINITY;
        for (i, _) in here {
            if self.there(AdultId(i), now) {
                return None;
            }
            back = back.min(self.back(AdultId(i), now));
        }
        Some(back)
    }

    /// Nothing else occupies an adult, or only the same oven does.
    fn is_free(&self, adult: AdultId, oven: Option<OvenId>) -> bool {
        self.serving[adult.0].is_empty() || oven.is_some() && self.at_oven[adult.0] == oven
    }

    /// Who serves: the plan's own adult; outside their hours, once the planned
    /// minute has come, another who may and is free.
    fn who(
        &self,
        of: &Node,
        adult: AdultId,
        oven: Option<OvenId>,
        now: f64,
    ) -> Result<AdultId, NotYet> {
        if !self.there(adult, now) && of.work != Work::Class {
            let What::Step(group, _) = of.what else { return Ok(adult) };
            let of_lesson = self.network.lesson;
            let due = now >= of.start - DUST;
            let another = lesson::adults_for(of_lesson, group)
                .find(|&a| due && self.there(a, now) && self.is_free(a, oven));
            // Whoever may come first is worth waiting for.
            let comes = lesson::adults_for(of_lesson, group).flat_map(|a| {
                let busy = self.serving[a.0].iter().map(|&n| self.end[n]);
                [self.back(a, now), busy.fold(f64::NEG_INFINITY, f64::max)]
            });
            let later = comes.filter(|&at| at > now).fold(f64::INFINITY, f64::min);
            let later = if due { later } else { later.min(of.start) };
            return another.ok_or((later, Started::Nobody(adult)));
        }
        if self.is_free(adult, oven) {
            return Ok(adult);
        }
        let busy = self.serving[adult.0].iter().map(|&n| self.end[n]);
        Err((busy.fold(now, f64::max), Started::Busy(adult)))
    }

    fn begin_node(&mut self, node: usize, now: f64, minutes: &Minutes, adults: &[Serving]) {
        let of = &self.network.nodes[node];
        let end = now + minutes.nodes[node];
        self.start[node] = now;
        self.end[node] = end;
        for &(adult, oven) in adults {
            self.serving[adult.0].push(node);
            self.at_oven[adult.0] = oven;
        }
        for door in &of.doors {
            self.moving[door.oven.0].push(node);
            if let Some(shut) = of.shut {
                let from = (now + self.call.max(of.end - of.start)).max(end);
                self.shut[door.oven.0].push(Shut { from, until: end + shut });
            }
        }
        for relief in &of.reliefs {
            self.events.push(Reverse((ordered(now + relief.after), RELIEF, node)));
        }
        match of.work {
            Work::Hands => self.at_work.push(node),
            Work::Class => self.stop_the_class(of.period.0, now, minutes.nodes[node]),
            Work::Alone | Work::Load | Work::TakeOut => {}
        }
        self.events.push(Reverse((ordered(end), END, node)));
    }

    /// Hands stop and go on afterwards.
    fn stop_the_class(&mut self, period: usize, now: f64, lasts: f64) {
        self.stopped_until[period] = now + lasts;
        for &node in &self.at_work {
            if self.network.nodes[node].period.0 == period {
                self.end[node] += lasts;
                self.events.push(Reverse((ordered(self.end[node]), END, node)));
            }
        }
    }

    /// When a node began; infinite if it never did.
    pub fn start_of(&self, node: usize) -> f64 {
        self.start[node]
    }

    /// When a node was over; infinite if it never was.
    pub fn end_of(&self, node: usize) -> f64 {
        self.end[node]
    }

    /// Why a node began no sooner.
    pub fn why(&self, node: usize) -> Started {
        self.why[node]
    }

    /// When everything a node waited for was over, and what was over last.
    pub(super) fn ready_of(&self, node: usize) -> (f64, Started) {
        (self.ready[node], self.ready_why[node])
    }

    /// When its own group would have been ready for it.
    pub(super) fn own_ready(&self, node: usize) -> f64 {
        self.own_ready[node]
    }

    /// When a group, by its position in the network, was ready.
    pub fn ready(&self, group: usize) -> f64 {
        let group = &self.network.groups[group];
        let bell = self.network.periods[group.period.0].start;
        group.nodes.iter().map(|&n| self.end[n]).fold(bell, f64::max)
    }

    /// Whether a mixture of a group waited longer than its link allows; what
    /// never began has not waited.
    pub fn waited_too_long(&self, group: usize) -> bool {
        let of_group = self.network.gaps.iter().filter(|g| g.group == group);
        of_group.into_iter().any(|gap| {
            let from = gap.from.map_or_else(|over| over, |node| self.end[node]);
            let waited = self.start[gap.to] - from;
            waited.is_finite() && waited > gap.longest + DUST
        })
    }

    /// By how many minutes a group is ready before the closing steps of its
    /// period; negative if it is late.
    pub fn spare(&self, group: usize, minutes: &Minutes) -> f64 {
        minutes.closing[self.network.groups[group].period.0] - self.ready(group)
    }

    /// Whether a group is out: ready by the start of the closing steps, and
    /// nothing of it waited too long.
    pub fn is_out(&self, group: usize, minutes: &Minutes) -> bool {
        self.spare(group, minutes) >= -DUST && !self.waited_too_long(group)
    }
}

/// Whether what is waited for is the group's own, or its class's.
fn is_own(order: Order) -> bool {
    matches!(order, Order::Link | Order::Pupil | Order::Class)
}

/// The next whole minute, a crumb forgiven.
fn on_the_minute(at: f64) -> f64 {
    (at - DUST).ceil()
}
