//! What the words of a recipe say of its oven and its tins.

use super::LONGEST_TEXT;
use super::amounts::Reader;
use crate::convert::{Quantity, Unit, dial};
use crate::file::format::{StatedMinutes, TinShape};
use crate::model::FAN_KELVINS;
use crate::units::plain_number;

/// °C between which something bakes.
const BAKES: (f64, f64) = (50.0, 300.0);

/// A temperature that was found.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Heat {
    /// °C without a fan.
    pub celsius: f64,
    /// How that follows from what is written.
    pub how: &'static str,
}

/// A figure of a text, and what stands before and behind it.
struct Figure<'a> {
    value: f64,
    before: &'a str,
    behind: Reader<'a>,
}

/// The figures of a text.
fn figures(text: &str) -> Vec<Figure<'_>> {
    let mut all = Vec::new();
    if text.len() > LONGEST_TEXT {
        return all;
    }
    let mut from = 0;
    let is_figure = |c: char| crate::convert::figure(&c.to_string()).is_some();
    while let Some(at) = text.get(from..).and_then(|t| t.find(is_figure)).map(|at| from + at) {
        let mut behind = Reader::new(text.get(at..).unwrap_or_default());
        let Some((value, _)) = behind.figure() else { break };
        // Reading stops after blanks.
        from = text.len() - behind.rest.len();
        all.push(Figure { value, before: text.get(..at).unwrap_or_default(), behind });
    }
    all
}

/// The temperatures of a text, each once: °C before °F before gas marks, as far
/// as they say the same.
pub(super) fn heats(text: &str) -> Vec<Heat> {
    let (mut celsius, mut fan, mut others) = (Vec::new(), Vec::new(), Vec::new());
    for Figure { value, before, behind } in figures(text) {
        let before = before.trim_end().to_lowercase();
        let mut unit = behind;
        while ["°", "º", "˚", "degrees", "degree", "deg", "."].iter().any(|sign| unit.eat(sign))
        {
        }
        if unit.eat("C") || unit.eat("celsius") || unit.eat("centigrade") {
            let is_fan =
                ["fan", "fan oven", "convection", "fan:"].iter().any(|f| before.ends_with(f));
            let rest = unit.rest.trim_start_matches(['(', ' ']);
            let next = rest.get(..10).unwrap_or(rest).to_lowercase();
            let then = next.starts_with("fan") || next.starts_with("convection");
            // "180C fan 160C": the fan's is the second.
            let after =
                Reader::new(rest.get(3..).unwrap_or_default().trim_start_matches([':', ' ']));
            let of_next =
                then && { after }.figure().is_some_and(|(next, _)| next < value && next > 50.0);
            if is_fan || (then && !of_next) { fan.push(value) } else { celsius.push(value) }
        } else if unit.eat("F") || unit.eat("fahrenheit") {
            others
                .push(Heat { celsius: dial::to_celsius(value), how: "from °F, as dials are set" });
        } else if ["gas", "gas mark", "mark", "gas:"].iter().any(|gas| before.ends_with(gas)) {
            let mark = Quantity { figure: value, unit: Unit::Gas };
            if let Ok(heat) = mark.exactly(Unit::Celsius, None) {
                others.push(Heat { celsius: heat.figure, how: "from the gas mark" });
            }
        }
    }
    let plain = celsius.into_iter().map(|celsius| Heat { celsius, how: "as it stands there" });
    let mut all: Vec<Heat> = plain.collect();
    if all.is_empty() {
        let how = "20 °C above the fan's, by custom";
        all.extend(fan.into_iter().map(|c| Heat { celsius: c + FAN_KELVINS, how }));
    }
    if all.is_empty() {
        all = others;
    }
    all.retain(|heat| (BAKES.0..=BAKES.1).contains(&heat.celsius));
    let mut seen: Vec<f64> = Vec::new();
    all.retain(|heat| {
        let is_new = !seen.iter().any(|c| (c - heat.celsius).abs() < 1e-6);
        seen.push(heat.celsius);
        is_new
    });
    all
}

