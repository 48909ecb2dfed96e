//! Figures as a kitchen writes them: `2`, `2.5`, `1/2`, `1 1/2`, `½`, `1½`.

/// Fractions that have a sign of their own.
const SIGNS: [(char, f64); 15] = [
    ('¼', 0.25),
    ('½', 0.5),
    ('¾', 0.75),
    ('⅓', 1.0 / 3.0),
    ('⅔', 2.0 / 3.0),
    ('⅛', 0.125),
    ('⅜', 0.375),
    ('⅝', 0.625),
    ('⅞', 0.875),
    ('⅕', 0.2),
    ('⅖', 0.4),
    ('⅗', 0.6),
    ('⅘', 0.8),
    ('⅙', 1.0 / 6.0),
    ('⅚', 5.0 / 6.0),
];

fn is_figure(c: char) -> bool {
    c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | '+' | '-') || sign(c).is_some()
}

fn sign(c: char) -> Option<f64> {
    SIGNS.iter().find(|(s, _)| *s == c).map(|(_, value)| *value)
}

/// The one figure of a text, and the words round it; `None` where it has no
/// figure, more than one, or one that is not written as above.
pub(super) fn split(text: &str) -> Option<(f64, String)> {
    let is_part = |c: char| is_figure(c) || c.is_whitespace();
    let start = text.find(is_figure)?;
    let tail = text.get(start..)?;
    let length = tail.find(|c| !is_part(c)).unwrap_or(tail.len());
    let (figure, after) = tail.split_at(length);
    // A full stop that ends an abbreviation is no figure.
    if after.chars().any(|c| is_figure(c) && c != '.') {
        return None;
    }
    let words = format!("{} {after}", text.get(..start)?);
    Some((figure_of(figure)?, words))
}

/// A figure by itself, however a kitchen writes it; not below nought.
pub(super) fn figure_of(text: &str) -> Option<f64> {
    let mut parts: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        // "1½" is "1 ½".
        match word.chars().next_back().filter(|c| sign(*c).is_some()) {
            Some(last) if word.chars().count() > 1 => {
                parts.push(word.trim_end_matches(last).to_owned());
                parts.push(last.to_string());
            }
            _ => parts.push(word.to_owned()),
        }
    }
    match parts.as_slice() {
        [one] => fraction(one).or_else(|| decimal(one)),
        [whole, part] => {
            let whole = decimal(whole).filter(|w| w.fract() == 0.0)?;
            Some(whole + fraction(part).filter(|p| *p < 1.0)?)
        }
        _ => None,
    }
}

fn decimal(text: &str) -> Option<f64> {
    let plain = text.chars().all(|c| c.is_ascii_digit() || c == '.')
        && text.contains(|c: char| c.is_ascii_digit());
    if plain { text.parse().ok() } else { None }
}

fn fraction(text: &str) -> Option<f64> {
    let mut chars = text.chars();
    if let (Some(only), None) = (chars.next().and_then(sign), chars.next()) {
        return Some(only);
    }
    let (above, below) = text.split_once('/')?;
    let (above, below) = (decimal(above)?, decimal(below)?);
    (below > 0.0).then(|| above / below)
}

/// A figure with its quarters as signs, `1½`, or with two decimals.
pub(super) fn with_fraction(value: f64) -> String {
    let whole = value.floor();
    let rest = value - whole;
    let near = |wanted: f64| (rest - wanted).abs() < 1e-9;
    match SIGNS[..3].iter().find(|(_, part)| near(*part)) {
        Some((sign, _)) if whole < 1.0 => sign.to_string(),
        Some((sign, _)) => format!("{whole}{sign}"),
        None => crate::units::plain_number(value),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_read_as_a_kitchen_writes_them() {
        for (text, value, words) in [
            ("2 cups", 2.0, "cups"),
            ("2.5kg", 2.5, "kg"),
            ("gas mark ½", 0.5, "gas mark"),
            ("1 1/2 lb", 1.5, "lb"),
            ("1½ tsp.", 1.5, "tsp."),
            ("¾ cup", 0.75, "cup"),
            ("3 eggs M", 3.0, "eggs M"),
            ("180°C fan", 180.0, "°C fan"),
            (".5 oz", 0.5, "oz"),
        ] {
            let (found, left) = split(text).unwrap_or((f64::NAN, String::new()));
            assert!((found - value).abs() < 1e-12, "{text}: {found}");
            assert_eq!(left.trim(), words);
        }
        for bad in [
            "",
            "cups",
            "1,000 g",
            "-3 g",
            "+3 g",
            "1/0 g",
            "2 3 g",
            "2 g 3",
            "1.2.3 g",
            "1/2/3 g",
            "1.5 1/2 g",
            "1 3/2 g",
            "/ g",
            ". g",
            "1e3 g",
        ] {
            assert_eq!(split(bad), None, "{bad}");
        }
    }

    #[test]
    fn quarters_are_written_as_signs() {
        let cases = [(0.5, "½"), (1.25, "1¼"), (3.0, "3"), (2.4, "2.4"), (0.3, "0.3")];
        for (value, text) in cases {
            assert_eq!(with_fraction(value), text);
        }
    }
}
