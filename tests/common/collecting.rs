//! A lesson whose bakes are collected.

use std::path::Path;

use ovenbell::file::read_lesson;
use ovenbell::model::Lesson;

/// The sample lesson, where cooling and boxing are done after the bell.
pub fn collecting() -> Lesson {
    with("    groups: [", |groups, collected| format!("    {collected}\n{groups}"))
}

/// The same, for its first group alone.
pub fn one_collects() -> Lesson {
    with("(name: \"Unit 1\",", |unit, collected| format!("{unit} {collected}"))
}

fn with(before: &str, collected: impl Fn(&str, &str) -> String) -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut text = std::fs::read_to_string(path).unwrap();
    for (step, times) in [("cool", 3), ("box and label", 3)] {
        let name = format!("(name: \"{step}\",");
        assert_eq!(text.matches(&name).count(), times);
        text = text.replace(&name, &format!("{name} may_be_collected: true,"));
    }
    assert_eq!(text.matches(before).count(), 1);
    let after = collected(before, "collected: [\"cool\", \"box and label\"],");
    read_lesson(&text.replacen(before, &after, 1)).unwrap().lesson
}
