//! Lesson files that are read, and lesson files with slips: each of the
//! latter says in its first lines what must be found, and nothing else may be.

use std::fs;
use std::path::Path;

use crate::common::cases::{cases, shown};
use ovenbell::file::{load_lesson, read_lesson};
use ovenbell::finding::{Finding, Severity};
use proptest::prelude::*;

/// Errors and warnings alike.
fn all_findings(text: &str) -> Vec<Finding> {
    match read_lesson(text) {
        Ok(loaded) => loaded.warnings,
        Err(findings) => findings,
    }
}

/// A finding as a case expects it: `14:9 duplicate-name`.
fn stated(finding: &Finding) -> String {
    let place = finding.place.map_or_else(|| "nowhere".into(), |p| p.to_string());
    let warning = if finding.severity == Severity::Warning { " (look at)" } else { "" };
    format!("{place} {}{warning}", finding.code)
}

#[test]
fn good_lessons_are_read() {
    for (path, text) in cases("good") {
        let findings = all_findings(&text);
        assert!(findings.is_empty(), "{}:\n{}", path.display(), shown(&findings));
        assert!(read_lesson(&text).is_ok());
    }
}

#[test]
fn broken_lessons_give_the_findings_they_state() {
    for (path, text) in cases("broken") {
        let expected = text.lines().filter_map(|l| l.strip_prefix("// expect: "));
        let mut expected: Vec<String> = expected.map(str::to_owned).collect();
        let findings = all_findings(&text);
        let mut found: Vec<String> = findings.iter().map(stated).collect();
        expected.sort();
        found.sort();
        let path = path.display();
        assert!(!expected.is_empty(), "{path} expects nothing");
        assert_eq!(found, expected, "{path} gives\n{}", shown(&findings));
        let any_error = findings.iter().any(|f| f.severity == Severity::Error);
        assert_eq!(read_lesson(&text).is_err(), any_error, "{path}");
    }
}

fn only(findings: Vec<Finding>) -> Finding {
    assert_eq!(findings.len(), 1, "{}", shown(&findings));
    findings.into_iter().next().unwrap()
}

#[test]
fn files_that_are_no_text_of_reasonable_size_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.ron");

    let large = fs::File::create(&path).unwrap();
    large.set_len(50_000_000).unwrap();
    let finding = only(load_lesson(&path).unwrap_err());
    assert_eq!(finding.code, "too-large");
    assert!(finding.message.contains("50000000 bytes"), "{finding}");

    fs::write(&path, b"(\n  format: 2,\n  title: \"caf\xe9\",\n)").unwrap();
    let finding = only(load_lesson(&path).unwrap_err());
    assert_eq!(stated(&finding), "3:14 not-utf8");
    assert!(finding.message.contains("byte 28"), "{finding}");

    for (picture, what) in [
        (&b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR"[..], "is a picture (PNG), not a lesson"),
        (&b"\xff\xd8\xff\xe0\0\x10JFIF"[..], "is a picture (JPEG), not a lesson"),
        (&b"%PDF-1.7\n1 0 obj\n"[..], "is a paper to print (PDF), not a lesson"),
    ] {
        fs::write(&path, picture).unwrap();
        let finding = only(load_lesson(&path).unwrap_err());
        assert_eq!((finding.code, finding.message.as_str()), ("picture", what));
        assert!(finding.hint.contains("left as it is"));
    }

    assert_eq!(only(load_lesson(folder.path()).unwrap_err()).code, "unreadable");
    let missing = folder.path().join("nowhere.ron");
    assert_eq!(only(load_lesson(&missing).unwrap_err()).code, "unreadable");

    for (_, text) in cases("good") {
        fs::write(&path, format!("\u{feff}{text}")).unwrap();
        assert!(load_lesson(&path).is_ok(), "a byte order mark does no harm");
        fs::write(&path, text.replace('\n', "\r\n")).unwrap();
        assert!(load_lesson(&path).is_ok(), "nor do line ends of another system");
    }
}

/// A good lesson that the tests know.
fn scones() -> String {
    let known = |path: &std::path::Path| path.ends_with("scones.ron");
    cases("good").into_iter().find(|(path, _)| known(path)).unwrap().1
}

#[test]
fn a_huge_name_gives_a_short_finding() {
    let good = scones();
    let huge = good.replacen("\"Scones\"", &format!("{:?}", "x".repeat(64_000)), 1);
    let huge = huge.replace("\"scones\"", &format!("{:?}", "y".repeat(64_000)));
    let findings = read_lesson(&huge).unwrap_err();
    let codes: Vec<&str> = findings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["long-name", "long-name"]);
    assert!(shown(&findings).chars().count() < 600, "{}", shown(&findings));
}

#[test]
fn brackets_without_end_are_an_error_and_no_crash() {
    for (open, close) in
        [("(", ")"), ("[", "]"), ("{", "}"), ("Some(", ")"), ("/*", "*/"), ("(a:", ")")]
    {
        for places in [
            "(format: 2, period: @)",
            "(format: 2, period: (start: \"1:00\", end: \"2:00\", opening: [(name: \"a\", minutes: @)]))",
            "@",
            "(format: 2, nothing: @)",
        ] {
            let deep = format!("{}{}", open.repeat(50_000), close.repeat(50_000));
            let text = places.replace('@', &deep);
            assert_eq!(read_lesson(&text).unwrap_err().len(), 1);
        }
    }
}

