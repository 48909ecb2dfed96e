//! The PDF files, as other programs have them.

use std::collections::BTreeSet;
use std::fs;
use std::process::Command;

use ovenbell::papers::paper::{Paper, Print};
use ovenbell::papers::{Part, pdf};

use super::{DECODINGS, lesson, printed};
use crate::common::pdf::PdfFile;
use crate::common::planned::planned;
use crate::common::skipped::skipped;

#[test]
fn a_reader_finds_title_language_tags_and_faces() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let made = printed(&lesson, &plan, &Part::ALL, Print::default());
    assert!(pdf::is_ours(&made.bytes));
    assert!(!pdf::is_ours(b"%PDF-1.7 of somebody else"));
    let file = PdfFile::read(&made.bytes);
    assert_eq!((file.title(), file.language()), (lesson.title.clone(), "en-GB".to_owned()));
    assert!(file.about().contains("pdfuaid:part>1<"), "it does not say that all can read it");
    let contents = file.contents();
    assert_eq!(contents[..3], ["Running order", "Oven sheet", "Teacher's lesson sheet"]);
    let document = file.tags();
    let all = document.all();
    let kinds = ["H1", "H2", "P", "Table", "TR", "TH", "TD", "L", "LI", "LBody", "Figure"];
    for kind in kinds {
        assert!(all.iter().any(|tag| tag.kind == kind), "nothing is tagged {kind}");
    }
    assert_eq!(document.children.len(), contents.len(), "a part for each sheet");
    let mut figures = all.iter().filter(|tag| tag.kind == "Figure");
    assert!(figures.all(|tag| tag.spoken.as_ref().is_some_and(|words| words.len() > 5)));
    for table in all.iter().filter(|tag| tag.kind == "Table") {
        let across: BTreeSet<usize> = table.children.iter().map(|row| row.children.len()).collect();
        assert_eq!(across.len(), 1, "rows of {across:?} cells");
    }
    let faces = file.faces();
    assert!(faces.len() >= 2, "plain and bold: {:?}", faces.keys());
    for (name, program) in faces {
        assert!(program.starts_with(&[0, 1, 0, 0]), "{name} is no TrueType face");
        assert!(program.len() < 40_000, "more of {name} is embedded than its letters");
    }
    assert!(file.is_gone_through_in_order());
    let a4 = |size: &(f64, f64)| (size.0 - 595.276).abs() < 0.01 && (size.1 - 841.89).abs() < 0.01;
    assert!(a4(&file.sizes()[0]), "{:?}", file.sizes());
}

/// qpdf, which shares nothing with what made the files, finds nothing wrong.
#[test]
fn another_program_finds_the_files_sound() {
    if Command::new("qpdf").arg("--version").output().is_err() {
        skipped("qpdf is not present here (Debian: qpdf)");
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let large = Print { paper: Paper::Letter, large: true, symbols: true, ..Print::default() };
    for (name, how) in [("demo.ron", Print::default()), ("d-sponges-gas.ron", large)] {
        let lesson = lesson(name);
        let plan = planned(&lesson, DECODINGS);
        let path = folder.path().join("sheets.pdf");
        fs::write(&path, printed(&lesson, &plan, &Part::ALL, how).bytes).unwrap();
        let output = Command::new("qpdf").arg("--check").arg(&path).output().unwrap();
        let told = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(output.status.success() && told.is_empty(), "{name}: {told}");
    }
}
