//! The use of counted things over time: takes them from the timeline and
//! keeps the record from which the plan names items.

use super::timeline::Timeline;
use crate::graph::problem::Need;

/// Items of a pool kept for one group over a stretch, and the spans in which
/// it really uses them. For a group kept apart the stretch begins with the
/// lesson, so that nobody has used them before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Block {
    /// The pool.
    pub pool: usize,
    /// Number of items.
    pub count: i32,
    /// From this minute.
    pub from: i32,
    /// Until this minute.
    pub until: i32,
    /// Spans of use, and how many in each.
    pub spans: Vec<(i32, i32, i32)>,
}

/// The blocks of one group.
#[derive(Debug, Clone, Default)]
pub struct KitBook {
    /// Blocks taken so far.
    pub blocks: Vec<Block>,
}

impl KitBook {
    /// Takes what a need wants for a stretch, from the first pools that have
    /// it; `false`, with the timeline perhaps partly taken, if they have not.
    /// `apart` asks for items that no other group has used before.
    pub fn take(
        &mut self,
        timeline: &mut Timeline,
        need: &Need,
        from: i32,
        until: i32,
        apart: bool,
    ) -> bool {
        let mut wanted = need.count;
        for &pool in &need.pools {
            if wanted <= 0 {
                break;
            }
            if apart && self.take_again(timeline, pool, (from, until, wanted)) {
                wanted = 0;
                break;
            }
            let kept_from = if apart { 0 } else { from };
            let count = timeline.free(pool, kept_from, until).min(wanted);
            if count > 0 {
                timeline.take(pool, kept_from, until, count);
                let spans = vec![(from, until, count)];
                self.blocks.push(Block { pool, count, from: kept_from, until, spans });
                wanted -= count;
            }
        }
        wanted <= 0
    }

    /// Uses items already kept for this group once more, keeping them longer
    /// if need be.
    fn take_again(&mut self, timeline: &mut Timeline, pool: usize, span: (i32, i32, i32)) -> bool {
        let (from, until, count) = span;
        for block in &mut self.blocks {
            let idle = block.spans.iter().all(|&(f, u, _)| until <= f || u <= from);
            if block.pool != pool || block.from != 0 || block.count < count || !idle {
                continue;
            }
            if until > block.until {
                if timeline.free(pool, block.until, until) < block.count {
                    continue;
                }
                timeline.take(pool, block.until, until, block.count);
                block.until = until;
            }
            block.spans.push(span);
            return true;
        }
        false
    }
}
