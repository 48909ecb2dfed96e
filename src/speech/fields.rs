//! What fields show and read: in °F, inches and fluid ounces for an American,
//! while the file stays in °C, millimetres and millilitres.

use super::kept::Said;
use super::{English, KeptNames, dates, measures};
use crate::convert::Unit;
use crate::units::plain_number;

/// What a field holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Measure {
    /// Words, or figures that are the same everywhere.
    #[default]
    Plain,
    /// A temperature, °C.
    Celsius,
    /// A difference of temperatures, °C.
    CelsiusApart,
    /// A length, mm.
    Millimetres,
    /// A volume, ml.
    Millilitres,
    /// A time of the day.
    Clock,
    /// A day.
    Date,
}

impl Measure {
    /// Its unit, as it stands beside a field.
    pub fn unit(self, english: English) -> &'static str {
        match (self, english.is_customary()) {
            (Measure::Celsius | Measure::CelsiusApart, false) => "°C",
            (Measure::Celsius | Measure::CelsiusApart, true) => "°F",
            (Measure::Millimetres, false) => "mm",
            (Measure::Millimetres, true) => "in",
            (Measure::Millilitres, false) => "ml",
            (Measure::Millilitres, true) => "fl oz",
            (Measure::Plain | Measure::Clock | Measure::Date, _) => "",
        }
    }

    /// What a field shows for what the file holds, every figure of it.
    pub fn shown(self, text: &str, english: English) -> String {
        if !english.is_customary() {
            return text.to_owned();
        }
        match self {
            Measure::Plain => text.to_owned(),
            Measure::Clock => clock_shown(text).unwrap_or_else(|| text.to_owned()),
            Measure::Date => {
                let names = KeptNames::default();
                let day = dates::at(Said { text: text.trim(), names: &names }, 0);
                day.map_or_else(|| text.to_owned(), |(_, day)| day)
            }
            Measure::Celsius => figures(text, |c| plain_number(measures::fahrenheit(c))),
            Measure::CelsiusApart => figures(text, |c| plain_number((c * 18.0).round() / 10.0)),
            Measure::Millimetres => {
                figures(text, |mm| within(mm / Unit::Inch.one(), 0.49 / Unit::Inch.one()))
            }
            Measure::Millilitres => figures(text, |ml| {
                within(ml / Unit::UsFluidOunce.one(), 0.05 / Unit::UsFluidOunce.one())
            }),
        }
    }

    /// What was typed as the file holds it; what cannot be read stays as it is
    /// and is refused by whoever reads it.
    pub fn read(self, typed: &str, english: English) -> String {
        if !english.is_customary() {
            return typed.to_owned();
        }
        let figure = |value: f64| match self {
            Measure::Celsius => measures::celsius(value),
            Measure::CelsiusApart => tenths(value / 1.8),
            Measure::Millimetres => (value * Unit::Inch.one()).round(),
            Measure::Millilitres => tenths(value * Unit::UsFluidOunce.one()),
            _ => value,
        };
        match self {
            Measure::Plain => typed.to_owned(),
            Measure::Clock => clock_read(typed).unwrap_or_else(|| typed.to_owned()),
            Measure::Date => dates::day_first(typed),
            _ => {
                let bare = typed.trim();
                let units = [self.unit(english), "F", "\"", "inches", "inch"];
                let bare = units.iter().find_map(|unit| bare.strip_suffix(unit)).unwrap_or(bare);
                let bare = bare.trim().replace(',', ".");
                let Some(value) = crate::convert::figure(&bare) else { return typed.to_owned() };
                plain_number(figure(value))
            }
        }
    }
}

