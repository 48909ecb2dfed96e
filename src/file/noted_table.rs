//! Tables of the user's in which is noted what really happened: a line each,
//! comma-separated (RFC 4180), with a line of headings. They open in any
//! spreadsheet. The program adds lines and never changes one.

use std::cell::Cell;
use std::io;
use std::path::Path as FilePath;
use std::sync::Arc;
use std::time::Duration;

use chrono::NaiveDate;
use csv::{Position, Reader, ReaderBuilder, StringRecord, Trim, WriterBuilder};
use thiserror::Error;

use super::cells::{harmless, meant};
use super::disk::{Access, Disk, RealDisk};
use super::file_hold::FileHold;
use super::plain_words::{Doing, why};
use super::write::{Backup, write_held};
use crate::finding::{Finding, Path, Place, shortened};

/// A larger file, in bytes, is not read.
const LARGEST: u64 = 20_000_000;
/// Fewer minutes than this would be written as none.
pub(super) const LEAST_MINUTES: f64 = 0.01;
/// How long another program that notes something is waited for.
const PATIENCE: Duration = Duration::from_secs(5);

/// Why something was not noted. The file is as it was.
#[derive(Debug, Error)]
pub enum NoteError {
    /// The file that is there is not such a table, and is left alone.
    #[error("{0}")]
    NotATable(String),
    /// The file cannot be read or written: why, and what to do.
    #[error("{0}")]
    Disk(String),
    /// It cannot be written down.
    #[error("it cannot be written down: {0}")]
    Text(#[from] csv::Error),
}

/// A kind of such tables.
#[derive(Debug, Clone, Copy)]
pub(super) struct NotedTable {
    /// What a line is of: "bake".
    pub one: &'static str,
    /// Columns, in the order in which a new file has them.
    pub columns: &'static [&'static str],
    /// Columns without which a line says nothing.
    pub needed: &'static [&'static str],
    /// The codes of findings: of the table, of a line.
    pub codes: (&'static str, &'static str),
}

/// A line of a table, read by the kind's columns.
pub(super) struct Line<'a> {
    record: &'a StringRecord,
    columns: &'a [Option<usize>],
}

impl<'a> Line<'a> {
    /// A cell; empty where the table has no such column.
    pub fn cell(&self, column: usize) -> &'a str {
        let at = self.columns.get(column).copied().flatten();
        at.and_then(|at| self.record.get(at)).unwrap_or("")
    }

    /// The text that a cell holds.
    pub fn text(&self, column: usize) -> String {
        meant(self.cell(column)).to_owned()
    }

    /// A number, with a point or a comma.
    pub fn number(&self, column: usize) -> Result<f64, String> {
        let number = self.cell(column).replace(',', ".").parse::<f64>().ok();
        number
            .filter(|n| n.is_finite())
            .ok_or_else(|| format!("\"{}\" is no number", shortened(self.cell(column), 20)))
    }

    /// A day, and what is doubtful about it.
    pub fn day(&self, column: usize, counts: &str) -> (Option<NaiveDate>, Option<String>) {
        let text = self.cell(column);
        let date = NaiveDate::parse_from_str(text, "%Y-%m-%d").ok();
        let doubt = (date.is_none() && !text.is_empty())
            .then(|| format!("\"{}\" is not a day like 2026-11-24; {counts}", shortened(text, 20)));
        (date, doubt)
    }
}

/// What a line says, and what is doubtful about it.
pub(super) type Read<T> = Result<(T, Option<String>), String>;

