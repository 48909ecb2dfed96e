//! The shape a tin gives to what is in it.

use std::f64::consts::PI;

use super::fault::{BakeError, positive};
use crate::model::TinForm;
use crate::units::{Millilitres, UnitError};

/// No tin is deeper than this, in metres.
const DEEPEST: f64 = 0.5;
/// No tin is wider than this, in metres.
const WIDEST: f64 = 5.0;
const CUBIC_METRES_PER_MILLILITRE: f64 = 1e-6;

/// The plan of a tin seen from above, inner sizes in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Plan {
    /// A round tin, or one hole of a tray at its mean diameter.
    Round {
        /// Diameter, m.
        across: f64,
    },
    /// A square, oblong, loaf or foil tin at its mean sides.
    Rect {
        /// Length, m.
        long: f64,
        /// Width, m.
        wide: f64,
    },
}

/// A checked plan: every length finite, above nought and at most five metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shape(Plan);

fn centimetres(what: &'static str, value: f64) -> Result<f64, BakeError> {
    let metres = positive(what, value)? / 100.0;
    if metres > WIDEST {
        let high = 100.0 * WIDEST;
        return Err(UnitError::OutOfRange { what, value, low: 0.0, high }.into());
    }
    Ok(metres)
}

impl Shape {
    /// A round tin, from its inner diameter in centimetres.
    ///
    /// # Errors
    /// If that is no plausible length.
    pub fn round(across: f64) -> Result<Self, BakeError> {
        Ok(Self(Plan::Round { across: centimetres("a diameter", across)? }))
    }

    /// A rectangular tin, from its inner sides in centimetres.
    ///
    /// # Errors
    /// If one is no plausible length.
    pub fn rectangular(long: f64, wide: f64) -> Result<Self, BakeError> {
        Ok(Self(Plan::Rect {
            long: centimetres("a length", long)?,
            wide: centimetres("a width", wide)?,
        }))
    }

    /// A tapered hole, from its diameters at rim and base in centimetres: a
    /// cylinder of the mean diameter.
    ///
    /// # Errors
    /// If one is no plausible length.
    pub fn tapered_hole(rim: f64, base: f64) -> Result<Self, BakeError> {
        let rim = centimetres("a diameter at the rim", rim)?;
        let base = centimetres("a diameter at the base", base)?;
        Ok(Self(Plan::Round { across: f64::midpoint(rim, base) }))
    }

    /// The shape of a tin of the lesson; of one hole, for a tray of them.
    ///
    /// # Errors
    /// For a flat sheet, which gives no shape, and for a size of nought.
    pub fn of(form: &TinForm) -> Result<Self, BakeError> {
        let cm = |mm: crate::units::Millimetres| f64::from(mm.get()) / 10.0;
        match *form {
            TinForm::Round { across } | TinForm::Holes { across, .. } => Self::round(cm(across)),
            TinForm::Rect { long, wide } => Self::rectangular(cm(long), cm(wide)),
            TinForm::Sheet => Err(BakeError::NoShape),
        }
    }

    /// Its plan, in metres.
    pub fn plan(&self) -> Plan {
        self.0
    }

    /// Plan area, m².
    pub fn area(&self) -> f64 {
        match self.0 {
            Plan::Round { across } => PI * across * across / 4.0,
            Plan::Rect { long, wide } => long * wide,
        }
    }

    /// Perimeter of the plan, m.
    pub fn perimeter(&self) -> f64 {
        match self.0 {
            Plan::Round { across } => PI * across,
            Plan::Rect { long, wide } => 2.0 * (long + wide),
        }
    }

    /// Depth of so much raw mixture, m: above 0, at most half a metre.
    ///
    /// # Errors
    /// If there is none, or if it would stand deeper than any tin is high.
    pub fn depth(&self, volume: Millilitres) -> Result<f64, BakeError> {
        let depth = volume.get() * CUBIC_METRES_PER_MILLILITRE / self.area();
        if depth <= 0.0 {
            return Err(BakeError::NoDepth);
        }
        if depth > DEEPEST {
            return Err(BakeError::TooDeep { centimetres: 100.0 * depth });
        }
        Ok(depth)
    }