fn tenths(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

/// A text with its figures in another unit.
fn figures(text: &str, convert: impl Fn(f64) -> String) -> String {
    text.trim().replace('−', "-").parse::<f64>().map_or_else(|_| text.to_owned(), convert)
}

/// In eighths where that is no farther off than the file's own rounding; with
/// two decimals otherwise.
fn within(value: f64, slack: f64) -> String {
    let eighth = (value * 8.0).round() / 8.0;
    if (eighth - value).abs() <= slack + 1e-9 && eighth > 0.0 {
        measures::eighths(eighth)
    } else {
        plain_number(value)
    }
}

/// "13:05" as "1:05 pm".
fn clock_shown(text: &str) -> Option<String> {
    let (hour, minute) = text.trim().split_once(':')?;
    let (hour, minute): (u32, u32) = (hour.parse().ok()?, minute.parse().ok()?);
    if hour > 23 || minute > 59 {
        return None;
    }
    let half = if hour < 12 { "am" } else { "pm" };
    Some(format!("{}:{minute:02} {half}", measures::twelve(hour)))
}

/// "1:05 pm" as "13:05". Without "am" or "pm" an hour from one to six is an
/// afternoon's, as school days go (chosen).
fn clock_read(typed: &str) -> Option<String> {
    let text = typed.trim().to_lowercase().replace("a.m.", "am").replace("p.m.", "pm");
    let (bare, half) = match (text.strip_suffix("am"), text.strip_suffix("pm")) {
        (Some(bare), _) => (bare, Some(false)),
        (_, Some(bare)) => (bare, Some(true)),
        _ => (text.as_str(), None),
    };
    let bare = bare.trim().replace('.', ":");
    let (hour, minute) = match bare.split_once(':') {
        Some((hour, minute)) => (hour, minute),
        None if bare.len() > 2 && bare.is_ascii() => bare.split_at(bare.len() - 2),
        None => (bare.as_str(), "00"),
    };
    let early = hour.starts_with('0');
    let (hour, minute): (u32, u32) = (hour.parse().ok()?, minute.parse().ok()?);
    let hour = match half {
        Some(_) if !(1..=12).contains(&hour) => return None,
        Some(afternoon) => hour % 12 + if afternoon { 12 } else { 0 },
        None if (1..=6).contains(&hour) && !early => hour + 12,
        None => hour,
    };
    (hour < 24 && minute < 60).then(|| format!("{hour:02}:{minute:02}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    const US: English = English::American;

    #[test]
    fn what_is_shown_is_read_as_what_it_was() {
        for mm in 1..700 {
            let (mm, of) = (mm.to_string(), Measure::Millimetres);
            assert_eq!(of.read(&of.shown(&mm, US), US), mm);
        }
        for ml in 5..3000 {
            let (ml, of) = (ml.to_string(), Measure::Millilitres);
            let back: f64 = of.read(&of.shown(&ml, US), US).parse().unwrap_or(f64::NAN);
            let wanted: f64 = ml.parse().unwrap_or(f64::NAN);
            assert!((back - wanted).abs() <= 0.2, "{ml}: {back}");
        }
        for celsius in (140..=280).step_by(10).chain(22..90) {
            let (celsius, of) = (celsius.to_string(), Measure::Celsius);
            let back: f64 = of.read(&of.shown(&celsius, US), US).parse().unwrap_or(f64::NAN);
            let wanted: f64 = celsius.parse().unwrap_or(f64::NAN);
            assert!((back - wanted).abs() <= 0.3, "{celsius}: {back}");
        }
        for time in ["00:00", "09:50", "12:05", "13:05", "23:59"] {
            let of = Measure::Clock;
            assert_eq!(of.read(&of.shown(time, US), US), time);
        }
    }

    #[test]
    fn americans_type_as_they_are_used_to() {
        for (of, typed, read) in [
            (Measure::Celsius, "350", "180"),
            (Measure::Celsius, "350 °F", "180"),
            (Measure::Celsius, "340", "170"),
            (Measure::CelsiusApart, "18", "10"),
            (Measure::CelsiusApart, "-9", "-5"),
            (Measure::Millimetres, "8", "203"),
            (Measure::Millimetres, "8 1/2 in", "216"),
            (Measure::Millimetres, "8½\"", "216"),
            (Measure::Clock, "1:05", "13:05"),
            (Measure::Clock, "9", "09:00"),
            (Measure::Clock, "905", "09:05"),
            (Measure::Clock, "12:30 am", "00:30"),
            (Measure::Clock, "06:30", "06:30"),
            (Measure::Clock, "13 pm", "13 pm"),
            (Measure::Date, "11/26/2026", "26/11/2026"),
            (Measure::Plain, "350", "350"),
            (Measure::Millimetres, "wide", "wide"),
            (Measure::Celsius, "", ""),
        ] {
            assert_eq!(of.read(typed, US), read, "{typed}");
            assert_eq!(of.read(typed, English::British), typed);
            assert_eq!(of.shown(typed, English::Irish), typed);
        }
    }

    #[test]
    fn hints_in_words_stay() {
        assert_eq!(Measure::Celsius.shown("by weight", US), "by weight");
        assert_eq!(Measure::Millimetres.shown("420", US), "16.54");
        assert_eq!(Measure::Clock.shown("10:05", US), "10:05 am");
    }
}