#[test]
fn very_many_slips_are_told_in_reasonable_time() {
    let groups = "(name: \"a\", recipe: \"b\", pace: 9, unit: \"u\", tins: [\"x\", \"y\"]),";
    let good = scones();
    let text = good.replacen("groups: [", &format!("groups: [{}", groups.repeat(20_000)), 1);
    let findings = read_lesson(&text).unwrap_err();
    assert!((2..=500).contains(&findings.len()));
}

/// A good lesson, cut off or with some bytes changed.
fn damaged() -> impl Strategy<Value = String> {
    let flips = prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..4);
    (0..cases("good").len(), any::<prop::sample::Index>(), any::<bool>(), flips).prop_map(
        |(which, cut, do_cut, flips)| {
            let mut bytes = cases("good").remove(which).1.into_bytes();
            if do_cut {
                bytes.truncate(cut.index(bytes.len()));
            }
            for (at, byte) in flips {
                if !bytes.is_empty() {
                    let at = at.index(bytes.len());
                    bytes[at] = byte;
                }
            }
            String::from_utf8_lossy(&bytes).into_owned()
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn a_damaged_lesson_is_read_or_refused(text in damaged()) {
        match read_lesson(&text) {
            Ok(loaded) => {
                prop_assert!(loaded.warnings.iter().all(|f| f.severity == Severity::Warning));
            }
            Err(findings) => {
                prop_assert!(findings.iter().any(|f| f.severity == Severity::Error));
                prop_assert!(findings.iter().all(|f| f.place.is_some()));
                let internal = findings.iter().any(|f| f.code == "not-a-lesson");
                prop_assert!(!internal, "{}", shown(&findings));
            }
        }
    }

    /// A part taken out, or moved elsewhere, reaches further than single bytes.
    #[test]
    fn a_lesson_with_lines_moved_is_read_or_refused(
        which in 0..100_usize,
        lines in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>()), 1..3),
    ) {
        let all = cases("good");
        let text = &all[which % all.len()].1;
        let mut parts: Vec<&str> = text.split_inclusive([',', '\n']).collect();
        for (from, to) in lines {
            let part = parts.remove(from.index(parts.len()));
            parts.insert(to.index(parts.len()), part);
        }
        if let Err(findings) = read_lesson(&parts.concat()) {
            let internal = findings.iter().any(|f| f.code == "not-a-lesson");
            prop_assert!(!internal, "{}", shown(&findings));
        }
    }
}

#[test]
fn a_recipe_that_is_missing_is_one_thing_to_do_for_all_its_groups() {
    let mut file = read_lesson(&scones()).unwrap().file;
    let group = ovenbell::file::format::GroupShape { count: None, ..file.groups[0].clone() };
    let named = |recipe: &str| {
        let of = |n: u32| ovenbell::file::format::GroupShape {
            name: format!("Unit {n}"),
            recipe: recipe.to_owned(),
            methods: Vec::new(),
            tins: Vec::new(),
            ..group.clone()
        };
        (1..=9).map(of).collect::<Vec<_>>()
    };
    file.adults.iter_mut().for_each(|adult| adult.only_for = None);
    file.locks.clear();
    file.beforehand.clear();
    file.collected.clear();
    let errors = |file: &ovenbell::file::format::LessonFile| {
        ovenbell::file::lesson_of_shapes(file, &[]).unwrap_err()
    };
    file.groups = named("");
    let finding = only(errors(&file));
    assert!(finding.message.starts_with("9 groups have no recipe: Unit 1, Unit 2"), "{finding}");
    file.groups = named("scnoes of no kind");
    let finding = only(errors(&file));
    assert_eq!(finding.code, "unknown-name");
    assert!(finding.message.contains("which 9 groups make"), "{finding}");
}

#[test]
fn whatever_letter_is_wrong_no_name_of_the_program_is_told() {
    let lesson = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/a-scones-hour.ron");
    let text = fs::read_to_string(lesson).unwrap();
    let ours = ["Shape", "struct", "enum", "sequence", "identifier", "RON", "unit", "Some("];
    let mut refused = 0;
    for (i, (at, letter)) in text.char_indices().enumerate().filter(|(i, _)| i % 3 == 0) {
        let instead = ["", "(", "[", "}", "\"", "x", "-"][i / 3 % 7];
        let broken = format!("{}{instead}{}", &text[..at], &text[at + letter.len_utf8()..]);
        let Err(findings) = read_lesson(&broken) else { continue };
        for finding in findings.iter().filter(|f| ["syntax", "wrong-kind"].contains(&f.code)) {
            let told = finding.message.as_str();
            let leaks = ours.iter().find(|name| told.contains(**name));
            assert!(leaks.is_none(), "{told}: {instead:?} for {letter:?} at {:?}", finding.place);
            refused += 1;
        }
    }
    assert!(refused > 200, "{refused}");
}
