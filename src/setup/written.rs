//! Small tables of a recipe written in one line each: kit, minutes by step,
//! allergens, words in other languages.

use super::field;
use crate::file::format::{Entries, PaceBand, StatedMinutes};
use crate::model::Language;

/// Most of one kind of kit.
const MOST_KIT: i64 = 500;

/// Kit in use, "scales 1, ring 2"; one where no number is said.
///
/// # Errors
/// If a number makes no sense, or kit is named twice.
pub fn kit(text: &str) -> Result<Entries<i64>, String> {
    let mut all: Vec<(String, i64)> = Vec::new();
    for part in field::words(text)? {
        let (name, count) = match part.rsplit_once(' ') {
            Some((name, count)) if is_number(count) => {
                (name.trim().to_owned(), field::whole(count, (1, MOST_KIT), "")?)
            }
            _ => (part, 1),
        };
        if all.iter().any(|(n, _)| *n == name) {
            return Err(format!("{name} is named twice"));
        }
        all.push((name, count));
    }
    Ok(Entries(all))
}

/// Kit as [`kit`] reads it.
pub fn kit_text(kit: &Entries<i64>) -> String {
    let each: Vec<String> = kit.0.iter().map(|(name, n)| format!("{name} {n}")).collect();
    each.join(", ")
}

/// Words for pupils in other languages, "pl: Ubij. | uk: Збий."
///
/// # Errors
/// If a part has no code of a language or no words, or a language is there twice.
pub fn home(text: &str) -> Result<Entries<String>, String> {
    let mut all: Vec<(String, String)> = Vec::new();
    for part in text.split('|').map(str::trim).filter(|part| !part.is_empty()) {
        let Some((code, words)) = part.split_once(':') else {
            return Err("write the code of a language before its words, like pl: Ubij.".to_owned());
        };
        let code = code.trim().parse::<Language>().map_err(|no| no.to_string())?;
        let words = field::line(words)?;
        if words.is_empty() {
            return Err(format!("there are no words for {code}"));
        }
        if all.iter().any(|(known, _)| known == code.code()) {
            return Err(format!("{code} is there twice"));
        }
        all.push((code.to_string(), words));
    }
    Ok(Entries(all))
}

/// Words as [`home`] reads them.
pub fn home_text(home: &Entries<String>) -> String {
    let each: Vec<String> = home.0.iter().map(|(code, words)| format!("{code}: {words}")).collect();
    each.join(" | ")
}

/// Minutes by step for a class of these ages, "fill 2 3 5; cool 5"; other ages
/// keep those they had.
///
/// # Errors
/// If minutes make no sense, or a step is named twice.
pub fn step_minutes(
    text: &str,
    old: &Entries<StatedMinutes>,
    band: PaceBand,
) -> Result<Entries<StatedMinutes>, String> {
    let mut all: Vec<(String, StatedMinutes)> = Vec::new();
    for part in text.split(';').map(str::trim).filter(|p| !p.is_empty()) {
        let words: Vec<&str> = part.split_whitespace().collect();
        let numbers = words.iter().rev().take_while(|w| is_number(w)).count();
        // A name may end with a number of its own.
        let of_minutes = if numbers >= 3 { 3 } else { numbers.min(1) };
        let (name, minutes) = words.split_at(words.len() - of_minutes);
        let name = name.join(" ");
        if name.is_empty() || of_minutes == 0 {
            return Err("write a step and its minutes, like fill 2 3 5; cool 5".to_owned());
        }
        if all.iter().any(|(n, _)| *n == name) {
            return Err(format!("{name} is named twice"));
        }
        let typed = field::minutes(&minutes.join(" "))?;
        let before = old.0.iter().find(|(n, _)| *n == name).map(|(_, m)| m);
        let minutes = match before {
            Some(before) if same_text(before, &typed, band) => *before,
            before => field::typed_over(before, band, typed),
        };
        all.push((name, minutes));
    }
    Ok(Entries(all))
}

/// Minutes by step as [`step_minutes`] reads them.
pub fn step_minutes_text(minutes: &Entries<StatedMinutes>, band: PaceBand) -> String {
    let each =
        |(name, m): &(String, StatedMinutes)| format!("{name} {}", field::minutes_text(m, band));
    minutes.0.iter().map(each).collect::<Vec<String>>().join("; ")
}

fn same_text(a: &StatedMinutes, b: &StatedMinutes, band: PaceBand) -> bool {
    field::minutes_text(a, band) == field::minutes_text(b, band)
}

fn is_number(word: &str) -> bool {
    word.replace(',', ".").parse::<f64>().is_ok_and(f64::is_finite)
}

/// Allergens on a label: empty while nobody has looked, "none" where the label
/// names none.
///
/// # Errors
/// If a word is too long.
pub fn allergens(text: &str) -> Result<Option<Vec<String>>, String> {
    match text.trim() {
        "" | "?" => Ok(None),
        unknown if unknown.eq_ignore_ascii_case("unknown") => Ok(None),
        none if none.eq_ignore_ascii_case("none") => Ok(Some(Vec::new())),
        some => Ok(Some(field::words(some)?)),
    }
}

/// Allergens as [`allergens`] reads them.
pub fn allergens_text(allergens: &Option<Vec<String>>) -> String {
    match allergens.as_deref() {
        None => String::new(),
        Some([]) => "none".to_owned(),
        Some(names) => names.join(", "),
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn lines_in_other_languages_are_read_as_they_are_written() {
        let typed = "pl: Ubij: gładko. | uk: Збий.";
        let home_lines = home(typed).unwrap();
        assert_eq!(home_lines.0[0], ("pl".to_owned(), "Ubij: gładko.".to_owned()));
        assert_eq!(home_text(&home_lines), typed);
        assert!(home(" ").unwrap().0.is_empty());
        for wrong in ["Ubij.", "polski: Ubij.", "pl:", "pl: a | pl: b"] {
            assert!(home(wrong).is_err(), "{wrong}");
        }
    }
}
