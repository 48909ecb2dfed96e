//! Broken, odd and strange files of every kind, made of good ones: each is read, and
//! whatever is accepted is worked with. Nothing may panic, and nothing may hang.
//!
//! `cargo run --example fuzz -- [KIND ...] [--seconds N | --inputs N] [--seed S]
//! [--threads N] [--longest SECONDS]`: so many seconds, or inputs, in all, in equal
//! parts of each kind (all of them unless named). An input is made of its kind and its
//! seed alone: `fuzz KIND --inputs 1 --seed S` makes it anew, and `fuzz KIND --file
//! FILE` reads a file that was kept. Input number `n` of a run has the seed `S + n`.
//! What fails is written to `target/fuzz`; should the system end the program,
//! `target/fuzz/at-work-*` say what each thread was at.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod at_work;
mod caught;
mod corpus;
mod door;
mod input;
mod kind;
mod mutate;
mod run;
mod watch;
mod words;

use std::process::ExitCode;

use clap::Parser as _;

fn main() -> ExitCode {
    let words = words::Words::parse();
    caught::keep_quiet();
    let found = match &words.file {
        Some(file) => run::one_file(&words, file),
        None => run::all(&words),
    };
    match found {
        Ok(()) => ExitCode::SUCCESS,
        Err(told) => {
            eprintln!("{told}");
            ExitCode::FAILURE
        }
    }
}
