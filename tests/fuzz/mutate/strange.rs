//! Changes of a whole file: line ends, marks at its beginning, depth and length.

use rand::RngExt;
use rand_pcg::Pcg64Mcg;

pub fn change(bytes: &mut Vec<u8>, rng: &mut Pcg64Mcg) {
    match rng.random_range(0..8) {
        0 => drop(bytes.splice(0..0, "\u{feff}".bytes())),
        1 => *bytes = with_line_ends(bytes, b"\r\n"),
        2 => *bytes = with_line_ends(bytes, b"\r"),
        3 => *bytes = with_line_ends(bytes, b""),
        4 => deep(bytes, rng),
        5 => long(bytes, rng),
        6 => {
            let mut wide = if rng.random() { vec![0xff, 0xfe] } else { Vec::new() };
            wide.extend(bytes.iter().flat_map(|b| [*b, 0]));
            *bytes = wide;
        }
        _ => bytes.clear(),
    }
}

fn with_line_ends(bytes: &[u8], end: &[u8]) -> Vec<u8> {
    bytes.split(|b| *b == b'\n').collect::<Vec<_>>().join(end)
}

/// Brackets within brackets, closed or not.
fn deep(bytes: &mut Vec<u8>, rng: &mut Pcg64Mcg) {
    let pairs = [
        ("(", ")"),
        ("[", "]"),
        ("{", "}"),
        ("Some(", ")"),
        ("{\"a\":", "}"),
        ("<div>", "</div>"),
        ("/*", "*/"),
    ];
    let (open, close) = pairs[rng.random_range(0..pairs.len())];
    let depth = 1 << rng.random_range(1..14);
    let closed = if rng.random() { depth } else { 0 };
    let at = rng.random_range(0..=bytes.len());
    let nest = format!("{}{}", open.repeat(depth), close.repeat(closed));
    bytes.splice(at..at, nest.into_bytes());
}

/// One letter over and over.
fn long(bytes: &mut Vec<u8>, rng: &mut Pcg64Mcg) {
    let letter = ["a", "9", " ", "\n", "\"", "\\", "\u{301}", "\u{202e}"][rng.random_range(0..8)];
    let at = rng.random_range(0..=bytes.len());
    let many = letter.repeat(1 << rng.random_range(1..15));
    bytes.splice(at..at, many.into_bytes());
}
