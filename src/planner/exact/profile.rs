//! A propagator for counted things whose uses may be optional and may last as
//! long as two other moments are apart: minute by minute, what is surely in
//! use is added up. Its reasons speak of single minutes.

use pumpkin_core::declare_inference_label;
use pumpkin_core::predicate;
use pumpkin_core::predicates::{Predicate, PropositionalConjunction};
use pumpkin_core::proof::{ConstraintTag, InferenceCode};
use pumpkin_core::propagation::{
    DomainEvents, EventsToRegister, LocalId, Priority, PropagationContext, Propagator,
    PropagatorConstructor, PropagatorConstructorContext, PropagatorSpec, ReadDomains,
    RuntimeCheckers,
};
use pumpkin_core::state::{PropagationStatusCP, propagator_conflict};
use pumpkin_core::variables::DomainId;

declare_inference_label!(Profile);

/// A moment: a variable and so many minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Moment {
    pub(super) variable: DomainId,
    pub(super) plus: i32,
}

impl Moment {
    fn at_most(self, minute: i32) -> Predicate {
        let (variable, value) = (self.variable, minute - self.plus);
        predicate![variable <= value]
    }

    fn at_least(self, minute: i32) -> Predicate {
        let (variable, value) = (self.variable, minute - self.plus);
        predicate![variable >= value]
    }
}

/// From `from` until before `until`, `count` are in use, if `present` holds.
#[derive(Debug, Clone, Copy)]
pub(super) struct Use {
    pub(super) from: Moment,
    pub(super) until: Moment,
    pub(super) count: i32,
    /// `None`: in any case.
    pub(super) present: Option<Predicate>,
}

/// At no minute more is in use than there is.
#[derive(Debug, Clone)]
pub(super) struct ProfileConstructor {
    pub(super) uses: Vec<Use>,
    /// How much there is in each minute from 0; outside there is no limit.
    pub(super) capacity: Vec<i32>,
    pub(super) tag: ConstraintTag,
}

/// See [`ProfileConstructor`].
#[derive(Debug, Clone)]
pub(super) struct ProfilePropagator {
    uses: Vec<Use>,
    capacity: Vec<i32>,
    code: InferenceCode,
    sum: Vec<i32>,
    /// Bounds of each use as last read.
    seen: Vec<Seen>,
}

#[derive(Debug, Clone, Copy, Default)]
struct Seen {
    /// Earliest and latest begin.
    from: (i32, i32),
    /// Earliest and latest end.
    until: (i32, i32),
    present: Option<bool>,
}

impl Seen {
    /// Minutes that are surely in use if it is present.
    fn sure(&self) -> std::ops::Range<i32> {
        self.from.1..self.until.0
    }

    fn counts_at(&self, minute: i32) -> bool {
        self.present == Some(true) && self.sure().contains(&minute)
    }
}

impl PropagatorConstructor for ProfileConstructor {
    type PropagatorImpl = ProfilePropagator;

    fn create(self, _: PropagatorConstructorContext) -> PropagatorSpec<Self::PropagatorImpl> {
        let mut registered: Vec<DomainId> = Vec::new();
        let mut registration = EventsToRegister::empty();
        let all = self.uses.iter().flat_map(|u| {
            let present = u.present.map(|p| p.get_domain());
            [Some(u.from.variable), Some(u.until.variable), present]
        });
        for variable in all.flatten() {
            if !registered.contains(&variable) {
                let id = LocalId::from(u32::try_from(registered.len()).unwrap_or(u32::MAX));
                registration.add(&variable, DomainEvents::BOUNDS, id);
                registered.push(variable);
            }
        }
        let propagator = ProfilePropagator {
            seen: vec![Seen::default(); self.uses.len()],
            sum: vec![0; self.capacity.len()],
            uses: self.uses,
            capacity: self.capacity.into_iter().map(|c| c.max(0)).collect(),
            code: InferenceCode::new(self.tag, Profile),
        };
        PropagatorSpec { registration, checkers: RuntimeCheckers::empty(), propagator }
    }
}

impl Propagator for ProfilePropagator {
    fn name(&self) -> &'static str {
        "Profile"
    }

    fn priority(&self) -> Priority {
        Priority::Low
    }

    fn propagate_from_scratch(&self, context: PropagationContext) -> PropagationStatusCP {
        self.clone().propagate(context)
    }

    fn propagate(&mut self, mut context: PropagationContext) -> PropagationStatusCP {
        self.read(&context);
        for minute in 0..self.sum.len() {
            if self.sum[minute] > self.capacity[minute] {
                let reason = self.reason(as_minute(minute), self.capacity[minute], None);
                return propagator_conflict(PropositionalConjunction::from(reason), &self.code);
            }
        }
        for i in 0..self.uses.len() {
            match self.seen[i].present {
                Some(true) => {
                    self.push_later(i, &mut context)?;
                    self.push_earlier(i, &mut context)?;
                }
                None => self.leave_out(i, &mut context)?,
                Some(false) => {}
            }
        }
        Ok(())
    }
}

#[allow(clippy::cast_possible_truncation, clippy::cast_possible_wrap)] // a few hundred
fn as_minute(index: usize) -> i32 {
    index as i32
}

