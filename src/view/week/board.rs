//! A week along its clock, as numbers and words: days side by side, rooms with their
//! lessons, ribbons of what they share.

use chrono::{Datelike, NaiveDate};

use super::item::{Item, TroubleId};
use super::words::{how_many_out, who};
use crate::check::Verdict;
use crate::units::Minutes;
use crate::view::rows::verdict_words;
use crate::week::{
    EntryNo, Place, Report, RoomNo, Span, Thing, Told, Trouble, Week, WeekAdult, What, ovens_of,
};
use crate::words::{counted, list};

/// A week as it is shown.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekBoard {
    /// Its days: those of the working week, and others with something on.
    pub days: Vec<Column>,
    /// Its rooms.
    pub rooms: Vec<RoomRow>,
    /// What rooms share, where any of it is wanted.
    pub ribbons: Vec<WeekRibbon>,
}

/// A day.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its date.
    pub date: NaiveDate,
    /// "Mon 30".
    pub title: String,
    /// The first minute that is shown, since midnight.
    pub from: Minutes,
    /// The last, likewise.
    pub until: Minutes,
    /// Its bells: from, until, name.
    pub bells: Vec<(Minutes, Minutes, String)>,
}

/// A room.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomRow {
    /// Which.
    pub room: RoomNo,
    /// Its name.
    pub name: String,
    /// "5 ovens"; empty if the week does not say.
    pub ovens: String,
    /// How many ovens it has, or the most that are used.
    pub most: u32,
    /// Its days.
    pub days: Vec<RoomOfDay>,
    /// What a screen reader says.
    pub spoken: String,
}

/// A room on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct RoomOfDay {
    /// Ovens that work; `None` if the week does not say.
    pub there: Option<u32>,
    /// Ovens that there would be if all worked.
    pub all: u32,
    /// Why it is closed, if it is: "closed", "closed: exam".
    pub closed: Option<String>,
    /// Its lessons and bookings, in the order of time.
    pub bars: Vec<Bar>,
}

/// What is in a bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Contents {
    /// A lesson with its verdict, once it is planned.
    Lesson(Option<Verdict>),
    /// A lesson that cannot be planned.
    Unplanned,
    /// A booking.
    Booking,
}

/// A lesson or a booking.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Which.
    pub entry: EntryNo,
    /// Its first bell, in minutes since midnight.
    pub from: Minutes,
    /// Its last bell.
    pub until: Minutes,
    /// The class, or what is in it.
    pub class: String,
    /// What is baked.
    pub bake: String,
    /// What is in it.
    pub contents: Contents,
    /// It stays where it is.
    pub held: bool,
    /// Ovens it has something in.
    pub ovens: Vec<Span>,
    /// What a screen reader says.
    pub spoken: String,
}

/// Something rooms share, or an adult.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekRibbon {
    /// What.
    pub thing: Thing,
    /// Its name.
    pub name: String,
    /// How many there are on most days.
    pub there: u32,
    /// The most that are wanted or there.
    pub most: u32,
    /// Its days.
    pub days: Vec<RibbonOfDay>,
    /// What a screen reader says.
    pub spoken: String,
}

/// What is wanted of something on a day.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RibbonOfDay {
    /// How many there are.
    pub there: u32,
    /// When it is there; all day if `None`.
    pub hours: Option<Vec<(Minutes, Minutes)>>,
    /// How many are wanted.
    pub wanted: Vec<Span>,
    /// When lessons are set out, laid as late as can be.
    pub setting_out: Vec<(Minutes, Minutes)>,
    /// Where more is wanted than is there: from, until, how many at most.
    pub over: Vec<(TroubleId, Span)>,
}

const HALF_HOUR: i32 = 30;

impl WeekBoard {
    /// A week as far as is known of it.
    pub fn of(week: &Week, report: Option<&Report>) -> Self {
        let mut days: Vec<Column> = week
            .days
            .iter()
            .filter(|day| day.date.weekday().num_days_from_monday() < 5 || any_on(week, day.date))
            .map(|day| column(week, report, day.date))
            .collect();
        // All days by one clock, so that bells lie below one another's.
        let from = days.iter().map(|day| day.from).min();
        let until = days.iter().map(|day| day.until).max();
        for day in &mut days {
            (day.from, day.until) = (from.unwrap_or(day.from), until.unwrap_or(day.until));
        }
        let rooms = (0..week.rooms.len()).map(|room| room_row(week, report, (RoomNo(room), &days)));
        let ribbons = Thing::all(week).into_iter();
        let ribbons = ribbons.filter(|thing| !matches!(thing, Thing::Ovens(_)));
        Self {
            rooms: rooms.collect(),
            ribbons: ribbons.filter_map(|thing| ribbon(week, report, (thing, &days))).collect(),
            days,
        }
    }

