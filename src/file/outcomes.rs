//! Bakes as they really went, in a table of the user's.

use std::path::Path as FilePath;

use super::noted_table::{LEAST_MINUTES, Line, NotedTable, Read};
use crate::finding::Finding;
use crate::model::{PastBake, ThreePoint};
use crate::units::{Celsius, ExactMinutes, plain_number};

pub use super::noted_table::NoteError;

/// Columns, in the order in which a new file has them.
pub const COLUMNS: [&str; 7] = ["date", "recipe", "tin", "oven", "celsius", "minutes", "note"];

const TABLE: NotedTable = NotedTable {
    one: "bake",
    columns: &COLUMNS,
    needed: &["recipe", "tin", "minutes"],
    codes: ("outcomes", "outcome"),
};

/// Reads the bakes noted so far. A file that is not there holds none. Lines
/// that make no sense are told, and the others used.
pub fn load_outcomes(path: &FilePath) -> (Vec<PastBake>, Vec<Finding>) {
    TABLE.load(path, one)
}

/// Reads a table of bakes.
pub fn read_outcomes(text: &str) -> (Vec<PastBake>, Vec<Finding>) {
    TABLE.read(text, one)
}

/// A bake, and what is doubtful about it.
fn one(line: &Line<'_>) -> Read<PastBake> {
    let (date, doubt) = line.day(0, "the bake counts without it");
    let celsius = match line.cell(4) {
        "" => None,
        _ => Some(oven_temperature(line.number(4)?)?),
    };
    if line.cell(1).is_empty() || line.cell(2).is_empty() {
        return Err("recipe or tin is not named".into());
    }
    let bake = PastBake {
        date,
        recipe: line.text(1),
        tin: line.text(2),
        oven: line.text(3),
        celsius,
        minutes: bake_minutes(line.number(5)?)?,
        note: line.text(6),
    };
    Ok((bake, doubt))
}

/// Minutes a bake can have taken.
///
/// # Errors
/// What is wrong with them, in words.
pub fn bake_minutes(minutes: f64) -> Result<ExactMinutes, String> {
    let longest = ThreePoint::LONGEST_STEP;
    if (LEAST_MINUTES..=longest).contains(&minutes) {
        return ExactMinutes::new(minutes).map_err(|e| e.to_string());
    }
    Err(format!("a bake takes more than 0 and at most {} minutes", plain_number(longest)))
}

/// A temperature an oven can bake at, °C.
///
/// # Errors
/// What is wrong with it, in words.
pub fn oven_temperature(celsius: f64) -> Result<Celsius, String> {
    if (100.0..=300.0).contains(&celsius) {
        return Celsius::new(celsius).map_err(|e| e.to_string());
    }
    Err(format!("{} °C is no temperature to bake at", plain_number(celsius)))
}

/// The file with a bake more; what is in it stays as it is, letter by letter.
///
/// # Errors
/// If what is in it is no table of bakes.
pub fn with_outcome(text: &str, bake: &PastBake) -> Result<String, NoteError> {
    TABLE.with_line(text, &cells(bake))
}

fn cells(bake: &PastBake) -> Vec<String> {
    vec![
        bake.date.map_or(String::new(), |d| d.format("%Y-%m-%d").to_string()),
        bake.recipe.clone(),
        bake.tin.clone(),
        bake.oven.clone(),
        bake.celsius.map_or(String::new(), |c| plain_number(c.get())),
        plain_number(bake.minutes.get()),
        bake.note.clone(),
    ]
}

/// Adds a bake to the user's file, keeping what was there as `.bak`. Others who
/// note one at the same time wait for each other.
///
/// # Errors
/// If the file cannot be read or written, or is no table of bakes; it is then
/// as it was.
pub fn note_outcome(path: &FilePath, bake: &PastBake) -> Result<(), NoteError> {
    TABLE.note(path, &[cells(bake)])
}

/// Takes the line that was last written of a bake out of the user's file, keeping what was
/// there as `.bak`. Others like it stay.
///
/// # Errors
/// As [`note_outcome`].
pub fn forget_outcome(path: &FilePath, bake: &PastBake) -> Result<(), NoteError> {
    TABLE.forget_last(path, |line| one(line).is_ok_and(|(noted, _)| noted == *bake))
}

#[cfg(test)]
mod tests {
    use std::{fs, io};

    use chrono::NaiveDate;

    use super::*;

