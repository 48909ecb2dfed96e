//! Groups that are in the rooms at one time, be they of one period or of
//! several: what they share is counted once.

use super::Bounder;
use crate::graph::Problem;
use crate::graph::problem::PeriodTask;

/// The groups of one period, or of several that run at the same time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Span {
    /// The periods, the first to begin first.
    pub periods: Vec<usize>,
    /// Their groups, as positions in the problem.
    pub groups: Vec<usize>,
}

impl Span {
    /// The period at whose start bell minutes begin.
    pub fn first(&self) -> usize {
        self.periods[0]
    }
}

fn run_together(a: &PeriodTask, b: &PeriodTask) -> bool {
    a.start < b.end && b.start < a.end
}

impl Bounder<'_> {
    /// Each period by itself, then all that run at the start of one of them.
    /// The groups of `out` are in none.
    pub fn spans(&self, out: &[usize]) -> Vec<Span> {
        let all = &self.problem.periods;
        let mut sets: Vec<Vec<usize>> = (0..all.len()).map(|p| vec![p]).collect();
        for begins in all.iter().map(|p| p.start) {
            let runs = |&p: &usize| all[p].start <= begins && begins < all[p].end;
            let mut set: Vec<usize> = (0..all.len()).filter(runs).collect();
            set.sort_by_key(|&p| (all[p].start, p));
            if !sets.contains(&set) && !set.is_empty() {
                sets.push(set);
            }
        }
        let span = |periods: Vec<usize>| {
            let here =
                |&g: &usize| periods.contains(&self.problem.groups[g].period) && !out.contains(&g);
            let groups = (0..self.problem.groups.len()).filter(here).collect();
            Span { periods, groups }
        };
        sets.into_iter().map(span).collect()
    }

    /// Minutes from the bell at which a span begins to that of a group's period.
    pub(super) fn bell(&self, span: &Span, group: usize) -> f64 {
        let start = |p: usize| self.problem.periods[p].start;
        f64::from(start(self.problem.groups[group].period) - start(span.first()))
    }
}

/// The groups whose plans may stand in each other's way with those of a
/// period: its own, and those of periods that run at the same time and share
/// an oven or something counted with them, or with such a one.
pub fn beside(problem: &Problem, period: usize) -> Vec<usize> {
    let used: Vec<(Vec<usize>, Vec<usize>)> =
        (0..problem.periods.len()).map(|p| used_in(problem, p)).collect();
    let share = |a: &[usize], b: &[usize]| a.iter().any(|x| b.contains(x));
    let mut periods = vec![period];
    let mut at = 0;
    while let Some(&p) = periods.get(at) {
        for q in 0..problem.periods.len() {
            let meets = run_together(&problem.periods[p], &problem.periods[q])
                && (share(&used[p].0, &used[q].0) || share(&used[p].1, &used[q].1));
            if meets && !periods.contains(&q) {
                periods.push(q);
            }
        }
        at += 1;
    }
    (0..problem.groups.len()).filter(|&g| periods.contains(&problem.groups[g].period)).collect()
}

/// The ovens and the pools that the groups of a period may use.
fn used_in(problem: &Problem, period: usize) -> (Vec<usize>, Vec<usize>) {
    let (mut ovens, mut pools) = (Vec::new(), Vec::new());
    let mut kinds: Vec<usize> = Vec::new();
    for group in problem.groups.iter().filter(|g| g.period == period) {
        if kinds.contains(&group.like) {
            continue;
        }
        kinds.push(group.like);
        ovens.extend(&group.ovens);
        pools.extend(&group.adults);
        for option in group.options.iter() {
            let needs = option.tasks.iter().flat_map(|t| &t.needs);
            let held = option.holds.iter().map(|h| &h.need);
            pools.extend(needs.chain(held).flat_map(|n| &n.pools));
        }
    }
    for list in [&mut ovens, &mut pools] {
        list.sort_unstable();
        list.dedup();
    }
    (ovens, pools)
}

/// Lists that have a member in common put together: what any of them may use.
pub(super) fn joined(lists: impl IntoIterator<Item = Vec<usize>>) -> Vec<Vec<usize>> {
    let mut all: Vec<Vec<usize>> = Vec::new();
    for mut list in lists {
        let meets = |other: &Vec<usize>| other.iter().any(|x| list.contains(x));
        let (met, apart): (Vec<_>, Vec<_>) = all.into_iter().partition(meets);
        all = apart;
        met.into_iter().for_each(|other| list.extend(other));
        list.sort_unstable();
        list.dedup();
        if !all.contains(&list) {
            all.push(list);
        }
    }
    all.sort_unstable();
    all
}
