//! Units as types. Points in time and lengths of time differ, and so do
//! temperatures and differences of temperature, so that they cannot be mixed up.

use std::fmt;
use std::ops::{Add, AddAssign, Neg, Sub};

use chrono::{DateTime, Local, NaiveTime, Timelike};
use thiserror::Error;

/// A figure that cannot be what it claims to be.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum UnitError {
    /// NaN or an infinity.
    #[error("{what} must be a plain number, not {value}")]
    NotFinite {
        /// What the figure is.
        what: &'static str,
        /// What was given.
        value: f64,
    },
    /// A finite figure outside what is plausible.
    #[error("{what} must lie between {low} and {high}, not {value}")]
    OutOfRange {
        /// What the figure is.
        what: &'static str,
        /// What was given.
        value: f64,
        /// Least plausible value.
        low: f64,
        /// Greatest plausible value.
        high: f64,
    },
    /// A time of day that is not written as hours and minutes.
    #[error("a time of day reads like \"10:05\", not \"{0}\"")]
    NotAClockTime(String),
}

fn within(what: &'static str, value: f64, low: f64, high: f64) -> Result<f64, UnitError> {
    if !value.is_finite() {
        return Err(UnitError::NotFinite { what, value });
    }
    if value < low || value > high {
        return Err(UnitError::OutOfRange { what, value, low, high });
    }
    Ok(value)
}

/// A point in time: whole minutes from the start bell of the lesson's first
/// period. Before the bell is negative. Minute `m` lasts from `m` to `m + 1`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Minute(i32);

impl Minute {
    /// The start bell.
    pub const BELL: Minute = Minute(0);

    /// The point `minutes` after the start bell.
    pub const fn new(minutes: i32) -> Self {
        Self(minutes)
    }

    /// Whole minutes after the start bell.
    pub const fn get(self) -> i32 {
        self.0
    }
}

impl fmt::Display for Minute {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "minute {}", self.0)
    }
}

/// A length of time in whole minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Minutes(i32);

impl Minutes {
    /// No time at all.
    pub const ZERO: Minutes = Minutes(0);

    /// A length of `minutes`.
    pub const fn new(minutes: i32) -> Self {
        Self(minutes)
    }

    /// How many whole minutes.
    pub const fn get(self) -> i32 {
        self.0
    }
}

impl fmt::Display for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} min", self.0)
    }
}

impl Add<Minutes> for Minute {
    type Output = Minute;
    fn add(self, length: Minutes) -> Minute {
        Minute(self.0 + length.0)
    }
}

impl Sub<Minutes> for Minute {
    type Output = Minute;
    fn sub(self, length: Minutes) -> Minute {
        Minute(self.0 - length.0)
    }
}

impl Sub for Minute {
    type Output = Minutes;
    fn sub(self, earlier: Minute) -> Minutes {
        Minutes(self.0 - earlier.0)
    }
}

impl Add for Minutes {
    type Output = Minutes;
    fn add(self, other: Minutes) -> Minutes {
        Minutes(self.0 + other.0)
    }
}

impl AddAssign for Minutes {
    fn add_assign(&mut self, other: Minutes) {
        self.0 += other.0;
    }
}

impl Sub for Minutes {
    type Output = Minutes;
    fn sub(self, other: Minutes) -> Minutes {
        Minutes(self.0 - other.0)
    }
}

impl Neg for Minutes {
    type Output = Minutes;
    fn neg(self) -> Minutes {
        Minutes(-self.0)
    }
}

/// A length of time as it was stated or computed, not yet rounded:
/// finite, from 0 to [`ExactMinutes::LONGEST`].
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct ExactMinutes(f64);

impl ExactMinutes {
    /// A step longer than a day is a slip of the pen.
    pub const LONGEST: f64 = 1440.0;
    /// No time at all.
    pub const ZERO: ExactMinutes = ExactMinutes(0.0);

    /// A length of `minutes`.
    ///
    /// # Errors
    /// If it is not finite, negative, or longer than [`Self::LONGEST`].
    pub fn new(minutes: f64) -> Result<Self, UnitError> {
        within("a number of minutes", minutes, 0.0, Self::LONGEST).map(Self)
    }

    /// The figure itself, in minutes.
    pub const fn get(self) -> f64 {
        self.0
    }

    /// **The** rounding of the project: up to the next whole minute. A
    /// millionth of a minute is forgiven, so that 0.1 + 0.2 + 0.7 is 1; but
    /// whatever takes any time at all takes a minute.
    #[allow(clippy::cast_possible_truncation)] // bounded by LONGEST times a factor
    pub fn rounded_up(self) -> Minutes {
        let least = if self.0 > 0.0 { 1.0 } else { 0.0 };
        Minutes((self.0 - 1e-6).ceil().max(least) as i32)
    }

