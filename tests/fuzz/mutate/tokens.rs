//! Changes of numbers, words and strings.

use std::ops::Range;

use rand::RngExt;
use rand_pcg::Pcg64Mcg;

/// What a stretch of bytes is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    Number,
    Word,
    String,
    Mark,
}

/// Numbers that programs trip over.
const NUMBERS: &[&str] = &[
    "0",
    "-0",
    "1",
    "-1",
    "2",
    "3",
    "0.5",
    "-0.5",
    "1e-9",
    "1e9",
    "1e300",
    "-1e300",
    "1e999",
    "NaN",
    "inf",
    "-inf",
    "255",
    "256",
    "65535",
    "65536",
    "2147483647",
    "2147483648",
    "-2147483648",
    "4294967295",
    "4294967296",
    "9223372036854775807",
    "-9223372036854775808",
    "18446744073709551615",
    "99999999999999999999999999",
    "0.1",
    "100.5",
    "59",
    "60",
    "61",
    "719",
    "720",
    "1439",
    "1440",
    "000012",
    "1_000",
    "0x10",
    "1.",
    ".5",
    "12:30",
    "\"12\"",
    "(1, 2, 3)",
    "(3, 2, 1)",
    "(0, 0, 0)",
    "None",
    "Some(1)",
];

/// Strings that programs trip over.
const STRINGS: &[&str] = &[
    "",
    " ",
    "\u{0}",
    "\u{1b}[31mred",
    "\u{7}",
    "\u{202e}txet",
    "\u{2066}a\u{2069}",
    "\u{feff}",
    "\u{85}",
    "\u{2028}",
    "e\u{301}\u{302}\u{303}",
    "\u{1f468}\u{200d}\u{1f373}",
    "=1+1",
    "@SUM(A1)",
    "+1",
    "-1",
    "../../etc/x",
    "/",
    "\\\\server\\x",
    "C:x",
    "con",
    "NUL.ron",
    ".",
    "..",
    "a/b",
    "#1",
    "#0",
    "#-1",
    "#99999999999999999999",
    "24:00",
    "23:59",
    "00:00",
    "-1:00",
    "12:60",
    "9:5",
    "2026-02-30",
    "0000-00-00",
    "9999-12-31",
    "+262143-12-31",
    "Oven 1",
    "Unit 1",
    "teacher",
    "\u{5d0}\u{5d1}",
    "\u{e000}",
    "\u{10ffff}",
    "{}",
    "%s%n",
    "\r\n",
    "\t",
    "\"\"",
    "\\",
    "PT1H",
    "P1D",
    "1/0 cup",
    "\u{bd}",
    "1\u{2044}3",
    "0/0",
    "http://",
    "<b>",
    "&amp;",
    "&#0;",
    "&#x110000;",
    "]]>",
    "-->",
];

pub fn change(bytes: &mut Vec<u8>, rng: &mut Pcg64Mcg) {
    let all = tokens(bytes);
    if all.is_empty() {
        return;
    }
    let (what, at) = all[rng.random_range(0..all.len())].clone();
    match rng.random_range(0..10) {
        0..5 => {
            // Marks say little: the nearest thing that is one.
            let (what, at) = match what {
                What::Mark => some_of(&all, rng, |w| w != What::Mark).unwrap_or((what, at)),
                _ => (what, at),
            };
            let new = instead(what, &bytes[at.clone()], rng);
            bytes.splice(at, new);
        }
        5..7 => {
            // Another of its kind, from elsewhere in the file.
            if let Some((_, from)) = some_of(&all, rng, |w| w == what) {
                let new = bytes[from].to_vec();
                bytes.splice(at, new);
            }
        }
        7 => drop(bytes.drain(at)),
        8 => {
            let twice = bytes[at.clone()].to_vec();
            bytes.splice(at.end..at.end, twice);
        }
        // Two change places.
        _ => {
            let (_, other) = all[rng.random_range(0..all.len())].clone();
            let (first, second) = if at.start < other.start { (at, other) } else { (other, at) };
            if first.end <= second.start {
                let (a, b) = (bytes[first.clone()].to_vec(), bytes[second.clone()].to_vec());
                bytes.splice(second, a);
                bytes.splice(first, b);
            }
        }
    }
}

