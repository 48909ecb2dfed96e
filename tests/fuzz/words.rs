//! The words on the command line.

use std::path::PathBuf;
use std::time::Duration;

use clap::Parser;

use crate::kind::Kind;

/// Reads files of every kind that were made of good ones.
#[derive(Debug, Parser)]
pub struct Words {
    /// Kinds of files; all of them if none is named.
    #[arg(value_enum)]
    pub kinds: Vec<Kind>,
    /// For so many seconds in all.
    #[arg(long, default_value_t = 60, conflicts_with = "inputs")]
    pub seconds: u64,
    /// So many inputs in all.
    #[arg(long)]
    pub inputs: Option<u64>,
    /// The seed of the first input of each kind.
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
    /// Threads to work with.
    #[arg(long, default_value_t = 2, value_parser = clap::value_parser!(u16).range(1..=64))]
    pub threads: u16,
    /// An input that takes longer than so many seconds hangs.
    #[arg(long, default_value_t = 60)]
    pub longest: u64,
    /// Reads this file, as one of the kind that is named, and nothing else.
    #[arg(long)]
    pub file: Option<PathBuf>,
}

impl Words {
    /// The kinds that were asked for.
    pub fn asked(&self) -> Vec<Kind> {
        if self.kinds.is_empty() { Kind::all().to_vec() } else { self.kinds.clone() }
    }

    /// How much of each of so many kinds.
    pub fn limit(&self, kinds: usize) -> Limit {
        let kinds = u64::try_from(kinds).unwrap();
        match self.inputs {
            Some(inputs) => Limit::Inputs(inputs.div_ceil(kinds)),
            None => Limit::Time(Duration::from_millis(self.seconds * 1000 / kinds)),
        }
    }
}

/// When a kind has had enough.
#[derive(Debug, Clone, Copy)]
pub enum Limit {
    Inputs(u64),
    Time(Duration),
}
