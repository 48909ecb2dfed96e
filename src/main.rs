//! The program. All it does is in the library.

use std::process::ExitCode;

fn main() -> ExitCode {
    ovenbell::cli::run()
}
