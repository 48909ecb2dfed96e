//! Reads inputs by the library's own doors, and works with what is accepted.

mod day;
mod kept;
mod lesson;
mod outward;
mod plan;
mod recipe;
#[cfg(feature = "gui")]
mod settings;
mod tables;
mod week;

use ovenbell::finding::Finding;

use crate::input::Input;
use crate::kind::Kind;

/// Whether a file of that kind is accepted. It is refused with findings, which can be
/// told.
pub fn is_accepted(kind: Kind, input: &Input<'_>) -> bool {
    match kind {
        Kind::Lesson => lesson::is_accepted(input),
        Kind::Kept => kept::is_accepted(input),
        Kind::Day => day::is_accepted(input),
        Kind::Plan => plan::is_accepted(input),
        Kind::Outcomes => tables::outcomes(input),
        Kind::Minutes => tables::minutes(input),
        Kind::Week => week::is_accepted(input),
        Kind::Recipe => recipe::is_accepted(input),
        Kind::JsonLd | Kind::Page => recipe::from_elsewhere(input),
        #[cfg(feature = "gui")]
        Kind::Settings => settings::is_accepted(input),
    }
}

/// What was read, unless it was refused with a reason.
fn or_told<T>(read: Result<T, Vec<Finding>>) -> Option<T> {
    match read {
        Ok(read) => Some(read),
        Err(findings) => {
            assert!(!findings.is_empty(), "refused without a reason");
            findings.iter().for_each(can_be_told);
            None
        }
    }
}

/// Writing it in words must not fail, and no word is a page long.
fn can_be_told(finding: &Finding) {
    let words = finding.to_string();
    assert!(!words.trim().is_empty());
    assert!(words.len() < 20_000, "a finding of {} bytes: {words:.200}", words.len());
}
