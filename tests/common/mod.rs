//! What several tests share.
#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]
#![allow(dead_code)] // each test uses its part of it

pub mod bend;
pub mod generate;
pub mod psplib;
pub mod rich;
