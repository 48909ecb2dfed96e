//! Quantities and times in a sentence, as an American reads them: °F, inches,
//! ounces, fluid ounces, and a clock of twelve hours.
//!
//! What is measured in millimetres is told to an eighth of an inch; sizes of
//! tins in whole centimetres are names more than measures, and are rounded as
//! a kitchen rounds them (20 cm is 8 in).
//!
//! A measure ends where a name of the user's begins: in "2 × 20 cm tin" the 2
//! measures nothing if the tin is called "20 cm tin".

use super::kept::Said;
use crate::convert::{Spoons, Unit, dial};
use crate::units::plain_number;

/// Between the numbers of one quantity.
const BETWEEN: [&str; 8] = [" to ", " × ", "×", " by ", " and ", " or ", "–", " x "];
/// Units, the longer ones first.
const UNITS: [(&str, ToldAs); 9] = [
    ("°C", ToldAs::Oven),
    ("° C", ToldAs::Oven),
    ("mm", ToldAs::Inches),
    ("cm", ToldAs::Size),
    ("ml", ToldAs::Liquid),
    ("kg", ToldAs::Pounds),
    ("g", ToldAs::Ounces),
    ("l", ToldAs::Litres),
    ("K", ToldAs::Kelvins),
];
/// At this temperature and above it is an oven's, °C.
const OVENS: f64 = 120.0;
/// Whole centimetres from here on are what a tin is called by.
const NOMINAL: f64 = 10.0;
/// Less liquid than this is told in teaspoons, ml.
const SPOONS: f64 = 30.0;
/// Before and after a difference of temperatures.
const BEFORE_DIFFERENCE: [&str; 4] = ["by", "within", "cools", "±"];
const AFTER_DIFFERENCE: [&str; 9] =
    ["lower", "higher", "hotter", "colder", "cooler", "warmer", "of its", "too", "off"];

/// How a quantity is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum ToldAs {
    Oven,
    Kelvins,
    Inches,
    Size,
    Liquid,
    Pounds,
    Ounces,
    Litres,
}

/// What an American reads for a quantity, a time or a unit that begins at a
/// place, and how many bytes it takes there.
pub(super) fn at(sentence: Said<'_>, at: usize, first: char) -> Option<(usize, String)> {
    let text = sentence.text;
    let rest = &text[at..];
    if first.is_ascii_digit() || matches!(first, '-' | '−') {
        return clock(text, at).or_else(|| quantity(sentence, at));
    }
    // A unit by itself, unless what it is of is told in it: "the size in mm".
    let (length, told) = unit(rest)?;
    let of_something = text[..at].trim_end().ends_with(" in");
    match told {
        _ if of_something => None,
        ToldAs::Oven => Some((length, "°F".to_owned())),
        ToldAs::Inches | ToldAs::Size => Some((length, "in".to_owned())),
        _ => None,
    }
}

/// "13:05" as "1:05".
fn clock(text: &str, at: usize) -> Option<(usize, String)> {
    // Part of something longer: "3:2:1".
    let before = text[..at].strip_suffix([':', '.']);
    if before.is_some_and(|b| b.ends_with(|c: char| c.is_ascii_digit())) {
        return None;
    }
    let rest = &text[at..];
    let digits = |t: &str| t.bytes().take_while(u8::is_ascii_digit).count();
    let hours = digits(rest);
    let minutes = rest[hours..].strip_prefix(':')?;
    if !(1..=2).contains(&hours) || digits(minutes) != 2 {
        return None;
    }
    let length = hours + 3;
    let mut after = rest[length..].chars();
    let goes_on = match after.next() {
        Some(':') => after.next().is_some_and(|c| c.is_ascii_digit()),
        next => next.is_some_and(char::is_alphanumeric),
    };
    let (hour, minute): (u32, u32) = (rest[..hours].parse().ok()?, minutes[..2].parse().ok()?);
    if hour > 23 || minute > 59 || goes_on {
        return None;
    }
    Some((length, format!("{}:{minute:02}", twelve(hour))))
}

/// An hour of 24 as one of twelve.
pub(super) fn twelve(hour: u32) -> u32 {
    match hour % 12 {
        0 => 12,
        hour => hour,
    }
}

