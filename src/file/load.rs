//! From a file or a text to a lesson, or to what is wrong with it.

use std::io;
use std::path::Path as FilePath;

use serde::de::DeserializeOwned;

use super::disk::{Disk, RealDisk};
use super::format::{FORMAT, LessonFile, RecipeShape};
use super::locate::Locator;
use super::older;
use super::other_kind::{FileKind, other_kind};
use super::picture::picture_in;
use super::plain_file::NotPlain;
use super::pointer;
use super::syntax;
use super::told::Told;
use super::understand;
use crate::finding::{Finding, Path, Place, Severity};
use crate::model::{Lesson, PastBake};

/// A file larger than this, in bytes, is not a lesson and is not read.
pub const LARGEST_FILE: u64 = 2_000_000;

/// A lesson's file, and the newest format it may have.
const LESSON: (FileKind, u32) = (FileKind::Lesson, FORMAT);

/// A lesson as read.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// The lesson.
    pub lesson: Lesson,
    /// The shapes of its file, to be changed and saved.
    pub file: LessonFile,
    /// The plan that is kept with it, which is not among the shapes.
    pub told: Option<Told>,
    /// Findings that someone should look at.
    pub warnings: Vec<Finding>,
}

/// Reads a lesson file.
///
/// # Errors
/// Everything found wrong with it, in the order of the file; warnings too.
pub fn load_lesson(path: &FilePath) -> Result<Loaded, Vec<Finding>> {
    load_lesson_knowing(path, &[])
}

/// Reads a lesson file, with what earlier bakes took: they sharpen minutes
/// that nobody has stated.
///
/// # Errors
/// As [`load_lesson`].
pub fn load_lesson_knowing(path: &FilePath, past: &[PastBake]) -> Result<Loaded, Vec<Finding>> {
    let text = read_text(path).map_err(|f| vec![f])?;
    let mut loaded = read_lesson_knowing(&text, past)?;
    if let Some(doubt) = pointer::doubt_of_day(&RealDisk, path, &loaded.file) {
        let place = Locator::new(syntax::without_mark(&text)).place(&doubt.path);
        loaded.warnings.push(doubt.at(place));
        loaded.warnings.sort_by_key(|f| f.place);
    }
    Ok(loaded)
}

/// Reads a lesson from the text of its file.
///
/// # Errors
/// As [`load_lesson`].
pub fn read_lesson(text: &str) -> Result<Loaded, Vec<Finding>> {
    read_lesson_knowing(text, &[])
}

/// Reads a lesson from the text of its file, with what earlier bakes took.
///
/// # Errors
/// As [`load_lesson`].
pub fn read_lesson_knowing(text: &str, past: &[PastBake]) -> Result<Loaded, Vec<Finding>> {
    let text = syntax::without_mark(text);
    let locator = Locator::new(text);
    let mut file: LessonFile = read_shapes(text, &locator, LESSON).map_err(|f| vec![f])?;
    let told = Told::taken_from(&mut file, text);
    let older = older::brought_up(&mut file);
    let (lesson, mut findings) = understand::understood(&file, past);
    findings.extend(older);
    for finding in &mut findings {
        finding.place = Some(locator.place(&finding.path));
    }
    findings.sort_by_key(|f| f.place);
    match lesson {
        Some(lesson) => Ok(Loaded { lesson, file, told, warnings: findings }),
        None => Err(findings),
    }
}

/// The lesson of shapes that were changed, with what earlier bakes took.
///
/// # Errors
/// As [`load_lesson`], without places in a text.
pub fn lesson_of_shapes(file: &LessonFile, past: &[PastBake]) -> Result<Lesson, Vec<Finding>> {
    match understand::understood(file, past) {
        (Some(lesson), _) => Ok(lesson),
        (None, findings) => Err(findings),
    }
}

/// The lesson of shapes and what to look at, or all that keeps them from being
/// one, with what earlier bakes took. Findings are without places in a text.
pub fn lesson_or_findings(file: &LessonFile, past: &[PastBake]) -> (Option<Lesson>, Vec<Finding>) {
    understand::understood(file, past)
}

/// Reads the shapes of a lesson from its text, whatever they mean.
///
/// # Errors
/// What is wrong with the text.
pub fn read_lesson_shapes(text: &str) -> Result<LessonFile, Vec<Finding>> {
    let text = syntax::without_mark(text);
    let mut file = read_shapes(text, &Locator::new(text), LESSON).map_err(|f| vec![f])?;
    older::brought_up(&mut file);
    Ok(file)
}

/// Reads a file that holds a recipe by itself, as the library's do.
///
/// # Errors
/// What is wrong with it.
pub fn load_recipe(path: &FilePath) -> Result<RecipeShape, Vec<Finding>> {
    read_recipe(&read_text(path).map_err(|f| vec![f])?)
}

