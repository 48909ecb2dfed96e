//! Every constant of this layer, with unit, spread, source and standing.

use std::fmt;

/// How far a constant can be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Trust {
    /// Fitted to published bake times; an effective value.
    Fitted,
    /// Within the range the literature gives.
    Literature,
    /// Common practice of the trade.
    Practice,
    /// From memory of the literature; not looked up.
    FromMemory,
    /// A choice of the project.
    Chosen,
}

impl fmt::Display for Trust {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Trust::Fitted => "fitted",
            Trust::Literature => "literature",
            Trust::Practice => "common practice",
            Trust::FromMemory => "from memory",
            Trust::Chosen => "chosen",
        })
    }
}

/// A constant and what is known of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Constant {
    /// What it is.
    pub name: &'static str,
    /// The value used.
    pub value: f64,
    /// Its unit; empty for a plain factor.
    pub unit: &'static str,
    /// The range it may lie in, where known, in the same unit.
    pub spread: Option<(f64, f64)>,
    /// How far it can be trusted.
    pub standing: Trust,
    /// Where it comes from.
    pub source: &'static str,
}

impl fmt::Display for Constant {
    /// One line: name, value and unit, spread, standing, source.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.name, self.value)?;
        if !self.unit.is_empty() {
            write!(f, " {}", self.unit)?;
        }
        if let Some((low, high)) = self.spread {
            write!(f, " ({low} to {high})")?;
        }
        write!(f, "; {}; {}", self.standing, self.source)
    }
}

