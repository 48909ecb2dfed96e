//! Files of weeks, and what is wrong with them.

use std::fs;

use ovenbell::finding::Severity;
use ovenbell::week::{Planner, Week, load};

use super::{EIGHT, FEW, GO_ON, TEN, codes, department, loaded, told, week_of};

#[test]
fn no_text_of_a_week_is_too_odd_to_be_read() {
    let folder = department();
    let path = folder.path().join("week.ron");
    let text = week_of(&[TEN, EIGHT]);
    let mut read = 0;
    let mut look = |text: &str| {
        fs::write(&path, text).unwrap();
        match load(&path, &[]) {
            Ok(loaded) => read += usize::from(loaded.week.days.len() == 7),
            Err(findings) => assert!(!findings.is_empty()),
        }
    };
    let cuts = (0..text.len()).step_by(37).filter(|at| text.is_char_boundary(*at));
    cuts.for_each(|at| look(&text[..at]));
    let most = i64::MAX.to_string();
    for odd in ["0", "-1", most.as_str(), "-9223372036854775808", "1e999", "\"\"", "()"] {
        for figure in ["10}", "4,", "1,"] {
            look(&text.replacen(figure, &figure.replace(char::is_numeric, odd), 1));
        }
        look(&text.replace("\"P3\", room", &format!("{odd}, room")));
        look(&text.replace("\"2026-11-30\"", odd));
    }
    for date in ["0000-01-03", "9999-12-27", "+262142-12-29", "-0001-01-01"] {
        look(&text.replace("2026-11-30", date));
    }
    assert!(read > 3, "only {read} were weeks");
}

