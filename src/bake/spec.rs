//! Tins as they are written in one word: `round:20cm`, `rect:33x22.9cm`,
//! `hole:7x5cm`.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use super::fault::BakeError;
use super::geometry::{Shape, frustum};
use crate::units::Millilitres;

/// A tin, or one hole of a tray, as it was written.
#[derive(Debug, Clone, PartialEq)]
pub struct TinSpec {
    written: String,
    shape: Shape,
    /// Rim and base of a tapered hole.
    taper: Option<(Shape, Shape)>,
}

/// It is not written like a tin.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum SpecError {
    /// Neither shape nor sizes that are understood.
    #[error(
        "a tin reads like round:20cm, rect:33x22.9cm or hole:7x5cm (a hole's width at rim and \
         base), inner sizes in cm, mm or in"
    )]
    NotUnderstood,
    /// Sizes no tin has.
    #[error(transparent)]
    Size(#[from] BakeError),
}

/// A length in centimetres: a figure and its unit, or the unit that stands at
/// the end of all of them.
pub fn centimetres(text: &str) -> Option<f64> {
    lengths(text).and_then(|all| match all.as_slice() {
        [one] => Some(*one),
        _ => None,
    })
}

fn lengths(text: &str) -> Option<Vec<f64>> {
    const UNITS: [(&str, f64); 4] = [("mm", 0.1), ("cm", 1.0), ("in", 2.54), ("\"", 2.54)];
    let of_unit = |text: &str| UNITS.iter().find(|(unit, _)| text.ends_with(unit)).copied();
    let text = text.trim();
    let (last, _) = of_unit(text).unwrap_or(("", 1.0));
    text.split(['x', '×'])
        .map(|part| {
            let part = part.trim();
            let own = of_unit(part).or_else(|| of_unit(last)).unwrap_or(("", 1.0));
            let figure = part.strip_suffix(own.0).unwrap_or(part).trim_end();
            figure.parse::<f64>().ok().map(|figure| figure * own.1)
        })
        .collect()
}

impl FromStr for TinSpec {
    type Err = SpecError;

    /// Centimetres where no unit is written.
    fn from_str(text: &str) -> Result<Self, SpecError> {
        let written = text.trim().to_lowercase();
        let (form, sizes) = written.split_once(':').ok_or(SpecError::NotUnderstood)?;
        let sizes = lengths(sizes).ok_or(SpecError::NotUnderstood)?;
        let (shape, taper) = match (form.trim(), sizes.as_slice()) {
            ("round" | "hole", [across]) => (Shape::round(*across)?, None),
            ("rect", [side]) => (Shape::rectangular(*side, *side)?, None),
            ("rect", [long, wide]) => (Shape::rectangular(*long, *wide)?, None),
            ("hole", [rim, base]) => {
                let taper = (Shape::round(*rim)?, Shape::round(*base)?);
                (Shape::tapered_hole(*rim, *base)?, Some(taper))
            }
            _ => return Err(SpecError::NotUnderstood),
        };
        Ok(Self { written, shape, taper })
    }
}

impl TinSpec {
    /// Its shape; of a tapered hole at its mean diameter.
    pub fn shape(&self) -> Shape {
        self.shape
    }

    /// What it holds to the brim at an inner height in centimetres.
    ///
    /// # Errors
    /// If the height is not above nought, or the volume implausible.
    pub fn capacity(&self, height: f64) -> Result<Millilitres, BakeError> {
        match &self.taper {
            Some((rim, base)) => frustum(rim, base, height),
            None => self.shape.capacity(height),
        }
    }
}

impl fmt::Display for TinSpec {
    /// As it was written.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.written)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> TinSpec {
        text.parse().unwrap_or_else(|e| panic!("{text}: {e}"))
    }

    #[test]
    fn tins_are_read_in_any_unit() -> Result<(), BakeError> {
        let twenty = Shape::round(20.0)?;
        for text in ["round:20cm", "round:200mm", "round:20", " Round: 20 cm "] {
            let found = read(text).shape();
            assert!((found.area() - twenty.area()).abs() < 1e-15, "{text}");
        }
        let tray = Shape::rectangular(33.02, 22.86)?;
        for text in ["rect:13x9in", "rect:13inx9in", "rect:330.2x228.6mm", "rect:13×9\""] {
            let found = read(text).shape();
            assert!((found.area() - tray.area()).abs() < 1e-12, "{text}");
        }
        assert_eq!(read("rect:20cm").shape(), Shape::rectangular(20.0, 20.0)?);
        let hole = read("hole:7x5.2cm");
        assert!((hole.shape().area() - Shape::round(6.1)?.area()).abs() < 1e-12);
        // The frustum, not the mean cylinder: π·h/12·(D² + D·d + d²).
        let cone = std::f64::consts::PI * 3.5 / 12.0 * (49.0 + 36.4 + 27.04);
        assert!((hole.capacity(3.5)?.get() - cone).abs() < 1e-9);
        assert_eq!(hole.to_string(), "hole:7x5.2cm");
        Ok(())
    }

    #[test]
    fn what_is_no_tin_is_refused() {
        for bad in [
            "",
            "20cm",
            "round",
            "round:",
            "round:x",
            "round:20x30cm",
            "rect:1x2x3cm",
            "hole:",
            "tin:20cm",
            "round:20km",
            "round:20cm5",
        ] {
            assert_eq!(bad.parse::<TinSpec>(), Err(SpecError::NotUnderstood), "{bad}");
        }
        for bad in ["round:0cm", "round:-5cm", "round:nan", "round:inf", "rect:20x1e9cm"] {
            assert!(matches!(bad.parse::<TinSpec>(), Err(SpecError::Size(_))), "{bad}");
        }
        assert_eq!(centimetres("2in"), Some(5.08));
        assert_eq!(centimetres("2x3"), None);
    }
}
