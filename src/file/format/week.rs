//! The shapes of a week's file: where and when a department's lessons are, and
//! what its rooms share.

use std::fmt;

use chrono::Weekday;
use serde::de::{Deserializer, Error, SeqAccess, Visitor};
use serde::ser::{SerializeTuple, Serializer};
use serde::{Deserialize, Serialize};

use super::{Entries, KitCount, RoomShape, is_default};

/// A week's file.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeekFile {
    /// The format's number, first in the file.
    pub format: u32,
    /// Its Monday, as "2026-11-30".
    pub week: String,
    /// The usual bells: from each period's name to its start and end.
    pub bells: Entries<(String, String)>,
    /// Days that are unlike the others.
    #[serde(default, skip_serializing_if = "is_default")]
    pub days: Vec<WeekDayShape>,
    /// The rooms, as in a lesson.
    pub rooms: Vec<RoomShape>,
    /// Kit and tins that go from room to room, all there are of them.
    #[serde(default, skip_serializing_if = "is_default")]
    pub moves: Entries<KitCount>,
    /// Adults who serve more than one lesson, with their hours.
    #[serde(default, skip_serializing_if = "is_default")]
    pub adults: Vec<WeekAdultShape>,
    /// What does not work, and when.
    #[serde(default, skip_serializing_if = "is_default")]
    pub out: Vec<OutShape>,
    /// Lessons and bookings.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lessons: Vec<WeekEntryShape>,
    /// What rests from one lesson to another of the same class.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rests: Vec<RestShape>,
}

/// What rests from one lesson to another of the same class, as a dough does overnight.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RestShape {
    /// What it is.
    pub what: String,
    /// The id of the lesson it is made in.
    pub from: String,
    /// The id of the lesson it is used in.
    pub to: String,
    /// The fewest and the most hours from bell to bell.
    pub hours: (i64, i64),
    /// Where it rests: one of what goes from room to room for each group.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
}

/// A day of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum DayShape {
    /// Monday.
    #[default]
    Mon,
    /// Tuesday.
    Tue,
    /// Wednesday.
    Wed,
    /// Thursday.
    Thu,
    /// Friday.
    Fri,
    /// Saturday.
    Sat,
    /// Sunday.
    Sun,
}

impl DayShape {
    /// A day of the calendar.
    pub const fn of(day: Weekday) -> Self {
        match day {
            Weekday::Mon => Self::Mon,
            Weekday::Tue => Self::Tue,
            Weekday::Wed => Self::Wed,
            Weekday::Thu => Self::Thu,
            Weekday::Fri => Self::Fri,
            Weekday::Sat => Self::Sat,
            Weekday::Sun => Self::Sun,
        }
    }

    /// The same day of the calendar.
    pub const fn weekday(self) -> Weekday {
        match self {
            Self::Mon => Weekday::Mon,
            Self::Tue => Weekday::Tue,
            Self::Wed => Weekday::Wed,
            Self::Thu => Weekday::Thu,
            Self::Fri => Weekday::Fri,
            Self::Sat => Weekday::Sat,
            Self::Sun => Weekday::Sun,
        }
    }
}

/// A day that is unlike the others.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeekDayShape {
    /// Which.
    pub on: DayShape,
    /// Bells that are others than usual; those not named are as usual.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bells: Entries<(String, String)>,
    /// Rooms that are closed, by name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub closed: Vec<String>,
    /// Why, in a few words.
    #[serde(default, skip_serializing_if = "is_default")]
    pub why: String,
}

/// An adult of the department, such as the technician.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeekAdultShape {
    /// Their post, as lessons name it.
    pub name: String,
    /// When they are there; on days not named they are not.
    pub hours: Vec<HoursShape>,
}

/// A stretch of a day.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HoursShape {
    /// The day.
    pub on: DayShape,
    /// From, as "08:30".
    pub from: String,
    /// Until.
    pub until: String,
}

/// Something that does not work.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OutShape {
    /// An oven or kit of a room, "Room 1/Oven 4", or kit that goes from room to
    /// room, "electric whisk".
    pub what: String,
    /// How many of some kit; 1 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// The first day; the week's first if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<DayShape>,
    /// The last day; the week's last if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<DayShape>,
}

/// A lesson in a file of its own, or a booking without one.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WeekEntryShape {
    /// The path of the lesson's file from the folder of the week's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub file: Option<String>,
    /// That lesson's id, where it has one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// What a room is taken for that is no lesson with a file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub booking: Option<String>,
    /// The class; that of the lesson's file if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub class: Option<String>,
    /// The day.
    pub on: DayShape,
    /// Its date, to be sure: "2026-12-03".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// The period by its bell; two for a double period, or one for each period of
    /// the lesson.
    #[serde(default, skip_serializing_if = "is_default")]
    pub at: Several,
    /// When a booking is that keeps to no bells, from and until.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Option<(String, String)>,
    /// The room; one for each room of the lesson.
    pub room: Several,
    /// Who teaches, by a mark such as initials.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub adult: Option<String>,
    /// It stays where it is.
    #[serde(default, skip_serializing_if = "is_default")]
    pub held: bool,
    /// What a booking takes of the kit that goes from room to room.
    #[serde(default, skip_serializing_if = "is_default")]
    pub takes: Entries<i64>,
}

/// One name or several: `"P1"`, or `("P5", "P6")`.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Several(pub Vec<String>);

impl Serialize for Several {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if let [name] = self.0.as_slice() {
            return serializer.serialize_str(name);
        }
        let mut tuple = serializer.serialize_tuple(self.0.len())?;
        for name in &self.0 {
            tuple.serialize_element(name)?;
        }
        tuple.end()
    }
}

impl<'de> Deserialize<'de> for Several {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct SeveralVisitor;
        impl<'de> Visitor<'de> for SeveralVisitor {
            type Value = Several;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a name, or several as (\"P5\", \"P6\")")
            }
            fn visit_str<E: Error>(self, name: &str) -> Result<Several, E> {
                Ok(Several(vec![name.to_owned()]))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut seq: A) -> Result<Several, A::Error> {
                let mut names = Vec::new();
                while let Some(name) = seq.next_element()? {
                    names.push(name);
                }
                Ok(Several(names))
            }
        }
        deserializer.deserialize_any(SeveralVisitor)
    }
}
