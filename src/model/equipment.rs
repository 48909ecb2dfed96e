//! Rooms, units, ovens with their shelves, counted kit, tins.

use super::figure::Figure;
use super::ids::{KitId, RoomId, TinId, UnitId};
use crate::units::{Celsius, ExactMinutes, Kelvins, Millilitres, Millimetres, Minute};

/// A food room.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    /// Its name, unique in the lesson.
    pub name: String,
    /// Whether a group may use the ovens and kit of another unit when its own
    /// are taken. The lesson's rules may say otherwise.
    pub sharing: bool,
}

/// A bay of a room with its own cooker and sink.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitBay {
    /// Its name, unique in its room.
    pub name: String,
    /// The room it is in.
    pub room: RoomId,
}

/// The heating of an oven.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum OvenKind {
    /// Electric with a fan.
    Fan,
    /// Electric without a fan.
    Conventional,
    /// Gas.
    Gas,
}

/// One shelf of an oven.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shelf {
    /// Usable width, left to right.
    pub width: Millimetres,
    /// Usable depth, front to back.
    pub depth: Millimetres,
    /// Clear height up to the shelf or the roof above.
    pub clear: Millimetres,
}

/// An oven.
#[derive(Debug, Clone, PartialEq)]
pub struct Oven {
    /// Its name, unique in the lesson.
    pub name: String,
    /// The room it stands in.
    pub room: RoomId,
    /// The unit it belongs to, if any.
    pub unit: Option<UnitId>,
    /// Its heating.
    pub kind: OvenKind,
    /// Its usable shelves, from the top; at least one.
    pub shelves: Vec<Shelf>,
    /// Air left between tins on a shelf; none is needed to the wall.
    pub gap: Figure<Millimetres>,
    /// Minutes to heat from a cold room to 180 °C.
    pub warm_up: Figure<ExactMinutes>,
    /// Minutes to cool by 20 K with the door shut.
    pub cool_down: Figure<ExactMinutes>,
    /// How much hotter than its dial it really is.
    pub correction: Kelvins,
    /// Not to be used in this lesson.
    pub out_of_order: bool,
    /// Not to be used from this minute on: it failed in the course of the lesson.
    pub out_from: Option<Minute>,
    /// The earliest minute it may be switched on, where lessons of several rooms are
    /// joined as one; else the earliest of the periods.
    pub on_from: Option<Minute>,
}

/// A cold room, where warm-ups begin.
pub const ROOM_CELSIUS: f64 = 20.0;
/// The temperature `Oven::warm_up` is stated for.
pub const WARM_UP_CELSIUS: f64 = 180.0;
/// The drop `Oven::cool_down` is stated for, in kelvins.
pub const COOL_DOWN_KELVINS: f64 = 20.0;

impl Oven {
    /// Whether tins may stand in it until a minute.
    pub fn works_until(&self, minute: Minute) -> bool {
        !self.out_of_order && self.out_from.is_none_or(|from| minute <= from)
    }

    /// Minutes to bring the oven to `celsius`: from cold if `from` is `None`,
    /// else up or down from that temperature. In proportion to the
    /// difference, which is close enough over the few steps of a dial.
    /// Temperatures are those of the recipe (without a fan).
    pub fn change_minutes(&self, from: Option<Celsius>, celsius: Celsius) -> ExactMinutes {
        let from = from.map_or(ROOM_CELSIUS, Celsius::get);
        let rise = celsius.get() - from;
        if rise >= 0.0 {
            self.warm_up.value.times(rise / (WARM_UP_CELSIUS - ROOM_CELSIUS))
        } else {
            self.cool_down.value.times(-rise / COOL_DOWN_KELVINS)
        }
    }

    /// The dial's figure for the recipe's temperature: a fan oven 20 K
    /// lower (common practice), less what this oven runs hot.
    pub fn dial(&self, celsius: Celsius) -> f64 {
        let fan = if self.kind == OvenKind::Fan { FAN_KELVINS } else { 0.0 };
        celsius.get() - fan - self.correction.get()
    }
}

/// A fan oven is set this much lower than one without (common practice;
/// tables differ between 20 and 25).
pub const FAN_KELVINS: f64 = 20.0;

/// A kind of counted kit: whisk, ring, sink, scales, bowl, rack place.
#[derive(Debug, Clone, PartialEq)]
pub struct KitKind {
    /// Its name, unique in the lesson.
    pub name: String,
    /// Whether food touches it, so that `keep-apart` speaks of it.
    pub touches_food: bool,
}

/// So many of one kind of kit in one place.
#[derive(Debug, Clone, PartialEq)]
pub struct KitPool {
    /// The kind.
    pub kit: KitId,
    /// The room they are in; `None` when the rooms share them.
    pub room: Option<RoomId>,
    /// The unit they belong to, if any.
    pub unit: Option<UnitId>,
    /// How many of them work.
    pub count: u32,
}

/// The shape of a tin, inner sizes in millimetres at the rim.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TinForm {
    /// A round tin.
    Round {
        /// Inner diameter.
        across: Millimetres,
    },
    /// A square, oblong, loaf or foil tin.
    Rect {
        /// Inner length.
        long: Millimetres,
        /// Inner width.
        wide: Millimetres,
    },
    /// A tray of round, often tapered holes.
    Holes {
        /// How many.
        count: u32,
        /// Mean inner diameter of one.
        across: Millimetres,
    },
    /// A flat baking sheet.
    Sheet,
}

/// A kind of tin.
#[derive(Debug, Clone, PartialEq)]
pub struct Tin {
    /// Its name, unique in the lesson.
    pub name: String,
    /// Shape and inner size, where known.
    pub form: Option<TinForm>,
    /// Outside of the rim: length and width of the rectangle round it.
    pub rim: (Millimetres, Millimetres),
    /// Outer height.
    pub height: Millimetres,
    /// Its volume to the brim, where known; of a tray all holes together.
    pub capacity: Option<Figure<Millilitres>>,
}

impl Tin {
    /// The diameter of its rim if that is a circle: if the tin is round and no
    /// handle makes its rim longer one way. Such a tin takes the circle of its
    /// rim on a shelf, any other the rectangle round it.
    pub fn round_rim(&self) -> Option<Millimetres> {
        let round = matches!(self.form, Some(TinForm::Round { .. }));
        (round && self.rim.0 == self.rim.1).then_some(self.rim.0)
    }
}

/// So many tins of one kind in one room. A tin without a pool in a room is
/// assumed to be there in any number.
#[derive(Debug, Clone, PartialEq)]
pub struct TinPool {
    /// The kind.
    pub tin: TinId,
    /// The room whose cupboard they are in.
    pub room: RoomId,
    /// How many.
    pub count: u32,
}