    /// All that can be selected, row by row, each row in the order of time; of one day,
    /// or of all.
    pub fn items(&self, day: Option<NaiveDate>) -> Vec<Vec<Item>> {
        let shown = |i: &usize| day.is_none_or(|day| self.days[*i].date == day);
        let days: Vec<usize> = (0..self.days.len()).filter(shown).collect();
        let of_room = |row: &RoomRow| {
            let bars = days.iter().flat_map(|&i| &row.days[i].bars);
            let bars = bars.map(|bar| Item::Entry(bar.entry));
            std::iter::once(Item::Room(row.room)).chain(bars).collect()
        };
        let of_ribbon = |ribbon: &WeekRibbon| {
            let over = days.iter().flat_map(|&i| &ribbon.days[i].over);
            over.map(|(id, _)| Item::Trouble(*id)).collect()
        };
        let rooms = self.rooms.iter().map(of_room);
        let all = rooms.chain(self.ribbons.iter().map(of_ribbon));
        all.filter(|row: &Vec<Item>| !row.is_empty()).collect()
    }

    /// The item beside another, by so many along its row and so many rows down.
    pub fn beside(&self, item: Item, day: Option<NaiveDate>, (on, down): (i32, i32)) -> Item {
        let rows = self.items(day);
        let at = rows
            .iter()
            .enumerate()
            .find_map(|(r, row)| row.iter().position(|other| *other == item).map(|i| (r, i)));
        let Some((row, i)) = at else {
            return rows.first().and_then(|row| row.first()).copied().unwrap_or(item);
        };
        let step = |at: usize, by: i32, len: usize| {
            let by = isize::try_from(by).unwrap_or(0);
            at.saturating_add_signed(by).min(len.saturating_sub(1))
        };
        let to = step(row, down, rows.len());
        if to == row {
            return rows[row][step(i, on, rows[row].len())];
        }
        // The nearest in time of the other row; a room's name leads to names.
        let nearest = |time: (NaiveDate, Minutes)| {
            let apart = |other: &&Item| {
                let (date, minute) = self.when(**other).unwrap_or((NaiveDate::MIN, Minutes::ZERO));
                ((date - time.0).num_days().abs(), (minute - time.1).get().abs())
            };
            rows[to].iter().min_by_key(apart).copied()
        };
        let found = match self.when(item) {
            Some(time) => nearest(time),
            None => rows[to].first().copied(),
        };
        found.unwrap_or(item)
    }

    /// When an item begins.
    fn when(&self, item: Item) -> Option<(NaiveDate, Minutes)> {
        match item {
            Item::Room(_) => None,
            Item::Entry(entry) => {
                let (day, bar) = self.bar(entry)?;
                Some((self.days[day].date, bar.from))
            }
            Item::Trouble(TroubleId::Clash(_, date, from)) => Some((date, from)),
            Item::Trouble(TroubleId::SettingUp(date)) => Some((date, Minutes::ZERO)),
            Item::Trouble(TroubleId::NotAllOut(entry)) => self.when(Item::Entry(entry)),
        }
    }

    /// A lesson's bar, and the number of its day.
    pub fn bar(&self, entry: EntryNo) -> Option<(usize, &Bar)> {
        let days = self.rooms.iter().flat_map(|row| row.days.iter().enumerate());
        days.flat_map(|(i, day)| day.bars.iter().map(move |bar| (i, bar)))
            .find(|(_, bar)| bar.entry == entry)
    }

    /// The stretch of a trouble on its ribbon: the number of the ribbon, of the day, and
    /// what is too many.
    pub fn over(&self, id: TroubleId) -> Option<(usize, usize, &Span)> {
        self.ribbons.iter().enumerate().find_map(|(r, ribbon)| {
            ribbon.days.iter().enumerate().find_map(|(d, day)| {
                day.over.iter().find(|(of, _)| *of == id).map(|(_, span)| (r, d, span))
            })
        })
    }
}

fn any_on(week: &Week, date: NaiveDate) -> bool {
    week.on(date).next().is_some()
}

