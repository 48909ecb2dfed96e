//! Moments of a plan at which looking may pay: a group's first step done, its
//! tins filled, its tins in the oven.

use super::network::{Network, Order, Work};

/// What is done at such a moment.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// The first step by hand.
    First,
    /// What comes before loading.
    Filled,
    /// Loading.
    Loaded,
}

/// A mark of a group: by its position in the network, and the node that ends
/// there.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct GroupMark {
    pub(super) group: usize,
    pub(super) mark: Mark,
    pub(super) node: usize,
}

/// The marks of every group that is played; a node has one at most.
pub(super) fn marks(network: &Network<'_>) -> Vec<GroupMark> {
    let mut found: Vec<GroupMark> = Vec::new();
    for (group, played) in network.groups.iter().enumerate() {
        let mut add = |mark, node: Option<usize>| {
            if let Some(node) = node.filter(|n| !found.iter().any(|m| m.node == *n)) {
                found.push(GroupMark { group, mark, node });
            }
        };
        let of =
            |work| played.nodes.iter().copied().filter(move |&n| network.nodes[n].work == work);
        let sooner = |&a: &usize, &b: &usize| network.nodes[a].end.total_cmp(&network.nodes[b].end);
        let load = of(Work::Load).next();
        let before = network.waits.iter().filter(|w| Some(w.to) == load && w.order == Order::Link);
        add(Mark::Loaded, load);
        add(Mark::Filled, before.map(|w| w.from).max_by(sooner));
        add(Mark::First, of(Work::Hands).min_by(sooner));
    }
    found
}