    /// This length times a factor; a result that is not plausible is cut to
    /// the range of the type, a factor that is not finite counts as 1. What
    /// takes time, taken some part of, still takes some.
    #[must_use]
    pub fn times(self, factor: f64) -> Self {
        let factor = if factor.is_finite() { factor } else { 1.0 };
        let least = if self.0 > 0.0 && factor > 0.0 { f64::MIN_POSITIVE } else { 0.0 };
        Self((self.0 * factor).clamp(least, Self::LONGEST))
    }

    /// Part of the way from this length to `other`: 0 gives this, 1 the other.
    #[must_use]
    pub fn towards(self, other: Self, share: f64) -> Self {
        Self((self.0 + share * (other.0 - self.0)).clamp(0.0, Self::LONGEST))
    }
}

impl Add for ExactMinutes {
    type Output = ExactMinutes;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl fmt::Display for ExactMinutes {
    /// At most two decimals and no trailing zeros: `5`, `1.5`, `0.25`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&plain_number(self.0))
    }
}

/// A number as a teacher writes it: at most two decimals, no trailing zeros.
pub fn plain_number(value: f64) -> String {
    let text = format!("{value:.2}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Minutes as people tell them: to the half, `15`, `49½`.
pub fn halves(minutes: f64) -> String {
    let twice = (2.0 * minutes).round();
    match ((twice / 2.0).floor(), twice % 2.0 == 0.0) {
        (whole, true) => format!("{whole:.0}"),
        (0.0, false) => "½".to_owned(),
        (whole, false) => format!("{whole:.0}½"),
    }
}

/// A time of day, to the minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ClockTime(NaiveTime);

impl ClockTime {
    /// Where a day begins.
    pub const MIDNIGHT: ClockTime = ClockTime(NaiveTime::MIN);

    /// Reads "10:05" or "9:30".
    ///
    /// # Errors
    /// If it is not hours and minutes of a 24-hour clock.
    pub fn parse(text: &str) -> Result<Self, UnitError> {
        NaiveTime::parse_from_str(text.trim(), "%H:%M")
            .map(Self)
            .map_err(|_| UnitError::NotAClockTime(text.chars().take(40).collect()))
    }

    /// The length of time from `earlier` to this time of the same day.
    pub fn minutes_since(self, earlier: ClockTime) -> Minutes {
        let of_day = |t: NaiveTime| i32::try_from(t.hour() * 60 + t.minute()).unwrap_or(0);
        Minutes(of_day(self.0) - of_day(earlier.0))
    }

    /// The time of day `length` later, going round at midnight.
    #[must_use]
    pub fn after(self, length: Minutes) -> ClockTime {
        let (time, _) =
            self.0.overflowing_add_signed(chrono::TimeDelta::minutes(i64::from(length.0)));
        ClockTime(time)
    }
}

/// The day and time of this computer, whatever it is set to: before 1970 too,
/// where a run-down battery may put it.
pub fn local_now() -> DateTime<Local> {
    std::time::SystemTime::now().into()
}

impl fmt::Display for ClockTime {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.0.hour(), self.0.minute())
    }
}

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $what:literal, $low:expr, $high:expr, $unit:literal) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);

        impl $name {
            /// Checks and wraps a figure in this unit.
            ///
            /// # Errors
            /// If it is not finite or not plausible.
            pub fn new(value: f64) -> Result<Self, UnitError> {
                within($what, value, $low, $high).map(Self)
            }

            /// The figure itself, in this unit.
            pub const fn get(self) -> f64 {
                self.0
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, "{} {}", plain_number(self.0), $unit)
            }
        }
    };
}

quantity!(
    /// A temperature, in degrees Celsius (a point on the scale).
    Celsius, "a temperature in °C", -40.0, 400.0, "°C"
);
quantity!(
    /// A difference of temperatures, in kelvins.
    Kelvins, "a difference of temperature", -400.0, 400.0, "K"
);
quantity!(
    /// A weight, in grams.
    Grams, "a weight in grams", 0.0, 100_000.0, "g"
);
quantity!(
    /// A volume, in millilitres.
    Millilitres, "a volume in millilitres", 0.0, 100_000.0, "ml"
);

impl Celsius {
    /// A common baking temperature, 180 °C.
    pub const BAKING: Celsius = Celsius(180.0);
}

impl Kelvins {
    /// No difference.
    pub const ZERO: Kelvins = Kelvins(0.0);
}

impl Sub for Celsius {
    type Output = Kelvins;
    fn sub(self, other: Celsius) -> Kelvins {
        Kelvins(self.0 - other.0)
    }
}