impl ProfilePropagator {
    fn read(&mut self, context: &PropagationContext<'_>) {
        self.sum.fill(0);
        for (u, seen) in self.uses.iter().zip(&mut self.seen) {
            let bounds = |m: Moment| {
                let (low, high) =
                    (context.lower_bound(&m.variable), context.upper_bound(&m.variable));
                (low + m.plus, high + m.plus)
            };
            *seen = Seen {
                from: bounds(u.from),
                until: bounds(u.until),
                present: u.present.map_or(Some(true), |p| context.evaluate_predicate(p)),
            };
            if seen.present == Some(true) {
                let most = self.sum.len();
                let clip = |m: i32| usize::try_from(m).unwrap_or(0).min(most);
                let (from, until) = (clip(seen.sure().start), clip(seen.sure().end));
                for sum in self.sum.get_mut(from..until).unwrap_or_default() {
                    *sum += u.count;
                }
            }
        }
    }

    /// Whether use `i` cannot be in use in a minute beside what surely is.
    fn full_for(&self, i: usize, minute: i32) -> bool {
        let Ok(at) = usize::try_from(minute) else { return false };
        let Some(&capacity) = self.capacity.get(at) else { return false };
        let own = if self.seen[i].counts_at(minute) { self.uses[i].count } else { 0 };
        self.sum[at] - own + self.uses[i].count > capacity
    }

    /// Uses that together take more than `more_than` in a minute, as reasons.
    fn reason(&self, minute: i32, more_than: i32, but: Option<usize>) -> Vec<Predicate> {
        let mut taken = 0;
        let mut reason = Vec::new();
        let counted = (0..self.uses.len())
            .filter(|&j| Some(j) != but && self.uses[j].count > 0)
            .filter(|&j| self.seen[j].counts_at(minute));
        for j in counted {
            if taken > more_than {
                break;
            }
            let u = &self.uses[j];
            taken += u.count;
            reason.push(u.from.at_most(minute));
            reason.push(u.until.at_least(minute + 1));
            reason.extend(u.present);
        }
        reason
    }

    fn reason_for(&self, i: usize, minute: i32) -> Vec<Predicate> {
        let capacity = usize::try_from(minute).ok().and_then(|m| self.capacity.get(m));
        let left = capacity.copied().unwrap_or(0) - self.uses[i].count;
        self.reason(minute, left, Some(i))
    }

    /// While it would be in use in a full minute were it begun by then, it
    /// begins later.
    fn push_later(
        &mut self,
        i: usize,
        context: &mut PropagationContext<'_>,
    ) -> PropagationStatusCP {
        loop {
            let seen = self.seen[i];
            let reach = seen.until.0.min(seen.from.1);
            let full = (seen.from.0..reach).rev().find(|&m| self.full_for(i, m));
            let Some(minute) = full else { return Ok(()) };
            let u = self.uses[i];
            let mut reason = self.reason_for(i, minute);
            reason.push(u.until.at_least(minute + 1));
            reason.extend(u.present);
            context.post(
                u.from.at_least(minute + 1),
                (PropositionalConjunction::from(reason), &self.code),
            )?;
            self.reread(i, context);
        }
    }

    /// While it would be in use in a full minute did it last until then, it
    /// ends earlier.
    fn push_earlier(
        &mut self,
        i: usize,
        context: &mut PropagationContext<'_>,
    ) -> PropagationStatusCP {
        loop {
            let seen = self.seen[i];
            let first = seen.from.1.max(seen.until.0);
            let full = (first..seen.until.1).find(|&m| self.full_for(i, m));
            let Some(minute) = full else { return Ok(()) };
            let u = self.uses[i];
            let mut reason = self.reason_for(i, minute);
            reason.push(u.from.at_most(minute));
            reason.extend(u.present);
            context.post(
                u.until.at_most(minute),
                (PropositionalConjunction::from(reason), &self.code),
            )?;
            self.reread(i, context);
        }
    }

    /// Reads the bounds of one use anew; what it adds to the sum stays as it
    /// was, which is never too much.
    fn reread(&mut self, i: usize, context: &PropagationContext<'_>) {
        let u = self.uses[i];
        let bounds = |m: Moment| {
            let (low, high) = (context.lower_bound(&m.variable), context.upper_bound(&m.variable));
            (low + m.plus, high + m.plus)
        };
        let before = self.seen[i].sure();
        self.seen[i].from = bounds(u.from);
        self.seen[i].until = bounds(u.until);
        let now = self.seen[i].sure();
        for minute in now.clone() {
            let at = usize::try_from(minute).ok().filter(|&at| at < self.sum.len());
            if let Some(at) = at.filter(|_| !before.contains(&minute)) {
                self.sum[at] += u.count;
            }
        }
    }

    /// What would surely be in use in a full minute is not present.
    fn leave_out(&mut self, i: usize, context: &mut PropagationContext<'_>) -> PropagationStatusCP {
        let Some(present) = self.uses[i].present else { return Ok(()) };
        let Some(minute) = self.seen[i].sure().find(|&m| self.full_for(i, m)) else {
            return Ok(());
        };
        let u = self.uses[i];
        let mut reason = self.reason_for(i, minute);
        reason.push(u.from.at_most(minute));
        reason.push(u.until.at_least(minute + 1));
        context.post(!present, (PropositionalConjunction::from(reason), &self.code))?;
        self.seen[i].present = Some(false);
        Ok(())
    }
}
