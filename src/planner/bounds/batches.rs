//! How many batches stand on shelves at one time where some tins are round: a
//! batch of two tins that together fill a shelf counts as much as one of a tin
//! that fills it alone.

use crate::graph::footprint::{Footprint, Together, stand};
use crate::graph::packing::Space;
use crate::graph::problem::{BakeTask, ShelfTask};

/// Sets of more tins than this are not looked at.
const ARRANGED: usize = 6;
/// So many sets are looked at on a shelf; where that is not enough nothing is
/// said. The same in every run.
const SETS: usize = 200;

/// A kind of tin and what one counts of a batch, in parts of which a batch has
/// the same number whatever it is baked in.
struct Kind {
    footprint: Footprint,
    height: i32,
    parts: usize,
}

/// The most whole batches of some bakes that stand on some shelves at one time;
/// `None` where no tin is round, all are of one kind, or shelves hold too many
/// of them.
pub(super) fn at_one_time(bakes: &[&BakeTask], shelves: &[ShelfTask]) -> Option<usize> {
    if !bakes.iter().any(|b| b.footprint.is_circle()) {
        return None;
    }
    let tins = |b: &BakeTask| usize::try_from(b.tins.max(1)).unwrap_or(1);
    let batch = bakes.iter().map(|b| tins(b)).fold(1, common_multiple);
    let mut kinds: Vec<Kind> = Vec::new();
    for bake in bakes {
        let (footprint, parts) = (bake.footprint.lying(), batch / tins(bake));
        let same = |k: &&mut Kind| (k.footprint, k.height) == (footprint, bake.height);
        match kinds.iter_mut().find(same) {
            // Fewer tins to a batch count more each: never too few batches.
            Some(kind) => kind.parts = kind.parts.max(parts),
            None => kinds.push(Kind { footprint, height: bake.height, parts }),
        }
    }
    if kinds.len() < 2 {
        return None;
    }
    let mut known: Vec<(ShelfTask, usize)> = Vec::new();
    let mut all = 0_usize;
    for &shelf in shelves {
        let most = match known.iter().find(|k| k.0 == shelf) {
            Some(&(_, most)) => most,
            None => {
                let fits: Vec<&Kind> = kinds.iter().filter(|k| k.height <= shelf.clear).collect();
                let most = most_parts(&fits, shelf.space, &mut Vec::new(), &mut SETS.clone())?;
                known.push((shelf, most));
                most
            }
        };
        all = all.saturating_add(most);
    }
    Some(all / batch)
}

/// The most parts of a shelf beside tins that stand there, with more of the
/// kinds that are left.
fn most_parts(
    kinds: &[&Kind],
    space: Space,
    there: &mut Vec<Footprint>,
    sets: &mut usize,
) -> Option<usize> {
    let mut most = 0;
    for (i, kind) in kinds.iter().enumerate() {
        *sets = sets.checked_sub(1)?;
        there.push(kind.footprint);
        let fits = stand(there, space) != Together::Refuted;
        let more = match (fits, there.len() < ARRANGED) {
            (false, _) => Some(0),
            (true, true) => {
                most_parts(&kinds[i..], space, there, sets).map(|more| kind.parts + more)
            }
            (true, false) => None,
        };
        there.pop();
        most = most.max(more?);
    }
    Some(most)
}

fn common_multiple(a: usize, b: usize) -> usize {
    let (mut x, mut y) = (a, b);
    while y > 0 {
        (x, y) = (y, x % y);
    }
    (a / x.max(1)).saturating_mul(b)
}
