//! An ingredient as a line of text: its amount, its measure, its name, and
//! what is unsure of them.

use super::LONGEST_TEXT;
use super::amounts::{Quantity, Reader, chosen};
use super::measured::{is_container, is_vague};
use super::nodes::one_line;
use crate::convert::Density;
use crate::convert::density::Substance;
use crate::file::format::MeasureShape;
use crate::finding::shortened;
use crate::model::{Amount, EggSize, Measure};
use crate::units::plain_number;

/// Longest name of an ingredient, in characters, as a lesson's file has it.
pub(super) const LONGEST_NAME: usize = 200;
/// Least and most of an amount, as a lesson's file has it.
const AMOUNTS: (f64, f64) = (0.01, 100_000.0);
/// A volume of something this much lighter or heavier than water is remarked on.
const LIKE_WATER: (f64, f64) = (0.85, 1.15);

/// A line that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// The line as it stood there, without markup.
    pub text: String,
    /// What it names.
    pub name: String,
    /// How much of it; `None` where that is not known.
    pub amount: Option<f64>,
    /// The measure; grams if `None`.
    pub unit: Option<MeasureShape>,
    /// What is unsure, a sentence's part each.
    pub doubts: Vec<String>,
}

/// Signs that lists begin their lines with.
const BULLETS: [char; 12] = ['•', '·', '*', '▢', '□', '☐', '◦', '‣', '–', '—', '✓', '-'];
/// Signs between how many there are and how much each is.
const TIMES: [&str; 3] = ["x", "×", "*"];
/// Words that may stand before or behind "egg" without making it another thing.
const OF_EGGS: [&str; 22] = [
    "large",
    "medium",
    "small",
    "extra",
    "very",
    "free",
    "range",
    "free-range",
    "organic",
    "hen's",
    "hens'",
    "whole",
    "fresh",
    "british",
    "lion",
    "room",
    "temperature",
    "beaten",
    "lightly",
    "cold",
    "l",
    "m",
];
/// Words that make a part or another thing of an egg.
const NOT_EGGS: [&str; 9] =
    ["white", "whites", "yolk", "yolks", "wash", "noodles", "replacer", "plant", "free"];

/// Reads a line.
pub(super) fn read(text: &str) -> Line {
    let text = one_line(&in_plain_digits(text));
    let mut line =
        Line { text: text.clone(), name: String::new(), amount: None, unit: None, doubts: vec![] };
    if text.len() > LONGEST_TEXT {
        line.name = text;
        line.doubts.push("it is too long for an ingredient".to_owned());
        return finished(line);
    }
    if below_nought(&text) {
        line.name = text;
        line.doubts.push("an amount below nought cannot be".to_owned());
        return finished(line);
    }
    let rest = text.trim_start_matches(|c: char| BULLETS.contains(&c) || c == ' ');
    let (before, mut reader) = beginning(rest);
    let mut rest = None;
    if let Some(first) = reader.quantity() {
        rest = measured(&mut line, first, &mut reader);
    } else {
        line.doubts.push("no amount is stated".to_owned());
    }
    let rest = rest.as_deref().unwrap_or(reader.rest);
    let after = rest.trim_start_matches([',', '.', ';', ':', ' ', '-', '–', '—']);
    let after = after.strip_prefix("of ").unwrap_or(after);
    let before = before.trim_end_matches([',', ';', ':', ' ', '-', '–', '—', '(']);
    let after = if before.is_empty() { after } else { after.trim_start_matches(')') };
    line.name = format!("{before} {after}").trim().to_owned();
    let is_number = |word: &str| word.chars().all(|c| c.is_ascii_digit());
    if line.amount.is_some() && before.split_whitespace().any(is_number) {
        line.doubts.push("another figure stands before it and is not counted".to_owned());
    }
    about_the_name(&mut line);
    finished(line)
}

/// What stands where an ingredient should, in a shape nobody knows.
pub(super) fn odd(text: &str) -> Line {
    let text = one_line(text);
    let doubts = vec!["it is told in a shape that is not known".to_owned()];
    finished(Line { name: text.clone(), text, amount: None, unit: None, doubts })
}

