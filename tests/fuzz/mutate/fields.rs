//! Changes of fields: dropped, doubled, moved to others, from other files.

use std::ops::Range;

use rand::RngExt;
use rand_pcg::Pcg64Mcg;

use super::tokens::{What, tokens};

pub fn change(bytes: &mut Vec<u8>, other: &[u8], rng: &mut Pcg64Mcg) {
    let mine = fields(bytes);
    if mine.is_empty() {
        return;
    }
    let at = mine[rng.random_range(0..mine.len())].clone();
    let from = mine[rng.random_range(0..mine.len())].clone();
    match rng.random_range(0..6) {
        0 => drop(bytes.drain(at)),
        1 => {
            let twice = bytes[at.clone()].to_vec();
            bytes.splice(at.end..at.end, twice);
        }
        // One in the place of another, or beside it.
        2 => {
            let new = bytes[from].to_vec();
            bytes.splice(at, new);
        }
        3 => {
            let new = bytes[from].to_vec();
            bytes.splice(at.start..at.start, new);
        }
        // Very many of them.
        4 if rng.random_bool(0.1) => {
            let many = bytes[at.clone()].repeat(1 << rng.random_range(1..8));
            bytes.splice(at, many);
        }
        _ => {
            let theirs = fields(other);
            if !theirs.is_empty() {
                let new = other[theirs[rng.random_range(0..theirs.len())].clone()].to_vec();
                bytes.splice(at.start..at.start, new);
            }
        }
    }
}

/// Stretches that end with a comma or a line and in which all brackets are closed:
/// fields, entries of lists, cells and lines of tables.
fn fields(bytes: &[u8]) -> Vec<Range<usize>> {
    let mut all = Vec::new();
    // Where the fields of each bracket that is open begin.
    let mut open: Vec<usize> = vec![0];
    for (what, at) in tokens(bytes) {
        if what != What::Mark {
            continue;
        }
        match bytes[at.start] {
            b'(' | b'[' | b'{' => open.push(at.end),
            b')' | b']' | b'}' => {
                let from = if open.len() > 1 { open.pop() } else { None };
                // The last field of a bracket has no comma.
                all.extend(from.filter(|from| *from < at.start).map(|from| from..at.start));
            }
            b',' => {
                let from = open.last_mut().unwrap();
                all.push(std::mem::replace(from, at.end)..at.end);
            }
            _ => {}
        }
    }
    if all.is_empty() || open.len() == 1 && open[0] > 0 {
        let mut from = 0;
        for (end, _) in bytes.iter().enumerate().filter(|(_, b)| **b == b'\n') {
            all.push(from..end + 1);
            from = end + 1;
        }
    }
    all
}
