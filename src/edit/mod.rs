//! The door through which a lesson's file is changed: what every change of it
//! has, the changes made on the cards, and the file's entries by name.

mod card;
mod entry;
mod file_change;
mod lists;

pub use card::Edit;
pub use entry::{one_of, own_group, set_oven_out};
pub use file_change::FileChange;
pub use lists::{
    keep_known_steps, methods_of, put_first, put_last, retain_that_fix, tin_label, tin_labels,
};
