//! Where the solver branches: on what was in conflicts lately, towards the
//! best plan known; where conflicts say nothing, on what can start first.

use std::cell::Cell;
use std::rc::Rc;

use pumpkin_core::branching::branchers::autonomous_search::AutonomousSearch;
use pumpkin_core::branching::{Brancher, BrancherEvent, SelectionContext};
use pumpkin_core::predicate;
use pumpkin_core::predicates::{Predicate, PredicateType};
use pumpkin_core::results::{ProblemSolution, SolutionReference};
use pumpkin_core::variables::DomainId;

/// Values wished for, by number of the variable.
pub(super) type Wishes = Rc<std::cell::RefCell<Vec<Option<i32>>>>;

fn number(variable: DomainId) -> usize {
    usize::try_from(variable.id()).unwrap_or(usize::MAX)
}

/// The whole strategy.
#[derive(Debug)]
pub(super) struct Guide {
    search: AutonomousSearch<Earliest>,
    wishes: Wishes,
    tally: Rc<Tally>,
}

/// What a search has come to.
#[derive(Debug, Default)]
pub(super) struct Tally {
    /// Conflicts so far.
    pub(super) conflicts: Cell<u64>,
    /// Whether the last event was a decision.
    pub(super) decided: Cell<bool>,
}

impl Guide {
    /// Branches on `starts` first where conflicts say nothing. Keeps count in `tally`.
    pub(super) fn new(starts: Vec<DomainId>, tally: Rc<Tally>) -> Self {
        let wishes = Wishes::default();
        let earliest = Earliest { starts, wishes: Rc::clone(&wishes) };
        Self { search: AutonomousSearch::new(earliest), wishes, tally }
    }

    /// Wishes a value for a variable: the search keeps near it.
    pub(super) fn wish(&mut self, variable: DomainId, value: i32) {
        let mut wishes = self.wishes.borrow_mut();
        let at = number(variable);
        if wishes.len() <= at {
            wishes.resize(at + 1, None);
        }
        wishes[at] = Some(value);
    }

    fn as_wished(&self, of: Predicate) -> Predicate {
        let wishes = self.wishes.borrow();
        let Some(Some(wish)) = wishes.get(number(of.get_domain())) else { return of };
        let value = of.get_right_hand_side();
        let holds = match of.get_predicate_type() {
            PredicateType::LowerBound => *wish >= value,
            PredicateType::UpperBound => *wish <= value,
            PredicateType::Equal => *wish == value,
            PredicateType::NotEqual => *wish != value,
        };
        if holds { of } else { !of }
    }
}

impl Brancher for Guide {
    fn next_decision(&mut self, context: &mut SelectionContext) -> Option<Predicate> {
        let decision = self.search.next_decision(context)?;
        self.tally.decided.set(true);
        Some(self.as_wished(decision))
    }

    fn on_conflict(&mut self) {
        self.tally.conflicts.set(self.tally.conflicts.get() + 1);
        self.tally.decided.set(false);
        self.search.on_conflict();
    }

    fn on_backtrack(&mut self) {
        self.search.on_backtrack();
    }

    fn on_solution(&mut self, solution: SolutionReference) {
        // The inner search is not told: it would keep to its own copy of it.
        for variable in solution.get_domains() {
            self.wish(variable, solution.get_integer_value(variable));
        }
    }

    fn on_appearance_in_conflict_predicate(&mut self, predicate: Predicate) {
        self.search.on_appearance_in_conflict_predicate(predicate);
    }

    fn on_restart(&mut self) {
        self.search.on_restart();
    }

    fn synchronise(&mut self, context: &mut SelectionContext) {
        self.search.synchronise(context);
    }

    fn is_restart_pointless(&mut self) -> bool {
        false
    }

    fn subscribe_to_events(&self) -> Vec<BrancherEvent> {
        let mut events = self.search.subscribe_to_events();
        for wanted in [BrancherEvent::Conflict, BrancherEvent::Solution] {
            if !events.contains(&wanted) {
                events.push(wanted);
            }
        }
        events
    }
}

/// The start that can be first, as early as it goes or as wished; then
/// whatever is open.
#[derive(Debug)]
struct Earliest {
    starts: Vec<DomainId>,
    wishes: Wishes,
}

impl Earliest {
    fn decide(&self, context: &SelectionContext, variable: DomainId) -> Predicate {
        let (low, high) = (context.lower_bound(variable), context.upper_bound(variable));
        match self.wishes.borrow().get(number(variable)) {
            Some(&Some(wish)) if low < wish && wish <= high => predicate![variable >= wish],
            Some(&Some(wish)) if low <= wish && wish < high => predicate![variable <= wish],
            _ => predicate![variable <= low],
        }
    }
}

impl Brancher for Earliest {
    fn next_decision(&mut self, context: &mut SelectionContext) -> Option<Predicate> {
        let open = |v: &DomainId| context.lower_bound(*v) < context.upper_bound(*v);
        let first = self
            .starts
            .iter()
            .copied()
            .filter(open)
            .min_by_key(|&v| (context.lower_bound(v), context.upper_bound(v)));
        if let Some(first) = first {
            return Some(self.decide(context, first));
        }
        let next = context.get_domains().find(open)?;
        Some(self.decide(context, next))
    }

    fn subscribe_to_events(&self) -> Vec<BrancherEvent> {
        Vec::new()
    }
}
