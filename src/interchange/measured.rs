//! Measures as recipes from elsewhere name them.

use crate::convert::{Kind, Spoons, Unit};
use crate::file::format::MeasureShape;
use crate::model::{Amount, Measure};

/// A measure that was named, among those of a recipe's file.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Measured {
    /// The file's measure.
    pub unit: MeasureShape,
    /// How many of it one of the named is.
    pub one: f64,
    /// What is unsure of it.
    pub doubt: Option<&'static str>,
}

impl Measured {
    const fn sure(unit: MeasureShape, one: f64) -> Self {
        Self { unit, one, doubt: None }
    }

    const fn doubtful(unit: MeasureShape, one: f64, doubt: &'static str) -> Self {
        Self { unit, one, doubt: Some(doubt) }
    }

    /// What one of it is.
    pub fn amount(self) -> Amount {
        match Measure::from(self.unit).one() {
            Amount::Grams(one) => Amount::Grams(one * self.one),
            Amount::Millilitres(one) => Amount::Millilitres(one * self.one),
        }
    }

    /// How gladly it is taken of several that say the same, from 0: what is
    /// weighed in grams first.
    pub fn rank(self) -> u8 {
        match self.unit {
            MeasureShape::Gram | MeasureShape::Kilogram | MeasureShape::Egg => {
                u8::from(self.doubt.is_some())
            }
            MeasureShape::Ounce | MeasureShape::Pound => 2,
            MeasureShape::Millilitre | MeasureShape::Litre => 3 + u8::from(self.doubt.is_some()),
            MeasureShape::Teaspoon | MeasureShape::Tablespoon => 5,
            MeasureShape::UsCup => 6,
        }
    }
}

/// What other names stand for.
const ALIASES: [(&str, &str); 18] = [
    ("gramme", "g"),
    ("grammes", "g"),
    ("gm", "g"),
    ("gms", "g"),
    ("gr", "g"),
    ("grs", "g"),
    ("kgs", "kg"),
    ("ozs", "oz"),
    ("mls", "ml"),
    ("ltr", "l"),
    ("ltrs", "l"),
    ("tbsps", "tbsp"),
    ("tblsp", "tbsp"),
    ("tbl", "tbsp"),
    ("tsps", "tsp"),
    ("c", "cup"),
    ("cupful", "cup"),
    ("cupfuls", "cup"),
];

const CUP: &str = "a cup is taken as the US one of 237 ml; a metric one holds 250 ml";
const FLUID_OUNCE: &str = "a fluid ounce is taken as the UK one of 28.4 ml; a US one is 29.6 ml";
const PINT: &str = "a pint is taken as the UK one of 568 ml; a US one is 473 ml";
const QUART: &str = "a quart is taken as the US one of 946 ml; a UK one is 1137 ml";
const STICK: &str = "a stick is taken as the US one of butter: 4 oz, 113 g";

/// Millilitres in UK and US pints: 20 and 16 fluid ounces.
const UK_PINT: f64 = 20.0;
/// US fluid ounces in a US quart.
const US_QUART: f64 = 32.0;

