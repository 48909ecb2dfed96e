//! Kit and ovens borrowed.

use super::super::alteration::Alteration;
use super::Menu;
use crate::file::format::OvenShape;
use crate::finding::shortened;
use crate::model::{ChangeKind, KitId, Method};

/// How many ovens more are thought of.
const OVENS: i64 = 3;

impl Menu<'_> {
    /// Of each kind of kit there is less of than every group would use at one
    /// time: one more, two, four, and as many as that.
    pub(super) fn kit(&mut self) {
        for kit in 0..self.lesson.kit_kinds.len() {
            let kit = KitId(kit);
            let there: i64 = self
                .lesson
                .kit_pools
                .iter()
                .filter(|p| p.kit == kit)
                .map(|p| i64::from(p.count))
                .sum();
            let wanted: i64 = self
                .groups()
                .map(|g| {
                    let group = self.lesson.group(g);
                    let methods = group.methods.iter().map(|&m| self.lesson.method_of(g, m));
                    methods.map(|m| used(m, kit)).max().unwrap_or(0)
                })
                .sum();
            let missing = wanted - there;
            if missing > 0 {
                self.kit_ladder(kit, &rungs(missing));
            }
        }
    }

    fn kit_ladder(&mut self, kit: KitId, rungs: &[i64]) {
        let name = self.lesson.kit_kinds[kit.0].name.clone();
        let shared = self.file.shared_kit.0.iter().any(|(n, _)| *n == name);
        let room = self.in_need().next().map_or(0, |g| self.lesson.group(g).room.0);
        let room = (!shared).then_some(room);
        let from = self.items.len();
        let short = shortened(&name, 40);
        for &more in rungs {
            let words = format!("{more} more borrowed: {short}");
            let asks = vec![format!(
                "Whoever else uses the {short} in that period must do with {more} less."
            )];
            let what = Alteration::Kit { room, kit: name.clone(), more };
            self.add_at(ChangeKind::Kit, borrowing(more), what, words, asks);
        }
        self.ladder(from);
    }

    /// Ovens like the first of the room, of no unit.
    pub(super) fn ovens(&mut self) {
        let mut rooms: Vec<usize> = self.in_need().map(|g| self.lesson.group(g).room.0).collect();
        rooms.sort_unstable();
        rooms.dedup();
        for number in rooms {
            let Some(room) = self.file.room(number) else { continue };
            let units = room.units.iter().flat_map(|u| &u.ovens);
            let Some(like) = room.ovens.iter().chain(units).next().cloned() else { continue };
            let from = self.items.len();
            for more in 1..=OVENS {
                let name = self.new_oven_name();
                let count = (more > 1).then_some(more);
                let oven = OvenShape { name, count, borrowed: true, ..like.clone() };
                let words = match more {
                    1 => "an oven borrowed".to_owned(),
                    n => format!("{n} ovens borrowed"),
                };
                let asks = vec![
                    "Another room's ovens must be free and warm, and an adult stands by them."
                        .to_owned(),
                ];
                let what = Alteration::Oven { room: number, oven };
                #[allow(clippy::cast_precision_loss)] // three at most
                self.add_at(ChangeKind::Oven, more as f64, what, words, asks);
            }
            self.ladder(from);
        }
    }

    /// A name no oven has.
    fn new_oven_name(&self) -> String {
        let taken = |name: &str| self.lesson.ovens.iter().any(|o| o.name.starts_with(name));
        let names = (1..).map(|n| match n {
            1 => "Borrowed oven".to_owned(),
            n => format!("Borrowed oven {}", char::from_u32(64 + n).unwrap_or('x')),
        });
        names.take(26).find(|name| !taken(name)).unwrap_or_else(|| "Oven from elsewhere".to_owned())
    }
}

/// How many more are thought of where so many are missing.
pub(super) fn rungs(missing: i64) -> Vec<i64> {
    let mut rungs: Vec<i64> = [1, 2, 4, missing].into_iter().filter(|&n| n <= missing).collect();
    rungs.sort_unstable();
    rungs.dedup();
    rungs
}

/// What it costs to borrow so many, each after the first a third of that.
#[allow(clippy::cast_precision_loss)] // a few
pub(super) fn borrowing(more: i64) -> f64 {
    1.0 + (more - 1) as f64 / 3.0
}

/// The most of some kit that one group uses at one time, at least by one step
/// or over several.
fn used(method: &Method, kit: KitId) -> i64 {
    let steps =
        method.steps.iter().flat_map(|s| &s.kit).filter(|(k, _)| *k == kit).map(|(_, n)| *n);
    let holds = method.holds.iter().filter(|h| h.kit == kit).map(|h| h.count);
    i64::from(steps.chain(holds).max().unwrap_or(0))
}
