//! A word in a command's place that is no command.

use std::path::Path;

use clap::CommandFactory;
use clap::error::{Error, ErrorKind};

use super::Cli;
use crate::file::did_you_mean;

/// What is wrong with the word that stands where a command is to stand: more follows it,
/// so that it cannot be the lesson for the window.
pub(super) fn in_its_place(error: &Error) -> Option<String> {
    let follows = matches!(error.kind(), ErrorKind::ArgumentConflict | ErrorKind::UnknownArgument);
    let word = std::env::args().nth(1).filter(|word| follows && may_be_command(word))?;
    (Cli::command().find_subcommand(&word).is_none()).then(|| told(&word))
}

/// What is wrong with a name for the window that is hardly a file's: nothing of that
/// name is there, and a command is called nearly so.
pub(super) fn instead_of_lesson(lesson: &Path) -> Option<String> {
    let word = lesson.to_str().filter(|word| may_be_command(word))?;
    let told = told(word);
    told.contains("did you mean").then_some(told)
}

/// Lessons' names have an ending or a folder; a command's has neither.
fn may_be_command(word: &str) -> bool {
    !word.starts_with('-') && !word.contains(['.', '/', '\\']) && !Path::new(word).exists()
}

fn told(word: &str) -> String {
    let cli = Cli::command();
    let names: Vec<&str> = cli.get_subcommands().map(clap::Command::get_name).collect();
    let hint = did_you_mean(word, names.iter().copied());
    let word = crate::finding::shortened(word, 40);
    format!("ovenbell has no command \"{word}\": {hint}\n    see: ovenbell --help")
}
