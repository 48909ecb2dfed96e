//! Calls: loads that are planned within the minutes of one call.

use super::network::{Network, Work};

/// A call.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Call {
    /// Its loads, as nodes of the network.
    pub(super) loads: Vec<usize>,
    /// When it is over as planned.
    pub(super) until: f64,
}

/// Loads by the call in which they are planned: the next call begins with the
/// first load that the one before does not cover.
pub(super) fn calls(network: &Network<'_>) -> Vec<Call> {
    let lasts = f64::from(network.lesson().rules.call.value.get()).max(1.0);
    let mut calls: Vec<Call> = Vec::new();
    for (i, node) in network.nodes.iter().enumerate().filter(|(_, n)| n.work == Work::Load) {
        match calls.last_mut() {
            Some(call) if node.start < call.until => call.loads.push(i),
            _ => calls.push(Call { loads: vec![i], until: node.start + lasts }),
        }
    }
    calls
}
