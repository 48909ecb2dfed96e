//! Eggs: what their sizes weigh, and how a recipe comes out in whole ones.

use std::fmt;

use crate::units::UnitError;

/// Edible share of a hen's egg by weight: shell is about 11 % (common figure,
/// from memory).
pub const EGG_EDIBLE_SHARE: f64 = 0.89;
/// A medium egg out of its shell, in grams: the weight school recipes are
/// written with (common practice). EU Regulation 2023/2465 puts a medium egg
/// at 53 g up to 63 g in its shell, whose edible part is 47 to 56 g.
pub const MEDIUM_EGG_GRAMS: f64 = 50.0;

/// A size of hen's egg by its weight in the shell: Commission Delegated
/// Regulation (EU) 2023/2465, which keeps the sizes of the one before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EggSize {
    /// Under 53 g.
    Small,
    /// From 53 g to under 63 g.
    Medium,
    /// From 63 g to under 73 g.
    Large,
    /// From 73 g.
    ExtraLarge,
}

impl EggSize {
    /// All sizes, from the smallest.
    pub const ALL: [EggSize; 4] =
        [EggSize::Small, EggSize::Medium, EggSize::Large, EggSize::ExtraLarge];

    /// The size of an egg of so many grams in its shell.
    pub fn of_shell_grams(grams: f64) -> EggSize {
        match grams {
            g if g >= 73.0 => EggSize::ExtraLarge,
            g if g >= 63.0 => EggSize::Large,
            g if g >= 53.0 => EggSize::Medium,
            _ => EggSize::Small,
        }
    }

    /// From so many grams in the shell (it belongs to the size), to so many
    /// (it does not), where the regulation sets a bound.
    pub fn shell_grams(self) -> (Option<f64>, Option<f64>) {
        match self {
            EggSize::Small => (None, Some(53.0)),
            EggSize::Medium => (Some(53.0), Some(63.0)),
            EggSize::Large => (Some(63.0), Some(73.0)),
            EggSize::ExtraLarge => (Some(73.0), None),
        }
    }

    /// The middle of the size, grams in the shell. The outer two have no
    /// second bound; they are taken to be 10 g wide as the others are (chosen).
    pub fn usual_shell_grams(self) -> f64 {
        match self {
            EggSize::Small => 48.0,
            EggSize::Medium => 58.0,
            EggSize::Large => 68.0,
            EggSize::ExtraLarge => 78.0,
        }
    }

    /// Grams of an egg in the middle of the size without its shell.
    pub fn edible_grams(self) -> f64 {
        EGG_EDIBLE_SHARE * self.usual_shell_grams()
    }
}

impl fmt::Display for EggSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            EggSize::Small => "S",
            EggSize::Medium => "M",
            EggSize::Large => "L",
            EggSize::ExtraLarge => "XL",
        })
    }
}

/// The unit eggs are counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EggStep {
    /// Whole eggs.
    Whole,
    /// Half eggs: one beaten and shared.
    Half,
}

impl EggStep {
    fn size(self) -> f64 {
        match self {
            EggStep::Whole => 1.0,
            EggStep::Half => 0.5,
        }
    }
}

/// A recipe scaled so that its eggs come out even.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EggScaling {
    /// Eggs to take.
    pub eggs: f64,
    /// The share of the recipe that they are right for: scale the rest by it.
    pub share: f64,
}

/// No recipe has more eggs than this.
const MOST_EGGS: f64 = 1000.0;

/// The nearest number of whole or half eggs to so many; of two that are
/// equally near the greater, and never none at all unless none are asked for.
///
/// # Errors
/// If the number is not finite, negative, or more than 1000.
pub fn nearest_eggs(eggs: f64, step: EggStep) -> Result<f64, UnitError> {
    let what = "a number of eggs";
    if !eggs.is_finite() {
        return Err(UnitError::NotFinite { what, value: eggs });
    }
    if !(0.0..=MOST_EGGS).contains(&eggs) {
        return Err(UnitError::OutOfRange { what, value: eggs, low: 0.0, high: MOST_EGGS });
    }
    if eggs <= 0.0 {
        return Ok(0.0);
    }
    // Forgives binary dust: 5 × 0.3 is 1.5.
    Ok((eggs / step.size() + 0.5 + 1e-9).floor().max(1.0) * step.size())
}

