//! `ovenbell week`: a head of department's questions answered by what is printed,
//! and what it refuses.

use std::fs;
use std::path::Path;

use super::answers::{json, lesson, ovenbell, status, text};
use crate::common::pdf::PdfFile;

const FEW: [&str; 2] = ["--decodings", "50"];

/// The worked week in a folder of its own with some lessons only, by their lines.
fn week_with(lines: &[&str]) -> (tempfile::TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    for name in ["sponge.ron", "buns.ron", "muffins.ron", "scones.ron", "lemon.ron"] {
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
    assert!(text(&lesson.stderr).contains("another-kind"), "{}", text(&lesson.stderr));
    fs::remove_file(Path::new(folder.path()).join("scones.ron")).unwrap();
    let missing = ask(&["--json"]);
    assert_eq!(status(&missing), 1);
    assert_eq!(json(&missing)["findings"][0]["code"], "pointer");
    assert_eq!(json(&missing)["lessons"][0]["kind"], "unplanned");
}

#[test]
fn lessons_that_cannot_be_read_and_who_is_booked_twice_stand_in_the_answer() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["week.ron", "sponge.ron", "buns.ron", "muffins.ron", "scones.ron", "lemon.ron"] {
        fs::copy(lesson(&format!("week/{name}")), folder.path().join(name)).unwrap();
    }
    let path = folder.path().join("week.ron");
    let week = fs::read_to_string(&path).unwrap();
    let lines: Vec<&str> = week.lines().filter(|l| l.contains("(file:")).collect();
    let mondays: Vec<&&str> = lines.iter().filter(|l| l.contains("on: Mon")).collect();
    let [one, other, ..] = mondays[..] else { panic!("{lines:?}") };
    let unknown = |line: &str| {
        let (before, after) = line.split_once("at: \"").unwrap();
        format!("{before}at: \"P77{}", &after[after.find('"').unwrap()..])
    };
    let ask = || {
        let all = ["week", path.to_str().unwrap(), "--day", "mon", "--decodings", "5"];
        let out = ovenbell(&all);
        (words(&out.stdout), words(&out.stderr), json(&ovenbell(&[&all[..], &["--json"]].concat())))
    };
    let (before, ..) = ask();
    let of = format!("of {} lessons", mondays.len());
    assert!(before.contains(&of) && !before.contains("could not be read"), "{before}");
    let broken = week.replacen(*one, &unknown(one), 1).replacen(*other, &unknown(other), 1);
    fs::write(&path, broken).unwrap();
    let (said, wrong, answer) = ask();
    assert!(said.contains(&of), "{of}: {said}");
    assert!(said.contains("two could not be read"), "{said}");
    assert!(wrong.contains("no bell \"P77\"") && wrong.contains("there are: P1"), "{wrong}");
    assert_eq!(answer["is_well"], false);

    let taught = |line: &str| line.replacen("(file:", "(adult: \"teacher A\", file:", 1);
    let at_once = |line: &str| {
        let (before, after) = line.split_once("at: \"").unwrap();
        taught(&format!("{before}at: \"P2{}", &after[after.find('"').unwrap()..]))
    };
    let twice = week.replacen(*one, &at_once(one), 1).replacen(*other, &at_once(other), 1);
    fs::write(&path, twice).unwrap();
    let (said, ..) = ask();
    let (_, not_well) = said.split_once("Does not go well").unwrap_or_else(|| panic!("{said}"));
    assert!(not_well.contains("teacher A teaches twice at P2 on Monday"), "{said}");
}

/// What each line of an order comes to.
fn ordered(words: &[&str]) -> Vec<(String, String, String)> {
    let answer = ovenbell(&[&["order"], words, &FEW, &["--json"]].concat());
    let answer = json(&answer);
    let line = |line: &serde_json::Value| {
        (line["what"].to_string(), line["needed"].to_string(), line["in_all"].to_string())
    };
    let mut lines: Vec<_> = answer["lines"].as_array().unwrap().iter().map(line).collect();
    lines.sort();
    lines
}

#[test]
fn an_order_is_for_the_tins_of_the_plan_kept_or_not() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("demo.ron");
    fs::copy(lesson("demo.ron"), &own).unwrap();
    let own = own.to_str().unwrap();
    let not_kept = ordered(&[own]);
    // Unit 5 makes buns of two eggs, not its first tin, a cake of three.
    let kept = ovenbell(&[&["plan", own, "--keep", "--json"], &FEW[..]].concat());
    let departs = json(&kept)["groups"].to_string();
    assert!(departs.contains("12 buns"), "{departs}");
    assert_eq!(ordered(&[own]), not_kept);
}

