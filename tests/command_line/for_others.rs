//! Files that other programs read, a calendar and a table, as they are written
//! from the command line: over what was written before, and over nothing else.

use std::fs;

use crate::common::program::{lesson, ovenbell};

#[test]
fn what_was_written_before_is_written_over_and_nothing_else() {
    let folder = tempfile::tempdir().unwrap();
    let demo = lesson("demo.ron");
    for (command, option, begins) in [
        ("calendar", "--ics", "BEGIN:VCALENDAR"),
        ("plan", "--csv", "begins,ends,"),
        ("order", "--csv", "supplier,store,what,"),
    ] {
        let path = folder.path().join(command);
        let to = path.to_str().unwrap();
        for _ in 0..2 {
            let output = ovenbell(&[command, &demo, option, to]);
            assert_eq!(output.status.code(), Some(0), "{output:?}");
            assert!(fs::read_to_string(&path).unwrap().starts_with(begins));
        }
        fs::write(&path, "a letter").unwrap();
        let output = ovenbell(&[command, &demo, option, to]);
        assert_eq!(output.status.code(), Some(2), "{output:?}");
        assert_eq!(fs::read_to_string(&path).unwrap(), "a letter");
        let output = ovenbell(&[command, &demo, option, folder.path().to_str().unwrap()]);
        assert_eq!(output.status.code(), Some(2), "{output:?}");
    }
    // Nothing half written lies about.
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 3);
}

#[test]
fn a_lesson_without_a_date_has_no_place_in_a_calendar() {
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("lesson.ics");
    let scones = lesson("a-scones-hour.ron");
    let output = ovenbell(&["calendar", &scones, "--ics", to.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("a-scones-hour.ron") && said.contains("`date`"), "{said}");
    assert!(!to.exists());
}

/// No file may grow: the disk is full as far as the program sees.
#[cfg(unix)]
#[test]
fn a_disk_that_takes_no_more_leaves_the_table_that_was_there() {
    let folder = tempfile::tempdir().unwrap();
    let (demo, to) = (lesson("demo.ron"), folder.path().join("order.csv"));
    let args = ["order", &demo, "--csv", to.to_str().unwrap()];
    assert_eq!(ovenbell(&args).status.code(), Some(0));
    let before = fs::read(&to).unwrap();
    let full = "trap '' XFSZ; ulimit -f 0; exec \"$@\"";
    let program = env!("CARGO_BIN_EXE_ovenbell");
    let output = std::process::Command::new("sh")
        .args(["-c", full, "sh", program])
        .args(args)
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(!output.stderr.is_empty());
    assert_eq!(fs::read(&to).unwrap(), before);
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1);
}
