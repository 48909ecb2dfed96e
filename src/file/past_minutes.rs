//! What parts of lessons really took classes, in a table of the user's beside the
//! one of bakes.

use std::path::Path as FilePath;

use super::noted_table::{LEAST_MINUTES, Line, NotedTable, Read};
use crate::finding::Finding;
use crate::model::{LessonPart, PastMinutes};
use crate::units::{ExactMinutes, plain_number};

pub use super::noted_table::NoteError;

/// Columns, in the order in which a new file has them.
pub const COLUMNS: [&str; 7] = ["date", "class", "recipe", "method", "step", "planned", "took"];

const TABLE: NotedTable = NotedTable {
    one: "part of a lesson",
    columns: &COLUMNS,
    needed: &["date", "class", "step", "planned", "took"],
    codes: ("minutes", "minutes-line"),
};

/// Reads what is noted so far. A file that is not there holds nothing. Lines that
/// make no sense are told, and the others used; of one part on one day the last line
/// counts.
pub fn load_minutes(path: &FilePath) -> (Vec<PastMinutes>, Vec<Finding>) {
    let (all, findings) = TABLE.load(path, one);
    (the_last_of_each(all), findings)
}

/// Reads a table of such minutes.
pub fn read_minutes(text: &str) -> (Vec<PastMinutes>, Vec<Finding>) {
    let (all, findings) = TABLE.read(text, one);
    (the_last_of_each(all), findings)
}

fn the_last_of_each(all: Vec<PastMinutes>) -> Vec<PastMinutes> {
    let mut kept: Vec<PastMinutes> = Vec::new();
    for minutes in all {
        kept.retain(|k| !same(k, &minutes));
        kept.push(minutes);
    }
    kept
}

fn same(a: &PastMinutes, b: &PastMinutes) -> bool {
    (a.date, &a.part) == (b.date, &b.part) && a.is_of(&b.class)
}

fn one(line: &Line<'_>) -> Read<PastMinutes> {
    let (date, doubt) = line.day(0, "it is left aside");
    let Some(date) = date else {
        return Err(doubt.unwrap_or_else(|| "it has no day".to_owned()));
    };
    let part = LessonPart::named(line.cell(4), line.text(2), line.text(3))
        .ok_or("its step is neither opening, making up nor finishing")?;
    let minutes = |column: usize| -> Result<ExactMinutes, String> {
        let minutes = line.number(column)?;
        if minutes < LEAST_MINUTES {
            return Err("its minutes are not above 0".to_owned());
        }
        ExactMinutes::new(minutes).map_err(|e| e.to_string())
    };
    let (planned, took) = (minutes(5)?, minutes(6)?);
    Ok((PastMinutes { date, class: line.text(1), part, planned, took }, None))
}

/// Adds lines to the user's file, keeping what was there as `.bak`; what it says
/// already is not said again.
///
/// # Errors
/// If the file cannot be read or written, or is no such table; it is then as it
/// was.
pub fn note_minutes(path: &FilePath, noted: &[PastMinutes]) -> Result<(), NoteError> {
    let known = load_minutes(path).0;
    let new: Vec<Vec<String>> = noted.iter().filter(|m| !known.contains(m)).map(cells).collect();
    if new.is_empty() { Ok(()) } else { TABLE.note(path, &new) }
}

fn cells(minutes: &PastMinutes) -> Vec<String> {
    let (step, recipe, method) = minutes.part.names();
    vec![
        minutes.date.to_string(),
        minutes.class.clone(),
        recipe.to_owned(),
        method.to_owned(),
        step.to_owned(),
        plain_number(minutes.planned.get()),
        plain_number(minutes.took.get()),
    ]
}

/// Takes all lines of a class out of the user's file.
///
/// # Errors
/// As [`note_minutes`].
pub fn forget_class(path: &FilePath, class: &str) -> Result<(), NoteError> {
    let class = class.trim().to_lowercase();
    TABLE.forget(path, |line| line.text(1).trim().to_lowercase() == class)
}

#[cfg(test)]
mod tests {
    use std::fs;
    use std::io;

    use chrono::NaiveDate;

    use super::*;

    fn noted(day: u32, class: &str, took: f64) -> PastMinutes {
        PastMinutes {
            date: NaiveDate::from_ymd_opt(2026, 11, day).unwrap_or_default(),
            class: class.to_owned(),
            part: LessonPart::MakingUp("=buns, plain".into(), "rubbed in".into()),
            planned: ExactMinutes::new(20.0).unwrap_or_default(),
            took: ExactMinutes::new(took).unwrap_or_default(),
        }
    }

    #[test]
    fn what_is_noted_is_read_back_and_a_class_is_forgotten_whole() -> Result<(), NoteError> {
        let folder = tempfile::tempdir().map_err(|e| NoteError::Disk(e.to_string()))?;
        let path = folder.path().join("minutes.csv");
        forget_class(&path, "8 Harbour")?;
        assert!(!path.exists());
        let all = [noted(3, "8 Harbour", 24.0), noted(10, "9 \"Quay\"", 25.5)];
        note_minutes(&path, &all)?;
        note_minutes(&path, &all)?;
        assert_eq!(load_minutes(&path).0, all);
        // Answered anew, the last answer counts, and nothing is changed.
        let better = noted(3, "8 harbour", 26.0);
        note_minutes(&path, std::slice::from_ref(&better))?;
        assert_eq!(load_minutes(&path).0, [all[1].clone(), better]);
        forget_class(&path, "8 HARBOUR")?;
        let text = fs::read_to_string(&path).map_err(|e| NoteError::Disk(e.to_string()))?;
        assert!(!text.to_lowercase().contains("harbour"), "{text}");
        assert_eq!(load_minutes(&path).0, [all[1].clone()]);
        Ok(())
    }

    #[test]
    fn nonsense_is_told_by_its_line_and_left_aside() -> io::Result<()> {
        let text = "date,class,recipe,method,step,planned,took\n2026-11-03,8 Harbour,,,opening,8,9\n\
                    3 November,8 Harbour,,,opening,8,9\n2026-11-04,8 Harbour,,,lunch,8,9\n\
                    2026-11-05,8 Harbour,,,opening,8,-1\n2026-11-06,8 Harbour,,,opening,,9\n\
                    2026-11-07,8 Harbour,,,opening,8,1e-9\n";
        let (read, findings) = read_minutes(text);
        assert_eq!(read.len(), 1);
        let lines: Vec<usize> = findings.iter().filter_map(|f| f.place.map(|p| p.line)).collect();
        // The last one would be written as 0, which is none.
        assert_eq!(lines, [3, 4, 5, 6, 7]);
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("minutes.csv");
        fs::write(&path, "a letter")?;
        assert!(note_minutes(&path, &read).is_err());
        assert!(forget_class(&path, "8 Harbour").is_err());
        assert_eq!(fs::read_to_string(&path)?, "a letter");
        Ok(())
    }
}