/// The lengths of time of a text, in minutes: least and greatest.
pub(super) fn lengths(text: &str) -> Vec<(f64, f64)> {
    let mut all: Vec<(f64, f64)> = Vec::new();
    let mut hours: Option<f64> = None;
    let mut until = usize::MAX;
    for Figure { value, behind, before } in figures(text) {
        if before.len() < until && until != usize::MAX {
            continue;
        }
        let mut after = behind;
        let joined = ["-", "–", "—", "to", "or"].iter().any(|sign| after.eat(sign));
        let greater = after.figure().filter(|(g, _)| joined && *g > value).map(|(g, _)| g);
        if greater.is_none() {
            after = behind;
        }
        after.eat("-");
        let (low, high) = (value, greater.unwrap_or(value));
        let is_hours = ["hours", "hour", "hrs", "hr"].iter().any(|word| after.eat(word));
        let is_minutes = ["minutes", "minute", "mins", "min"].iter().any(|word| after.eat(word));
        if greater.is_some() {
            until = text.len() - after.rest.len();
        }
        if is_hours {
            all.push((60.0 * low, 60.0 * high));
            hours = (greater.is_none()).then_some(60.0 * low);
        } else if is_minutes {
            // "1 hour 10 minutes" is one length.
            match hours.take().zip(all.last_mut()) {
                Some((of_hours, last)) if is_joined(before) => {
                    *last = (of_hours + low, of_hours + high);
                }
                _ => all.push((low, high)),
            }
        }
    }
    all
}

/// Whether minutes follow hours at once.
fn is_joined(before: &str) -> bool {
    let before = before.trim_end().to_lowercase();
    let before = before.strip_suffix("and").unwrap_or(&before).trim_end().to_owned();
    ["hour", "hours", "hr", "hrs"].iter().any(|word| before.ends_with(word))
}

/// Least and greatest minutes as a file states them.
pub(super) fn stated((low, high): (f64, f64)) -> StatedMinutes {
    if low < high {
        StatedMinutes::Three(low, f64::midpoint(low, high), high)
    } else {
        StatedMinutes::Usual(low)
    }
}

/// Minutes in words: "20 to 25 min".
pub(super) fn told((low, high): (f64, f64)) -> String {
    let [least, most] = [low, high].map(plain_number);
    if low < high { format!("{least} to {most} min") } else { format!("{least} min") }
}

/// Words of a tin's name that say nothing of which it is.
const ANY_TIN: [&str; 3] = ["tin", "tray", "deep"];
/// Words for a tin of any kind.
const TINS: [&str; 8] = ["tin", "tray", "pan", "dish", "cases", "sheet", "cups", "mould"];

/// Which of the kinds of tins a text names, and how many of each.
pub(super) fn tins<'a>(text: &str, known: &'a [TinShape]) -> Vec<(&'a TinShape, i64)> {
    let words = words_of(text);
    let names_one = |word: &String| TINS.iter().any(|tin| word.starts_with(tin));
    if !words.iter().any(names_one) {
        return Vec::new();
    }
    let mut all: Vec<(&TinShape, i64)> = Vec::new();
    for tin in known {
        let own: Vec<String> =
            words_of(&tin.name).into_iter().filter(|w| !ANY_TIN.contains(&w.as_str())).collect();
        let is_there = |own: &String| words.iter().any(|w| w == own || *w == format!("{own}s"));
        if own.is_empty() || !own.iter().all(is_there) {
            continue;
        }
        let at = words.iter().position(|w| *w == own[0]).unwrap_or(0);
        let before = at.checked_sub(1).and_then(|i| words.get(i)).map(String::as_str);
        let before = match before {
            Some("x" | "×") => at.checked_sub(2).and_then(|i| words.get(i)).map(String::as_str),
            other => other,
        };
        let count = match before {
            Some("two" | "2") => 2,
            Some("three" | "3") => 3,
            Some("four" | "4") => 4,
            _ => 1,
        };
        all.push((tin, count));
    }
    all
}

