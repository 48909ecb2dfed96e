//! A room: ovens, kit, units with their own, tins in stock.

use eframe::egui::Ui;

use super::kit::Whose;
use super::{kit, ovens};
use crate::app::looks::form::{Field, Form, measures, page_title, part, remark};
use crate::app::looks::say::{self, say};
use crate::app::screens::setup::at_home;
use crate::app::state::Command;
use crate::file::format::{Entries, KitCount, LessonFile, OvenShape, RoomShape, UnitShape};
use crate::finding::Path;
use crate::session::{LibraryShelves, ToKeep};
use crate::setup::field;
use crate::setup::rename::{Named, rename};

use super::Page;

/// A room, or a unit of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// 0 for the room, then the other rooms.
    pub room: usize,
    /// The unit; `None` for what belongs to no unit.
    pub unit: Option<usize>,
}

impl Place {
    /// The room as it is.
    pub fn room(self, file: &LessonFile) -> Option<&RoomShape> {
        file.room(self.room)
    }

    /// The room to be changed.
    pub fn room_mut(self, file: &mut LessonFile) -> Option<&mut RoomShape> {
        file.room_mut(self.room)
    }

    /// Where the room stands in the file.
    pub fn room_path(self) -> Path {
        RoomShape::path(self.room)
    }

    /// Its ovens.
    pub fn ovens(self, file: &mut LessonFile) -> Option<&mut Vec<OvenShape>> {
        let unit = self.unit;
        let room = self.room_mut(file)?;
        match unit {
            None => Some(&mut room.ovens),
            Some(unit) => room.units.get_mut(unit).map(|u| &mut u.ovens),
        }
    }

    /// Its kit.
    pub fn kit(self, file: &mut LessonFile) -> Option<&mut Entries<KitCount>> {
        let unit = self.unit;
        let room = self.room_mut(file)?;
        match unit {
            None => Some(&mut room.kit),
            Some(unit) => room.units.get_mut(unit).map(|u| &mut u.kit),
        }
    }

    /// Names of all ovens of all rooms, those written with a count as well as
    /// the ovens they stand for.
    pub fn all_ovens(self, file: &LessonFile) -> Vec<String> {
        let shapes = file.rooms().flat_map(RoomShape::all_ovens);
        shapes.flat_map(|o| expanded(o).into_iter().chain([o.name.clone()])).collect()
    }

    /// Removes from the file whatever names ovens that are gone: entries out of
    /// order, places in locks, locks left empty.
    pub fn forget_gone_ovens(self, file: &mut LessonFile) {
        let there = self.all_ovens(file);
        if let Some(room) = self.room_mut(file) {
            room.out_of_order.retain(|n| there.contains(n));
        }
        for lock in &mut file.locks {
            if lock.oven.as_ref().is_some_and(|o| !there.contains(o)) {
                (lock.oven, lock.shelf) = (None, None);
            }
        }
        file.locks.retain(|l| {
            l.step.is_some() || l.tin.is_some() || l.method.is_some() || l.oven.is_some()
        });
    }
}

/// The names of the ovens an entry stands for.
pub fn expanded(oven: &OvenShape) -> Vec<String> {
    match oven.count {
        None => vec![oven.name.clone()],
        Some(n) => (1..=n.clamp(0, 60)).map(|i| format!("{} {i}", oven.name)).collect(),
    }
}

/// Shows the page of a room.
pub fn show(ui: &mut Ui, form: &mut Form<'_>, index: usize, shelves: &LibraryShelves) {
    let place = Place { room: index, unit: None };
    let Some(room) = place.room(form.file).cloned() else {
        remark(ui, "This room is no longer part of the lesson.");
        return;
    };
    let at = place.room_path();
    page_title(
        ui,
        room.name(),
        "Empty fields hold what is usual, shown in grey, and count as assumed. Measure a shelf \
         inside its rails, and a tin outside its rim.",
    );
    measures(ui);
    part(ui, "Room", |ui| {
        form.text(ui, Field::new(at.field("name"), "Name"), &room.name, |text, file| {
            rename(file, &Named::Room(index), text)
        });
        let shared = room.sharing.unwrap_or(true);
        let label = "Groups may use other bays' ovens and kit";
        form.tick(ui, &at.field("sharing"), label, shared, |file, now| {
            if let Some(room) = place.room_mut(file) {
                room.sharing = (!now).then_some(false);
            }
        });
        from_shelves(ui, form, index, shelves);
        super::library::keep(ui, form, ToKeep::Room(index), &room.name, shelves);
    });
    part(ui, "Ovens", |ui| ovens::show(ui, form, place, &room.ovens, &at.field("ovens")));
    part(ui, "Kit", |ui| kit::show(ui, form, Whose::Place(place), &room.kit, &at.field("kit")));
    part(ui, "Tins in the cupboard", |ui| stock(ui, form, place, &room));
    units(ui, form, index, &room);
    if !form.file.other_rooms.is_empty() {
        let shared = form.file.shared_kit.clone();
        let at = Path::root().field("shared_kit");
        part(ui, "Kit that the rooms share", |ui| kit::show(ui, form, Whose::Shared, &shared, &at));
    }
    ui.add_space(6.0);
    ui.horizontal(|ui| {
        if ui.button(say("Another room")).clicked() {
            let n = form.file.other_rooms.len() + 2;
            form.enter(Path::root(), "another room".to_owned(), |file| {
                file.other_rooms.push(RoomShape {
                    name: say::name(&format!("Room {n}")),
                    ..RoomShape::default()
                });
            });
            form.out.push(Command::SetUp(Page::Room(n - 1)));
        }
        if index > 0 {
            let what = format!("without {}", room.name);
            form.button(ui, "Take this room out", what, |file| {
                let gone = file.other_rooms.remove(index - 1);
                let gone = Some(gone.name);
                let rooms = file.groups.iter_mut().map(|g| &mut g.room);
                for room in rooms.chain(file.adults.iter_mut().map(|a| &mut a.room)) {
                    if *room == gone {
                        *room = None;
                    }
                }
            });
        }
    });
}