macro_rules! constants {
    ($($(#[$doc:meta])* $id:ident = $name:literal, $value:literal, $unit:literal, $spread:expr,
       $standing:ident, $source:literal;)*) => {
        $($(#[$doc])*
        pub const $id: Constant = Constant {
            name: $name,
            value: $value,
            unit: $unit,
            spread: $spread,
            standing: Trust::$standing,
            source: $source,
        };)*

        /// All of them, to be printed.
        pub const ALL: &[Constant] = &[$($id),*];
    };
}

constants! {
    /// Conductivity of a baking batter, W/(m·K).
    BATTER_CONDUCTIVITY = "conductivity while baking", 1.0, "W/(m·K)", None, Fitted,
        "18 recipes with times for two or more tins, from memory; an effective value that lumps \
         radiation, evaporation and rise, so no inner temperature profile may be drawn from it";
    /// Heat transfer in an oven without a fan, W/(m²·K).
    OVEN_TRANSFER = "heat transfer in an oven without a fan", 8.0, "W/(m²·K)", None, Fitted,
        "as the conductivity";
    /// Mean rise during the bake.
    RISE = "mean rise during the bake", 1.6, "", None, Fitted, "as the conductivity";
    /// Density of batter where its own is not known, kg/m³.
    BATTER_DENSITY = "density of batter", 900.0, "kg/m³", Some((400.0, 1100.0)), Literature,
        "whisked foams 400 to 500, creamed 700 to 800, melted 1000 to 1100; cancels where \
         recipe and tin have the same";
    /// Specific heat of batter, J/(kg·K).
    BATTER_HEAT = "specific heat of batter", 2900.0, "J/(kg·K)", None, Literature,
        "cancels in the calibrated ratio";
    /// Temperature of raw batter, °C.
    BATTER_START = "temperature of raw batter", 20.0, "°C", None, Chosen, "a food room";
    /// Temperature in the middle of a baked cake, °C.
    BATTER_END = "temperature in the middle when baked", 96.0, "°C", Some((88.0, 99.0)),
        Literature, "published end temperatures 93 to 99; dense butter cakes 88 to 93";
    /// Heat transfer of a fan oven over that of one without.
    FAN_FACTOR = "heat transfer with a fan, over that without", 1.215, "", None, Fitted,
        "makes the customary '20 °C lower' come out even between 180 and 160 °C";
    /// Least κ that is not suspicious.
    LEAST_KAPPA = "least calibration factor not suspected", 0.55, "", None, Fitted,
        "single tins of published recipes gave 0.58 to 1.51";
    /// Greatest κ that is not suspicious.
    GREATEST_KAPPA = "greatest calibration factor not suspected", 1.6, "", None, Fitted,
        "as the least; rich fruit cake gives about 2";
    /// 80 % band as a factor either way.
    BAND_80 = "80 % band, as a factor either way", 1.36, "", Some((1.31, 1.36)), Fitted,
        "tests/data/tins.csv, each tin predicted from each other of its recipe; a larger \
         collection of 73 tins asked for 1.31, which holds 75 % of these";
    /// 90 % band as a factor either way.
    BAND_90 = "90 % band, as a factor either way", 1.45, "", Some((1.41, 1.45)), Fitted,
        "as the 80 % band; the larger collection asked for 1.41";
    /// Spread of one bake about its tin, as a standard deviation of ln.
    OUTCOME_SIGMA = "spread of one bake about its tin", 0.10, "", Some((0.05, 0.15)), Chosen,
        "standard deviation of ln(minutes); the door, the dial, the moment of testing";
    /// Power of volume over surface in the cross-check.
    CROSS_POWER = "power of volume over surface in the cross-check", 1.27, "", None, Fitted,
        "the same published tins; rms error 24 % against the model's 23 %";
    /// Weight of the sides in the cross-check's surface.
    CROSS_SIDES = "weight of the sides in the cross-check", 1.35, "", None, Fitted,
        "as its power";
    /// Conductivity of crumb, W/(m·K).
    CRUMB_CONDUCTIVITY = "conductivity of crumb", 0.20, "W/(m·K)", None, FromMemory,
        "from memory, no table read";
    /// Density of crumb, kg/m³.
    CRUMB_DENSITY = "density of crumb", 400.0, "kg/m³", None, FromMemory,
        "from memory, no table read";
    /// Specific heat of crumb, J/(kg·K).
    CRUMB_HEAT = "specific heat of crumb", 2800.0, "J/(kg·K)", None, FromMemory,
        "from memory, no table read";
    /// Temperature of a cake out of the oven, °C.
    COOLING_START = "temperature out of the oven", 95.0, "°C", None, FromMemory,
        "close to the end temperature of the bake";
    /// Air a cake cools in, °C.
    COOLING_AIR = "air a cake cools in", 21.0, "°C", None, FromMemory, "a food room";
    /// Heat transfer on a rack, W/(m²·K).
    RACK_TRANSFER = "heat transfer on a rack", 10.0, "W/(m²·K)", None, FromMemory,
        "still air with radiation, both faces open";
    /// How long the computed cooling is, over the real one.
    COOLING_EXCESS = "computed cooling over real", 1.1, "", None, FromMemory,
        "evaporation is left out";
    /// The middle of a cake that may be handled and boxed loosely, °C.
    HAND_WARM = "middle of a cake hand-warm outside", 45.0, "°C", None, Practice,
        "handle and box in a vented box; a recipe may differ";
    /// The middle of a cake that may be iced or creamed, °C.
    ICING = "middle of a cake to ice or cream", 30.0, "°C", None, Practice,
        "at this or less; a recipe may differ";
    /// Minutes a cake rests in its tin before it is turned out.
    REST_IN_TIN = "rest in the tin, cakes", 10.0, "min", Some((10.0, 15.0)), Practice,
        "turn out on a rack";
    /// Minutes muffins rest in their tray.
    REST_IN_TRAY = "rest in the tray, muffins", 5.0, "min", None, Practice, "turn out on a rack";
    /// Most of a tin that raw mixture should fill.
    MOST_FILL = "most of a tin that raw mixture fills", 0.667, "", Some((0.5, 0.667)), Practice,
        "half in deep tins, up to two thirds in others";
    /// Power of an oven, W.
    OVEN_POWER = "power of an oven", 2500.0, "W", None, FromMemory, "a domestic electric oven";
    /// Heat capacity of an oven, J/K.
    OVEN_CAPACITY = "heat capacity of an oven", 14_000.0, "J/K", None, FromMemory,
        "reported warm-ups run from 10 to 20 min and more; the room's own minutes fix it";
    /// Losses of an oven, W/K.
    OVEN_LOSS = "losses of an oven", 6.0, "W/K", None, FromMemory, "a domestic electric oven";
    /// Cold room, °C.
    ROOM = "cold room", 20.0, "°C", None, Chosen, "where warm-ups begin";
}

/// The whole table, one constant a line.
pub fn table() -> String {
    ALL.iter().map(|c| format!("{c}\n")).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_constant_is_within_its_spread_and_has_a_source() {
        let mut names = std::collections::BTreeSet::new();
        for c in ALL {
            assert!(c.value.is_finite() && c.value > 0.0 && !c.source.is_empty(), "{c}");
            assert!(c.spread.is_none_or(|(low, high)| low <= c.value && c.value <= high), "{c}");
            assert!(names.insert(c.name), "{c} twice");
        }
        assert_eq!(table().lines().count(), ALL.len());
        assert!(table().contains("mean rise during the bake: 1.6; fitted"));
    }
}
