//! Tests of the program as it is run in a terminal.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod answers;
