//! A file of the program's own that was given in place of another kind: called by its
//! name, and with what takes it.

use super::locate::Locator;
use super::tokens::tokens;
use super::{outcomes, past_minutes};
use crate::finding::{Finding, Path};

/// A kind of file that a text may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum FileKind {
    Lesson,
    DayCopy,
    Week,
    Plan,
    Recipe,
    Room,
    Class,
    Tin,
    Settings,
    Bakes,
    Minutes,
    FromElsewhere,
}

/// Fields at the top that one kind alone has, each list without those that a lesson, a
/// week, a plan or a recipe shares with it. What stands with a format number comes first.
const MARKS: [(FileKind, &[&str]); 9] = [
    (FileKind::Week, &["week"]),
    (FileKind::Lesson, &["recipes", "room", "period"]),
    (FileKind::Plan, &["choices", "loads", "class_steps", "not_served"]),
    (FileKind::Recipe, &["methods", "ingredients", "bake"]),
    (FileKind::Room, &["ovens", "units"]),
    (FileKind::Class, &["class"]),
    (FileKind::Tin, &["rim_mm"]),
    (FileKind::Settings, &["hints_gone", "bell_ahead"]),
    (FileKind::FromElsewhere, &["@context", "@graph", "@type"]),
];

impl FileKind {
    /// A file that is to be one is called so.
    pub fn word(self) -> &'static str {
        match self {
            FileKind::Lesson | FileKind::DayCopy => "lesson",
            FileKind::Week => "week",
            FileKind::Plan => "plan",
            _ => "recipe",
        }
    }

    /// What it is, in a sentence.
    fn called(self) -> &'static str {
        match self {
            FileKind::Lesson => "a lesson",
            FileKind::DayCopy => "a lesson's copy for the day",
            FileKind::Week => "a department's week",
            FileKind::Plan => "a plan of a lesson",
            FileKind::Recipe => "a recipe by itself",
            FileKind::Room => "a room of your own library",
            FileKind::Class => "a class of your own library",
            FileKind::Tin => "a kind of tin of your own library",
            FileKind::Settings => "the window's settings",
            FileKind::Bakes => "a table of bakes",
            FileKind::Minutes => "a table of what parts of lessons took",
            FileKind::FromElsewhere => "for other programs, perhaps with a recipe in it",
        }
    }

    /// What takes it.
    fn taken_by(self, wanted: FileKind) -> &'static str {
        match self {
            FileKind::Lesson if wanted == FileKind::Plan => {
                "name the lesson first, and after --plan what was kept with --save"
            }
            FileKind::Lesson => {
                "use `ovenbell plan`, or name it under `lessons` in the file of a week"
            }
            FileKind::DayCopy => "use `ovenbell today`; a week names the lesson itself",
            FileKind::Week => "use `ovenbell week`, or open it in the window",
            FileKind::Plan => "name the lesson it was made of, and this after --plan",
            FileKind::Recipe => {
                "use `ovenbell tins`, `ovenbell nutrition` or `ovenbell recipe-out`, or write it \
                 under `recipes` of a lesson"
            }
            FileKind::Room | FileKind::Class | FileKind::Tin => {
                "the window brings it into a lesson, from the library; it is no file to open"
            }
            FileKind::Settings => "name a lesson; the window looks after this file by itself",
            FileKind::Bakes => "name a lesson; commands go by such a table after --outcomes",
            FileKind::Minutes => {
                "name a lesson; `ovenbell afterwards` looks after such a table by itself"
            }
            FileKind::FromElsewhere => "use `ovenbell recipe-in`, or open it in the window",
        }
    }

    /// Whether a text of one kind is good where another is wanted.
    fn is_good_for(self, wanted: FileKind) -> bool {
        self == wanted || (self, wanted) == (FileKind::DayCopy, FileKind::Lesson)
    }
}

