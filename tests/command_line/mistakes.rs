//! Mistakes at the keyboard: the wrong file, a word that is no command, a number that is
//! none. Each is told in plain words, with what there is instead.

use std::fs;
use std::path::Path;

use super::answers::{lesson, ovenbell, status, text, written};

/// What is told of a mistake, which is no answer.
fn told(args: &[&str]) -> String {
    let out = ovenbell(args);
    assert_eq!((status(&out), text(&out.stdout)), (2, String::new()), "{args:?}");
    text(&out.stderr)
}

/// A file with a text in a folder of its own.
fn file(name: &str, of: &str) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let path = written(&folder, name, of);
    (folder, path)
}

#[test]
fn a_file_given_to_the_wrong_command_is_called_by_its_name() {
    let week = lesson("week/week.ron");
    for command in ["plan", "why", "check", "tins", "changes", "today", "odds", "nutrition"] {
        let told = told(&[command, &week]);
        assert!(told.contains("this is a department's week, not a lesson"), "{command}: {told}");
        assert!(told.contains("use `ovenbell week`"), "{command}: {told}");
        assert!(!told.contains("possible are"), "{command}: {told}");
    }
    let recipe =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/library/recipes/tower-scones.ron");
    let recipe = recipe.to_str().unwrap();
    assert!(told(&["plan", recipe]).contains("a recipe by itself, not a lesson"));
    assert_eq!(status(&ovenbell(&["tins", recipe])), 0, "here it is taken");
    let a_lesson = lesson("a-scones-hour.ron");
    assert!(told(&["week", &a_lesson]).contains("this is a lesson, not a week"));
    assert!(told(&["check", &a_lesson, "--plan", &a_lesson]).contains("a lesson, not a plan"));

    let (_keep, plan) = file("plan.ron", "");
    fs::remove_file(&plan).unwrap();
    let saved = ovenbell(&["plan", &a_lesson, "--decodings", "50", "--save", &plan]);
    assert_eq!(status(&saved), 0, "{}", text(&saved.stderr));
    let of_plan = told(&["plan", &plan]);
    assert!(of_plan.contains("this is a plan of a lesson, not a lesson"), "{of_plan}");
    assert!(of_plan.contains("--plan"), "{of_plan}");
}

#[test]
fn a_broken_lesson_given_as_a_week_asks_for_no_newer_program() {
    let whole = fs::read_to_string(lesson("a-scones-hour.ron")).unwrap();
    let (_keep, path) = file("broken.ron", &whole[..whole.len() / 2]);
    let told = told(&["week", &path]);
    assert!(told.contains("this is a lesson, not a week"), "{told}");
    assert!(!told.contains("newer"), "{told}");
}

#[test]
fn a_broken_lesson_of_a_week_is_told_with_its_own_first_finding() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["week.ron", "sponge.ron", "buns.ron", "muffins.ron", "scones.ron", "lemon.ron"] {
        let text = fs::read_to_string(lesson(&format!("week/{name}"))).unwrap();
        let broken = text.replacen("recipe: \"Tower", "recipe: \"Towel", 1);
        fs::write(folder.path().join(name), broken).unwrap();
    }
    let week = folder.path().join("week.ron");
    let args = ["week", week.to_str().unwrap(), "--day", "mon", "--decodings", "5"];
    let told = text(&ovenbell(&args).stderr);
    let scones = folder.path().join("scones.ron");
    let own = text(&ovenbell(&["check", scones.to_str().unwrap()]).stderr);
    let place = own.split("scones.ron:").nth(1).unwrap_or_else(|| panic!("{own}"));
    let (line, column) = place.split_once(':').unwrap();
    let place = format!("line {line}, column {}", column.split(':').next().unwrap());
    assert!(told.contains(&place), "{place}: {told}");
    assert!(told.contains("did you mean \"Tower scones\"?"), "{told}");
}

#[test]
fn an_empty_file_is_told_to_be_empty() {
    for of in ["", "\n \n", "\u{feff}"] {
        let (_keep, path) = file("empty.ron", of);
        for command in ["plan", "week", "tins"] {
            let told = told(&[command, &path]);
            assert!(told.contains("the file is empty"), "{command}: {told}");
            assert!(!told.contains("bracket"), "{command}: {told}");
        }
    }
}

#[test]
fn a_word_that_is_no_command_is_told_with_the_one_meant() {
    let demo = lesson("demo.ron");
    for args in [&["palan", &demo][..], &["palan", &demo, "--decodings", "5"], &["palan"]] {
        let told = told(args);
        assert!(told.contains("no command \"palan\": did you mean \"plan\"?"), "{told}");
        assert!(!told.contains("cannot be used"), "{told}");
    }
    let told = told(&["xyzzy", &demo]);
    assert!(told.contains("no command \"xyzzy\": there are: "), "{told}");
}

