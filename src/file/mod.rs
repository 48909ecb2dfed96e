//! Files: lessons and plans, read and written.

pub mod format;
pub mod library;
