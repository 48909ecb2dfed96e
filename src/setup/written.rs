//! Small tables of a recipe written in one line each: kit, minutes by step,
//! allergens.

use super::field;
use crate::file::format::{Entries, PaceBand, StatedMinutes};

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