#[test]
fn a_number_that_is_none_is_told_with_what_is_wanted() {
    let demo = lesson("demo.ron");
    for (args, wanted) in [
        (&["today", &demo, "--late", "-4"][..], "minutes are a whole number from 1 to 479"),
        (&["today", &demo, "--late", "abc"], "minutes are a whole number from 1 to 479"),
        (&["plan", &demo, "--decodings", "-4"], "plans are a whole number of 1 or more"),
        (&["plan", &demo, "--within", "-4"], "seconds are a number of 0 or more"),
        (&["plan", &demo, "--seed", "x"], "a whole number of 0 or more"),
        (&["odds", &demo, "--at", "soon"], "minutes after the bell are a whole number"),
        (&["order", &demo, "--spare", "-1"], "sets are a whole number from 0 to 99"),
        (&["took", &demo, "--recipe", "x", "--tin", "y", "--minutes", "-3"], "minutes"),
        (&["convert", "1 cup", "--density", "x"], "a density is a number, such as 0.85"),
    ] {
        let told = told(args);
        assert!(told.contains(wanted), "{args:?}: {told}");
        for unhelpful in ["'-- ", "invalid digit", "invalid float", "unexpected"] {
            assert!(!told.contains(unhelpful), "{args:?}: {told}");
        }
    }
}

#[test]
fn a_missing_file_is_told_with_a_space_after_its_name() {
    let told = told(&["plan", "no-such.ron"]);
    assert!(told.starts_with("no-such.ron: wrong [unreadable]"), "{told}");
}

#[test]
fn the_help_of_tins_demands_nothing_that_may_be_left_out() {
    let out = ovenbell(&["tins", "--help"]);
    let help = text(&out.stdout);
    assert!(help.contains("Usage: ovenbell tins [OPTIONS] [FILE]\n"), "{help}");
    assert_eq!(help.matches("--own-ml <ML>").count(), 2, "told once in all and once for itself");
}

#[test]
fn an_oven_that_is_not_there_is_not_noted() {
    let (_keep, table) = file("bakes.csv", "");
    fs::remove_file(&table).unwrap();
    let demo = lesson("demo.ron");
    let took = |oven: &str| {
        let bake = ["took", &demo, "--recipe", "lemon bake", "--tin", "12 buns", "--minutes", "15"];
        ovenbell(&[&bake[..], &["--oven", oven, "--outcomes", &table]].concat())
    };
    let refused = took("Oven 77");
    assert_eq!(status(&refused), 2);
    let told = text(&refused.stderr);
    assert!(told.contains("no oven \"Oven 77\"") && told.contains("Oven 2"), "{told}");
    assert!(!Path::new(&table).exists(), "nothing is noted");
    assert_eq!(status(&took("oven 2")), 0);
    let noted = fs::read_to_string(&table).unwrap();
    assert!(noted.contains(",Oven 2,"), "as the lesson writes it: {noted}");
}

#[test]
fn a_language_without_second_lines_is_no_success() {
    let folder = tempfile::tempdir().unwrap();
    let plain = fs::read_to_string(lesson("a-scones-hour.ron")).unwrap();
    let path = written(&folder, "lesson.ron", &plain);
    let pdf = folder.path().join("sheets.pdf");
    let args = ["sheets", &path, "--pdf", pdf.to_str().unwrap(), "--decodings", "50"];
    let usual = ovenbell(&args);
    assert_eq!(status(&usual), 0, "{}", text(&usual.stderr));
    let out = ovenbell(&[&args[..], &["--home", "xx"]].concat());
    let told = text(&out.stderr);
    assert_eq!(status(&out), 1, "{told}");
    assert!(told.contains("no step has a second line in xx"), "{told}");
}

#[test]
fn a_minute_that_no_lesson_has_is_told_with_those_it_has() {
    let demo = lesson("demo.ron");
    let few = ["--runs", "20", "--decodings", "50"];
    let ask = |at: &str| ovenbell(&[&["odds", &demo, "--at", at], &few[..]].concat());
    for at in ["500", "-400"] {
        let refused = ask(at);
        assert_eq!((status(&refused), text(&refused.stdout)), (2, String::new()), "{at}");
        let told = text(&refused.stderr);
        assert!(told.contains(&format!("minute {at} is not one of the lesson's")), "{told}");
        assert!(told.contains("to 65"), "{told}");
    }
    let within = ask("65");
    assert_eq!(status(&within), 0, "{}", text(&within.stderr));
}
