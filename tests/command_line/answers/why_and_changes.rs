//! What stands in the way, and what would help.

use super::{json, lesson, ovenbell, status, text};

#[test]
fn why_says_what_stands_in_the_way() {
    let why = |name: &str, more: &[&str]| ovenbell(&[&["why", &lesson(name)], more].concat());
    let few = ["--decodings", "300", "--json"];
    let answer = why("d-sponges-gas.ron", &few);
    assert_eq!(status(&answer), 1);
    let answer = json(&answer);
    let groups = answer["groups"].as_array().unwrap();
    assert!(groups.len() >= 4 && groups.len() < 20);
    assert_eq!(answer["lesson"], "A sponge each in four gas ovens");
    assert_eq!(groups[0]["verdict"], "cannot-all");
    assert_eq!(groups[0]["by"], "turns");
    assert_eq!(groups[0]["proved"], true);
    assert!(groups[0]["sum"].as_str().unwrap().contains("= 65, of 60"));
    for field in ["group", "choice", "rules", "sentence", "assumed", "smallest_set", "tried"] {
        assert!(groups[0].get(field).is_some(), "no {field}");
    }

    let served = why("d-sponges-gas.ron", &["--decodings", "300", "--group", "Pupil 1"]);
    assert_eq!(status(&served), 0);
    assert!(text(&served.stdout).contains("It is out by the bell, "), "{}", text(&served.stdout));
    assert_eq!(status(&why("a-scones-hour.ron", &few)), 0, "nobody is left out");
}

#[test]
fn why_not_in_that_tin() {
    let why = |more: &[&str]| {
        ovenbell(&[&["why", &lesson("demo.ron"), "--decodings", "2000"], more].concat())
    };
    let tin = ["--group", "Unit 5", "--tin", "20 cm square tin"];
    let answer = why(&[&tin[..], &["--json"]].concat());
    assert_eq!(status(&answer), 1, "{}", text(&answer.stderr));
    let answer = json(&answer);
    let groups = answer["groups"].as_array().unwrap();
    assert_eq!(groups.len(), 1);
    assert_eq!((&groups[0]["group"], &groups[0]["choice"]), (&tin[1].into(), &tin[3].into()));
    assert!(!groups[0]["sentence"].as_str().unwrap().is_empty());
    assert_eq!(status(&why(&["--group", "Unit 5", "--tin", "12 buns"])), 0);

    let unknown = why(&["--group", "Unit 99"]);
    assert_eq!(status(&unknown), 2);
    assert!(text(&unknown.stderr).contains("Unit 1, Unit 2"), "{}", text(&unknown.stderr));
    let unknown = why(&["--tin", "bucket"]);
    assert_eq!(status(&unknown), 2);
    assert!(text(&unknown.stderr).contains("12 buns"), "{}", text(&unknown.stderr));
}

#[test]
fn changes_are_told_with_what_they_cost_and_ask() {
    let changes = |name: &str, more: &[&str]| {
        ovenbell(&[&["changes", &lesson(name), "--most", "2"], more].concat())
    };
    let answer = changes("e-ginger-square.ron", &["--json"]);
    assert_eq!(status(&answer), 0);
    let answer = json(&answer);
    assert_eq!(answer["enough"], "offered");
    let first = &answer["changes"][0];
    for field in ["change", "cost", "served", "of", "latest_ready", "proved", "asks", "parts"] {
        assert!(first.get(field).is_some(), "no {field}");
    }
    assert_eq!(first["served"], 10);
    assert!(first["change"].as_str().unwrap().contains("12 buns"));
    assert_eq!(first["parts"].as_array().unwrap().len(), 2);

    let told = changes("f-lemon-creamed.ron", &[]);
    assert!(text(&told.stdout).contains("1. Lemon traybake in 12 buns"), "{}", text(&told.stdout));
    let fits = changes("a-scones-hour.ron", &[]);
    assert_eq!(status(&fits), 0);
    assert!(text(&fits.stdout).contains("nothing need change"));
}