/// Reads a recipe from the text of a file that holds nothing else.
///
/// # Errors
/// What is wrong with it.
pub fn read_recipe(text: &str) -> Result<RecipeShape, Vec<Finding>> {
    let text = syntax::without_mark(text);
    let locator = Locator::new(text);
    match other_kind(text, &locator, FileKind::Recipe) {
        Some(finding) => Err(vec![finding]),
        None => syntax::read(text, &locator).map_err(|f| vec![f]),
    }
}

/// The text of a file of another program's, of so many bytes at most.
///
/// # Errors
/// If it cannot be read, is larger, or is no text.
pub fn text_of_file(path: &FilePath, most: u64) -> Result<String, Finding> {
    let read = RealDisk.read(&RealDisk.resolved(path), most);
    text_of(read).map_err(|finding| match finding.code {
        // What to do about a lesson is no help here.
        "too-large" | "picture" => Finding { hint: String::new(), ..finding },
        _ => finding,
    })
}

/// The text of a file of reasonable size.
pub(super) fn read_text(path: &FilePath) -> Result<String, Finding> {
    text_of(RealDisk.read(&RealDisk.resolved(path), LARGEST_FILE))
}

/// The text that was read from a file.
///
/// # Errors
/// If it could not be read, or is no text.
pub(super) fn text_of(read: io::Result<Vec<u8>>) -> Result<String, Finding> {
    let bytes = read.map_err(|error| {
        let wrong = |code, message: String| Finding::error(code, Path::root(), message);
        match error.kind() {
            io::ErrorKind::FileTooLarge => {
                wrong("too-large", error.to_string()).hint("this is hardly a lesson or a plan")
            }
            io::ErrorKind::IsADirectory => wrong("unreadable", "is a folder, not a file".into()),
            _ if NotPlain::of(&error).is_some() => wrong("not-plain", error.to_string()),
            io::ErrorKind::NotFound => {
                wrong("unreadable", "there is no file of that name".to_owned())
            }
            _ => wrong("unreadable", format!("cannot be read: {error}")),
        }
    })?;
    if let Some(what) = picture_in(&bytes) {
        let message = format!("is {what}, not a lesson");
        return Err(Finding::error("picture", Path::root(), message).hint(
            "open a lesson: a text file, whose name mostly ends in .ron; this one is left as it is",
        ));
    }
    String::from_utf8(bytes).map_err(|e| not_utf8(e.utf8_error().valid_up_to(), e.as_bytes()))
}

fn not_utf8(byte: usize, bytes: &[u8]) -> Finding {
    let before = bytes.get(..byte).unwrap_or_default();
    let line = before.split(|&b| b == b'\n').count();
    let start = before.iter().rposition(|&b| b == b'\n').map_or(0, |i| i + 1);
    let column = String::from_utf8_lossy(&before[start..]).chars().count() + 1;
    let message = format!("is not UTF-8 text: line {line}, byte {byte} from the start of the file");
    Finding::error("not-utf8", Path::root(), message)
        .hint("save it as UTF-8 in the editor it was written with")
        .at(Place { line, column })
}

/// Reads the shapes of a file whose text begins with a format number, up to
/// the newest of its kind.
pub(super) fn read_shapes<T: DeserializeOwned>(
    text: &str,
    locator: &Locator<'_>,
    (kind, newest): (FileKind, u32),
) -> Result<T, Finding> {
    if let Some(finding) = other_kind(text, locator, kind) {
        return Err(finding);
    }
    check_format(text, locator, (kind.word(), newest))?;
    syntax::read(text, locator)
}

/// Refuses a file of a format this program does not know.
fn check_format(
    text: &str,
    locator: &Locator<'_>,
    (what, newest): (&str, u32),
) -> Result<(), Finding> {
    let path = Path::root().field("format");
    let place = locator.place(&path);
    let Some(value) = locator.value(&path) else {
        if !locator.is_whole()
            && let Err(finding) = syntax::read::<ron::Value>(text, locator)
        {
            return Err(finding);
        }
        let message = format!("a {what} file begins with its format number");
        return Err(Finding::error("no-format", path, message)
            .hint(format!("write `format: {newest},` after the first bracket"))
            .at(place));
    };
    match value.trim().parse::<u32>() {
        Ok(format) if (1..=newest).contains(&format) => Ok(()),
        Ok(newer) if newer > newest => Err(Finding::error(
            "newer-format",
            path,
            format!("the file is of format {newer}; this program reads up to {newest}"),
        )
        .hint("open it with a newer ovenbell; the file is left as it is")
        .at(place)),
        _ => {
            let value = crate::finding::shortened(value, 20);
            Err(Finding::error("bad-format", path, format!("{value} is no format number"))
                .hint(format!("write `format: {newest},`"))
                .at(place))
        }
    }
}

/// Whether any of the findings is an error.
pub(super) fn any_error(findings: &[Finding]) -> bool {
    findings.iter().any(|f| f.severity == Severity::Error)
}