#[test]
fn an_order_of_a_week_is_that_of_its_lessons() {
    let (folder, week) = week_with(&["on: Thu, at: \"P3\"", "class: \"9A\", on: Mon"]);
    let own = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    // The buns are baked by two classes.
    let (buns, sponge) = (own("buns.ron"), own("sponge.ron"));
    let lines = ordered(&[&week]);
    assert_eq!(lines, ordered(&[&buns, &sponge, &buns]));
    assert!(lines.len() == 3 && lines != ordered(&[&buns, &sponge]), "{lines:?}");
    // A lesson that is not there is told, and the others are ordered for.
    fs::remove_file(&sponge).unwrap();
    let rest = ovenbell(&["order", &week, "--json"]);
    assert_eq!(status(&rest), 1);
    assert!(text(&rest.stderr).contains("pointer"), "{}", text(&rest.stderr));
    assert_eq!(ordered(&[&week]), ordered(&[&buns, &buns]));
    fs::remove_file(&buns).unwrap();
    assert_eq!(status(&ovenbell(&["order", &week])), 2);
}

#[test]
fn a_calendar_of_a_week_has_each_lesson_when_the_week_has_it() {
    let (folder, week) = week_with(&["on: Thu, at: \"P3\"", "class: \"9A\", on: Mon"]);
    let ics = folder.path().join("week.ics");
    let made = ovenbell(&[&["calendar", &week, "--ics", ics.to_str().unwrap()], &FEW[..]].concat());
    assert_eq!(status(&made), 0, "{}", text(&made.stderr));
    let calendar = fs::read_to_string(&ics).unwrap().replace("\r\n ", "");
    for lesson in ["Whisked sponge\\, 8A", "9C", "9A"] {
        let summary = calendar.lines().any(|l| l.starts_with("SUMMARY") && l.ends_with(lesson));
        assert!(summary, "{lesson}: {calendar}");
    }
    for bell in ["DTSTART:20261203T112000", "DTEND:20261203T122000", "DTSTART:20261130T112000"] {
        assert!(calendar.contains(bell), "{bell}");
    }
    // Two classes of one file are two things.
    let mut ids: Vec<&str> =
        calendar.lines().filter(|l| l.starts_with("UID") && l.ends_with("@ovenbell")).collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!((ids.len(), calendar.matches("BEGIN:VEVENT").count()), (all, all));
}

#[test]
fn a_technicians_day_of_a_week_comes_to_what_is_set_out() {
    let (folder, week) = week_with(&["on: Thu, at: \"P3\"", "class: \"9A\", on: Mon"]);
    let day = json(&ovenbell(&[&["week", &week, "--day", "thu", "--json"], &FEW[..]].concat()));
    let duties = day["technician"]["duties"].as_array().unwrap();
    for job in day["setting_up"][0]["jobs"].as_array().unwrap() {
        let of = |duty: &&serde_json::Value| {
            duty["start_by"] == job["start_by"]
                && duty["length"] == format!("{} min", job["minutes"])
        };
        assert_eq!(duties.iter().filter(of).count(), 1, "{job} {duties:#?}");
    }
    assert!(!duties.is_empty() && day["technician"]["clashes"].as_array().unwrap().is_empty());
    let words = text(&ovenbell(&[&["week", &week, "--day", "thu"], &FEW[..]].concat()).stdout);
    assert!(words.contains("The technician's day"), "{words}");
    let whole = json(&ovenbell(&[&["week", &week, "--json"], &FEW[..]].concat()));
    assert!(whole["technician"].is_null());
    // On paper they are one sheet for all days, beside one order list.
    let pdf = folder.path().join("week.pdf");
    let to = ["sheets", &week, "--pdf", pdf.to_str().unwrap(), "--parts", "technician,order-list"];
    let made = ovenbell(&[&to[..], &["--json"], &FEW].concat());
    assert_eq!(status(&made), 0, "{}", text(&made.stderr));
    let parts = json(&made)["parts"].as_array().unwrap().clone();
    let names: Vec<&str> = parts.iter().filter_map(|part| part["part"].as_str()).collect();
    assert_eq!(names, ["technician", "order-list"]);
    let paper = on_paper(&pdf);
    assert!(!paper.contains("Cannot be as it stands"), "{paper}");
    for duty in duties.iter().filter(|duty| duty["what"].as_str().unwrap().contains("Weigh")) {
        // The same by the same time as in the week's own answer.
        let row =
            format!("{} {} Weigh", of(duty, "start_by"), of(duty, "length").replace(" min", ""));
        assert!(paper.contains(&row), "{row} {paper}");
    }
}

