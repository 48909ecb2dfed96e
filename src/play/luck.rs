//! The same luck: every normal is a pure function of the seed, the run and a
//! name, so that plans of one lesson are compared on the same luck and any
//! number of threads gives the same answer.

use std::f64::consts::TAU;

/// Where chance begins.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Luck {
    /// The seed.
    pub seed: u64,
}

/// A step between the words of a hash.
const STEP: u64 = 0x9E37_79B9_7F4A_7C15;

/// The finishing mix of SplitMix64 (Steele, Lea and Flood, *Fast Splittable
/// Pseudorandom Number Generators*, OOPSLA 2014; constants from memory).
fn mixed(word: u64) -> u64 {
    let word = (word ^ (word >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    let word = (word ^ (word >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    word ^ (word >> 31)
}

fn folded(hash: u64, word: u64) -> u64 {
    mixed(hash.wrapping_add(STEP) ^ mixed(word.wrapping_add(STEP)))
}

/// A name of several parts as a number; other parts, another number.
pub(super) fn named(parts: &[&str]) -> u64 {
    parts.iter().fold(0, |hash, part| {
        let bytes = part.bytes().fold(hash, |hash, byte| folded(hash, u64::from(byte)));
        // Where a part ends counts too.
        folded(bytes, 256)
    })
}

impl Luck {
    /// A standard normal for that run and name, by the method of Box and Muller
    /// (*Annals of Mathematical Statistics* 29, 1958).
    pub(super) fn normal(self, run: u64, name: u64) -> f64 {
        let first = folded(folded(self.seed, run), name);
        let second = mixed(first.wrapping_add(STEP));
        let (radius, angle) = (above_nought(first), above_nought(second));
        (-2.0 * libm::log(radius)).sqrt() * libm::cos(TAU * angle)
    }
}

/// Evenly spread above 0, up to 1.
#[allow(clippy::cast_precision_loss)] // 53 bits are kept whole
fn above_nought(word: u64) -> f64 {
    ((word >> 11) + 1) as f64 / (1_u64 << 53) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn normals_have_the_moments_of_normals() {
        let luck = Luck { seed: 7 };
        let name = named(&["beat", "Unit 1"]);
        let all: Vec<f64> = (0..40_000).map(|run| luck.normal(run, name)).collect();
        let moment = |power| all.iter().map(|z: &f64| z.powi(power)).sum::<f64>() / 40_000.0;
        // Four standard errors of each moment of 40 000 normals.
        assert!(moment(1).abs() < 4.0 / 200.0);
        assert!((moment(2) - 1.0).abs() < 4.0 * 2_f64.sqrt() / 200.0);
        assert!(moment(3).abs() < 4.0 * 15_f64.sqrt() / 200.0);
        assert!((moment(4) - 3.0).abs() < 4.0 * 96_f64.sqrt() / 200.0);
    }

    #[test]
    fn names_runs_and_seeds_have_luck_of_their_own() {
        let (a, b) = (named(&["ab", "c"]), named(&["a", "bc"]));
        assert_ne!(a, b);
        let product = |f: &dyn Fn(u64) -> (f64, f64)| {
            (0..20_000).map(f).map(|(x, y)| x * y).sum::<f64>() / 20_000.0
        };
        let (one, two) = (Luck { seed: 1 }, Luck { seed: 2 });
        let limit = 4.0 / 20_000_f64.sqrt();
        assert!(product(&|r| (one.normal(r, a), one.normal(r, b))).abs() < limit);
        assert!(product(&|r| (one.normal(r, a), two.normal(r, a))).abs() < limit);
        assert!(product(&|r| (one.normal(r, a), one.normal(r + 1, a))).abs() < limit);
        assert_eq!(one.normal(3, a).to_bits(), one.normal(3, a).to_bits());
    }
}
