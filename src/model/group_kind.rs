//! What groups have in common whose ways of being served are the same.

use std::collections::BTreeSet;

use super::ids::{MethodId, PeriodId, RecipeId, RoomId, TinChoiceId, UnitId};
use super::people::Group;
use super::recipe::Recipe;
use crate::units::Minutes;

/// The kind of a group: all that its methods, tins, steps, minutes and kit hang
/// on, locks apart.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct GroupKind {
    recipe: RecipeId,
    period: PeriodId,
    place: (RoomId, Option<UnitId>),
    methods: Vec<MethodId>,
    tins: Vec<TinChoiceId>,
    /// The pace, bit by bit.
    pace: u64,
    outside: [BTreeSet<String>; 2],
    /// Of each step of its methods.
    pupils: Vec<u32>,
    baked_for: Option<Minutes>,
}

impl Group {
    /// Its kind; `recipe` is the one it makes.
    pub fn kind(&self, recipe: &Recipe) -> GroupKind {
        let methods = self.methods.iter().filter_map(|m| recipe.methods.get(m.0));
        let pupils = methods.flat_map(|m| &m.steps).map(|s| s.pupils.of(self.pupils)).collect();
        GroupKind {
            recipe: self.recipe,
            period: self.period,
            place: (self.room, self.unit),
            methods: self.methods.clone(),
            tins: self.tins.clone(),
            pace: self.pace.to_bits(),
            outside: [self.beforehand.clone(), self.collected.clone()],
            pupils,
            baked_for: self.baked_for,
        }
    }
}
