//! Files: lessons and plans, read and written.
//!
//! A lesson file becomes the shapes of [`mod@format`], and these become a
//! [`crate::model::Lesson`] or findings by way of `build`. A plan file names
//! groups, steps and ovens; it is read against its lesson.

mod autosave;
mod build;
pub mod care;
pub mod clear;
pub mod copies;
mod disk;
pub mod format;
pub mod hold;
mod layout;
pub mod library;
mod load;
pub mod locate;
mod merge;
pub mod outcomes;
pub mod own_library;
pub mod own_words;
pub mod places;
pub mod plain_words;
mod plan_file;
mod plan_names;
mod plan_shapes;
pub mod safe_name;
mod safekeeping;
mod save;
mod syntax;
mod tokens;

pub use build::touches_food_by_name;
pub use disk::{Backup, Disk, RealDisk, backup_path, write_atomically};
pub use load::{
    LARGEST_FILE, Loaded, lesson_of_shapes, lesson_or_findings, load_lesson, load_lesson_knowing,
    load_recipe, read_lesson, read_lesson_knowing, read_lesson_shapes,
};
pub use merge::merged;
pub use plan_file::{load_plan, read_plan, write_plan};
pub use save::{SaveError, write_lesson};
