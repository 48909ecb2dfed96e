//! The order of a method's steps, as written in its file.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use petgraph::algo::{astar, has_path_connecting, kosaraju_scc};
use petgraph::graphmap::DiGraphMap;

use crate::units::ExactMinutes;

/// A link between two steps, by their places in the file.
#[derive(Debug, Clone, Copy)]
pub(super) struct StepLink {
    pub from: usize,
    pub to: usize,
    pub least: ExactMinutes,
    pub longest: Option<ExactMinutes>,
}

/// Whether the steps can be put in order.
pub(super) enum Order {
    /// Each step after those it is linked from, else as written.
    Runs(Vec<usize>),
    /// Rings of steps that wait for each other.
    Cycles(Vec<Vec<usize>>),
}

/// Steps and links.
pub(super) struct StepOrder {
    graph: DiGraphMap<usize, ()>,
    gaps: BTreeMap<(usize, usize), (ExactMinutes, Option<ExactMinutes>)>,
}

impl StepOrder {
    pub fn new(steps: usize) -> Self {
        let mut graph = DiGraphMap::new();
        for step in 0..steps {
            graph.add_node(step);
        }
        Self { graph, gaps: BTreeMap::new() }
    }

    /// Adds a link without bounds on its gap; keeps the bounds of one there.
    pub fn add(&mut self, from: usize, to: usize) {
        self.graph.add_edge(from, to, ());
        self.gaps.entry((from, to)).or_insert((ExactMinutes::ZERO, None));
    }

    /// Adds a link, or narrows the one that is there.
    pub fn set(
        &mut self,
        from: usize,
        to: usize,
        least: ExactMinutes,
        longest: Option<ExactMinutes>,
    ) {
        self.add(from, to);
        if let Some(gap) = self.gaps.get_mut(&(from, to)) {
            let shorter = |a: ExactMinutes, b: ExactMinutes| if a < b { a } else { b };
            gap.0 = if gap.0 > least { gap.0 } else { least };
            gap.1 = match (gap.1, longest) {
                (Some(a), Some(b)) => Some(shorter(a, b)),
                (a, b) => a.or(b),
            };
        }
    }

    /// Whether there is a link.
    pub fn has(&self, from: usize, to: usize) -> bool {
        self.graph.contains_edge(from, to)
    }

    /// Whether a step is another, or comes before it.
    pub fn reaches(&self, from: usize, to: usize) -> bool {
        has_path_connecting(&self.graph, from, to, None)
    }

    /// The links.
    pub fn edges(&self) -> impl Iterator<Item = StepLink> {
        self.gaps.iter().map(|(&(from, to), &(least, longest))| StepLink {
            from,
            to,
            least,
            longest,
        })
    }

    /// Puts the steps in order.
    pub fn order(&self) -> Order {
        let count = self.graph.node_count();
        let mut waits_for = vec![0_usize; count];
        for (_, to, ()) in self.graph.all_edges() {
            waits_for[to] += 1;
        }
        let mut ready: BinaryHeap<Reverse<usize>> =
            (0..count).filter(|&i| waits_for[i] == 0).map(Reverse).collect();
        let mut order = Vec::with_capacity(count);
        while let Some(Reverse(step)) = ready.pop() {
            order.push(step);
            for next in self.graph.neighbors(step) {
                waits_for[next] -= 1;
                if waits_for[next] == 0 {
                    ready.push(Reverse(next));
                }
            }
        }
        if order.len() == count { Order::Runs(order) } else { Order::Cycles(self.cycles()) }
    }

    /// A shortest ring through the first step of each tangle.
    fn cycles(&self) -> Vec<Vec<usize>> {
        let mut rings = Vec::new();
        for tangle in kosaraju_scc(&self.graph) {
            let Some(&first) = tangle.iter().min() else { continue };
            let back = |start| astar(&self.graph, start, |n| n == first, |_| 1, |_| 0);
            let shortest =
                self.graph.neighbors(first).filter_map(back).min_by_key(|(cost, _)| *cost);
            if let Some((_, ring)) = shortest {
                // The ring ends with the first step; begin with it instead.
                let mut steps = vec![first];
                steps.extend(ring.into_iter().filter(|&n| n != first));
                rings.push(steps);
            }
        }
        rings.sort();
        rings
    }
}
