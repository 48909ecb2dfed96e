//! Counted kit.

use super::Builder;
use super::names::Names;
use super::rooms::Whereabouts;
use crate::file::format::{Entries, KitCount};
use crate::finding::Path;
use crate::model::{KitId, KitKind, KitPool};

/// Most of one kind of kit in one place.
const MOST_KIT: u32 = 500;

/// Kit that food does not touch, without a plural s.
const NOT_TOUCHED: [&str; 6] = ["sink", "ring", "hob ring", "burner", "scale", "basin"];

impl Builder<'_> {
    pub(super) fn kit_pools(&mut self, path: &Path, kit: &Entries<KitCount>, spot: Whereabouts) {
        if !self.findings.length(path, "kinds of kit", kit.0.len(), 200) {
            return;
        }
        let mut here = Names::new("entry for the kit");
        for (name, count) in &kit.0 {
            let path = path.key(name);
            here.add(&mut self.findings, &path, name);
            let id = self.kit_kind(name, count.touches_food);
            let total = self.findings.count(&path, "the number", count.count, (0, MOST_KIT));
            let borrowed = self.findings.count(
                &path.field("borrowed"),
                "the number borrowed",
                count.borrowed,
                (0, MOST_KIT),
            );
            // A count that is wrong must not read as too little kit as well.
            let total = total.unwrap_or(MOST_KIT).saturating_add(borrowed.unwrap_or(0));
            let broken = self.findings.count(
                &path.field("out_of_order"),
                "the number out of order",
                count.out_of_order,
                (0, total),
            );
            let count = total - broken.unwrap_or(0);
            self.parts.kit_pools.push(KitPool { kit: id, room: spot.room, unit: spot.unit, count });
        }
    }

    fn kit_kind(&mut self, name: &str, touches_food: Option<bool>) -> KitId {
        if let Some(known) = self.kit.position(name) {
            // Kit of one name is the same kit everywhere: what one place says
            // of it holds for all.
            if let (Some(stated), Some(kind)) = (touches_food, self.parts.kit_kinds.get_mut(known))
            {
                kind.touches_food = stated;
            }
            return KitId(known);
        }
        self.kit.add_unchecked(name);
        let touches_food = touches_food.unwrap_or_else(|| touches_food_by_name(name));
        self.parts.kit_kinds.push(KitKind { name: name.to_owned(), touches_food });
        KitId(self.parts.kit_kinds.len() - 1)
    }
}

/// Whether food touches kit of that name, where nobody says.
pub fn touches_food_by_name(name: &str) -> bool {
    !NOT_TOUCHED.contains(&singular(name).as_str())
}

fn singular(name: &str) -> String {
    let name = name.trim().to_lowercase();
    name.strip_suffix('s').map(str::to_owned).unwrap_or(name)
}
