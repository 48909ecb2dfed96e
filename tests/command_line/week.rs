//! `ovenbell week`: a head of department's questions answered by what is printed,
//! and what it refuses.

use std::fs;
use std::path::Path;

use super::answers::{json, lesson, ovenbell, status, text};

const FEW: [&str; 2] = ["--decodings", "50"];

/// The worked week in a folder of its own with some lessons only, by their lines.
fn week_with(lines: &[&str]) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    for name in ["sponge.ron", "buns.ron", "muffins.ron", "scones.ron"] {
        fs::copy(lesson(&format!("week/{name}")), folder.path().join(name)).unwrap();
    }
    let whole = fs::read_to_string(lesson("week/week.ron")).unwrap();
    let is_wanted = |line: &&str| {
        let entry = line.trim_start().starts_with("(file:") || line.contains("(booking:");
        !entry || lines.iter().any(|wanted| line.contains(wanted))
    };
    let some: Vec<&str> = whole.lines().filter(is_wanted).collect();
    let path = folder.path().join("week.ron");
    fs::write(&path, some.join("\n")).unwrap();
    let path = path.to_str().unwrap().to_owned();
    (folder, path)
}

fn words(bytes: &[u8]) -> String {
    text(bytes).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_heads_questions_are_answered() {
    let (_keep, week) =
        week_with(&["on: Thu, at: \"P3\"", "class: \"9C\"", "class: \"8B\", on: Mon"]);
    let ask = |more: &[&str]| ovenbell(&[&["week", &week], more, &FEW].concat());
    // Is period 3 on Thursday possible, when must the technician start, and what is
    // the least move?
    let thursday = ask(&["--day", "thu"]);
    assert_eq!(status(&thursday), 1);
    let said = words(&thursday.stdout);
    assert!(said.contains("10 + 8 = 18 electric whisks wanted, 10 there"), "{said}");
    assert!(said.contains("1. 9C swaps what it bakes"), "{said}");
    assert!(said.contains("the technician starts by 09:50"), "{said}");
    // What is tightest, and what if oven 4 is out?
    let all = json(&ask(&["--out", "Room 1/Oven 5=2026-12-03", "--json"]));
    assert_eq!(all["is_well"], false);
    assert!(!all["tightest"].as_array().unwrap().is_empty());
    let out = all["out"].as_array().unwrap();
    assert_eq!(out.len(), 2, "{out:?}");
    assert_eq!(out[1]["what"], "Room 1/Oven 5");
    let broken = |n: usize| out[n]["breaks"].as_array().unwrap();
    assert_eq!((broken(0).len(), broken(1).len()), (1, 1), "{out:?}");
    for lesson in all["lessons"].as_array().unwrap() {
        let of = [&broken(0)[0]["entry"], &broken(1)[0]["entry"]];
        assert_eq!(lesson["served"] != lesson["of"], of.contains(&&lesson["entry"]), "{lesson}");
    }
    assert_eq!(all["findings"].as_array().unwrap().len(), 0);
}

#[test]
fn a_week_that_is_well_and_what_is_refused() {
    let (folder, week) = week_with(&["class: \"8A\", on: Mon"]);
    let ask = |more: &[&str]| ovenbell(&[&["week", &week], more, &FEW].concat());
    let well = ask(&["--json"]);
    assert_eq!(status(&well), 0, "{}", text(&well.stdout));
    assert_eq!(json(&well)["is_well"], true);
    for wrong in
        [&["--day", "2026-12-24"][..], &["--out", "Room 1/Oven 9=mon"], &["--out", "Oven 4"]]
    {
        let refused = ask(wrong);
        assert_eq!((status(&refused), refused.stdout.len()), (2, 0), "{wrong:?}");
        assert!(!refused.stderr.is_empty());
    }
    // A lesson is no week, and a week points to no file that is not there.
    let lesson = ovenbell(&["week", &lesson("demo.ron")]);
    assert_eq!(status(&lesson), 2);
    assert!(text(&lesson.stderr).contains("no-week"), "{}", text(&lesson.stderr));
    fs::remove_file(Path::new(folder.path()).join("scones.ron")).unwrap();
    let missing = ask(&["--json"]);
    assert_eq!(status(&missing), 1);
    assert_eq!(json(&missing)["findings"][0]["code"], "pointer");
    assert_eq!(json(&missing)["lessons"][0]["kind"], "unplanned");
}
