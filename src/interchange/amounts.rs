//! Amounts within a line: "1½ tsp", "2–3", "100g/4oz", "2 x 400g", "1 lb 2 oz".

use super::measured::{Measured, measure};
use crate::convert::figure;
use crate::file::format::MeasureShape;
use crate::model::Amount;
use crate::model::measure::OUNCE_GRAMS;
use crate::units::plain_number;

/// A figure, perhaps up to another, and its measure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Quantity {
    /// The figure; the less of two.
    pub figure: f64,
    /// The greater of two.
    pub up_to: Option<f64>,
    /// Its measure; `None` for a mere number.
    pub measure: Option<Measured>,
    /// What is unsure of the figure.
    pub unsure: Option<&'static str>,
}

impl Quantity {
    /// What it comes to, if it has a measure.
    pub fn amount(self) -> Option<Amount> {
        Some(times(self.measure?.amount(), self.figure))
    }
}

fn times(amount: Amount, factor: f64) -> Amount {
    match amount {
        Amount::Grams(one) => Amount::Grams(one * factor),
        Amount::Millilitres(one) => Amount::Millilitres(one * factor),
    }
}

/// Words between a figure and its measure, and what is unsure with them.
const HOW: [(&str, Option<&str>); 14] = [
    ("level", None),
    ("packed", None),
    ("firmly", None),
    ("lightly", None),
    ("sifted", None),
    ("heaped", Some("heaped: more than level")),
    ("heaping", Some("heaped: more than level")),
    ("rounded", Some("rounded: more than level")),
    ("scant", Some("scant: a little less")),
    ("generous", Some("generous: a little more")),
    ("good", Some("generous: a little more")),
    ("big", Some("big: more than level")),
    ("small", Some("small: a little less")),
    ("full", None),
];

/// Words that say that an amount is not exact.
const ABOUT: [&str; 10] =
    ["about", "approximately", "approx", "around", "roughly", "circa", "ca", "c.", "~", "nearly"];

/// Words for numbers.
const NUMBERS: [(&str, f64); 15] = [
    ("one", 1.0),
    ("two", 2.0),
    ("three", 3.0),
    ("four", 4.0),
    ("five", 5.0),
    ("six", 6.0),
    ("seven", 7.0),
    ("eight", 8.0),
    ("nine", 9.0),
    ("ten", 10.0),
    ("twelve", 12.0),
    ("half", 0.5),
    ("quarter", 0.25),
    ("a", 1.0),
    ("an", 1.0),
];

/// The part of a line that is still to be read.
#[derive(Debug, Clone, Copy)]
pub(super) struct Reader<'a> {
    /// What is still to be read, without blanks before it.
    pub rest: &'a str,
}