/// Digits of other scripts, and the signs for fractions, as they are read here.
fn in_plain_digits(text: &str) -> String {
    let plain = |c: char| match c {
        // Arabic, Persian, full width.
        '\u{660}'..='\u{669}' => digit(c, 0x660),
        '\u{6f0}'..='\u{6f9}' => digit(c, 0x6f0),
        '\u{ff10}'..='\u{ff19}' => digit(c, 0xff10),
        '\u{2044}' | '\u{2215}' => '/',
        c => c,
    };
    text.chars().map(plain).collect()
}

fn digit(c: char, nought: u32) -> char {
    char::from_digit(u32::from(c).saturating_sub(nought), 10).unwrap_or(c)
}

/// A minus is no bullet: a figure follows it at once.
fn below_nought(text: &str) -> bool {
    let after = text.strip_prefix(['-', '−']);
    after.is_some_and(|t| t.starts_with(|c: char| c.is_ascii_digit()))
}

/// What stands before the amount, and a reader that is at it: at the line's
/// beginning, or at the first amount with a measure.
fn beginning(line: &str) -> (&str, Reader<'_>) {
    let start = Reader::new(line);
    let is_counted = line.starts_with(is_figure) && { start }.quantity().is_some();
    // "200 g", "2 eggs", "a tsp", "one 400 g tin".
    if is_counted || is_measured(start) {
        return ("", start);
    }
    let mut from = 0;
    while let Some(at) = line.get(from..).and_then(|t| t.find(is_figure)).map(|at| from + at) {
        let reader = Reader::new(line.get(at..).unwrap_or_default());
        if is_measured(reader) {
            return (line.get(..at).unwrap_or_default(), reader);
        }
        let next = line.get(at..).and_then(|t| t.find(|c| !is_figure(c)));
        from = next.map_or(line.len(), |next| at + next);
    }
    ("", start)
}

/// Whether an amount with a measure is next, or a number of such: "2 x 7 g".
fn is_measured(mut reader: Reader<'_>) -> bool {
    let Some(first) = reader.quantity() else { return false };
    for sign in TIMES {
        reader.eat(sign);
    }
    let is_each = |q: Quantity| q.measure.is_some();
    is_each(first) || reader.quantity().is_some_and(is_each) || reader.in_brackets().is_some()
}

fn is_figure(c: char) -> bool {
    c.is_ascii_digit() || crate::convert::figure(&c.to_string()).is_some()
}

/// What follows the first figure: a measure, a count of things, or eggs. Gives
/// what is left for the name, where that is not simply what is left to read.
fn measured(line: &mut Line, first: Quantity, reader: &mut Reader<'_>) -> Option<String> {
    if first.measure.is_some() {
        let all = reader.others(first);
        take(line, &all, 1.0);
        container(line, reader);
        return None;
    }
    line.doubts.extend(first.unsure.map(str::to_owned));
    if let Some(up_to) = first.up_to {
        let (less, more) = (plain_number(first.figure), plain_number(up_to));
        line.doubts.push(format!("{less} to {more}: the less is taken"));
    }
    // "2 x 400g tins", "1 (8-ounce) package", "1 400g tin".
    let mut inner = *reader;
    let times = TIMES.iter().any(|sign| inner.eat(sign));
    if let Some((all, _)) = { inner }.in_brackets() {
        inner.in_brackets();
        // "1 (8-ounce) package" holds as much; what "2 (150 g)" things weigh
        // together or each is another matter.
        if times || is_container(inner.word()) || first.figure == 1.0 {
            *reader = inner;
            take(line, &all, first.figure);
            container(line, reader);
            return None;
        }
    } else if let Some(each) = { inner }.quantity().filter(|q| q.measure.is_some()) {
        inner.quantity();
        *reader = inner;
        let all = reader.others(each);
        take(line, &all, first.figure);
        container(line, reader);
        return None;
    }
    if times && !reader.rest.is_empty() {
        // "12 x cases".
        *reader = inner;
    }
    if eggs(line, first, reader.rest) {
        return None;
    }
    by_number(line, first, reader)
}

/// Takes the best of several amounts that say the same.
fn take(line: &mut Line, all: &[Quantity], times: f64) {
    let Some((best, doubts)) = chosen(all) else { return };
    line.doubts.extend(doubts);
    if let Some(measured) = best.measure {
        let figure = best.figure * measured.one * times;
        // Away with what is only a trace of reckoning in binary.
        line.amount = Some((figure * 1e6).round() / 1e6);
        line.unit = Some(measured.unit);
    }
}