/// The scaling nearest to `share` of a recipe with so many eggs at which they
/// come out in whole or half ones. A recipe without eggs is scaled as asked.
///
/// # Errors
/// If a figure is not finite or negative, if the share is nought, or if it
/// takes more than 1000 eggs.
pub fn nearest_egg_scaling(
    recipe_eggs: f64,
    share: f64,
    step: EggStep,
) -> Result<EggScaling, UnitError> {
    let what = "a share of a recipe";
    if !share.is_finite() {
        return Err(UnitError::NotFinite { what, value: share });
    }
    if !(share > 0.0 && share <= MOST_EGGS) {
        return Err(UnitError::OutOfRange { what, value: share, low: 0.0, high: MOST_EGGS });
    }
    let wanted = recipe_eggs * share;
    let eggs = nearest_eggs(wanted, step)?;
    let share = if eggs > 0.0 { eggs / recipe_eggs } else { share };
    Ok(EggScaling { eggs, share })
}

/// Grams without the shell of one egg: of a size, or as school recipes are
/// written where none is given.
pub fn egg_grams(size: Option<EggSize>) -> f64 {
    size.map_or(MEDIUM_EGG_GRAMS, EggSize::edible_grams)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes_meet_at_their_bounds() {
        for (grams, size) in [
            (40.0, EggSize::Small),
            (52.999, EggSize::Small),
            (53.0, EggSize::Medium),
            (62.999, EggSize::Medium),
            (63.0, EggSize::Large),
            (73.0, EggSize::ExtraLarge),
        ] {
            assert_eq!(EggSize::of_shell_grams(grams), size, "{grams}");
        }
        for size in EggSize::ALL {
            assert_eq!(EggSize::of_shell_grams(size.usual_shell_grams()), size);
            let (low, high) = size.shell_grams();
            for (inside, bound) in [(true, low), (false, high)] {
                if let Some(bound) = bound {
                    assert_eq!(EggSize::of_shell_grams(bound) == size, inside, "{size} {bound}");
                }
            }
        }
        assert!((EggSize::Medium.edible_grams() - 51.62).abs() < 1e-9);
        assert!((egg_grams(None) - 50.0).abs() < 1e-12);
    }

    #[test]
    fn eggs_come_out_whole_or_in_halves() -> Result<(), UnitError> {
        let whole = |eggs| nearest_eggs(eggs, EggStep::Whole);
        let half = |eggs| nearest_eggs(eggs, EggStep::Half);
        assert_eq!([whole(1.37)?, whole(1.5)?, whole(0.2)?, whole(0.0)?], [1.0, 2.0, 1.0, 0.0]);
        assert_eq!([half(1.37)?, half(1.25)?, half(0.1)?, half(2.2)?], [1.5, 1.5, 0.5, 2.0]);
        assert_eq!(whole(5.0 * 0.3)?, 2.0);
        Ok(())
    }

    /// Three quarters of a recipe with one egg: a whole egg makes the full
    /// recipe, and half an egg is as near; with two eggs 1.5 are exact.
    #[test]
    fn a_recipe_is_scaled_to_its_eggs() -> Result<(), UnitError> {
        let one = nearest_egg_scaling(1.0, 0.75, EggStep::Whole)?;
        assert_eq!((one.eggs, one.share), (1.0, 1.0));
        let two = nearest_egg_scaling(2.0, 0.75, EggStep::Half)?;
        assert_eq!((two.eggs, two.share), (1.5, 0.75));
        let three = nearest_egg_scaling(3.0, 0.75, EggStep::Whole)?;
        assert!(three.eggs == 2.0 && (three.share - 2.0 / 3.0).abs() < 1e-12);
        let none = nearest_egg_scaling(0.0, 0.75, EggStep::Whole)?;
        assert_eq!((none.eggs, none.share), (0.0, 0.75));
        Ok(())
    }

    #[test]
    fn nonsense_is_refused() {
        for bad in [-1.0, f64::NAN, f64::INFINITY, 1001.0] {
            assert!(nearest_eggs(bad, EggStep::Whole).is_err(), "{bad}");
            assert!(nearest_egg_scaling(2.0, bad, EggStep::Half).is_err(), "{bad}");
            assert!(nearest_egg_scaling(bad, 1.0, EggStep::Half).is_err(), "{bad}");
        }
        assert!(nearest_egg_scaling(2.0, 0.0, EggStep::Half).is_err());
    }
}
