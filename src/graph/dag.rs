//! The steps of a method as a graph: chains, and what comes before what.

use petgraph::Direction;
use petgraph::algo::toposort;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::EdgeRef;

use crate::model::{Method, StepId};

/// A method's steps and the least gaps between them, in minutes.
#[derive(Debug, Clone)]
pub struct Dag {
    graph: DiGraph<StepId, f64>,
    order: Vec<NodeIndex>,
}

/// The longest way through some steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Chain {
    /// When its first step starts at the earliest.
    pub from: f64,
    /// Its length in minutes, gaps included.
    pub length: f64,
    /// Its steps, first to last, each with its own minutes and the least gap
    /// before it.
    pub steps: Vec<(StepId, f64, f64)>,
}

impl Dag {
    /// The graph of a method. A model's method has no cycle, so the order
    /// always exists; were there one, the order would be empty.
    pub fn new(method: &Method) -> Self {
        let mut graph = DiGraph::with_capacity(method.steps.len(), method.links.len());
        let nodes: Vec<NodeIndex> =
            (0..method.steps.len()).map(|i| graph.add_node(StepId(i))).collect();
        for link in &method.links {
            graph.add_edge(nodes[link.from.0], nodes[link.to.0], link.least.get());
        }
        let order = toposort(&graph, None).unwrap_or_default();
        Self { graph, order }
    }

    /// The chain that ends last of the steps for which `minutes` gives a
    /// length; others take no part, though what they link stays in order only
    /// through steps that do. No step starts before its `earliest`.
    pub fn longest_chain(
        &self,
        minutes: impl Fn(StepId) -> Option<f64>,
        earliest: impl Fn(StepId) -> f64,
    ) -> Chain {
        let mut best: Vec<Option<(f64, Option<NodeIndex>, f64)>> =
            vec![None; self.graph.node_count()];
        let mut last: Option<NodeIndex> = None;
        for &node in &self.order {
            let Some(own) = minutes(self.graph[node]) else { continue };
            let mut before = (earliest(self.graph[node]), None, 0.0);
            for edge in self.graph.edges_directed(node, Direction::Incoming) {
                if let Some((end, _, _)) = best[edge.source().index()]
                    && end + edge.weight() > before.0
                {
                    before = (end + edge.weight(), Some(edge.source()), *edge.weight());
                }
            }
            let end = before.0 + own;
            best[node.index()] = Some((end, before.1, before.2));
            let latest = last.and_then(|n| best[n.index()]).map_or(0.0, |b| b.0);
            if end > latest {
                last = Some(node);
            }
        }
        let end = last.and_then(|n| best[n.index()]).map_or(0.0, |b| b.0);
        let mut steps = Vec::new();
        let (mut at, mut from) = (last, end);
        while let Some(node) = at {
            let Some((_, before, gap)) = best[node.index()] else { break };
            let own = minutes(self.graph[node]).unwrap_or(0.0);
            steps.push((self.graph[node], own, gap));
            from -= own + gap;
            at = before;
        }
        steps.reverse();
        Chain { from, length: end - from, steps }
    }

    /// For every step, when the longest chain of steps before it has ended, of
    /// those for which `minutes` gives a length; 0 where there is none. No step
    /// starts before its `earliest`.
    pub fn ends_before(
        &self,
        minutes: impl Fn(StepId) -> Option<f64>,
        earliest: impl Fn(StepId) -> f64,
    ) -> Vec<f64> {
        let mut ends: Vec<Option<f64>> = vec![None; self.graph.node_count()];
        let mut before = vec![0.0; self.graph.node_count()];
        for &node in &self.order {
            let mut from = earliest(self.graph[node]);
            for edge in self.graph.edges_directed(node, Direction::Incoming) {
                let other = edge.source().index();
                before[node.index()] = f64::max(
                    before[node.index()],
                    f64::max(before[other], ends[other].unwrap_or(0.0)),
                );
                from = ends[other].map_or(from, |end| from.max(end + edge.weight()));
            }
            ends[node.index()] = minutes(self.graph[node]).map(|own| from + own);
        }
        before
    }

    /// For every step, the length of the longest chain of steps after it, of
    /// those for which `minutes` gives a length.
    pub fn lengths_after(&self, minutes: impl Fn(StepId) -> Option<f64>) -> Vec<f64> {
        let mut from_here: Vec<Option<f64>> = vec![None; self.graph.node_count()];
        let mut after = vec![0.0; self.graph.node_count()];
        for &node in self.order.iter().rev() {
            let mut rest: f64 = 0.0;
            for edge in self.graph.edges_directed(node, Direction::Outgoing) {
                let other = edge.target().index();
                after[node.index()] = f64::max(
                    after[node.index()],
                    f64::max(after[other], from_here[other].unwrap_or(0.0)),
                );
                rest = from_here[other].map_or(rest, |length| rest.max(length + edge.weight()));
            }
            from_here[node.index()] = minutes(self.graph[node]).map(|own| own + rest);
        }
        after
    }

    /// Every step from which `step` can be reached, itself apart.
    pub fn before(&self, step: StepId) -> Vec<StepId> {
        self.reached(step, Direction::Incoming)
    }

    /// Every step that can be reached from `step`, itself apart.
    pub fn after(&self, step: StepId) -> Vec<StepId> {
        self.reached(step, Direction::Outgoing)
    }

    fn reached(&self, step: StepId, direction: Direction) -> Vec<StepId> {
        let mut seen = vec![false; self.graph.node_count()];
        let mut stack = vec![NodeIndex::new(step.0)];
        while let Some(node) = stack.pop() {
            for next in self.graph.neighbors_directed(node, direction) {
                if !std::mem::replace(&mut seen[next.index()], true) {
                    stack.push(next);
                }
            }
        }
        (0..seen.len()).filter(|&i| seen[i]).map(StepId).collect()
    }
}