/// A figure, and what is unsure of it.
type Figure = (f64, Option<&'static str>);

impl<'a> Reader<'a> {
    /// Reads from the beginning of a text.
    pub fn new(text: &'a str) -> Self {
        Self { rest: text.trim_start() }
    }

    fn skip(&mut self, bytes: usize) {
        self.rest = self.rest.get(bytes..).unwrap_or_default().trim_start();
    }

    /// Reads a sign or word if it is next, whatever its capitals.
    pub fn eat(&mut self, what: &str) -> bool {
        let next = self.rest.get(..what.len());
        let is_next = next.is_some_and(|n| n.eq_ignore_ascii_case(what)) && {
            // A word is read whole.
            let after = self.rest.get(what.len()..).and_then(|r| r.chars().next());
            !what.ends_with(char::is_alphabetic) || !after.is_some_and(char::is_alphabetic)
        };
        if is_next {
            self.skip(what.len());
        }
        is_next
    }

    /// The next word, of letters alone.
    pub fn word(&self) -> &'a str {
        let end = self.rest.find(|c: char| !c.is_alphabetic() && c != '\'' && c != '’');
        self.rest.get(..end.unwrap_or(self.rest.len())).unwrap_or_default()
    }

    /// Words that say that what follows is not exact.
    fn about(&mut self) -> Option<&'static str> {
        let mut unsure = None;
        while ABOUT.iter().any(|word| self.eat(word)) {
            self.eat(".");
            unsure = Some("about: not an exact amount");
        }
        unsure
    }

    /// A figure, or a word for a number.
    pub fn figure(&mut self) -> Option<Figure> {
        self.digits().or_else(|| Some((self.number_word()?, None)))
    }

    fn number_word(&mut self) -> Option<f64> {
        let word = self.word().to_lowercase();
        let number = NUMBERS.iter().find(|(w, _)| *w == word)?.1;
        self.skip(word.len());
        // "half a lemon", "a quarter of a teaspoon".
        let mut after = *self;
        let of = after.eat("of");
        if number < 1.0 && (after.eat("an") || after.eat("a")) {
            *self = after;
        } else if word == "a" && !of && ({ *self }.eat("half") || { *self }.eat("quarter")) {
            return self.number_word();
        }
        Some(number)
    }

    /// A figure of digits and signs for fractions.
    fn digits(&mut self) -> Option<Figure> {
        let (value, length, unsure) = figure_run(self.rest)?;
        self.skip(length);
        if value.fract() != 0.0 {
            return Some((value, unsure));
        }
        // "1 ½", "1 and 1/2", "1-1/2".
        let mut after = *self;
        let joined = after.eat("and") || after.eat("&") || after.eat("-");
        match figure_run(after.rest) {
            Some((part, length, _)) if part < 1.0 && part > 0.0 && value >= 1.0 => {
                after.skip(length);
                *self = after;
                Some((value + part, unsure))
            }
            _ if joined && after.eat("a half") => {
                *self = after;
                Some((value + 0.5, unsure))
            }
            _ => Some((value, unsure)),
        }
    }

    /// Words between a figure and its measure.
    fn how(&mut self) -> Option<&'static str> {
        let (mut after, mut unsure) = (*self, None);
        while let Some((_, doubt)) = HOW.iter().find(|(word, _)| after.eat(word)) {
            unsure = unsure.or(*doubt);
        }
        // "2 small onions" have no measure: the word is theirs.
        { after }.measure()?;
        *self = after;
        unsure
    }

    /// A measure, by the longest name it has here.
    fn measure(&mut self) -> Option<Measured> {
        let rest = self.rest.strip_prefix(['-', '‑']).unwrap_or(self.rest);
        let skipped = self.rest.len() - rest.len();
        let mut ends = Vec::new();
        let (mut at, mut in_word) = (0, false);
        for (i, c) in rest.char_indices() {
            if c.is_alphabetic() {
                in_word = true;
            } else if in_word {
                ends.push(i);
                in_word = false;
            }
            if !(c.is_alphabetic() || c == '.' || c == ' ') || ends.len() == 3 {
                break;
            }
            at = i + c.len_utf8();
        }
        if in_word {
            ends.push(at);
        }
        let (end, found) =
            ends.into_iter().rev().find_map(|end| Some((end, measure(rest.get(..end)?)?)))?;
        self.skip(skipped + end);
        // The full stop of an abbreviation.
        if self.rest.starts_with('.') {
            self.skip(1);
        }
        Some(found)
    }

    /// A figure and what belongs to it.
    pub fn quantity(&mut self) -> Option<Quantity> {
        let mut reader = *self;
        let about = reader.about();
        let (mut figure, comma) = reader.figure()?;
        if reader.eat("dozen") {
            figure *= 12.0;
        }
        let mut up_to = reader.greater(figure);
        let how = reader.how();
        let measure = reader.measure();
        // "100 g to 150 g".
        if up_to.is_none() && measure.is_some() {
            let mut after = reader;
            if let Some(greater) = after.greater(figure)
                && after.measure() == measure
            {
                up_to = Some(greater);
                reader = after;
            }
        }
        *self = reader;
        Some(Quantity { figure, up_to, measure, unsure: about.or(how).or(comma) })
    }

    /// The end of a range that begins with `figure`.
    fn greater(&mut self, figure: f64) -> Option<f64> {
        let mut after = *self;
        let joined = ["-", "–", "—", "−", "to", "or"].iter().any(|sign| after.eat(sign));
        let (greater, _) = after.figure().filter(|(greater, _)| joined && *greater > figure)?;
        *self = after;
        Some(greater)
    }

    /// A quantity with a measure that stands in brackets by itself, and whether
    /// it is that of each.
    pub fn in_brackets(&mut self) -> Option<(Vec<Quantity>, bool)> {
        let inside = self.rest.strip_prefix(['(', '['])?;
        let end = inside.find([')', ']'])?;
        let mut reader = Reader::new(inside.get(..end)?);
        let mut all = Vec::new();
        while !reader.rest.is_empty() && !reader.rest.to_lowercase().starts_with("each") {
            reader.eat("or");
            reader.eat("=");
            all.push(reader.quantity().filter(|q| q.measure.is_some())?);
            if !["/", ",", ";", "|"].iter().any(|sign| reader.eat(sign)) {
                break;
            }
        }
        let each = reader.eat("each");
        reader.eat("in");
        reader.eat("total");
        if all.is_empty() || !reader.rest.is_empty() {
            return None;
        }
        self.skip(end + 2);
        Some((all, each))
    }

    /// All amounts that say the same as `first`, which was just read, and those
    /// that are to be added to it.
    pub fn others(&mut self, first: Quantity) -> Vec<Quantity> {
        let mut all = vec![first];
        loop {
            let mut after = *self;
            let alike = ["/", "|", "=", "or"].iter().any(|sign| after.eat(sign));
            let added = !alike && ["plus", "+", "and", "&"].iter().any(|sign| after.eat(sign));
            let next = after.quantity().filter(|q| q.measure.is_some());
            if let Some(next) = next.filter(|_| alike) {
                all.push(next);
                *self = after;
            } else if let Some(sum) = next.and_then(|next| sum(all.last().copied()?, next, added)) {
                all.pop();
                all.push(sum);
                *self = after;
            } else if let Some((more, false)) = { *self }.in_brackets() {
                self.in_brackets();
                all.extend(more);
            } else {
                return all;
            }
        }
    }
}