#[test]
fn a_file_missing_moved_broken_or_there_twice_is_told_and_the_rest_goes_on() {
    let folder = department();
    let point = |file: &str, id: &str, at: &str| {
        format!(r#"(file: "{file}", id: "{id}", on: Fri, at: "{at}", room: "Room 1"),"#)
    };
    fs::write(folder.path().join("broken.ron"), "(format: 2, title: ").unwrap();
    let entries = [
        TEN.to_owned(),
        point("none.ron", "wren-91ab", "P1"),
        point("broken.ron", "lark-55d0", "P2"),
        point("eight.ron", "finch-07d3", "P3"),
    ];
    let text = week_of(&entries.iter().map(String::as_str).collect::<Vec<_>>());
    let line = |n: usize| text.lines().position(|l| l.contains(&entries[n])).unwrap() + 1;
    let planned = |week: &Week| {
        let planner = Planner::new(&[], FEW, &GO_ON);
        week.entries.iter().filter(|e| planner.alone(week, e).is_some()).count()
    };
    let found = loaded(folder.path(), &text);
    assert_eq!(codes(&found.findings), [("pointer", line(1)), ("broken-lesson", line(2))]);
    assert_eq!((found.week.entries.len(), planned(&found.week)), (4, 2));
    assert!(!told(&found.week).is_well(&found.week), "what is not planned is not well");
    // Another with the id of the one at its path: that is taken.
    let (at, twin) = (folder.path().join("eight.ron"), folder.path().join("twin.ron"));
    fs::copy(&at, &twin).unwrap();
    let found = loaded(folder.path(), &text);
    let all = [("pointer", line(1)), ("broken-lesson", line(2)), ("pointer", line(3))];
    assert_eq!(codes(&found.findings), all);
    assert_eq!(planned(&found.week), 2);
    // Renamed: told where it is now, and left aside.
    fs::remove_file(&at).unwrap();
    let found = loaded(folder.path(), &text);
    assert_eq!(codes(&found.findings), all);
    assert!(found.findings[2].hint.contains("twin.ron"), "{}", found.findings[2].hint);
    assert_eq!(planned(&found.week), 1);
    // The folder as a whole goes anywhere.
    fs::rename(&twin, &at).unwrap();
    let other = tempfile::tempdir().unwrap();
    let moved = other.path().join("elsewhere");
    fs::create_dir(&moved).unwrap();
    for file in fs::read_dir(folder.path()).unwrap().map(|f| f.unwrap().path()) {
        fs::copy(&file, moved.join(file.file_name().unwrap())).unwrap();
    }
    assert_eq!(
        codes(&loaded(&moved, &text).findings),
        [("pointer", line(1)), ("broken-lesson", line(2))]
    );
}

#[test]
fn a_double_across_a_break_is_told_and_planned_all_the_same() {
    let folder = department();
    let at = |bells: &str| {
        let text = week_of(&[TEN]).replace("at: \"P3\"", &format!("at: {bells}"));
        let loaded = loaded(folder.path(), &text);
        assert!(loaded.week.entries[0].lesson().is_some());
        loaded.findings
    };
    let findings = at("(\"P2\", \"P3\")");
    let told = findings.iter().find(|f| f.code == "through-break").unwrap();
    assert!(told.message.contains("20 min between P2 and P3"), "{}", told.message);
    assert_eq!(told.severity, Severity::Warning);
    for bells in ["(\"P1\", \"P2\")", "\"P3\""] {
        assert!(at(bells).iter().all(|f| f.code != "through-break"), "{bells}");
    }
}

#[test]
fn a_copy_for_a_day_is_told_where_a_lesson_is_meant() {
    let folder = department();
    let ten = folder.path().join("ten.ron");
    let copy = fs::read_to_string(&ten).unwrap().replacen("format: 2,", "format: 2, today: (),", 1);
    fs::write(&ten, copy).unwrap();
    let findings = loaded(folder.path(), &week_of(&[TEN, EIGHT])).findings;
    let told: Vec<_> = findings.iter().filter(|f| f.code == "day-copy").collect();
    assert_eq!(told.len(), 1, "{findings:?}");
    assert!(told[0].message.contains("ten.ron") && told[0].severity == Severity::Warning);
}

#[test]
fn what_is_wrong_with_a_week_is_told_at_its_line() {
    let folder = department();
    for (from, to, code) in [
        ("at: \"P3\"", "at: \"P7\"", "unknown-bell"),
        ("at: \"P3\"", "at: (\"P3\", \"P1\")", "period-order"),
        (
            "on: Thu, at: \"P3\", room: \"Room 2\"",
            "on: Wed, at: \"P3\", room: \"Room 2\"",
            "closed-room",
        ),
        ("on: Thu", "on: Thu, date: \"2026-12-04\"", "date"),
        ("room: \"Room 1\"", "room: \"Room 4\"", "unknown-name"),
        ("room: \"Room 1\"", "room: (\"Room 1\", \"Room 2\")", "outside-period"),
        ("class: \"9C\", on: Thu", "class: \"8A\", on: Thu", "class-twice"),
        ("\"P3\", room: \"Room 2\"", "\"P3\", room: \"Room 1\"", "room-twice"),
        ("(\"11:20\", \"12:20\")", "(\"11:20\", \"11:30\")", "outside-period"),
        ("(\"11:20\", \"12:20\")", "(\"11:20\", \"12:25\")", "period-length"),
        ("(file: \"ten.ron\"", "(booking: \"exam\", file: \"ten.ron\"", "lesson-or-booking"),
        ("whisk\": 10", "whisk\": -1", "count"),
        ("\"2026-11-30\"", "\"2026-12-01\"", "date"),
        ("(\"11:20\", \"12:20\")", "(\"11:20\", \"11:10\")", "bells"),
        ("name: \"Room 2\"", "name: \"Room 1\"", "duplicate-name"),
        ("count: 4, kind", "count: 4000, kind", "count"),
        ("week:", "weak:", "no-week"),
    ] {
        let text = week_of(&[TEN, EIGHT]);
        assert!(text.contains(from), "{from}");
        let path = folder.path().join("week.ron");
        fs::write(&path, text.replacen(from, to, 1)).unwrap();
        let findings = match load(&path, &[]) {
            Ok(loaded) => loaded.findings,
            Err(findings) => {
                assert!(findings.iter().any(|f| f.severity == Severity::Error));
                findings
            }
        };
        assert!(
            codes(&findings).iter().any(|(c, line)| *c == code && *line > 0),
            "{to}: {findings:#?}"
        );
    }
}

#[test]
fn a_bell_that_the_clocks_skip_is_told() {
    let folder = department();
    let path = folder.path().join("ten.ron");
    let text = fs::read_to_string(&path).unwrap();
    let zoned = text.replacen("title:", "zone: \"Europe/London\",\n    title:", 1);
    fs::write(&path, zoned).unwrap();
    let of = |week: &str, on: &str| {
        let night = week_of(&[&TEN.replace("on: Thu", on)]);
        let night = night.replace("2026-11-30", week);
        let night = night.replace("(\"11:20\", \"12:20\")", "(\"01:30\", \"02:30\")");
        codes(&loaded(folder.path(), &night).findings).len()
    };
    // The clocks go from 01:00 to 02:00 on 28 March.
    assert_eq!((of("2027-03-22", "on: Sun"), of("2027-03-22", "on: Sat")), (1, 0));
    assert_eq!(of("2027-03-29", "on: Sun"), 0);
}
