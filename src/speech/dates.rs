//! Days as an American writes them: the month first.

use super::kept::Said;

/// Months and how they are shortened.
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// "26 November 2026" at a place as "November 26, 2026", and the bytes it
/// takes there. A month that is a name is none.
pub(super) fn at(sentence: Said<'_>, at: usize) -> Option<(usize, String)> {
    let rest = &sentence.text[at..];
    let digits = |t: &str| t.bytes().take_while(u8::is_ascii_digit).count();
    let length = digits(rest);
    let (day, rest) = rest.split_at(length);
    let after = rest.strip_prefix(' ').filter(|_| sentence.name_at(at + length + 1).is_none())?;
    let letters = after.find(|c: char| !c.is_alphabetic()).unwrap_or(after.len());
    let (month, rest) = after.split_at(letters);
    let is_month = |name: &str| name == month || name.get(..3) == Some(month);
    if !day.parse().is_ok_and(|d: u32| (1..=31).contains(&d)) || !MONTHS.iter().any(|m| is_month(m))
    {
        return None;
    }
    let length = length + 1 + letters;
    let year = rest.strip_prefix(' ').filter(|year| digits(year) == 4).map(|year| &year[..4]);
    Some(match year {
        Some(year) => (length + 5, format!("{month} {day}, {year}")),
        None => (length, format!("{month} {day}")),
    })
}

/// What an American types for a day, as it is read here: "11/26/2026" is
/// "26/11/2026", "November 26" is "26 November".
pub(super) fn day_first(text: &str) -> String {
    let text = text.trim();
    let parts: Vec<&str> = text.split('/').collect();
    if let [month, day, rest @ ..] = parts.as_slice() {
        let rest: String = rest.iter().map(|part| format!("/{part}")).collect();
        return format!("{day}/{month}{rest}");
    }
    let words: Vec<&str> = text.split([' ', ',']).filter(|word| !word.is_empty()).collect();
    if let [month, day, rest @ ..] = words.as_slice()
        && month.chars().all(char::is_alphabetic)
        && day.chars().all(|c| c.is_ascii_digit())
        && rest.len() < 2
    {
        let year: String = rest.iter().map(|year| format!(" {year}")).collect();
        return format!("{day} {month}{year}");
    }
    text.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::speech::{English, KeptNames, say};

    #[test]
    fn the_month_comes_first() {
        let us = |text| say(text, English::American, &KeptNames::default()).into_owned();
        assert_eq!(us("26 November · 10:05"), "November 26 · 10:05");
        assert_eq!(us("Thu 26 Nov 2026"), "Thu Nov 26, 2026");
        assert_eq!(us("12 may take it, 40 March"), "12 may take it, 40 March");
        assert_eq!(us("2026-11-26"), "2026-11-26");
    }

    #[test]
    fn typed_days_are_turned_round() {
        for (typed, read) in [
            ("11/26/2026", "26/11/2026"),
            ("November 26", "26 November"),
            ("Nov 26, 2026", "26 Nov 2026"),
            ("2026-11-26", "2026-11-26"),
            ("26 November", "26 November"),
            ("soon", "soon"),
        ] {
            assert_eq!(day_first(typed), read);
        }
    }
}