impl NotedTable {
    /// Reads what is noted so far. A file that is not there holds nothing. Lines
    /// that make no sense are told, and the others used.
    pub fn load<T>(
        &self,
        path: &FilePath,
        one: impl Fn(&Line<'_>) -> Read<T>,
    ) -> (Vec<T>, Vec<Finding>) {
        match read(path) {
            Ok(None) => (Vec::new(), Vec::new()),
            Ok(Some(text)) => self.read(&text, one),
            Err(error) => {
                let why = why(&error, Doing::Reading(path));
                let message = format!("the {}s noted so far cannot be read: {why}", self.one);
                (Vec::new(), vec![Finding::warning(self.codes.0, Path::root(), message)])
            }
        }
    }

    /// Reads a table.
    pub fn read<T>(
        &self,
        text: &str,
        one: impl Fn(&Line<'_>) -> Read<T>,
    ) -> (Vec<T>, Vec<Finding>) {
        let mut reader = reader(text);
        let columns = match self.columns_of(&mut reader) {
            Ok(columns) => columns,
            Err(message) => {
                let finding = Finding::warning(self.codes.0, Path::root(), message);
                return (Vec::new(), vec![finding.at(Place { line: 1, column: 1 })]);
            }
        };
        let (mut all, mut findings) = (Vec::new(), Vec::new());
        let mut lines = Lines::new(text);
        for record in reader.records() {
            let (position, read) = match &record {
                Ok(record) => (record.position(), one(&Line { record, columns: &columns })),
                Err(error) => (error.position(), Err(error.to_string())),
            };
            let mut tell = |message: String| {
                let place = Place { line: position.map_or(1, |p| lines.of(p)), column: 1 };
                findings.push(Finding::warning(self.codes.1, Path::root(), message).at(place));
            };
            match read {
                Ok((read, doubt)) => {
                    all.push(read);
                    doubt.into_iter().for_each(&mut tell);
                }
                Err(message) => tell(format!("this {} is left aside: {message}", self.one)),
            }
        }
        (all, findings)
    }

    /// Where each of the columns stands.
    fn columns_of(&self, reader: &mut Reader<&[u8]>) -> Result<Vec<Option<usize>>, String> {
        let headings = reader.headers().map_err(|e| e.to_string())?.clone();
        let at = |name: &&str| headings.iter().position(|h| h.eq_ignore_ascii_case(name));
        let missing: Vec<&str> =
            self.needed.iter().copied().filter(|name| at(name).is_none()).collect();
        if missing.is_empty() {
            return Ok(self.columns.iter().map(at).collect());
        }
        Err(format!("a table of {}s has a column {}", self.one, missing.join(", and one ")))
    }

    /// The table with a line more; what is in it stays as it is, letter by letter.
    ///
    /// # Errors
    /// If what is in it is no such table.
    pub fn with_line(&self, text: &str, cells: &[String]) -> Result<String, NoteError> {
        let mut text = text.to_owned();
        if text.trim_start_matches('\u{feff}').trim().is_empty() {
            text = format!("{}\n", self.columns.join(","));
        }
        let mut found = reader(&text);
        let columns = self.columns_of(&mut found).map_err(NoteError::NotATable)?;
        let mut line = vec![String::new(); found.headers()?.len()];
        for ((cell, at), name) in cells.iter().zip(&columns).zip(self.columns) {
            match *at {
                Some(at) => line[at] = harmless(cell),
                None if cell.is_empty() || *name == "date" => {}
                None => {
                    let message =
                        format!("it has no column \"{name}\" for \"{}\"", shortened(cell, 40));
                    return Err(NoteError::NotATable(message));
                }
            }
        }
        let mut writer = WriterBuilder::new().from_writer(Vec::new());
        writer.write_record(&line)?;
        let written =
            writer.into_inner().map_err(|e| NoteError::Disk(e.into_error().to_string()))?;
        if !text.ends_with('\n') {
            text.push('\n');
        }
        let before = reader(&text).records().count();
        text.push_str(&String::from_utf8_lossy(&written));
        // An open quotation mark at the end of the file would swallow the line.
        let mut after = reader(&text);
        let all: Vec<_> = after.records().collect();
        let is_last = |last: &csv::Result<StringRecord>| {
            let same = |(a, b): (&str, &String)| a == b.trim();
            last.as_ref().is_ok_and(|last| last.iter().zip(&line).all(same))
        };
        if all.len() == before + 1 && all.last().is_some_and(is_last) {
            return Ok(text);
        }
        let message = format!(
            "a {} more could not be read back from it; look for a quotation mark that is never \
             closed",
            self.one
        );
        Err(NoteError::NotATable(message))
    }

    /// The table without the lines of which this is true, letter by letter.
    ///
    /// # Errors
    /// If it is no such table.
    pub fn without(
        &self,
        text: &str,
        goes: impl Fn(&Line<'_>) -> bool,
    ) -> Result<String, NoteError> {
        let bare = super::syntax::without_mark(text);
        let mut found = reader(text);
        let columns = self.columns_of(&mut found).map_err(NoteError::NotATable)?;
        let all = found.records().collect::<csv::Result<Vec<_>>>()?;
        let starts = all.iter().map(|r| r.position().map_or(0, start_of));
        let ends = starts.clone().skip(1).chain([bare.len()]);
        let mut kept = bare[..starts.clone().next().unwrap_or(bare.len())].to_owned();
        for ((record, from), until) in all.iter().zip(starts).zip(ends) {
            if !goes(&Line { record, columns: &columns }) {
                kept.push_str(bare.get(from..until).unwrap_or_default());
            }
        }
        Ok(format!("{}{kept}", &text[..text.len() - bare.len()]))
    }

    /// Adds lines to the user's file, keeping what was there as `.bak`. Others who
    /// note something at the same time wait for each other.
    ///
    /// # Errors
    /// If the file cannot be read or written, or is no such table; it is then as it
    /// was.
    pub fn note(&self, path: &FilePath, lines: &[Vec<String>]) -> Result<(), NoteError> {
        self.rewritten(path, |text| {
            lines.iter().try_fold(text.to_owned(), |text, line| self.with_line(&text, line))
        })
    }

    /// Takes lines out of the user's file, likewise.
    ///
    /// # Errors
    /// As [`NotedTable::note`].
    pub fn forget(
        &self,
        path: &FilePath,
        goes: impl Fn(&Line<'_>) -> bool,
    ) -> Result<(), NoteError> {
        self.shortened(path, |text| self.without(text, &goes))
    }

    /// Takes the last of the lines of which this is true out of the user's file.
    ///
    /// # Errors
    /// As [`NotedTable::note`].
    pub fn forget_last(
        &self,
        path: &FilePath,
        goes: impl Fn(&Line<'_>) -> bool,
    ) -> Result<(), NoteError> {
        self.shortened(path, |text| {
            let (all, _) = self.read(text, |line| Ok((goes(line), None)));
            let left = Cell::new(all.into_iter().filter(|goes| *goes).count());
            let is_last = || {
                left.set(left.get().saturating_sub(1));
                left.get() == 0
            };
            self.without(text, |line| goes(line) && is_last())
        })
    }

    /// Writes the user's file anew if it is another by this; one that is not there stays so.
    fn shortened(
        &self,
        path: &FilePath,
        change: impl Fn(&str) -> Result<String, NoteError>,
    ) -> Result<(), NoteError> {
        let there = read(path).map_err(|e| NoteError::Disk(why(&e, Doing::Reading(path))))?;
        match there {
            Some(text) if change(&text)? != text => self.rewritten(path, change),
            _ => Ok(()),
        }
    }

    fn rewritten(
        &self,
        path: &FilePath,
        change: impl FnOnce(&str) -> Result<String, NoteError>,
    ) -> Result<(), NoteError> {
        let disk: Arc<dyn Disk> = Arc::new(RealDisk);
        let refused = |error: io::Error| NoteError::Disk(why(&error, Doing::Writing(path)));
        if let Some(folder) = path.parent().filter(|f| !f.as_os_str().is_empty()) {
            disk.make_folder(folder).map_err(refused)?;
        }
        let path = disk.resolved(path);
        let hold = FileHold::wait(&disk, &path, PATIENCE).map_err(refused)?;
        let before =
            read(&path).map_err(|error| NoteError::Disk(why(&error, Doing::Reading(&path))))?;
        let after = change(&before.unwrap_or_default())?;
        let how = (Backup::Keep, Access::AsBefore);
        write_held(hold.as_ref(), &path, after.as_bytes(), how).map_err(refused)
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

fn reader(text: &str) -> Reader<&[u8]> {
    let text = super::syntax::without_mark(text);
    ReaderBuilder::new().flexible(true).trim(Trim::All).from_reader(text.as_bytes())
}

/// Where a record begins in its text.
fn start_of(position: &Position) -> usize {
    usize::try_from(position.byte()).unwrap_or(0)
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
    fn of(&mut self, position: &Position) -> usize {
        let start = start_of(position).min(self.bytes.len());
        let skipped = self.bytes[start..].iter().take_while(|b| b"\r\n".contains(b)).count();
        let (from, before) = self.counted;
        let to = (start + skipped).max(from);
        let ends = self.bytes[from..to].iter().filter(|&&b| b == b'\n').count();
        self.counted = (to, before + ends);
        1 + before + ends
    }
}
