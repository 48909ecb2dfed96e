//! The program as it is run in a terminal.

use std::path::Path;
use std::process::{Command, Output};

/// Commands that look for no plan.
const PLAN_NOTHING: [&str; 2] = ["order", "begin-week"];

/// Runs it with few plans built, and without any data of a user's.
pub fn ovenbell(args: &[&str]) -> Output {
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
    program.args(args);
    if !args.iter().any(|arg| PLAN_NOTHING.contains(arg)) {
        program.args(["--decodings", "50"]);
    }
    program.env("OVENBELL_DATA", nowhere).output().unwrap()
}

/// The path of a lesson of the project.
pub fn lesson(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    path.to_str().unwrap().to_owned()
}
