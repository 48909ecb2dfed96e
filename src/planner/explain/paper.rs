//! What pencil and paper show: the chain of a group's own steps, shelf places
//! against turns, the minutes in which counted things are in use.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::sums::{self, SumTold};
use super::{By, Reason};
use crate::graph::problem::{Choice, GroupTask};
use crate::plan::{Refusal, Rule};
use crate::planner::bounds::{Bounder, ChainBound, Pace, ShareBound, ShareOf, ShortSums};

/// The groups that a plan leaves out, as positions in the problem.
#[derive(Debug, Clone, Copy)]
pub(in crate::planner) struct LeftOut<'a> {
    /// All of them.
    pub not_served: &'a [usize],
    /// Those of which it is known that they cannot be served even by
    /// themselves.
    pub alone: &'a [usize],
    /// So many groups of all can be served as planned, at most.
    pub served_at_most: usize,
}

/// The sums of a lesson at one pace, worked out once.
pub(in crate::planner) struct Paper<'a> {
    bounder: Bounder<'a>,
    pace: Pace,
    sums: ShortSums,
    not_served: Vec<usize>,
    served_at_most: usize,
    /// Of each of them, the groups that are alike by the first, the shortest
    /// chain at this pace and its minutes at the quickest.
    shortest: RefCell<BTreeMap<usize, Shortest>>,
}

/// The shortest chain of a group, and its minutes at the quickest.
type Shortest = (Option<ChainBound>, Option<f64>);

impl<'a> Paper<'a> {
    /// The sums about groups that are left out.
    pub(in crate::planner) fn new(bounder: Bounder<'a>, pace: Pace, left: LeftOut<'_>) -> Self {
        Self {
            bounder,
            pace,
            sums: ShortSums::new(bounder, pace, left.alone),
            not_served: left.not_served.to_vec(),
            served_at_most: left.served_at_most,
            shortest: RefCell::default(),
        }
    }

    /// Why a group is not served, if a sum shows it.
    pub(in crate::planner) fn reason(&self, position: usize) -> Option<Reason> {
        let group = &self.bounder.problem.groups[position];
        self.alone(group).or_else(|| self.together(position))
    }

    /// Why a group is not served though it could be by itself, if a sum shows
    /// it.
    pub(in crate::planner) fn together(&self, position: usize) -> Option<Reason> {
        self.by_turns(position).or_else(|| self.by_share(position))
    }

    /// How many of some groups are served at most as planned, if that is known.
    fn as_planned(&self, groups: &[usize]) -> Option<usize> {
        (groups.len() == self.bounder.problem.groups.len()).then_some(self.served_at_most)
    }

    fn told(
        &self,
        refusal: Refusal,
        by: By,
        rules: &[Rule],
        (sum, sentence): (String, String),
    ) -> Reason {
        // What holds at planned minutes is no *cannot*.
        let refusal = if self.pace == Pace::Quick { refusal } else { Refusal::NotFound };
        Reason { refusal, by, pace: Some(self.pace), rules: rules.to_vec(), sum, sentence }
    }

    /// That it cannot be served even by itself.
    pub(in crate::planner) fn alone(&self, group: &GroupTask) -> Option<Reason> {
        let (shortest, at_best) = self.shortest(group);
        let Some(shortest) = shortest else {
            let (sum, sentence) = no_choice(self.bounder, group);
            return Some(Reason {
                refusal: Refusal::Cannot,
                by: By::NoPlace,
                pace: Some(self.pace),
                rules: vec![Rule::Tin, Rule::Shelf],
                sum,
                sentence,
            });
        };
        if shortest.fits() {
            return None;
        }
        let told = sums::chain(self.bounder, group, &shortest, (self.pace, at_best));
        Some(self.told(Refusal::Cannot, By::Chain, &[Rule::Order, Rule::Bell], told))
    }

    fn shortest(&self, group: &GroupTask) -> Shortest {
        let known = self.shortest.borrow().get(&group.like).cloned();
        known.unwrap_or_else(|| {
            let at = |pace| self.bounder.shortest(group, pace);
            let found = (at(self.pace), at(Pace::Quick).map(|c| c.total()));
            self.shortest.borrow_mut().insert(group.like, found.clone());
            found
        })
    }

    fn by_turns(&self, position: usize) -> Option<Reason> {
        let turns = self.sums.turns_of(position)?;
        let told = sums::turns(self.bounder, turns, self.pace, self.as_planned(&turns.who));
        Some(self.told(
            Refusal::CannotAll,
            By::Turns,
            &[Rule::Shelf, Rule::OneOven, Rule::Bell],
            told,
        ))
    }

    /// The sum that leaves room for the fewest groups, one that the group has a
    /// part in if there is any.
    fn by_share(&self, position: usize) -> Option<Reason> {
        let share: &ShareBound = self.sums.share_of(position, &self.not_served)?;
        let rules: &[Rule] = match share.of {
            ShareOf::Kit(_) => &[Rule::Kit, Rule::Bell],
            ShareOf::Adults => &[Rule::Adults, Rule::Bell],
            ShareOf::Places | ShareOf::Batches => &[Rule::Shelf, Rule::Bell],
        };
        let as_planned = self.as_planned(&share.groups);
        let (sum, mut sentence) = sums::share(self.bounder, share, self.pace, as_planned);
        if !share.is_met_by(position) {
            sentence += " This group has no part in that; another could be left out in its \
                         place.";
        }
        Some(self.told(Refusal::CannotAll, By::Share, rules, (sum, sentence)))
    }
}

fn no_choice(bounder: Bounder<'_>, group: &GroupTask) -> SumTold {
    let Some(choice) = group.options.first() else {
        let sentence = "No method and tin is left that the recipe, the tins and the locks allow.";
        return (String::new(), sentence.to_owned());
    };
    let name = choice_name(bounder, group, choice);
    let sentence = format!("No oven it may use has room for {name}.");
    match super::round_tins::no_room(bounder, group, choice) {
        Some((sum, because)) => (sum, format!("{sentence} {because}")),
        None => (String::new(), sentence),
    }
}

/// What a choice is called: its tin, or its method where nothing is baked.
pub(super) fn choice_name(bounder: Bounder<'_>, group: &GroupTask, choice: &Choice) -> String {
    match choice.tin {
        Some(tin) => bounder.lesson.tin_choice_of(group.group, tin).label.clone(),
        None => bounder.lesson.method_of(group.group, choice.method).name.clone(),
    }
}