/// The kind of a text, sound or not, as far as it cannot be taken for another: nothing
/// of a text that has the marks of several, of which the one wanted may be one.
fn kind_of(text: &str, locator: &Locator<'_>, wanted: FileKind) -> Option<FileKind> {
    let heading = text.lines().next().unwrap_or_default();
    for (kind, columns) in
        [(FileKind::Bakes, &outcomes::COLUMNS), (FileKind::Minutes, &past_minutes::COLUMNS)]
    {
        if heading.to_lowercase().starts_with(&columns[..3].join(",")) {
            return Some(kind);
        }
    }
    if text.trim_start().starts_with('<') {
        return Some(FileKind::FromElsewhere);
    }
    let has = |field: &str| locator.value(&Path::root().field(field)).is_some();
    let marked = |marks: &[&str]| marks.iter().any(|field| has(field));
    let is_wanted = |(kind, marks): &(FileKind, &[&str])| *kind == wanted && marked(marks);
    if MARKS.iter().any(is_wanted) {
        return None;
    }
    let (kind, _) = MARKS.iter().find(|(kind, marks)| {
        // Only those written by themselves have no format number.
        let numbered = matches!(kind, FileKind::Week | FileKind::Lesson | FileKind::Plan);
        numbered == has("format") && marked(marks)
    })?;
    let of_day = *kind == FileKind::Lesson && has("today");
    Some(if of_day { FileKind::DayCopy } else { *kind })
}

/// What is wrong with a text that is empty, or of another kind than is wanted.
pub(super) fn other_kind(text: &str, locator: &Locator<'_>, wanted: FileKind) -> Option<Finding> {
    let at = locator.place(&Path::root());
    if tokens(text).next().is_none() {
        let what = if text.trim().is_empty() { "" } else { ", but for comments" };
        let message = format!("the file is empty{what}");
        let hint = "there is nothing in it to read: take another";
        return Some(Finding::error("empty-file", Path::root(), message).hint(hint).at(at));
    }
    let kind = kind_of(text, locator, wanted).filter(|kind| !kind.is_good_for(wanted))?;
    let code = if kind == FileKind::Recipe { "recipe-by-itself" } else { "another-kind" };
    let message = format!("this is {}, not a {}", kind.called(), wanted.word());
    Some(Finding::error(code, Path::root(), message).hint(kind.taken_by(wanted)).at(at))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(text: &str, wanted: FileKind) -> Option<String> {
        other_kind(text, &Locator::new(text), wanted).map(|f| f.message)
    }

    #[test]
    fn what_was_given_is_called_by_its_name() {
        use FileKind::{Lesson, Plan, Recipe, Week};
        for (text, wanted, expected) in [
            (
                "(format: 1, week: \"2026-11-30\", bells: {",
                Lesson,
                "a department's week, not a lesson",
            ),
            ("(format: 2, recipes: [], groups: [", Week, "a lesson, not a week"),
            (
                "(format: 2, recipes: [], today: ())",
                Week,
                "a lesson's copy for the day, not a week",
            ),
            ("(format: 1, choices: [])", Lesson, "a plan of a lesson, not a lesson"),
            ("(format: 2, room: (), groups: [])", Plan, "a lesson, not a plan"),
            ("(name: \"x\", methods: [])", Lesson, "a recipe by itself, not a lesson"),
            ("(name: \"x\", ovens: [])", Lesson, "a room of your own library, not a lesson"),
            (
                "(name: \"x\", rim_mm: (1, 2))",
                Recipe,
                "a kind of tin of your own library, not a recipe",
            ),
            ("(dark: false, hints_gone: [])", Lesson, "the window's settings, not a lesson"),
            ("date,recipe,tin,oven\n", Lesson, "a table of bakes, not a lesson"),
            (
                "<!doctype html>",
                Lesson,
                "for other programs, perhaps with a recipe in it, not a lesson",
            ),
        ] {
            assert_eq!(told(text, wanted), Some(format!("this is {expected}")), "{text}");
        }
        assert_eq!(told(" \n", Lesson).as_deref(), Some("the file is empty"));
        assert_eq!(
            told("// soon\n", Lesson).as_deref(),
            Some("the file is empty, but for comments")
        );
    }

    #[test]
    fn what_may_be_what_is_wanted_is_left_to_be_read() {
        for text in [
            "()",
            "(format: 2, title: \"x\")",
            "(format: 2, week: 1, recipes: [",
            "(format: 2, room: (), choices: [])",
            "(format: 2, recipes: [], today: ())",
            "no lesson at all",
            "(((",
        ] {
            assert_eq!(told(text, FileKind::Lesson), None, "{text}");
        }
    }
}
