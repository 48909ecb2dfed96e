//! What is said of an answer: its words, its range, what to know of it.

use std::fmt;

use super::density::Density;
use super::number::with_fraction;
use super::unit::{Kind, Spoons, Unit};
use super::{Converted, InMeasure, Quantity};
use crate::model::{EGG_EDIBLE_SHARE, EggSize, GasMark, MEDIUM_EGG_GRAMS};
use crate::units::plain_number;

/// Digits of a figure that is not rounded.
const DIGITS: i32 = 10;

/// What sources that differ make of a weight or volume: by the bounds of an
/// egg's size, or by the densities given for a substance.
pub(super) fn range(
    from: Quantity,
    exact: Quantity,
    density: Option<Density>,
) -> Option<(f64, f64)> {
    let share = match (from.unit, exact.unit) {
        (Unit::Egg(size), _) => {
            let (low, high) = edible_bounds(size)?;
            (low / from.unit.one(), high / from.unit.one())
        }
        (_, Unit::Egg(size)) => {
            let (low, high) = edible_bounds(size)?;
            (exact.unit.one() / high, exact.unit.one() / low)
        }
        (a, b) if a.kind() != b.kind() => {
            let of = density?.of?;
            let (low, high) = (of.range.0 / of.density, of.range.1 / of.density);
            if b.kind() == Kind::Weight { (low, high) } else { (1.0 / high, 1.0 / low) }
        }
        _ => return None,
    };
    Some((exact.figure * share.0, exact.figure * share.1))
}

/// Grams without the shell at both bounds of a size; a medium egg's where no
/// size is given.
fn edible_bounds(size: Option<EggSize>) -> Option<(f64, f64)> {
    let (low, high) = size.unwrap_or(EggSize::Medium).shell_grams();
    Some((EGG_EDIBLE_SHARE * low?, EGG_EDIBLE_SHARE * high?))
}

/// What to know of a conversion, a sentence each.
pub(super) fn notes(
    from: Quantity,
    answers: &[InMeasure],
    density: Option<Density>,
) -> Vec<String> {
    let alone = match answers {
        [only] => Some(only.exact.unit),
        _ => None,
    };
    let named = || [Some(from.unit), alone].into_iter().flatten();
    let units = || std::iter::once(from.unit).chain(answers.iter().map(|a| a.exact.unit));
    let mut notes: Vec<String> = Vec::new();
    notes.extend(named().find_map(spoons_note));
    if units().any(|u| u == Unit::Fan) {
        notes.push(
            "a fan oven is set 20 °C lower by custom; some tables say 25, others the same \
             setting and 10 minutes in the hour less"
                .to_owned(),
        );
    }
    notes.extend(gas_note(from, answers));
    if answers.iter().any(|a| a.exact.unit.kind() != from.unit.kind()) {
        notes.extend(density.map(density_note));
    }
    notes.extend(units().find_map(egg_note));
    notes
}

fn spoons_note(unit: Unit) -> Option<String> {
    let both = |us: Unit, other: Unit| {
        format!(
            "1 {} is {} ml, 1 {} is {} ml",
            us.label(1.0),
            digits(us.one()),
            other.label(1.0),
            digits(other.one())
        )
    };
    let systems = |unit: fn(Spoons) -> Unit| both(unit(Spoons::Us), unit(Spoons::Metric));
    match unit {
        Unit::Cup(_) => Some(systems(Unit::Cup)),
        Unit::Tablespoon(_) => Some(systems(Unit::Tablespoon)),
        Unit::Teaspoon(_) => Some(systems(Unit::Teaspoon)),
        Unit::UsFluidOunce | Unit::UkFluidOunce => {
            Some(both(Unit::UsFluidOunce, Unit::UkFluidOunce))
        }
        _ => None,
    }
}

