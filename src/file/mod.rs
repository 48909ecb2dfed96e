//! Files: lessons and plans, read and written.
//!
//! A lesson file becomes the shapes of [`mod@format`], and these become a
//! [`crate::model::Lesson`] or findings by way of `understand`. A plan file names
//! groups, steps and ovens; it is read against its lesson. A week's file is read
//! as shapes and understood by the layer `week`.

mod autosave;
mod cells;
pub mod clear;
pub mod copies;
pub mod data_folders;
mod disk;
pub mod file_hold;
pub mod format;
mod in_the_way;
mod layout;
mod lesson_id;
pub mod library;
mod load;
mod locate;
mod lock_note;
mod merge;
mod noted_table;
mod older;
pub mod open_lesson;
mod other_kind;
pub mod outcomes;
pub mod own_library;
pub mod own_words;
pub mod past_minutes;
mod picture;
mod plain_file;
pub mod plain_words;
mod plan_file;
mod pointer;
mod rewrite;
pub mod safe_name;
mod safekeeping;
mod save;
mod strays;
mod syntax;
mod tokens;
pub mod told;
mod tree;
mod understand;
mod week;
mod week_copy;
mod write;

pub use autosave::keep_all;
pub use disk::{Access, Disk, Locked, RealDisk};
pub use in_the_way::in_the_way;
pub use lesson_id::{LessonId, NoLessonId};
pub use load::{
    LARGEST_FILE, Loaded, lesson_of_shapes, lesson_or_findings, load_lesson, load_lesson_knowing,
    load_recipe, read_lesson, read_lesson_knowing, read_lesson_shapes, read_recipe, text_of_file,
};
pub use merge::{merged, merged_week};
pub use picture::picture_in;
pub use plain_file::{NotPlain, are_same};
pub use plan_file::{is_plan, load_plan, read_plan, write_plan};
pub use pointer::{Target, doubt_of_day, id_of};
pub use rewrite::{NotRewritten, rewrite};
pub use save::{SaveError, write_lesson, write_recipe, write_week};
pub use understand::{dropped_by_name, touches_food_by_name};
pub use week::{
    WeekNotSaved, WeekText, did_you_mean, is_week, load_week, oven_names, read_week, save_week,
    save_week_as,
};
pub use week_copy::WeekCopy;
pub use write::{Backup, backup_path, write_atomically, write_new};
