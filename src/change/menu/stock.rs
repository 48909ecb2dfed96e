//! Tins borrowed, of kinds of which there are fewer than wanted.

use super::super::alteration::Alteration;
use super::Menu;
use super::things::{borrowing, rungs};
use crate::finding::shortened;
use crate::model::{ChangeKind, RoomId, TinId, TinPool};

impl Menu<'_> {
    /// Of each kind of tin of which a room has fewer than its groups would use
    /// at one time: one more, two, four, and as many as that.
    pub(super) fn stock(&mut self) {
        for pool in &self.lesson.tin_pools {
            let wanted = self.tins_wanted(pool.room, pool.tin);
            let missing = wanted - i64::from(pool.count);
            if missing > 0 {
                self.stock_ladder(pool, missing);
            }
        }
    }

    /// The most tins of a kind that the groups of a room in need, and those
    /// beside them, would have in use at one time.
    fn tins_wanted(&self, room: RoomId, tin: TinId) -> i64 {
        let of = |g: crate::model::GroupId| {
            let group = self.lesson.group(g);
            let choices = group.tins.iter().map(|&t| self.lesson.tin_choice_of(g, t));
            choices.filter(|c| c.tin == tin).map(|c| i64::from(c.count)).max().unwrap_or(0)
        };
        self.groups().filter(|&g| self.lesson.group(g).room == room).map(of).sum()
    }

    fn stock_ladder(&mut self, pool: &TinPool, missing: i64) {
        let tin = self.lesson.tins[pool.tin.0].name.clone();
        let short = shortened(&tin, 40);
        let place = match self.lesson.rooms.len() {
            1 => String::new(),
            _ => format!(" for {}", shortened(&self.lesson.rooms[pool.room.0].name, 40)),
        };
        let from = self.items.len();
        for more in rungs(missing) {
            let words = format!("{more} more borrowed{place}: {short}");
            let asks = vec![format!(
                "Look in the other rooms' cupboards: whoever else bakes in the {short} in that \
                 period must do with {more} less."
            )];
            let what = Alteration::Stock { room: pool.room.0, tin: tin.clone(), more };
            self.add_at(ChangeKind::Kit, borrowing(more), what, words, asks);
        }
        self.ladder(from);
    }
}