/// The words of a text, figures apart from their measures, inches as the
/// centimetres a tin of them has by custom.
fn words_of(text: &str) -> Vec<String> {
    let mut apart = String::new();
    let mut last = ' ';
    for c in text.to_lowercase().chars() {
        let sides = (last.is_ascii_digit() && c.is_alphabetic()) || c == '"' || c == '×';
        if sides || (last == '×' && c.is_ascii_digit()) {
            apart.push(' ');
        }
        apart.push(if c.is_alphanumeric() || c == '"' || c == '×' { c } else { ' ' });
        last = c;
    }
    let mut words: Vec<String> = apart.split_whitespace().map(str::to_owned).collect();
    for i in 1..words.len() {
        if ["in", "inch", "inches", "\""].contains(&words[i].as_str())
            && let Ok(inches) = words[i - 1].parse::<f64>()
        {
            // An 8-inch tin is sold as one of 20 cm.
            words[i - 1] = format!("{:.0}", inches * 2.54);
            words[i] = "cm".to_owned();
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::library;

    #[test]
    fn temperatures_are_told_apart() {
        for (text, wanted) in [
            ("Heat the oven to 180C/160C fan/gas 4.", &[180.0][..]),
            ("Heat oven to 180°C (fan 160°C / gas mark 4)", &[180.0]),
            ("oven at 180C fan 160C", &[180.0]),
            ("Preheat to 350°F.", &[180.0]),
            ("Preheat the oven to 350 degrees F (175 degrees C)", &[175.0]),
            ("Heat to 160 °C fan", &[180.0]),
            ("Heat to 160C (fan)", &[180.0]),
            ("gas mark 6", &[200.0]),
            ("220 °C, then turn down to 180 °C", &[220.0, 180.0]),
            ("Bake 20 cm apart for 180 minutes", &[]),
            ("Warm to 37C", &[]),
        ] {
            let found: Vec<f64> = heats(text).iter().map(|h| h.celsius).collect();
            assert_eq!(found, wanted, "{text}");
        }
    }

    #[test]
    fn lengths_are_read_as_they_are_told() {
        for (text, wanted) in [
            ("Bake for 25 minutes", &[(25.0, 25.0)][..]),
            ("20-25 mins", &[(20.0, 25.0)]),
            ("20 to 25 minutes, then 5 min more", &[(20.0, 25.0), (5.0, 5.0)]),
            ("for 1 hour 10 minutes", &[(70.0, 70.0)]),
            ("1½ hrs", &[(90.0, 90.0)]),
            ("1 hour and 5–10 minutes", &[(65.0, 70.0)]),
            ("a 20-minute rest", &[(20.0, 20.0)]),
            ("cut into 12", &[]),
        ] {
            assert_eq!(lengths(text), wanted, "{text}");
        }
    }

    #[test]
    fn tins_of_the_library_are_known_by_their_words() {
        let known = library::tins().unwrap_or_default();
        let found = |text: &str| -> Vec<(String, i64)> {
            tins(text, &known).into_iter().map(|(t, n)| (t.name.clone(), n)).collect()
        };
        for (text, name, count) in [
            ("Line a 20cm square tin", "20 cm square tin", 1),
            ("an 8-inch square cake pan", "20 cm square tin", 1),
            ("Grease two 18 cm sandwich tins", "18 cm sandwich tin", 2),
            ("2 x 20cm sandwich tins", "20 cm sandwich tin", 2),
            ("a 12-hole muffin tin", "12-hole muffin tray", 1),
            ("into a Swiss roll tin", "Swiss roll tin", 1),
            ("on a baking sheet", "baking sheet", 1),
        ] {
            assert_eq!(found(text), [(name.to_owned(), count)], "{text}");
        }
        assert!(found("a 20 cm square of card").is_empty());
        assert!(found("a 23cm springform tin").is_empty());
    }
}
