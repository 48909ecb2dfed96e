//! What is said of files that are wrong, or ask too much.

use std::path::Path;

use super::{json, lesson, ovenbell, status, text, written};

#[test]
fn what_is_wrong_with_a_file_is_said_with_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let demo = std::fs::read_to_string(lesson("demo.ron")).unwrap();
    let broken = demo.replacen("recipe: \"whisked sponge\"", "recipe: \"wisked sponge\"", 1);
    let line = 1 + broken.lines().position(|l| l.contains("wisked")).unwrap();
    let path = written(&folder, "broken.ron", &broken);
    for command in ["plan", "check"] {
        let output = ovenbell(&[command, &path]);
        assert_eq!(status(&output), 2);
        let said = text(&output.stderr);
        assert!(said.contains(&format!("broken.ron:{line}:")), "{said}");
        assert!(said.contains("whisked sponge"), "no suggestion in {said}");
    }
    let output = ovenbell(&["check", &path, "--json"]);
    assert_eq!(json(&output)["findings"][0]["line"], line);
    assert_eq!(std::fs::read_to_string(&path).unwrap(), broken, "the file was touched");
}

#[test]
fn of_very_many_findings_a_screenful_is_told_and_the_rest_counted() {
    let folder = tempfile::tempdir().unwrap();
    let good = std::fs::read_to_string(lesson("a-scones-hour.ron")).unwrap();
    let slips: String =
        (0..60).map(|n| format!("(name: \"U{n}\", recipe: \"none {n}\"),")).collect();
    let at = good.find("groups: [").unwrap() + "groups: [".len();
    let path = written(&folder, "slips.ron", &format!("{}{slips}{}", &good[..at], &good[at..]));
    let output = ovenbell(&["check", &path]);
    assert_eq!(status(&output), 2);
    let told = text(&output.stderr);
    assert_eq!(told.lines().filter(|l| l.contains("wrong [")).count(), 20, "{told}");
    assert!(told.lines().last().unwrap().contains("more"), "{told}");
    let all = json(&ovenbell(&["check", &path, "--json"]));
    assert!(all["findings"].as_array().unwrap().len() > 20);
}

#[test]
fn demanding_lessons_are_answered_or_refused_with_a_place() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/demanding");
    for (name, wanted) in [
        ("twenty_groups_of_three_recipes.ron", 1),
        ("sixty_groups_of_twenty_recipes.ron", 1),
        ("sixty_tins_in_sixty_ovens.ron", 1),
        ("a_hundred_steps_each.ron", 2),
        ("a_step_of_next_to_no_minutes.ron", 0),
    ] {
        let path = folder.join(name).to_str().unwrap().to_owned();
        let output = ovenbell(&["plan", &path, "--decodings", "20"]);
        assert_eq!(status(&output), wanted, "{name}: {}", text(&output.stderr));
        if wanted == 2 {
            assert!(text(&output.stderr).contains("too-many-ways"), "{}", text(&output.stderr));
        }
    }
}
