//! Case files, and findings as a teacher reads them.

use std::fs;
use std::path::PathBuf;

use ovenbell::finding::Finding;

/// The case files of a folder below `tests/cases`, in order of their names.
pub fn cases(folder: &str) -> Vec<(PathBuf, String)> {
    let folder = format!("{}/tests/cases/{folder}", env!("CARGO_MANIFEST_DIR"));
    let mut cases: Vec<(PathBuf, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "ron"))
        .map(|path| (path.clone(), fs::read_to_string(&path).unwrap()))
        .collect();
    cases.sort();
    cases
}

/// Findings as a teacher reads them.
pub fn shown(findings: &[Finding]) -> String {
    findings.iter().map(|f| format!("{f}\n")).collect()
}
