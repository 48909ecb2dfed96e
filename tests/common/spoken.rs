//! What tests of the window look at: lessons, and what a screen reader is
//! told.

use std::cell::RefCell;
use std::path::{Path, PathBuf};

use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{App, Start};
use tempfile::TempDir;

thread_local! {
    /// Folders of this test, gone when it ends.
    static FOLDERS: RefCell<Vec<TempDir>> = const { RefCell::new(Vec::new()) };
}

/// A lesson of the project, in a folder of its own: a window holds its file.
#[allow(dead_code)] // not every test wants it
pub fn lesson(name: &str) -> PathBuf {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join(name);
    let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    std::fs::copy(from, &path).unwrap();
    FOLDERS.with_borrow_mut(|folders| folders.push(folder));
    path
}

/// How a window is started whose test is about something else than how good its plans
/// are.
#[allow(dead_code)] // not every test wants it
pub fn quick() -> Start {
    Start { decodings: Some(super::how_many::FEW_PLANS), ..Start::default() }
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
