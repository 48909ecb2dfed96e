//! Ten thousand changes, taken back to the first: the lesson is as it was.

use std::sync::Arc;

use ovenbell::file::format::LessonFile;
use ovenbell::session::{Document, DocumentId, Edit};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

const CHANGES: usize = 10_000;
const TEXT: &str = include_str!("../../lessons/a-scones-hour.ron");
/// Changes made again at the end.
const AGAIN: usize = 500;

/// Memory of this process, in MB, where the system tells.
fn memory() -> Option<f64> {
    let text = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = text.lines().find(|l| l.starts_with("VmRSS:"))?;
    let kb: f64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kb / 1000.0)
}

fn edit(rng: &mut Pcg64Mcg, file: &LessonFile) -> Edit {
    let group = &file.groups[rng.random_range(0..file.groups.len())];
    let name = match group.count {
        None => group.name.clone(),
        Some(n) => format!("{} {}", group.name, rng.random_range(1..=n)),
    };
    let recipe = file.recipes.iter().find(|r| r.name == group.recipe).unwrap();
    match rng.random_range(0..6) {
        0 | 1 => Edit::Pupils { group: name, pupils: rng.random_range(1..5) },
        2 => Edit::LeftOut { group: name, out: rng.random_bool(0.3) },
        3 => {
            let tin = &recipe.tins[rng.random_range(0..recipe.tins.len())];
            Edit::Tin { group: name, label: tin.label.clone().unwrap_or(tin.tin.clone()) }
        }
        4 => {
            let method = &recipe.methods[rng.random_range(0..recipe.methods.len())];
            Edit::Method { group: name, method: method.name.clone() }
        }
        _ => Edit::OvenOut {
            oven: format!("Oven {}", rng.random_range(1..=5)),
            out: rng.random_bool(0.3),
        },
    }
}

#[test]
fn ten_thousand_changes_are_taken_back_to_the_start() {
    let mut rng = Pcg64Mcg::seed_from_u64(5);
    let mut doc = Document::read(TEXT, None, DocumentId::default(), Arc::from([])).unwrap();
    let original = doc.file().clone();
    let before = memory();
    let (mut made, mut refused) = (0, 0);
    while made < CHANGES {
        let was = doc.revision();
        if doc.apply(&edit(&mut rng, doc.file())).is_err() {
            refused += 1;
            assert!(refused < CHANGES, "{made} made, {refused} refused");
        }
        made += usize::from(doc.revision() != was);
    }
    if let (Some(before), Some(after)) = (before, memory()) {
        println!("{CHANGES} changes: {:.1} MB more", after - before);
        assert!(after - before < 200.0, "{:.1} MB more", after - before);
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
