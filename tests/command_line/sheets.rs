//! Sheets as they are printed from the command line: what is written where, and
//! what is left alone.

use std::fs;
use std::process::Output;

use crate::common::pdf::PdfFile;
use crate::common::program::{lesson, ovenbell};

fn pages(path: &str) -> usize {
    PdfFile::read(&fs::read(path).unwrap()).pages().len()
}

fn said(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn json(output: &Output) -> serde_json::Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}", said(output)))
}

#[test]
fn two_pages_are_printed_and_more_if_asked() {
    let folder = tempfile::tempdir().unwrap();
    let pdf = folder.path().join("sheets.pdf");
    let pdf = pdf.to_str().unwrap();
    let output = ovenbell(&["sheets", &lesson("demo.ron"), "--pdf", pdf, "--json"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let answer = json(&output);
    assert_eq!(answer["pages"], 2);
    assert_eq!(answer["parts"][0]["part"], "order");
    assert_eq!(answer["parts"][1], serde_json::json!({ "part": "ovens", "pages": 1 }));
    assert_eq!(answer["left_out"], serde_json::json!([]));
    assert_eq!(answer["findings"], serde_json::json!([]));
    assert_eq!(pages(pdf), 2);
    // Again, over what was printed before, on other paper.
    let more = ["--parts", "time-plans,labels", "--paper", "letter", "--large"];
    let demo = lesson("demo.ron");
    let args = [&["sheets", &demo, "--pdf", pdf][..], &more].concat();
    let output = ovenbell(&args);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(pages(pdf) > 8);
    let unknown = ovenbell(&["sheets", &lesson("demo.ron"), "--pdf", pdf, "--parts", "ordr"]);
    assert_eq!(unknown.status.code(), Some(2));
    assert!(said(&unknown).contains("time-plans"), "what there is, is named");
}

#[test]
fn nothing_of_the_users_is_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    let own = at("lesson.ron");
    fs::copy(lesson("a-scones-hour.ron"), &own).unwrap();
    fs::write(at("letter.txt"), "Dear all").unwrap();
    fs::write(at("scan.pdf"), b"%PDF-1.4\n\xff\xfe somebody's").unwrap();
    fs::create_dir(at("folder")).unwrap();
    fs::write(at("protected.pdf"), "").unwrap();
    let mut protected = fs::metadata(at("protected.pdf")).unwrap().permissions();
    protected.set_readonly(true);
    fs::set_permissions(at("protected.pdf"), protected).unwrap();
    let mut names: Vec<_> =
        fs::read_dir(folder.path()).unwrap().map(|e| e.unwrap().path()).collect();
    names.sort();
    for (to, why) in [
        (own.clone(), "is read by the command"),
        (at("letter.txt"), "is no PDF of ovenbell's"),
        (at("scan.pdf"), "is no PDF of ovenbell's"),
        (at("folder"), "folder"),
        (at("protected.pdf"), "write-protected"),
        (at("gone/sheets.pdf"), "is not there"),
    ] {
        let output = ovenbell(&["sheets", &own, "--pdf", &to, "--json"]);
        assert_eq!(output.status.code(), Some(2), "{to}: {}", said(&output));
        assert!(said(&output).contains(why), "{to}: {}", said(&output));
        assert!(output.stdout.is_empty(), "{to}");
    }
    let mut after: Vec<_> =
        fs::read_dir(folder.path()).unwrap().map(|e| e.unwrap().path()).collect();
    after.sort();
    assert_eq!(after, names, "nothing half written is left");
    assert_eq!(fs::read(at("letter.txt")).unwrap(), b"Dear all");
    assert!(fs::read(at("scan.pdf")).unwrap().ends_with(b"somebody's"));
}

#[test]
fn the_running_order_is_told_as_text() {
    let output = ovenbell(&["sheets", &lesson("demo.ron"), "--text"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(text.starts_with("Running order\n"), "{text}");
    assert!(text.contains("10:05\tRegister, until 10:08\tall"), "{text}");
    assert!(text.contains("IN:") && text.contains("OUT:") && text.contains("is filled"));
}

/// Of several lessons each has its own sheets, and all have one for the
/// technician and one for the office.
#[test]
fn several_lessons_share_the_technicians_day_and_the_order_list() {
    let folder = tempfile::tempdir().unwrap();
    let pdf = folder.path().join("sheets.pdf");
    let pdf = pdf.to_str().unwrap();
    let (demo, scones) = (lesson("demo.ron"), lesson("a-scones-hour.ron"));
    let parts = "order,technician,order-list";
    let args = ["sheets", &demo, &scones, "--pdf", pdf, "--parts", parts, "--symbols", "--json"];
    let output = ovenbell(&args);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    let file = PdfFile::read(&fs::read(pdf).unwrap());
    let [one, other] = ["9 Harbour, Thu 26 Nov 10:05", "Scones in an hour, 10:00"];
    let all = [
        &*format!("{one}: Running order"),
        &*format!("{other}: Running order"),
        "Technician's day",
        "Order list",
    ];
    assert_eq!(file.contents(), all);
    let words = file.pages().join("\n");
    let is_common = words.contains("Caster sugar") && words.contains("lemon bake (9 Harbour)");
    assert!(is_common, "{words}");
    let plan = folder.path().join("plan.ron");
    let with_plan = ["sheets", &demo, &scones, "--pdf", pdf, "--plan", plan.to_str().unwrap()];
    let output = ovenbell(&with_plan);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("a plan is of one lesson"), "{}", said(&output));
}

/// Nobody bakes in a single of rolls: what would be empty is left out.
#[test]
fn what_has_nothing_to_say_is_left_out_and_told() {
    let folder = tempfile::tempdir().unwrap();
    let pdf = folder.path().join("sheets.pdf");
    let pdf = pdf.to_str().unwrap();
    let parts = "order,ovens,time-plans,requisition";
    let rolls = lesson("c-rolls-single.ron");
    let args = ["sheets", &rolls, "--pdf", pdf, "--parts", parts, "--json"];
    let output = ovenbell(&args);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    let answer = json(&output);
    let named = |list: &str| -> Vec<String> {
        let of = |entry: &serde_json::Value| entry["part"].as_str().unwrap().to_owned();
        answer[list].as_array().unwrap().iter().map(of).collect()
    };
    assert_eq!(named("parts"), ["order", "requisition"]);
    assert_eq!(named("left_out"), ["ovens", "time-plans"]);
    assert!(said(&output).contains("Oven sheet is left out: no group is out by the bell"));
    assert_eq!(pages(pdf), 2);
}

#[test]
fn a_lesson_that_cannot_be_read_prints_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.ron");
    fs::write(&path, "(format: 1, title: 5)").unwrap();
    let pdf = folder.path().join("sheets.pdf");
    let args = ["sheets", path.to_str().unwrap(), "--pdf", pdf.to_str().unwrap()];
    assert_eq!(ovenbell(&args).status.code(), Some(2));
    assert!(!pdf.exists());
}

/// The plan kept with a lesson may be on paper: of another one only what has
/// changed is printed, with what is new on top.
#[test]
fn sheets_of_another_plan_than_the_kept_one_say_what_has_changed() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("lesson.ron");
    fs::copy(lesson("a-scones-hour.ron"), &own).unwrap();
    let own = own.to_str().unwrap();
    assert_eq!(ovenbell(&["plan", own, "--keep"]).status.code(), Some(0));
    let pdf = folder.path().join("sheets.pdf");
    let pdf = pdf.to_str().unwrap();
    let parts = ["--parts", "order,time-plans", "--json"];
    let print = |more: &[&str]| {
        let output = ovenbell(&[&["sheets", own, "--pdf", pdf], &parts[..], more].concat());
        let answer = json(&output);
        (answer["pages"].as_u64().unwrap(), answer["unchanged"].as_u64().unwrap())
    };
    assert_eq!(print(&[]), (11, 0), "the kept plan itself");
    // Two pairs that are alike have been told each other's places.
    let text = fs::read_to_string(own).unwrap();
    let swapped = text.replace("\"Pair 1\"", "\"Pair ?\"").replace("\"Pair 2\"", "\"Pair 1\"");
    let swapped = swapped.replace("\"Pair ?\"", "\"Pair 2\"");
    assert_ne!(text, swapped);
    fs::write(own, swapped).unwrap();
    assert_eq!(print(&[]), (11, 0), "what was told holds");
    let (pages, unchanged) = print(&["--anew"]);
    assert!(unchanged >= 5 && pages + unchanged == 11, "{pages} and {unchanged}");
    let file = PdfFile::read(&fs::read(pdf).unwrap());
    assert!(file.pages()[0].contains("Changed since "), "{}", file.pages()[0]);
    assert_eq!(print(&["--anew", "--again"]), (11, 0));
}
