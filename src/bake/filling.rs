//! How many tins or holes a batch fills, and how full.

use super::fault::{BakeError, positive};
use super::geometry::fill_share;
use crate::units::{Millilitres, UnitError};

/// No class has more tins or holes than this.
const MOST: u32 = 1000;
/// A batch that runs over by less than this share of a tin still fits: binary
/// dust, not batter.
const DUST: f64 = 1e-9;

/// A batch shared evenly among tins of one kind, or among holes of a tray.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filling {
    /// How many tins or holes; at least 1.
    pub count: u32,
    /// Mixture in each.
    pub each: Millilitres,
    /// How much of what a tin holds to the brim that fills; above 0, and more
    /// than 1 where it runs over.
    pub share: f64,
}

impl Filling {
    /// The fewest tins that take a batch when none is filled further than
    /// `limit`, a share of what one of them holds to the brim (½ to ⅔ is
    /// common practice).
    ///
    /// # Errors
    /// If there is no batch, if a tin holds nothing, if the limit is not above
    /// 0 and at most 1, or if it takes more than 1000 of them.
    pub fn of_fewest(
        batch: Millilitres,
        capacity: Millilitres,
        limit: f64,
    ) -> Result<Self, BakeError> {
        let what = "how far a tin is filled, as a share of what it holds,";
        if positive(what, limit)? > 1.0 {
            return Err(UnitError::OutOfRange { what, value: limit, low: 0.0, high: 1.0 }.into());
        }
        let tins = (fill_share(batch, capacity)? / limit - DUST).ceil().max(1.0);
        if tins > f64::from(MOST) {
            let (low, high) = (1.0, f64::from(MOST));
            let what = "the number of tins a batch fills";
            return Err(UnitError::OutOfRange { what, value: tins, low, high }.into());
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // 1 to MOST
        Self::of_count(batch, capacity, tins as u32)
    }

    /// A batch shared among so many tins, however full that makes them.
    ///
    /// # Errors
    /// If there is no batch, if a tin holds nothing, or if the count is not 1
    /// to 1000.
    pub fn of_count(
        batch: Millilitres,
        capacity: Millilitres,
        count: u32,
    ) -> Result<Self, BakeError> {
        if !(1..=MOST).contains(&count) {
            let (what, high) = ("a number of tins", f64::from(MOST));
            let value = f64::from(count);
            return Err(UnitError::OutOfRange { what, value, low: 1.0, high }.into());
        }
        let each = positive("a batch of mixture", batch.get())? / f64::from(count);
        let each = Millilitres::new(each)?;
        Ok(Self { count, each, share: fill_share(each, capacity)? })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ml(value: f64) -> Millilitres {
        Millilitres::new(value).unwrap_or_else(|e| panic!("{e}"))
    }

    #[test]
    fn the_fewest_tins_within_the_limit() -> Result<(), BakeError> {
        // 790 ml of foam, holes of 100 ml filled by two thirds: 11.85, so 12.
        let buns = Filling::of_fewest(ml(790.0), ml(100.0), 2.0 / 3.0)?;
        assert_eq!(buns.count, 12);
        assert!((buns.each.get() - 790.0 / 12.0).abs() < 1e-12);
        assert!((buns.share - 0.658_333).abs() < 1e-6);
        // Exactly full is not one more: 0.1 + 0.2 in tins of 0.3.
        assert_eq!(Filling::of_fewest(ml(0.1 + 0.2), ml(0.3), 1.0)?.count, 1);
        assert_eq!(Filling::of_fewest(ml(600.0), ml(100.0), 0.5)?.count, 12);
        assert_eq!(Filling::of_fewest(ml(601.0), ml(100.0), 0.5)?.count, 13);
        assert_eq!(Filling::of_fewest(ml(1.0), ml(100.0), 0.5)?.count, 1);
        Ok(())
    }

    #[test]
    fn a_given_number_of_tins_says_how_full() -> Result<(), BakeError> {
        let two = Filling::of_count(ml(1000.0), ml(400.0), 2)?;
        assert!((two.each.get() - 500.0).abs() < 1e-12 && (two.share - 1.25).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn nonsense_is_refused() {
        let (batch, tin) = (ml(500.0), ml(100.0));
        for limit in [0.0, -0.5, 1.01, f64::NAN, f64::INFINITY] {
            assert!(Filling::of_fewest(batch, tin, limit).is_err(), "{limit}");
        }
        assert!(Filling::of_fewest(ml(0.0), tin, 0.5).is_err());
        assert!(Filling::of_fewest(batch, ml(0.0), 0.5).is_err());
        assert!(Filling::of_fewest(ml(100_000.0), ml(1.0), 0.5).is_err());
        assert!(Filling::of_count(batch, tin, 0).is_err());
        assert!(Filling::of_count(batch, tin, 1001).is_err());
        assert!(Filling::of_count(ml(0.0), tin, 2).is_err());
    }
}
