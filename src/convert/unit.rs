//! The measures that can be converted: their names and what one of each is.

use std::fmt;

use crate::model::measure::{
    METRIC_TABLESPOON_ML, METRIC_TEASPOON_ML, OUNCE_GRAMS, POUND_GRAMS, US_CUP_ML, US_GALLON_ML,
};
use crate::model::{EggSize, egg_grams};

/// Millilitres in an imperial gallon, exactly (NIST SP 811, appendix B).
const UK_GALLON_ML: f64 = 4546.09;
/// Millilitres in a metric cup.
const METRIC_CUP_ML: f64 = 250.0;
/// Millimetres in an inch, exactly (NIST SP 811, appendix B).
const INCH_MM: f64 = 25.4;

/// What a measure measures; the others go over into one another only within
/// their kind, weight and volume by a density.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A weight; its base is the gram.
    Weight,
    /// A volume; its base is the millilitre.
    Volume,
    /// A length; its base is the millimetre.
    Length,
    /// How hot an oven is.
    Oven,
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Kind::Weight => "a weight",
            Kind::Volume => "a volume",
            Kind::Length => "a length",
            Kind::Oven => "a temperature",
        })
    }
}

/// Whose cups and spoons.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Spoons {
    /// US customary: parts of the US gallon.
    #[default]
    Us,
    /// Metric: 250, 15 and 5 ml.
    Metric,
}

/// A measure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[allow(missing_docs)] // the names say it; `TABLE` says what one of each is
pub enum Unit {
    Gram,
    Kilogram,
    Ounce,
    Pound,
    Millilitre,
    Litre,
    Cup(Spoons),
    Tablespoon(Spoons),
    Teaspoon(Spoons),
    UsFluidOunce,
    UkFluidOunce,
    Millimetre,
    Centimetre,
    Inch,
    Celsius,
    Fahrenheit,
    /// °C on the dial of a fan oven.
    Fan,
    /// A gas mark.
    Gas,
    /// Eggs without their shells: of a size, or as school recipes are written.
    Egg(Option<EggSize>),
}

/// A measure, what one of it is, and how it is written.
struct Row {
    unit: Unit,
    kind: Kind,
    /// One of it in the base of its kind; nought for ovens, which go by
    /// scales and tables.
    one: f64,
    /// Written behind a figure: up to one of it, and more than one.
    label: [&'static str; 2],
    /// Names it goes by, in small letters.
    names: &'static [&'static str],
}

macro_rules! rows {
    ($($kind:ident $unit:expr, $one:expr, $label:literal $plural:literal: $($name:literal)*;)*) => {
        &[$(Row {
            unit: $unit,
            kind: Kind::$kind,
            one: $one,
            label: [$label, $plural],
            names: &[$($name),*],
        }),*]
    };
}

/// Every measure but eggs, whose names are put together.
#[rustfmt::skip]
const TABLE: &[Row] = rows! {
    Weight Unit::Gram, 1.0, "g" "g": "g" "gram" "grams";
    Weight Unit::Kilogram, 1000.0, "kg" "kg": "kg" "kilo" "kilos" "kilogram" "kilograms";
    Weight Unit::Ounce, OUNCE_GRAMS, "oz" "oz": "oz" "ounce" "ounces";
    Weight Unit::Pound, POUND_GRAMS, "lb" "lb": "lb" "lbs" "pound" "pounds";
    Volume Unit::Millilitre, 1.0, "ml" "ml":
        "ml" "millilitre" "millilitres" "milliliter" "milliliters";
    Volume Unit::Litre, 1000.0, "l" "l": "l" "litre" "litres" "liter" "liters";
    Volume Unit::Cup(Spoons::Us), US_CUP_ML, "US cup" "US cups": "us cup" "us cups";
    Volume Unit::Cup(Spoons::Metric), METRIC_CUP_ML, "metric cup" "metric cups":
        "metric cup" "metric cups";
    Volume Unit::Tablespoon(Spoons::Us), US_GALLON_ML / 256.0, "US tbsp" "US tbsp":
        "us tbsp" "us tablespoon" "us tablespoons";
    Volume Unit::Tablespoon(Spoons::Metric), METRIC_TABLESPOON_ML, "metric tbsp" "metric tbsp":
        "metric tbsp" "metric tablespoon" "metric tablespoons";
    Volume Unit::Teaspoon(Spoons::Us), US_GALLON_ML / 768.0, "US tsp" "US tsp":
        "us tsp" "us teaspoon" "us teaspoons";
    Volume Unit::Teaspoon(Spoons::Metric), METRIC_TEASPOON_ML, "metric tsp" "metric tsp":
        "metric tsp" "metric teaspoon" "metric teaspoons";
    Volume Unit::UsFluidOunce, US_GALLON_ML / 128.0, "US fl oz" "US fl oz":
        "us fl oz" "us floz" "us fluid ounce" "us fluid ounces"
        "fl oz" "floz" "fluid ounce" "fluid ounces";
    Volume Unit::UkFluidOunce, UK_GALLON_ML / 160.0, "UK fl oz" "UK fl oz":
        "uk fl oz" "uk floz" "uk fluid ounce" "uk fluid ounces"
        "imperial fl oz" "imperial fluid ounce" "imperial fluid ounces";
    Length Unit::Millimetre, 1.0, "mm" "mm": "mm" "millimetre" "millimetres";
    Length Unit::Centimetre, 10.0, "cm" "cm":
        "cm" "centimetre" "centimetres" "centimeter" "centimeters";
    Length Unit::Inch, INCH_MM, "in" "in": "in" "inch" "inches" "\"";
    Oven Unit::Celsius, 0.0, "°C" "°C": "c" "celsius" "degrees c" "degrees celsius";
    Oven Unit::Fahrenheit, 0.0, "°F" "°F": "f" "fahrenheit" "degrees f" "degrees fahrenheit";
    Oven Unit::Fan, 0.0, "°C fan" "°C fan":
        "fan" "fan c" "c fan" "fan oven" "c fan oven" "c in a fan oven";
    Oven Unit::Gas, 0.0, "gas" "gas": "gas" "gas mark" "mark" "gas oven";
};