/// "160 to 180 °C", "420 × 360 mm".
fn quantity(sentence: Said<'_>, at: usize) -> Option<(usize, String)> {
    let text = sentence.text;
    let rest = &text[at..];
    let is_name = |from: usize| sentence.name_at(at + from).is_some();
    let mut numbers = Vec::new();
    let mut between = Vec::new();
    let mut end = 0;
    loop {
        let (length, number) = number(&rest[end..])?;
        numbers.push(number);
        end += length;
        let space = rest[end..].chars().next().filter(|c| matches!(c, ' ' | '\u{a0}'));
        let spaced = end + space.map_or(0, char::len_utf8);
        if let Some((length, told)) = unit(&rest[spaced..]).filter(|_| !is_name(spaced)) {
            end = spaced + length;
            let told = difference(&text[..at], &rest[end..], told);
            return Some((end, written(&numbers, &between, told)));
        }
        let joins = |sign: &&&str| rest[end..].starts_with(**sign);
        let sign = BETWEEN.iter().find(joins)?;
        // " by 20 cm tin": the word may begin a name, or what follows it.
        let word = end + sign.len() - sign.trim_start().len();
        end += sign.len();
        if is_name(word) || is_name(end) {
            return None;
        }
        between.push(*sign);
    }
}

/// A temperature that is a difference, by the words round it.
fn difference(before: &str, after: &str, told: ToldAs) -> ToldAs {
    let (before, after) = (before.trim_end(), after.trim_start());
    let said = BEFORE_DIFFERENCE.iter().any(|w| before.ends_with(w))
        || AFTER_DIFFERENCE.iter().any(|w| after.starts_with(w));
    if told == ToldAs::Oven && said { ToldAs::Kelvins } else { told }
}

fn number(text: &str) -> Option<(usize, f64)> {
    let sign = text.chars().next().filter(|c| matches!(c, '-' | '−'));
    let from = sign.map_or(0, char::len_utf8);
    let digits = |t: &str| t.bytes().take_while(u8::is_ascii_digit).count();
    let whole = digits(&text[from..]);
    if whole == 0 {
        return None;
    }
    let mut end = from + whole;
    if let Some(rest) = text[end..].strip_prefix('.')
        && digits(rest) > 0
    {
        end += 1 + digits(rest);
    }
    let value: f64 = text[from..end].parse().ok()?;
    Some((end, if sign.is_some() { -value } else { value }))
}

/// A unit with which a text begins.
fn unit(text: &str) -> Option<(usize, ToldAs)> {
    UNITS.into_iter().find_map(|(name, told)| {
        let next = text.strip_prefix(name)?.chars().next();
        let ends = !next.is_some_and(|c| c.is_alphanumeric() || c == '/');
        ends.then_some((name.len(), told))
    })
}

fn written(numbers: &[f64], between: &[&str], told: ToldAs) -> String {
    let most = numbers.iter().fold(0.0_f64, |most, n| most.max(n.abs()));
    let (unit, per): (&str, f64) = match told {
        ToldAs::Oven | ToldAs::Kelvins => ("°F", 1.0),
        ToldAs::Inches => ("in", 1.0 / Unit::Inch.one()),
        ToldAs::Size => ("in", 10.0 / Unit::Inch.one()),
        ToldAs::Liquid if most < SPOONS => ("tsp", 1.0 / Unit::Teaspoon(Spoons::Us).one()),
        ToldAs::Liquid => ("fl oz", 1.0 / Unit::UsFluidOunce.one()),
        ToldAs::Litres => ("fl oz", 1000.0 / Unit::UsFluidOunce.one()),
        ToldAs::Pounds => ("lb", 1000.0 / Unit::Pound.one()),
        ToldAs::Ounces => ("oz", 1.0 / Unit::Ounce.one()),
    };
    let figure = |n: &f64| match told {
        ToldAs::Oven => plain_number(fahrenheit(*n)),
        ToldAs::Kelvins => plain_number((n * 1.8).round()),
        ToldAs::Size if n.fract() == 0.0 && *n >= NOMINAL => halves(n * per),
        _ => eighths(n * per),
    };
    let mut text = String::new();
    for (i, number) in numbers.iter().enumerate() {
        text.push_str(&figure(number));
        text.push_str(between.get(i).copied().unwrap_or_default());
    }
    format!("{text} {unit}")
}

