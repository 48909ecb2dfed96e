//! Lengths of time as ISO 8601 writes them: `PT1H25M`.
//!
//! The reader of the calendars' package takes whatever begins like one, so that
//! it has `PT-25M` last no time at all; here all of a text must make sense.

/// A designator and its minutes; years and months have no fixed length.
type Part = (char, Option<f64>);

const DATE: [Part; 4] = [('Y', None), ('M', None), ('W', Some(7.0 * 1440.0)), ('D', Some(1440.0))];
const TIME: [Part; 3] = [('H', Some(60.0)), ('M', Some(1.0)), ('S', Some(1.0 / 60.0))];

/// Minutes of a length of time; `None` if it is none, or not of a fixed length.
pub(super) fn minutes(text: &str) -> Option<f64> {
    let text = text.trim().to_ascii_uppercase();
    let rest = text.strip_prefix('P')?;
    let (date, time) = match rest.split_once('T') {
        Some((_, "")) => return None,
        Some(parts) => parts,
        None if rest.is_empty() => return None,
        None => (rest, ""),
    };
    Some(sum(date, &DATE)? + sum(time, &TIME)?)
}

fn sum(mut text: &str, parts: &[Part]) -> Option<f64> {
    let mut sum = 0.0;
    for (letter, minutes) in parts {
        let Some((figure, rest)) = text.split_once(*letter) else { continue };
        let figure = number(figure)?;
        sum += match minutes {
            Some(minutes) => figure * minutes,
            None if figure == 0.0 => 0.0,
            None => return None,
        };
        text = rest;
    }
    text.is_empty().then_some(sum)
}

fn number(text: &str) -> Option<f64> {
    let plain = text.starts_with(|c: char| c.is_ascii_digit())
        && text.chars().all(|c| c.is_ascii_digit() || ".,".contains(c));
    if plain { text.replace(',', ".").parse().ok() } else { None }
}

/// A length of time, to the second.
pub(super) fn written(minutes: f64) -> String {
    let seconds = (minutes * 60.0).round();
    let (minutes, seconds) = ((seconds / 60.0).floor(), seconds % 60.0);
    if seconds == 0.0 { format!("PT{minutes}M") } else { format!("PT{minutes}M{seconds}S") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_read_whole_or_not_at_all() {
        for (text, wanted) in [
            ("PT25M", 25.0),
            ("PT1H", 60.0),
            ("pt1h5m", 65.0),
            ("PT90M", 90.0),
            ("PT1.5H", 90.0),
            ("PT2,5M", 2.5),
            ("PT90S", 1.5),
            ("P0Y0M0DT0H35M0.000S", 35.0),
            ("P1DT2H", 1560.0),
            ("P1W", 10_080.0),
            ("PT0M", 0.0),
        ] {
            assert_eq!(minutes(text), Some(wanted), "{text}");
        }
        for text in [
            "",
            "P",
            "PT",
            "25",
            "PT25",
            "PT-25M",
            "-PT25M",
            "PTM25S",
            "PT5M1H",
            "P1M",
            "1Y",
            "PT25M or so",
            "PT.M",
            "25 minutes",
            "PT1..5M",
            "PT25M/PT30M",
        ] {
            assert_eq!(minutes(text), None, "{text}");
        }
        for text in ["PT25M", "PT21M30S", "PT0M"] {
            assert_eq!(minutes(text).map(written).as_deref(), Some(text));
        }
    }
}
