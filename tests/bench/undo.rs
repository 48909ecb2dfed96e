//! What changes that can be undone cost: the memory of this process after ten
//! thousand of them, and the time of a change and of taking one back.
//!
//! `cargo bench --bench undo`

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::sync::Arc;
use std::time::Instant;

use memory::resident_mb;
use ovenbell::session::{Document, DocumentId};
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;

#[path = "../common/edits.rs"]
mod edits;
#[path = "../common/memory.rs"]
mod memory;

const CHANGES: u32 = 10_000;
const TEXT: &str = include_str!("../../lessons/a-scones-hour.ron");

fn main() {
    let mut rng = Pcg64Mcg::seed_from_u64(5);
    let mut doc = Document::read(TEXT, None, DocumentId::default(), Arc::from([])).unwrap();
    let before = resident_mb();
    let begun = Instant::now();
    let mut made = 0;
    while made < CHANGES {
        let was = doc.revision();
        // What a lesson refuses changes nothing.
        let _ = doc.apply(&edits::random(&mut rng, doc.file()));
        made += u32::from(doc.revision() != was);
    }
    let (changing, after) = (begun.elapsed(), resident_mb());
    let begun = Instant::now();
    while doc.can_undo().is_some() {
        doc.undo();
    }
    let undoing = begun.elapsed();
    println!(
        "{CHANGES} changes: {:?} each, taken back in {:?} each",
        changing / CHANGES,
        undoing / CHANGES
    );
    match (before, after) {
        (Some(before), Some(after)) => println!("{:.1} MB more", after - before),
        _ => println!("this system does not tell how much memory is used"),
    }
}
