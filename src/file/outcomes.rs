//! Bakes as they really went, in a table of the user's: one line a bake,
//! comma-separated (RFC 4180), with a line of headings. It opens in any
//! spreadsheet. The program adds lines and never changes one.

use std::io;
use std::path::Path as FilePath;
use std::sync::Arc;
use std::time::Duration;

use chrono::NaiveDate;
use thiserror::Error;

use super::cells::{harmless, meant};
use super::disk::{Access, Disk, RealDisk};
use super::file_hold::FileHold;
use super::plain_words::{Doing, why};
use super::write::{Backup, write_held};
use crate::finding::{Finding, Path, Place, shortened};
use crate::model::{PastBake, ThreePoint};
use crate::units::{Celsius, ExactMinutes, plain_number};

/// Columns, in the order in which a new file has them.
pub const COLUMNS: [&str; 7] = ["date", "recipe", "tin", "oven", "celsius", "minutes", "note"];
/// Columns without which a line says nothing.
const NEEDED: [&str; 3] = ["recipe", "tin", "minutes"];
/// A larger file, in bytes, is not read.
const LARGEST: u64 = 20_000_000;
/// How long another program that notes a bake is waited for.
const PATIENCE: Duration = Duration::from_secs(5);

/// Why a bake was not noted. The file is as it was.
#[derive(Debug, Error)]
pub enum NoteError {
    /// The file that is there is not such a table, and is left alone.
    #[error("{0}")]
    NotATable(String),
    /// The file cannot be read or written: why, and what to do.
    #[error("{0}")]
    Disk(String),
    /// The bake cannot be written down.
    #[error("the bake cannot be written down: {0}")]
    Text(#[from] csv::Error),
}

/// Reads the bakes noted so far. A file that is not there holds none. Lines
/// that make no sense are told, and the others used.
pub fn load_outcomes(path: &FilePath) -> (Vec<PastBake>, Vec<Finding>) {
    match read(path) {
        Ok(None) => (Vec::new(), Vec::new()),
        Ok(Some(text)) => read_outcomes(&text),
        Err(error) => {
            let why = why(&error, Doing::Reading(path));
            let message = format!("the bakes noted so far cannot be read: {why}");
            (Vec::new(), vec![Finding::warning("outcomes", Path::root(), message)])
        }
    }
}

fn read(path: &FilePath) -> io::Result<Option<String>> {
    let bytes = match RealDisk.read(&RealDisk.resolved(path), LARGEST) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        bytes => bytes?,
    };
    let no_text = |_| io::Error::new(io::ErrorKind::InvalidData, "it is no UTF-8 text");
    String::from_utf8(bytes).map(Some).map_err(no_text)
}

fn reader(text: &str) -> csv::Reader<&[u8]> {
    let text = super::syntax::without_mark(text);
    csv::ReaderBuilder::new().flexible(true).trim(csv::Trim::All).from_reader(text.as_bytes())
}

/// Reads a table of bakes.
pub fn read_outcomes(text: &str) -> (Vec<PastBake>, Vec<Finding>) {
    let mut reader = reader(text);
    let headings = match columns(&mut reader) {
        Ok(headings) => headings,
        Err(message) => {
            let finding = Finding::warning("outcomes", Path::root(), message);
            return (Vec::new(), vec![finding.at(Place { line: 1, column: 1 })]);
        }
    };
    let (mut bakes, mut findings) = (Vec::new(), Vec::new());
    let mut lines = Lines::new(text);
    for record in reader.records() {
        let (position, bake) = match &record {
            Ok(record) => (record.position(), one(record, &headings)),
            Err(error) => (error.position(), Err(error.to_string())),
        };
        let mut tell = |message: String| {
            let place = Place { line: position.map_or(1, |p| lines.of(p)), column: 1 };
            findings.push(Finding::warning("outcome", Path::root(), message).at(place));
        };
        match bake {
            Ok((bake, doubt)) => {
                bakes.push(bake);
                doubt.into_iter().for_each(&mut tell);
            }
            Err(message) => tell(format!("this bake is left aside: {message}")),
        }
    }
    (bakes, findings)
}

/// The lines at which records begin, one after the other. The reader's own
/// count takes the end of a line in two parts (`\r\n`) for its beginning.
struct Lines<'a> {
    bytes: &'a [u8],
    /// Up to this byte there were so many ends of lines.
    counted: (usize, usize),
}

impl<'a> Lines<'a> {
    fn new(text: &'a str) -> Self {
        Self { bytes: super::syntax::without_mark(text).as_bytes(), counted: (0, 0) }
    }

    /// The line of a record that is no earlier than the one asked for before.
    fn of(&mut self, position: &csv::Position) -> usize {
        let start = usize::try_from(position.byte()).unwrap_or(0).min(self.bytes.len());
        let skipped = self.bytes[start..].iter().take_while(|b| b"\r\n".contains(b)).count();
        let (from, before) = self.counted;
        let to = (start + skipped).max(from);
        let ends = self.bytes[from..to].iter().filter(|&&b| b == b'\n').count();
        self.counted = (to, before + ends);
        1 + before + ends
    }
}

/// Where each of [`COLUMNS`] stands.
fn columns(reader: &mut csv::Reader<&[u8]>) -> Result<[Option<usize>; 7], String> {
    let headings = reader.headers().map_err(|e| e.to_string())?.clone();
    let at = |name: &str| headings.iter().position(|h| h.eq_ignore_ascii_case(name));
    let missing: Vec<&str> = NEEDED.into_iter().filter(|n| at(n).is_none()).collect();
    if missing.is_empty() {
        Ok(COLUMNS.map(at))
    } else {
        Err(format!("a table of bakes has a column {}", missing.join(", and one ")))
    }
}

