//! A lesson whose bakes are collected.

use std::path::Path;

use ovenbell::file::read_lesson;
use ovenbell::model::Lesson;

/// The sample lesson, where cooling and boxing are done after the bell.
pub fn collecting() -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut text = std::fs::read_to_string(path).unwrap();
    for (step, times) in [("cool", 3), ("box and label", 3)] {
        let name = format!("(name: \"{step}\",");
        assert_eq!(text.matches(&name).count(), times);
        text = text.replace(&name, &format!("{name} may_be_collected: true,"));
    }
    let groups = "    groups: [";
    assert!(text.contains(groups));
    let collected = format!("    collected: [\"cool\", \"box and label\"],\n{groups}");
    read_lesson(&text.replacen(groups, &collected, 1)).unwrap().lesson
}