    fn bake(note: &str) -> PastBake {
        PastBake {
            date: NaiveDate::from_ymd_opt(2026, 11, 24),
            recipe: "Sponge, plain".into(),
            tin: "two \"sandwich\" tins".into(),
            oven: "Oven 3".into(),
            celsius: None,
            minutes: ExactMinutes::new(23.5).unwrap_or_default(),
            note: note.into(),
        }
    }

    #[test]
    fn what_is_noted_is_read_back() -> Result<(), NoteError> {
        let bakes = [bake("top shelf, pale\nleft two minutes more"), bake("")];
        let mut text = String::new();
        for bake in &bakes {
            text = with_outcome(&text, bake)?;
        }
        let (read, findings) = read_outcomes(&text);
        assert_eq!((read.as_slice(), findings.len()), (bakes.as_slice(), 0));
        Ok(())
    }

    #[test]
    fn a_table_of_the_users_own_making_stays_as_it_is() -> Result<(), NoteError> {
        let mine = "Minutes,Tin,Recipe,who,Oven\r\n 23,round,Sponge,me,\r\nmany,round,Sponge,me,";
        let (read, findings) = read_outcomes(mine);
        assert_eq!((read.len(), findings.len()), (1, 1));
        assert_eq!(findings[0].place.map(|p| p.line), Some(3));
        assert!(with_outcome(mine, &bake("x")).is_err(), "a note has no column");
        let after = with_outcome(mine, &bake(""))?;
        assert!(after.starts_with(mine) && after.contains("23.5,\"two \"\"sandwich\"\" tins\""));
        assert_eq!(read_outcomes(&after).0.len(), 2);
        assert!(with_outcome("recipe,tin,oven,minutes\nA,B,C,\"12", &bake("")).is_err());
        Ok(())
    }

    #[test]
    fn what_is_no_table_is_left_alone() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        let path = folder.path().join("outcomes.csv");
        fs::write(&path, "a lesson plan\nof another kind")?;
        assert!(matches!(note_outcome(&path, &bake("")), Err(NoteError::NotATable(_))));
        fs::write(&path, b"\xff\xfe\x00binary")?;
        assert!(matches!(note_outcome(&path, &bake("")), Err(NoteError::Disk(_))));
        assert_eq!(fs::read(&path)?, b"\xff\xfe\x00binary");
        assert_eq!(load_outcomes(&path).1.len(), 1);
        assert_eq!(load_outcomes(&folder.path().join("none.csv")).1.len(), 0);
        let nested = folder.path().join("new").join("outcomes.csv");
        note_outcome(&nested, &bake("")).map_err(io::Error::other)?;
        assert_eq!(load_outcomes(&nested).0, [bake("")]);
        Ok(())
    }

    #[test]
    fn what_is_taken_back_is_one_line_and_the_others_stay() -> Result<(), NoteError> {
        let folder = tempfile::tempdir().map_err(|e| NoteError::Disk(e.to_string()))?;
        let path = folder.path().join("outcomes.csv");
        for note in ["", "pale", "", "brown"] {
            note_outcome(&path, &bake(note))?;
        }
        forget_outcome(&path, &bake(""))?;
        assert_eq!(load_outcomes(&path).0, [bake(""), bake("pale"), bake("brown")]);
        forget_outcome(&path, &bake("burnt"))?;
        assert_eq!(load_outcomes(&path).0.len(), 3, "none is like that");
        let none = folder.path().join("none.csv");
        forget_outcome(&none, &bake(""))?;
        assert!(!none.exists());
        Ok(())
    }

    #[test]
    fn nonsense_is_told_by_its_line_and_left_aside() {
        let text = "date,recipe,tin,oven,celsius,minutes,note\n\
            2026-11-24,Buns,tray,,,14,\n24.11.2026,Buns,tray,,,14,\n,Buns,tray,,,0,\n\
            ,Buns,tray,,,NaN,\n,Buns,tray,,9999,14,\n,,tray,,,14,\n,Buns,tray,,180,\"14,5\",\n,Buns,tray,,,1e-9,\n";
        let (read, findings) = read_outcomes(text);
        assert_eq!(read.len(), 3);
        assert_eq!((read[1].date, read[1].minutes.get()), (None, 14.0), "a day is not needed");
        assert!((read[2].minutes.get() - 14.5).abs() < 1e-9);
        let lines: Vec<usize> = findings.iter().filter_map(|f| f.place.map(|p| p.line)).collect();
        // The last one would be written as 0, which is none.
        assert_eq!(lines, [3, 4, 5, 6, 7, 9]);
    }
}
