//! Rooms and their units, with what is in them.

use super::Builder;
use super::names::Names;
use crate::file::format::RoomShape;
use crate::finding::Path;
use crate::model::{Room, RoomId, TinId, TinPool, UnitBay, UnitId};

/// Where a thing stands.
#[derive(Debug, Clone, Copy)]
pub(super) struct Whereabouts {
    /// In which room; `None` if the rooms share it.
    pub room: Option<RoomId>,
    /// At which unit, if any.
    pub unit: Option<UnitId>,
}

impl Builder<'_> {
    pub(super) fn rooms(&mut self) {
        let file = self.file;
        let (others, count) = (Path::root().field("other_rooms"), file.other_rooms.len());
        for (number, room) in file.rooms().enumerate() {
            if number == 1 && !self.findings.length(&others, "rooms", count, 20) {
                break;
            }
            self.room(&RoomShape::path(number), room);
        }
        let shared = Path::root().field("shared_kit");
        self.kit_pools(&shared, &file.shared_kit, Whereabouts { room: None, unit: None });
    }

    fn room(&mut self, path: &Path, shape: &RoomShape) {
        let name = shape.name();
        self.rooms.add(&mut self.findings, &path.field("name"), name);
        let id = RoomId(self.parts.rooms.len());
        let sharing = shape.sharing.unwrap_or(true);
        self.parts.rooms.push(Room { name: name.to_owned(), sharing });
        let spot = Whereabouts { room: Some(id), unit: None };
        self.ovens(&path.field("ovens"), &shape.ovens, id, None);
        self.kit_pools(&path.field("kit"), &shape.kit, spot);
        self.room_units(path, shape, id);
        self.tin_pools(&path.field("tins"), shape, id);
        for (i, name) in shape.out_of_order.iter().enumerate() {
            let path = path.field("out_of_order").index(i);
            let found = self.ovens.find(&mut self.findings, &path, name);
            if let Some(oven) = found.and_then(|i| self.parts.ovens.get_mut(i)) {
                oven.out_of_order = true;
            }
        }
    }

    fn room_units(&mut self, path: &Path, shape: &RoomShape, room: RoomId) {
        let path = path.field("units");
        let mut names = Names::new("unit");
        let units: &[_] = if self.findings.length(&path, "units", shape.units.len(), 60) {
            &shape.units
        } else {
            &[]
        };
        for (i, unit) in units.iter().enumerate() {
            let path = path.index(i);
            names.add(&mut self.findings, &path.field("name"), &unit.name);
            let id = UnitId(self.parts.units.len());
            self.parts.units.push(UnitBay { name: unit.name.clone(), room });
            self.ovens(&path.field("ovens"), &unit.ovens, room, Some(id));
            let spot = Whereabouts { room: Some(room), unit: Some(id) };
            self.kit_pools(&path.field("kit"), &unit.kit, spot);
        }
        self.units.push(names);
    }

    fn tin_pools(&mut self, path: &Path, shape: &RoomShape, room: RoomId) {
        let mut seen = Names::new("stock of the tin");
        for (name, count) in &shape.tins.0 {
            let path = path.key(name);
            seen.add(&mut self.findings, &path, name);
            let tin = self.tins.find(&mut self.findings, &path, name);
            let count = self.findings.count(&path, "the number of tins", *count, (0, 500));
            if let (Some(tin), Some(count)) = (tin, count) {
                self.parts.tin_pools.push(TinPool { tin: TinId(tin), room, count });
            }
        }
    }

    /// The unit of a room by its name.
    pub(super) fn unit_of_room(&self, room: RoomId, name: &str) -> Option<UnitId> {
        let of_room = |u: &&UnitBay| u.room == room;
        let position = self.units.get(room.0)?.position(name)?;
        // Units of a room stand together, in its order.
        let first = self.parts.units.iter().position(|u| of_room(&u))?;
        Some(UnitId(first + position))
    }
}