    /// What it holds to the brim at an inner depth in centimetres.
    ///
    /// # Errors
    /// If the depth is not above nought, or the volume implausible.
    pub fn capacity(&self, depth: f64) -> Result<Millilitres, BakeError> {
        let metres = centimetres("a depth", depth)?;
        Ok(Millilitres::new(self.area() * metres / CUBIC_METRES_PER_MILLILITRE)?)
    }
}

/// What a tapered hole or sloping tin holds, from the plan areas at rim and
/// base (m²) and its inner depth in centimetres: the frustum of a cone or
/// pyramid, exactly.
///
/// # Errors
/// If a size is not above nought, or the volume implausible.
pub fn frustum(rim: &Shape, base: &Shape, depth: f64) -> Result<Millilitres, BakeError> {
    let metres = centimetres("a depth", depth)?;
    let (top, bottom) = (rim.area(), base.area());
    let mean = (top + bottom + (top * bottom).sqrt()) / 3.0;
    Ok(Millilitres::new(mean * metres / CUBIC_METRES_PER_MILLILITRE)?)
}

/// The share of a tin's capacity that so much raw mixture fills; more than 1
/// if it runs over.
///
/// # Errors
/// If the tin holds nothing.
pub fn fill_share(mixture: Millilitres, capacity: Millilitres) -> Result<f64, BakeError> {
    Ok(mixture.get() / positive("what the tin holds", capacity.get())?)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Millimetres;

    const ML_PER_US_CUP: f64 = 236.588_236_5; // NIST SP 811

    #[test]
    fn areas_depths_and_capacities() -> Result<(), BakeError> {
        let round = Shape::round(20.0)?;
        assert!((round.area() - 0.031_415_926_5).abs() < 1e-10);
        assert!((round.depth(Millilitres::new(1000.0)?)? - 0.031_830_988_6).abs() < 1e-9);
        let loaf = Shape::rectangular(22.0, 11.5)?;
        assert!((loaf.capacity(7.0)?.get() - 1771.0).abs() < 1e-9);
        assert!((loaf.perimeter() - 0.67).abs() < 1e-12);
        let share = fill_share(Millilitres::new(885.5)?, loaf.capacity(7.0)?)?;
        assert!((share - 0.5).abs() < 1e-12);
        Ok(())
    }

    #[test]
    fn geometry_agrees_with_customary_capacities() -> Result<(), BakeError> {
        // US baking charts, in cups, which round down to tins filled short of
        // the brim: geometry gives a little more, never less.
        let inch = 2.54;
        let cases = [
            (Shape::round(8.0 * inch)?, 2.0, 6.0, 7.0),
            (Shape::round(9.0 * inch)?, 2.0, 8.0, 9.0),
            (Shape::rectangular(8.0 * inch, 8.0 * inch)?, 2.0, 8.0, 9.0),
            (Shape::rectangular(13.0 * inch, 9.0 * inch)?, 2.0, 14.0, 16.5),
        ];
        for (shape, deep, low, high) in cases {
            let cups = shape.capacity(deep * inch)?.get() / ML_PER_US_CUP;
            assert!((low..=high).contains(&cups), "{shape:?}: {cups}");
        }
        // A standard muffin hole, about 100 to 120 ml (half a US cup).
        let hole = frustum(&Shape::round(7.0)?, &Shape::round(5.2)?, 3.5)?.get();
        assert!((95.0..=120.0).contains(&hole), "{hole}");
        Ok(())
    }

    #[test]
    fn nonsense_is_refused() -> Result<(), BakeError> {
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9] {
            assert!(Shape::round(bad).is_err());
            assert!(Shape::rectangular(20.0, bad).is_err());
            assert!(Shape::tapered_hole(bad, 5.0).is_err());
        }
        let tin = Shape::round(20.0)?;
        assert_eq!(tin.depth(Millilitres::new(0.0)?), Err(BakeError::NoDepth));
        assert!(matches!(tin.depth(Millilitres::new(1e5)?), Err(BakeError::TooDeep { .. })));
        assert_eq!(Shape::of(&TinForm::Sheet), Err(BakeError::NoShape));
        let hole = TinForm::Holes { count: 12, across: Millimetres::whole(60) };
        assert_eq!(Shape::of(&hole)?, Shape::round(6.0)?);
        Ok(())
    }
}