fn gas_note(from: Quantity, answers: &[InMeasure]) -> Option<String> {
    let on = |unit: Unit| answers.iter().map(|a| a.exact).chain([from]).find(|q| q.unit == unit);
    let figure = on(Unit::Gas)?.figure;
    let mark = GasMark::TABLE.into_iter().find(|m| (m.mark - figure).abs() < 1e-9)?;
    let (low, high) = mark.range;
    let mut note = format!("gas {mark} is {} °C", mark.celsius);
    if low < high {
        note.push_str(&format!("; tables differ on it, from {low} to {high}"));
    }
    Some(note)
}

fn density_note(density: Density) -> String {
    let of = match density.of {
        Some(of) => {
            let (low, high) = of.range;
            format!("{}; sources give {low} to {high}; {}", of.name, of.source)
        }
        None => "as given".to_owned(),
    };
    format!("reckoned with {} g/ml ({of})", plain_number(density.grams_per_ml))
}

fn egg_note(unit: Unit) -> Option<String> {
    let Unit::Egg(size) = unit else { return None };
    let grade = size.unwrap_or(EggSize::Medium);
    let in_shell = match grade.shell_grams() {
        (Some(low), Some(high)) => format!("{low} g to under {high} g"),
        (Some(low), None) => format!("{low} g or more"),
        (None, Some(high)) => format!("under {high} g"),
        (None, None) => String::new(),
    };
    let taken = match size {
        Some(size) => format!(
            "reckoned with {} g in the shell, {} g without",
            size.usual_shell_grams(),
            plain_number(size.edible_grams())
        ),
        None => format!(
            "reckoned with {MEDIUM_EGG_GRAMS} g without the shell, as school recipes are written"
        ),
    };
    Some(format!(
        "an egg {grade} weighs {in_shell} in its shell (Delegated Regulation (EU) 2023/2465), and \
         about {:.0} % of it is eaten; {taken}",
        100.0 * EGG_EDIBLE_SHARE
    ))
}

/// A figure with as many digits as matter, and no trailing noughts.
fn digits(value: f64) -> String {
    let before = if value == 0.0 { 1 } else { 1 + value.abs().log10().floor() as i32 };
    let after = usize::try_from((DIGITS - before).clamp(0, 12)).unwrap_or(0);
    let text = format!("{value:.after$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Quantity { figure, unit } = *self;
        let written = match unit {
            Unit::Celsius | Unit::Fahrenheit | Unit::Fan | Unit::Gram | Unit::Millilitre
                if figure >= 0.1 =>
            {
                plain_number(figure)
            }
            _ if figure < 0.1 => digits(figure),
            _ => with_fraction(figure),
        };
        match unit {
            Unit::Gas => write!(f, "gas {written}"),
            _ => write!(f, "{written} {}", unit.label(figure)),
        }
    }
}

impl fmt::Display for InMeasure {
    /// The kitchen's figure, and the exact one and the range where they tell
    /// more.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", Quantity { figure: self.kitchen, ..self.exact })?;
        if let Some(whole) = self.whole_eggs {
            write!(f, ", or {}", Quantity { figure: whole, ..self.exact })?;
        }
        let mut more: Vec<String> = Vec::new();
        if (self.kitchen - self.exact.figure).abs() > 1e-9 * self.exact.figure.abs() {
            let how = if self.by_definition { "exactly" } else { "reckoned" };
            let exact = match self.exact.unit.kind() {
                Kind::Oven => plain_number(self.exact.figure),
                _ => digits(self.exact.figure),
            };
            more.push(format!("{exact} {how}"));
        }
        if let Some((low, high)) = self.range {
            let (low, high) = (plain_number(low), plain_number(high));
            more.push(format!("{low} to {high} as sources differ"));
        }
        if more.is_empty() { Ok(()) } else { write!(f, " ({})", more.join("; ")) }
    }
}

impl fmt::Display for Converted {
    /// One line for each answer, then the notes.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.answers.as_slice() {
            [only] => writeln!(f, "{} = {only}", self.from)?,
            several => {
                writeln!(f, "{} =", self.from)?;
                several.iter().try_for_each(|answer| writeln!(f, "  {answer}"))?;
            }
        }
        self.notes.iter().try_for_each(|note| writeln!(f, "{note}"))
    }
}
