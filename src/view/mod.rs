//! What a person is shown, as words and plain geometry, for screen, terminal
//! and paper alike.

pub mod assumed;
pub mod sentence;
pub mod words;
