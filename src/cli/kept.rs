//! Files that a command keeps for its user: never written over what was read,
//! over each other, or over a file of another kind.

use std::path::Path;
use std::sync::Arc;

use super::{CANNOT_READ, say, wrong};
use crate::export::{calendar, order, table};
use crate::file::{self, Disk, RealDisk, are_same, backup_path};
use crate::interchange;
use crate::papers::pdf;

/// A kind of file that is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// A plan.
    Plan,
    /// A lesson of a day.
    Day,
    /// A lesson.
    Lesson,
    /// Sheets that were printed to a PDF.
    Sheets,
    /// Lessons as a calendar.
    Calendar,
    /// A plan as a table.
    Table,
    /// An order as a table.
    Order,
    /// A recipe by itself.
    Recipe,
    /// A recipe for other programs.
    RecipeForOthers,
}

impl Kind {
    fn name(self) -> &'static str {
        match self {
            Kind::Plan => "plan",
            Kind::Day => "lesson of a day",
            Kind::Lesson => "lesson",
            Kind::Sheets => "PDF of ovenbell's",
            Kind::Calendar => "calendar of ovenbell's",
            Kind::Table => "table of a plan",
            Kind::Order => "table of an order",
            Kind::Recipe => "recipe of ovenbell's",
            Kind::RecipeForOthers => "recipe that ovenbell wrote for others",
        }
    }

    fn is_kind_of(self, bytes: &[u8]) -> bool {
        let text = std::str::from_utf8(bytes).unwrap_or("not text");
        match self {
            Kind::Plan => file::is_plan(text),
            Kind::Lesson => file::read_lesson_shapes(text).is_ok(),
            Kind::Day => file::read_lesson_shapes(text).is_ok_and(|file| file.today.is_some()),
            Kind::Sheets => pdf::is_ours(bytes),
            Kind::Calendar => calendar::is_ours(text),
            Kind::Table => table::is_ours(text),
            Kind::Order => order::is_ours(text),
            Kind::Recipe => file::read_recipe(text).is_ok(),
            Kind::RecipeForOthers => interchange::is_ours(text),
        }
    }
}

/// Says so if files may not be kept where that is asked for.
///
/// # Errors
/// The exit status that goes with it.
pub(super) fn may_keep(to: &[(Option<&Path>, Kind)], read: &[Option<&Path>]) -> Result<(), u8> {
    let to: Vec<(&Path, Kind)> =
        to.iter().filter_map(|&(path, kind)| Some((path?, kind))).collect();
    for (i, &(path, kind)) in to.iter().enumerate() {
        let same = |other: &Path| is_same(path, other);
        // What is there before is kept under this name.
        let before = backup_path(&RealDisk.resolved(path));
        let others = || read.iter().flatten().copied().chain(to.iter().map(|(other, _)| *other));
        let refused = if read.iter().flatten().any(|other| same(other)) {
            Some("this file is read by the command, and is not written over".to_owned())
        } else if others().any(|other| is_same(&before, other)) {
            Some(format!("what is there would be kept as {}, which is named too", before.display()))
        } else if to[..i].iter().any(|(other, _)| same(other)) {
            Some("two things cannot be kept in the same file".to_owned())
        } else {
            in_the_way(path, kind)
        };
        if let Some(why) = refused {
            let words = say::said(&format!("{why}; name another file"));
            wrong(&format!("{}: {words}", path.display()));
            return Err(CANNOT_READ);
        }
    }
    Ok(())
}

fn is_same(one: &Path, other: &Path) -> bool {
    RealDisk.resolved(one) == RealDisk.resolved(other) || are_same(one, other)
}

/// What stands at a path and is not of this kind, or is in use.
pub(super) fn in_the_way(path: &Path, kind: Kind) -> Option<String> {
    let disk = Arc::new(RealDisk) as Arc<dyn Disk>;
    file::in_the_way(&disk, path, &|bytes| kind.is_kind_of(bytes), kind.name())
}
