//! Paper and the sizes of letters on it, in points (a seventy-second of an
//! inch).

use std::str::FromStr;

use serde::{Deserialize, Serialize};

use crate::model::Language;

/// What is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Paper {
    /// ISO 216: 210 × 297 mm.
    #[default]
    A4,
    /// ANSI/ASME Y14.1: 8½ × 11 inches.
    Letter,
}

impl Paper {
    /// Both of them.
    pub const ALL: [Paper; 2] = [Paper::A4, Paper::Letter];

    /// As it is written on the command line.
    pub const fn name(self) -> &'static str {
        match self {
            Paper::A4 => "a4",
            Paper::Letter => "letter",
        }
    }

    /// Width and height, upright.
    pub const fn size(self) -> (f32, f32) {
        match self {
            Paper::A4 => (595.276, 841.89),
            Paper::Letter => (612.0, 792.0),
        }
    }

    /// Width and height of half of it, upright: A5 of A4.
    pub const fn half(self) -> (f32, f32) {
        let (width, height) = self.size();
        (height / 2.0, width)
    }
}

impl FromStr for Paper {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        let known = Self::ALL.into_iter().find(|paper| paper.name() == text);
        known.ok_or_else(|| "paper is a4 or letter".to_owned())
    }
}

/// How sheets are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Print {
    /// The paper.
    pub paper: Paper,
    /// Large print: no letters below [`LARGE`] but in pictures.
    pub large: bool,
    /// Symbols beside the jobs of a time plan.
    pub symbols: bool,
    /// A second line for the jobs of a time plan, where there is one in this
    /// language.
    pub home: Option<Language>,
}

/// Letters of a sheet that is read in the hand.
pub const USUAL: f32 = 11.0;
/// Letters of large print: 16 points, the customary least for it.
pub const LARGE: f32 = 16.0;
