//! Ten thousand changes, taken back to the first: the lesson is as it was.

use std::sync::Arc;

use crate::common::edits;
use ovenbell::session::{Document, DocumentId};
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;

const CHANGES: usize = 10_000;
const TEXT: &str = include_str!("../../lessons/a-scones-hour.ron");
/// Changes made again at the end.
const AGAIN: usize = 500;

#[test]
fn ten_thousand_changes_are_taken_back_to_the_start() {
    let mut rng = Pcg64Mcg::seed_from_u64(5);
    let mut doc = Document::read(TEXT, None, DocumentId::default(), Arc::from([])).unwrap();
    let original = doc.file().clone();
    let (mut made, mut refused) = (0, 0);
    while made < CHANGES {
        let was = doc.revision();
        if doc.apply(&edits::random(&mut rng, doc.file())).is_err() {
            refused += 1;
            assert!(refused < CHANGES, "{made} made, {refused} refused");
        }
        made += usize::from(doc.revision() != was);
    }
    let mut later = None;
    for number in (0..CHANGES).rev() {
        doc.undo();
        if number == AGAIN {
            later = Some(doc.file().clone());
        }
    }
    assert!(doc.can_undo().is_none());
    assert_eq!(*doc.file(), original);
    for _ in 0..AGAIN {
        doc.redo();
    }
    assert_eq!(Some(doc.file()), later.as_ref());
}
