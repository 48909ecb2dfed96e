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
    for file in [
        "lesson.rs",
        "room.rs",
        "recipe.rs",
        "entries.rs",
        "today.rs",
        "pointer.rs",
        "together.rs",
        "teacher.rs",
    ] {
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
fn the_week_page_names_every_field_and_every_finding() {
    let page = page("assets/week.md");
    let names = |of: &str, name: &str| {
        assert!(page.contains(&format!("`{name}`")), "{name} of {of} is not named");
    };
    let shapes = source("file/format/week.rs");
    let fields = shapes.lines().filter_map(|l| l.trim().strip_prefix("pub "));
    let fields: Vec<&str> = fields.filter_map(|l| l.strip_suffix(',')?.split(':').next()).collect();
    assert!(fields.len() > 30, "only {} fields were found", fields.len());
    fields.iter().for_each(|name| names("the shapes", name));
    for file in ["week/understand.rs", "week/entries.rs", "file/week.rs"] {
        let source = source(file);
        let quoted = source.split('"').skip(1).step_by(2);
        let is_code = |text: &&str| {
            text.contains('-') && text.chars().all(|c| c.is_ascii_lowercase() || c == '-')
        };
        quoted.filter(is_code).for_each(|code| names(file, code));
    }
}

#[test]
fn the_problem_page_names_every_field() {
    let page = page("assets/problem.md");
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/export");
    let source = fs::read_to_string(source.join("problem_json.rs")).unwrap();
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

fn source(name: &str) -> String {
    page(&format!("src/{name}"))
}

/// The part of a page under the heading of a command.
fn section<'a>(page: &'a str, command: &str) -> &'a str {
    let heading = format!("`{command}`\n");
    page.split("\n## ").find(|part| part.starts_with(&heading)).unwrap()
}

/// Names under which the fields of a file's `Serialize` shapes are written.
fn serialized_fields(source: &str) -> Vec<&str> {
    let mut fields = Vec::new();
    let mut serialized = false;
    let mut renamed: Option<&str> = None;
    for line in source.lines().map(str::trim) {
        if line.starts_with("#[derive(") {
            serialized = line.contains("Serialize");
        } else if line.starts_with('}') {
            serialized = false;
        } else if let Some(rest) = line.strip_prefix("#[serde(rename = \"") {
            renamed = rest.split('"').next();
        } else if serialized && line.ends_with(',') && !line.starts_with("//") {
            let name = line.split(':').next().unwrap();
            let name = name.strip_prefix("pub ").unwrap_or(name);
            let name = name.strip_prefix("r#").unwrap_or(name);
            fields.push(renamed.take().unwrap_or(name));
        }
    }
    fields
}

/// Keys of the objects that a file puts together with `json!`.
fn json_keys(source: &str) -> Vec<&str> {
    let mut keys = Vec::new();
    let mut name = "";
    for part in source.split('"') {
        let is_name = name.chars().all(|c| c.is_ascii_lowercase() || c == '_');
        if part.starts_with(": ") && is_name && !name.is_empty() {
            keys.push(name);
        }
        name = part;
    }
    keys
}

#[test]
fn the_json_page_names_every_field() {
    let page = page("assets/json.md");
    let shapes = [
        ("plan", "export/json.rs"),
        ("plan", "export/jobs.rs"),
        ("odds", "export/odds.rs"),
        ("odds", "export/better.rs"),
        ("rehearse", "export/rehearsal.rs"),
        ("week", "export/week.rs"),
        ("why", "export/why.rs"),
        ("changes", "export/changes.rs"),
        ("today", "export/today.rs"),
        ("today", "export/standing.rs"),
        ("tins", "export/tins.rs"),
        ("order", "export/order.rs"),
        ("afterwards", "export/afterwards.rs"),
        ("recipe-in", "interchange/told.rs"),
        ("nutrition", "nutrition/told.rs"),
    ];
    let objects = [
        ("check", "cli/mod.rs"),
        ("check", "cli/check.rs"),
        ("convert", "cli/convert.rs"),
        ("sheets", "cli/sheets.rs"),
    ];
    let mut fields = 0;
    let mut wanted = |command: &str, name: &str| {
        fields += 1;
        let described = section(&page, command).contains(&format!("`{name}`"));
        assert!(described, "{name} of {command} is not named");
    };
    for (command, file) in shapes {
        let source = source(file);
        for name in serialized_fields(&source) {
            wanted(command, name);
        }
    }
    for (command, file) in objects {
        let source = source(file);
        for name in json_keys(&source) {
            wanted(command, name);
        }
    }
    assert!(fields > 180, "only {fields} fields were found");
}

#[test]
fn the_json_page_names_every_fixed_name() {
    let page = page("assets/json.md");
    let mut names = 0;
    for file in [
        "plan/rule.rs",
        "plan/why.rs",
        "check/outcome.rs",
        "model/change_kind.rs",
        "export/changes.rs",
    ] {
        for line in source(file).lines().filter_map(|l| l.trim().strip_suffix("\",")) {
            if let Some((_, name)) = line.split_once(" => \"") {
                names += 1;
                assert!(page.contains(&format!("`{name}`")), "{name} of {file} is not named");
            }
        }
    }
    assert!(names > 50, "only {names} names were found");
}

#[test]
fn the_json_page_names_every_finding_of_the_broken_files() {
    let page = page("assets/json.md");
    let check = section(&page, "check");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/cases/broken");
    let mut findings = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let lesson = fs::read_to_string(entry.unwrap().path()).unwrap();
        for expected in lesson.lines().filter_map(|l| l.strip_prefix("// expect: ")) {
            findings += 1;
            let code = expected.split_whitespace().nth(1).unwrap();
            assert!(check.contains(&format!("`{code}`")), "{code} is not named");
        }
    }
    assert!(findings > 100, "only {findings} findings are expected");
}