/// Two amounts as one: "1 lb 2 oz", or any two of a kind where it is said that
/// they are added.
fn sum(first: Quantity, second: Quantity, added: bool) -> Option<Quantity> {
    let smaller = match (first.measure?.unit, second.measure?.unit) {
        (MeasureShape::Pound, MeasureShape::Ounce)
        | (MeasureShape::Kilogram, MeasureShape::Gram)
        | (MeasureShape::Litre, MeasureShape::Millilitre) => true,
        _ => added,
    };
    if !smaller || first.up_to.or(second.up_to).is_some() {
        return None;
    }
    let is_imperial = |q: Quantity| {
        q.measure.is_some_and(|m| matches!(m.unit, MeasureShape::Pound | MeasureShape::Ounce))
    };
    let (unit, figure) = match (first.amount()?, second.amount()?) {
        (Amount::Grams(a), Amount::Grams(b)) if is_imperial(first) && is_imperial(second) => {
            (MeasureShape::Ounce, (a + b) / OUNCE_GRAMS)
        }
        (Amount::Grams(a), Amount::Grams(b)) => (MeasureShape::Gram, a + b),
        (Amount::Millilitres(a), Amount::Millilitres(b)) => (MeasureShape::Millilitre, a + b),
        _ => return None,
    };
    let doubt = first.measure?.doubt.or(second.measure?.doubt);
    let measure = Some(Measured { unit, one: 1.0, doubt });
    Some(Quantity { figure, up_to: None, measure, unsure: first.unsure.or(second.unsure) })
}

/// The figure a text begins with, its length in bytes, and what is unsure.
fn figure_run(text: &str) -> Option<(f64, usize, Option<&'static str>)> {
    let is_part =
        |c: char| c.is_ascii_digit() || ".,/".contains(c) || figure(&c.to_string()).is_some();
    let end = text.find(|c| !is_part(c)).unwrap_or(text.len());
    let run = text.get(..end)?.trim_end_matches(['.', ',', '/']);
    if run.starts_with(['/', ',']) {
        return None;
    }
    if let Some((above, below)) = run.split_once('/') {
        // "200/250" are two amounts, "1/2" is one.
        let (above_is, below_is) = (figure(above)?, figure(below)?);
        if above_is >= below_is {
            return Some((above_is, above.len(), None));
        }
        return Some((figure(run)?, run.len(), None));
    }
    let Some((whole, after)) = run.split_once(',') else {
        return Some((figure(run)?, run.len(), None));
    };
    let plain = |t: &str| !t.is_empty() && t.chars().all(|c| c.is_ascii_digit());
    if plain(whole) && after.len() == 3 && plain(after) {
        let doubt = "the comma is taken to part thousands";
        return Some((figure(&format!("{whole}{after}"))?, run.len(), Some(doubt)));
    }
    if plain(whole) && plain(after) {
        return Some((figure(&format!("{whole}.{after}"))?, run.len(), None));
    }
    Some((figure(whole)?, whole.len(), None))
}

/// The one of several amounts for the same that is gone by, and what is unsure
/// of it: grams before ounces, weights before volumes.
pub(super) fn chosen(all: &[Quantity]) -> Option<(Quantity, Vec<String>)> {
    let of = |q: &Quantity| q.measure.map(|m| m.rank());
    let best = *all.iter().filter(|q| q.measure.is_some()).min_by_key(|q| of(q))?;
    let doubts = [best.measure?.doubt, best.unsure];
    let mut doubts: Vec<String> = doubts.into_iter().flatten().map(str::to_owned).collect();
    for other in all {
        let figures = match (best.amount()?, other.amount()) {
            (Amount::Grams(a), Some(Amount::Grams(b)))
            | (Amount::Millilitres(a), Some(Amount::Millilitres(b))) => (a, b),
            _ => continue,
        };
        // Ounces of 25 g instead of 28 are usual; more is a slip of somebody's.
        if !(0.85..=1.18).contains(&(figures.1 / figures.0)) {
            let [one, two] = [figures.0, figures.1].map(plain_number);
            doubts.push(format!("its amounts differ, {one} and {two} by the same measure"));
        }
    }
    if let Some(up_to) = best.up_to {
        let (less, more) = (plain_number(best.figure), plain_number(up_to));
        doubts.push(format!("{less} to {more}: the less is taken"));
    }
    Some((best, doubts))
}
