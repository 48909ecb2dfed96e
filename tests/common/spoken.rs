//! What tests of the window look at: lessons, and what a screen reader is
//! told.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::App;

/// A copy of a lesson of the project, in a folder of its own: a window holds
/// the file it has open, and keeps copies beside it.
pub fn lesson(name: &str) -> PathBuf {
    static COPIES: AtomicUsize = AtomicUsize::new(0);
    let copy = COPIES.fetch_add(1, Ordering::Relaxed);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let folder = folder.join(format!("lessons-{}-{copy}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    std::fs::copy(from, folder.join(name)).unwrap();
    folder.join(name)
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
