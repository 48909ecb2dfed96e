//! Ten squares for ten lessons: in how many all are out.

use super::words::{Tenths, tenths};

/// How many squares there are.
pub const SQUARES: u8 = 10;

/// Of ten squares, how many are filled and how many hatched; the others are
/// empty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Squares {
    /// Out even with the widest spread.
    pub filled: u8,
    /// Out with the narrowest spread only.
    pub hatched: u8,
}

impl Squares {
    /// The squares of some shares, one for each spread; they say what the words
    /// say.
    pub fn of(shares: &[f64]) -> Self {
        let count = |share| match tenths(share) {
            Tenths::Seldom => 0,
            Tenths::Of(n) => n,
            Tenths::NearlyAlways => SQUARES,
        };
        let counts = || shares.iter().map(|&share| count(share));
        let (least, most) = (counts().min().unwrap_or(0), counts().max().unwrap_or(0));
        Self { filled: least, hatched: most - least }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_say_what_the_words_say() {
        let of = |shares: &[f64]| {
            let Squares { filled, hatched } = Squares::of(shares);
            (filled, hatched)
        };
        assert_eq!(of(&[0.21, 0.68]), (2, 5));
        assert_eq!(of(&[0.68, 0.21]), (2, 5));
        assert_eq!(of(&[0.62]), (6, 0));
        assert_eq!(of(&[0.04, 1.0]), (0, 10));
        assert_eq!(of(&[0.94, 0.96]), (9, 1));
        assert_eq!(of(&[]), (0, 0));
    }
}
