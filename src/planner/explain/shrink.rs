//! From groups and rules that contradict each other to a smallest set of them:
//! whatever the rest contradicts itself without is left out.

use crate::plan::why::Family;
use crate::planner::exact::lesson::Said;

/// Groups and rules that contradict each other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Contradiction {
    /// Positions in the problem.
    pub groups: Vec<usize>,
    pub families: Vec<Family>,
    /// Every member is verified to be needed.
    pub smallest: bool,
}

/// What is known of the groups to begin with.
pub(super) struct Start<'a> {
    /// The group in question: it goes last.
    pub asked: usize,
    /// Groups the plan does not serve either: these go first.
    pub others: &'a [usize],
    /// For each group the first that is like it.
    pub like: &'a [usize],
}

/// Asks whether groups can all be served under some rules; the last says
/// that *yes* is expected.
type Ask<'a> = dyn FnMut(&[usize], &[Family], bool) -> Said + 'a;

/// Leaves out what can be. `all` is known to contradict itself.
pub(super) fn shrink(all: Contradiction, start: &Start<'_>, ask: &mut Ask<'_>) -> Contradiction {
    let Contradiction { mut groups, mut families, .. } = all;
    let alike = |a: usize, b: usize| start.like[a] == start.like[b];
    // Of those that are alike the last one goes first.
    let in_turn = |of: &dyn Fn(usize) -> bool, groups: &[usize]| -> Vec<usize> {
        let mut list: Vec<usize> =
            groups.iter().copied().filter(|&g| g != start.asked && of(g)).collect();
        list.sort_by_key(|&g| (std::cmp::Reverse(start.like[g]), std::cmp::Reverse(g)));
        list
    };
    let unserved = in_turn(&|g| start.others.contains(&g), &groups);
    let whole = unserved.len();
    thin(&mut groups, unserved, whole, |rest| ask(rest, &families, false), alike);
    let rest = in_turn(&|_| true, &groups);
    let half = rest.len() / 2;
    thin(&mut groups, rest, half, |rest| ask(rest, &families, false), alike);
    if groups.len() > 1 {
        let asked = vec![start.asked];
        thin(&mut groups, asked, 1, |rest| ask(rest, &families, false), alike);
    }
    let order = families.clone();
    let half = order.len() / 2;
    thin(&mut families, order, half, |rest| ask(&groups, rest, false), |a, b| a == b);
    verified(groups, families, alike, ask)
}

fn without<T: Copy + PartialEq>(members: &[T], some: &[T]) -> Vec<T> {
    members.iter().copied().filter(|m| !some.contains(m)).collect()
}

/// Leaves out of `members` what can be of `list`: pieces of it at a time, each
/// pass smaller ones. What is like something that is needed is not tried.
fn thin<T: Copy + PartialEq>(
    members: &mut Vec<T>,
    mut list: Vec<T>,
    piece: usize,
    mut ask: impl FnMut(&[T]) -> Said,
    alike: impl Fn(T, T) -> bool,
) {
    let mut piece = piece.max(1);
    loop {
        let mut needed: Vec<T> = Vec::new();
        let mut at = 0;
        while at < list.len() {
            let end = (at + piece).min(list.len());
            let some = &list[at..end];
            if piece == 1 && needed.iter().any(|&n| alike(n, list[at])) {
                at = end;
                continue;
            }
            let rest = without(members, some);
            if ask(&rest) == Said::No {
                *members = rest;
                list.drain(at..end);
            } else {
                needed.extend(some);
                at = end;
            }
        }
        if piece == 1 {
            return;
        }
        piece /= 2;
    }
}

/// Asks for every member whether there is a way without it. One that turns out
/// not to be needed after all goes.
fn verified(
    mut groups: Vec<usize>,
    mut families: Vec<Family>,
    alike: impl Fn(usize, usize) -> bool,
    ask: &mut Ask<'_>,
) -> Contradiction {
    let mut smallest = true;
    let mut seen: Vec<usize> = Vec::new();
    let mut at = 0;
    while at < groups.len() && groups.len() > 1 {
        let group = groups[at];
        if seen.iter().any(|&s| alike(s, group)) {
            at += 1;
            continue;
        }
        let rest = without(&groups, &[group]);
        match ask(&rest, &families, true) {
            Said::No => {
                groups = rest;
                (seen, at) = (Vec::new(), 0);
                continue;
            }
            Said::Yes => {}
            Said::Open => smallest = false,
        }
        seen.push(group);
        at += 1;
    }
    let mut at = 0;
    let mut gone = false;
    while at < families.len() {
        let rest = without(&families, &[families[at]]);
        match ask(&groups, &rest, true) {
            Said::No => {
                families = rest;
                gone = true;
                continue;
            }
            Said::Yes => at += 1,
            Said::Open => {
                smallest = false;
                at += 1;
            }
        }
    }
    // With fewer rules other groups may be needed no longer, and the other way
    // round.
    if gone && smallest {
        return verified(groups, families, alike, ask);
    }
    Contradiction { groups, families, smallest }
}
