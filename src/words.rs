//! Small words that every layer writes alike: numbers, minutes, lists.

/// Numbers up to twenty in words, larger ones in figures.
pub fn number(n: usize) -> String {
    const WORDS: [&str; 21] = [
        "none",
        "one",
        "two",
        "three",
        "four",
        "five",
        "six",
        "seven",
        "eight",
        "nine",
        "ten",
        "eleven",
        "twelve",
        "thirteen",
        "fourteen",
        "fifteen",
        "sixteen",
        "seventeen",
        "eighteen",
        "nineteen",
        "twenty",
    ];
    WORDS.get(n).map_or_else(|| n.to_string(), |w| (*w).to_owned())
}

/// With a capital first letter.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// "1 minute", "6 minutes".
pub fn minutes(n: i32) -> String {
    if n == 1 { "1 minute".to_owned() } else { format!("{n} minutes") }
}

/// "A", "A and B", "A, B and C".
pub fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [front @ .., last] => format!("{} and {last}", front.join(", ")),
    }
}

/// Names with runs of numbers told by their ends: "Unit 3 to Unit 6" for four.
pub fn in_short(names: &[String]) -> Vec<String> {
    let numbered = |name: &String| -> Option<(String, u32)> {
        let (stem, number) = name.rsplit_once(' ')?;
        Some((stem.to_owned(), number.parse().ok()?))
    };
    let mut short = Vec::new();
    let mut from = 0;
    while from < names.len() {
        let mut to = from;
        while let Some(next) = names.get(to + 1)
            && let (Some((stem, n)), Some((next_stem, m))) = (numbered(&names[to]), numbered(next))
            && stem == next_stem
            && n.checked_add(1) == Some(m)
        {
            to += 1;
        }
        if to > from + 1 {
            short.push(format!("{} to {}", names[from], names[to]));
        } else {
            short.extend_from_slice(&names[from..=to]);
        }
        from = to + 1;
    }
    short
}

/// So many of a thing, with its plain plural: "1 whisk", "2 whisks", "4 scales".
pub fn counted(n: usize, thing: &str) -> String {
    format!("{n} {}", plural(n, thing))
}

/// The name of a thing for so many of it.
pub fn plural(n: usize, thing: &str) -> String {
    let ends = |end: &str| thing.ends_with(end);
    if n == 1 || ends("s") {
        return thing.to_owned();
    }
    if let Some(stem) = thing.strip_suffix("loaf") {
        return format!("{stem}loaves");
    }
    match thing.strip_suffix("fe") {
        Some(stem) => format!("{stem}ves"),
        None if ["sh", "ch", "x"].into_iter().any(ends) => format!("{thing}es"),
        None => format!("{thing}s"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_read_as_a_person_would_write_them() {
        assert_eq!(capital(&number(7)), "Seven");
        assert_eq!(number(21), "21");
        assert_eq!(minutes(1), "1 minute");
        let names = ["Unit 1", "Unit 2", "Unit 4"].map(String::from);
        assert_eq!(list(&names), "Unit 1, Unit 2 and Unit 4");
        let names = ["Unit 1", "Unit 2", "Unit 4", "Unit 5", "Unit 6", "Pair 7", "Pair"];
        let names = names.map(String::from);
        assert_eq!(in_short(&names), ["Unit 1", "Unit 2", "Unit 4 to Unit 6", "Pair 7", "Pair"]);
        let things = ["whisk", "scales", "knife", "pastry brush", "loaf"].map(|t| counted(2, t));
        assert_eq!(things, ["2 whisks", "2 scales", "2 knives", "2 pastry brushes", "2 loaves"]);
        assert_eq!(counted(1, "whisk"), "1 whisk");
    }
}
