//! What lags and resources say before any search: orders that are forced, and
//! a finish that cannot be beaten.

use super::problem::{Resource, Scheduling};
use ovenbell::graph::closure::Closure;

/// Pairs of activities that cannot overlap: said so, or too much together for
/// some resource.
pub(super) fn apart(problem: &Scheduling) -> Vec<(usize, usize)> {
    let n = problem.activities.len();
    let mut apart = vec![false; n * n];
    let mut mark = |a: usize, b: usize| apart[a.min(b) * n + a.max(b)] = true;
    for &(a, b) in &problem.apart {
        mark(a, b);
    }
    for resource in &problem.resources {
        for (i, &(a, takes)) in resource.demands.iter().enumerate() {
            for &(b, more) in &resource.demands[..i] {
                if a != b && takes.saturating_add(more) > resource.capacity {
                    mark(a, b);
                }
            }
        }
    }
    let lasts = |i: usize| problem.activities[i].minutes > 0;
    (0..n)
        .flat_map(|a| (a + 1..n).map(move |b| (a, b)))
        .filter(|&(a, b)| apart[a * n + b] && lasts(a) && lasts(b))
        .collect()
}

/// Closes the lags and adds the orders of pairs that are left one way only;
/// `false` if that contradicts itself.
pub(super) fn sharpen(
    problem: &Scheduling,
    apart: &[(usize, usize)],
    closure: &mut Closure,
) -> bool {
    if !closure.close() {
        return false;
    }
    let minutes = |i: usize| problem.activities[i].minutes;
    let mut news = true;
    while news {
        news = false;
        for &(a, b) in apart {
            let may_follow = |first: usize, second: usize| {
                closure.least(second, first) <= -minutes(first)
                    && closure.earliest(first) + minutes(first) <= closure.latest(second)
            };
            let (a_first, b_first) = (may_follow(a, b), may_follow(b, a));
            let forced = match (a_first, b_first) {
                (true, true) => continue,
                (false, false) => return false,
                (true, false) => (a, b),
                (false, true) => (b, a),
            };
            if closure.least(forced.0, forced.1) < minutes(forced.0) {
                news = true;
                if !closure.add(forced.0, forced.1, minutes(forced.0)) {
                    return false;
                }
            }
        }
    }
    true
}

/// Whether some resource is asked for more than it has in some stretch of
/// time, counting of every activity only what cannot lie outside it.
pub(super) fn overloaded(problem: &Scheduling, closure: &Closure) -> bool {
    problem.resources.iter().any(|r| overloads(problem, r, closure))
}

fn overloads(problem: &Scheduling, resource: &Resource, closure: &Closure) -> bool {
    let of = |&(a, takes): &(usize, i32)| {
        let minutes = problem.activities[a].minutes;
        (closure.earliest(a), closure.latest(a), minutes, takes)
    };
    let uses: Vec<(i32, i32, i32, i32)> = resource.demands.iter().map(of).collect();
    let mut froms: Vec<i32> = uses.iter().flat_map(|u| [u.0, u.1]).collect();
    let mut untils: Vec<i32> = uses.iter().flat_map(|u| [u.1 + u.2, u.0 + u.2]).collect();
    froms.sort_unstable();
    froms.dedup();
    untils.sort_unstable();
    untils.dedup();
    froms.iter().any(|&from| {
        untils.iter().filter(|&&until| until > from).any(|&until| {
            let needed: i64 = uses
                .iter()
                .map(|&(earliest, latest, minutes, takes)| {
                    let if_early = (earliest + minutes).min(until) - earliest.max(from);
                    let if_late = (latest + minutes).min(until) - latest.max(from);
                    i64::from(if_early.min(if_late).max(0)) * i64::from(takes)
                })
                .sum();
            needed > i64::from(until - from) * i64::from(resource.capacity)
        })
    })
}

/// The least finish that is not refuted by lags, orders and energy alone,
/// from `from` on; `None` if all to `most` are.
pub(super) fn least_finish(
    problem: &Scheduling,
    apart: &[(usize, usize)],
    from: i32,
    most: i32,
) -> Option<i32> {
    let refuted = |finish: i32| {
        let mut closure = problem.closure(finish);
        !sharpen(problem, apart, &mut closure) || overloaded(problem, &closure)
    };
    // What is refuted for one finish is refuted for all before it: double the
    // step, then halve it.
    let (mut low, mut high) = (from, most);
    if refuted(high) {
        return None;
    }
    let mut step = 1;
    while low + step < high {
        if refuted(low + step - 1) {
            low += step;
            step *= 2;
        } else {
            high = low + step - 1;
            break;
        }
    }
    while low < high {
        let middle = low + (high - low) / 2;
        if refuted(middle) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    Some(low)
}