impl Add<Kelvins> for Celsius {
    type Output = Celsius;
    fn add(self, difference: Kelvins) -> Celsius {
        Celsius(self.0 + difference.0)
    }
}

impl Sub<Kelvins> for Celsius {
    type Output = Celsius;
    fn sub(self, difference: Kelvins) -> Celsius {
        Celsius(self.0 - difference.0)
    }
}

/// A length in whole millimetres, as tins and shelves are measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Millimetres(i32);

impl Millimetres {
    /// Nothing in a food room is larger than this.
    pub const LARGEST: i32 = 5000;

    /// Checks and wraps a length in millimetres; fractions are rounded.
    ///
    /// # Errors
    /// If it is not finite, negative, or over five metres.
    #[allow(clippy::cast_possible_truncation)] // bounded by LARGEST
    pub fn new(millimetres: f64) -> Result<Self, UnitError> {
        within("a length in millimetres", millimetres, 0.0, f64::from(Self::LARGEST))
            .map(|mm| Self(mm.round() as i32))
    }

    /// A length known when the program was written.
    pub const fn whole(millimetres: i32) -> Self {
        Self(millimetres)
    }

    /// Whole millimetres.
    pub const fn get(self) -> i32 {
        self.0
    }
}

impl fmt::Display for Millimetres {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} mm", self.0)
    }
}

/// Where something stands, in hundredths of a millimetre: the middle of a round
/// tin seldom lies at a whole millimetre. At most 21 metres either way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct FineMillimetres(i32);

impl FineMillimetres {
    const IN_ONE: i32 = 100;

    /// So many millimetres, as far as they can be held.
    pub const fn whole(millimetres: i32) -> Self {
        Self(millimetres.saturating_mul(Self::IN_ONE))
    }

    /// So many hundredths of a millimetre.
    pub const fn hundredths(hundredths: i32) -> Self {
        Self(hundredths)
    }

    /// Rounds millimetres to hundredths.
    ///
    /// # Errors
    /// If they are not finite or beyond 20 metres.
    #[allow(clippy::cast_possible_truncation)] // bounded
    pub fn new(millimetres: f64) -> Result<Self, UnitError> {
        within("a place in millimetres", millimetres, -20_000.0, 20_000.0)
            .map(|mm| Self((mm * f64::from(Self::IN_ONE)).round() as i32))
    }

    /// Hundredths of a millimetre.
    pub const fn get(self) -> i32 {
        self.0
    }

    /// Millimetres.
    pub fn in_mm(self) -> f64 {
        f64::from(self.0) / f64::from(Self::IN_ONE)
    }

    /// Millimetres, if they are whole.
    pub const fn whole_mm(self) -> Option<i32> {
        if self.0 % Self::IN_ONE == 0 { Some(self.0 / Self::IN_ONE) } else { None }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(minutes: f64) -> ExactMinutes {
        ExactMinutes::new(minutes).unwrap_or_default()
    }

    #[test]
    fn minutes_round_up_and_forgive_binary_dust() {
        assert_eq!(exact(1.5).rounded_up(), Minutes::new(2));
        assert_eq!(exact(5.0).rounded_up(), Minutes::new(5));
        assert_eq!(exact(0.1 + 0.2 + 0.7).rounded_up(), Minutes::new(1));
        assert_eq!(exact(4.0).times(1.25).rounded_up(), Minutes::new(5));
        assert_eq!(exact(0.01).rounded_up(), Minutes::new(1));
        assert_eq!(exact(1e-7).rounded_up(), Minutes::new(1));
        assert_eq!(exact(f64::from_bits(1)).times(0.3).rounded_up(), Minutes::new(1));
        assert_eq!(exact(0.0).rounded_up(), Minutes::new(0));
    }

    #[test]
    fn what_is_not_a_number_is_refused() {
        assert!(ExactMinutes::new(f64::NAN).is_err());
        assert!(ExactMinutes::new(f64::INFINITY).is_err());
        assert!(ExactMinutes::new(-1.0).is_err());
        assert!(Celsius::new(1e9).is_err());
        assert!(Millimetres::new(f64::NEG_INFINITY).is_err());
    }

    #[test]
    fn clock_times_add_and_subtract() -> Result<(), UnitError> {
        let start = ClockTime::parse("10:05")?;
        assert_eq!(ClockTime::parse("11:05")?.minutes_since(start), Minutes::new(60));
        assert_eq!(start.after(Minutes::new(55)).to_string(), "11:00");
        assert_eq!(start.after(Minutes::new(-15)).to_string(), "09:50");
        assert!(ClockTime::parse("25:00").is_err());
        assert!(ClockTime::parse("noon").is_err());
        Ok(())
    }
}
