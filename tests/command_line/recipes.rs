//! Recipes in and out: written whole or not at all, over nothing but a recipe.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

use ovenbell::file::load_recipe;

const BUNS: &str = r#"{"@context": "https://schema.org", "@type": "Recipe", "name": "Buns",
"recipeYield": "12 buns",
"recipeIngredient": ["100g/4oz flour", "2–3 eggs", "a pinch of salt"],
"recipeInstructions": "Mix.\nBake in a 12-hole bun tray at 180C for 14 minutes."}"#;

struct Place(tempfile::TempDir);

impl Place {
    fn new() -> Self {
        let place = Self(tempfile::tempdir().unwrap());
        fs::write(place.0.path().join("buns.jsonld"), BUNS).unwrap();
        place
    }

    fn at(&self, name: &str) -> String {
        self.0.path().join(name).to_str().unwrap().to_owned()
    }

    fn names(&self) -> Vec<String> {
        let name = |e: std::io::Result<fs::DirEntry>| e.unwrap().file_name().into_string().unwrap();
        let mut names: Vec<String> = fs::read_dir(self.0.path()).unwrap().map(name).collect();
        names.sort();
        names
    }
}

fn ovenbell(args: &[&str]) -> Output {
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
    program.args(args).env("OVENBELL_DATA", nowhere).output().unwrap()
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

#[test]
fn a_recipe_goes_in_and_out_and_in() {
    let place = Place::new();
    let (first, out, again) =
        (place.at("first.ron"), place.at("out.jsonld"), place.at("again.ron"));
    let said = ovenbell(&["recipe-in", &place.at("buns.jsonld"), "--out", &first]);
    assert_eq!(said.status.code(), Some(0), "{}", text(&said.stderr));
    let told = text(&said.stdout);
    assert!(told.starts_with("Buns: 3 ingredients, 2 steps\nto be reviewed:\n"), "{told}");
    assert!(told.contains("  \"2–3 eggs\": 2 to 3: the less is taken\n"), "{told}");
    let said = ovenbell(&["recipe-out", &first, "--out", &out]);
    assert_eq!(said.status.code(), Some(0), "{}", text(&said.stderr));
    assert!(fs::read_to_string(&out).unwrap().contains("\"recipeYield\": \"12 buns\""));
    assert_eq!(ovenbell(&["recipe-in", &out, "--out", &again]).status.code(), Some(0));
    assert_eq!(fs::read(&first).unwrap(), fs::read(&again).unwrap());
    // Over recipes they are written again, and what was there is kept.
    assert_eq!(ovenbell(&["recipe-in", &out, "--out", &first]).status.code(), Some(0));
    assert_eq!(ovenbell(&["recipe-out", &again, "--out", &out]).status.code(), Some(0));
    let names =
        ["again.ron", "buns.jsonld", "first.ron", "first.ron.bak", "out.jsonld", "out.jsonld.bak"];
    assert_eq!(place.names(), names);
    let recipe = load_recipe(Path::new(&first)).unwrap();
    assert_eq!(recipe.tins[0].tin, "12-hole bun tray");
}

#[test]
fn what_was_read_is_told_as_json_and_written_nowhere() {
    let place = Place::new();
    let said = ovenbell(&["recipe-in", &place.at("buns.jsonld"), "--json"]);
    let told: serde_json::Value = serde_json::from_slice(&said.stdout).unwrap();
    assert_eq!(told["ingredients"][0]["amount"], 100.0);
    assert_eq!(told["ingredients"][2]["amount"], serde_json::Value::Null);
    assert_eq!(told["steps"][1]["kind"], "Bake");
    assert_eq!(told["tins"][0]["celsius"], 180.0);
    assert_eq!(told["out"], serde_json::Value::Null);
    assert_eq!(place.names(), ["buns.jsonld"]);
}

#[test]
fn one_recipe_of_a_lesson_is_asked_for() {
    let place = Place::new();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let (demo, out) = (demo.to_str().unwrap(), place.at("out.jsonld"));
    let said = ovenbell(&["recipe-out", demo, "--out", &out]);
    assert_eq!(said.status.code(), Some(2));
    assert!(text(&said.stderr).contains("--recipe NAME"), "{}", text(&said.stderr));
    let said = ovenbell(&["recipe-out", demo, "--recipe", "none", "--out", &out]);
    assert!(text(&said.stderr).contains("there are:"), "{}", text(&said.stderr));
    let lesson = ovenbell::file::load_lesson(Path::new(demo)).unwrap();
    let name = &lesson.file.recipes[0].name;
    assert!(lesson.file.recipes.len() > 1);
    let said = ovenbell(&["recipe-out", demo, "--recipe", name, "--out", &out]);
    assert_eq!(said.status.code(), Some(0), "{}", text(&said.stderr));
    let read = ovenbell::interchange::load(Path::new(&out), None).unwrap();
    assert_eq!(read.recipe, lesson.file.recipes[0]);
}

#[test]
fn nothing_is_written_over_what_is_no_recipe_or_half() {
    let place = Place::new();
    let buns = place.at("buns.jsonld");
    fs::create_dir(place.at("folder")).unwrap();
    fs::write(place.at("letter.txt"), "Dear all").unwrap();
    let lesson = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    fs::copy(lesson, place.at("lesson.ron")).unwrap();
    let before = place.names();
    let mut refused = vec![
        (buns.clone(), "is read by the command"),
        (place.at("letter.txt"), "is no recipe"),
        (place.at("lesson.ron"), "is no recipe"),
        (place.at("folder"), "folder"),
        (place.at("nowhere/buns.ron"), "not there"),
    ];
    if cfg!(unix) {
        refused.push(("/dev/full".to_owned(), "device"));
    }
    for (to, why) in refused {
        for args in [["recipe-in", &buns, "--out", &to], ["recipe-out", &buns, "--out", &to]] {
            let said = ovenbell(&args);
            assert_eq!(said.status.code(), Some(2), "{to}");
            let is_told = text(&said.stderr).contains(why) || args[0] == "recipe-out";
            assert!(is_told && !said.stderr.is_empty(), "{to}: {}", text(&said.stderr));
        }
    }
    assert_eq!(place.names(), before);
    assert_eq!(fs::read_to_string(place.at("letter.txt")).unwrap(), "Dear all");
    assert_eq!(fs::read_to_string(&buns).unwrap(), BUNS);
}

/// No file may grow: the disk is full as far as the program sees.
#[cfg(unix)]
#[test]
fn a_disk_that_takes_no_more_leaves_what_was_there() {
    let place = Place::new();
    let (buns, out) = (place.at("buns.jsonld"), place.at("buns.ron"));
    let said = ovenbell(&["recipe-in", &buns, "--out", &out]);
    assert_eq!(said.status.code(), Some(0), "{}", text(&said.stderr));
    let (before, names) = (fs::read(&out).unwrap(), place.names());
    let full = "trap '' XFSZ; ulimit -f 0; exec \"$@\"";
    let program = env!("CARGO_BIN_EXE_ovenbell");
    let args = ["-c", full, "sh", program, "recipe-in", &buns, "--out", &out];
    let said = Command::new("sh").args(args).output().unwrap();
    assert_eq!(said.status.code(), Some(2), "{}", text(&said.stderr));
    assert!(text(&said.stderr).contains("could not be written"), "{}", text(&said.stderr));
    assert_eq!(fs::read(&out).unwrap(), before);
    assert_eq!(place.names(), names);
}

#[test]
fn files_that_are_too_large_or_no_recipe_are_told() {
    let place = Place::new();
    let large = fs::File::create(place.at("large.html")).unwrap();
    large.set_len(50_000_001).unwrap();
    let five: Vec<String> = (1..=5).map(|n| BUNS.replace("Buns", &format!("Buns {n}"))).collect();
    fs::write(place.at("five.json"), format!("[{}]", five.join(","))).unwrap();
    fs::write(place.at("page.html"), "<html><p>Buns").unwrap();
    fs::write(place.at("latin.html"), b"<html>\xfc").unwrap();
    for (file, code) in [
        ("large.html", "[too-large]"),
        ("five.json", "[several-recipes]"),
        ("page.html", "[no-json-ld]"),
        ("latin.html", "[not-utf8]"),
        ("none.html", "[unreadable]"),
    ] {
        let said = ovenbell(&["recipe-in", &place.at(file), "--out", &place.at("out.ron")]);
        assert_eq!(said.status.code(), Some(2), "{file}");
        assert!(text(&said.stderr).contains(code), "{file}: {}", text(&said.stderr));
        assert!(!Path::new(&place.at("out.ron")).exists());
    }
}

#[test]
fn nutrition_is_told_of_every_recipe_with_its_source() {
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let demo = demo.to_str().unwrap();
    let said = ovenbell(&["nutrition", demo]);
    assert_eq!(said.status.code(), Some(0), "{}", text(&said.stderr));
    assert!(text(&said.stdout).contains("Open Government Licence v3.0"));
    let recipes = ovenbell::file::load_lesson(Path::new(demo)).unwrap().file.recipes;
    let name = &recipes[0].name;
    let args = ["nutrition", demo, "--recipe", name, "--portions", "12", "--loss", "9.5", "--json"];
    let told: serde_json::Value = serde_json::from_slice(&ovenbell(&args).stdout).unwrap();
    let of = &told["recipes"][0];
    assert_eq!((&of["loss_percent"], &of["portions"]), (&9.5.into(), &12.0.into()));
    let kcal = &of["nutrients"][1];
    let per = |field: &str| kcal[field].as_f64().unwrap();
    assert!((per("batch") / 12.0 - per("per_portion")).abs() < 0.01);
    let baked = of["baked_g"].as_f64().unwrap();
    assert!((per("batch") / baked * 100.0 - per("per_100_g")).abs() < 0.01);
    for bad in [["--portions", "0"], ["--loss", "-1"], ["--loss", "NaN"], ["--recipe", "none"]] {
        let said = ovenbell(&[&["nutrition", demo], &bad[..]].concat());
        assert_eq!(said.status.code(), Some(2), "{bad:?}");
        assert!(said.stdout.is_empty());
    }
}
