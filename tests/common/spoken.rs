//! What tests of the window look at: lessons, and what a screen reader is
//! told.

use std::path::{Path, PathBuf};

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::App;

/// A lesson of the project.
pub fn lesson(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name)
}

/// Labels of everything a screen reader can reach.
pub fn spoken(harness: &Harness<'static, App>) -> Vec<String> {
    harness
        .root()
        .query_all_by(|_| true)
        .filter_map(|node| {
            let node = node.accesskit_node();
            // Plain text is a value, what can be acted on has a label.
            node.label().or_else(|| node.value())
        })
        .collect()
}

/// Whether it is told something of which this is a part.
pub fn says(harness: &Harness<'static, App>, part: &str) -> bool {
    spoken(harness).iter().any(|label| label.contains(part))
}
