//! Which lessons lose groups while something is out of order.

use chrono::NaiveDate;

use super::alone::Planner;
use super::model::{EntryNo, Out, Place, Week};

/// A lesson that something out of order bears on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Touched {
    /// The lesson.
    pub entry: EntryNo,
    /// Groups out by the bell if it worked, all else as it is.
    pub before: u32,
    /// Groups out by the bell without it.
    pub now: u32,
}

/// What comes of something being out of order.
#[derive(Debug, Clone, PartialEq)]
pub struct Consequence {
    /// What is out of order.
    pub out: Out,
    /// Lessons that lose groups by it.
    pub breaks: Vec<Touched>,
    /// Lessons of those days that would have it at hand and lose none.
    pub keeps: Vec<EntryNo>,
}

/// What comes of each thing that is out of order: every lesson planned with it and
/// without it, or those of one day. Of things that only together are too much, each
/// breaks the lesson.
pub fn broken(week: &Week, planner: &Planner<'_>, day: Option<NaiveDate>) -> Vec<Consequence> {
    let is_asked = |date: NaiveDate| day.is_none_or(|day| day == date);
    let one = |(number, out): (usize, &Out)| {
        let mut works = week.clone();
        works.out.remove(number);
        let mut of = Consequence { out: out.clone(), breaks: Vec::new(), keeps: Vec::new() };
        for entry in week.entries.iter().filter(|e| out.is_on(e.slot.date) && is_asked(e.slot.date))
        {
            let here = match &out.what {
                Place::Oven(room, _) | Place::Kit(room, _) => entry.slot.rooms.contains(room),
                Place::Moving(_) => true,
            };
            if !here {
                continue;
            }
            let Some(now) = planner.alone(week, entry) else { continue };
            // Where all are out without it none is lost.
            let before = if now.not_out() == 0 { None } else { planner.alone(&works, entry) };
            match before {
                Some(before) if before.served() > now.served() => of.breaks.push(Touched {
                    entry: entry.number,
                    before: before.served(),
                    now: now.served(),
                }),
                _ => of.keeps.push(entry.number),
            }
        }
        of
    };
    let asked = |(_, out): &(usize, &Out)| day.is_none_or(|day| out.is_on(day));
    week.out.iter().enumerate().filter(asked).map(one).collect()
}