/// What an amount is sold in is no part of the name.
fn container(line: &mut Line, reader: &mut Reader<'_>) {
    let word = reader.word();
    if !is_container(word) {
        return;
    }
    reader.eat(word);
    if ["tin", "can"].iter().any(|tin| word.to_lowercase().starts_with(tin)) {
        line.doubts.push("what the tin holds; drained it is less".to_owned());
    }
}

/// Eggs are counted. Says whether it is eggs.
fn eggs(line: &mut Line, count: Quantity, rest: &str) -> bool {
    let head = rest.split([',', '(', ';']).next().unwrap_or_default().to_lowercase();
    let words: Vec<&str> = head.split_whitespace().collect();
    let Some(at) = words.iter().position(|w| matches!(*w, "egg" | "eggs")) else { return false };
    if !words[..at].iter().all(|w| OF_EGGS.contains(w)) {
        return false;
    }
    if words.get(at + 1).is_some_and(|w| NOT_EGGS.contains(w)) {
        let why = "a white or a yolk is no whole egg: give its grams (a medium egg's white is \
                   about 30, its yolk about 18, from memory)";
        line.doubts.push(why.to_owned());
        return true;
    }
    line.amount = Some(count.figure);
    line.unit = Some(MeasureShape::Egg);
    let size = match words.iter().find(|w| matches!(**w, "large" | "small" | "l")) {
        Some(&"small") => Some(EggSize::Small),
        Some(_) => Some(EggSize::Large),
        None => None,
    };
    if let Some(size) = size {
        let (grams, medium) = (size.edible_grams(), Measure::Egg.grams(1.0));
        let why = format!(
            "counted as medium eggs of {medium} g; one of size {size} is about {grams:.0} g"
        );
        line.doubts.push(why);
    }
    true
}

/// A number of something that is not measured. Gives the name where brackets
/// in it told the amount.
fn by_number(line: &mut Line, count: Quantity, reader: &mut Reader<'_>) -> Option<String> {
    let word = reader.word();
    let is_vague = is_vague(word) || is_container(word);
    if is_vague {
        reader.eat(word);
        // "2 packets (10 g each)", "1 packet (10 g)".
        if let Some((all, each)) = reader.in_brackets() {
            let times = if each { count.figure } else { 1.0 };
            take(line, &all, times);
            if !each && count.figure != 1.0 {
                line.doubts.push("what is in brackets is taken for all together".to_owned());
            }
            return None;
        }
    }
    let figure = plain_number(count.figure);
    if let Some((name, brackets)) = reader.rest.split_once('(')
        && let mut brackets = Reader::new(reader.rest.get(name.len()..).unwrap_or(brackets))
        && let Some((all, each)) = brackets.in_brackets()
    {
        take(line, &all, if each { count.figure } else { 1.0 });
        if !each && count.figure != 1.0 {
            let why = format!("{figure} of them: the weight is taken for all together");
            line.doubts.push(why);
        }
        return Some(format!("{} {}", name.trim(), brackets.rest));
    }
    if is_vague {
        line.doubts.push(format!("\"{word}\" does not say how much: give its grams"));
        return None;
    }
    let what = if count.figure <= 1.0 { "it" } else { "them" };
    line.doubts.push(format!("{figure} by number: give the grams of {what}"));
    None
}

/// What the rest of a line says of its amount.
fn about_the_name(line: &mut Line) {
    let name = line.name.to_lowercase();
    for (words, why) in [
        ("plus extra", "more of it is needed than is counted"),
        ("plus more", "more of it is needed than is counted"),
        ("extra for", "more of it is needed than is counted"),
        ("optional", "it may be left out"),
        ("or more", "it may be more"),
        ("or so", "about: not an exact amount"),
        ("at least", "it may be more"),
    ] {
        if name.contains(words) && !line.doubts.iter().any(|d| d == why) {
            line.doubts.push(why.to_owned());
        }
    }
    if line.amount.is_none() {
        return;
    }
    let beside = "another amount stands beside it and is not counted";
    for sign in [" plus ", " and ", " + ", " & "] {
        let mut after = name.split(sign).skip(1);
        if after.any(|rest| Reader::new(rest).figure().is_some()) {
            line.doubts.push(beside.to_owned());
            break;
        }
    }
    let is_each = |word: &str| matches!(word, "each" | "per" | "apiece");
    if name.split(|c: char| !c.is_alphabetic()).any(is_each) {
        line.doubts.push("each: is it the amount of one, or of all?".to_owned());
    }
    let mut at = 0;
    while let Some(figure) = name.get(at..).and_then(|t| t.find(is_figure)).map(|f| at + f) {
        let further = Reader::new(name.get(figure..).unwrap_or_default()).quantity();
        if further.is_some_and(|q| q.measure.is_some()) {
            if !line.doubts.iter().any(|d| d == beside) {
                line.doubts.push(beside.to_owned());
            }
            break;
        }
        let end = name.get(figure..).and_then(|t| t.find(|c| !is_figure(c)));
        at = end.map_or(name.len(), |end| figure + end);
    }
    line.doubts.extend(by_volume(line));
}

