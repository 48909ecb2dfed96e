//! Odds over a plan: lenses and checkpoints on its board, squares in the head,
//! and what the card says. They stand beside the verdict and never turn it.

mod bars;
mod card;
mod on_board;
mod squares;
pub mod words;

pub use card::{CauseLine, Look, OddsCard, OddsLine};
pub use on_board::{LensOfRow, LookMark, OddsOfBoard};
pub use squares::{SQUARES, Squares};

use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::play::{GroupToGive, Odds, Spread};

/// Odds that have been worked out, of a lesson and its plan.
#[derive(Debug, Clone, Copy)]
pub struct WorkedOut<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its plan.
    pub plan: &'a CheckedPlan,
    /// Each spread it was played with, the widest first, and its odds; at
    /// least one.
    pub played: &'a [(Spread, Odds)],
    /// What its groups have to give.
    pub gives: &'a [GroupToGive],
}

impl<'a> WorkedOut<'a> {
    /// The odds with the widest spread, from which all but ranges is told.
    fn widest(&self) -> Option<&'a Odds> {
        self.played.first().map(|(_, odds)| odds)
    }

    /// A share with each spread.
    fn shares(&self, of: impl Fn(&Odds) -> f64) -> Vec<f64> {
        self.played.iter().map(|(_, odds)| of(odds)).collect()
    }
}
