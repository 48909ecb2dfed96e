//! Tests of the window and of what it keeps: documents, copies, undo. No display
//! is needed.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

#[path = "../common"]
mod common {
    pub mod edits;
    pub mod faulty;
    pub mod generate;
    pub mod hands;
    pub mod how_many;
    pub mod memory;
    pub mod rich;
    pub mod skipped;
    pub mod spoken;
}

mod allocated;
mod by_hand;
mod changes;
mod class_view;
#[cfg(target_os = "linux")]
mod disks;
#[cfg(target_os = "linux")]
mod disks_in_trouble;
mod document_care;
mod evening;
mod fields;
mod first_use;
mod help;
mod ingredients;
mod kept_pictures;
mod killed;
mod killed_beside;
mod kinds_of_files;
mod odds;
mod papers;
#[cfg(feature = "pictures")]
mod pictures;
mod places;
mod random_input;
mod recipe_page;
mod recipe_read;
mod rehearse;
mod setting_up;
mod the_day;
mod today;
mod typing;
mod undo;
mod unsaved_work;
mod week;
mod whole_job;
mod words;
