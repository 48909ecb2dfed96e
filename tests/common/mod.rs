//! What several tests share.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]
#![allow(dead_code, unused_imports)] // each test uses its part of it

pub mod bend;
mod cases;
pub mod faulty;
pub mod generate;
pub mod psplib;
pub mod rich;

pub use cases::{cases, shown};
