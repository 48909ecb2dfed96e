//! Files: lessons and plans, read and written.
//!
//! A lesson file becomes the shapes of [`mod@format`], and these become a
//! [`crate::model::Lesson`] or findings by way of `build`. A plan file names
//! groups, steps and ovens; it is read against its lesson.

mod build;
mod disk;
pub mod format;
mod layout;
pub mod library;
mod load;
pub mod locate;
mod merge;
pub mod outcomes;
pub mod places;
mod plan_file;
mod plan_names;
mod plan_shapes;
mod save;
mod syntax;
mod tokens;

pub use build::touches_food_by_name;
pub use disk::{Backup, backup_path, write_atomically};
pub use load::{
    LARGEST_FILE, Loaded, lesson_of_shapes, lesson_or_findings, load_lesson, load_lesson_knowing,
    load_recipe, read_lesson, read_lesson_knowing, read_lesson_shapes,
};
pub use merge::merged;
pub use plan_file::{load_plan, read_plan, write_plan};
pub use save::{SaveError, save_lesson, write_lesson};