/// The measure of that name; `None` if it is none that weighs or measures out.
pub(super) fn measure(name: &str) -> Option<Measured> {
    use MeasureShape::{
        Gram, Kilogram, Litre, Millilitre, Ounce, Pound, Tablespoon, Teaspoon, UsCup,
    };
    let name = name.to_lowercase().replace('.', " ");
    let words: Vec<&str> = name.split_whitespace().collect();
    let name = words.join(" ");
    let name = ALIASES.iter().find(|(alias, _)| *alias == name).map_or(&*name, |(_, of)| of);
    let ml = |unit: Unit, how_many: f64| unit.one() * how_many;
    match name {
        "cl" | "centilitre" | "centilitres" => return Some(Measured::sure(Millilitre, 10.0)),
        "dl" | "decilitre" | "decilitres" => return Some(Measured::sure(Millilitre, 100.0)),
        // 10 ml by custom.
        "dsp" | "dessertspoon" | "dessertspoons" | "dessertspoonful" => {
            return Some(Measured::sure(Millilitre, 10.0));
        }
        "pint" | "pints" | "pt" => {
            let one = ml(Unit::UkFluidOunce, UK_PINT);
            return Some(Measured::doubtful(Millilitre, one, PINT));
        }
        "quart" | "quarts" | "qt" => {
            let one = ml(Unit::UsFluidOunce, US_QUART);
            return Some(Measured::doubtful(Millilitre, one, QUART));
        }
        "stick" | "sticks" => {
            let one = ml(Unit::Ounce, 4.0);
            return Some(Measured::doubtful(Gram, one, STICK));
        }
        _ => {}
    }
    let unit = Unit::named(name, Spoons::Metric)?;
    // What is the same by any name does not hang on whose spoons are meant.
    let is_open = Unit::named(name, Spoons::Us) != Some(unit);
    Some(match unit {
        Unit::Gram => Measured::sure(Gram, 1.0),
        Unit::Kilogram => Measured::sure(Kilogram, 1.0),
        Unit::Ounce => Measured::sure(Ounce, 1.0),
        Unit::Pound => Measured::sure(Pound, 1.0),
        Unit::Millilitre => Measured::sure(Millilitre, 1.0),
        Unit::Litre => Measured::sure(Litre, 1.0),
        Unit::Teaspoon(Spoons::Metric) => Measured::sure(Teaspoon, 1.0),
        Unit::Tablespoon(Spoons::Metric) => Measured::sure(Tablespoon, 1.0),
        Unit::Cup(_) if is_open => Measured::doubtful(UsCup, 1.0, CUP),
        Unit::Cup(Spoons::Us) => Measured::sure(UsCup, 1.0),
        Unit::UsFluidOunce if !name.contains("us") => {
            Measured::doubtful(Millilitre, ml(Unit::UkFluidOunce, 1.0), FLUID_OUNCE)
        }
        other if other.kind() == Kind::Volume => Measured::sure(Millilitre, other.one()),
        _ => return None,
    })
}

/// Things that hold an amount of their own, which is not said.
const CONTAINERS: [&str; 19] = [
    "tin", "can", "jar", "packet", "pack", "package", "sachet", "block", "tub", "pot", "bag",
    "bar", "carton", "bottle", "box", "envelope", "pkg", "pkt", "punnet",
];

/// Words that say how much without saying it.
const VAGUE: [&str; 29] = [
    "pinch",
    "dash",
    "splash",
    "handful",
    "knob",
    "drizzle",
    "sprinkle",
    "sprinkling",
    "drop",
    "sprig",
    "clove",
    "slice",
    "bunch",
    "few",
    "couple",
    "little",
    "piece",
    "strip",
    "leaf",
    "leaves",
    "head",
    "stalk",
    "glug",
    "squeeze",
    "cube",
    "sheet",
    "rasher",
    "scoop",
    "part",
];

fn is_one_of(words: &[&str], word: &str) -> bool {
    let word = word.to_lowercase();
    words
        .iter()
        .any(|w| word == *w || word.strip_prefix(w).is_some_and(|rest| rest == "s" || rest == "es"))
}

/// Whether a word names what things are sold in.
pub(super) fn is_container(word: &str) -> bool {
    is_one_of(&CONTAINERS, word)
}

/// Whether a word says how much without saying it.
pub(super) fn is_vague(word: &str) -> bool {
    is_one_of(&VAGUE, word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn measures_go_by_many_names() {
        use MeasureShape as M;
        for (name, unit, one, doubtful) in [
            ("g", M::Gram, 1.0, false),
            ("Grams", M::Gram, 1.0, false),
            ("gms.", M::Gram, 1.0, false),
            ("kg", M::Kilogram, 1.0, false),
            ("lbs", M::Pound, 1.0, false),
            ("Tbsp.", M::Tablespoon, 1.0, false),
            ("teaspoons", M::Teaspoon, 1.0, false),
            ("cups", M::UsCup, 1.0, true),
            ("us cup", M::UsCup, 1.0, false),
            ("metric cup", M::Millilitre, 250.0, false),
            ("dl", M::Millilitre, 100.0, false),
            ("fl. oz.", M::Millilitre, 28.413_062_5, true),
            ("us fl oz", M::Millilitre, 29.573_529_562_5, false),
            ("pint", M::Millilitre, 568.261_25, true),
            ("stick", M::Gram, 113.398_092_5, true),
        ] {
            let found = measure(name);
            assert_eq!(
                found.map(|m| (m.unit, m.doubt.is_some())),
                Some((unit, doubtful)),
                "{name}"
            );
            assert!(found.is_some_and(|m| (m.one - one).abs() < 1e-9), "{name}: {found:?}");
        }
        for none in ["eggs", "inch", "gas", "", "large", "pinch"] {
            assert_eq!(measure(none), None, "{none}");
        }
        assert!(is_container("tins") && is_vague("Pinches") && !is_vague("pinky"));
    }
}