/// A bake, and what is doubtful about it.
fn one(
    record: &csv::StringRecord,
    columns: &[Option<usize>; 7],
) -> Result<(PastBake, Option<String>), String> {
    let cell = |column: usize| columns[column].and_then(|at| record.get(at)).unwrap_or("");
    let number = |column: usize| -> Result<f64, String> {
        let text = cell(column).replace(',', ".");
        text.parse::<f64>()
            .ok()
            .filter(|n| n.is_finite())
            .ok_or_else(|| format!("\"{}\" is no number", shortened(cell(column), 20)))
    };
    let date = NaiveDate::parse_from_str(cell(0), "%Y-%m-%d").ok();
    let doubt = (date.is_none() && !cell(0).is_empty()).then(|| {
        let written = shortened(cell(0), 20);
        format!("\"{written}\" is not a day like 2026-11-24; the bake counts without it")
    });
    let celsius = match cell(4) {
        "" => None,
        _ => Some(oven_temperature(number(4)?)?),
    };
    if cell(1).is_empty() || cell(2).is_empty() {
        return Err("recipe or tin is not named".into());
    }
    let bake = PastBake {
        date,
        recipe: meant(cell(1)).to_owned(),
        tin: meant(cell(2)).to_owned(),
        oven: meant(cell(3)).to_owned(),
        celsius,
        minutes: bake_minutes(number(5)?)?,
        note: meant(cell(6)).to_owned(),
    };
    Ok((bake, doubt))
}

/// Minutes a bake can have taken.
///
/// # Errors
/// What is wrong with them, in words.
pub fn bake_minutes(minutes: f64) -> Result<ExactMinutes, String> {
    let longest = ThreePoint::LONGEST_STEP;
    if minutes.is_finite() && minutes > 0.0 && minutes <= longest {
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
    let mut text = text.to_owned();
    if text.trim_start_matches('\u{feff}').trim().is_empty() {
        text = format!("{}\n", COLUMNS.join(","));
    }
    let mut found = reader(&text);
    let columns = columns(&mut found).map_err(NoteError::NotATable)?;
    let width = found.headers()?.len();
    let cells: [String; 7] = [
        bake.date.map_or(String::new(), |d| d.format("%Y-%m-%d").to_string()),
        harmless(&bake.recipe),
        harmless(&bake.tin),
        harmless(&bake.oven),
        bake.celsius.map_or(String::new(), |c| plain_number(c.get())),
        plain_number(bake.minutes.get()),
        harmless(&bake.note),
    ];
    let mut line = vec![String::new(); width];
    for ((cell, at), name) in cells.into_iter().zip(columns).zip(COLUMNS) {
        match at {
            Some(at) => line[at] = cell,
            None if cell.is_empty() || name == "date" => {}
            None => {
                let message =
                    format!("it has no column \"{name}\" for \"{}\"", shortened(&cell, 40));
                return Err(NoteError::NotATable(message));
            }
        }
    }
    let mut writer = csv::WriterBuilder::new().from_writer(Vec::new());
    writer.write_record(&line)?;
    let line = writer.into_inner().map_err(|e| NoteError::Disk(e.into_error().to_string()))?;
    if !text.ends_with('\n') {
        text.push('\n');
    }
    let before = read_outcomes(&text).0.len();
    text.push_str(&String::from_utf8_lossy(&line));
    // An open quotation mark at the end of the file would swallow the line.
    let after = read_outcomes(&text).0;
    let kept =
        after.last().is_some_and(|last| last.minutes == bake.minutes && last.tin == bake.tin);
    if after.len() == before + 1 && kept {
        return Ok(text);
    }
    let message = "a bake more could not be read back from it; look for a quotation mark that is \
                   never closed";
    Err(NoteError::NotATable(message.to_owned()))
}

/// Adds a bake to the user's file, keeping what was there as `.bak`. Others who
/// note one at the same time wait for each other.
///
/// # Errors
/// If the file cannot be read or written, or is no table of bakes; it is then
/// as it was.
pub fn note_outcome(path: &FilePath, bake: &PastBake) -> Result<(), NoteError> {
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let refused = |error: io::Error| NoteError::Disk(why(&error, Doing::Writing(path)));
    if let Some(folder) = path.parent().filter(|f| !f.as_os_str().is_empty()) {
        disk.make_folder(folder).map_err(refused)?;
    }
    let path = disk.resolved(path);
    let hold = FileHold::wait(&disk, &path, PATIENCE).map_err(refused)?;
    let before =
        read(&path).map_err(|error| NoteError::Disk(why(&error, Doing::Reading(&path))))?;
    let after = with_outcome(&before.unwrap_or_default(), bake)?;
    let how = (Backup::Keep, Access::AsBefore);
    write_held(hold.as_ref(), &path, after.as_bytes(), how).map_err(refused)
}

#[cfg(test)]
mod tests {
    use std::fs;

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
    fn nonsense_is_told_by_its_line_and_left_aside() {
        let text = "date,recipe,tin,oven,celsius,minutes,note\n\
            2026-11-24,Buns,tray,,,14,\n24.11.2026,Buns,tray,,,14,\n,Buns,tray,,,0,\n\
            ,Buns,tray,,,NaN,\n,Buns,tray,,9999,14,\n,,tray,,,14,\n,Buns,tray,,180,\"14,5\",\n";
        let (read, findings) = read_outcomes(text);
        assert_eq!(read.len(), 3);
        assert_eq!((read[1].date, read[1].minutes.get()), (None, 14.0), "a day is not needed");
        assert!((read[2].minutes.get() - 14.5).abs() < 1e-9);
        let lines: Vec<usize> = findings.iter().filter_map(|f| f.place.map(|p| p.line)).collect();
        assert_eq!(lines, [3, 4, 5, 6, 7]);
    }
}
