//! What may not wait long is not begun too soon.
//!
//! Hands keep no timetable but ovens do, so a mixture that was made as early as
//! could be would stand until its oven is called. Pupils are therefore held
//! back where a longest gap follows: their step may begin once it cannot wait
//! too long, were the later step to begin as planned.

use super::network::{Network, Order, Work};

/// Raises the earliest starts of steps before a longest gap.
pub(super) fn hold_back(network: &Network<'_>, quick: &[f64], starts: &mut [f64]) {
    for gap in &network.gaps {
        if let Ok(from) = gap.from {
            hold(network, quick, from, network.nodes[gap.to].start - gap.longest, starts);
        }
    }
}

/// Holds a node back so that it ends no sooner than `end`. What goes by itself
/// is held back by what it follows.
fn hold(network: &Network<'_>, quick: &[f64], node: usize, end: f64, starts: &mut [f64]) {
    let end = end.min(network.nodes[node].end);
    match network.nodes[node].work {
        Work::Hands => starts[node] = starts[node].max(end - quick[node]),
        Work::Alone => {
            let before = network.waits.iter().filter(|w| w.to == node && w.order == Order::Link);
            let last = before.max_by(|a, b| {
                let end = |w: &super::network::Wait| network.nodes[w.from].end + w.lag;
                end(a).total_cmp(&end(b))
            });
            if let Some(wait) = last {
                hold(network, quick, wait.from, end - quick[node] - wait.lag, starts);
            }
        }
        Work::Load | Work::TakeOut | Work::Class => {}
    }
}