/// A day from half an hour to half an hour, so that all that is on it lies within.
fn column(week: &Week, report: Option<&Report>, date: NaiveDate) -> Column {
    let mut bells: Vec<(Minutes, Minutes, String)> = week
        .day(date)
        .iter()
        .flat_map(|day| &day.bells)
        .map(|bell| (of_day(bell.start), of_day(bell.end), bell.name.clone()))
        .collect();
    bells.sort_by_key(|bell| (bell.0, bell.1));
    let slots = week.on(date).flat_map(|e| [of_day(e.slot.start()), of_day(e.slot.end())]);
    let of_report = report.into_iter().flat_map(|report| {
        let spans = report.contention.iter().filter(|of| of.date == date);
        let spans = spans.flat_map(|of| of.wanted.spans()).flat_map(|s| [s.from, s.until]);
        let setups = report.setting_up.iter().filter(|setup| setup.date == date);
        let jobs = setups.flat_map(|setup| &setup.jobs).map(|job| job.set_out.at_the_latest());
        spans.chain(jobs.map(of_day)).collect::<Vec<_>>()
    });
    let all: Vec<Minutes> =
        bells.iter().flat_map(|b| [b.0, b.1]).chain(slots).chain(of_report).collect();
    let first = all.iter().min().map_or(540, |m| m.get());
    let last = all.iter().max().map_or(960, |m| m.get());
    let until = last + (HALF_HOUR - last.rem_euclid(HALF_HOUR)) % HALF_HOUR;
    Column {
        date,
        title: date.format("%a %-d").to_string(),
        from: Minutes::new(first - first.rem_euclid(HALF_HOUR)),
        until: Minutes::new(until),
        bells,
    }
}

fn of_day(time: crate::units::ClockTime) -> Minutes {
    time.minutes_since(crate::units::ClockTime::MIDNIGHT)
}

fn room_row(week: &Week, report: Option<&Report>, (room, days): (RoomNo, &[Column])) -> RoomRow {
    let all = ovens_of(week, room).len();
    let all = u32::try_from(all).unwrap_or(u32::MAX);
    let days: Vec<RoomOfDay> =
        days.iter().map(|day| room_of_day(week, report, (room, all), day.date)).collect();
    let used = days.iter().flat_map(|d| &d.bars).flat_map(|b| &b.ovens).map(|s| s.count).max();
    let name = week.room_name(room).to_owned();
    let ovens = if all == 0 { String::new() } else { counted(all as usize, "oven") };
    let out: Vec<String> = week
        .out
        .iter()
        .filter_map(|out| match &out.what {
            Place::Oven(of, name) if *of == room => Some(name.clone()),
            _ => None,
        })
        .collect();
    let out = if out.is_empty() { String::new() } else { format!(", {} out of order", list(&out)) };
    let parts = [name.as_str(), ovens.as_str()];
    let spoken: Vec<&str> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    RoomRow {
        room,
        spoken: format!("{}{out}", spoken.join(", ")),
        name,
        ovens,
        most: all.max(used.unwrap_or(0)).max(1),
        days,
    }
}

fn room_of_day(
    week: &Week,
    report: Option<&Report>,
    (room, all): (RoomNo, u32),
    date: NaiveDate,
) -> RoomOfDay {
    let day = week.day(date);
    let closed = day.filter(|day| day.closed.contains(&room)).map(|day| match day.why.as_str() {
        "" => "closed".to_owned(),
        why => format!("closed: {why}"),
    });
    let here = week.on(date).filter(|entry| entry.slot.rooms.contains(&room));
    let mut bars: Vec<Bar> = here
        .map(|entry| {
            let told = report.and_then(|r| r.lessons.iter().find(|t| t.entry == entry.number));
            let contents = match &entry.what {
                What::Lesson(_) => Contents::Lesson(told.and_then(Told::verdict)),
                What::Unplanned(_) => Contents::Unplanned,
                What::Booking { .. } => Contents::Booking,
            };
            let is_of =
                |of: &&crate::week::Contention| of.date == date && of.what == Thing::Ovens(room);
            let ovens = report.and_then(|r| r.contention.iter().find(is_of)).and_then(|of| {
                of.by.iter().find(|(by, _)| *by == entry.number).map(|(_, p)| p.spans())
            });
            let class = if entry.class.is_empty() { entry.title() } else { &entry.class };
            Bar {
                entry: entry.number,
                from: of_day(entry.slot.start()),
                until: of_day(entry.slot.end()),
                class: class.to_owned(),
                bake: entry.title().to_owned(),
                contents,
                held: entry.held,
                ovens: ovens.unwrap_or_default(),
                spoken: spoken(week, entry.number, (contents, told)),
            }
        })
        .collect();
    bars.sort_by_key(|bar| (bar.from, bar.entry));
    RoomOfDay { there: Thing::Ovens(room).there(week, date), all, closed, bars }
}