/// Cups and spoons whose name leaves open whose.
fn bare(name: &str, spoons: Spoons) -> Option<Unit> {
    match name {
        "cup" | "cups" => Some(Unit::Cup(spoons)),
        "tablespoon" | "tablespoons" | "tbsp" | "tbs" => Some(Unit::Tablespoon(spoons)),
        "teaspoon" | "teaspoons" | "tsp" => Some(Unit::Teaspoon(spoons)),
        _ => None,
    }
}

impl Unit {
    /// The measure that goes by a name, whatever its capitals; `spoons` says
    /// whose cups and spoons are meant where the name does not.
    pub fn named(name: &str, spoons: Spoons) -> Option<Unit> {
        let name = name.trim().to_lowercase().replace(['°', '.'], " ");
        let words: Vec<&str> = name.split_whitespace().collect();
        let name = words.join(" ");
        let row = TABLE.iter().find(|row| row.names.contains(&name.as_str())).map(|row| row.unit);
        row.or_else(|| bare(&name, spoons)).or_else(|| eggs_named(&words))
    }

    fn row(self) -> Option<&'static Row> {
        TABLE.iter().find(|row| row.unit == self)
    }

    /// What it measures. Eggs count as their weight without shells.
    pub fn kind(self) -> Kind {
        self.row().map_or(Kind::Weight, |row| row.kind)
    }

    /// One of it in grams, millilitres or millimetres; nought for the
    /// temperatures of an oven, which are no multiples of each other.
    pub fn one(self) -> f64 {
        match (self, self.row()) {
            (Unit::Egg(size), _) => egg_grams(size),
            (_, row) => row.map_or(0.0, |row| row.one),
        }
    }

    /// As it is written behind a figure.
    pub fn label(self, figure: f64) -> String {
        match (self, self.row()) {
            (Unit::Egg(size), _) => {
                let eggs = if figure > 1.0 { "eggs" } else { "egg" };
                size.map_or_else(|| eggs.to_owned(), |size| format!("{eggs} {size}"))
            }
            (_, row) => row.map_or("", |row| row.label[usize::from(figure > 1.0)]).to_owned(),
        }
    }
}

/// "egg" or "eggs" and at most one size, in any order.
fn eggs_named(words: &[&str]) -> Option<Unit> {
    let rest: Vec<&str> =
        words.iter().filter(|w| !matches!(**w, "egg" | "eggs")).copied().collect();
    if rest.len() + 1 != words.len() {
        return None;
    }
    let size = match rest.join(" ").as_str() {
        "" => None,
        "s" | "small" => Some(EggSize::Small),
        "m" | "medium" => Some(EggSize::Medium),
        "l" | "large" => Some(EggSize::Large),
        "xl" | "extra large" | "very large" => Some(EggSize::ExtraLarge),
        _ => return None,
    };
    Some(Unit::Egg(size))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_lead_to_one_measure_each() {
        let mut names: Vec<&str> = TABLE.iter().flat_map(|row| row.names).copied().collect();
        let count = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), count, "a name stands twice");
        for row in TABLE {
            for name in row.names {
                assert_eq!(Unit::named(&name.to_uppercase(), Spoons::Us), Some(row.unit));
                assert!(bare(name, Spoons::Us).is_none());
            }
            assert_eq!(row.one > 0.0, row.kind != Kind::Oven);
        }
        assert_eq!(Unit::named("cups", Spoons::Metric), Some(Unit::Cup(Spoons::Metric)));
        assert_eq!(Unit::named(" Fl.  oz. ", Spoons::Us), Some(Unit::UsFluidOunce));
        assert_eq!(Unit::named("°C", Spoons::Us), Some(Unit::Celsius));
    }

    #[test]
    fn eggs_go_by_size() {
        for (name, size) in [
            ("eggs", None),
            ("egg M", Some(EggSize::Medium)),
            ("large eggs", Some(EggSize::Large)),
            ("extra large eggs", Some(EggSize::ExtraLarge)),
        ] {
            assert_eq!(Unit::named(name, Spoons::Us), Some(Unit::Egg(size)));
        }
        for bad in ["", "m", "egg eggs", "egg blue", "large medium egg", "cupful"] {
            assert_eq!(Unit::named(bad, Spoons::Us), None, "{bad}");
        }
    }
}