fn of<'a>(value: &'a serde_json::Value, field: &str) -> &'a str {
    value[field].as_str().unwrap()
}

/// All words of a PDF, with one space between them.
fn on_paper(pdf: &Path) -> String {
    let words = PdfFile::read(&fs::read(pdf).unwrap()).meant().join(" ");
    words.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The technician has no hours that day: what is to be set out is told all the same, that
/// nobody is there for it, and no hours that nobody entered.
#[test]
fn what_nobody_is_there_to_set_out_is_told() {
    let (folder, week) = week_with(&["class: \"8A\", on: Thu", "class: \"9A\", on: Mon"]);
    let text_of = fs::read_to_string(&week).unwrap();
    let without = text_of.replace("(on: Thu, from: \"08:00\", until: \"15:00\"),", "");
    assert_ne!(text_of, without);
    fs::write(&week, without).unwrap();
    let day = json(&ovenbell(&[&["week", &week, "--day", "thu", "--json"], &FEW[..]].concat()));
    let duties = day["technician"]["duties"].as_array().unwrap();
    let weighed: Vec<_> = duties.iter().filter(|d| of(d, "what").starts_with("Weigh")).collect();
    let [weigh] = weighed.as_slice() else { panic!("{duties:#?}") };
    assert_eq!(of(weigh, "who_lacks"), "nobody is there for it");
    assert_eq!((of(weigh, "start_by"), of(weigh, "length")), ("10:30", "50 min"));
    let clashes = day["technician"]["clashes"].as_array().unwrap();
    let said = |words: &str| clashes.iter().any(|c| c.as_str().unwrap().contains(words));
    assert!(said("Thursday 3 December, by 11:20, Weigh"), "{clashes:?}");
    let pdf = folder.path().join("week.pdf");
    let to = ["sheets", &week, "--pdf", pdf.to_str().unwrap(), "--parts", "technician"];
    assert_eq!(status(&ovenbell(&[&to[..], &FEW].concat())), 0);
    let paper = on_paper(&pdf);
    assert!(paper.contains("Thursday 3 December, by 11:20, Weigh"), "{paper}");
    assert!(paper.contains("(nobody is there for it)"), "{paper}");
    assert!(!paper.contains("11:20 to 11:21"), "{paper}");
}

/// Of lessons one after the other in one room the second finds its ovens on.
#[test]
fn ovens_that_are_on_are_left_on_or_turned() {
    let (_keep, week) = week_with(&[
        "class: \"9C\", on: Mon",
        "class: \"7A\", on: Mon",
        "class: \"9A\", on: Mon",
        "class: \"9B\", on: Tue",
        "class: \"7B\", on: Tue",
    ]);
    let told = |day: &str| -> Vec<(String, String)> {
        let day = json(&ovenbell(&[&["week", &week, "--day", day, "--json"], &FEW[..]].concat()));
        let duties = day["technician"]["duties"].as_array().unwrap().iter();
        let of_ovens = duties.filter(|duty| of(duty, "what").contains("Oven 1"));
        of_ovens.map(|duty| (of(duty, "start_by").into(), of(duty, "what").into())).collect()
    };
    let monday = told("mon");
    let words: Vec<&str> = monday.iter().map(|(_, what)| &**what).collect();
    let [first, second, third] = words.as_slice() else { panic!("{monday:?}") };
    assert!(first.starts_with("Switch Oven 1 to Oven "), "{monday:?}");
    assert!(second.starts_with("Leave Oven 1 to Oven ") && second.ends_with(" on at 180 °C fan"));
    // After a break they are cold.
    assert!(third.starts_with("Switch Oven 1 to Oven "), "{monday:?}");
    let tuesday = told("tue");
    let [(_, first), (_, second)] = tuesday.as_slice() else { panic!("{tuesday:?}") };
    assert!(first.starts_with("Switch Oven 1 to Oven "), "{tuesday:?}");
    assert!(second.starts_with("Turn Oven 1 to Oven ") && second.ends_with(" to 160 °C fan"));
}