/// "Thursday P3, 8A, Room 1, whisked sponge: tight, all 10 groups out, held".
fn spoken(week: &Week, number: EntryNo, (contents, told): (Contents, Option<&Told>)) -> String {
    let Some(entry) = week.entry(number) else { return String::new() };
    let how = match contents {
        Contents::Booking => "a booking".to_owned(),
        Contents::Unplanned => "cannot be planned".to_owned(),
        Contents::Lesson(None) => "not planned yet".to_owned(),
        Contents::Lesson(Some(verdict)) => {
            let out = told.map_or_else(String::new, how_many_out);
            format!("{}, {out}", verdict_words(verdict))
        }
    };
    let held = if entry.held { ", held" } else { "" };
    let day = entry.slot.date.format("%A");
    format!("{day} {}, {}: {how}{held}", entry.slot.period(), who(week, number))
}

/// `None` if nobody wants any of it all week.
fn ribbon(
    week: &Week,
    report: Option<&Report>,
    (thing, columns): (Thing, &[Column]),
) -> Option<WeekRibbon> {
    let adult = match thing {
        Thing::Adult(adult) => week.adults.get(adult),
        Thing::Ovens(_) | Thing::Moving(_) => None,
    };
    let sets_up = adult.is_some() && week.who_sets_up() == adult;
    let days: Vec<RibbonOfDay> = columns
        .iter()
        .map(|column| ribbon_of_day(week, report, (thing, adult, sets_up), column.date))
        .collect();
    let wanted = days.iter().flat_map(|day| &day.wanted).map(|span| span.count).max();
    // What nobody is there for is wanted too.
    let any = wanted.is_some()
        || days.iter().any(|day| !day.setting_out.is_empty() || !day.over.is_empty());
    let there = days.iter().map(|day| day.there).max().unwrap_or(0);
    let over = days.iter().flat_map(|day| &day.over).count();
    let name = thing.name(week);
    let how = match (wanted, over) {
        _ if adult.is_some() && over == 0 => "never wanted twice".to_owned(),
        (None, 0) => "not wanted".to_owned(),
        (Some(most), 0) => format!("at most {most} of {there} wanted"),
        (_, 1) => "wanted beyond what is there once".to_owned(),
        (_, n) => format!("wanted beyond what is there {n} times"),
    };
    let lacks = if days.iter().any(|d| !d.over.is_empty()) { there + 1 } else { there };
    any.then(|| WeekRibbon {
        thing,
        spoken: format!("{name}: {how}"),
        name,
        there,
        most: wanted.unwrap_or(0).max(lacks).max(1),
        days,
    })
}

fn ribbon_of_day(
    week: &Week,
    report: Option<&Report>,
    (thing, adult, sets_up): (Thing, Option<&WeekAdult>, bool),
    date: NaiveDate,
) -> RibbonOfDay {
    let mut day = RibbonOfDay {
        there: thing.there(week, date).unwrap_or(0),
        hours: adult.map(|a| a.on(date).map(|(f, u)| (of_day(f), of_day(u))).collect()),
        ..RibbonOfDay::default()
    };
    let Some(report) = report else { return day };
    let of = report.contention.iter().find(|of| of.date == date && of.what == thing);
    day.wanted = of.map(|of| of.wanted.spans()).unwrap_or_default();
    let setup = report.setting_up.iter().find(|setup| sets_up && setup.date == date);
    for job in setup.iter().flat_map(|setup| &setup.jobs) {
        let begins = job.set_out.begins;
        day.setting_out.extend(begins.map(|from| (of_day(from), of_day(job.set_out.until))));
    }
    for trouble in report.moves.iter().map(|moves| &moves.trouble) {
        let id = TroubleId::of(trouble);
        match trouble {
            Trouble::Clash(clash) if clash.date == date && clash.what == thing => {
                day.over.push((id, clash.span));
            }
            Trouble::SettingUp { date: on, .. } if *on == date => {
                // As long as what is lacking, up to the bell.
                let lacking = setup.and_then(|setup| setup.lacking.as_ref());
                day.over.extend(lacking.map(|lacking| {
                    let until = of_day(lacking.before);
                    let from = until - (lacking.wanted - lacking.there);
                    (id, Span { from, until, count: day.there + 1 })
                }));
            }
            _ => {}
        }
    }
    day
}
