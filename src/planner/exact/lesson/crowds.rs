//! Tins for which no places were found together, so that another plan can be asked for.

use pumpkin_constraints as constraints;
use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::variables::TransformableVariable;

use super::model::{Model, ModelPlan};
use crate::graph::Problem;
use crate::planner::lasting::{TinToStand, lasting_places};
use crate::planner::shelf_by_shelf::is_too_full;

/// Groups with tins in one oven for which no places were found, as long as they stand beside
/// one another as they did.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Crowd {
    oven: usize,
    members: Vec<Member>,
    /// Pairs of members, by position, that stand at the same time.
    beside: Vec<(usize, usize)>,
    /// It is proved that there are none.
    pub(super) proved: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Member {
    group: usize,
    option: usize,
    tins: usize,
    /// From the start of the load to the end of the taking out.
    stay: (i32, i32),
}

/// One crowd for each oven in which no places were found for the tins of a plan, with nobody
/// in it who could be left out of it.
pub(super) fn crowds(
    problem: &Problem,
    plan: &ModelPlan,
    is_over: &dyn Fn() -> bool,
) -> Vec<Crowd> {
    let of_oven = |oven: usize| {
        let mut members = members(problem, plan, oven);
        if find(problem, oven, &members, is_over) || is_over() {
            return None;
        }
        let mut at = 0;
        while at < members.len() {
            let one = members.remove(at);
            if find(problem, oven, &members, is_over) {
                members.insert(at, one);
                at += 1;
            }
        }
        let meet = |a: &Member, b: &Member| a.stay.0 < b.stay.1 && b.stay.0 < a.stay.1;
        let pairs = (0..members.len()).flat_map(|b| (0..b).map(move |a| (a, b)));
        let beside = pairs.filter(|&(a, b)| meet(&members[a], &members[b])).collect();
        let proved = is_too_full(problem, oven, &tins(problem, &members), is_over);
        (!is_over()).then_some(Crowd { oven, members, beside, proved })
    };
    (0..problem.ovens.len()).filter_map(of_oven).collect()
}

fn members(problem: &Problem, plan: &ModelPlan, oven: usize) -> Vec<Member> {
    let of = |(group, seed): (usize, &Option<super::Seed>)| {
        let seed = seed.as_ref()?;
        let choice = &problem.groups[group].options[seed.option];
        let bake = choice.bake.as_ref()?;
        let tins = seed.ovens.iter().filter(|&&o| o == oven).count();
        let stay = (seed.starts[bake.load], seed.starts[bake.out] + choice.tasks[bake.out].minutes);
        (tins > 0).then_some(Member { group, option: seed.option, tins, stay })
    };
    plan.groups.iter().enumerate().filter_map(of).collect()
}

fn find(problem: &Problem, oven: usize, members: &[Member], is_over: &dyn Fn() -> bool) -> bool {
    lasting_places(problem, oven, &tins(problem, members), is_over).is_some()
}

fn tins<'p>(problem: &'p Problem, members: &[Member]) -> Vec<TinToStand<'p>> {
    let of = |member: &Member| {
        let group = &problem.groups[member.group];
        let bake = group.options[member.option].bake.as_ref();
        let (of, count, (start, end)) = (member.group, member.tins, member.stay);
        let tin = move |bake| TinToStand { group: of, bake, only: group.shelf, start, end };
        bake.into_iter().flat_map(move |bake| (0..count).map(move |_| tin(bake)))
    };
    members.iter().flat_map(of).collect()
}

impl Model<'_> {
    /// From now on one of a crowd has fewer tins in its oven, or two of it no longer stand at
    /// the same time.
    pub(super) fn forbid(&mut self, crowd: &Crowd) {
        let mut any: Vec<Predicate> = Vec::new();
        let mut modes: Vec<usize> = Vec::new();
        for member in &crowd.members {
            let is_it = |m: &usize| {
                let mode = &self.modes[*m];
                mode.group == member.group && mode.option == member.option
            };
            let Some(mode) = (0..self.modes.len()).find(is_it) else { return };
            let standing = self.standing.iter().find(|s| s.mode == mode && s.oven == crowd.oven);
            let Some(standing) = standing else { return };
            let tins = standing.tins;
            let fewer = i32::try_from(member.tins).unwrap_or(i32::MAX) - 1;
            any.push(predicate![tins <= fewer]);
            modes.push(mode);
        }
        for &(a, b) in &crowd.beside {
            any.extend(self.before(modes[a], modes[b]));
            any.extend(self.before(modes[b], modes[a]));
        }
        self.engine.clause(any);
    }

    /// Something that holds only where the tins of one mode are out before those of another
    /// are loaded.
    fn before(&mut self, first: usize, second: usize) -> Option<Predicate> {
        let (first, second) = (&self.modes[first], &self.modes[second]);
        let (earlier, later) = (first.choice.bake.as_ref()?, second.choice.bake.as_ref()?);
        let (out, load) = (first.starts[earlier.out]?, second.starts[later.load]?);
        let minutes = first.choice.tasks[earlier.out].minutes;
        let holds = self.engine.literal();
        let terms = [out.scaled(1), load.scaled(-1)];
        self.engine.post_if(holds, |tag| constraints::less_than_or_equals(terms, -minutes, tag));
        Some(holds.get_true_predicate())
    }
}
