//! The program as it is run: what it prints, and its exit status.

mod findings;
mod kitchen;
mod on_the_day;
mod plan;
mod why_and_changes;

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

pub(super) fn ovenbell(args: &[&str]) -> Output {
    // Bakes that whoever runs the tests has noted are none of their business.
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
    program.args(args).env("OVENBELL_DATA", nowhere).output().unwrap()
}

pub(super) fn lesson(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    path.to_str().unwrap().to_owned()
}

pub(super) fn status(output: &Output) -> i32 {
    output.status.code().unwrap()
}

pub(super) fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).unwrap()
}

pub(super) fn json(output: &Output) -> serde_json::Value {
    serde_json::from_slice(&output.stdout).unwrap()
}

pub(super) fn written(folder: &tempfile::TempDir, name: &str, contents: &str) -> String {
    let path: PathBuf = folder.path().join(name);
    std::fs::write(&path, contents).unwrap();
    path.to_str().unwrap().to_owned()
}

fn demo_text() -> String {
    std::fs::read_to_string(lesson("demo.ron")).unwrap()
}
