//! What the pages promise holds.

use std::fs;
use std::path::Path;

use ovenbell::file::read_lesson;

fn page(name: &str) -> String {
    fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(name)).unwrap()
}

#[test]
fn the_readme_lesson_is_a_lesson() {
    let readme = page("README.md");
    let lesson = readme.split("```ron\n").nth(1).unwrap().split("```").next().unwrap();
    let loaded = read_lesson(lesson).unwrap();
    assert!(loaded.warnings.is_empty());
    assert_eq!(loaded.lesson.groups.len(), 10);
    assert!(lesson.lines().count() < 20, "the README promises a short one");
}

#[test]
fn the_format_page_names_every_field() {
    let format = page("assets/format.md");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/file/format");
    let mut fields = 0;
    for file in ["lesson.rs", "room.rs", "recipe.rs", "entries.rs", "today.rs"] {
        let source = fs::read_to_string(folder.join(file)).unwrap();
        for line in source.lines() {
            let line = line.trim();
            let name = line.strip_prefix("pub ").unwrap_or(line).split(':').next().unwrap();
            let is_field = line.starts_with("pub ")
                && line.ends_with(',')
                && name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
            if is_field {
                fields += 1;
                let named = [format!("`{name}`"), format!("{name}:"), format!("`{name}:")];
                assert!(named.iter().any(|n| format.contains(n)), "{name} of {file} is not named");
            }
        }
    }
    assert!(fields > 80, "only {fields} fields were found");
}

#[test]
fn the_problem_page_names_every_field() {
    let page = page("assets/problem.md");
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/export");
    let source = fs::read_to_string(source.join("problem_shapes.rs")).unwrap();
    let mut fields = 0;
    for line in source.lines().filter_map(|l| l.trim().strip_prefix("pub ")) {
        let name = line.split(':').next().unwrap();
        // What a need says stands in a hold too, without a name of its own.
        if name != "need" {
            fields += 1;
            assert!(page.contains(&format!("`{name}`")), "{name} is not named");
        }
    }
    assert!(fields > 60, "only {fields} fields were found");
}