/// What to know of a volume of something that weighs otherwise than water.
fn by_volume(line: &Line) -> Option<String> {
    let unit = line.unit.filter(|u| *u != MeasureShape::Teaspoon)?;
    let Amount::Millilitres(ml) = Measure::from(unit).one() else { return None };
    let of = substance(&line.name)?;
    if (LIKE_WATER.0..=LIKE_WATER.1).contains(&of.density) {
        return None;
    }
    let ml = ml * line.amount?;
    let grams = |density: f64| format!("{:.0}", ml * density);
    let (low, high) = (grams(of.range.0), grams(of.range.1));
    let (water, usual, name) = (grams(1.0), grams(of.density), of.name);
    Some(format!(
        "a volume counts as water, {water} g; of {name} it is about {usual} g ({low} to {high} as \
         sources differ): weigh it and give the grams"
    ))
}

/// The substance whose density is known that a name ends with, or has in it.
fn substance(name: &str) -> Option<Substance> {
    let head = name.split([',', '(']).next()?.to_lowercase();
    let words: Vec<&str> = head.split_whitespace().collect();
    let pairs = words.windows(2).map(|pair| pair.join(" "));
    let all = pairs.chain(words.iter().map(|w| (*w).to_owned()));
    // All of its name: "brown onion" is no brown sugar, and a batter no ingredient.
    let is_named = |s: &Substance| s.name.split(' ').all(|word| words.contains(&word));
    all.filter_map(|name| Density::of(&name).ok()?.of)
        .find(|s| is_named(s) && !s.name.contains("batter"))
}

/// The line within the bounds of a lesson's file.
fn finished(mut line: Line) -> Line {
    if line.name.trim().is_empty() {
        line.name = if line.text.is_empty() { "?".to_owned() } else { line.text.clone() };
        line.doubts.push("it does not say of what".to_owned());
    }
    if line.name.chars().count() > LONGEST_NAME {
        line.doubts.push(format!("its name was longer than {LONGEST_NAME} characters, and is cut"));
        line.name = shortened(&line.name, LONGEST_NAME - 1);
    }
    if let Some(amount) = line.amount {
        let grams = Measure::from(line.unit.unwrap_or(MeasureShape::Gram)).grams(amount);
        if !(amount >= AMOUNTS.0 && amount <= AMOUNTS.1 && grams <= AMOUNTS.1) {
            line.amount = None;
            line.doubts.push(format!("{} cannot be the amount", plain_number(amount)));
        }
    }
    // Grams are not written.
    line.unit = line.unit.filter(|unit| line.amount.is_some() && *unit != MeasureShape::Gram);
    line
}

/// An ingredient as a line, as it is written for others to read.
pub(super) fn written(name: &str, amount: f64, unit: Option<MeasureShape>) -> String {
    if amount == 0.0 {
        return name.to_owned();
    }
    let unit = match unit.unwrap_or(MeasureShape::Gram) {
        MeasureShape::Gram => "g",
        MeasureShape::Kilogram => "kg",
        MeasureShape::Ounce => "oz",
        MeasureShape::Pound => "lb",
        MeasureShape::Millilitre => "ml",
        MeasureShape::Litre => "l",
        MeasureShape::Teaspoon => "tsp",
        MeasureShape::Tablespoon => "tbsp",
        MeasureShape::UsCup => "US cup",
        MeasureShape::Egg => "",
    };
    let words = [plain_number(amount), unit.to_owned(), name.to_owned()];
    words.into_iter().filter(|w| !w.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Whether a line is the heading of those below it: "For the icing:".
pub(super) fn is_heading(text: &str) -> bool {
    let text = one_line(text);
    let words = text.strip_suffix(':');
    words.is_some_and(|words| !words.contains(is_figure))
}