fn some_of(
    all: &[(What, Range<usize>)],
    rng: &mut Pcg64Mcg,
    is_one: impl Fn(What) -> bool,
) -> Option<(What, Range<usize>)> {
    let from = rng.random_range(0..all.len());
    let mut turned = all[from..].iter().chain(&all[..from]);
    turned.find(|(what, _)| is_one(*what)).cloned()
}

/// Something of its kind to stand there instead.
fn instead(what: What, old: &[u8], rng: &mut Pcg64Mcg) -> Vec<u8> {
    match what {
        What::Number if rng.random_bool(0.5) => near(old, rng),
        What::Number => NUMBERS[rng.random_range(0..NUMBERS.len())].as_bytes().to_vec(),
        What::String => string(old, rng),
        What::Word => {
            let words =
                ["true", "false", "None", "Some", "Bake", "Cool", "Wait", "With", "Near", "null"];
            words[rng.random_range(0..words.len())].as_bytes().to_vec()
        }
        What::Mark => b"()[]{},:;\"\n/*"[rng.random_range(0..13)..][..1].to_vec(),
    }
}

/// A number not far from what was there: most of the limits lie near good figures.
fn near(old: &[u8], rng: &mut Pcg64Mcg) -> Vec<u8> {
    let number = std::str::from_utf8(old).ok().and_then(|text| text.parse::<f64>().ok());
    let Some(number) = number else { return b"7".to_vec() };
    let new = match rng.random_range(0..8) {
        0 => number + 1.0,
        1 => number - 1.0,
        2 => number * 2.0,
        3 => number / 2.0,
        4 => number * 10.0,
        5 => -number,
        6 => number + 0.25,
        _ => rng.random_range(0.0..200.0_f64).round(),
    };
    format!("{new}").into_bytes()
}

fn string(old: &[u8], rng: &mut Pcg64Mcg) -> Vec<u8> {
    let inner = STRINGS[rng.random_range(0..STRINGS.len())];
    let own = String::from_utf8_lossy(old);
    let own = own.trim_matches('"');
    let new = match rng.random_range(0..8) {
        0..4 => inner.to_owned(),
        4 => format!("{own}{inner}"),
        5 => format!("{inner}{own}"),
        6 => own.to_uppercase(),
        _ => own.repeat(1 << rng.random_range(1..8)),
    };
    // As RON, JSON and most of CSV have them; now and then raw.
    if rng.random_bool(0.9) {
        format!("{new:?}").into_bytes()
    } else {
        format!("\"{new}\"").into_bytes()
    }
}

/// The numbers, words, strings and marks of a file. Space between them is none.
pub fn tokens(bytes: &[u8]) -> Vec<(What, Range<usize>)> {
    let mut all = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let from = at;
        let byte = bytes[at];
        let run = |is: fn(&u8) -> bool| bytes[from..].iter().take_while(|b| is(b)).count();
        let what = match byte {
            b' ' | b'\t' | b'\r' | b'\n' => {
                at += 1;
                continue;
            }
            b'"' => {
                at += 1;
                while at < bytes.len() && bytes[at] != b'"' {
                    at += if bytes[at] == b'\\' { 2 } else { 1 };
                }
                at = (at + 1).min(bytes.len());
                What::String
            }
            b'0'..=b'9' | b'-' | b'.' => {
                at += run(|b| b.is_ascii_digit() || b"-.".contains(b));
                What::Number
            }
            _ if byte.is_ascii_alphanumeric() || byte == b'_' || byte >= 0x80 => {
                at += run(|b| b.is_ascii_alphanumeric() || *b == b'_' || *b >= 0x80);
                What::Word
            }
            _ => {
                at += 1;
                What::Mark
            }
        };
        all.push((what, from..at));
    }
    all
}
