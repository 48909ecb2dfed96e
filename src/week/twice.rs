//! A room, a class or an adult that a week has in two places at once.

use chrono::NaiveDate;

use super::model::{EntryNo, Week};

/// What is in two places at once.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TwiceWhat {
    /// A room is taken by two.
    Room,
    /// A class is taught two things.
    Class,
    /// An adult teaches two lessons.
    Adult,
}

/// Two entries that want the same at once.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Twice {
    /// What of.
    pub what: TwiceWhat,
    /// The earlier of the two in the file.
    pub other: EntryNo,
    /// The later one.
    pub one: EntryNo,
    /// The day of both.
    pub date: NaiveDate,
    /// The two in words, as "9 Harbour teaches twice at P1 on Monday: …".
    pub words: String,
}

impl Week {
    /// Everything that is in two places at once, on one day or on all.
    pub fn twice(&self, day: Option<NaiveDate>) -> Vec<Twice> {
        let mut all = Vec::new();
        for (i, one) in self.entries.iter().enumerate() {
            let date = one.slot.date;
            if day.is_some_and(|day| day != date) {
                continue;
            }
            for other in self.entries[..i].iter().filter(|o| o.slot.meets(&one.slot)) {
                let when = format!("{} on {}", one.slot.period(), date.format("%A"));
                let mut tell = |what, wanted: String| {
                    let (first, second) = (other.title(), one.title());
                    let words = format!("{wanted} twice at {when}: {first} and {second}");
                    all.push(Twice { what, other: other.number, one: one.number, date, words });
                };
                if let Some(room) = one.slot.rooms.iter().find(|r| other.slot.rooms.contains(r)) {
                    tell(TwiceWhat::Room, format!("{} is taken", self.room_name(*room)));
                }
                if !one.class.is_empty() && one.class == other.class {
                    tell(TwiceWhat::Class, format!("{} is taught", one.class));
                }
                if let Some(adult) = one.adult.as_ref().filter(|a| other.adult.as_ref() == Some(a))
                {
                    tell(TwiceWhat::Adult, format!("{adult} teaches"));
                }
            }
        }
        all
    }
}