fn from_shelves(ui: &mut Ui, form: &mut Form<'_>, index: usize, shelves: &LibraryShelves) {
    let options: Vec<(String, bool)> =
        shelves.rooms().map(|(r, _)| (r.name.clone(), false)).collect();
    let at = Path::root().field("room from the library").index(index);
    let field = Field::new(at, "Replace by").hint("a room of the library").width(200.0);
    form.choice(ui, &field, &options, |file, i| {
        let Some((room, _)) = shelves.rooms().nth(i) else { return };
        let room = at_home::room(file, room);
        match index.checked_sub(1) {
            None => crate::setup::starter::take_room(file, &room),
            Some(other) => {
                if let Some(there) = file.other_rooms.get_mut(other) {
                    let name = std::mem::take(&mut there.name);
                    *there = RoomShape { name, ..room };
                }
            }
        }
    });
}

/// How many there are of each kind of tin; not said means any number.
fn stock(ui: &mut Ui, form: &mut Form<'_>, place: Place, room: &RoomShape) {
    let kinds: Vec<String> = form.file.tins.iter().map(|t| t.name.clone()).collect();
    if kinds.is_empty() {
        remark(ui, "The lesson has no kinds of tins yet: a recipe brings its own.");
    }
    let at = place.room_path().field("tins");
    for kind in kinds {
        let now = room.tins.0.iter().find(|(name, _)| *name == kind).map(|(_, n)| *n);
        let shown = now.map(|n| n.to_string()).unwrap_or_default();
        let name = format!("{kind}, how many in the cupboard");
        let field = Field::new(at.key(&kind), name).seen(kind.clone()).hint("any").width(50.0);
        form.text(ui, field, &shown, move |text, file| {
            let n = field::optional(text, |text| field::whole(text, (0, 500), ""))?;
            if let Some(room) = place.room_mut(file) {
                match (n, room.tins.0.iter_mut().find(|(name, _)| *name == kind)) {
                    (Some(n), Some(entry)) => entry.1 = n,
                    (Some(n), None) => room.tins.0.push((kind, n)),
                    (None, _) => room.tins.0.retain(|(name, _)| *name != kind),
                }
            }
            Ok(())
        });
    }
}

fn units(ui: &mut Ui, form: &mut Form<'_>, room: usize, shape: &RoomShape) {
    let at = Place { room, unit: None }.room_path().field("units");
    for (u, unit) in shape.units.iter().enumerate() {
        let place = Place { room, unit: Some(u) };
        let at = at.index(u);
        part(ui, &unit.name, |ui| {
            let label = format!("Bay {}, name", u + 1);
            form.text(ui, Field::new(at.field("name"), label), &unit.name, |text, file| {
                rename(file, &Named::Unit { room, unit: u }, text)
            });
            ovens::show(ui, form, place, &unit.ovens, &at.field("ovens"));
            kit::show(ui, form, Whose::Place(place), &unit.kit, &at.field("kit"));
            let label = format!("Take {} out", unit.name);
            form.button(ui, &label, &label, |file| {
                let Some(room) = place.room_mut(file) else { return };
                let gone = Some(room.units.remove(u).name);
                for group in file.groups.iter_mut().filter(|g| g.unit == gone) {
                    group.unit = None;
                }
                place.forget_gone_ovens(file);
            });
        });
    }
    part(ui, "Bays", |ui| {
        remark(ui, "A bay has its own oven, ring or sink. Leave bays out where all share.");
        form.button(ui, "Add a bay", "another bay", |file| {
            let place = Place { room, unit: None };
            let taken = place.all_ovens(file);
            let Some(room) = place.room_mut(file) else { return };
            let n = room.units.len() + 1;
            let like = room.units.last().cloned().unwrap_or_default();
            let mut ovens = like.ovens;
            for oven in &mut ovens {
                let more = (n..).map(|i| format!("Oven {i}")).find(|n| !taken.contains(n));
                oven.name = more.unwrap_or_default();
            }
            room.units.push(UnitShape {
                name: say::name(&format!("Bay {n}")),
                ovens,
                kit: like.kit,
            });
        });
    });
}
