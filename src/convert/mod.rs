//! Kitchen measures converted: the exact figure, and one to weigh or set a
//! dial by.

pub mod density;
pub mod dial;
pub mod fault;
mod number;
mod oven;
mod round;
mod telling;
pub mod unit;

pub use density::Density;
pub use fault::{ConvertError, UNDERSTOOD};
pub use unit::{Kind, Spoons, Unit};

use crate::model::{EggStep, nearest_eggs};
use crate::units::{Grams, Millilitres, Millimetres};

/// A figure and its measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// The figure.
    pub figure: f64,
    /// Its measure.
    pub unit: Unit,
}

/// One quantity in another measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct InMeasure {
    /// As it is worked out, not rounded.
    pub exact: Quantity,
    /// Rounded as a kitchen needs it.
    pub kitchen: f64,
    /// Whole eggs, where eggs were asked for and `kitchen` has halves.
    pub whole_eggs: Option<f64>,
    /// What sources that differ make of it, in the same measure.
    pub range: Option<(f64, f64)>,
    /// Whether the exact figure follows from definitions alone, and not from
    /// customs, densities or what an egg weighs.
    pub by_definition: bool,
}

/// A question answered.
#[derive(Debug, Clone, PartialEq)]
pub struct Converted {
    /// What was asked.
    pub from: Quantity,
    /// In one measure or in several.
    pub answers: Vec<InMeasure>,
    /// What a reader should know of it, a sentence each.
    pub notes: Vec<String>,
}

impl Quantity {
    /// Reads "2 cups", "gas 4", "3 eggs M" and so on.
    ///
    /// # Errors
    /// If it is no figure with a measure, if an amount is nought, or if it is
    /// more than any kitchen has.
    pub fn read(text: &str, spoons: Spoons) -> Result<Self, ConvertError> {
        let unclear = || ConvertError::NotUnderstood(text.chars().take(60).collect());
        let (figure, words) = number::split(text).ok_or_else(unclear)?;
        let unit = Unit::named(&words, spoons).ok_or_else(unclear)?;
        let quantity = Self { figure, unit };
        let base = figure * unit.one();
        match unit.kind() {
            Kind::Oven => oven::heat(figure, unit).map(|_| ())?,
            _ if base <= 0.0 => return Err(ConvertError::Nothing),
            Kind::Weight => Grams::new(base).map(|_| ())?,
            Kind::Volume => Millilitres::new(base).map(|_| ())?,
            Kind::Length => Millimetres::new(base).map(|_| ())?,
        }
        Ok(quantity)
    }

    /// The same in another measure, not rounded. A gas mark is the nearest
    /// one; weight and volume need a density.
    ///
    /// # Errors
    /// If the two do not measure the same kind of thing, if a density is
    /// needed and none given, or if there is no such gas mark.
    pub fn exactly(self, to: Unit, density: Option<Density>) -> Result<Quantity, ConvertError> {
        let (from_kind, to_kind) = (self.unit.kind(), to.kind());
        let base = self.figure * self.unit.one();
        let base = match (from_kind, to_kind) {
            (Kind::Oven, Kind::Oven) => {
                let (figure, _) = oven::on_scale(oven::heat(self.figure, self.unit)?, to)?;
                return Ok(Quantity { figure, unit: to });
            }
            (from, to) if from == to => base,
            (Kind::Weight, Kind::Volume) => base / weight_of_ml(density)?,
            (Kind::Volume, Kind::Weight) => base * weight_of_ml(density)?,
            (from, to) => return Err(ConvertError::DifferentKinds { from, to }),
        };
        Ok(Quantity { figure: base / to.one(), unit: to })
    }
}

/// A figure as a kitchen writes it, `8 1/2` or `8½`; with a sign before it, it
/// is below nought.
pub fn figure(text: &str) -> Option<f64> {
    match text.trim().strip_prefix(['-', '−']) {
        Some(positive) => number::figure_of(positive).map(|n| -n),
        None => number::figure_of(text.trim()),
    }
}

fn weight_of_ml(density: Option<Density>) -> Result<f64, ConvertError> {
    let missing = || ConvertError::NeedsDensity { substances: density::names() };
    density.map(|d| d.grams_per_ml).ok_or_else(missing)
}

/// Converts to one measure, or to those a kitchen is likely to want.
///
/// # Errors
/// As [`Quantity::exactly`].
pub fn convert(
    from: Quantity,
    to: Option<Unit>,
    density: Option<Density>,
) -> Result<Converted, ConvertError> {
    let answers = match to {
        Some(to) => vec![answer(from, to, density)?],
        None => likely(from, density)
            .into_iter()
            .filter_map(|to| answer(from, to, density).ok())
            .collect(),
    };
    let notes = telling::notes(from, &answers, density);
    Ok(Converted { from, answers, notes })
}

fn answer(from: Quantity, to: Unit, density: Option<Density>) -> Result<InMeasure, ConvertError> {
    let exact = from.exactly(to, density)?;
    let is_egg = |unit| matches!(unit, Unit::Egg(_));
    let weighed = from.unit.kind() != to.kind();
    let range = match to.kind() {
        Kind::Oven => Some(oven::on_scale(oven::heat(from.figure, from.unit)?, to)?.1),
        _ => telling::range(from, exact, density),
    };
    let (kitchen, whole_eggs) = if is_egg(to) {
        let half = nearest_eggs(exact.figure, EggStep::Half)?;
        let whole = nearest_eggs(exact.figure, EggStep::Whole)?;
        (half, (half.fract() > 0.0).then_some(whole))
    } else {
        (round::for_kitchen(exact, from.unit), None)
    };
    let custom = |unit| matches!(unit, Unit::Fan | Unit::Gas) || is_egg(unit);
    let by_definition = !weighed && !custom(from.unit) && !custom(to);
    let range = range.filter(|(low, high)| low < high);
    Ok(InMeasure { exact, kitchen, whole_eggs, range, by_definition })
}

/// What a kitchen is likely to want, the measure asked about left out, and
/// where a figure would be awkward too.
fn likely(from: Quantity, density: Option<Density>) -> Vec<Unit> {
    let weights = [Unit::Gram, Unit::Ounce, Unit::Pound];
    let spoons = |s| [Unit::Cup(s), Unit::Tablespoon(s), Unit::Teaspoon(s)];
    let volumes = [
        &[Unit::Millilitre][..],
        &spoons(Spoons::Us),
        &spoons(Spoons::Metric),
        &[Unit::UsFluidOunce, Unit::UkFluidOunce],
    ]
    .concat();
    let mut units = match from.unit.kind() {
        Kind::Oven => vec![Unit::Celsius, Unit::Fan, Unit::Fahrenheit, Unit::Gas],
        Kind::Length => vec![Unit::Centimetre, Unit::Inch],
        Kind::Weight => weights.to_vec(),
        Kind::Volume => volumes.clone(),
    };
    match (from.unit.kind(), density) {
        (Kind::Weight, Some(_)) => units.extend(volumes),
        (Kind::Volume, Some(_)) => units.extend(weights),
        _ => {}
    }
    let handy = |to: &Unit| {
        let figure = from.exactly(*to, density).map_or(0.0, |q| q.figure);
        let base = matches!(to, Unit::Gram | Unit::Millilitre);
        to.kind() == Kind::Oven || base || (0.2..=40.0).contains(&figure)
    };
    units.into_iter().filter(|to| *to != from.unit && handy(to)).collect()
}