/// °F for °C: the customary figure where it is an oven's.
pub(super) fn fahrenheit(celsius: f64) -> f64 {
    if celsius >= OVENS { dial::of_celsius(celsius) } else { (celsius * 1.8 + 32.0).round() }
}

/// °C for °F, the other way round.
pub(super) fn celsius(fahrenheit: f64) -> f64 {
    let exact = (fahrenheit - 32.0) / 1.8;
    if exact >= OVENS { dial::to_celsius(fahrenheit) } else { (exact * 10.0).round() / 10.0 }
}

/// To the nearest half, as a tin is called.
fn halves(value: f64) -> String {
    eighths((value * 2.0).round() / 2.0)
}

/// To the nearest eighth, with its sign: "14⅛". What is less than an eighth
/// has decimals.
pub(super) fn eighths(value: f64) -> String {
    const SIGNS: [&str; 8] = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
    let count = (value.abs() * 8.0).round();
    if count < 1.0 {
        return plain_number(value);
    }
    let minus = if value < 0.0 { "−" } else { "" };
    let whole = (count / 8.0).floor();
    let rest = SIGNS.iter().enumerate().find(|(i, _)| *i as f64 == count - 8.0 * whole);
    let sign = rest.map_or("", |(_, sign)| sign);
    if whole < 1.0 { format!("{minus}{sign}") } else { format!("{minus}{whole}{sign}") }
}

#[cfg(test)]
mod tests {
    use crate::speech::{English, KeptNames, say};

    fn us(text: &str) -> String {
        say(text, English::American, &KeptNames::default()).into_owned()
    }

    #[test]
    fn ovens_are_told_as_dials_have_them_and_other_heat_exactly() {
        assert_eq!(us("180 °C, 180°C; 160 to 185 °C"), "350 °F, 350 °F; 325 to 365 °F");
        assert_eq!(us("cools to 30 °C"), "cools to 86 °F");
        assert_eq!(
            us("20 °C lower, within 10 °C of its own"),
            "36 °F lower, within 18 °F of its own"
        );
        assert_eq!(us("oven cool-down by 20 °C: 10 min"), "oven cool-down by 36 °F: 10 min");
        assert_eq!(us("180 °C by 10:29"), "350 °F by 10:29");
        assert_eq!(us("gas 4 is 180 °C"), "gas 4 is 350 °F");
        assert_eq!(us("160 °C fan; with a fan"), "325 °F convection; with a fan");
        assert_eq!(us("Hotter\n°C"), "Hotter\n°F");
        assert_eq!(us("the temperature in °C lies between 50 and 300"), {
            "the temperature in °C lies between 50 and 300"
        });
    }

    #[test]
    fn lengths_weights_and_liquids() {
        assert_eq!(us("420 × 360 mm, 12.7 mm high"), "16½ × 14⅛ in, ½ in high");
        assert_eq!(us("a 20 cm tin, 33 × 22.9 cm"), "an 8 in pan, 13 × 9 in");
        assert_eq!(us("over the 420 by 360 mm of it"), "over the 16½ by 14⅛ in of it");
        assert_eq!(us("25 g of sugar, 1.5 kg"), "⅞ oz of sugar, 3¼ lb");
        assert_eq!(us("450 ml; 35 ml; 5 ml; 0.8 ml"), "15¼ fl oz; 1⅛ fl oz; 1 tsp; ⅛ tsp");
        assert_eq!(us("0.75 g/ml, 3 goes, 5 minutes"), "0.75 g/ml, 3 goes, 5 minutes");
        assert_eq!(us("1 mm"), "0.04 in");
    }

    #[test]
    fn the_clock_has_twelve_hours() {
        assert_eq!(us("09:50 to 13:05: 2 tins"), "9:50 to 1:05: 2 pans");
        assert_eq!(us("00:10, 12:00, 23:59"), "12:10, 12:00, 11:59");
        assert_eq!(us("3:2:1, 24:00, 10:5, 1:234"), "3:2:1, 24:00, 10:5, 1:234");
    }
}
