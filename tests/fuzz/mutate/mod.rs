//! Other files made of good ones: a few changes one after another, of bytes and of what
//! the bytes mean.

mod bytes;
mod fields;
mod strange;
mod tokens;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::input::Seed;

/// A file is kept below so many bytes, so that none takes its time from others.
const LARGEST: usize = 200_000;

/// A file made of a good one.
#[derive(Debug)]
pub struct Mutant<'a> {
    pub bytes: Vec<u8>,
    /// What it was made of.
    pub of: &'a Seed,
}

/// The one of that seed: the same whenever it is asked for.
pub fn mutant(seeds: &[Seed], seed: u64) -> Mutant<'_> {
    let mut rng = Pcg64Mcg::seed_from_u64(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15));
    let of = &seeds[rng.random_range(0..seeds.len())];
    let mut bytes = of.bytes.clone();
    // Mostly one change or two: what is changed in many ways is refused at the first.
    for _ in 0..1 + rng.random::<u32>().trailing_zeros().min(6) {
        let other = &seeds[rng.random_range(0..seeds.len())].bytes;
        change(&mut bytes, other, &mut rng);
        bytes.truncate(LARGEST);
    }
    Mutant { bytes, of }
}

fn change(bytes: &mut Vec<u8>, other: &[u8], rng: &mut Pcg64Mcg) {
    match rng.random_range(0..100) {
        0..22 => bytes::change(bytes, other, rng),
        22..70 => tokens::change(bytes, rng),
        70..94 => fields::change(bytes, other, rng),
        _ => strange::change(bytes, rng),
    }
}

/// Some stretch of so many, mostly short.
fn stretch(of: usize, rng: &mut Pcg64Mcg) -> std::ops::Range<usize> {
    let from = rng.random_range(0..=of);
    let most = (1_usize << rng.random_range(0..12)).min(of - from);
    from..from + rng.random_range(0..=most)
}
