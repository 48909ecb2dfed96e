//! The program. All it does is in the library.

use std::process::ExitCode;

use ovenbell::cli::{self, Invocation};

fn main() -> ExitCode {
    match cli::run() {
        Invocation::Done(status) => status,
        Invocation::Window(window) => open(&window),
    }
}

#[cfg(feature = "gui")]
fn open(window: &cli::Window) -> ExitCode {
    let start = ovenbell::app::Start {
        file: window.lesson.clone(),
        size: window.size,
        dark: window.theme.as_deref().map(|theme| theme == "dark"),
        contrast: window.contrast,
        text: window.text,
        english: window.english,
        remember: !window.forget,
        outcomes: ovenbell::file::data_folders::outcomes_file(),
        ..Default::default()
    };
    match ovenbell::app::run(start) {
        Ok(()) => ExitCode::SUCCESS,
        Err(ovenbell::app::NoWindow::AnyMore(error)) => {
            cli::terminal::wrong(&format!(
                "the window's display is gone: {error}\nWhat was not saved is there again when the \
                 lesson is opened."
            ));
            ExitCode::FAILURE
        }
        Err(ovenbell::app::NoWindow::Here(error)) => {
            cli::terminal::wrong(&format!(
                "no window can be opened here: {error}\nThe plan in words instead:\n"
            ));
            cli::without_window(window)
        }
    }
}

#[cfg(not(feature = "gui"))]
fn open(window: &cli::Window) -> ExitCode {
    cli::without_window(window)
}
