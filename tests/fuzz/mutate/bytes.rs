//! Changes of bytes, whatever they mean.

use rand::RngExt;
use rand_pcg::Pcg64Mcg;

use super::stretch;

pub fn change(bytes: &mut Vec<u8>, other: &[u8], rng: &mut Pcg64Mcg) {
    if bytes.is_empty() {
        return bytes.extend_from_slice(other);
    }
    let at = rng.random_range(0..bytes.len());
    match rng.random_range(0..8) {
        0 => bytes[at] ^= 1 << rng.random_range(0..8),
        1 => bytes[at] = rng.random(),
        2 => bytes[at] = rng.random_range(b' '..=b'~'),
        3 => bytes.truncate(at),
        4 => drop(bytes.drain(stretch(bytes.len(), rng))),
        5 => {
            let twice = bytes[stretch(bytes.len(), rng)].to_vec();
            bytes.splice(at..at, twice);
        }
        6 => {
            let part = other[stretch(other.len(), rng)].to_vec();
            bytes.splice(at..at, part);
        }
        // The beginning of the one and the end of the other.
        _ => {
            bytes.truncate(at);
            bytes.extend_from_slice(&other[rng.random_range(0..=other.len())..]);
        }
    }
}
